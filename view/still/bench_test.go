package still_test

import (
	"context"
	"fmt"
	"testing"

	"risewright/view/scene"
	"risewright/view/still"
)

// sized is a picture so large, or a quarter as wide where -short asks only
// whether a benchmark runs.
func sized(w, h int) still.Options {
	if testing.Short() {
		w, h = w/4, h/4
	}
	return still.Options{W: w, H: h, Workers: 1}
}

// BenchmarkPaths makes four passes of a stair at 240 by 150 and says how many
// rays it follows in a second of one core.
func BenchmarkPaths(b *testing.B) {
	for _, c := range []struct {
		name string
		hall float64
	}{{"night", 0}, {"evening", 1}} {
		b.Run(c.name, func(b *testing.B) {
			s, cam := stair(c.hall)
			o := sized(240, 150)
			o.Samples = 4
			rays := int64(0)
			for b.Loop() {
				r, err := still.NewRefiner(s, cam, o)
				if err != nil {
					b.Fatal(err)
				}
				if err := r.Run(context.Background(), nil); err != nil {
					b.Fatal(err)
				}
				rays += r.Progress().Rays
			}
			b.ReportMetric(float64(rays)/b.Elapsed().Seconds()/1e6, "Mrays/s")
		})
	}
}

// BenchmarkSmooth takes the noise out of a picture of 480 by 300.
func BenchmarkSmooth(b *testing.B) {
	s, cam := stair(1)
	r, err := still.NewRefiner(s, cam, still.Options{W: 480, H: 300, Samples: 2, Straight: true})
	if err != nil {
		b.Fatal(err)
	}
	if err := r.Run(context.Background(), nil); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		r.Picture(still.Look{})
	}
}

// BenchmarkDemo makes one pass of the demo job in the evening at 240 by 150,
// with its map, and says how many rays it follows in a second of one core.
func BenchmarkDemo(b *testing.B) {
	j, err := demoJob()
	if err != nil {
		b.Fatal(err)
	}
	s, err := scene.Make(j.work.Answer, j.work, j.tables, scene.Options{Time: scene.Evening, Look: j.work.Answer.Job.Look})
	if err != nil {
		b.Fatal(err)
	}
	o := sized(240, 150)
	o.Samples = 1 << 20
	r, err := still.NewRefiner(s, s.Camera(scene.FromHall, 0), o)
	if err != nil {
		b.Fatal(err)
	}
	pass := func() {
		n := 0
		if err := r.Run(context.Background(), func(still.Progress) {
			if n++; n == 16 {
				r.Stop()
			}
		}); err != nil {
			b.Fatal(err)
		}
	}
	pass()
	b.Logf("with its map: %d rays", r.Progress().Rays)
	before := r.Progress().Rays
	for b.Loop() {
		pass()
	}
	b.ReportMetric(float64(r.Progress().Rays-before)/b.Elapsed().Seconds()/1e6, "Mrays/s")
}

// BenchmarkError makes a stair at 160 by 100 with more and more samples, and says
// how far the picture is from one of many whole paths: root mean square, of 255,
// as it came and smoothed.
func BenchmarkError(b *testing.B) {
	s, cam := stair(1)
	o := sized(160, 100)
	o.Samples, o.True = 256, true
	counts := []int{1, 4, 16, 64}
	if testing.Short() {
		o.Samples, counts = 16, counts[:2]
	}
	made := func(o still.Options) *still.Refiner {
		r, err := still.NewRefiner(s, cam, o)
		if err != nil {
			b.Fatal(err)
		}
		if err := r.Run(context.Background(), nil); err != nil {
			b.Fatal(err)
		}
		return r
	}
	truth := made(o)
	tone := truth.Film(0).Tone()
	want := truth.Picture(still.Look{Rough: true, Tone: &tone})
	o.True, o.Seed = false, 1
	for _, n := range counts {
		b.Run(fmt.Sprintf("%d samples", n), func(b *testing.B) {
			o.Samples = n
			var r *still.Refiner
			for b.Loop() {
				r = made(o)
			}
			b.ReportMetric(apart(want, r.Picture(still.Look{Rough: true, Tone: &tone})), "off")
			b.ReportMetric(apart(want, r.Picture(still.Look{Tone: &tone})), "off-smooth")
		})
	}
}
