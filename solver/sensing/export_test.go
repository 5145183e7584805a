package sensing

import "math"

// Run is a candidate's run with its cost, for the tests of the searches.
type Run struct {
	Span
	Cost float64
}

func candidatesOf(runs []Run) []candidate {
	var out []candidate
	for _, r := range runs {
		out = append(out, candidate{run: r.Span, cost: r.Cost})
	}
	return out
}

func runsOf(cs []candidate) []Run {
	var out []Run
	for _, c := range cs {
		out = append(out, Run{c.run, c.cost})
	}
	return out
}

// Shortest is shortest.
func Shortest(runs []Run, whole Span, overlap int) ([]Run, bool) {
	out, ok := shortest(candidatesOf(runs), whole, overlap)
	return runsOf(out), ok
}

// Widest is widest.
func Widest(runs []Run, whole Span, n int) []Run {
	return runsOf(widest(candidatesOf(runs), whole, n))
}

// SeesPoint says whether a direction is in the eye's field as slices know it.
func (e *Eye) SeesPoint(d [3]float64) bool {
	f := e.field()
	level := [2]float64{d[0], d[1]}
	l := math.Hypot(level[0], level[1])
	lo, hi := f.at([2]float64{level[0] / l, level[1] / l})
	u := d[2] / l
	return lo < hi && u >= lo && u <= hi
}
