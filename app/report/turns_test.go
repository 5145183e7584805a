package report_test

import (
	"math"
	"strings"
	"testing"

	"risewright/app/report"
)

// The demo that winds: its two flights, three winders, a landing and six
// balusters are in the words and in the JSON, with the figures of the answer.
func TestTurnsAreTold(t *testing.T) {
	a := answer(t, "winding", demoJob(t, "winding"))
	out := words(t, a)
	for title, lines := range map[string][]string{
		"FLIGHTS BETWEEN LANDINGS": {"1   1 to 10", "2  11 to 15"},
		"WINDERS":                  {"4  left", "5  left", "6  left"},
		"LANDINGS":                 {"10  "},
		"BALUSTERS":                {"right       1      2", "right       4      3"},
	} {
		text := strings.Join(section(t, out, title), "\n")
		for _, l := range lines {
			if !strings.Contains(text, l) {
				t.Errorf("%s: no line %q in\n%s", title, l, text)
			}
		}
	}
	w := report.WireOf(a.Answer, a.mending)
	if len(w.BuildUp.Runs) != 2 || w.BuildUp.Runs[0].Last != 10 || w.BuildUp.Runs[1].First != 11 {
		t.Fatalf("runs %+v", w.BuildUp.Runs)
	}
	// the second flight rises from the landing to the top floor
	rise := a.Buildup.FlightRise.At + a.Buildup.FloorBottom - w.BuildUp.Runs[1].Foot
	if got := w.BuildUp.Runs[1].Rise.Value; math.Abs(got-rise) > 1e-9 {
		t.Errorf("the upper flight rises %v, want %v", got, rise)
	}
	for i, s := range w.BuildUp.Steps {
		if (s.Winder != nil) != (i >= 3 && i <= 5) || (s.Landing != nil) != (i == 9) {
			t.Errorf("step %d: winder %v, landing %v", i+1, s.Winder, s.Landing)
		}
		if s.Winder != nil && !(s.Winder.Inner == "left" && s.Winder.Narrow.Value < s.Winder.Middle.Value) {
			t.Errorf("step %d: %+v", i+1, *s.Winder)
		}
	}
	if len(w.Balusters) != len(a.Balusters) || len(w.Balusters) == 0 {
		t.Fatalf("%d balusters", len(w.Balusters))
	}
	for _, b := range w.Balusters {
		if b.Side != "right" || b.Old == nil || b.New == nil || math.Abs(*b.Old-b.Cut-*b.New) > 1e-9 {
			t.Errorf("baluster %+v", b)
		}
	}
}

// A straight flight with closed sides has none of it.
func TestAStraightFlightTellsOfNoTurns(t *testing.T) {
	a := answer(t, "well-behaved", demoJob(t, "well-behaved"))
	out := words(t, a)
	for _, title := range []string{"FLIGHTS BETWEEN", "WINDERS", "LANDINGS", "BALUSTERS"} {
		if strings.Contains(out, title) {
			t.Errorf("%s in the answer to a straight flight", title)
		}
	}
}
