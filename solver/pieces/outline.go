package pieces

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// outline is a board while it is being made: the straight lines round its show
// face, in a flat frame (q) that lies in the face, and how each leans going
// into the board. Line 0 is the back (bottom) edge; they run anticlockwise in
// q. Corner j is where line j begins.
type outline struct {
	n                         int
	lines                     [model.MaxCorners]line
	backRight, front, frontAt int // corner indices: back right, front right, front left; back left is 0

	origin   mgl64.Vec3 // of q in the stair
	ex, ey   mgl64.Vec3 // its axes, unit
	into     mgl64.Vec3 // from the face into the board, unit
	corners  [model.MaxCorners]mgl64.Vec2
	vertices [model.MaxCorners]mgl64.Vec2 // corners of the show face
	// ends are two places that each line of a tread moves with: corners of the
	// opening. A riser's lines have none.
	ends [model.MaxCorners][2]mgl64.Vec2
}

// line bounds the board at depth t below the face: normal·q + slope·t <= d.
type line struct {
	normal mgl64.Vec2 // unit, outward
	d      float64
	slope  float64 // tangent of the bevel
	inset  float64 // how far it was moved in from what it meets
	part   Part

	// What the line follows: two corners of the opening for a tread, a wall or
	// a level for a riser.
	a, b int
	side Side
}

// parallel is the sine of the angle below which two neighbouring lines have no
// usable intersection: at 1e-5 (2 seconds of arc) lines inset alike by 25 mm
// still meet within 1e-4 mm of where their common corner goes square.
const parallel = 1e-5

// corner returns where lines j-1 and j meet at depth t.
func (o *outline) corner(j int, t float64) mgl64.Vec2 {
	a, b := &o.lines[(j+o.n-1)%o.n], &o.lines[j]
	cross := a.normal[0]*b.normal[1] - a.normal[1]*b.normal[0]
	da, db := a.d-a.slope*t, b.d-b.slope*t
	if math.Abs(cross) < parallel {
		// The two run on straight: follow the second from the corner they share.
		return o.corners[j].Add(b.normal.Mul(db - b.normal.Dot(o.corners[j])))
	}
	return mgl64.Vec2{(da*b.normal[1] - db*a.normal[1]) / cross, (db*a.normal[0] - da*b.normal[0]) / cross}
}

// trace makes the corners of the face and returns why it is no board, or "".
func (o *outline) trace(k Kind) string {
	for j := range o.n {
		o.vertices[j] = o.corner(j, 0)
	}
	for j := range o.n {
		a, b := o.vertices[j], o.vertices[(j+1)%o.n]
		n := o.lines[j].normal
		// A line runs with the board on its left. NaN fails this too.
		if !(mgl64.Vec2{-n[1], n[0]}.Dot(b.Sub(a)) > 0) {
			if k == Riser {
				return "the figures leave no riser here: its height or width comes out at nothing; check the rises and the build-up"
			}
			return "the figures leave no board here; check the widths and depths of this step"
		}
	}
	return ""
}

// convex says whether the outline turns left at every corner.
func (o *outline) convex() bool {
	for j := range o.n {
		a, b := o.lines[(j+o.n-1)%o.n].normal, o.lines[j].normal
		if a[0]*b[1]-a[1]*b[0] < -parallel {
			return false
		}
	}
	return true
}

// named returns the indices of the corners back left, back right, front right
// and front left.
func (o *outline) named() [4]int { return [4]int{0, o.backRight, o.front, o.frontAt} }

// finish fills in what follows from the outline: face, solid and frame.
func (o *outline) finish(p *Piece) {
	// The board frame: x along line 0, y into the face.
	n := o.lines[0].normal
	x2, y2, v0 := mgl64.Vec2{-n[1], n[0]}, n.Mul(-1), o.vertices[0]
	x3 := o.ex.Mul(x2[0]).Add(o.ey.Mul(x2[1]))
	y3 := o.ex.Mul(y2[0]).Add(o.ey.Mul(y2[1]))
	z3 := x3.Cross(y3)
	at := o.origin.Add(o.ex.Mul(v0[0])).Add(o.ey.Mul(v0[1]))
	p.Frame = mgl64.Mat4FromCols(x3.Vec4(0), y3.Vec4(0), z3.Vec4(0), at.Vec4(1))
	board := func(q mgl64.Vec2) mgl64.Vec2 {
		d := q.Sub(v0)
		return mgl64.Vec2{x2.Dot(d), y2.Dot(d)}
	}

	m, into := o.n, p.Into()
	under := into * p.Thickness
	p.BackLeft, p.BackRight, p.FrontRight, p.FrontLeft = 0, o.backRight, o.front, o.frontAt
	p.Face = make([]mgl64.Vec2, m)
	s := &p.Solid
	s.Verts = make([]mgl64.Vec3, 2*m)
	s.Faces = make([]Facet, m+2)
	loops := make([]int, 6*m)
	for j := range m {
		p.Face[j] = board(o.vertices[j])
		s.Verts[j] = p.Face[j].Vec3(0)
		s.Verts[m+j] = board(o.corner(j, p.Thickness)).Vec3(under)
	}
	s.Convex = o.convex()

	// A loop in the order of the corners is anticlockwise seen from +z. That is
	// outside for a riser's face and inside for a tread's.
	face, back := loops[:m:m], loops[m:2*m:2*m]
	for j := range m {
		if into < 0 {
			face[j], back[j] = j, 2*m-1-j
		} else {
			face[j], back[j] = m-1-j, m+j
		}
	}
	s.Faces[0] = Facet{Normal: mgl64.Vec3{0, 0, -into}, Offset: 0, Loop: face, Part: ShowFace}
	s.Faces[1] = Facet{Normal: mgl64.Vec3{0, 0, into}, Offset: p.Thickness, Loop: back, Part: Underside}
	for j := range m {
		l := &o.lines[j]
		k := (j + 1) % m
		loop := loops[2*m+4*j : 2*m+4*j+4 : 2*m+4*j+4]
		if into < 0 {
			loop[0], loop[1], loop[2], loop[3] = k, j, m+j, m+k
		} else {
			loop[0], loop[1], loop[2], loop[3] = j, k, m+k, m+j
		}
		normal := mgl64.Vec3{x2.Dot(l.normal), y2.Dot(l.normal), into * l.slope}.Mul(1 / math.Sqrt(1+l.slope*l.slope))
		s.Faces[2+j] = Facet{Normal: normal, Offset: normal.Dot(s.Verts[j]), Loop: loop, Part: l.part}
	}
}
