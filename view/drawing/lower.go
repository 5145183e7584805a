package drawing

import "math"

// Sink is what a writer provides: three plain shapes on paper. Coordinates,
// radii and sizes are all paper millimetres with y up; widths and sizes that
// were zero have been filled in; points are lent for the call only.
type Sink interface {
	// Path draws straight lines through pts. Only closed paths have a fill,
	// and its hatch has already been drawn or is coming as lines.
	Path(pts []Point, closed bool, fill Ink, s Stroke)
	// Arc draws part of a circle; a full circle has to = from+2π and may have
	// a fill.
	Arc(c Point, r, from, to float64, fill Ink, s Stroke)
	// Text writes lettering with At at the start of the baseline.
	Text(t Text)
}

// upright returns angle a, or a turned by half a turn, whichever reads from
// below or from the right. Within a degree of upright it always reads from the
// right, so a wall a hair out of plumb does not flip its label.
func upright(a float64) float64 {
	const degree = math.Pi / 180
	a = math.Remainder(a, 2*math.Pi)
	if a > 91*degree {
		return a - math.Pi
	}
	if a <= -89*degree {
		return a + math.Pi
	}
	return a
}
