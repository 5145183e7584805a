package rules_test

import (
	"math"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver/buildup"
	"risewright/solver/rules"
)

// untouched leaves both floors as they are under a 20 mm overlay.
func untouched(j *model.Job) { j.Overlay.FloorBottom, j.Overlay.FloorTop = 0, 0 }

func TestTitles(t *testing.T) {
	for _, c := range []struct {
		name, code, class, rule, title string
		units                          model.Units
		job                            model.Job
	}{
		{
			"first riser, metric", "irc", "", "irc.riser.max",
			`riser 1 will be 210.0 mm; the published maximum is 7 3/4" (196.85 mm)`,
			model.Metric, plain(14, 190, 254, untouched),
		},
		{ // ov.case1 of the reference list, section 2: 7 1/2 with 3/4 on it
			"first riser, imperial", "irc", "", "irc.riser.max",
			`riser 1 will be 8 1/4"; the published maximum is 7 3/4"`,
			model.Imperial, plain(14, 7.5*inch, 254, func(j *model.Job) { untouched(j); j.Overlay.Tread = 0.75 * inch }),
		},
		{
			"spread, ov.case1", "irc", "", "irc.riser.uniformity",
			`risers 1 and 14 will differ by 1 1/2"; the published maximum is 3/8"`,
			model.Imperial, plain(14, 7.5*inch, 254, func(j *model.Job) { untouched(j); j.Overlay.Tread = 0.75 * inch }),
		},
		{
			"a metric limit in an imperial job", "adk", "private", "adk.private.rise",
			`riser 1 will be 9 1/16"; the published maximum is 220 mm (8 11/16")`,
			model.Imperial, plain(14, 210, 254, untouched),
		},
		{
			"too short, and others", "irc", "", "irc.tread.min",
			`the going of step 2 will be 250.0 mm; the published minimum is 10" (254 mm) (and 4 more)`,
			model.Metric, plain(6, 180, 250, nil),
		},
		{
			"from memory", "ncc", "private", "ncc.flightvar.riser",
			`risers 1 and 14 will differ by 40.0 mm; the maximum from memory is 10 mm`,
			model.Metric, plain(14, 170, 254, untouched),
		},
		{
			"finer when the print would equal the limit", "irc", "", "irc.riser.max",
			`riser 1 will be 196.90 mm; the published maximum is 7 3/4" (196.85 mm) (and 5 more)`,
			model.Metric, plain(6, 196.9, 260, nil),
		},
		{
			"count", "ncc", "private", "ncc.flight",
			`the flight has 19 risers; the published maximum is 18 risers`,
			model.Metric, plain(19, 160, 260, nil),
		},
		{
			"slope", "irc", "", "irc.surface.slope",
			`tread 3 will slope 1:40; the published maximum is 1:48`,
			model.Metric, plain(6, 160, 260, func(j *model.Job) { j.Flight.Steps[2].Fall = model.Angle(math.Atan(1.0 / 40)) }),
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := c.job
			j.Units, j.CodeClass = c.units, c.class
			got := byRule(check(j, table(t, c.code)))[c.rule].Title
			// metric halves a step: 196.9 prints as 197.0 at half millimetres
			if got != c.title {
				t.Errorf("got  %s\nwant %s", got, c.title)
			}
		})
	}
}

// The same figures, known well, hardly, and not at all.
func TestUncertainVerdicts(t *testing.T) {
	irc := table(t, "irc")
	high := plain(6, 198, 260, nil)  // 1.15 over 196.85
	under := plain(6, 196, 260, nil) // 0.85 under
	at := func(j model.Job, heights float64) (map[string]model.Finding, []model.Finding) {
		b := buildup.Compute(j, surveyed(j, heights, 0))
		fs := rules.Check(j, &b, irc)
		return byRule(fs), fs
	}
	t.Run("over and certain", func(t *testing.T) {
		// 0.2 mm on each of two heights: a band of 1.96·0.2·√2 = 0.55 mm
		m, _ := at(high, 0.2)
		if f := m["irc.riser.max"]; f.Severity != model.Outside || f.Heading() != "outside limit" || strings.Contains(f.Title, "may") {
			t.Errorf("%s: %s", f.Severity, f.Title)
		}
	})
	t.Run("over but within the band", func(t *testing.T) {
		// 1 mm each: a band of 2.8 mm, but riser 1 stands on the exact floor: 2.0
		m, _ := at(high, 1)
		if f := m["irc.riser.max"]; f.Severity != model.Outside || f.Heading() != "may be outside" || !strings.Contains(f.Title, "may exceed the published maximum") || !strings.Contains(f.Title, "±") {
			t.Errorf("%s: %s", f.Severity, f.Title)
		}
	})
	t.Run("under but within the band", func(t *testing.T) {
		m, _ := at(under, 1)
		if f := m["irc.riser.max"]; f.Severity != model.Note || !strings.Contains(f.Title, "may exceed") {
			t.Errorf("%s: %s", f.Severity, f.Title)
		}
	})
	t.Run("under and certain", func(t *testing.T) {
		m, _ := at(under, 0.2)
		if f, ok := m["irc.riser.max"]; ok {
			t.Errorf("found %s", f.Title)
		}
	})
	t.Run("hardly measured: one note for all", func(t *testing.T) {
		m, fs := at(under, 25)
		if _, ok := m["irc.riser.max"]; ok {
			t.Error("a finding of its own")
		}
		if f := m["rules.unmeasured"]; f.Severity != model.Note || !strings.Contains(f.Detail, "riser height") {
			t.Errorf("%s: %s", f.Title, f.Detail)
		}
		notes := 0
		for _, f := range fs {
			if f.Severity == model.Note {
				notes++
			}
		}
		if notes > 3 { // the slope of the treads is judged by the metre, and no rail was given
			t.Errorf("%d notes", notes)
		}
	})
}

func TestPractice(t *testing.T) {
	read := func(k model.Kind, v float64) model.Reading {
		return model.Reading{ID: model.NamedID(model.ID{}, string(k)), Kind: k, Value: v}
	}
	rises := func(each, total float64) func(*model.Job) {
		return func(j *model.Job) {
			for i := range j.Flight.Steps {
				j.Flight.Steps[i].Readings = []model.Reading{read(model.RiseLeft, each), read(model.RiseRight, each)}
			}
			j.Flight.Readings = []model.Reading{read(model.TotalRise, total)}
		}
	}
	for _, c := range []struct {
		name   string
		n      int
		change func(*model.Job)
		rule   string // "" for none at all
		says   string
		step   int
	}{
		{"nothing wrong", 14, func(*model.Job) {}, "", "", 0},
		// trade.md section 2: random ±1 on 14; query beyond 4, stop beyond 8
		{"sum of rises off by 4", 14, rises(180, 14*180-4), "", "", 0},
		{"sum of rises off by 4.1", 14, rises(180, 14*180-4.1), "practice.sum_of_rises", "query beyond", 0},
		{"sum of rises off by 8.1", 14, rises(180, 14*180+8.1), "practice.sum_of_rises", "stop", 0},
		{"0.5 mm a riser is 7 mm over 14", 14, rises(180.5, 14*180), "practice.sum_of_rises", "7.0 mm", 0},
		{"on 3.5 risers' worth half is allowed", 4, rises(180, 4*180-2.2), "practice.sum_of_rises", "differ by", 0},
		{"total set aside", 14, func(j *model.Job) {
			rises(180, 14*180-20)(j)
			j.Flight.Readings[0].Aside = true
		}, "", "", 0},
		{"one riser unread", 14, func(j *model.Job) {
			rises(180, 14*180-20)(j)
			j.Flight.Steps[3].Readings = nil
		}, "", "", 0},
		{"floors untouched", 14, untouched, "practice.overlay.uniform", "no overlay is uniform", 1},
		{"old nose kept", 14, func(j *model.Job) { j.Flight.Steps[4].Nosing = model.NosingKept }, "practice.old_nose", "step 5", 5},
		{"no old nose to keep", 14, func(j *model.Job) {
			j.Existing.Overhang = 0
			j.Flight.Steps[4].Nosing = model.NosingKept
		}, "", "", 0},
		{"proud riser", 14, func(j *model.Job) { j.Overlay.RiserGap = 0 }, "practice.riser_gap", "proud", 0},
		{"riser 3 low", 14, func(j *model.Job) { j.Overlay.RiserGap = 3 }, "practice.riser_gap", "shows", 0},
		{"out of level 3", 14, func(j *model.Job) { j.Flight.Steps[4].TopRight += 3 }, "", "", 0},
		{"out of level 3.1", 14, func(j *model.Job) { j.Flight.Steps[4].TopRight += 3.1 }, "practice.level", "right side higher", 5},
		{"left and right rise", 14, func(j *model.Job) { j.Flight.Steps[4].TopRight += 3.1 }, "practice.rise_across", "riser 5", 5},
		{"fall 1:47", 14, func(j *model.Job) { j.Flight.Steps[4].Fall = 1.0 / 47 }, "practice.fall", "to the front", 5},
		{"fall 1:49", 14, func(j *model.Job) { j.Flight.Steps[4].Fall = 1.0 / 49 }, "", "", 0},
		{"landing nosing not advanced", 14, func(j *model.Job) {
			for c := range j.Flight.Steps[13].Corners {
				j.Flight.Steps[13].Corners[c].Y += 18
			}
		}, "practice.landing_going", "longer", 14},
		{"nose line off", 14, func(j *model.Job) {
			for c := 0; c < 2; c++ {
				j.Flight.Steps[4].Corners[c].Y -= 3.5
			}
		}, "practice.nose_line", "in front of", 5},
		{"door binds", 14, func(j *model.Job) {
			j.Flight.Doors = []model.Door{{Name: "hall door", Gap: 12, Clearance: 5}}
		}, "practice.door.1", "into the new floor", 0},
		{"door clears", 14, func(j *model.Job) {
			j.Flight.Doors = []model.Door{{Name: "hall door", Gap: 26, Clearance: 5}}
		}, "", "", 0},
		{"overhang 33", 14, func(j *model.Job) {
			j.Overlay.Overhang = 33
			k := model.Sketch(model.SketchSpec{Risers: 14, Width: 1200, Rise: 180, Going: 254, Base: *j,
				IDs: func(i int) model.ID { return j.Flight.Steps[i].ID }})
			*j = k
		}, "practice.overhang", "usual", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			fs := check(plain(c.n, 180, 254, c.change), model.RuleTable{})
			if c.rule == "" {
				for _, f := range fs {
					t.Errorf("found %s: %s", f.Rule, f.Title)
				}
				return
			}
			f, ok := byRule(fs)[c.rule]
			if !ok {
				t.Fatalf("not found among %d", len(fs))
			}
			text := f.Title + " " + f.Detail
			if stops := strings.Contains(f.Title, "stop"); stops != (c.says == "stop") {
				t.Errorf("stop is %v: %s", stops, f.Title)
			}
			if !strings.Contains(text, c.says) || f.Where.Step != c.step {
				t.Errorf("step %d: %s\n%s", f.Where.Step, f.Title, f.Detail)
			}
			if f.Severity != model.Advice || f.Section != rules.Practice || !strings.Contains(f.Detail, rules.Practice) {
				t.Errorf("%s, %q: practice must be advice and say so", f.Severity, f.Section)
			}
		})
	}
}

// The codes that have limits on nosing and slope leave practice out of it.
func TestPracticeGivesWayToTheCode(t *testing.T) {
	j := plain(6, 160, 254, func(j *model.Job) {
		j.Overlay.Overhang = 40
		j.Flight.Steps[2].Fall = 0.05
	})
	m := byRule(check(j, table(t, "irc")))
	for _, id := range []string{"irc.nosing.projection", "irc.surface.slope"} {
		if _, ok := m[id]; !ok {
			t.Errorf("%s not found", id)
		}
	}
	for _, id := range []string{"practice.overhang", "practice.fall"} {
		if _, ok := m[id]; ok {
			t.Errorf("%s said again", id)
		}
	}
}

// IRC R311.7.5.3 exception 1 (transcription): no nosing is asked for where the
// tread is at least 11 in deep.
func TestNosingExemption(t *testing.T) {
	short := func(j *model.Job) { j.Overlay.Overhang = 10 }
	irc := table(t, "irc")
	if f, ok := byRule(check(plain(6, 160, 11*inch-1, short), irc))["irc.nosing.projection"]; !ok || !strings.Contains(f.Title, "(and 5 more)") {
		t.Errorf("under 11 in: %q", f.Title)
	}
	// The landing nosing has no tread behind it and stays.
	if f := byRule(check(plain(6, 160, 11*inch, short), irc))["irc.nosing.projection"]; f.Where.Step != 6 || strings.Contains(f.Title, "more") {
		t.Errorf("at 11 in: step %d, %q", f.Where.Step, f.Title)
	}
}

func TestClasses(t *testing.T) {
	j := plain(6, 185, 280, nil)
	for _, c := range []struct {
		class string
		found bool
	}{{"private", false}, {"general", true}, {"", false}, {"no such class", false}} {
		j.CodeClass = c.class
		_, found := byRule(check(j, table(t, "adk")))["adk.general.rise"]
		if found != c.found {
			t.Errorf("class %q: general limit applied is %v", c.class, found)
		}
	}
}

// spoiled is a flight with many small faults.
func spoiled(seed uint64) model.Job {
	rng := rand.New(rand.NewPCG(seed, 0))
	return plain(14, 185+10*rng.Float64(), 240+20*rng.Float64(), func(j *model.Job) {
		untouched(j)
		for i := range j.Flight.Steps {
			s := &j.Flight.Steps[i]
			s.TopLeft += model.Length(3 * rng.NormFloat64())
			s.TopRight += model.Length(3 * rng.NormFloat64())
			s.Fall = model.Angle(0.01 * rng.NormFloat64())
			for c := range s.Corners {
				s.Corners[c].Y += model.Length(3 * rng.NormFloat64())
			}
			if rng.IntN(3) == 0 {
				s.Nosing = model.NosingKept
			}
		}
		j.Flight.Rail = []model.Height{{Step: j.Flight.Steps[2].ID, Value: 880}, {Step: j.Flight.Steps[8].ID, Value: 860}}
		j.Flight.Headroom = []model.Height{{Step: j.Flight.Steps[9].ID, Value: 2040}}
	})
}

var codes = []string{"irc", "ibc", "adk", "nbc", "ncc"}

// Units change the words, never the findings; nothing is Block; each rule
// speaks once; worst first.
func TestLaws(t *testing.T) {
	for seed := uint64(1); seed <= 20; seed++ {
		for _, code := range codes {
			j := spoiled(seed)
			rulesOf := table(t, code)
			b := buildup.Compute(j, surveyed(j, 0.5, 0.5))
			metric := rules.Check(j, &b, rulesOf)
			j.Units = model.Imperial
			imperial := rules.Check(j, &b, rulesOf)
			if len(metric) != len(imperial) {
				t.Fatalf("seed %d %s: %d findings metric, %d imperial", seed, code, len(metric), len(imperial))
			}
			seen := map[string]bool{}
			for i, f := range metric {
				g := imperial[i]
				if f.Rule != g.Rule || f.Severity != g.Severity || f.Where != g.Where || f.Section != g.Section || f.Standing != g.Standing {
					t.Errorf("seed %d %s: %+v became %+v", seed, code, f, g)
				}
				if seen[f.Rule] {
					t.Errorf("seed %d: %s twice", seed, f.Rule)
				}
				seen[f.Rule] = true
				if f.Severity >= model.Block || i > 0 && f.Severity > metric[i-1].Severity {
					t.Errorf("seed %d: severity %s out of place", seed, f.Severity)
				}
				if f.Title == "" || f.Detail == "" || f.Remedy == "" || strings.Contains(f.Title, "\n") || strings.Contains(f.Title, "NaN") {
					t.Errorf("seed %d: a poor finding %+v", seed, f)
				}
			}
			if len(metric) > 25 {
				t.Errorf("seed %d %s: %d findings are too many to read", seed, code, len(metric))
			}
		}
	}
}

// Mirroring the flight swaps left and right in the findings.
func TestMirror(t *testing.T) {
	for seed := uint64(1); seed <= 20; seed++ {
		j := spoiled(seed)
		m := j
		m.Flight.Steps = nil
		for _, s := range j.Flight.Steps {
			n := s
			n.Corners = nil
			for _, c := range [4]int{1, 0, 3, 2} {
				n.Corners = append(n.Corners, model.Corner{X: -s.Corners[c].X, Y: s.Corners[c].Y})
			}
			n.TopLeft, n.TopRight = s.TopRight, s.TopLeft
			m.Flight.Steps = append(m.Flight.Steps, n)
		}
		for _, code := range codes {
			a, b := byRule(check(j, table(t, code))), byRule(check(m, table(t, code)))
			if len(a) != len(b) {
				t.Fatalf("seed %d %s: %d and %d findings", seed, code, len(a), len(b))
			}
			for id, f := range a {
				g := b[id]
				if f.Severity != g.Severity || f.Where.Step != g.Where.Step {
					t.Errorf("seed %d: %s moved from step %d to %d", seed, id, f.Where.Step, g.Where.Step)
				}
				if strings.Contains(f.Title, "at the left") && !strings.Contains(f.Title, "at the right") && !strings.Contains(g.Title, "at the right") {
					t.Errorf("seed %d: %s\n%s", seed, f.Title, g.Title)
				}
			}
		}
	}
}

// The figures of a sum add up as they are printed, whatever the boards measure.
func TestRiseSumsAddUp(t *testing.T) {
	sum := regexp.MustCompile(`Riser \d+ \w+: (.+?) existing \+ (.+?) laid above − (.+?) laid below = (.+?)\. (?:Over|Short|Riser)`)
	for _, units := range []model.Units{model.Imperial, model.Metric} {
		found := 0
		for rise := 185.0; rise < 200; rise += 0.37 {
			j := plain(5, rise, 260, func(j *model.Job) { untouched(j); j.Overlay.Tread = 20.03 })
			j.Units = units
			m := sum.FindStringSubmatch(byRule(check(j, table(t, "irc")))["irc.riser.uniformity"].Detail)
			if m == nil {
				t.Fatalf("no sum: %s", byRule(check(j, table(t, "irc")))["irc.riser.uniformity"].Detail)
			}
			found++
			var v [4]float64
			for i := range v {
				l, err := model.ParseLength(m[i+1], units)
				if err != nil {
					t.Fatal(err)
				}
				v[i] = float64(l)
			}
			if math.Abs(v[0]+v[1]-v[2]-v[3]) > 1e-9 {
				t.Errorf("%s + %s - %s is not %s", m[1], m[2], m[3], m[4])
			}
			if off := math.Abs(v[0] - rise); off > 1.5*inch/64 {
				t.Errorf("%s for a rise of %g mm", m[1], rise)
			}
		}
		if found < 40 {
			t.Errorf("only %d sums", found)
		}
	}
}

// A rail or a headroom that nobody measured is said to be so, where the code
// limits it and the noses rise; a flight that stays as it is is let be.
func TestHeightsUnread(t *testing.T) {
	rail := func(j *model.Job) { j.Flight.Rail = []model.Height{{Step: j.Flight.Steps[0].ID, Value: 930}} }
	head := func(j *model.Job) {
		j.Flight.Headroom = []model.Height{{Step: j.Flight.Steps[0].ID, Value: 2200}}
	}
	for _, c := range []struct {
		name, title string
		change      func(*model.Job)
	}{
		{"neither", "no handrail height and no headroom has been given; the noses will rise by 20.0 mm", nil},
		{"no headroom", "no headroom has been given; the noses will rise by 20.0 mm", rail},
		{"no rail", "no handrail height has been given; the noses will rise by 20.0 mm", head},
		{"both given", "", func(j *model.Job) { rail(j); head(j) }},
		{"nothing rises", "", func(j *model.Job) {
			j.Overlay.FloorTop, j.Overlay.FloorBottom = 0, 0
			for i := range j.Flight.Steps {
				j.Flight.Steps[i].PackLeft, j.Flight.Steps[i].PackRight = -20, -20
			}
		}},
	} {
		f := byRule(check(plain(6, 170, 260, c.change), table(t, "irc")))["rules.unread"]
		if f.Title != c.title {
			t.Errorf("%s: %q", c.name, f.Title)
		}
	}
	// without a code there is no limit to miss
	if f, ok := byRule(check(plain(6, 170, 260, nil), model.RuleTable{}))["rules.unread"]; ok {
		t.Errorf("without a code: %s", f.Title)
	}
}

// Two widths on bare wood and no middle one leave a bow unseen.
func TestBowedSides(t *testing.T) {
	read := func(j *model.Job, i int, state model.State, ks ...model.Kind) {
		for _, k := range ks {
			j.Flight.Steps[i].Readings = append(j.Flight.Steps[i].Readings, model.Reading{Kind: k, Value: 1200, State: state})
		}
	}
	for _, c := range []struct {
		name, title string
		change      func(*model.Job)
	}{
		{"not read at all", "", nil},
		{"two widths", "the middle width of step 2 has not been read; a bowed side would not show",
			func(j *model.Job) { read(j, 1, model.Bare, model.FrontWidth, model.BackWidth) }},
		{"on two steps", "the middle width of step 2 has not been read (and 1 more); a bowed side would not show",
			func(j *model.Job) {
				read(j, 1, model.Bare, model.FrontWidth, model.BackWidth)
				read(j, 3, model.Checked, model.FrontWidth, model.BackWidth)
			}},
		{"three widths", "", func(j *model.Job) { read(j, 1, model.Bare, model.FrontWidth, model.MiddleWidth, model.BackWidth) }},
		{"over carpet", "", func(j *model.Job) { read(j, 1, model.OverCarpet, model.FrontWidth, model.BackWidth) }},
		{"between open sides", "", func(j *model.Job) {
			read(j, 1, model.Bare, model.FrontWidth, model.BackWidth)
			j.Flight.Steps[1].Left.Kind, j.Flight.Steps[1].Right.Kind = model.Open, model.Open
		}},
		{"the landing nosing", "", func(j *model.Job) { read(j, 5, model.Bare, model.FrontWidth, model.BackWidth) }},
	} {
		f := byRule(check(plain(6, 170, 260, c.change), table(t, "irc")))["practice.bowed_side"]
		if f.Title != c.title {
			t.Errorf("%s: %q", c.name, f.Title)
		}
	}
}

func TestEmptyResult(t *testing.T) {
	if fs := rules.Check(model.Job{}, &buildup.Result{}, table(t, "irc")); len(fs) != 0 {
		t.Errorf("%d findings on nothing", len(fs))
	}
	if fs := rules.Check(model.Job{}, nil, model.RuleTable{}); len(fs) != 0 {
		t.Errorf("%d findings on nil", len(fs))
	}
}

func BenchmarkComputeAndCheck14(b *testing.B) {
	for _, code := range []string{"irc", "nbc"} {
		b.Run(code, func(b *testing.B) {
			j := spoiled(1)
			s := surveyed(j, 0.5, 0.5)
			limits := table(b, code)
			b.ReportAllocs()
			for b.Loop() {
				r := buildup.Compute(j, s)
				rules.Check(j, &r, limits)
			}
		})
	}
}
