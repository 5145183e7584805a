package buildup_test

import (
	"os"
	"testing"

	"risewright/solver/buildup"
)

// Whole flights under every code: whatever is offered keeps the limits when it
// is applied, is listed by cost, and is never dearer than raising both floors
// by the board.
func TestRemediesOnWholeFlights(t *testing.T) {
	flights := uint64(2)
	if os.Getenv("RISEWRIGHT_FULL") == "1" {
		flights = 8
	}
	count := map[buildup.MendingStatus]int{}
	for seed := uint64(1); seed <= flights; seed++ {
		j := hard(seed)
		s := exactly(j, 0)
		for _, code := range []string{"irc", "ibc", "adk", "nbc", "ncc"} {
			got := buildup.Remedies(j, s, table(t, code), "", boards(6, 10, 15, 20))
			count[got.Status]++
			if (len(got.Remedies) > 0) != (got.Status == buildup.Mendable) || got.Status != buildup.Mendable && got.Why == "" {
				t.Errorf("seed %d %s: %s with %d remedies, %q", seed, code, got.Status, len(got.Remedies), got.Why)
			}
			both := j
			both.Overlay.FloorBottom, both.Overlay.FloorTop = j.Overlay.Tread, j.Overlay.Tread
			if r := buildup.Compute(both, s); got.Status != buildup.Compliant && got.Limits.Within(&r) {
				// two floors at 60 and 3 a mm
				if dear := 2 * (60 + 3*float64(j.Overlay.Tread)); len(got.Remedies) == 0 || got.Remedies[0].Cost > dear {
					t.Errorf("seed %d %s: raising both floors would do for %g", seed, code, dear)
				}
			}
			for i, r := range got.Remedies {
				applied, err := r.Edit().Apply(j)
				if err != nil {
					t.Fatal(err)
				}
				after := buildup.Compute(applied, s)
				if !got.Limits.Within(&after) {
					t.Errorf("seed %d %s: %q leaves the limits", seed, code, r.Title)
				}
				if r.Title == "" || r.Detail == "" || len(r.Edits) == 0 {
					t.Errorf("seed %d %s: an empty remedy %+v", seed, code, r)
				}
				if i > 0 && r.Cost < got.Remedies[i-1].Cost {
					t.Errorf("seed %d %s: %q out of order", seed, code, r.Title)
				}
				t.Logf("seed %d %s: %.1f %s", seed, code, r.Cost, r.Title)
			}
		}
	}
	t.Log(count)
}
