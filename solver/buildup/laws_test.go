package buildup_test

import (
	"fmt"
	"math"
	"testing"

	"risewright/model"
	"risewright/solver/buildup"
)

// mirrored swaps left and right.
func mirrored(j model.Job) model.Job {
	steps := make([]model.Step, len(j.Flight.Steps))
	for i, s := range j.Flight.Steps {
		n := s
		n.Corners = nil
		for _, c := range [4]int{1, 0, 3, 2} { // front, right, back, left again
			n.Corners = append(n.Corners, model.Corner{X: -s.Corners[c].X, Y: s.Corners[c].Y})
		}
		n.TopLeft, n.TopRight = s.TopRight, s.TopLeft
		n.Left, n.Right = s.Right, s.Left
		n.PackLeft, n.PackRight = s.PackRight, s.PackLeft
		steps[i] = n
	}
	j.Flight.Steps = steps
	return j
}

func sameSides(t *testing.T, what string, a, b buildup.Sides) {
	t.Helper()
	near(t, what+" left", b.Left.At, a.Left.At, rounding)
	near(t, what+" right", b.Right.At, a.Right.At, rounding)
	near(t, what+" left spread", b.Left.Spread, a.Left.Spread, rounding)
	near(t, what+" right spread", b.Right.Spread, a.Right.Spread, rounding)
}

func swapped(s buildup.Sides) buildup.Sides { return buildup.Sides{Left: s.Right, Right: s.Left} }

func otherSide(s buildup.Side) buildup.Side {
	switch s {
	case buildup.Left:
		return buildup.Right
	case buildup.Right:
		return buildup.Left
	}
	return s
}

func TestMirrorSwapsLeftAndRight(t *testing.T) {
	rng := seeded(t, 1)
	for range 50 {
		j := uneven(rng, 2+rng.IntN(15), 4)
		m := mirrored(j)
		a, b := buildup.Compute(j, exactly(j, 1.5)), buildup.Compute(m, exactly(m, 1.5))
		for i := range a.Steps {
			p, q := a.Steps[i], b.Steps[i]
			sameSides(t, "rise", swapped(p.RiseAfter), q.RiseAfter)
			sameSides(t, "rise before", swapped(p.RiseBefore), q.RiseBefore)
			sameSides(t, "going", swapped(p.GoingAfter), q.GoingAfter)
			sameSides(t, "going before", swapped(p.GoingBefore), q.GoingBefore)
			sameSides(t, "shim", swapped(p.Shim), q.Shim)
			sameSides(t, "surveyed nosing", swapped(p.Surveyed), q.Surveyed)
			near(t, "across", q.Across.At, -p.Across.At, rounding)
			near(t, "slope", q.Slope.At, p.Slope.At, rounding)
			near(t, "width", q.Width.At, p.Width.At, rounding)
			if p.Room != q.Room || p.Tapered != q.Tapered {
				t.Errorf("step %d: room or taper changed", i+1)
			}
		}
		near(t, "pitch", b.Pitch.At, a.Pitch.At, rounding)
		near(t, "rise spread", b.RiseAfter.Spread.At, a.RiseAfter.Spread.At, rounding)
		near(t, "rise spread's spread", b.RiseAfter.Spread.Spread, a.RiseAfter.Spread.Spread, rounding)
		near(t, "adjacent", b.GoingAfter.Adjacent.At, a.GoingAfter.Adjacent.At, rounding)
		// heights are random, so no two rises tie and the places must follow
		if x, y := a.RiseAfter.Largest, b.RiseAfter.Largest; x.Step != y.Step || x.Side != otherSide(y.Side) {
			t.Errorf("largest rise moved from %d %s to %d %s", x.Step, x.Side, y.Step, y.Side)
		}
	}
}

// Raising both floors by the overlay's thickness restores every rise.
func TestBothFloorsRestoreTheRises(t *testing.T) {
	rng := seeded(t, 2)
	for range 50 {
		j := uneven(rng, 2+rng.IntN(15), 5)
		j.Overlay.FloorBottom, j.Overlay.FloorTop = j.Overlay.Tread, j.Overlay.Tread
		r := compute(j)
		for _, s := range r.Steps {
			sameSides(t, "rise", s.RiseBefore, s.RiseAfter)
		}
		near(t, "spread", r.RiseAfter.Spread.At, r.RiseBefore.Spread.At, rounding)
	}
}

// The shims of the packing table make every rise equal at both sides; laid so,
// every tread but the landing nosing lies level across.
func TestShimsMakeRisesEqual(t *testing.T) {
	rng := seeded(t, 3)
	for range 50 {
		n := 2 + rng.IntN(15)
		j := uneven(rng, n, 5)
		r := compute(j)
		equal := r.FlightRise.At / float64(n)
		below := buildup.Sides{Left: buildup.Value{At: r.FloorBottom}, Right: buildup.Value{At: r.FloorBottom}}
		for i, s := range r.Steps[:n-1] {
			board := float64(j.TreadThickness(i))
			top := buildup.Sides{
				Left:  buildup.Value{At: s.OldTop.Left.At + s.Shim.Left.At + board},
				Right: buildup.Value{At: s.OldTop.Right.At + s.Shim.Right.At + board},
			}
			near(t, "left", top.Left.At-below.Left.At, equal, rounding)
			near(t, "right", top.Right.At-below.Right.At, equal, rounding)
			below = top
		}
		last := r.Steps[n-1].NewTop.Mean()
		near(t, "last", last-below.Mean(), equal, rounding)
		for i, s := range r.Steps[:n-1] {
			k := &j.Flight.Steps[i]
			k.PackLeft += model.Length(s.Shim.Left.At)
			k.PackRight += model.Length(s.Shim.Right.At)
		}
		for i, s := range compute(j).Steps[:n-1] {
			near(t, "left, laid", s.RiseAfter.Left.At, equal, rounding)
			near(t, "right, laid", s.RiseAfter.Right.At, equal, rounding)
			near(t, fmt.Sprintf("out of level of tread %d", i+1), s.Across.At, 0, rounding)
			near(t, "slope", s.Slope.At, math.Abs(s.Fall.At), rounding)
		}
	}
}

func TestSumsAndTranslation(t *testing.T) {
	rng := seeded(t, 4)
	for range 50 {
		n := 2 + rng.IntN(15)
		j := uneven(rng, n, 5)
		for i := range j.Flight.Steps {
			j.Flight.Steps[i].PackLeft = model.Length(4 * rng.NormFloat64())
			j.Flight.Steps[i].PackRight = model.Length(4 * rng.NormFloat64())
			if rng.IntN(4) == 0 {
				j.Flight.Steps[i].Thickness = 12
			}
		}
		a := compute(j)
		before, after := 0.0, 0.0
		for _, s := range a.Steps {
			before += s.RiseBefore.Mean()
			after += s.RiseAfter.Mean()
		}
		near(t, "sum of rises", after, before-a.FloorBottom+a.FloorTop, 1e-8)
		near(t, "flight rise", a.FlightRise.At, after, 1e-8)

		for i := range j.Flight.Steps {
			s := &j.Flight.Steps[i]
			for c := range s.Corners {
				s.Corners[c].X += 1234
				s.Corners[c].Y -= 567
			}
		}
		b := compute(j)
		near(t, "going spread", b.GoingAfter.Spread.At, a.GoingAfter.Spread.At, 1e-8)
		near(t, "pitch", b.Pitch.At, a.Pitch.At, 1e-10)
		near(t, "nosing spread", b.Nosing.Spread.At, a.Nosing.Spread.At, 1e-8)
		near(t, "mean going", b.MeanGoing*float64(n-1), b.FlightGoing.At, 1e-8)
	}
}

// The largest, smallest and worst neighbours against a plain search.
func TestUniformityAgainstPlainSearch(t *testing.T) {
	rng := seeded(t, 5)
	for range 50 {
		r := compute(uneven(rng, 2+rng.IntN(15), 5))
		hi, lo, adjacent := math.Inf(-1), math.Inf(1), 0.0
		for i, s := range r.Steps {
			hi = math.Max(hi, math.Max(s.RiseAfter.Left.At, s.RiseAfter.Right.At))
			lo = math.Min(lo, math.Min(s.RiseAfter.Left.At, s.RiseAfter.Right.At))
			if i > 0 {
				u := r.Steps[i-1]
				adjacent = math.Max(adjacent, math.Abs(s.RiseAfter.Left.At-u.RiseAfter.Left.At))
				adjacent = math.Max(adjacent, math.Abs(s.RiseAfter.Right.At-u.RiseAfter.Right.At))
			}
		}
		u := r.RiseAfter
		near(t, "largest", u.Largest.Value.At, hi, 0)
		near(t, "smallest", u.Smallest.Value.At, lo, 0)
		near(t, "spread", u.Spread.At, hi-lo, 0)
		near(t, "adjacent", u.Adjacent.At, adjacent, 0)
		near(t, "largest is where it says", r.Steps[u.Largest.Step-1].RiseAfter.On(u.Largest.Side).At, hi, 0)
	}
}

func TestWindersStandApart(t *testing.T) {
	j := flight{risers: 5, rise: 180, going: 250, tread: 20, riser: 12, overhang: 25, bottom: 20, top: 20}.job()
	for i := 3; i < 5; i++ { // nose 4 swings forward at the right: tread 3 tapers there
		j.Flight.Steps[i].Corners[0].Y += 60
		j.Flight.Steps[i].Corners[1].Y -= 60
	}
	r := compute(j)
	for _, s := range r.Steps {
		if s.Tapered != (s.Number == 4) {
			t.Errorf("step %d: tapered is %v", s.Number, s.Tapered)
		}
	}
	near(t, "spread of the straight ones", r.GoingAfter.Spread.At, 0, rounding)
	near(t, "at mid width", r.Steps[3].GoingAfter.On(buildup.Middle).At, 250, rounding)
}

// A survey of another job, none, or a flight without covariances must not
// bring the window down.
func TestSurveyThatDoesNotFit(t *testing.T) {
	j := flight{risers: 5, rise: 180, going: 250, tread: 20, riser: 12, overhang: 25}.job()
	s := exactly(j, 1)
	if r := buildup.Compute(j, nil); len(r.Steps) != 0 {
		t.Error("no survey gave steps")
	}
	s.Steps = s.Steps[:4]
	if r := buildup.Compute(j, s); len(r.Steps) != 0 {
		t.Error("a short survey gave steps")
	}
	s = exactly(j, 1)
	for i := range s.Steps {
		s.Steps[i].Cov, s.Steps[i].Cross = nil, nil
	}
	r := buildup.Compute(j, s)
	near(t, "rise", r.Steps[0].RiseAfter.Left.At, 200, rounding)
	near(t, "spread", r.Steps[2].RiseAfter.Left.Spread, 0, 0)
}
