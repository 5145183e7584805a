package buildup

import (
	"math"

	"risewright/model"
	"risewright/solver/survey"
)

// Value is a figure and one standard deviation of it, in mm unless said
// otherwise. The zero Value is an exact zero.
type Value struct {
	At     float64
	Spread float64
}

// Band returns the half width of the 95 % band of v.
func (v Value) Band() float64 { return v.Spread * survey.Band95 }

// Sides is a figure at the left and at the right, as seen walking up.
type Sides struct {
	Left, Right Value
}

// Mean returns the figure half way between the sides.
func (s Sides) Mean() float64 { return (s.Left.At + s.Right.At) / 2 }

// On returns the figure at side d; the middle has the mean and the wider
// spread, which no mean of two exceeds.
func (s Sides) On(d Side) Value {
	switch d {
	case Left:
		return s.Left
	case Right:
		return s.Right
	}
	return Value{s.Mean(), math.Max(s.Left.Spread, s.Right.Spread)}
}

// Side is where across the flight a figure was taken.
type Side int

// The places across the flight.
const (
	Middle Side = iota
	Left
	Right
)

// String returns the word shown for d.
func (d Side) String() string {
	switch d {
	case Left:
		return "left"
	case Right:
		return "right"
	}
	return "middle"
}

// Result is the flight before and after the overlay. It is read-only once
// returned. It has one Step for each riser, or none when the survey was not of
// this job.
type Result struct {
	Steps []Step

	FloorBottom float64 // build-up of the bottom floor
	FloorTop    float64 // and of the top floor

	Runs []Run // the flights between floors and landings, from the bottom; one at least

	// The worst of the runs: a rise is compared with those of its own flight.
	RiseBefore, RiseAfter   Uniformity
	GoingBefore, GoingAfter Uniformity // steps 2 to N; see Step.Going
	Nosing                  Uniformity // of the surveyed projections

	FlightRiseBefore Value // floor to floor, at mid width
	FlightRise       Value // the same, finish to finish
	// FlightGoing is from the first new nose line to the last, along y, at mid
	// width; of a flight that turns, the sum of its goings at mid width.
	FlightGoing Value
	MeanRise    float64
	MeanGoing   float64
	Pitch       Value   // of the line over the first and last new nose, rad
	SlopeLength float64 // long side of FlightGoing and FlightRise: what a board along the flight spans

	Headroom []HeightChange // in the order of the job
	Rail     []HeightChange
	Doors    []DoorChange
}

// Step is the build-up at riser k and the tread above it.
type Step struct {
	Number int // k, from 1 at the bottom

	OldTop, NewTop        Sides // at the nose corners; the spread is the same for both
	RiseBefore, RiseAfter Sides // of riser k

	// Going of step k lies between nose k-1 and nose k, so step 1 has none, nor
	// has a step above a landing. Before: from the old riser face k-1 to face k.
	// After: from new nose line to new nose line. Both along y; in a flight that
	// turns, square to the line below.
	HasGoing                bool
	GoingBefore, GoingAfter Sides
	// Tapered says that the goings of the two sides differ so much
	// (taperedGoing) that the tread is a winder: its going counts at mid width.
	Tapered bool

	// Winder is the tread of this step when it tapers, and Landing the room on
	// it when it is a landing between flights; else nil.
	Winder  *Winder
	Landing *Landing

	// Packing is the height between the old tread top and where the new one
	// must be for all rises to be equal: p(k) = Bb + k(H+Bt-Bb)/N - z(k), with
	// H the old total rise at mid width, so that it takes tilt out as well. In a
	// stair with landings each flight has its own N, Bb and Bt.
	Packing Sides
	// Shim is Packing less the board: what to pack under it, or to plane off
	// when negative. At the landing a negative shim is the rebate's depth.
	Shim Sides
	// Room says whether the board and 1 mm of bedding fit under the wanted
	// height on both sides. A landing nosing can be rebated and always fits.
	Room bool

	Across Value // out of level across after the overlay, right minus left, mm
	Fall   Value // fore and aft after the overlay, rise over run, positive when the back is higher
	Slope  Value // steepest slope of the tread in any direction, rise over run

	Nosing float64 // new nose past the new riser face, as it will be set out
	// Surveyed is the same as the survey has the two lines: from the nose line
	// of this step to the riser face behind the step below, less the new
	// riser. At step 1 nothing is surveyed and it equals Nosing.
	Surveyed Sides

	Forward float64 // how far the new nose line stands in front of the old one
	Width   Value   // the narrower of front and back width

	// TwoRisePlusGoing is 2R + G at mid width, of riser k and the going at its
	// foot; riser 1, which has none, takes the going above it.
	TwoRisePlusGoing Value
}

// Uniformity tells how alike the members of a flight are. The zero value says
// there was nothing to compare.
type Uniformity struct {
	Largest, Smallest Extreme // over both sides
	Spread            Value   // largest minus smallest
	// Adjacent is the greatest difference between neighbours on the same side,
	// between steps AdjacentStep-1 and AdjacentStep.
	Adjacent     Value
	AdjacentStep int
	AdjacentSide Side
	Count        int // how many steps were compared
}

// Extreme is a member of a flight and where it stands.
type Extreme struct {
	Step  int // from 1
	Side  Side
	Value Value
}

// HeightChange is a rail height or headroom before and after the overlay.
type HeightChange struct {
	ID   model.ID
	Step int // from 1
	// Before is as given; its spread is what such a reading carries.
	Before, After Value
	Raised        float64 // how much the nose below rises, at mid width
	Advanced      float64 // what moving the nose forward costs: f·R/G
}

// DoorChange is a door's gap before and after the floor below it is built up.
type DoorChange struct {
	ID       model.ID
	Name     string
	Top      bool
	Before   float64
	After    float64 // negative: the new floor stands above the door's lower edge
	Undercut float64 // to take off the door for the clearance wanted; 0 if it clears
}
