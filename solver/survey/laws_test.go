package survey

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// The estimate follows when the flight is moved, turned or mirrored, or its
// units are changed: corners to 1e-6 mm, spreads and verdicts to the last
// figures that rounding leaves.
func TestTheEstimateFollowsTheFlight(t *testing.T) {
	rng := newRand(t, 71)
	for f := 0; f < 30; f++ {
		tr := randomTruth(rng, 2+rng.IntN(12))
		tr.read(rng, 1)
		tr.blur(rng, 15)
		if f%2 == 0 {
			thin(&tr, rng)
		}
		if f%5 == 0 {
			plant(&tr, rng, 8)
		}
		base := Solve(tr.job)

		turn, shift := rng.Float64()*2*math.Pi, mgl64.Vec2{rng.NormFloat64() * 2000, rng.NormFloat64() * 2000}
		r := mgl64.Rotate2D(turn)
		place := func(v mgl64.Vec2) mgl64.Vec2 { return r.Mul2x1(v).Add(shift) }
		compare(t, f, "moved and turned", base, Solve(moved(tr.job, place)), place, same)

		mirror := func(v mgl64.Vec2) mgl64.Vec2 { return mgl64.Vec2{-v[0], v[1]} }
		compare(t, f, "mirrored", base, Solve(mirrored(tr.job)), mirror, model.Kind.Mirrored)

		inches := tr.job
		inches.Units, inches.Fraction = model.Imperial, 32
		compare(t, f, "in inches", base, Solve(inches), func(v mgl64.Vec2) mgl64.Vec2 { return v }, same)
	}
}

func same(k model.Kind) model.Kind { return k }

// compare holds got against want, whose corners lie at place and whose kinds
// have become those of kind.
func compare(t *testing.T, f int, law string, want, got *Result, place func(mgl64.Vec2) mgl64.Vec2, kind func(model.Kind) model.Kind) {
	t.Helper()
	if got.Status != want.Status || len(got.Conflicts) != len(want.Conflicts) {
		t.Fatalf("flight %d %s: %s with %d conflicts, want %s with %d", f, law, got.Status, len(got.Conflicts), want.Status, len(want.Conflicts))
	}
	for i := range want.Steps {
		a, b := &want.Steps[i], &got.Steps[i]
		named := [][2]int{{a.FL, b.FL}, {a.FR, b.FR}, {a.BR, b.BR}, {a.BL, b.BL}}
		if kind(model.LeftDepth) == model.RightDepth {
			named = [][2]int{{a.FL, b.FR}, {a.FR, b.FL}, {a.BR, b.BL}, {a.BL, b.BR}}
		}
		for _, n := range named {
			if d := place(a.Corners[n[0]]).Sub(b.Corners[n[1]]).Len(); d > 1e-6 {
				t.Fatalf("flight %d %s: a corner of step %d lies %g mm off", f, law, i+1, d)
			}
		}
		if a.Readiness != b.Readiness {
			t.Fatalf("flight %d %s: step %d is ready to %s, want %s", f, law, i+1, b.Readiness, a.Readiness)
		}
		for _, x := range a.Figures {
			y, ok := b.Figure(kind(x.Kind))
			sign := 1.0
			if x.Kind == model.TiltAcross && kind(model.LeftDepth) == model.RightDepth {
				sign = -1 // up to the right has become up to the left
			}
			if !ok || math.Abs(x.Value-sign*y.Value) > 1e-6 || math.Abs(x.Spread/y.Spread-1) > 1e-6 {
				t.Fatalf("flight %d %s: %s of step %d is %g ±%g, want %g ±%g", f, law, x.Kind, i+1, y.Value, y.Spread, x.Value, x.Spread)
			}
		}
	}
	byID := map[model.ID]Check{}
	for _, c := range got.Checks {
		byID[c.Reading] = c
	}
	for _, a := range want.Checks {
		b := byID[a.Reading]
		if a.Accused != b.Accused || math.Abs(math.Abs(a.Normal)-math.Abs(b.Normal)) > 1e-4 {
			t.Fatalf("flight %d %s: %s of step %d has %g (accused %v), want %g (%v)", f, law, a.Kind, a.Step+1, b.Normal, b.Accused, a.Normal, a.Accused)
		}
	}
}

// moved is the job with its sketch placed elsewhere in plan.
func moved(j model.Job, place func(mgl64.Vec2) mgl64.Vec2) model.Job {
	j.Flight.Steps = append([]model.Step(nil), j.Flight.Steps...)
	for i := range j.Flight.Steps {
		s := &j.Flight.Steps[i]
		s.Corners = append([]model.Corner(nil), s.Corners...)
		for c, q := range s.Corners {
			v := place(mgl64.Vec2{float64(q.X), float64(q.Y)})
			s.Corners[c] = model.Corner{X: model.Length(v[0]), Y: model.Length(v[1])}
		}
	}
	return j
}

// mirrored is the job seen in a mirror that swaps left and right.
func mirrored(j model.Job) model.Job {
	swap := func(rs []model.Reading) []model.Reading {
		out := append([]model.Reading(nil), rs...)
		for i := range out {
			out[i].Kind = out[i].Kind.Mirrored()
			if out[i].Kind == model.TiltAcross {
				out[i].Value = -out[i].Value
			}
		}
		return out
	}
	j.Flight.Readings = swap(j.Flight.Readings)
	j.Flight.Steps = append([]model.Step(nil), j.Flight.Steps...)
	for i := range j.Flight.Steps {
		s := &j.Flight.Steps[i]
		c := s.Corners
		s.Corners = []model.Corner{{X: -c[1].X, Y: c[1].Y}, {X: -c[0].X, Y: c[0].Y}, {X: -c[3].X, Y: c[3].Y}, {X: -c[2].X, Y: c[2].Y}}
		s.TopLeft, s.TopRight = s.TopRight, s.TopLeft
		s.Left, s.Right = s.Right, s.Left
		s.Readings = swap(s.Readings)
	}
	return j
}
