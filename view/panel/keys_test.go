package panel_test

import (
	"bytes"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"risewright/view/canvas"
)

// canvasCalled returns the drawing of a name that is shown.
func (r *rig) canvasCalled(name string) *canvas.Canvas {
	r.t.Helper()
	for _, o := range test.LaidOutObjects(r.w.Content()) {
		if c, ok := o.(*canvas.Canvas); ok && c.Name == name {
			return c
		}
	}
	r.t.Fatalf("no drawing %q is shown", name)
	return nil
}

// paint draws one frame of a drawing.
func (r *rig) paint(c *canvas.Canvas) {
	frameOf(r.t, c)(int(c.Size().Width*density), int(c.Size().Height*density))
}

// Every handle of every drawing is come to by H, moved by the arrow keys, let go
// by Enter and put back by Escape; and what that did is one step to undo.
func TestEveryHandleByKeyboard(t *testing.T) {
	things := func(t *testing.T) *rig {
		r := sensed(t)
		for _, b := range []string{"Somebody in the hall", "A door", "A radiator"} {
			r.tapText(b)
		}
		r.settled()
		r.frame()
		return r
	}
	lit := func(t *testing.T) *rig {
		r := newRig(t, litJob(t, "tapering"))
		r.b.ShowTab(lightsTab)
		r.settled()
		r.frame()
		return r
	}
	for _, row := range []struct {
		name, drawing string
		rig           func(*testing.T) *rig
		step          int
		least         int      // handles
		have          []string // in their hints
	}{
		{"step 5", "Plan", func(t *testing.T) *rig { return newRig(t, demoJob(t, "tapering")) }, 5, 6,
			[]string{"T05, front left corner", "T05, back right corner", "T05, left side", "T05, nosing line"}},
		{"the landing", "Plan", func(t *testing.T) *rig { return newRig(t, smallJob(t, 3)) }, 3, 6, []string{"Depth of the landing"}},
		{"step 5", "Section", func(t *testing.T) *rig { return newRig(t, demoJob(t, "tapering")) }, 5, 4,
			[]string{"existing tread", "Overhang", "finish on the bottom floor", "finish on the top floor"}},
		{"whole flight", "Section", func(t *testing.T) *rig { return newRig(t, smallJob(t, 3)) }, 0, 5, nil},
		{"lights", "Plan", lit, 5, 9, []string{"Box with supply", "The feeder joins", "The wires climb"}},
		{"lights", "Section", lit, 5, 6, []string{"Box with supply", "The feeder joins"}},
		{"sensors", "Plan", things, 5, 19, []string{"1 bottom, its place", " top, its place", "zone begins", "zone ends", "Somebody in the hall, this end", "Door, this end", "Radiator, the whole"}},
		{"sensors", "Section", things, 5, 9, []string{"1 bottom, its place", "zone begins", "zone ends"}},
		{"sensors", "Zones of the sensors", things, 5, 2, []string{"zone begins", "zone ends"}},
	} {
		t.Run(row.drawing+", "+row.name, func(t *testing.T) {
			r := row.rig(t)
			r.d.Choose(row.step)
			c := r.canvasCalled(row.drawing)
			r.paint(c)
			r.d.Canvas.Focus(c)
			var hints []string
			for len(hints) < 60 {
				c.TypedRune('h')
				hint := r.d.Hint()
				if len(hints) > 0 && hint == hints[0] {
					break
				}
				if !strings.Contains(hint, "arrow keys move it") || strings.Contains(hint, "drag") {
					t.Errorf("handle %d is introduced by %q", len(hints)+1, hint)
				}
				hints = append(hints, hint)
				r.oneMoves(t, c, hint)
			}
			all := strings.Join(hints, "\n")
			for _, want := range row.have {
				if !strings.Contains(all, want) {
					t.Errorf("no handle with %q among\n%s", want, all)
				}
			}
			if len(hints) < row.least || len(hints) == 60 {
				t.Errorf("%d handles:\n%s", len(hints), all)
			}
		})
	}
}

// oneMoves moves the handle that the keyboard is at, and takes that back twice:
// by Escape, and by one undo.
func (r *rig) oneMoves(t *testing.T, c *canvas.Canvas, hint string) {
	t.Helper()
	before := encoded(t, r.s.Job())
	done := r.s.UndoLabel()
	moves := func() bool {
		for _, k := range []fyne.KeyName{fyne.KeyLeft, fyne.KeyUp, fyne.KeyRight, fyne.KeyRight, fyne.KeyDown, fyne.KeyDown, fyne.KeyLeft} {
			for range 3 {
				r.shiftKey(k)
				r.paint(c)
				if !bytes.Equal(encoded(t, r.d.Answer().Job), before) {
					return true
				}
			}
		}
		return false
	}
	if !moves() {
		t.Errorf("%q: it does not move", hint)
		return
	}
	r.key(fyne.KeyEscape)
	if r.d.Answer() != r.s.Answer() || !bytes.Equal(encoded(t, r.s.Job()), before) {
		t.Errorf("%q: Escape does not put it back", hint)
	}
	c.TypedRune('H') // on from the one before, and so back to it
	c.TypedRune('h')
	if !strings.HasPrefix(r.d.Hint(), strings.SplitN(hint, ": ", 2)[0]) {
		t.Errorf("after Escape, back and on the keyboard is at %q, not at %q", r.d.Hint(), hint)
	}
	moves()
	r.key(fyne.KeyReturn)
	if words, _ := r.d.Held(); words != "" {
		r.key(fyne.KeyReturn)
	}
	if bytes.Equal(encoded(t, r.s.Job()), before) {
		t.Errorf("%q: Enter leaves the job as it was; %v", hint, r.errs)
		return
	}
	r.s.Undo()
	r.d.Answered()
	if !bytes.Equal(encoded(t, r.s.Job()), before) || r.s.UndoLabel() != done {
		t.Errorf("%q: letting go is not one step to undo", hint)
	}
	r.settled()
	r.paint(c)
}
