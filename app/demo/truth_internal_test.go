package demo

import (
	"math"
	"slices"
	"testing"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver/buildup"
	"risewright/solver/rules"
	"risewright/solver/survey"
)

// TestTruthIsAStair checks the laws of the invented stair: the nose line above
// lies the overhang and the new riser in front of the back edge below, and the
// sides run on up to what leaning and bowing explain.
func TestTruthIsAStair(t *testing.T) {
	ds, err := Jobs()
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range ds {
		forward := float64(model.NoseSetForward(d.Job))
		for i := range d.stair[:len(d.stair)-1] {
			o, up := d.stair[i], d.stair[i+1]
			bl, br := o.back()
			w := float64(bl.Distance(br))
			left, right := up.front()
			for _, p := range [2]model.Corner{left, right} {
				off := (float64(br.X-bl.X)*float64(p.Y-bl.Y) - float64(br.Y-bl.Y)*float64(p.X-bl.X)) / w
				if math.Abs(off+forward) > 1e-6 {
					t.Errorf("%s, step %d: the nose line lies %.4f mm in front of the face, want %.4f", d.Name, i+2, -off, forward)
				}
			}
			if d.Name == "winding" { // its sides have corners, and stray by themselves
				continue
			}
			// A side moves out by rise·tan(lean) from step to step and keeps
			// its own line within: so its kink is that much and what a bow of
			// 2 mm over the flight adds in one step.
			for side, c := range [2][3]int{{0, 3, 0}, {1, 2, 1}} {
				a, b, p := o.corner[c[0]], o.corner[c[1]], up.corner[c[2]]
				slope := float64(b.X-a.X) / float64(b.Y-a.Y)
				kink := float64(p.X-b.X) - slope*float64(p.Y-b.Y)
				if math.Abs(kink) > 200*math.Tan(1*degree)+0.5 {
					t.Errorf("%s, step %d: side %d jumps by %.2f mm", d.Name, i+2, side, kink)
				}
			}
		}
		last := d.stair[len(d.stair)-1]
		if got := float64(last.corner[0].Distance(last.corner[len(last.corner)-1])); math.Abs(got-float64(d.Job.Overlay.LandingDepth)) > 0.1 {
			t.Errorf("%s: the landing nosing is %.3f deep", d.Name, got)
		}
	}
}

// TestMeasureAgreesWithTheSurvey hands the survey perfect readings of the true
// stair. It predicts readings by code of its own; both must mean the same.
func TestMeasureAgreesWithTheSurvey(t *testing.T) {
	ds, err := Jobs()
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range ds {
		j := d.Job
		j.Flight.Steps = slices.Clone(j.Flight.Steps)
		perfect := func(i int, kinds []model.Kind) []model.Reading {
			var out []model.Reading
			for _, k := range kinds {
				v, ok := measure(d.stair, max(i, 0), k)
				if in, has := j.DefaultInstrument(k); ok && has {
					out = append(out, model.Reading{ID: model.NamedID(j.Flight.Steps[max(i, 0)].ID, string(k)), Kind: k, Value: v, Instrument: in.ID, State: model.Bare})
				}
			}
			return out
		}
		j.Flight.Readings = perfect(-1, model.FlightKinds())
		for i := range j.Flight.Steps {
			j.Flight.Steps[i].Readings = perfect(i, model.StepKinds())
		}
		checks := survey.Solve(j).Checks
		if len(checks) < 19*len(j.Flight.Steps) {
			t.Fatalf("%s: only %d readings", d.Name, len(checks))
		}
		for _, c := range checks {
			// The sketch and the links pull a little at what was read, most at
			// the long diagonals, where the steps' share of a lean adds up. A
			// kind understood differently would be off by many spreads.
			if math.Abs(c.Residual) > 0.3*c.Spread {
				t.Errorf("%s, step %d, %s: read %v, the survey has %v (spread %v)", d.Name, c.Step+1, c.Kind, c.Value, c.Adjusted, c.Spread)
			}
		}
	}
}

// TestSketchIsOff checks that no sketched corner lies where the truth does,
// and none farther off than said.
func TestSketchIsOff(t *testing.T) {
	ds, err := Jobs()
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range ds {
		for i, s := range d.Job.Flight.Steps {
			for c := range s.Corners {
				if off := float64(s.Corners[c].Distance(d.stair[i].corner[c])); off < sketchLeast-0.1 || off > sketchMost+0.1 {
					t.Errorf("%s, step %d, corner %d: the sketch is off by %.2f mm", d.Name, i+1, c+1, off)
				}
			}
		}
	}
}

// TestWhatTheDemosShow solves the jobs: each must show what it is for.
func TestWhatTheDemosShow(t *testing.T) {
	ds, err := Jobs()
	if err != nil {
		t.Fatal(err)
	}
	published, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	ready := func(s *survey.Result) map[survey.Readiness]int {
		n := map[survey.Readiness]int{}
		for _, s := range s.Steps {
			n[s.Readiness]++
		}
		return n
	}
	for _, d := range ds {
		found := survey.Solve(d.Job)
		after := buildup.Compute(d.Job, found)
		code, ok := published.Code(d.Job.Code)
		if !ok {
			t.Fatalf("%s: no code %q", d.Name, d.Job.Code)
		}
		findings := rules.Check(d.Job, &after, code)
		for _, f := range findings {
			t.Logf("%s: %s: %s", d.Name, f.Severity, f.Title)
		}
		switch d.Name {
		case "well-behaved":
			if n := ready(found); n[survey.ReadyCut] != 13 || len(found.Conflicts) != 0 {
				t.Errorf("%s: %v, %d conflicts", d.Name, n, len(found.Conflicts))
			}
			for _, f := range findings {
				if f.Severity >= model.Outside {
					t.Errorf("%s: %s", d.Name, f.Title)
				}
			}
		case "tapering":
			if len(found.Conflicts) != 1 {
				t.Fatalf("%s: %d conflicts", d.Name, len(found.Conflicts))
			}
			s := found.Conflicts[0].Suspects[0]
			if s.Step != 4 || s.Kind != model.GaugeBackLeft || len(found.Conflicts[0].Suspects) != 1 {
				t.Errorf("%s: %+v", d.Name, found.Conflicts[0])
			}
			if got := model.Angle(s.Mended).Degrees(); math.Abs(got-90.8) > 1e-9 {
				t.Errorf("%s: the gauge is mended to %v, want 90.8", d.Name, got)
			}
			if n := ready(found); n[survey.ReadyCut] != 13 {
				t.Errorf("%s: %v, want all but tread 5 ready", d.Name, n)
			}
			rises := after.RiseAfter.Spread.At
			if math.Abs(rises-40) > 8 { // 210 and 170, but for rough treads
				t.Errorf("%s: the rises spread by %v, want about 40", d.Name, rises)
			}
			if !slices.ContainsFunc(findings, func(f model.Finding) bool { return f.Rule == "irc.riser.max" && f.Severity == model.Outside }) {
				t.Errorf("%s: the first rise is not out of limits", d.Name)
			}
		case "unfinished":
			if n := ready(found); n[survey.ReadyCut] == 0 || n[survey.ReadyBuy] == 0 || n[survey.ReadySketch] == 0 {
				t.Errorf("%s: %v, want some of each", d.Name, n)
			}
			if len(found.Conflicts) != 0 {
				t.Errorf("%s: conflicts %+v", d.Name, found.Conflicts)
			}
		case "winding":
			if n := ready(found); n[survey.ReadyCut] != 15 || len(found.Conflicts) != 0 {
				t.Errorf("%s: %v, %d conflicts", d.Name, n, len(found.Conflicts))
			}
			for _, f := range findings {
				if f.Severity >= model.Outside {
					t.Errorf("%s: %s", d.Name, f.Title)
				}
			}
			winders, landings := 0, 0
			for i := range after.Steps {
				if after.Steps[i].Winder != nil {
					winders++
				}
				if after.Steps[i].Landing != nil {
					landings++
				}
			}
			if winders != 3 || landings != 1 || len(after.Runs) != 2 {
				t.Errorf("%s: %d winders, %d landings, %d runs", d.Name, winders, landings, len(after.Runs))
			}
		}
	}
}

// TestTheTruthIsFound compares the estimate with the truth it never saw: no
// corner of a fully read opening is farther off, relative to its own opening,
// than five of its spreads.
func TestTheTruthIsFound(t *testing.T) {
	ds, err := Jobs()
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range ds {
		if d.Name == "unfinished" {
			continue
		}
		res := survey.Solve(d.Job)
		for i := range res.Steps {
			for _, k := range []model.Kind{model.FrontWidth, model.BackWidth, model.LeftDepth, model.RightDepth, model.DiagonalLeft, model.DiagonalRight} {
				if d.Name == "tapering" && i == 4 {
					continue // its gauge was misread
				}
				want, _ := measure(d.stair, i, k)
				got, ok := res.Steps[i].Figure(k)
				if !ok || math.Abs(got.Value-want) > 5*got.Spread {
					t.Errorf("%s, step %d, %s: %.2f, truth %.2f, spread %.2f", d.Name, i+1, k, got.Value, want, got.Spread)
				}
			}
		}
	}
}
