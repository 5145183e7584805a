package solver_test

import (
	"reflect"
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/fitting"
	"risewright/solver/pieces"
	"risewright/solver/skirt"
)

// The work of the demo jobs: an order in which everything gets in, a board for
// each side that has one, and a buying list that covers every piece.
func TestWorkOfTheDemoJobs(t *testing.T) {
	tab := published(t)
	for _, name := range []string{"well-behaved", "tapering", "unfinished", "winding"} {
		t.Run(name, func(t *testing.T) {
			job := load(t, name)
			job.Shop.Start = "2026-11-30"
			a := solver.Solve(job, tab)
			w := solver.Plan(a, tab)
			if w.Order.Status != fitting.Solved {
				t.Fatalf("%s: %s", w.Order.Status, w.Order.Why)
			}
			placed := map[string]int{}
			for i, k := range w.Order.Order {
				placed[k.ID] = i + 1
			}
			for _, p := range a.Pieces {
				if placed[p.ID] == 0 {
					t.Errorf("%s is never fitted", p.ID)
				}
			}
			for n := 1; n < len(job.Flight.Steps); n++ {
				kind := pieces.Tread
				if job.Flight.Steps[n-1].Landing {
					kind = pieces.LandingNosing
				}
				r, tr := placed[pieces.Label(pieces.Riser, n)], placed[pieces.Label(kind, n)]
				if r > tr {
					t.Errorf("tread %d lies before its riser stands", n)
				}
			}
			for side, d := range [2]fitting.Decision{w.Order.Left, w.Order.Right} {
				_, ok := w.Board(pieces.Side(side))
				if has := d.Board == fitting.KeptSkirt || d.Board == fitting.NewSkirt || d.Board == fitting.FalseBoard; has != ok && name != "winding" { // no straight board follows that
					t.Errorf("%s: %s, but a board for it: %v", pieces.Side(side), d.Board, ok)
				}
			}
			if len(w.Buy.Rows) == 0 || w.Buy.Total < w.Buy.Lower || w.Buy.Early == (a.Released() == len(a.Cards)) {
				t.Errorf("%d rows, %g of at least %g, early %v", len(w.Buy.Rows), w.Buy.Total, w.Buy.Lower, w.Buy.Early)
			}
			if w.Total.Low <= 0 || w.Total.Low > w.Total.Likely || w.Total.Likely > w.Total.High || w.Money.Total.High < w.Money.Total.Likely {
				t.Errorf("hours %+v, money %+v", w.Total, w.Money.Total)
			}
			if len(w.Calendar.Days) == 0 || w.Calendar.Days[0].Date.Format("2006-01-02") < job.Shop.Start {
				t.Errorf("%d days", len(w.Calendar.Days))
			}
			if len(w.Movement.Treads) == 0 || w.Movement.Treads[0].Swing <= 0 {
				t.Errorf("no movement: %+v", w.Movement.Treads)
			}
			if name != "unfinished" { // once is enough: it takes a second
				return
			}
			if again := solver.Plan(solver.Solve(job, tab), tab); !reflect.DeepEqual(w, again) {
				t.Error("two plans of one job differ")
			}
		})
	}
}

// What is bought for a new skirt holds the skirt that was drawn, or says that
// nothing listed does.
func TestTheSkirtBoughtHoldsTheSkirtDrawn(t *testing.T) {
	tab := published(t)
	for _, name := range []string{"well-behaved", "tapering"} {
		job := load(t, name)
		job.Wishes.Left.Battered, job.Wishes.Right.Battered = true, true
		w := solver.Plan(solver.Solve(job, tab), tab)
		widest, sides := 0.0, 0
		for _, side := range []pieces.Side{pieces.Left, pieces.Right} {
			if b, ok := w.Board(side); ok && b.Treatment != skirt.Kept {
				widest, sides = max(widest, b.Width), sides+1
			}
		}
		if sides == 0 {
			t.Errorf("%s: no new board was drawn, so nothing is tested", name)
		}
		for _, c := range w.Buy.Cuts {
			if c.Use == model.UseSkirt && c.Width > 0 && c.Width < widest-1e-6 {
				t.Errorf("%s: boards %g mm wide are bought for a skirt of %g", name, c.Width, widest)
			}
		}
	}
}

// A wish is heard: wires on the right are within reach.
func TestWishesReachTheOrder(t *testing.T) {
	tab := published(t)
	job := load(t, "well-behaved")
	job.Wishes = model.Wishes{Right: model.SideWish{Wiring: true}, LightBars: true}
	w := solver.Plan(solver.Solve(job, tab), tab)
	if w.Order.Status != fitting.Solved || !w.Order.Right.Removable() {
		t.Errorf("%s, right side %+v: %s", w.Order.Status, w.Order.Right, w.Order.Why)
	}
	bars := 0
	for _, k := range w.Order.Order {
		if k.Kind == fitting.Bar {
			bars++
		}
	}
	if bars != len(job.Flight.Steps) {
		t.Errorf("%d light bars for %d risers", bars, len(job.Flight.Steps))
	}
}

func TestWorkOfAJobThatCannotBeSolved(t *testing.T) {
	job := load(t, "well-behaved")
	job.Tolerance = 0
	w := solver.Plan(solver.Solve(job, published(t)), published(t))
	if w.Order.Status != fitting.NoShape || !strings.Contains(w.Order.Why, "could not be solved") || len(w.Buy.Rows) != 0 {
		t.Errorf("%s: %s", w.Order.Status, w.Order.Why)
	}
}

// BenchmarkPlan times the order, the buying list and the rest for 14 steps.
func BenchmarkPlan(b *testing.B) {
	tab := published(b)
	a := solver.Solve(load(b, "tapering"), tab)
	for b.Loop() {
		solver.Plan(a, tab)
	}
}
