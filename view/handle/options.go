package handle

import (
	"risewright/model"
	"risewright/solver/buildup"
)

// Options say how plan and section are drawn. The zero value draws the flight
// true to shape, without dimensions, at 1:20.
type Options struct {
	// Scale is paper millimetres per stair millimetre; on a screen it is
	// Viewport.Scale / Viewport.Paper. Lettering is thinned by it. Zero means
	// 1:20.
	Scale float64

	Selected int    // the chosen step, counted from 1; 0 for none
	Piece    string // the chosen piece, such as "T07"; empty for none
	Hover    ID     // the handle under the pointer; zero for none
	Held     ID     // the handle being dragged; zero for none

	// Exaggerate multiplies what is out of square (plan) or out of plumb and
	// level (section), about the nominal shape of each opening. 0 and 1 are
	// true to shape; anything else is written on the drawing.
	Exaggerate float64
	// Cut is where the section is taken: at mid width, left or right.
	Cut buildup.Side
	// Upright turns the plan so that up the flight is up the drawing.
	// Otherwise it lies below a section: up the flight is to the right, and the
	// left side is at the top.
	Upright bool

	Format      model.Format // how lengths are written
	Dimensions  bool         // of the chosen step, or of the flight when none is
	Findings    bool         // mark what is outside or in conflict
	Ghost       bool         // show the sketch where it differs from the estimate
	Uncertainty bool         // 95 % ellipses at the corners
	Handles     bool         // draw the handles of the chosen step

	// Snap rounds what a drag does: positions move by whole multiples of it,
	// floors, overhang and rail come to lie on one. Zero does not round. See
	// SnapOf.
	Snap model.Length
	// WholeSide makes the drag of a side line move that side of the whole
	// flight.
	WholeSide bool
}

// SnapOf returns the step that drags of a job in units u snap to: 1 mm or a
// sixteenth of an inch.
func SnapOf(u model.Units) model.Length {
	if u == model.Imperial {
		return model.Inch / 16
	}
	return model.Millimetre
}

// defaultScale is the scale of a drawing that names none.
const defaultScale = 1.0 / 20

// PaperScale returns Scale with the default put in.
func (o *Options) PaperScale() float64 {
	if o.Scale > 0 {
		return o.Scale
	}
	return defaultScale
}

// Factor returns Exaggerate with the default put in.
func (o *Options) Factor() float64 {
	if o.Exaggerate > 0 {
		return o.Exaggerate
	}
	return 1
}
