package sensing

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// prism is an upright solid on an ellipse or a rectangle in plan.
type prism struct {
	at       mgl64.Vec2 // its middle in plan
	ex       mgl64.Vec2 // unit, along the first half axis
	a, b     float64    // half axes, or half sides
	z0, z1   float64
	straight bool // a rectangle
}

// from returns the prism with the point p as its origin.
func (q prism) from(p mgl64.Vec3) prism {
	q.at = q.at.Sub(p.Vec2())
	q.z0 -= p[2]
	q.z1 -= p[2]
	return q
}

// local returns p as seen in the prism's own axes, in its half axes.
func (q *prism) local(p mgl64.Vec2) (x, y float64) {
	return (p[0]*q.ex[0] + p[1]*q.ex[1]) / q.a, (p[1]*q.ex[0] - p[0]*q.ex[1]) / q.b
}

// corners returns the corners of its plan, or of the rectangle about it.
func (q *prism) corners() [4]mgl64.Vec2 {
	x, y := q.ex.Mul(q.a), mgl64.Vec2{-q.ex[1], q.ex[0]}.Mul(q.b)
	return [4]mgl64.Vec2{q.at.Add(x).Add(y), q.at.Sub(x).Add(y), q.at.Sub(x).Sub(y), q.at.Add(x).Sub(y)}
}

// holds says whether the prism's plan holds a point.
func (q *prism) holds(p mgl64.Vec2) bool {
	x, y := q.local(p.Sub(q.at))
	if q.straight {
		return math.Abs(x) <= 1 && math.Abs(y) <= 1
	}
	return x*x+y*y <= 1
}

// chord returns how far along the unit direction d from the origin in plan the
// prism is entered and left, and false when it is not met in front of the
// origin. An origin inside it enters at 0.
func (q *prism) chord(d mgl64.Vec2) (near, far float64, ok bool) {
	px, py := q.local(mgl64.Vec2{-q.at[0], -q.at[1]})
	dx, dy := q.local(d)
	if q.straight {
		near, far = 0, math.Inf(1)
		for _, s := range [2][2]float64{{px, dx}, {py, dy}} {
			if s[1] == 0 {
				if math.Abs(s[0]) > 1 {
					return 0, 0, false
				}
				continue
			}
			u, v := (-1-s[0])/s[1], (1-s[0])/s[1]
			near, far = max(near, min(u, v)), min(far, max(u, v))
		}
		return near, far, near < far
	}
	a, b, c := dx*dx+dy*dy, px*dx+py*dy, px*px+py*py-1
	disc := b*b - a*c
	if disc <= 0 {
		return 0, 0, false
	}
	root := math.Sqrt(disc)
	near, far = (-b-root)/a, (-b+root)/a
	if far <= 0 {
		return 0, 0, false
	}
	return max(near, 0), far, true
}

// turns returns how far to the left of the unit direction ref the prism's plan
// begins and ends, seen from the origin, in radians. It must not hold the
// origin.
func (q *prism) turns(ref mgl64.Vec2) (from, to float64) {
	if q.straight {
		from, to = math.Inf(1), math.Inf(-1)
		for _, c := range q.corners() {
			t := turnOf(ref, c)
			from, to = min(from, t), max(to, t)
		}
		return from, to
	}
	// In half axes the ellipse is a circle of radius 1, and its tangents from p
	// touch it at the angle acos(1/|p|) from p.
	px, py := q.local(mgl64.Vec2{-q.at[0], -q.at[1]})
	r := math.Hypot(px, py)
	cos := min(1, 1/r)
	sin := math.Sqrt(1 - cos*cos)
	px, py = px/r, py/r
	touch := func(x, y float64) float64 {
		ey := mgl64.Vec2{-q.ex[1], q.ex[0]}
		return turnOf(ref, q.at.Add(q.ex.Mul(x*q.a)).Add(ey.Mul(y*q.b)))
	}
	s, t := touch(px*cos-py*sin, py*cos+px*sin), touch(px*cos+py*sin, py*cos-px*sin)
	return min(s, t), max(s, t)
}

// turnOf returns the angle from the unit direction ref to p, to the left.
func turnOf(ref, p mgl64.Vec2) float64 {
	return math.Atan2(ref[0]*p[1]-ref[1]*p[0], ref[0]*p[0]+ref[1]*p[1])
}
