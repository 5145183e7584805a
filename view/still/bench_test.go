package still_test

import (
	"context"
	"testing"

	"risewright/view/still"
)

// BenchmarkPaths makes four passes of a stair at 240 by 150 and says how many
// rays it follows in a second of one core.
func BenchmarkPaths(b *testing.B) {
	for _, c := range []struct {
		name string
		hall float64
	}{{"night", 0}, {"evening", 1}} {
		b.Run(c.name, func(b *testing.B) {
			s, cam := stair(c.hall)
			rays := int64(0)
			for b.Loop() {
				r, err := still.NewRefiner(s, cam, still.Options{W: 240, H: 150, Samples: 4, Workers: 1})
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
