package sheets_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver"
	"risewright/view/sheets"
)

// sketchOnly is what every paper says of a job without a reading.
const sketchOnly = "nothing is measured yet"

// noReadings says that a job has no reading but guesses.
func noReadings(w *solver.Work) bool {
	all := append([]model.Reading(nil), w.Answer.Job.Flight.Readings...)
	for _, s := range w.Answer.Job.Flight.Steps {
		all = append(all, s.Readings...)
	}
	for _, r := range all {
		if r.State != model.Guessed && !r.Aside {
			return false
		}
	}
	return true
}

// everyPaper returns all papers of a job by their names.
func everyPaper(t *testing.T, j model.Job, tb model.Tables) map[string]string {
	t.Helper()
	a := solver.Solve(j, tb)
	w := solver.Plan(a, tb)
	sense := solver.Sense(a, tb, nil)
	m := sheets.MetaOf(&j, "Risewright test")
	m.NoShots = "none in this test"
	all := append(sheets.All(a, m), sheets.Client(w, m, nil), sheets.Handover(w, m))
	all = append(all, sheets.Work(w, m)...)
	all = append(all, sheets.Lights(a, m)...)
	all = append(all, sheets.Sensors(a, &sense, tb, m)...)
	all = append(all, sheets.Balusters(a, m)...)
	out := map[string]string{}
	for _, p := range all {
		var text []string
		for i := range p.Pages {
			text = append(text, lettering(&p.Pages[i])...)
		}
		out[strings.TrimSuffix(p.Name, ".pdf")] = strings.Join(text, " ")
	}
	return out
}

// lengths finds figures with a unit of length.
var lengths = regexp.MustCompile(`\d+\.\d mm\b`)

// sketched is the tapering job as it was before anybody measured, with lights
// and sensors, or without.
func sketched(t *testing.T, lit bool) model.Job {
	t.Helper()
	base := answers(t)["tapering metric"].Job
	tb := tablesOf(t)
	base.Flight, base.Lighting, base.Sensing = model.Flight{}, model.Lighting{}, model.Sensing{}
	j := model.Sketch(model.SketchSpec{Risers: 14, Width: 914, Rise: 190, Going: 254, Base: base,
		IDs: func(i int) model.ID { return model.NamedID(base.ID, fmt.Sprint("sketched ", i)) }})
	for i := range 2 {
		j.Flight.Steps[i+1].Right.Kind = model.Open
		j.Flight.Steps[i+1].Balusters = []model.Baluster{{ID: model.NamedID(base.ID, fmt.Sprint("bar ", i)), Side: model.Right, Length: 840, Behind: 65}}
	}
	if lit {
		j.Lighting, j.Sensing = model.FirstLighting(j, tb.Lights), model.FirstSensing(j, tb.Senses)
	}
	return j
}

// TestASketchPrintsNoLengths: papers of a job that nobody measured say so and
// what to do, and those that are worked to print none of the sketch's lengths.
func TestASketchPrintsNoLengths(t *testing.T) {
	for _, lit := range []bool{false, true} {
		got := everyPaper(t, sketched(t, lit), tablesOf(t))
		want := []string{"build-up", "proposal", "hand-over", "order-of-work", "skirt-boards", "buying-list", "blank-map", "rip-list", "wood-movement", "hours-money-days"}
		if lit {
			want = append(want, "wiring-schedule", "wiring-plan", "wiring-labels", "light-commissioning", "light-supply", "sensors", "sensor-commissioning")
		}
		for _, name := range want {
			text, ok := got[name]
			if !ok {
				t.Errorf("lit %v: there is no %s", lit, name)
				continue
			}
			finds(t, name, text, "MISSING", sketchOnly, "take the survey sheet to the stair")
			switch name {
			case "skirt-boards", "blank-map", "rip-list", "wood-movement", "wiring-schedule", "wiring-plan", "wiring-labels", "light-commissioning", "sensors", "sensor-commissioning":
				if l := lengths.FindString(text); l != "" {
					t.Errorf("lit %v: %s prints %q of a stair nobody measured", lit, name, l)
				}
			}
		}
		if strings.Contains(flat(got["proposal"]), "first rise") || strings.Contains(flat(got["build-up"]), "rise before") {
			t.Errorf("lit %v: rises are printed that nobody measured", lit)
		}
		for name := range got {
			if !lit && (strings.HasPrefix(name, "wiring") || strings.HasPrefix(name, "light") || strings.HasPrefix(name, "sensor")) {
				t.Errorf("a job without lights and sensors has %s", name)
			}
		}
		if sensors := strings.Contains(flat(got["hand-over"]), "every sensor covered"); sensors != lit {
			t.Errorf("lit %v: sensors are tried at hand-over: %v", lit, sensors)
		}
	}
}

// TestWhatIsMeasuredInPartIsSaid: steps that nobody read, or over carpet only,
// are named; a job that is read through has nothing missing there.
func TestWhatIsMeasuredInPartIsSaid(t *testing.T) {
	tb := tablesOf(t)
	part := answers(t)["unfinished metric"].Job
	for name, text := range everyPaper(t, part, tb) {
		if name == "survey-sheet" || name == "cut-cards" {
			continue
		}
		finds(t, name, text, "MISSING", "steps 10 to 12 were not read", "steps 5 to 9 were read over carpet only", "read these steps on bare wood")
	}
	whole := answers(t)["tapering metric"].Job
	for name, text := range everyPaper(t, whole, tb) {
		if s := flat(text); strings.Contains(s, flat("were not read")) || strings.Contains(s, sketchOnly) || strings.Contains(s, "over carpet only") {
			t.Errorf("%s of a job that is read through says that something is not measured", name)
		}
	}
}

// TestNoWoodNoPrices: a wood that nobody chose is not sold to the household as
// chosen, and tables without goods give no price.
func TestNoWoodNoPrices(t *testing.T) {
	tb := tablesOf(t)
	j := answers(t)["well-behaved metric"].Job
	j.Shop.Species = ""
	got := everyPaper(t, j, tb)
	for _, name := range []string{"proposal", "hand-over", "wood-movement", "buying-list"} {
		finds(t, name, got[name], "MISSING", "no wood is chosen", "choose the wood under Buy")
	}
	finds(t, "proposal", got["proposal"], "wood that is not chosen yet")
	chosen := tb.Wood.Species[1]
	j.Shop.Species = chosen.ID
	got = everyPaper(t, j, tb)
	finds(t, "proposal", got["proposal"], chosen.Name)
	for name, text := range got {
		if strings.Contains(flat(text), "no wood is chosen") {
			t.Errorf("%s says that no wood is chosen, though one is", name)
		}
	}

	bare := tb
	bare.Goods, bare.Labour = model.Goods{}, model.Labour{}
	got = everyPaper(t, j, bare)
	finds(t, "proposal", got["proposal"], "MISSING", "there is no price")
	finds(t, "hours-money-days", got["hours-money-days"], "MISSING")
	if m := regexp.MustCompile(`[Bb]etween \d+ and \d+\.`).FindString(got["proposal"]); m != "" {
		t.Errorf("the proposal has a price of nothing: %q", m)
	}
}
