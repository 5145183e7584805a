package drawing

import "math"

// Point is a place: X to the right, Y up, in scene or paper millimetres as the
// list it belongs to says. The zero value is the origin.
type Point struct{ X, Y float64 }

// Add returns p moved by q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns the step from q to p.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Mul returns p with both coordinates times k.
func (p Point) Mul(k float64) Point { return Point{p.X * k, p.Y * k} }

// Len returns the distance of p from the origin.
func (p Point) Len() float64 { return math.Hypot(p.X, p.Y) }

func (p Point) finite() bool { return finite(p.X) && finite(p.Y) }

// finite reports whether v is a number: neither NaN nor infinite.
func finite(v float64) bool { return v-v == 0 }

// Transform is an affine map, in the order PDF and SVG use:
// x' = A·x + C·y + E and y' = B·x + D·y + F.
// Start from Identity, Scale, Shift or Turn; the zero value maps everything to
// the origin.
type Transform struct{ A, B, C, D, E, F float64 }

// Identity returns the map that moves nothing.
func Identity() Transform { return Transform{A: 1, D: 1} }

// Scale returns the map that multiplies x by kx and y by ky about the origin.
// A negative factor mirrors.
func Scale(kx, ky float64) Transform { return Transform{A: kx, D: ky} }

// Shift returns the map that moves every point by (x, y).
func Shift(x, y float64) Transform { return Transform{A: 1, D: 1, E: x, F: y} }

// Turn returns the anticlockwise rotation by a radians about the origin.
func Turn(a float64) Transform {
	s, c := math.Sincos(a)
	return Transform{A: c, B: s, C: -s, D: c}
}

// Then returns the map that does m first and n after it.
func (m Transform) Then(n Transform) Transform {
	return Transform{
		A: n.A*m.A + n.C*m.B, B: n.B*m.A + n.D*m.B,
		C: n.A*m.C + n.C*m.D, D: n.B*m.C + n.D*m.D,
		E: n.A*m.E + n.C*m.F + n.E, F: n.B*m.E + n.D*m.F + n.F,
	}
}

// Apply returns where m takes p.
func (m Transform) Apply(p Point) Point {
	return Point{m.A*p.X + m.C*p.Y + m.E, m.B*p.X + m.D*p.Y + m.F}
}

// similarTolerance is how far the columns of a map may be from square and
// equal, relative to their size, for circles to stay circles. Products of a
// few maps each rounded at 2^-53 stay below 1e-14; an eye or a cutter sees
// nothing below 1e-4.
const similarTolerance = 1e-9

// similar reports whether m keeps shapes (turn, even scale, mirror, shift),
// and by what factor it scales lengths.
func (m Transform) similar() (k float64, ok bool) {
	k = math.Hypot(m.A, m.B)
	k2 := math.Hypot(m.C, m.D)
	dot := m.A*m.C + m.B*m.D
	return k, math.Abs(k-k2) <= similarTolerance*k && math.Abs(dot) <= similarTolerance*k*k2
}

// mirrored reports whether m turns left into right.
func (m Transform) mirrored() bool { return m.A*m.D-m.B*m.C < 0 }

// angle returns the direction into which m takes a line drawn at angle a.
func (m Transform) angle(a float64) float64 {
	s, c := math.Sincos(a)
	return math.Atan2(m.B*c+m.D*s, m.A*c+m.C*s)
}

// Inside says whether at lies within the closed outline. A point on the outline
// counts as inside or not by rounding.
func Inside(outline []Point, at Point) bool {
	in := false
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if (a.Y > at.Y) != (b.Y > at.Y) && at.X < a.X+(b.X-a.X)*(at.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}
