package panel_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"risewright/model"
	"risewright/view/panel"
)

// button returns the shown button whose text begins so.
func (r *rig) button(text string) fyneButton {
	r.t.Helper()
	for _, o := range test.LaidOutObjects(r.b.Object()) {
		if b, ok := o.(interface {
			Label() string
			Press()
			Disabled() bool
		}); ok && strings.HasPrefix(b.Label(), text) {
			return b
		}
		if b, ok := o.(*widget.Button); ok && strings.HasPrefix(b.Text, text) {
			return plainButton{b}
		}
	}
	r.t.Fatalf("no button %q", text)
	return nil
}

type fyneButton interface {
	Press()
	Disabled() bool
}

type plainButton struct{ *widget.Button }

func (b plainButton) Press() { test.Tap(b.Button) }

// says says whether a text is shown somewhere.
func (r *rig) says(words string) bool {
	for _, o := range test.LaidOutObjects(r.b.Object()) {
		if p, ok := o.(interface{ Says() string }); ok && o.Visible() && strings.Contains(p.Says(), words) {
			return true
		}
	}
	return false
}

// Winders and a landing are made and taken away by the buttons of the group, and
// a button that would be refused is out and says why.
func TestTheShapeOfTheFlight(t *testing.T) {
	r := newRig(t, smallJob(t, 12))
	r.b.ShowTab(3)
	before := r.s.Job()
	r.d.GoTo(model.Place{Field: "shape.winders"})
	if !r.says("The flight is straight and closed at both sides.") {
		t.Error("a straight flight is not called so")
	}
	if b := r.button("Make it straight again"); !b.Disabled() || !r.says("step 4 is no winder and no landing") {
		t.Error("there is nothing to make straight, and the button does not say so")
	}
	r.typed("1")
	r.key("Return")
	if b := r.button("Make the winders"); !b.Disabled() || !r.says("1 winder for a turn of 90.0°") {
		t.Error("one winder for a quarter turn is not refused with a reason")
	}
	r.d.GoTo(model.Place{Field: "shape.winders"})
	r.typed("3")
	r.key("Return")
	r.button("Make the winders").Press()
	if first, last, ok := model.TurnAt(r.s.Job(), 4); !ok || first != 3 || last != 5 {
		t.Fatalf("winders from %d to %d, %v; complaints %v", first+1, last+1, ok, r.errs)
	}
	if !r.says("3 winders at steps 4 to 6") {
		t.Error("the winders are not told of")
	}
	r.button("Make steps 4 to 6 straight again").Press()
	for i, s := range r.s.Job().Flight.Steps {
		if off := s.Corners[0].Distance(before.Flight.Steps[i].Corners[0]); !s.Plain() || off > 1e-8 {
			t.Fatalf("step %d lies %v off after the turn was taken away", i+1, off)
		}
	}
	if b := r.button("Make it a plain step"); !b.Disabled() {
		t.Error("a starting step that is not there can be taken away")
	}
	r.button("Open the side").Press()
	if s := r.s.Job().Flight.Steps[1]; s.Left.Kind != model.Open || !s.Left.Returned || len(s.Balusters) != 2 {
		t.Fatalf("step 2 after opening: %+v", s)
	}
	r.d.GoTo(model.Place{Field: "shape.start_width"})
	r.typed("1050")
	r.key("Return") // goes to the radius
	r.typed("120")
	r.key("Return")
	r.button("Make a starting step").Press()
	if got := r.s.Job().Flight.Steps[0].RoundLeft; got != 120 {
		t.Fatalf("radius %v; complaints %v", got, r.errs)
	}
	if b := r.button("Close it with a wall"); !b.Disabled() || !r.says("step 1 runs round at its left") {
		t.Error("a side that runs round can be closed")
	}
	r.button("Make it a plain step").Press()
	r.button("Close it with a wall").Press()
	if s := r.s.Job().Flight.Steps[1]; s.Left.Kind != model.Wall || len(s.Balusters) != 0 {
		t.Errorf("step 2 after closing: %+v", s)
	}
	if len(r.errs) > 0 {
		t.Errorf("complaints: %v", r.errs)
	}
}

// Wishes for balusters are out at a side that is closed throughout.
func TestBalustersOnlyAtAnOpenSide(t *testing.T) {
	r := newRig(t, smallJob(t, 5))
	r.d.GoTo(model.Place{Field: "wishes.left.balusters"})
	e, ok := r.w.Canvas().Focused().(*panel.Entry)
	if ok && !e.Disabled() {
		t.Error("balusters can be wished for at a closed side")
	}
	job := r.s.Job()
	if err := r.s.Do(model.OpenSide{From: job.Flight.Steps[0].ID, To: job.Flight.Steps[1].ID, Side: model.Left}); err != nil {
		t.Fatal(err)
	}
	r.d.Answered()
	r.d.GoTo(model.Place{Field: "wishes.left.balusters"})
	r.typed("2")
	r.key("Return")
	if got := r.s.Job().Wishes.Left.Balusters; got != 2 {
		t.Errorf("%d balusters wished for at an open side", got)
	}
}

func TestShapeWords(t *testing.T) {
	j := demoJob(t, "winding")
	if got, want := panel.ShapeWords(&j), "3 winders at steps 4 to 6; a landing at step 10; right side open from step 1 to 3; a starting step."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
