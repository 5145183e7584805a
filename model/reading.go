package model

import (
	"math"
	"time"
)

// Reading is one measurement, as taken and as typed. Value is millimetres or
// radians by the kind's Quantity.
type Reading struct {
	ID         ID        `json:"id"`
	Kind       Kind      `json:"kind"`
	Value      float64   `json:"value"`
	Typed      string    `json:"typed,omitempty"` // what the user wrote, kept beside the value
	Instrument string    `json:"instrument"`      // id in the job's table of instruments
	State      State     `json:"state"`
	Taken      time.Time `json:"taken,omitzero"`
	Aside      bool      `json:"aside,omitempty"` // set aside: kept and shown, not used
	Note       string    `json:"note,omitempty"`
}

// Kind says what a reading measures.
type Kind string

// The kinds of reading. Widths are between the sides, depths from the nose
// line to the riser face along a side. A gauge reading is the interior angle
// of the opening at a corner, as the gauge shows it: 90 is square. A lean is
// positive when the side opens outwards going up. A tilt across is positive
// when the right is higher, a fore-and-aft tilt when the back is higher.
const (
	FrontWidth  Kind = "front_width"
	MiddleWidth Kind = "middle_width"
	BackWidth   Kind = "back_width"
	LeftDepth   Kind = "left_depth"
	RightDepth  Kind = "right_depth"
	// DiagonalLeft runs from the back left to the front right corner.
	DiagonalLeft Kind = "diagonal_left"
	// DiagonalRight runs from the back right to the front left corner.
	DiagonalRight   Kind = "diagonal_right"
	GaugeFrontLeft  Kind = "gauge_front_left"
	GaugeFrontRight Kind = "gauge_front_right"
	GaugeBackRight  Kind = "gauge_back_right"
	GaugeBackLeft   Kind = "gauge_back_left"
	LeanLeft        Kind = "lean_left"
	LeanRight       Kind = "lean_right"
	// RiseLeft is the existing rise below this step: from the existing tread
	// below (or the old bottom floor) up to this existing tread, at the left.
	RiseLeft  Kind = "rise_left"
	RiseRight Kind = "rise_right"
	// GoingLeft is the level distance from the nose line of the step below,
	// square to it, to the left end of this step's nose. Step 1 has none.
	GoingLeft  Kind = "going_left"
	GoingRight Kind = "going_right"
	TiltAcross Kind = "tilt_across"
	TiltFore   Kind = "tilt_fore"

	// TotalRise is old bottom floor to old top floor at the middle of the landing nose.
	TotalRise Kind = "total_rise"
	// TotalGoing is the level distance from the first nose line, square to it,
	// to the middle of the last nose.
	TotalGoing Kind = "total_going"
	// LongDiagonalLeft runs, level in plan, from the first nose at the left to the last at the right.
	LongDiagonalLeft Kind = "long_diagonal_left"
	// LongDiagonalRight runs, level in plan, from the first nose at the right to the last at the left.
	LongDiagonalRight Kind = "long_diagonal_right"
)

// StepKinds are the kinds read at a step, in walking order: what a carpenter
// reads next without moving the tools more than needed.
func StepKinds() []Kind {
	return []Kind{
		BackWidth, GaugeBackLeft, GaugeBackRight, MiddleWidth, FrontWidth,
		LeftDepth, RightDepth, DiagonalLeft, DiagonalRight,
		GaugeFrontLeft, GaugeFrontRight,
		LeanLeft, LeanRight, RiseLeft, RiseRight, GoingLeft, GoingRight,
		TiltAcross, TiltFore,
	}
}

// FlightKinds are the kinds read once for the whole flight.
func FlightKinds() []Kind {
	return []Kind{TotalRise, TotalGoing, LongDiagonalLeft, LongDiagonalRight}
}

// Quantity says what a kind's value is.
type Quantity string

const (
	// QuantityLength is millimetres.
	QuantityLength Quantity = "length"
	// QuantityAngle is an interior angle in radians.
	QuantityAngle Quantity = "angle"
	// QuantityLean is an angle from plumb in radians.
	QuantityLean Quantity = "lean"
	// QuantitySlope is an angle from level in radians.
	QuantitySlope Quantity = "slope"
)

// Quantity returns what k's value is. An unknown kind has the empty quantity.
func (k Kind) Quantity() Quantity {
	switch k {
	case FrontWidth, MiddleWidth, BackWidth, LeftDepth, RightDepth, DiagonalLeft, DiagonalRight,
		RiseLeft, RiseRight, GoingLeft, GoingRight,
		TotalRise, TotalGoing, LongDiagonalLeft, LongDiagonalRight:
		return QuantityLength
	case GaugeFrontLeft, GaugeFrontRight, GaugeBackRight, GaugeBackLeft:
		return QuantityAngle
	case LeanLeft, LeanRight:
		return QuantityLean
	case TiltAcross, TiltFore:
		return QuantitySlope
	}
	return ""
}

// WholeFlight says whether k is read once for the flight.
func (k Kind) WholeFlight() bool {
	switch k {
	case TotalRise, TotalGoing, LongDiagonalLeft, LongDiagonalRight:
		return true
	}
	return false
}

// Words returns the trade's name for k, such as "back width".
func (k Kind) Words() string {
	switch k {
	case FrontWidth:
		return "front width"
	case MiddleWidth:
		return "middle width"
	case BackWidth:
		return "back width"
	case LeftDepth:
		return "left depth"
	case RightDepth:
		return "right depth"
	case DiagonalLeft:
		return "diagonal, back left to front right"
	case DiagonalRight:
		return "diagonal, back right to front left"
	case GaugeFrontLeft:
		return "gauge, front left"
	case GaugeFrontRight:
		return "gauge, front right"
	case GaugeBackRight:
		return "gauge, back right"
	case GaugeBackLeft:
		return "gauge, back left"
	case LeanLeft:
		return "lean of left side"
	case LeanRight:
		return "lean of right side"
	case RiseLeft:
		return "rise at left"
	case RiseRight:
		return "rise at right"
	case GoingLeft:
		return "going at left"
	case GoingRight:
		return "going at right"
	case TiltAcross:
		return "tilt across"
	case TiltFore:
		return "tilt fore and aft"
	case TotalRise:
		return "total rise"
	case TotalGoing:
		return "total going"
	case LongDiagonalLeft:
		return "long diagonal, bottom left to top right"
	case LongDiagonalRight:
		return "long diagonal, bottom right to top left"
	}
	return string(k)
}

// Mirrored returns the kind that k becomes when left and right are swapped,
// as when a card is read looking down the flight.
func (k Kind) Mirrored() Kind {
	switch k {
	case LeftDepth:
		return RightDepth
	case RightDepth:
		return LeftDepth
	case DiagonalLeft:
		return DiagonalRight
	case DiagonalRight:
		return DiagonalLeft
	case GaugeFrontLeft:
		return GaugeFrontRight
	case GaugeFrontRight:
		return GaugeFrontLeft
	case GaugeBackLeft:
		return GaugeBackRight
	case GaugeBackRight:
		return GaugeBackLeft
	case LeanLeft:
		return LeanRight
	case LeanRight:
		return LeanLeft
	case RiseLeft:
		return RiseRight
	case RiseRight:
		return RiseLeft
	case GoingLeft:
		return GoingRight
	case GoingRight:
		return GoingLeft
	case LongDiagonalLeft:
		return LongDiagonalRight
	case LongDiagonalRight:
		return LongDiagonalLeft
	}
	return k
}

// State says under what conditions a reading was taken.
type State string

// The states, from least to most trusted.
const (
	Guessed    State = "guessed"
	OverCarpet State = "over carpet"
	Bare       State = "bare"
	Checked    State = "checked" // read again on bare wood and found the same
)

// States lists the states from least to most trusted.
func States() []State { return []State{Guessed, OverCarpet, Bare, Checked} }

// OnBareWood says whether a reading in this state may release a cut.
func (s State) OnBareWood() bool { return s == Bare || s == Checked }

// Instrument is one row of the table of measuring tools. Spread is one
// standard deviation: millimetres for lengths, radians otherwise.
type Instrument struct {
	ID       string   `json:"id"`
	Name     string   `json:"name"`
	Measures Quantity `json:"measures"`
	Spread   float64  `json:"spread"`
	Standing Standing `json:"standing"`
	Note     string   `json:"note,omitempty"`
	// Default lists the kinds of reading this instrument is offered for first.
	Default []Kind `json:"default,omitempty"`
}

// StateRow is what a state adds to the spread of a reading, by quantity: one
// standard deviation, combined with the instrument's by root sum of squares.
type StateRow struct {
	State    State    `json:"state"`
	Length   float64  `json:"length"` // mm
	Angle    float64  `json:"angle"`  // rad, for gauge readings and leans
	Slope    float64  `json:"slope"`  // rad
	Standing Standing `json:"standing"`
}

// Standing says how far a published value can be trusted.
type Standing string

// The standings, from most to least trusted.
const (
	Seen          Standing = "seen"          // read in a stored copy of the publication
	Transcription Standing = "transcription" // read in a third party's copy of the text
	Secondary     Standing = "secondary"     // read in a page that restates it
	Memory        Standing = "memory"        // not seen
	Yours         Standing = "yours"         // set by the user
)

// InstrumentByID returns the row called id.
func (j Job) InstrumentByID(id string) (Instrument, bool) {
	for _, in := range j.Instruments {
		if in.ID == id {
			return in, true
		}
	}
	return Instrument{}, false
}

// DefaultInstrument returns the instrument offered first for kind k, or the
// first that measures its quantity.
func (j Job) DefaultInstrument(k Kind) (Instrument, bool) {
	var first Instrument
	found := false
	for _, in := range j.Instruments {
		if in.Measures != k.Quantity() {
			continue
		}
		for _, d := range in.Default {
			if d == k {
				return in, true
			}
		}
		if !found {
			first, found = in, true
		}
	}
	return first, found
}

// Spread returns one standard deviation of r, in its own unit: the
// instrument's spread and what its state adds, by root sum of squares. It is
// zero only when the instrument is unknown.
func (j Job) Spread(r Reading) float64 {
	in, ok := j.InstrumentByID(r.Instrument)
	if !ok {
		return 0
	}
	add := 0.0
	for _, s := range j.States {
		if s.State != r.State {
			continue
		}
		switch r.Kind.Quantity() {
		case QuantityLength:
			add = s.Length
		case QuantityAngle, QuantityLean:
			add = s.Angle
		case QuantitySlope:
			add = s.Slope
		}
	}
	return math.Hypot(in.Spread, add)
}
