package pieces_test

import (
	"slices"
	"strings"
	"testing"

	"risewright/model"
)

// The card of a riser says so when the old nose still stands in its place.
func TestOldNoseOnTheRisersCard(t *testing.T) {
	for _, c := range []struct {
		state    model.NosingState
		overhang model.Length
		said     bool
	}{
		{model.NosingKept, 25, true},
		{model.NosingKept, 0, false}, // there was none
		{model.NosingCut, 25, false},
		{model.NosingPacked, 25, false},
	} {
		f := straight(4)
		f.job.Existing.Overhang = c.overhang
		for k := range f.job.Flight.Steps {
			f.job.Flight.Steps[k].Nosing = model.NosingCut
		}
		f.job.Flight.Steps[1].Nosing = c.state
		for id, said := range map[string]bool{"R01": false, "R02": c.said, "R03": false} {
			p := f.named(t, id)
			if got := slices.ContainsFunc(p.Notes, func(n string) bool { return strings.Contains(n, "the old nose above") }); got != said {
				t.Errorf("%s, %g mm, %s: %q", c.state, float64(c.overhang), id, p.Notes)
			}
		}
	}
}
