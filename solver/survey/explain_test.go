package survey

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"risewright/model"
)

// surveyed is a flight of five steps read in full with rods and gauge, noise
// and all.
func surveyed(t *testing.T, seed uint64) truth {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 0x5742)) // the seed stands in the test
	tr := randomTruth(rng, 5)
	tr.read(rng, 1)
	tr.blur(rng, 10)
	return tr
}

// reading returns the place of a reading to spoil.
func (tr *truth) reading(step int, k model.Kind) *model.Reading {
	for i := range tr.job.Flight.Steps[step].Readings {
		if r := &tr.job.Flight.Steps[step].Readings[i]; r.Kind == k {
			return r
		}
	}
	panic("no such reading: " + k)
}

// The classic slips are found, named and explained (common practice, no source).
func TestClassicSlips(t *testing.T) {
	for _, row := range []struct {
		name  string
		seed  uint64
		kind  model.Kind
		spoil func(r *model.Reading)
		says  string
	}{
		{"gauge read as its supplement", 33, model.GaugeBackLeft, func(r *model.Reading) { r.Value = math.Pi - r.Value }, "supplement"},
		{"gauge read from zero", 31, model.GaugeBackRight, func(r *model.Reading) { r.Value -= math.Pi / 2 }, "from 0"},
		{"an inch slipped", 31, model.BackWidth, func(r *model.Reading) { r.Value += 25.4 }, "an inch slipped: the tape was read too long"},
		{"a centimetre slipped", 31, model.FrontWidth, func(r *model.Reading) { r.Value -= 10 }, "a centimetre slipped: the tape was read too short"},
		{"a foot slipped on a diagonal", 31, model.DiagonalLeft, func(r *model.Reading) { r.Value -= 304.8 }, "a foot slipped"},
	} {
		t.Run(row.name, func(t *testing.T) {
			tr := surveyed(t, row.seed)
			r := tr.reading(2, row.kind)
			if row.kind == model.GaugeBackLeft { // make the corner far enough from square to show
				if math.Abs(r.Value-math.Pi/2) < 0.02 {
					t.Fatal("this flight's corner is too square for the test")
				}
			}
			honest := r.Value
			row.spoil(r)
			res := Solve(tr.job)
			if len(res.Conflicts) != 1 {
				t.Fatalf("%d conflicts, want 1", len(res.Conflicts))
			}
			s := res.Conflicts[0].Suspects[0]
			if s.Reading != r.ID {
				t.Fatalf("accused the %s of step %d", s.Kind.Words(), s.Step+1)
			}
			if !strings.Contains(s.Explanation, row.says) {
				t.Errorf("explained as %q, want %q", s.Explanation, row.says)
			}
			if math.Abs(s.Mended-honest) > 1e-9 {
				t.Errorf("mended to %g, honestly %g", s.Mended, honest)
			}
			// The accused reading bends nothing: the shape is that without it.
			aside := tr.job
			aside, err := model.SetAside{IDs: []model.ID{r.ID}, Aside: true}.Apply(aside)
			if err != nil {
				t.Fatal(err)
			}
			clean := Solve(aside)
			for i := range clean.Steps {
				for c := range clean.Steps[i].Corners {
					if d := clean.Steps[i].Corners[c].Sub(res.Steps[i].Corners[c]).Len(); d > 1e-6 {
						t.Errorf("corner %d of step %d lies %g mm from where it is without the accused reading", c, i+1, d)
					}
				}
			}
			for _, c := range res.Checks {
				if c.Accused != (c.Reading == r.ID) {
					t.Errorf("%s of step %d: accused %v", c.Kind.Words(), c.Step+1, c.Accused)
				}
				if c.Accused && math.Abs(c.Adjusted-s.Without) > 0.01 { // the suspect was tried with the sketch loosened
					t.Errorf("held against %g, but the others give %g", c.Adjusted, s.Without)
				}
			}
			if res.Steps[2].Readiness == ReadyCut {
				t.Error("a step with a conflict is ready to cut")
			}
			if res.Steps[0].Readiness != ReadyCut {
				t.Errorf("step 1 is not touched by the conflict, but is only ready to %s: %s", res.Steps[0].Readiness, res.Steps[0].Why)
			}
		})
	}
}

// A fraction read as its double, its half, or from the other side.
func TestMisreadFraction(t *testing.T) {
	for _, row := range []struct {
		typed string
		truth float64 // inches
		says  string
	}{
		{`36 5/8"`, 36 + 5.0/16, "5/8 for 5/16"},
		{`36 5/16"`, 36 + 5.0/8, "5/16 for 5/8"},
		{`35 3/16`, 35 + 13.0/16, "3/16 for 13/16"},
		{`11⅛`, 11 + 1.0/4, "1/8 for 1/4"},
		{`36 11/32"`, 36 + 11.0/64, ""}, // a tape in thirty-seconds shows no 11/64
		{`36 11/64"`, 36 + 11.0/32, "11/64 for 11/32"},
		{`11 1/2"`, 12 + 1.0/2, "an inch slipped: the tape was read too short"},
		{`11 1/2"`, 11 + 1.0/2 + 10/25.4, ""}, // a centimetre does not slip on the inch side of a tape
	} {
		l, err := model.ParseLength(row.typed, model.Imperial)
		if err != nil {
			t.Fatal(err)
		}
		r := model.Reading{Kind: model.BackWidth, Value: float64(l), Typed: row.typed}
		why, mended, ok := explain(r, model.Imperial, row.truth*25.4+0.3, 0.5)
		if row.says == "" {
			if ok {
				t.Errorf("%s for %g in: explained as %q", row.typed, row.truth, why)
			}
			continue
		}
		if !strings.Contains(why, row.says) || math.Abs(mended-row.truth*25.4) > 1e-9 {
			t.Errorf("%s for %g in: explained as %q, mended to %g mm", row.typed, row.truth, why, mended)
		}
	}
}

func TestSwappedDigits(t *testing.T) {
	found := false
	for _, s := range swappedDigits("917", model.Metric) {
		found = found || (s.value == 971 && strings.Contains(s.why, "971"))
	}
	if !found {
		t.Error("917 for 971 is not among the slips")
	}
}

// A card read looking down the flight instead of up.
func TestCardReadLookingDown(t *testing.T) {
	tried, found := 0, 0
	for seed := uint64(40); seed < 340; seed++ {
		tr := surveyed(t, seed)
		s := &tr.job.Flight.Steps[2]
		honest := tr.job.Flight.Steps[2].Readings
		turned := make([]model.Reading, len(honest))
		for i, r := range honest {
			r.Kind = r.Kind.Mirrored()
			turned[i] = r
		}
		s.Readings = turned
		res := Solve(tr.job)
		if w := worst(res.Checks); math.Abs(res.Checks[w].Normal) < 6 {
			continue // this step is nearly symmetrical: turning its card hardly shows
		}
		tried++
		for _, c := range res.Conflicts {
			for _, x := range c.Suspects {
				if x.Step == 2 && strings.Contains(x.Explanation, "looking down") {
					found++
				}
			}
		}
	}
	t.Logf("looking down named on %d of %d cards that showed", found, tried)
	if tried < 15 || found < tried*8/10 {
		t.Errorf("named on %d of %d", found, tried)
	}
}

// Two widths of the same edge that differ cannot be told apart.
func TestTwoThatCannotBeToldApart(t *testing.T) {
	rng := newRand(t, 61)
	tr := randomTruth(rng, 4)
	tr.read(rng, 0, model.BackWidth)
	s := &tr.job.Flight.Steps[1]
	again := s.Readings[0]
	again.ID = model.NamedID(tr.job.ID, "again")
	again.Value += 4
	s.Readings = append(s.Readings, again)
	res := Solve(tr.job)
	if len(res.Conflicts) != 1 || len(res.Conflicts[0].Suspects) != 2 {
		t.Fatalf("conflicts: %+v", res.Conflicts)
	}
	for _, x := range res.Conflicts[0].Suspects {
		if x.Step != 1 || x.Kind != model.BackWidth {
			t.Errorf("accused the %s of step %d", x.Kind.Words(), x.Step+1)
		}
	}
}

// No reading is accused of disagreeing with a sketch.
func TestASketchAccusesNobody(t *testing.T) {
	rng := newRand(t, 62)
	tr := randomTruth(rng, 4)
	tr.read(rng, 0, model.FrontWidth, model.BackWidth)
	for i := range tr.job.Flight.Steps { // drawn 400 mm too narrow
		for _, c := range []int{1, 2} {
			tr.job.Flight.Steps[i].Corners[c].X -= 400
		}
	}
	if c := Solve(tr.job).Conflicts; len(c) != 0 {
		t.Errorf("accused the %s", c[0].Suspects[0].Kind.Words())
	}
}
