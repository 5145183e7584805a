package model

import "math"

// MinCorners and MaxCorners bound the polygon of a tread opening: a winder may
// come to a point, a kite winder or a landing may have up to six corners.
const (
	MinCorners = 3
	MaxCorners = 6
)

// Step is one tread opening with the riser below it. Corners and heights are
// the sketch: what the user drew or guessed. What was measured is in Readings,
// and the most likely shape comes from package solver/survey.
type Step struct {
	ID ID `json:"id"`

	// Corners is the sketched opening in plan, anticlockwise seen from above,
	// beginning at the front left. Its front edge is the new nose line; its
	// back edge is the face of the existing riser behind (for the landing
	// nosing: the rear edge of the nosing).
	Corners []Corner `json:"corners"`
	// Edges says what each edge is; Edges[i] runs from Corners[i] to the next.
	Edges []Edge `json:"edges"`

	TopLeft  Length `json:"top_left"`  // sketched height of the existing tread top at its front left
	TopRight Length `json:"top_right"` // the same at its front right
	Fall     Angle  `json:"fall"`      // sketched fore-and-aft tilt, positive when the back is higher

	Left  Side `json:"left"`
	Right Side `json:"right"`

	Nosing    NosingState `json:"nosing"`              // what became of the existing nosing
	PackLeft  Length      `json:"pack_left,omitempty"` // packing under the overlay at the left end of its nose line, even from there to the right end; negative: planed off
	PackRight Length      `json:"pack_right,omitempty"`
	Thickness Length      `json:"thickness,omitempty"` // overlay thickness of this step; 0 means the job's

	// Landing says that this is a landing between two flights: a wide tread
	// that carries a landing nosing and a floor. Its riser is the last of the
	// flight below; the next step begins a flight of its own.
	Landing bool `json:"landing,omitempty"`
	// RoundLeft and RoundRight are the radii of the quarter circles in which the
	// existing riser runs round the front corners, as on a starting step; 0 for
	// a corner that is not round. Only an open side can be round.
	RoundLeft  Length `json:"round_left,omitempty"`
	RoundRight Length `json:"round_right,omitempty"`
	// Balusters that stand on this tread, at its open sides.
	Balusters []Baluster `json:"balusters,omitempty"`

	Readings []Reading `json:"readings,omitempty"`
}

// Corner is a point in plan: x to the right, y up the flight.
type Corner struct {
	X Length `json:"x"`
	Y Length `json:"y"`
}

// Edge says what an edge of a tread opening is.
type Edge string

// The four edges. A side may take several consecutive edges; front and back
// take one each.
const (
	Front Edge = "front"
	Right Edge = "right"
	Back  Edge = "back"
	Left  Edge = "left"
)

// Side is what one side of a step meets.
type Side struct {
	Kind SideKind `json:"kind"`
	Lean Angle    `json:"lean"` // sketched lean from plumb, positive when it opens outwards going up
	// Returned says that an open side is finished in the trade's way: the nosing
	// returns along the tread's end with a mitre, and the riser is mitred to the
	// outer skirt, whose face is this side. It means nothing at a closed side.
	Returned bool `json:"returned,omitempty"`
}

// MitredReturn says whether the side is open and has its nosing returned.
func (s Side) MitredReturn() bool { return s.Kind == Open && s.Returned }

// Baluster is one bar that stands on a tread. It keeps its place when the
// overlay is laid, and is cut at its bottom by what the tread rises.
type Baluster struct {
	ID     ID     `json:"id"`
	Side   Edge   `json:"side"`             // left or right
	Behind Length `json:"behind"`           // its middle behind the new nose line
	Length Length `json:"length,omitempty"` // as it stands, from the old tread to the rail; 0 when not measured
}

// SideKind is wall, skirt or open.
type SideKind string

// The kinds of side.
const (
	Wall  SideKind = "wall"
	Skirt SideKind = "skirt"
	Open  SideKind = "open"
)

// NosingState says what became of the nosing that was there.
type NosingState string

const (
	// NosingKept leaves the old nose standing, as when the overlay is not yet planned.
	NosingKept NosingState = "kept"
	// NosingCut has the old nose sawn off flush with the old riser face.
	NosingCut NosingState = "cut"
	// NosingPacked has the old riser packed out flush with the old nose, which
	// walks the riser face forward by the old overhang.
	NosingPacked NosingState = "packed out"
)

// StraightEdges are the edges of an opening with four corners.
func StraightEdges() []Edge { return []Edge{Front, Right, Back, Left} }

// FrontLeft, FrontRight, BackRight and BackLeft return the index in Corners of
// the named corner. In a winder that comes to a point two of them agree. They
// return -1 when Edges has no front or no back.
func (s Step) FrontLeft() int { return s.edgeStart(Front) }

// FrontRight returns the index of the corner where the front edge ends.
func (s Step) FrontRight() int { return s.edgeEnd(Front) }

// BackRight returns the index of the corner where the back edge begins.
func (s Step) BackRight() int { return s.edgeStart(Back) }

// BackLeft returns the index of the corner where the back edge ends.
func (s Step) BackLeft() int { return s.edgeEnd(Back) }

func (s Step) edgeStart(e Edge) int {
	for i, x := range s.Edges {
		if x == e {
			return i
		}
	}
	return -1
}

func (s Step) edgeEnd(e Edge) int {
	i := s.edgeStart(e)
	if i < 0 {
		return -1
	}
	return (i + 1) % len(s.Edges)
}

// Plain says whether the opening has four corners, one edge to each side.
func (s Step) Plain() bool {
	return len(s.Corners) == 4 && len(s.Edges) == 4 &&
		s.Edges[0] == Front && s.Edges[1] == Right && s.Edges[2] == Back && s.Edges[3] == Left
}

// SideOf returns the side that an edge of the opening meets; front and back
// have none and return false.
func (s Step) SideOf(e Edge) (Side, bool) {
	switch e {
	case Left:
		return s.Left, true
	case Right:
		return s.Right, true
	}
	return Side{}, false
}

// Packing returns the packing under the overlay at mid width; negative is planed
// off. What is planed at one side and packed at the other evens out.
func (s Step) Packing() Length { return (s.PackLeft + s.PackRight) / 2 }

// Distance returns the plan distance between two corners.
func (c Corner) Distance(d Corner) Length {
	return Length(math.Hypot(float64(c.X-d.X), float64(c.Y-d.Y)))
}

// clone returns a copy whose corners and readings may be changed freely.
func (s Step) clone() Step {
	s.Corners = append([]Corner(nil), s.Corners...)
	s.Edges = append([]Edge(nil), s.Edges...)
	s.Balusters = append([]Baluster(nil), s.Balusters...)
	s.Readings = append([]Reading(nil), s.Readings...)
	return s
}
