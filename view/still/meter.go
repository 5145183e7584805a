package still

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/view/scene"
)

// Meter reads the light that falls on places of a scene, as a light meter does
// that is laid there, by the same paths that make the picture. It may be used by
// many goroutines at once.
type Meter struct{ world *world }

// NewMeter readies a scene. Light counts that comes from lamps and the sky by
// way of at most the given number of surfaces: 0 is straight light only, and a
// negative number is without end.
func NewMeter(s *scene.Scene, bounces int) *Meter { return &Meter{newWorld(s, bounces, true)} }

// Reading is what a meter shows, in lux.
type Reading struct {
	Lux    float64
	Around float64 // the part of it that came by way of surfaces
	// Error is the standard error of Lux as if the samples were independent;
	// they are spread more evenly, so the true one is smaller.
	Error float64
}

// Read returns the illuminance at p, mm, on a small surface that faces n, from
// the given number of paths. Light comes from the front alone.
func (m *Meter) Read(p, n mgl64.Vec3, samples int, seed uint64) Reading {
	t := newTracer(m.world)
	up := vecOf(n).unit()
	s := spot{p: vecOf(p), facing: up, frame: frameOf(up), o: vec{0, 0, 1}, finish: finish{body: rgb{1, 1, 1}}}
	var sum, around, squares float64
	for i := range samples {
		t.points = pointsOf(seed, 0, i)
		at := s
		var l look
		t.from(&at, &l)
		// A white matt surface gives back what falls on it: luminance × π.
		e := math.Pi * l.straight.add(l.around).luminance()
		sum, around, squares = sum+e, around+math.Pi*l.around.luminance(), squares+e*e
	}
	if samples < 1 {
		return Reading{}
	}
	k := float64(samples)
	out := Reading{Lux: sum / k, Around: around / k}
	if samples > 1 {
		out.Error = math.Sqrt(max(0, squares/k-out.Lux*out.Lux) / (k - 1))
	}
	return out
}
