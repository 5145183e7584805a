package panel_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"risewright/model"
)

// TestSlopesInAnImperialSurvey: what is typed stays as typed, and what is shown of
// it is in inches to the foot.
func TestSlopesInAnImperialSurvey(t *testing.T) {
	job := demoJob(t, "tapering")
	r := newRig(t, job)
	r.d.GoTo(model.Place{Step: 3, Kind: model.TiltAcross})
	r.typed("10.4 mm/m")
	r.key(fyne.KeyReturn)
	r.d.GoTo(model.Place{Step: 3, Kind: model.TiltAcross})
	if r.text() != "10.4 mm/m" {
		t.Errorf("the typed text has become %q", r.text())
	}
	s := shown(r)
	if !strings.Contains(s, "1/8 in/ft") {
		t.Errorf("the slope is not shown in inches to the foot:\n%s", s)
	}
	if n := strings.Count(s, "mm/m"); n > 1 { // the hint names the ways to write it
		t.Errorf("mm/m is shown %d times in an imperial survey:\n%s", n, s)
	}
}
