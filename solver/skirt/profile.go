package skirt

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// Shape is a plain shape of the front edge of a tread.
type Shape string

// The shapes. In all of them wood is only taken away from the square edge.
const (
	Square    Shape = "square"
	Eased     Shape = "eased"      // both edges rounded a little
	Bullnose  Shape = "bullnose"   // both edges rounded, a flat between them
	HalfRound Shape = "half-round" // the whole thickness one half circle
	Bevelled  Shape = "bevelled"   // the top edge cut at 45 degrees
	Ogee      Shape = "ogee"       // a round over a hollow, half of the thickness each
	Traced    Shape = "traced"     // points taken from the nosing itself
)

// Shapes returns the plain shapes in the order in which they are offered.
func Shapes() []Shape { return []Shape{Square, Eased, Bullnose, HalfRound, Bevelled, Ogee} }

// Profile is the shape of a nosing. The zero Profile is square.
type Profile struct {
	Shape Shape
	// Size is the radius of an eased edge or bullnose, or how far a bevel goes
	// back; mm. 0 means the usual for the shape. Half-round and ogee go by the
	// thickness.
	Size float64
	// Points are those of a traced profile, mm, from the underside round the
	// front to the top: x behind the nose line, y below the face.
	Points []mgl64.Vec2
}

// Usual sizes, mm: common practice, no source.
const (
	usualEase     = 3.0
	usualBevel    = 6.0
	bullnoseShare = 3.0 / 8 // radius of a bullnose to its thickness
)

// chordError is how far, in mm, the straight pieces of a drawn curve may lie
// off it: a tenth of the 0.1 mm that a template is held to.
const chordError = 0.01

// size returns the radius or bevel that holds on a tread of the thickness.
func (p Profile) size(thickness float64) float64 {
	s := p.Size
	if s == 0 {
		switch p.Shape {
		case Eased:
			s = usualEase
		case Bullnose:
			s = bullnoseShare * thickness
		case Bevelled:
			s = usualBevel
		}
	}
	switch p.Shape {
	case Eased, Bullnose:
		s = math.Min(s, thickness/2)
	case HalfRound, Ogee:
		s = thickness / 2
	case Bevelled:
		s = math.Min(s, thickness)
	}
	return s
}

// Validate returns why the profile cannot be used on a tread of the thickness,
// or an empty text.
func (p Profile) Validate(thickness float64) string {
	if !(thickness > 0) {
		return "the tread has no thickness"
	}
	if p.Size < 0 || math.IsNaN(p.Size) || math.IsInf(p.Size, 0) {
		return fmt.Sprintf("the size of the %s nosing is %g mm; give 0 or more", p.Shape, p.Size)
	}
	switch p.Shape {
	case "", Square, Eased, Bullnose, HalfRound, Bevelled, Ogee:
		return ""
	case Traced:
	default:
		return fmt.Sprintf("%q is not a shape of nosing", p.Shape)
	}
	if len(p.Points) < 3 {
		return fmt.Sprintf("the traced nosing has %d points; trace at least 3", len(p.Points))
	}
	if len(p.Points) > maxTraced {
		return fmt.Sprintf("the traced nosing has %d points; at most %d are kept", len(p.Points), maxTraced)
	}
	front := math.Inf(1)
	for i, q := range p.Points {
		if math.IsNaN(q[0]) || math.IsNaN(q[1]) || math.Abs(q[0]) > maxTracedReach || math.Abs(q[1]) > maxTracedReach {
			return fmt.Sprintf("point %d of the traced nosing is not within %g mm", i+1, maxTracedReach)
		}
		front = math.Min(front, q[0])
	}
	first, last := p.Points[0], p.Points[len(p.Points)-1]
	if math.Abs(first[1]-thickness) > tracedSlack || math.Abs(last[1]) > tracedSlack {
		return fmt.Sprintf("the traced nosing runs from %.1f to %.1f mm below the face; it must run from the underside (%.1f) to the face (0)", first[1], last[1], thickness)
	}
	if math.Abs(front) > tracedSlack {
		return fmt.Sprintf("the foremost point of the traced nosing lies %.1f mm from the nose line; shift the tracing so that it touches it", front)
	}
	for i := range p.Points {
		for k := i + 2; k+1 < len(p.Points); k++ {
			if cross(p.Points[i], p.Points[i+1], p.Points[k], p.Points[k+1]) {
				return fmt.Sprintf("the traced nosing crosses itself between points %d and %d", i+1, k+2)
			}
		}
	}
	return ""
}

const (
	maxTraced      = 2000
	maxTracedReach = 200.0 // mm: four times the deepest nosing
	// tracedSlack is how far, in mm, a tracing may miss the face, the underside
	// and the nose line: what a pencil line is wide.
	tracedSlack = 0.5
)

// cross says whether the segments ab and cd cross.
func cross(a, b, c, d mgl64.Vec2) bool {
	side := func(a, b, c mgl64.Vec2) float64 { return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0]) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// Outline returns the profile on a tread of the thickness as points from the
// underside round the front to the top: x behind the nose line, y below the
// face, mm. The first lies on the underside and the last on the face.
func (p Profile) Outline(thickness float64) []mgl64.Vec2 {
	t, r := thickness, p.size(thickness)
	switch p.Shape {
	case Eased, Bullnose, HalfRound:
		out := arc(nil, mgl64.Vec2{r, t - r}, r, math.Pi/2, math.Pi)
		return arc(out, mgl64.Vec2{r, r}, r, math.Pi, 3*math.Pi/2)
	case Bevelled:
		return []mgl64.Vec2{{0, t}, {0, r}, {r, 0}}
	case Ogee:
		// The hollow, below: a quarter circle about a point in front of the
		// wood, from the underside up to half the thickness. The round above
		// it comes forward to the nose line.
		out := arc(nil, mgl64.Vec2{0, t}, r, 0, -math.Pi/2)
		return arc(out, mgl64.Vec2{r, r}, r, math.Pi, 3*math.Pi/2)
	case Traced:
		out := append([]mgl64.Vec2(nil), p.Points...)
		out[0][1], out[len(out)-1][1] = t, 0
		return out
	}
	return []mgl64.Vec2{{0, t}, {0, 0}}
}

// arc appends points of a circle from one angle to another, from x towards y,
// so that no chord is farther from it than chordError. Its first point is left
// out where it repeats the last of dst.
func arc(dst []mgl64.Vec2, centre mgl64.Vec2, r, from, to float64) []mgl64.Vec2 {
	n := 1
	if r > chordError {
		// the sagitta of a chord over the angle a is r(1 - cos a/2)
		n = int(math.Ceil(math.Abs(to-from) / (2 * math.Acos(1-chordError/r))))
	}
	for i := range n + 1 {
		a := from + (to-from)*float64(i)/float64(n)
		q := centre.Add(mgl64.Vec2{r * math.Cos(a), r * math.Sin(a)})
		if len(dst) > 0 && dst[len(dst)-1].Sub(q).Len() < chordError/10 {
			continue
		}
		dst = append(dst, q)
	}
	return dst
}

// Edge is what a rule on nosings speaks of: how the leading edge is rounded or
// bevelled.
type Edge struct {
	Radius float64 // mm, of the rounding at the top of the leading edge; 0 when there is none
	Bevel  float64 // mm, how far a bevel goes back; 0 when there is none
	// Rough is how far, at most, the points of a traced edge lie off the circle
	// fitted to them; mm.
	Rough float64
}

// Edge returns the rounding or bevel of the leading edge. That of a traced
// profile is the circle fitted to its points from the foremost to the face.
func (p Profile) Edge(thickness float64) Edge {
	r := p.size(thickness)
	switch p.Shape {
	case Eased, Bullnose, HalfRound, Ogee:
		return Edge{Radius: r}
	case Bevelled:
		return Edge{Bevel: r}
	case Traced:
		return tracedEdge(p.Points)
	}
	return Edge{}
}

// tracedEdge fits a circle to the turn from the foremost point of a tracing up
// to the face, by least squares of the squared radii (Kåsa's fit: linear, and
// as good as any over a quarter circle).
func tracedEdge(points []mgl64.Vec2) Edge {
	var turn []mgl64.Vec2
	front := 0
	for i, q := range points {
		if q[0] <= points[front][0] { // the last of those equally far forward: the plumb part is no turn
			front = i
		}
	}
	for _, q := range points[front:] {
		turn = append(turn, q)
		if q[1] < flatTop { // the face has been reached
			break
		}
	}
	if len(turn) < 3 {
		return Edge{}
	}
	var m mgl64.Mat3
	var rhs mgl64.Vec3
	for _, q := range turn {
		row := mgl64.Vec3{q[0], q[1], 1}
		for i := range 3 {
			for k := range 3 {
				m.Set(i, k, m.At(i, k)+row[i]*row[k])
			}
			rhs[i] += row[i] * q.Dot(q)
		}
	}
	if math.Abs(m.Det()) < 1e-9 { // the points lie on one line: a bevel
		return Edge{Bevel: turn[len(turn)-1][0] - turn[0][0]}
	}
	x := m.Inv().Mul3x1(rhs)
	c := mgl64.Vec2{x[0] / 2, x[1] / 2}
	e := Edge{Radius: math.Sqrt(math.Max(0, x[2]+c.Dot(c)))}
	for _, q := range turn {
		e.Rough = math.Max(e.Rough, math.Abs(q.Sub(c).Len()-e.Radius))
	}
	return e
}

// flatTop is how far below the face, in mm, a traced point still counts as on
// it: half of what a pencil line is wide.
const flatTop = 0.05
