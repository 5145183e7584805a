package panel_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
	"risewright/view/panel"
)

// tapText presses the first visible button whose text begins so.
func (r *rig) tapText(text string) {
	r.t.Helper()
	for _, o := range test.LaidOutObjects(r.b.Object()) {
		switch b := o.(type) {
		case *widget.Button:
			if strings.HasPrefix(b.Text, text) {
				test.Tap(b)
				return
			}
		case interface {
			Label() string
			Press()
		}:
			if strings.HasPrefix(b.Label(), text) {
				b.Press()
				return
			}
		}
	}
	r.t.Fatalf("no button %q", text)
}

// run runs the searches that wait.
func (r *rig) run() {
	now := r.later
	r.later = nil
	for _, f := range now {
		f()
	}
}

func TestRemediesMendTheRises(t *testing.T) {
	r := newRig(t, demoJob(t, "tapering"))
	r.b.ShowTab(2)
	if len(r.later) != 1 {
		t.Fatalf("%d searches begun", len(r.later))
	}
	r.run()
	m := solver.Advise(r.s.Answer(), r.s.Tables())
	if m.Status != buildup.Mendable || len(m.Remedies) == 0 {
		t.Fatalf("the demo is %s", m.Status)
	}
	if s := shown(r); !strings.Contains(s, m.Remedies[0].Title[1:]) {
		t.Errorf("%q is not shown", m.Remedies[0].Title)
	}
	r.tapText("Apply")
	r.run()
	if got := solver.Advise(r.s.Answer(), r.s.Tables()).Status; got != buildup.Compliant {
		t.Errorf("after the first remedy the rises are %s", got)
	}
	if s := shown(r); !strings.Contains(s, "within the limits as planned") {
		t.Error("the tab does not say so")
	}
	if !r.s.Undo() || r.s.UndoLabel() != "" {
		t.Error("a remedy is not one edit")
	}
}

// A search that the job has outrun shows nothing; another is begun.
func TestAStaleSearchIsDropped(t *testing.T) {
	r := newRig(t, demoJob(t, "tapering"))
	r.b.ShowTab(2)
	o := r.s.Job().Overlay
	o.Tread += 3
	if err := r.d.Do(model.SetOverlay{Overlay: o}); err != nil {
		t.Fatal(err)
	}
	if len(r.later) != 1 {
		t.Fatalf("%d searches at once", len(r.later))
	}
	r.run()
	if s := shown(r); !strings.Contains(s, "Searching…") {
		t.Error("an answer to the old job is shown")
	}
	if len(r.later) != 1 {
		t.Fatal("the search is not begun anew")
	}
	r.run()
	if s := shown(r); strings.Contains(s, "Searching…") {
		t.Error("the new search shows nothing")
	}
}

func TestOverlayAndPackingAreTyped(t *testing.T) {
	r := newRig(t, demoJob(t, "well-behaved"))
	r.d.GoTo(model.Place{Field: "overlay.tread"})
	r.typed("22,5")
	r.key("Return")
	if got := r.s.Job().Overlay.Tread; got != 22.5 {
		t.Errorf("tread %v", got)
	}
	r.typed("9.25") // Enter went on to the riser
	r.key("Return")
	if got := r.s.Job().Overlay.Riser; got != 9.25 {
		t.Errorf("riser %v", got)
	}
	r.d.GoTo(model.Place{Field: "overlay.riser"})
	if r.text() != "9.25 mm" {
		t.Errorf("a quarter millimetre shows as %q", r.text())
	}
	r.typed("-3")
	r.key("Return")
	if r.text() != "-3" || r.s.Job().Overlay.Riser != 9.25 {
		t.Errorf("a riser below nothing: field %q, job %v", r.text(), r.s.Job().Overlay.Riser)
	}
	r.key("Escape")
	if r.text() != "9.25 mm" {
		t.Errorf("after Escape %q", r.text())
	}
	r.d.GoTo(model.Place{Step: 4, Field: "steps.pack"})
	r.typed("2.5")
	r.key("Return")
	if s := r.s.Job().Flight.Steps[3]; s.PackLeft != 2.5 || s.PackRight != 0 {
		t.Errorf("packing %v and %v", s.PackLeft, s.PackRight)
	}
	below := r.s.Job().Flight.Steps[4] // Enter went there
	r.typed("1")
	r.key("Return")
	if s := r.s.Job().Flight.Steps[4]; s.PackLeft != 1 || s.PackRight != below.PackRight {
		t.Errorf("packing of the step above %v and %v", s.PackLeft, s.PackRight)
	}
	if len(r.errs) > 0 {
		t.Errorf("complaints: %v", r.errs)
	}
}

func TestRailHeadroomAndDoors(t *testing.T) {
	r := newRig(t, smallJob(t, 4))
	r.d.Choose(2)
	r.b.ShowTab(2)
	r.tapText("Add a rail height")
	r.typed("905")
	r.key("Return")
	rail := r.s.Job().Flight.Rail
	if len(rail) != 1 || rail[0].Value != 905 || rail[0].Typed != "905" || rail[0].Step != r.s.Job().Flight.Steps[1].ID {
		t.Fatalf("rail %+v", rail)
	}
	r.tapText("Add a headroom point")
	r.typed("1995")
	r.key("Return")
	if h := r.s.Job().Flight.Headroom; len(h) != 1 || h[0].Value != 1995 {
		t.Fatalf("headroom %+v", h)
	}
	r.tapText("Add a door")
	r.typed("larder")
	r.key("Return")
	if d := r.s.Job().Flight.Doors; len(d) != 1 || d[0].Name != "larder" {
		t.Fatalf("doors %+v", d)
	}
	for n := 3; n > 0; n-- {
		r.tapText("✕")
	}
	f := r.s.Job().Flight
	if len(f.Rail)+len(f.Headroom)+len(f.Doors) != 0 {
		t.Errorf("left: %+v %+v %+v", f.Rail, f.Headroom, f.Doors)
	}
}

func TestStepsAreInsertedAndRemoved(t *testing.T) {
	for _, above := range []int{0, 1} {
		for i := range 4 {
			j := smallJob(t, 4)
			e, err := panel.InsertedStep(j, i, above)
			if err != nil {
				t.Fatal(err)
			}
			got, err := e.Apply(j)
			if err != nil {
				t.Fatalf("insert at %d, above %d: %v", i, above, err)
			}
			want := smallJob(t, 5) // a straight flight stays one
			for k, s := range got.Flight.Steps {
				w := want.Flight.Steps[k]
				if s.TopLeft != w.TopLeft || s.TopRight != w.TopRight {
					t.Errorf("insert at %d, above %d: step %d at %v, want %v", i, above, k+1, s.TopLeft, w.TopLeft)
				}
				for c := range s.Corners {
					if s.Corners[c] != w.Corners[c] {
						t.Errorf("insert at %d, above %d: step %d, corner %d at %v, want %v", i, above, k+1, c, s.Corners[c], w.Corners[c])
					}
				}
			}
			at := min(i+above, 3)
			back, err := model.RemoveStep{Step: got.Flight.Steps[at].ID}.Apply(got)
			if err != nil {
				t.Fatal(err)
			}
			for k, s := range back.Flight.Steps {
				if s.TopLeft != j.Flight.Steps[k].TopLeft || s.Corners[0] != j.Flight.Steps[k].Corners[0] {
					t.Errorf("removing it again leaves step %d at %v", k+1, s.Corners[0])
				}
			}
		}
	}
}

// A step like one with balusters or a round corner is a plain step: it once
// shared their ids, and the edit was refused.
func TestAStepLikeOneWithBalustersIsPlain(t *testing.T) {
	j := smallJob(t, 5)
	j, err := model.OpenSide{From: j.Flight.Steps[0].ID, To: j.Flight.Steps[2].ID, Side: model.Left, Returned: true, Balusters: 2, Length: 900}.Apply(j)
	if err != nil {
		t.Fatal(err)
	}
	if len(j.Flight.Steps[1].Balusters) == 0 {
		t.Fatal("no balusters, so nothing is tested")
	}
	e, err := panel.InsertedStep(j, 1, 1)
	if err != nil {
		t.Fatal(err)
	}
	got, err := e.Apply(j)
	if err != nil {
		t.Fatal(err)
	}
	if s := got.Flight.Steps[2]; s.Left.Kind != model.Open || len(s.Balusters) != 0 {
		t.Errorf("the new step has side %q and %d balusters", s.Left.Kind, len(s.Balusters))
	}
}

func TestToolsBecomeYours(t *testing.T) {
	r := newRig(t, demoJob(t, "well-behaved"))
	r.b.ShowTab(3)
	n := len(r.s.Job().Instruments)
	r.tapText("length")
	r.typed("My rods")
	r.key("Return")
	job := r.s.Job()
	in := job.Instruments[len(job.Instruments)-1]
	if len(job.Instruments) != n+1 || in.Name != "My rods" || in.Standing != model.Yours || in.Measures != model.QuantityLength {
		t.Fatalf("the new tool is %+v", in)
	}
	if s := shown(r); !strings.Contains(s, "memory") || !strings.Contains(s, "yours") {
		t.Error("standings are not shown")
	}
}
