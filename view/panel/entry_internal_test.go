package panel

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// A field that was left with its text selected and then emptied by another job
// or step takes the first digit typed into it: the selection must not outlive
// the text. 265.5 once became 65.5.
func TestNoDigitIsSwallowed(t *testing.T) {
	test.NewTempApp(t)
	e := newEntry()
	w := test.NewTempWindow(t, e)
	w.Resize(fyne.NewSize(200, 60))
	e.FocusGained()
	e.force("914.0")
	e.FocusLost()
	e.FocusGained()
	e.FocusLost()
	e.force("")
	e.FocusGained()
	for _, r := range "265.5" {
		e.TypedRune(r)
	}
	if e.Text != "265.5" {
		t.Errorf("typed 265.5, got %q", e.Text)
	}
	e.FocusLost()
	e.FocusGained() // all of it is selected: typing replaces it
	e.TypedRune('7')
	if e.Text != "7" {
		t.Errorf("typing over a reading gave %q", e.Text)
	}
}
