package sheets_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver/stock"
	"risewright/view/drawing"
	"risewright/view/sheets"
)

// TestSurveyShowsOneSystem: a reading typed in inches is shown in millimetres on
// a metric sheet, not as the bare figure that was typed.
func TestSurveyShowsOneSystem(t *testing.T) {
	for _, c := range []struct {
		job, typed string
		unit       model.Units
	}{{"tapering metric", "36", model.Metric}, {"well-behaved imperial", "2416.5", model.Imperial}} {
		a := answers(t)[c.job]
		if a.Job.Units != c.unit {
			t.Fatalf("%s is in %s", c.job, a.Job.Units)
		}
		tried, shown := 0, map[string]bool{}
		for _, p := range sheets.Survey(a, metaFor(a, sheets.A4)) {
			for _, s := range lettering(&p) {
				shown[s] = true
			}
		}
		all := append([]model.Reading(nil), a.Job.Flight.Readings...)
		for _, s := range a.Job.Flight.Steps {
			all = append(all, s.Readings...)
		}
		angles := map[string]bool{}
		for _, r := range all {
			if r.Kind.Quantity() != model.QuantityLength {
				angles[r.Typed] = true
			}
		}
		for _, r := range all {
			if r.Kind.Quantity() != model.QuantityLength || angles[r.Typed] {
				continue
			}
			tried++
			if v, err := model.ParseLength(r.Typed, c.unit); err == nil && float64(v) != r.Value && shown[r.Typed] {
				t.Errorf("%s: %q is printed as it was typed, and would be read as %v mm instead of %v", c.job, r.Typed, float64(v), r.Value)
			}
		}
		if tried < 100 || shown[c.typed] {
			t.Errorf("%s: %d lengths, and %q is shown: %v", c.job, tried, c.typed, shown[c.typed])
		}
	}
}

// TestProposalSaysWhatItsPriceLeavesOut: boards without a listed price, and the
// electrical parts of light bars.
func TestProposalSaysWhatItsPriceLeavesOut(t *testing.T) {
	missing, lit, neither := 0, 0, 0
	for name, w := range works(t) {
		if w.Answer.Survey == nil || w.Money.Total.High <= 0 {
			continue
		}
		text := flat(words(&client(t, w, sheets.A4, 0)[0]))
		open := false
		for _, r := range w.Buy.Rows {
			if r.Missing {
				open = true
				missing++
				finds(t, name, text, fmt.Sprintf("%d × %s", r.Count, r.Use))
			}
		}
		if w.Answer.Job.Lighting.On() {
			open = true
			lit++
			finds(t, name, text, "no table has their prices")
		}
		if got := strings.Contains(text, flat("NOT IN IT")); got != open {
			t.Errorf("%s: says that something is not in it: %v, want %v", name, got, open)
		}
		all, dark := *w, *w.Answer
		all.Answer, dark.Job.Lighting = &dark, model.Lighting{}
		all.Buy.Rows = slices.DeleteFunc(slices.Clone(w.Buy.Rows), func(r stock.Row) bool { return r.Missing })
		neither++
		if text := flat(words(&client(t, &all, sheets.A4, 0)[0])); strings.Contains(text, flat("NOT IN IT")) {
			t.Errorf("%s: with a price for all and no lights something is said not to be in it", name)
		}
	}
	if missing == 0 || lit == 0 || neither == 0 {
		t.Errorf("%d rows without a price, %d lit jobs, %d with neither: not all was tried", missing, lit, neither)
	}
}

// TestLetteringOverADrawingStaysReadable: what lies over the plan and the
// section of the wiring is painted before their lettering, and a name of a step
// that is moved for it stays near its place.
func TestLetteringOverADrawingStaysReadable(t *testing.T) {
	for _, job := range []string{"tapering metric", "well-behaved imperial"} {
		a := answers(t)[job]
		for _, p := range sheets.Lights(a, metaFor(a, sheets.A4)) {
			if p.Name != "wiring-plan.pdf" {
				continue
			}
			names := map[string]int{}
			haloed := false
			for _, it := range p.Pages[0].Items() {
				if it.Kind == drawing.KindText && it.Text.Halo {
					haloed = true
					names[it.Text.String]++
				}
			}
			if !haloed {
				t.Fatalf("%s: no lettering on the drawings", job)
			}
			n := len(a.Job.Flight.Steps)
			for k := 1; k <= n; k++ {
				step := fmt.Sprintf("T%02d", k)
				if k == n {
					step = fmt.Sprintf("L%02d", k)
				}
				if names[step] != 2 || names[fmt.Sprintf("B%02d", k)] == 0 {
					t.Errorf("%s: %s stands %d times on plan and section, its bar %d times", job, step, names[step], names[fmt.Sprintf("B%02d", k)])
				}
			}
		}
	}
}
