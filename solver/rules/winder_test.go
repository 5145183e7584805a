package rules_test

import (
	"math"
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver/buildup"
)

// quarter is a flight with three winders to a quarter turn, each narrower at
// every walking line than any code allows.
func quarter(width float64) model.Job {
	return plain(9, 160, 285, func(j *model.Job) {
		for i := range j.Flight.Steps {
			j.Flight.Steps[i].Corners[1].X, j.Flight.Steps[i].Corners[2].X = model.Length(width), model.Length(width)
		}
		turn(j, model.TurnToWinders{From: j.Flight.Steps[3].ID, Count: 3, Angle: 90 * model.Degree, Side: model.Left, Well: 60})
	})
}

// Every winder that is too small is found by itself, with its own number.
func TestEachWinderHasItsFinding(t *testing.T) {
	j := quarter(1200)
	steps := map[string][]int{}
	for _, f := range check(j, table(t, "irc")) {
		steps[f.Rule] = append(steps[f.Rule], f.Where.Step)
	}
	for _, rule := range []string{"irc.winder.walkline.min", "irc.winder.narrow.min"} {
		if got := steps[rule]; len(got) != 3 || got[0] != 4 || got[1] != 5 || got[2] != 6 {
			t.Errorf("%s at steps %v, want 4, 5 and 6", rule, got)
		}
	}
	if len(steps["irc.tread.min"]) != 0 {
		t.Error("winders are held to the depth of rectangular treads as well")
	}
}

// Where each code measures: 12 in from the narrow side (memory), 300 mm
// (transcription), the middle of a flight under 1 m and else 270 mm from each
// side. The figure in the finding is the chord at that place.
func TestWhereCodesMeasureWinders(t *testing.T) {
	// the place along the nose line, from the middle of the turn
	chord := func(r float64) float64 { return 2 * math.Hypot(r, 43) * math.Sin(15*math.Pi/180) }
	length := func(v float64) string {
		return model.Format{Units: model.Metric, Step: 0.1}.Length(model.Length(v))
	}
	for _, c := range []struct {
		code, class string
		width       float64
		rule, title string
		place       string
		going       float64
		severity    model.Severity
	}{
		{"irc", "", 1200, "irc.winder.walkline.min", "winder 4, at the walking line", "304.8 mm from the narrow side", chord(60 + 304.8), model.Advice},
		{"ibc", "main", 1200, "ibc.winder.walkline", "winder 4, at the walking line", "304.8 mm from the narrow side", chord(60 + 304.8), model.Advice},
		{"nbc", "private", 1200, "nbc.private.run", "the going of step", "300.0 mm from the narrow side", chord(60 + 300), model.Advice},
		{"adk", "private", 1200, "adk.private.going", "the going of step", "270.0 mm from the narrow side", chord(60 + 270), model.Outside},
	} {
		t.Run(c.code, func(t *testing.T) {
			j := quarter(c.width)
			j.Code, j.CodeClass = c.code, c.class
			var found *model.Finding
			for _, f := range check(j, table(t, c.code)) {
				if f.Rule == c.rule && found == nil {
					found = &f
				}
			}
			if found == nil {
				t.Fatal("nothing found")
			}
			if found.Severity != c.severity || !strings.Contains(found.Title, c.title) {
				t.Errorf("%s: %s", found.Severity, found.Title)
			}
			if !strings.Contains(found.Detail, c.place) || !strings.Contains(found.Detail, length(c.going)) {
				t.Errorf("the detail has no %s and %s: %s", c.place, length(c.going), found.Detail)
			}
		})
	}
	// In the middle of a flight narrower than 1 m: a going of 220 to 300 there
	// meets Approved Document K, however narrow at 270 mm.
	narrow := plain(9, 160, 285, func(j *model.Job) {
		for i := range j.Flight.Steps {
			j.Flight.Steps[i].Corners[1].X, j.Flight.Steps[i].Corners[2].X = 900, 900
		}
		turn(j, model.TurnToWinders{From: j.Flight.Steps[3].ID, Count: 3, Angle: 90 * model.Degree, Side: model.Right, Well: 100})
	})
	narrow.CodeClass = "private"
	if f, bad := byRule(check(narrow, table(t, "adk")))["adk.private.going"]; bad {
		t.Errorf("%s: %s", f.Title, f.Detail)
	}
	// and in the middle of one whose code says nothing
	b := buildup.Compute(narrow, surveyed(narrow, 0, 0))
	g := b.Steps[4].Winder.Going(buildup.Walkline{Offset: 450}).At
	near := func(v float64) bool { return math.Abs(g-v) < 1e-8 }
	if g < 220 || !near(chord(100+450)) || chord(100+270) > 220 {
		t.Errorf("the example shows nothing: %g and %g", g, chord(100+270))
	}
}

// Winders unlike each other are advised upon where the code has no figure.
func TestWindersUnlike(t *testing.T) {
	make := func(second float64) model.Job {
		return plain(8, 160, 285, func(j *model.Job) {
			turn(j, model.TurnToWinders{From: j.Flight.Steps[2].ID, Count: 1, Angle: 30 * model.Degree, Side: model.Left, Well: 200})
			turn(j, model.TurnToWinders{From: j.Flight.Steps[3].ID, Count: 1, Angle: model.Angle(second) * model.Degree, Side: model.Left, Well: 200})
		})
	}
	for code, want := range map[string]bool{"nbc": true, "adk": true, "ncc": true, "irc": false} {
		if _, got := byRule(check(make(34), table(t, code)))["practice.winders"]; got != want {
			t.Errorf("%s: practice.winders found: %v, want %v", code, got, want)
		}
		if f, got := byRule(check(make(30), table(t, code)))["practice.winders"]; got {
			t.Errorf("%s: alike, but %s", code, f.Title)
		}
	}
}

// The rise of a flight is that between floors and landings, and a landing
// narrower than its flight is named.
func TestLandingsDivideTheFlight(t *testing.T) {
	tall := plain(24, 165, 280, nil) // 3960 mm: more than 151 in at once
	if _, bad := byRule(check(tall, table(t, "irc")))["irc.vertical_rise"]; !bad {
		t.Error("a flight of 3960 mm is within 151 in")
	}
	turn(&tall, model.InsertLanding{At: tall.Flight.Steps[11].ID, Turn: model.HalfTurn, Side: model.Left, Depth: 1300})
	if f, bad := byRule(check(tall, table(t, "irc")))["irc.vertical_rise"]; bad {
		t.Errorf("two flights of 1980 mm: %s", f.Title)
	}
	if f, bad := byRule(check(tall, table(t, "irc")))["practice.landing_width"]; bad {
		t.Errorf("wide enough, but %s", f.Title)
	}
	long := plain(30, 150, 280, nil)
	turn(&long, model.InsertLanding{At: long.Flight.Steps[24].ID, Turn: model.QuarterTurn, Side: model.Left, Depth: 900})
	long.CodeClass = "private"
	fs := byRule(check(long, table(t, "ncc")))
	if f, bad := fs["ncc.flight"]; !bad || !strings.Contains(f.Title, "risers 1 to 25 has 25 risers") {
		t.Errorf("25 risers in the lower flight: %+v", f)
	}
	if f, bad := fs["practice.landing_width"]; !bad || f.Where.Step != 25 || !strings.Contains(f.Title, "1200.0 mm") {
		t.Errorf("a landing 900 wide for a flight of 1200: %+v", f)
	}
}
