package sensing

import (
	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// maxParts is the most prisms of one solid: legs, trunk and head.
const maxParts = 3

// Solid is what a sensor may see: one to three upright prisms in the stair.
type Solid struct {
	parts [maxParts]prism
	n     int
}

// Standing returns the solid of a body that stands at foot and faces the
// direction face in plan, which is unit.
func Standing(b *model.BodySize, foot mgl64.Vec3, face mgl64.Vec2) Solid {
	at := foot.Vec2()
	part := func(deep, wide, low, high float64) prism {
		return prism{at: at, ex: face, a: deep / 2, b: wide / 2, z0: foot[2] + low, z1: foot[2] + high}
	}
	return Solid{n: 3, parts: [maxParts]prism{
		part(b.LegDeep.Value, b.Hip.Value, 0, b.Crotch.Value),
		part(b.Chest.Value, b.Breadth.Value, b.Crotch.Value, b.Shoulder.Value),
		part(b.HeadDeep.Value, b.HeadWide.Value, b.Shoulder.Value, b.Stature.Value),
	}}
}

// block returns a solid of one upright box, or of an upright cylinder.
func block(at mgl64.Vec2, along mgl64.Vec2, length, width, low, high float64, round bool) Solid {
	return Solid{n: 1, parts: [maxParts]prism{{at: at, ex: along, a: length / 2, b: width / 2, z0: low, z1: high, straight: !round}}}
}

// box returns the least and the most coordinates of the solid.
func (s *Solid) box() (low, high mgl64.Vec3) {
	for i := range s.n {
		q := &s.parts[i]
		for k, c := range q.corners() {
			for e := range 2 {
				if i == 0 && k == 0 {
					low[e], high[e] = c[e], c[e]
				}
				low[e], high[e] = min(low[e], c[e]), max(high[e], c[e])
			}
		}
		if i == 0 {
			low[2], high[2] = q.z0, q.z1
		}
		low[2], high[2] = min(low[2], q.z0), max(high[2], q.z1)
	}
	return low, high
}

// from returns the solid with the point p as its origin.
func (s *Solid) from(p mgl64.Vec3) Solid {
	out := *s
	for i := range out.n {
		out.parts[i] = out.parts[i].from(p)
	}
	return out
}

// distance returns how far the origin is from the nearest of the parts' axes.
func (s *Solid) distance() float64 {
	best := -1.0
	for i := range s.n {
		q := &s.parts[i]
		d := q.at.Vec3(min(max(0, q.z0), q.z1)).Len()
		if best < 0 || d < best {
			best = d
		}
	}
	return best
}
