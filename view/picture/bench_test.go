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
	if testing.Short() { // to see that it runs
		q = picture.Draft
	}
	w, err := picture.Prepare(context.Background(), s, q, nil)
	if err != nil {
		b.Fatal(err)
	}
	return s, w
}

// BenchmarkFrame draws frames of 1000 by 700 while the eye goes round: sharp,
// and as the window does while something moves on a slow machine, half as fine
// and enlarged. It reports frames a second.
func BenchmarkFrame(b *testing.B) {
	s, w := fourteen(b, picture.Fine)
	c := s.Camera(scene.FromHall, 0)
	e := w.Meter(c)
	whole := image.NewRGBA(image.Rect(0, 0, 1000, 700))
	for _, x := range []struct {
		name   string
		coarse int
	}{{"sharp", 1}, {"moving", 2}} {
		b.Run(x.name, func(b *testing.B) {
			img := whole
			if x.coarse > 1 {
				img = image.NewRGBA(image.Rect(0, 0, whole.Rect.Dx()/x.coarse, whole.Rect.Dy()/x.coarse))
			}
			var p picture.Painter
			k := 0.0
			for b.Loop() {
				k += 0.02
				d := c
				d.Eye[0] += 150 * math.Sin(k)
				if err := p.Paint(w, picture.Shot{Camera: d, Exposure: e, Time: scene.Night}, img); err != nil {
					b.Fatal(err)
				}
				if img != whole {
					picture.Enlarge(whole, img)
				}
			}
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "frames/s")
		})
	}
}

// BenchmarkPrepare makes the first look at a stair, and at one of which only the
// walker moved, with the grain of the world before.
func BenchmarkPrepare(b *testing.B) {
	s, fine := fourteen(b, picture.Fine)
	for _, x := range []struct {
		name   string
		before *picture.World
	}{{"first", nil}, {"changed", fine}} {
		b.Run(x.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := picture.Prepare(context.Background(), s, picture.Draft, x.before); err != nil {
					b.Fatal(err)
				}
			}
		})
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
