package model

// Job is one stair to be remodelled: what stands there, what has been measured
// and what will be laid over it. The zero Job is empty and does not validate;
// Sketch makes a first one from four numbers.
type Job struct {
	ID    ID     `json:"id"`
	Name  string `json:"name"`
	Place string `json:"place,omitempty"` // where the stair is, in the user's words
	Notes string `json:"notes,omitempty"`

	Units    Units `json:"units"`              // how lengths are shown and bare numbers read
	Fraction int   `json:"fraction,omitempty"` // smallest inch fraction shown: 16 or 32; 0 means 16

	Code      string `json:"code"`                 // id of the rule table, such as "irc"
	CodeClass string `json:"code_class,omitempty"` // class of stair within it, such as "private"

	Tolerance    Length `json:"tolerance"`     // half width of the 95 % band a cut must keep within
	SketchSpread Length `json:"sketch_spread"` // one standard deviation of a sketched corner or height

	// Revision counts the changes made to readings. Every paper prints it.
	Revision int `json:"revision"`

	Instruments []Instrument `json:"instruments"` // this job's own table, editable
	States      []StateRow   `json:"states"`      // what a reading's state adds to its spread

	Existing Existing `json:"existing"`
	Overlay  Overlay  `json:"overlay"`
	Flight   Flight   `json:"flight"`

	Wishes Wishes `json:"wishes,omitzero"` // asked of the order of fitting
	// Lighting is the light bars; the zero value is none.
	Lighting Lighting `json:"lighting,omitzero"`
	Sensing  Sensing  `json:"sensing,omitzero"` // motion sensors; the zero value is none
	Shop     Shop     `json:"shop,omitzero"`    // wood, prices and calendar
	Look     Look     `json:"look,omitzero"`    // colours of the finished stair, for pictures
}

// Existing is the structure that the overlay will cover.
type Existing struct {
	Tread    Length `json:"tread"`    // thickness of the rough treads
	Riser    Length `json:"riser"`    // thickness of the old risers
	Overhang Length `json:"overhang"` // how far the old noses stand proud of the old riser faces
}

// Overlay is what will be laid over the existing structure.
type Overlay struct {
	Tread        Length    `json:"tread"`         // thickness of the new treads
	Riser        Length    `json:"riser"`         // thickness of the new risers
	Landing      Length    `json:"landing"`       // thickness of the landing nosing
	LandingDepth Length    `json:"landing_depth"` // nose to rear edge of the landing nosing
	Overhang     Length    `json:"overhang"`      // new nose to new riser face
	Fit          Length    `json:"fit"`           // taken off each end that meets a wall or skirt
	Undercut     Angle     `json:"undercut"`      // back-bevel of such an end, so that only the top edge touches
	RiserGap     Length    `json:"riser_gap"`     // riser kept low below the tread that covers it
	Back         BackJoint `json:"back"`          // how a tread meets the riser behind it
	FloorBottom  Length    `json:"floor_bottom"`  // new finish laid on the bottom floor
	FloorTop     Length    `json:"floor_top"`     // new finish laid on the top floor
	// Return is the width of a return nosing at an open side; 0 means
	// UsualReturn.
	Return Length `json:"return,omitempty"`
}

// UsualReturn is the width of return nosing that the yard sells, 1 1/4 in; from
// memory.
const UsualReturn = Inch * 5 / 4

// ReturnWidth returns the width of the return nosings.
func (o Overlay) ReturnWidth() Length {
	if o.Return > 0 {
		return o.Return
	}
	return UsualReturn
}

// BackJoint says how the back of a tread meets the riser behind it.
type BackJoint string

const (
	// BackUnderRiser lets the tread run under the riser: the riser stands on
	// the tread and hides its back edge. Built strictly from the bottom up.
	BackUnderRiser BackJoint = "under riser"
	// BackAgainstRiser butts the tread against the face of a riser already
	// fixed. Any order, but the back edge is seen.
	BackAgainstRiser BackJoint = "against riser"
)

// Flight is the chain of steps from the bottom floor to the landing nosing.
type Flight struct {
	Steps    []Step    `json:"steps"`              // from the bottom; the last is the landing nosing
	Readings []Reading `json:"readings,omitempty"` // readings of the flight as a whole
	Rail     []Height  `json:"rail,omitempty"`     // handrail heights above the existing noses
	Headroom []Height  `json:"headroom,omitempty"` // clear heights above the existing noses
	Doors    []Door    `json:"doors,omitempty"`
}

// Height is a vertical distance measured up from the existing nose of a step,
// to the top of the handrail or to whatever hangs above.
type Height struct {
	ID    ID     `json:"id"`
	Step  ID     `json:"step"`
	Value Length `json:"value"`
	Typed string `json:"typed,omitempty"`
}

// Door is a door that swings over one of the two floors.
type Door struct {
	ID   ID     `json:"id"`
	Name string `json:"name"`
	Top  bool   `json:"top"` // at the top floor; otherwise at the bottom
	Gap  Length `json:"gap"` // from the old floor finish to the door's lower edge
	// Clearance is the gap wanted once the new finish is down.
	Clearance Length `json:"clearance"`
}

// Format returns how this job prints lengths.
func (j Job) Format() Format {
	return Format{Units: j.Units, Fraction: j.Fraction}
}

// StepIndex returns the place of the step called id, counted from 0 at the
// bottom, or -1.
func (j Job) StepIndex(id ID) int {
	for i := range j.Flight.Steps {
		if j.Flight.Steps[i].ID == id {
			return i
		}
	}
	return -1
}

// TreadThickness returns the thickness of the overlay on the step at index i:
// the step's own if it has one, else the job's; the landing nosing's for the
// last step and for a landing between flights.
func (j Job) TreadThickness(i int) Length {
	if t := j.Flight.Steps[i].Thickness; t > 0 {
		return t
	}
	if i == len(j.Flight.Steps)-1 || j.Flight.Steps[i].Landing {
		return j.Overlay.Landing
	}
	return j.Overlay.Tread
}

// Reading returns the reading called id and the index of its step (-1 for a
// reading of the whole flight).
func (j Job) Reading(id ID) (r Reading, step int, ok bool) {
	for _, r := range j.Flight.Readings {
		if r.ID == id {
			return r, -1, true
		}
	}
	for i := range j.Flight.Steps {
		for _, r := range j.Flight.Steps[i].Readings {
			if r.ID == id {
				return r, i, true
			}
		}
	}
	return Reading{}, 0, false
}
