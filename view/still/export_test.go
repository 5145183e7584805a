package still

import (
	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/lux"
	"risewright/view/scene"
)

// Seen returns the light that comes along one line of sight, from many paths.
func Seen(s *scene.Scene, eye, towards mgl64.Vec3, samples int, seed uint64) scene.Colour {
	t := newTracer(newWorld(s, -1, true))
	var sum rgb
	for i := range samples {
		t.points = pointsOf(seed, 0, i)
		l := t.follow(ray{vecOf(eye), vecOf(towards).unit()})
		sum = sum.add(l.straight).add(l.around).add(l.rest)
	}
	return sum.mul(1 / float64(samples)).colour()
}

// Encode is the transfer function that a picture is encoded with.
func Encode(v float64) float64 { return lux.Encode(v) }

// Map has even a small picture use the map.
func (r *Refiner) Map() { r.world.newMap() }
