package pieces

import (
	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// Kind says what a board becomes.
type Kind string

// The kinds of piece.
const (
	Tread         Kind = "tread"
	Riser         Kind = "riser"
	LandingNosing Kind = "landing nosing"
	ReturnNosing  Kind = "return nosing" // along the end of a tread at an open side
	LandingFloor  Kind = "landing floor" // behind the nosing of a landing between flights
)

// Piece is one finished board. It is read-only once returned.
//
// # Board frame
//
// Every piece has its own frame, in millimetres. x runs along the length to
// the right as seen walking up, along the edge that goes to the saw's fence:
// the back edge of a tread, the bottom edge of a riser. y runs square to it
// across the face: from the back edge towards the nose, or from the bottom
// edge up. z makes the frame right-handed, so it points down through a tread
// and out of a riser towards the walker. The show face lies in z = 0. A tread
// fills z from 0 to Thickness, a riser from -Thickness to 0 (see Into). The
// origin is the back left corner of a tread's face, the bottom left of a
// riser's.
type Piece struct {
	// ID is what is pencilled on the board: T07 is the tread of step 7, R07 the
	// riser below it, L14 the landing nosing of a flight of 14 risers, whose
	// riser is R14; L07 the nosing of a landing between flights and F07 the floor
	// behind it; N07 the return nosing of tread 7, N07L and N07R when it has
	// two. From 100 steps on the number has three digits.
	ID   string
	Kind Kind
	Step int // counted from 1 at the bottom
	// Meets is the step, counted from 1, whose sides a riser's ends meet: its own
	// or the one below. 0 for other boards.
	Meets     int
	Thickness float64 // mm, square to the face

	// Face is the outline of the show face in the board frame, anticlockwise
	// in (x, y), beginning at the back left (bottom left) corner: back left,
	// back right, front right, front left for a board of four corners.
	Face []mgl64.Vec2
	// BackLeft, BackRight, FrontRight and FrontLeft are indices in Face: 0, 1,
	// 2, 3 for four corners. In a winder that comes to a point two agree. For
	// a riser read bottom for back and top for front.
	BackLeft, BackRight, FrontRight, FrontLeft int

	// Solid is the board in its own frame; Placed gives it in the stair's.
	Solid Solid
	// Frame takes the board frame to stair coordinates. It is a rotation and a
	// shift, never a mirror.
	Frame mgl64.Mat4

	Ends    [2]End // left and right
	Figures Figures

	// Released says that the board may be cut: every step it depends on is
	// ready for the saw and its own figures are sure enough. Why says what is
	// missing when it is not.
	Released bool
	Why      string
	// Template, when not empty, is the reason why straight cuts from a card
	// cannot make the board and a template must.
	Template string
	// Impossible, when not empty, says why the estimate leaves no board here at
	// all, such as a riser of no height. Face and Solid then mean nothing.
	Impossible string
	// Notes are things to know about this board.
	Notes []string
}

// Side indexes Ends.
type Side int

// The two ends of a board, as seen walking up.
const (
	Left  Side = 0
	Right Side = 1
)

// String returns "left" or "right".
func (s Side) String() string {
	if s == Right {
		return "right"
	}
	return "left"
}

// End is one end of a board and what it meets.
type End struct {
	Side model.SideKind
	// Gauge is the interior angle of the face at the back (bottom) corner, in
	// radians; a quarter turn is square. The saw's scale reads Gauge less that.
	Gauge Value
	// Bevel leans the end in towards the underside (the back of a riser), in
	// radians from square to the face, so that only the face's edge touches.
	// It is never below 0. At an open side where the riser is mitred to the
	// outer skirt it is half the angle between the two.
	Bevel float64
	// Lean is that of the side it meets, relative to the board: in radians from
	// square to the face, positive when the side comes closer going down from a
	// tread's face or back from a riser's.
	Lean float64
	// Fit is taken off the face at this end, mm, square to the end. It is
	// negative where a tread runs past an open side.
	Fit float64
}

// Value is a figure and the half width of its 95 % band (1.96 standard
// deviations), both in mm or both in radians.
type Value struct{ Value, PlusMinus float64 }

// Figures are the dimensions of the show face, all in mm from corner to
// corner. For a riser read bottom for Back, top for Front and height for depth.
type Figures struct {
	Back, Front           Value
	LeftDepth, RightDepth Value // along the ends
	// DiagonalLeft runs from the back left to the front right corner,
	// DiagonalRight from the back right to the front left.
	DiagonalLeft, DiagonalRight Value
}

// Widest returns the largest plus-or-minus of the lengths.
func (f Figures) Widest() float64 {
	return max(f.Back.PlusMinus, f.Front.PlusMinus, f.LeftDepth.PlusMinus,
		f.RightDepth.PlusMinus, f.DiagonalLeft.PlusMinus, f.DiagonalRight.PlusMinus)
}

// Into returns the direction of z from the show face into the board: 1 for
// treads and the landing nosing, -1 for risers.
func (p *Piece) Into() float64 {
	if p.Kind == Riser {
		return -1
	}
	return 1
}

// Placed returns the solid where it lies in the stair.
func (p *Piece) Placed() Solid { return p.Solid.Transformed(p.Frame) }

// Solid is a closed polyhedron. Every board that straight cuts can make is
// convex; a template may give one whose outline is not.
type Solid struct {
	Verts  []mgl64.Vec3
	Faces  []Facet
	Convex bool
}

// Facet is one flat face of a solid: the points p with Normal·p = Offset.
type Facet struct {
	Normal mgl64.Vec3 // unit, outward
	Offset float64
	Loop   []int // indices in Verts, anticlockwise seen from outside
	Part   Part
}

// Part says which face of the board a facet is.
type Part string

// The parts of a board. For a riser the back edge is its bottom, the nose its
// top, and the underside its back.
const (
	ShowFace  Part = "face"
	Underside Part = "underside"
	BackEdge  Part = "back"
	Nose      Part = "nose"
	LeftEnd   Part = "left"
	RightEnd  Part = "right"
)

// Transformed returns the solid moved by a rotation and shift.
func (s Solid) Transformed(m mgl64.Mat4) Solid {
	out := Solid{Verts: make([]mgl64.Vec3, len(s.Verts)), Faces: make([]Facet, len(s.Faces)), Convex: s.Convex}
	for i, v := range s.Verts {
		out.Verts[i] = mgl64.TransformCoordinate(v, m)
	}
	for i, f := range s.Faces {
		f.Normal = mgl64.TransformNormal(f.Normal, m)
		f.Offset = f.Normal.Dot(out.Verts[f.Loop[0]])
		out.Faces[i] = f
	}
	return out
}
