package model_test

import (
	"fmt"
	"testing"

	"risewright/model"
)

// What may be within its limit is not counted among what is outside.
func TestFindingsAreCountedByHeading(t *testing.T) {
	outside := model.Finding{Severity: model.Outside}
	may := model.Finding{Severity: model.Outside, Unsure: true}
	advice := model.Finding{Severity: model.Advice, Unsure: true}
	got := fmt.Sprint(model.CountFindings([]model.Finding{advice, may, outside, may, {Severity: model.Block}, advice}))
	if want := "[{stop stop 1} {outside limit outside limit 1} {outside limit may be outside 2} {advice advice 2}]"; got != want {
		t.Errorf("counted %s, want %s", got, want)
	}
	if n := len(model.CountFindings(nil)); n != 0 {
		t.Errorf("%d headings of nothing", n)
	}
}
