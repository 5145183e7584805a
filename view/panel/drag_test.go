package panel_test

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"risewright/view/canvas"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/plan"
	"risewright/view/section"
)

// handles returns the handles that a canvas shows now.
func (r *rig) handles(c *canvas.Canvas) []handle.Handle {
	v, job := c.View(), r.s.Job()
	o := handle.Options{Scale: v.Scale / v.Paper, Selected: r.d.Step(), Format: job.Format(), Dimensions: true,
		Findings: true, Ghost: true, Uncertainty: true, Handles: true, Exaggerate: r.d.View().Exaggerate}
	if c == r.b.Plan {
		return plan.Handles(nil, r.s.Answer(), o)
	}
	return section.Handles(nil, r.s.Answer(), o)
}

// at returns the first handle of a kind, free or held, and its pixel.
func (r *rig) at(c *canvas.Canvas, k handle.Kind, held bool) (handle.Handle, drawing.Point) {
	r.t.Helper()
	for _, h := range r.handles(c) {
		if h.ID.Kind == k && (len(h.Held) > 0) == held {
			return h, c.View().Pixel(h.At)
		}
	}
	r.t.Fatalf("%s shows no %s, held %v", c.Name, k, held)
	return handle.Handle{}, drawing.Point{}
}

func TestADragIsSolvedOnceAFrameAndDoneOnce(t *testing.T) {
	r := newRig(t, demoJob(t, "tapering"))
	_, px := r.at(r.b.Section, handle.FloorTop, false)
	before := r.s.Job().Overlay.FloorTop
	press(r.b.Section, px)
	r.previews = 0
	const moves, frames = 40, 4
	for i := range moves {
		px.Y -= 1
		pull(r.b.Section, px)
		if i%(moves/frames) == moves/frames-1 {
			r.frame()
		}
	}
	if r.previews < 1 || r.previews > frames {
		t.Errorf("%d moves between %d frames were solved %d times", moves, frames, r.previews)
	}
	if got := r.s.Job().Overlay.FloorTop; got != before {
		t.Error("the job changed before the handle was let go")
	}
	if r.d.Answer().Job.Overlay.FloorTop <= before {
		t.Error("the drag is not shown while it lasts")
	}
	release(r.b.Section, px)
	after := r.s.Job().Overlay.FloorTop
	if after <= before {
		t.Fatalf("top floor %v, was %v", after, before)
	}
	if !r.s.Undo() || r.s.Job().Overlay.FloorTop != before || r.s.UndoLabel() != "" {
		t.Error("the drag is not one edit")
	}
	if !r.s.Redo() || r.s.Job().Overlay.FloorTop != after {
		t.Error("redo does not bring it back")
	}
}

func TestEscapePutsADragBack(t *testing.T) {
	r := newRig(t, demoJob(t, "tapering"))
	_, px := r.at(r.b.Section, handle.FloorTop, false)
	before := r.s.Job().Overlay.FloorTop
	press(r.b.Section, px)
	px.Y -= 30
	pull(r.b.Section, px)
	r.frame()
	r.key(fyne.KeyEscape) // the press has given the section the keyboard
	r.frame()
	if r.d.Answer() != r.s.Answer() {
		t.Error("the drag is still shown")
	}
	px.Y -= 30
	pull(r.b.Section, px)
	release(r.b.Section, px)
	if r.s.Job().Overlay.FloorTop != before || r.s.UndoLabel() != "" {
		t.Error("a cancelled drag changed the job")
	}
}

func TestAHeldHandleOffersToSetItsReadingsAside(t *testing.T) {
	r := newRig(t, demoJob(t, "tapering"))
	r.d.Choose(7)
	r.frame()
	h, px := r.at(r.b.Plan, handle.Corner, true)
	revision := r.s.Job().Revision
	drag := func() {
		press(r.b.Plan, px)
		to := px.Add(drawing.Point{X: 12, Y: -9})
		pull(r.b.Plan, to)
		r.frame()
		release(r.b.Plan, to)
	}
	drag()
	words, names := r.d.Held()
	if words == "" || len(names) != len(h.Held) {
		t.Fatalf("asked about %q held by %v; %d readings hold it", words, names, len(h.Held))
	}
	s := shown(r)
	for _, want := range []string{"Set aside and move", "Leave", names[0], "held by"} {
		if !strings.Contains(s, want) {
			t.Errorf("the bar does not show %q", want)
		}
	}
	r.d.Leave()
	if w, _ := r.d.Held(); w != "" || r.s.Job().Revision != revision || r.d.Answer() != r.s.Answer() {
		t.Error("leaving it changed something")
	}
	drag()
	r.key(fyne.KeyReturn) // the plan has the keyboard
	for _, id := range h.Held {
		if read, _, _ := r.s.Job().Reading(id); !read.Aside {
			t.Errorf("%s is still in use", read.Kind.Words())
		}
	}
	moved := false
	for i, s := range r.s.Job().Flight.Steps {
		for c := range s.Corners {
			moved = moved || s.Corners[c] != demoJob(t, "tapering").Flight.Steps[i].Corners[c]
		}
	}
	if !moved {
		t.Error("the sketch has not moved")
	}
	if !r.s.Undo() || r.s.UndoLabel() != "" {
		t.Error("setting aside and moving is not one edit")
	}
}

func TestClicksAndKeysChooseInBothDrawings(t *testing.T) {
	r := newRig(t, demoJob(t, "tapering"))
	for _, c := range []*canvas.Canvas{r.b.Plan, r.b.Section} {
		r.d.Choose(0)
		r.frame()
		n := r.d.Steps()
		seen := map[int]bool{}
		for x := 2.0; x < float64(c.Size().Width)*density; x += 5 { // clicks along the middle find every step
			for _, y := range []float64{0.45, 0.6} {
				px := drawing.Point{X: x, Y: y * float64(c.Size().Height) * density}
				press(c, px)
				release(c, px)
				seen[r.d.Step()] = true
			}
		}
		if c == r.b.Plan && len(seen) < n {
			t.Errorf("clicks in the plan found only %d of %d steps", len(seen), n)
		}
		if len(seen) < 3 {
			t.Errorf("clicks in the %s found only %v", c.Name, seen)
		}
		r.d.Canvas.Focus(c)
		r.key(fyne.KeyHome)
		for i := 1; i <= n; i++ {
			if r.d.Step() != i {
				t.Fatalf("%s: after %d arrow keys step %d is chosen", c.Name, i-1, r.d.Step())
			}
			r.key(fyne.KeyRight)
		}
		r.key(fyne.KeyEscape)
		if r.d.Step() != 0 {
			t.Errorf("%s: Escape does not show the whole flight", c.Name)
		}
	}
}

// The pixel under the pointer stays under it while the wheel turns, and a
// double click shows everything again.
func TestWheelAndFit(t *testing.T) {
	r := newRig(t, demoJob(t, "well-behaved"))
	c := r.b.Plan
	fitted := c.View()
	at := drawing.Point{X: 200, Y: 120}
	scene := fitted.Scene(at)
	for _, turn := range []float32{10, 10, -10, 30} {
		e := &fyne.ScrollEvent{Scrolled: fyne.Delta{DY: turn}}
		e.Position = c.Place(at)
		c.Scrolled(e)
		r.frame()
		if d := c.View().Scene(at).Sub(scene).Len(); d > 1e-6 {
			t.Errorf("the scene slid by %g mm under the pointer", d)
		}
	}
	if c.View().Scale <= fitted.Scale {
		t.Error("not enlarged")
	}
	c.DoubleTapped(nil)
	r.frame()
	if math.Abs(c.View().Scale-fitted.Scale) > 1e-9 || c.View().Origin.Sub(fitted.Origin).Len() > 1e-6 {
		t.Errorf("fitted %+v, after all %+v", fitted, c.View())
	}
}
