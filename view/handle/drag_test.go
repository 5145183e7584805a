package handle_test

import (
	"math"
	"os"
	"testing"

	"risewright/model"
	"risewright/view/drawing"
	"risewright/view/handle"
)

// followsWithin is how near, in mm, a free handle must come to the pointer. A
// drag stops trying at a quarter of that.
const followsWithin = 1.0

func TestFreeHandlesFollowThePointer(t *testing.T) {
	flights := []int{2, 5}
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		flights = append(flights, 14, 40)
	}
	for _, n := range flights {
		job := unread(t, n)
		a := solve(t, job)
		for _, o := range []handle.Options{{}, {Upright: true}, {WholeSide: true}, {Exaggerate: 5}} {
			for _, h := range all(a, o) {
				if n > 5 && h.ID.Step > 1 && h.ID.Step != n/2 && h.ID.Step != n {
					continue
				}
				if len(h.Held) > 0 {
					t.Fatalf("%s: held by %v, though nothing is read", h.Words, h.Held)
				}
				for _, d := range []point{{X: 31, Y: -17}, {X: -40, Y: 23}} {
					if h.ID.Kind == handle.Overhang || h.ID.Kind == handle.LandingDepth {
						d = d.Mul(0.4) // an overhang is 25 to 30 mm
					}
					d = within(h, d)
					if h.ID.Kind == handle.FloorBottom || h.ID.Kind == handle.FloorTop {
						d.Y = math.Abs(d.Y) // a floor is laid, not dug out
					}
					e, err := handle.Drag(job, a, h.ID, h.At, h.At.Add(d), o)
					if err != nil {
						t.Fatalf("%d steps, %s: %v", n, h.Words, err)
					}
					b := solve(t, apply(t, e, job))
					got := find(t, b, o, h.ID).At.Sub(h.At)
					if got.Sub(d).Len() > followsWithin {
						t.Errorf("%d steps, %s: dragged by %.2f, moved by %.2f (upright %v, whole side %v, ×%v)",
							n, h.Words, d, got, o.Upright, o.WholeSide, o.Factor())
					}
				}
			}
		}
	}
}

// A whole side moved by 25 mm leaves the other where it is.
func TestWholeSideMovesOneSideOfTheFlight(t *testing.T) {
	job := unread(t, 8)
	a := solve(t, job)
	o := handle.Options{WholeSide: true}
	id := handle.ID{Kind: handle.SideLine, Step: 3, Side: model.Left}
	h := find(t, a, o, id)
	e, err := handle.Drag(job, a, id, h.At, h.At.Add(point{Y: 25}), o) // up the drawing is to the left
	if err != nil {
		t.Fatal(err)
	}
	b := solve(t, apply(t, e, job))
	for i := range b.Survey.Steps {
		s, was := &b.Survey.Steps[i], &a.Survey.Steps[i]
		for _, c := range []int{s.FL, s.BL} {
			if !near(s.Corners[c][0], was.Corners[c][0]-25, followsWithin) {
				t.Errorf("step %d: left at %.2f, want %.2f", i+1, s.Corners[c][0], was.Corners[c][0]-25)
			}
		}
		for _, c := range []int{s.FR, s.BR} {
			if !near(s.Corners[c][0], was.Corners[c][0], followsWithin) {
				t.Errorf("step %d: right at %.2f, want %.2f", i+1, s.Corners[c][0], was.Corners[c][0])
			}
		}
	}
}

// heldFigures are the figures of an opening that its readings hold.
var heldFigures = []model.Kind{
	model.FrontWidth, model.BackWidth, model.LeftDepth, model.RightDepth, model.DiagonalLeft, model.DiagonalRight, model.RiseLeft, model.RiseRight,
}

// On a flight that is read all over, no drag of 6 mm changes an opening by more
// than a tenth of a millimetre. The flight as a whole lies where the sketches
// of all its corners put it on average, so it may shift a little without
// changing shape; the figures do not see that.
func TestHeldHandlesStay(t *testing.T) {
	const stays = 0.1
	job := demo(t, "well-behaved")
	a := solve(t, job)
	var o handle.Options
	seen := map[handle.Kind]int{}
	for _, h := range all(a, o) {
		switch h.ID.Kind {
		case handle.Corner, handle.SideLine, handle.NosingLine, handle.TreadHeight:
		default:
			continue
		}
		if s := h.ID.Step; s != 1 && s != 6 && s != 7 {
			continue
		}
		if len(h.Held) == 0 {
			t.Errorf("%s: free, on a flight that is read all over", h.Words)
			continue
		}
		seen[h.ID.Kind]++
		d := within(h, point{X: 5, Y: 4})
		e, err := handle.Drag(job, a, h.ID, h.At, h.At.Add(d), o)
		if err != nil {
			t.Fatalf("%s: %v", h.Words, err)
		}
		moved := apply(t, e, job)
		b := solve(t, moved)
		for i := range a.Survey.Steps {
			for _, k := range heldFigures {
				f, ok := a.Survey.Steps[i].Figure(k)
				g, _ := b.Survey.Steps[i].Figure(k)
				if ok && !near(f.Value, g.Value, stays) {
					t.Errorf("%s: %s of step %d went from %.3f to %.3f", h.Words, k.Words(), i+1, f.Value, g.Value)
				}
			}
		}
		// three corners of 52, and the lever of the first step
		if at := find(t, b, o, h.ID).At; at.Sub(h.At).Len() > d.Len()/3 {
			t.Errorf("%s: the estimate went from %.2f to %.2f", h.Words, h.At, at)
		}
		// the sketch moved by the pointer's way: that is what the ghost shows
		if h.ID.Kind == handle.Corner {
			i, c := h.ID.Step-1, h.ID.Corner
			was, now := job.Flight.Steps[i].Corners[c], moved.Flight.Steps[i].Corners[c]
			if got := (point{X: float64(now.Y - was.Y), Y: -float64(now.X - was.X)}); got.Sub(d).Len() > 1e-9 {
				t.Errorf("%s: the sketch moved by %.3f, the pointer by %.3f", h.Words, got, d)
			}
		}
	}
	for _, k := range []handle.Kind{handle.Corner, handle.SideLine, handle.NosingLine, handle.TreadHeight} {
		if seen[k] == 0 {
			t.Errorf("no held %s was dragged", k)
		}
	}
}

func TestReleaseFreesTheHandleInOneEdit(t *testing.T) {
	job := demo(t, "well-behaved")
	a := solve(t, job)
	var o handle.Options
	for _, id := range []handle.ID{
		{Kind: handle.Corner, Step: 6, Corner: 2},
		{Kind: handle.SideLine, Step: 6, Side: model.Right},
		{Kind: handle.NosingLine, Step: 6},
		{Kind: handle.TreadHeight, Step: 6},
	} {
		h := find(t, a, o, id)
		d := within(h, point{X: 14, Y: -11})
		e, err := handle.Release(job, a, id, h.At, h.At.Add(d), o)
		if err != nil {
			t.Fatalf("%s: %v", h.Words, err)
		}
		after := apply(t, e, job)
		for _, r := range h.Held {
			if got, _, ok := after.Reading(r); !ok || !got.Aside {
				t.Errorf("%s: reading %s is not set aside", h.Words, r)
			}
		}
		// Before it is moved, nothing holds it any more. Once it is, a corner
		// may have come out of line so far that a depth beside it does.
		aside := apply(t, e.(model.Batch).Edits[0], job)
		if left := handle.HeldBy(solve(t, aside), id); len(left) > 0 {
			t.Errorf("%s: still held by %v", h.Words, left)
		}
		b := solve(t, after)
		if got := find(t, b, o, id).At.Sub(h.At); got.Sub(d).Len() > 2*followsWithin {
			t.Errorf("%s: released by %.2f, moved by %.2f", h.Words, d, got)
		}
	}
}

func TestSnap(t *testing.T) {
	if handle.SnapOf(model.Metric) != 1 || handle.SnapOf(model.Imperial) != model.Length(25.4/16) {
		t.Fatal("drags snap to 1 mm and 1/16 in")
	}
	job := unread(t, 4)
	job.Overlay.FloorBottom = 3.3
	a := solve(t, job)
	o := handle.Options{Snap: 1}
	h := find(t, a, o, handle.ID{Kind: handle.FloorBottom})
	e, err := handle.Drag(job, a, h.ID, h.At, h.At.Add(point{Y: 4.4}), o)
	if err != nil {
		t.Fatal(err)
	}
	if got := apply(t, e, job).Overlay.FloorBottom; got != 8 {
		t.Errorf("floor at %v, want 8: 3.3 + 4.4 on a whole millimetre", got)
	}
	h = find(t, a, o, handle.ID{Kind: handle.TreadHeight, Step: 2})
	e, err = handle.Drag(job, a, h.ID, h.At, h.At.Add(point{Y: 4.4}), o)
	if err != nil {
		t.Fatal(err)
	}
	b := solve(t, apply(t, e, job))
	if got := b.Survey.Steps[1].TopLeft - a.Survey.Steps[1].TopLeft; !near(got, 4, 1e-6) {
		t.Errorf("tread moved by %v, want 4", got)
	}
	// a move of less than half a step is none
	if e, err = handle.Drag(job, a, h.ID, h.At, h.At.Add(point{Y: 0.4}), o); e != nil || err != nil {
		t.Errorf("a drag of 0.4 mm gives %v, %v; want nothing", e, err)
	}
}

func TestDragsThatCannotBe(t *testing.T) {
	job := unread(t, 4)
	a := solve(t, job)
	for _, id := range []handle.ID{
		{}, {Kind: handle.Corner, Step: 9}, {Kind: handle.Corner, Step: 1, Corner: 7},
		{Kind: handle.SideLine, Step: 1, Side: model.Front}, {Kind: handle.LandingDepth, Step: 2},
		{Kind: handle.Rail, Step: 1}, {Kind: handle.TreadHeight, Step: -1},
	} {
		if e, err := handle.Drag(job, a, id, point{}, point{X: 5, Y: 5}, handle.Options{}); err == nil {
			t.Errorf("%+v: no error, edit %v", id, e)
		}
	}
	// the answer of another flight
	id := handle.ID{Kind: handle.Corner, Step: 1}
	if _, err := handle.Drag(unread(t, 7), a, id, point{}, point{X: 5}, handle.Options{}); err == nil {
		t.Error("a drag on the answer of another flight gives no error")
	}
}

func TestHit(t *testing.T) {
	job := unread(t, 6)
	a := solve(t, job)
	for _, o := range []handle.Options{{}, {Upright: true}, {Exaggerate: 5}} {
		v := drawing.Viewport{Scale: 0.5, Origin: point{X: 100, Y: 300}, Paper: drawing.PaperScale(1)}
		hs := all(a, o)
		for _, h := range hs {
			got, ok := handle.Hit(hs, v, v.Pixel(h.At).Add(point{X: 1, Y: -1}), 6)
			if !ok || got.At.Sub(h.At).Len() > 3 {
				t.Errorf("%s: hit %v %q", h.Words, ok, got.Words)
			}
		}
		if h, ok := handle.Hit(hs, v, point{X: -500, Y: -500}, 6); ok {
			t.Errorf("far from everything: hit %s", h.Words)
		}
	}
}

// An id is found again after an edit, so that a drag can go on.
func TestIDsOutliveTheEdit(t *testing.T) {
	job := unread(t, 5)
	a := solve(t, job)
	seen := map[handle.ID]bool{}
	for _, h := range all(a, handle.Options{}) {
		if seen[h.ID] {
			t.Errorf("%s: two handles have the id %+v", h.Words, h.ID)
		}
		if h.Words == "" {
			t.Errorf("%+v has no words", h.ID)
		}
		seen[h.ID] = true
	}
	job.Overlay.FloorTop = 12
	b := solve(t, job)
	for _, h := range all(b, handle.Options{}) {
		if !seen[h.ID] {
			t.Errorf("%s: new id %+v", h.Words, h.ID)
		}
	}
}
