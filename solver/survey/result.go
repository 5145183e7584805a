package survey

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// Result is the estimated flight. It is read-only once returned.
type Result struct {
	Status     Status
	Iterations int
	Steps      []Step
	Checks     []Check    // one for every reading of the job, in job order: flight first, then step by step
	Conflicts  []Conflict // worst first; empty when the readings agree
	// Critical is the size a normalised residual must exceed to count as a
	// conflict. It grows slowly with the number of readings so that a flight
	// without a blunder is accused in one survey in a hundred.
	Critical float64
	// Objective is the weighted sum of squares at the solution.
	Objective float64
}

// Band95 turns one standard deviation into the half width of a 95 % band: the
// 97.5 % quantile of the normal distribution.
const Band95 = 1.959963984540054

// Status says how the iteration ended. Not converging is a status, not an error.
type Status string

// The ways an estimate can end.
const (
	Converged Status = "converged"
	Stalled   Status = "stalled" // the step stopped shrinking; the shape is not to be trusted
)

// Step is the estimate of one step.
type Step struct {
	Corners  []mgl64.Vec2 // plan, mm, in the order of model.Step.Corners
	FL, FR   int          // indices in Corners of the front corners
	BR, BL   int          // and of the back ones
	TopLeft  float64      // height of the existing tread top at the front left, mm above the old bottom floor
	TopRight float64      // the same at the front right
	Fall     float64      // fore-and-aft slope, rise over run, positive when the back is higher
	Lean     [2]float64   // left and right lean from plumb, rad, positive outwards going up

	// Cov is the covariance of the step's unknowns, row by row, in the order
	// x0 y0 x1 y1 … TopLeft TopRight Fall LeanLeft LeanRight (see Unknowns).
	Cov []float64
	// Cross is the covariance between this step's unknowns (rows) and those
	// of the step below (columns); empty for the first step.
	Cross []float64

	Readiness Readiness
	Why       string        // what keeps the step from the next readiness, in words
	Next      []NextReading // readings that would help most, best first
	Figures   []Figure      // every step kind with its most likely value and spread
}

// Readiness says what the estimate of a step is good for.
type Readiness string

// The readinesses, in order.
const (
	ReadySketch Readiness = "sketch" // for drawing and talking
	ReadyBuy    Readiness = "buy"    // for choosing stock lengths
	ReadyCut    Readiness = "cut"    // for the saw
)

// Figure is the most likely value of what a kind of reading measures, and one
// standard deviation of it, whether or not it was read.
type Figure struct {
	Kind   model.Kind
	Value  float64 // mm or rad
	Spread float64
}

// Figure returns the figure of the given kind and false if there is none, as
// for a going at step 1.
func (s *Step) Figure(k model.Kind) (Figure, bool) {
	for _, f := range s.Figures {
		if f.Kind == k {
			return f, true
		}
	}
	return Figure{}, false
}

// NextReading is a reading not yet taken, with the largest spread of the
// step's cut figures now and after taking it.
type NextReading struct {
	Kind       model.Kind
	Instrument string
	Now, After float64 // one standard deviation, mm
}

// Check is the verdict on one reading.
type Check struct {
	Reading model.ID
	Step    int // index, -1 for the whole flight
	Kind    model.Kind
	Used    bool
	// Accused says that a conflict names it: the shape was estimated without
	// it, and Adjusted is what the other readings give.
	Accused  bool
	Value    float64 // as read
	Adjusted float64 // as the most likely shape has it
	Residual float64 // Value minus Adjusted
	Spread   float64 // one standard deviation of the reading
	// Redundancy is the part of an error in this reading that shows in its own
	// residual: 1 fully checked by the others, 0 not checked at all.
	Redundancy float64
	// Normal is the normalised residual: residual over its own spread.
	Normal float64
	// Smallest is the smallest blunder in this reading that would be found
	// with 80 % certainty, in its own unit; +Inf when nothing checks it.
	Smallest float64
}

// Conflict names the reading to retake, or two that cannot be told apart.
type Conflict struct {
	Suspects []Suspect // one or two; the likelier first
	// Others are conflicts hidden behind this one: how many normalised
	// residuals still exceed the critical value with the suspect left out.
	Remaining int
}

// Suspect is one reading that may be wrong.
type Suspect struct {
	Reading model.ID
	Step    int // index, -1 for the whole flight
	Kind    model.Kind
	Normal  float64
	// Without is the value that the other readings give.
	Without float64
	Spread  float64 // one standard deviation of Without
	// Explanation is a classic slip that fits, or "".
	Explanation string
	// Mended is the reading's value if that slip is undone; equal to Without
	// when no slip fits.
	Mended float64
}

// Unknowns are the places of a step's unknowns in its block, for an opening of
// n corners: x of corner c is at 2c, y at 2c+1, then these.
func Unknowns(n int) (topLeft, topRight, fall, leanLeft, leanRight, count int) {
	b := 2 * n
	return b, b + 1, b + 2, b + 3, b + 4, b + 5
}

// Params returns the step's unknowns in block order, appended to dst.
func (s *Step) Params(dst []float64) []float64 {
	for _, c := range s.Corners {
		dst = append(dst, c[0], c[1])
	}
	return append(dst, s.TopLeft, s.TopRight, s.Fall, s.Lean[0], s.Lean[1])
}

// SpreadOf returns one standard deviation of a quantity whose gradient with
// respect to the unknowns of step i is g, and of the step below is below (nil
// when it does not depend on it).
func (r *Result) SpreadOf(i int, g, below []float64) float64 {
	s := &r.Steps[i]
	n := len(g)
	v := quadratic(s.Cov, g, g, n)
	if below != nil && i > 0 {
		v += 2 * quadratic(s.Cross, g, below, len(below))
		v += quadratic(r.Steps[i-1].Cov, below, below, len(below))
	}
	if v < 0 { // cannot happen but for rounding: a covariance is positive
		return 0
	}
	return math.Sqrt(v)
}

// quadratic returns gᵀ M h for M of len(g) rows of cols columns.
func quadratic(m, g, h []float64, cols int) float64 {
	sum := 0.0
	for i, gi := range g {
		if gi == 0 {
			continue
		}
		row := m[i*cols : (i+1)*cols]
		t := 0.0
		for k, hk := range h {
			t += row[k] * hk
		}
		sum += gi * t
	}
	return sum
}

// HeightAt returns the height of the existing tread top of step s at a plan
// point, from its plane through the two front corners and its fall.
func (s *Step) HeightAt(p mgl64.Vec2) float64 {
	fl, fr := s.Corners[s.FL], s.Corners[s.FR]
	e := fr.Sub(fl)
	w := e.Len()
	if w == 0 {
		return s.TopLeft
	}
	e = e.Mul(1 / w)
	back := mgl64.Vec2{-e[1], e[0]} // to the left of the nose line: up the flight
	d := p.Sub(fl)
	return s.TopLeft + (s.TopRight-s.TopLeft)*d.Dot(e)/w + s.Fall*d.Dot(back)
}
