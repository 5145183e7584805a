package panel_test

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/fitting"
	"risewright/view/drawing"
)

const (
	orderTab = 4
	buyTab   = 7
)

// planned runs the rest and the plan that the tab asked for.
func (r *rig) planned() {
	r.t.Helper()
	for range 4 { // the rest, the plan, and both again if it was stale
		r.run()
	}
	if len(r.later) != 0 {
		r.t.Fatalf("%d things still wait", len(r.later))
	}
}

func TestOrderIsPlannedOnlyWhenLookedAt(t *testing.T) {
	r := newRig(t, demoJob(t, "well-behaved"))
	if len(r.later) != 0 {
		t.Fatal("a plan nobody looks at is worked out")
	}
	r.b.ShowTab(orderTab)
	if s := shown(r); !strings.Contains(s, "Working out the order…") {
		t.Error("the tab does not say that it is working")
	}
	r.planned()
	w, fresh := r.d.Work()
	if w == nil || !fresh || w.Order.Status != fitting.Solved {
		t.Fatalf("no order: %+v", w)
	}
	s := shown(r)
	for _, want := range []string{w.Order.Winner[:20], "Evening 1", "walked on", w.Order.Order[0].ID} {
		if !strings.Contains(s, want) && !strings.Contains(strings.ToLower(s), strings.ToLower(want)) {
			t.Errorf("%q is not shown", want)
		}
	}
	if strings.ContainsRune(s, '\uFFFD') {
		t.Error("a mark beyond ASCII is broken")
	}
	n := len(r.later)
	r.b.ShowTab(0)
	r.b.ShowTab(orderTab)
	if len(r.later) != n {
		t.Error("the same job is planned twice")
	}
}

func TestAWishIsTickedAndAnOldPlanDropped(t *testing.T) {
	r := newRig(t, demoJob(t, "well-behaved"))
	r.b.ShowTab(orderTab)
	r.run() // it has rested; the plan is under way
	r.d.GoTo(model.Place{Field: "wishes.right.wiring"})
	r.w.Canvas().Focused().TypedRune(' ')
	if !r.s.Job().Wishes.Right.Wiring {
		t.Fatal("the wish is not in the job")
	}
	r.run() // the plan of the job before the wish
	if w, _ := r.d.Work(); w != nil {
		t.Error("a plan of the job before the wish is shown")
	}
	r.planned()
	w, fresh := r.d.Work()
	if w == nil || !fresh || !w.Order.Right.Removable() {
		t.Fatal("the wish is not heard")
	}
	r.d.GoTo(model.Place{Field: "wishes.evening_hours"})
	r.typed("25")
	r.key(fyne.KeyReturn)
	if r.s.Job().Wishes.EveningHours != 0 || !strings.Contains(shown(r), "no number of hours") {
		t.Error("25 hours an evening are taken")
	}
	r.typed("2,5")
	r.key(fyne.KeyReturn)
	if got := r.s.Job().Wishes.EveningHours; got != 2.5 {
		t.Errorf("evening hours %g", got)
	}
	if _, fresh := r.d.Work(); fresh {
		t.Error("the old plan counts as new")
	}
	if !strings.Contains(shown(r), "before the last change") {
		t.Error("it is not said that the plan shown is old")
	}
}

func TestARefusalNamesTheTrappedPiece(t *testing.T) {
	job := demoJob(t, "well-behaved")
	job.Wishes = model.Wishes{
		Left: model.SideWish{Keep: true, NoFalse: true}, Right: model.SideWish{Keep: true, NoFalse: true},
		Order: []model.OrderHint{{First: "T05", Then: "T02"}}, Back: model.BackUnderRiser,
	}
	r := newRig(t, job)
	r.b.ShowTab(orderTab)
	r.planned()
	w, _ := r.d.Work()
	if w.Order.Status != fitting.Refused || len(w.Order.Refusals) == 0 {
		t.Fatalf("%s", w.Order.Status)
	}
	s := shown(r)
	if !strings.Contains(s, "is trapped") || !strings.Contains(s, w.Order.Refusals[0].Trapped) || !strings.Contains(s, "it would have to come from") {
		t.Error("the trapped piece and its way are not told")
	}
	r.tapText("Show it")
	if r.d.Piece() != w.Order.Refusals[0].Trapped {
		t.Errorf("%q is chosen", r.d.Piece())
	}
}

func TestTasksAreWalkedThrough(t *testing.T) {
	r := newRig(t, demoJob(t, "well-behaved"))
	r.b.ShowTab(orderTab)
	r.planned()
	w, _ := r.d.Work()
	for i := range w.Order.Order {
		r.d.ShowTask(i)
		at, of := r.d.Task()
		if at != i || of != len(w.Order.Order) {
			t.Fatalf("task %d of %d is shown, not %d", at, of, i)
		}
		k := &w.Order.Order[i]
		if r.s.Answer().Piece(k.ID) >= 0 && r.d.Piece() != k.ID {
			t.Errorf("%s is chosen at task %s", r.d.Piece(), k.ID)
		}
	}
	r.d.ShowTask(1 << 20)
	if at, of := r.d.Task(); at != of {
		t.Errorf("beyond the last task %d of %d", at, of)
	}
}

// The slider under the drawings and its keys walk through the order; the
// drawings show it only while the tab is open.
func TestTheOrderIsPlayed(t *testing.T) {
	r := newRig(t, demoJob(t, "well-behaved"))
	if strings.Contains(shown(r), "Beside it") {
		t.Error("the slider is shown before anybody looks at the order")
	}
	r.b.ShowTab(orderTab)
	r.planned()
	if !strings.Contains(shown(r), "Beside it") {
		t.Error("no slider")
	}
	w, _ := r.d.Work()
	first, n := r.d.Task()
	if w.Order.Order[first].InPlace {
		t.Error("it begins with what is there already")
	}
	r.w.Canvas().Focus(r.b.Section)
	for range 3 {
		r.key(fyne.KeyRight)
	}
	r.key(fyne.KeyLeft)
	if at, _ := r.d.Task(); at != first+2 {
		t.Errorf("after three right and one left task %d, from %d", at, first)
	}
	r.frame()
	if !strings.Contains(shown(r), w.Order.Order[first+2].ID) {
		t.Error("the task is not named")
	}
	r.key(fyne.KeyEnd)
	if at, _ := r.d.Task(); at != n {
		t.Errorf("End leads to task %d of %d", at, n)
	}
	r.frame()
	previews := r.previews
	press(r.b.Plan, r.b.Plan.View().Pixel(drawing.Point{X: 500, Y: -400}))
	pull(r.b.Plan, r.b.Plan.View().Pixel(drawing.Point{X: 540, Y: -400}))
	release(r.b.Plan, r.b.Plan.View().Pixel(drawing.Point{X: 540, Y: -400}))
	if r.previews != previews || r.s.UndoLabel() != "" {
		t.Error("the survey is dragged while the order is looked at")
	}
	r.b.ShowTab(0)
	if strings.Contains(shown(r), "Beside it") {
		t.Error("the slider stays when another tab is shown")
	}
}

// Whichever candidate is laid beside the winner is the one that was asked for.
func TestOrdersBesideEachOther(t *testing.T) {
	for _, name := range []string{"well-behaved", "tapering"} {
		t.Run(name, func(t *testing.T) {
			r := newRig(t, demoJob(t, name))
			r.b.ShowTab(orderTab)
			r.planned()
			w, _ := r.d.Work()
			for i := 1; i < len(w.Order.Candidates); i++ {
				r.d.ShowBeside(i)
				r.run()
				c := &w.Order.Candidates[i]
				other, why := r.d.Other()
				if other == nil {
					t.Errorf("candidate %d, %s: %s", i, c.Words(), why)
					continue
				}
				if other.Order.Left != c.Left || other.Order.Right != c.Right || other.Order.Back != c.Back {
					t.Errorf("candidate %d is %s, shown is %s", i, c.Words(), other.Order.Candidates[0].Words())
				}
				r.frame()
			}
			r.d.ShowBeside(0)
			if other, _ := r.d.Other(); other != nil {
				t.Error("it stays when it is taken away")
			}
		})
	}
}

// A wish for one piece before another is chosen, heard, refused where it
// cannot be built, and taken back.
func TestWhatGoesInFirstIsChosen(t *testing.T) {
	r := newRig(t, demoJob(t, "well-behaved"))
	r.b.ShowTab(orderTab)
	r.planned()
	before, _ := r.d.Work()
	at := func(w *solver.Work, id string) int {
		return slices.IndexFunc(w.Order.Order, func(k fitting.Task) bool { return k.ID == id })
	}
	if at(before, "T02") > at(before, "R08") {
		t.Fatal("riser 8 goes in before tread 2 already: the wish would show nothing")
	}
	choose := func(letters string) {
		on := r.w.Canvas().Focused().(interface {
			Words() []string
			Take(int)
		})
		i := slices.Index(on.Words(), letters)
		if i < 0 {
			t.Fatalf("%q is not offered: %q", letters, on.Words())
		}
		on.Take(i)
	}
	wish := func(first, then string) {
		r.d.GoTo(model.Place{Field: "wishes.order"})
		choose(first)
		r.d.GoTo(model.Place{Field: "wishes.order.then"})
		choose(then)
		r.tapText("Add")
	}
	wish("all risers", "all risers")
	if len(r.s.Job().Wishes.Order) != 0 || !strings.Contains(shown(r), "two different ones") {
		t.Error("risers go in before themselves")
	}
	wish("all risers", "all treads")
	if got := r.s.Job().Wishes.Order; len(got) != 1 || got[0] != (model.OrderHint{First: "risers", Then: "treads"}) {
		t.Fatalf("wished for: %+v", got)
	}
	r.planned()
	w, _ := r.d.Work()
	if w.Order.Status != fitting.Solved || at(w, "R08") > at(w, "T02") {
		t.Errorf("%s; riser 8 is number %d, tread 2 number %d", w.Order.Status, at(w, "R08"), at(w, "T02"))
	}
	if !strings.Contains(shown(r), "All risers before all treads") {
		t.Error("the wish is not listed")
	}
	wish("all risers", "all treads")
	if len(r.s.Job().Wishes.Order) != 1 || !strings.Contains(shown(r), "wished for already") {
		t.Error("the same is wished for twice")
	}
	wish("T05 tread", "R03 riser")
	r.planned()
	if w, _ := r.d.Work(); w.Order.Status != fitting.Refused || !strings.Contains(shown(r), "T05") {
		t.Errorf("what contradicts itself is %s", w.Order.Status)
	}
	r.tapText("✕")
	r.tapText("✕")
	if len(r.s.Job().Wishes.Order) != 0 {
		t.Errorf("taken back, and left: %+v", r.s.Job().Wishes.Order)
	}
}
