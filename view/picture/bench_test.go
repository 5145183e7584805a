package picture_test

import (
	"context"
	"image"
	"math"
	"testing"

	"risewright/view/picture"
	"risewright/view/scene"
)

// fourteen is the picture to be held to 30 frames a second: 14 steps at night
// with a walker, 1000 by 700.
func fourteen(b *testing.B, q picture.Quality) (*scene.Scene, *picture.World) {
	s := sceneOf(b, "tapering", scene.Options{Time: scene.Night, Walker: 6.3})
	w, err := picture.Prepare(context.Background(), s, q, nil)
	if err != nil {
		b.Fatal(err)
	}
	return s, w
}

// BenchmarkFrame draws frames of 1000 by 700 while the eye goes round.
func BenchmarkFrame(b *testing.B) {
	s, w := fourteen(b, picture.Draft)
	img := image.NewRGBA(image.Rect(0, 0, 1000, 700))
	var p picture.Painter
	c := s.Camera(scene.FromHall, 0)
	e := w.Meter(c)
	k := 0.0
	for b.Loop() {
		k += 0.02
		d := c
		d.Eye[0] += 150 * math.Sin(k)
		if err := p.Paint(w, picture.Shot{Camera: d, Exposure: e, Time: scene.Night}, img); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPrepare makes the first look at a changed stair.
func BenchmarkPrepare(b *testing.B) {
	s := sceneOf(b, "tapering", scene.Options{Time: scene.Night, Walker: 6.3})
	for b.Loop() {
		if _, err := picture.Prepare(context.Background(), s, picture.Draft, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkRelight sums the light anew after a lamp went up or down.
func BenchmarkRelight(b *testing.B) {
	s, w := fourteen(b, picture.Draft)
	levels := make([]float64, len(s.Lamps))
	for b.Loop() {
		levels[0] += 0.01
		w.Relight(levels)
	}
}
