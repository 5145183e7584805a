package window

import (
	"regexp"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"risewright/model"
	"risewright/view/panel"
	"risewright/view/words"
)

// germanWindow opens a window on a job with everything in it, in German.
func germanWindow(t *testing.T) *window {
	t.Helper()
	w := newFullWindow(t)
	t.Cleanup(func() { words.Speak(nil) })
	w.app.Preferences().SetString(keyTongue, "de")
	w.win.Resize(fyne.NewSize(1600, 1000))
	w.speak()
	w.rebuild()
	return w
}

// A German carpenter types a comma: it is read, kept as it was typed, and shown;
// a point before three digits is asked about.
func TestACommaIsTypedInGerman(t *testing.T) {
	w := germanWindow(t)
	w.setUnits(model.Metric)
	k := keyboard{t, w}
	w.desk.GoTo(model.Place{Step: 3, Kind: model.FrontWidth})
	reading := func() (r model.Reading) {
		for _, x := range w.session.Job().Flight.Steps[2].Readings {
			if x.Kind == model.FrontWidth {
				r = x
			}
		}
		return r
	}
	k.over("903,5")
	k.press("Enter")
	if r := reading(); r.Value != 903.5 || r.Typed != "903,5" {
		t.Errorf("kept is %v, typed %q", r.Value, r.Typed)
	}
	w.desk.GoTo(model.Place{Step: 3, Kind: model.FrontWidth})
	k.over("0,9055 m")
	k.press("Enter")
	if r := reading(); r.Value != 905.5 || r.Typed != "0,9055 m" {
		t.Errorf("kept is %v, typed %q", r.Value, r.Typed)
	}
	w.desk.GoTo(model.Place{Step: 3, Kind: model.FrontWidth})
	k.over("1.234")
	k.press("Enter")
	if r := reading(); r.Value != 905.5 || !shows(w, "Schreiben Sie 1234 oder 1,234") && !shows(w, "schreiben Sie 1234 oder 1,234") {
		t.Errorf("kept is %v; the window says %s", r.Value, wordsIn(w.win.Content()))
	}
	k.press("Escape")
}

// pointFigure is a figure with a decimal point.
var pointFigure = regexp.MustCompile(`\d\.\d`)

// In German every field of figures shows a comma, and takes what it shows: typed
// again it is the same.
func TestFieldsShowACommaInGerman(t *testing.T) {
	commas, fields := 0, 0
	eachEntry(t, germanWindow, func(k keyboard, name string, e *panel.Entry) {
		w := k.w
		if e.Text == "" {
			return
		}
		text := e.Text
		fields++
		if pointFigure.MatchString(text) {
			t.Errorf("%s, %s: %q", name, k.nameOf(e), text)
		}
		if strings.Contains(text, ",") {
			commas++
		}
		k.over(text + " ")       // so that it counts as typed
		w.win.Canvas().Unfocus() // which takes it; Enter could go on to another step
		if e.Pending() || strings.TrimSpace(e.Text) != text {
			t.Errorf("%s, %s: %q typed again is %q", name, k.nameOf(e), text, e.Text)
			w.win.Canvas().Focus(e)
			k.press("Escape")
		}
		w.win.Canvas().Focus(e)
	})
	if fields < 150 || commas < 20 {
		t.Errorf("only %d fields, %d with a comma", fields, commas)
	}
	t.Logf("%d fields, %d with a comma", fields, commas)
}
