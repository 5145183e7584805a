package papers

import (
	"context"
	"fmt"
	"image"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/sensing"
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
// night with somebody half way up, the day, and before and after in one. The same
// job gives the same pictures. It takes some seconds on all cores, and gives up
// with the context's error once that has ended. sense is what solver.Sense says; nil
// works it out for each picture. tell hears how far it has come; it
// may be nil.
func Shots(ctx context.Context, a *solver.Answer, w *solver.Work, sense *sensing.Result, t model.Tables, tell Progress) ([]sheets.Shot, error) {
	half := float64(len(a.Job.Flight.Steps)) / 2
	var out []sheets.Shot
	var painter picture.Painter
	var last *picture.World
	list := []struct {
		title string
		o     scene.Options
	}{
		{"the evening, from the hall", scene.Options{Time: scene.Evening}},
		{"at night, with somebody half way up", scene.Options{Time: scene.Night, Walker: half}},
		{"by day", scene.Options{Time: scene.Day}},
		{"before and after, by day", scene.Options{Time: scene.Day, Before: true}}, // beside the one above
	}
	for i, s := range list {
		if tell != nil {
			tell(float64(i)/float64(len(list)), s.title)
		}
		s.o.Look, s.o.Sense = a.Job.Look, sense
		sc, err := scene.Make(a, w, t, s.o)
		if err != nil {
			return nil, err
		}
		world, err := picture.Prepare(ctx, sc, shotQuality, last)
		if err != nil {
			return nil, fmt.Errorf("draw %s: %w", s.title, err)
		}
		size := image.Rect(0, 0, smallWide, smallTall)
		if len(out) == 0 {
			size = image.Rect(0, 0, shotWide, shotTall)
		}
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		img := image.NewRGBA(size)
		shot := picture.Shot{Camera: sc.Camera(scene.FromHall, 0), Time: s.o.Time}
		if s.o.Before {
			shot.Camera = last.Scene().Camera(scene.FromHall, 0)
			err = painter.StillBoth(world, last, shot, smallWide/2, img, shotFrames)
		} else {
			err = painter.Still(world, shot, img, shotFrames)
		}
		if err != nil {
			return nil, fmt.Errorf("draw %s: %w", s.title, err)
		}
		last = world
		p, err := drawing.NewPicture(img)
		if err != nil {
			return nil, fmt.Errorf("pack %s: %w", s.title, err)
		}
		out = append(out, sheets.Shot{Title: s.title, Picture: p, Note: sc.LitBy.String()})
	}
	return out, nil
}
