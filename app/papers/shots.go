package papers

import (
	"context"
	"fmt"
	"image"

	"risewright/model"
	"risewright/solver"
	"risewright/view/drawing"
	"risewright/view/picture"
	"risewright/view/scene"
	"risewright/view/sheets"
)

// The sizes of a picture across the page and of one of three beside each other,
// pixels, and how many frames smooth their edges.
const (
	shotWide, shotTall   = 1280, 800
	smallWide, smallTall = 640, 400
	shotFrames           = 6
)

// shotQuality is enough for a picture some 180 mm wide on paper, and quickly
// there.
var shotQuality = picture.Quality{Coarse: 2, Rays: 20}

// Shots returns the pictures of the proposal: the evening from the hall, the
// day, the night with somebody half way up, and the stair as it is. The same job
// gives the same pictures. It takes some seconds on all cores.
func Shots(a *solver.Answer, w *solver.Work, t model.Tables) ([]sheets.Shot, error) {
	half := float64(len(a.Job.Flight.Steps)) / 2
	var out []sheets.Shot
	var painter picture.Painter
	sense := solver.Sense(a, t, nil)
	for _, s := range []struct {
		title string
		o     scene.Options
	}{
		{"the evening, from the hall", scene.Options{Time: scene.Evening}},
		{"by day", scene.Options{Time: scene.Day}},
		{"at night, with somebody half way up", scene.Options{Time: scene.Night, Walker: half}},
		{"the stair as it is, by day", scene.Options{Time: scene.Day, Before: true}},
	} {
		s.o.Look, s.o.Sense = a.Job.Look, &sense
		sc, err := scene.Make(a, w, t, s.o)
		if err != nil {
			return nil, err
		}
		world, err := picture.Prepare(context.Background(), sc, shotQuality, nil)
		if err != nil {
			return nil, fmt.Errorf("draw %s: %w", s.title, err)
		}
		c := sc.Camera(scene.FromHall, 0)
		size := image.Rect(0, 0, smallWide, smallTall)
		if len(out) == 0 {
			size = image.Rect(0, 0, shotWide, shotTall)
		}
		img := image.NewRGBA(size)
		if err := painter.Still(world, picture.Shot{Camera: c, Time: s.o.Time, Exposure: world.Meter(c)}, img, shotFrames); err != nil {
			return nil, fmt.Errorf("draw %s: %w", s.title, err)
		}
		p, err := drawing.NewPicture(img)
		if err != nil {
			return nil, fmt.Errorf("pack %s: %w", s.title, err)
		}
		out = append(out, sheets.Shot{Title: s.title, Picture: p, Note: sc.LitBy.String()})
	}
	return out, nil
}
