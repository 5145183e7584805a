package solver_test

import (
	"context"
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"risewright/app/demo"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
	"risewright/solver/estimate"
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

// Bars that are laid out are fitted, bought and take hours without being wished
// for by name, and their wires climb where the lighting has them. A job without
// lighting and without the wish has none.
func TestLightingThatIsOnCountsAsLightBars(t *testing.T) {
	tab := published(t)
	for name, c := range map[string]struct {
		change func(*model.Job)
		bars   bool
		wires  string
	}{
		"laid out, left":  {func(j *model.Job) { j.Lighting.Cavity = model.CavityLeft }, true, "wires left"},
		"laid out, right": {func(j *model.Job) { j.Lighting.Cavity = model.CavityRight }, true, "wires right"},
		"off":             {func(j *model.Job) { j.Lighting = model.Lighting{} }, false, ""},
	} {
		job := load(t, "well-behaved")
		job.Wishes.LightBars = false
		c.change(&job)
		w := solver.Plan(solver.Solve(job, tab), tab)
		if w.Order.Status != fitting.Solved {
			t.Fatalf("%s: %s", name, w.Order.Why)
		}
		bars, wires, bases := 0, "", 0
		for _, k := range w.Order.Order {
			switch k.Kind {
			case fitting.Bar:
				bars++
			case fitting.Wires:
				wires += k.ID
			}
		}
		for _, r := range w.Buy.Rows {
			if r.Use == model.UseLightBase {
				bases++
			}
		}
		hours := map[string]float64{}
		for _, h := range w.Hours {
			hours[h.ID] = h.Hours.Likely
		}
		want := 0
		if c.bars {
			want = len(job.Flight.Steps)
		}
		if bars != want || wires != c.wires || (bases > 0) != c.bars || (hours["light-bars"] > 0) != c.bars || (hours["wiring"] > 0) != c.bars {
			t.Errorf("%s: %d bars of %d, %q, %d rows of base strip, hours %v", name, bars, want, wires, bases, hours)
		}
	}
}

// The calendar, the hours and the order tell one story: each evening has its
// day, its hours and its night, and the hours in all are those of the evenings
// and of the stages beside them.
func TestTheCalendarFollowsTheOrder(t *testing.T) {
	tab := published(t)
	for name, change := range map[string]func(*model.Job){
		"lit":     func(j *model.Job) { j.Wishes.LightBars, j.Wishes.Right.Wiring = true, true },
		"screwed": func(j *model.Job) { j.Wishes.Usable, j.Wishes.EveningHours, j.Shop.Householder = true, 5, true },
		"novices": func(j *model.Job) { j.Wishes.FirstTimer, j.Wishes.Coves, j.Wishes.Left.Battered = true, true, true },
	} {
		job := load(t, "well-behaved")
		job.Shop.Start = "2026-11-30"
		change(&job)
		w := solver.Plan(solver.Solve(job, tab), tab)
		if w.Order.Status != fitting.Solved {
			t.Fatalf("%s: %s", name, w.Order.Why)
		}
		beside := 0.0
		fitted := []string{"risers", "treads", "landing", "skirt-scribed", "skirt-straight", "open-side", "light-bars", estimate.Small}
		if job.Wishes.Right.Wiring || job.Lighting.On() {
			fitted = append(fitted, "wiring")
		}
		for _, h := range w.Hours {
			if !slices.Contains(fitted, h.ID) {
				beside += h.Hours.Likely
			}
		}
		if got := beside + w.Order.Plan.Minutes/60; math.Abs(got-w.Total.Likely) > 0.05 {
			t.Errorf("%s: the evenings and what is beside them take %.2f h, in all %.2f", name, got, w.Total.Likely)
		}
		seen := 0
		for _, d := range w.Calendar.Days {
			for _, x := range d.Work {
				if x.Evening == 0 {
					continue
				}
				seen++
				e := &w.Order.Plan.Evenings[x.Evening-1]
				if x.Evening != seen || math.Abs(x.Hours-e.Minutes/60) > 1e-9 || !reflect.DeepEqual(e.Holds, d.Hold[:len(e.Holds)]) && len(d.Hold) == len(e.Holds) {
					t.Errorf("%s: %s has %+v with %q, evening %d has %.1f min with %q", name, d.Date, x, d.Hold, seen, e.Minutes, e.Holds)
				}
				want := estimate.NightUsable
				if e.Closed {
					want = estimate.NightOff
				} else if len(e.Off) > 0 {
					want = estimate.NightStepOver
				}
				if d.Night != want {
					t.Errorf("%s: after evening %d: %s, the order says %s", name, seen, d.Night, want)
				}
			}
		}
		if seen != len(w.Order.Plan.Evenings) || seen == 0 {
			t.Errorf("%s: %d of %d evenings have a day", name, seen, len(w.Order.Plan.Evenings))
		}
		off := 0
		for _, d := range w.Calendar.Days {
			if d.Night == estimate.NightOff {
				off++
			}
		}
		if off != w.Order.Plan.Closed {
			t.Errorf("%s: the calendar shuts the stair on %d nights, the order on %d", name, off, w.Order.Plan.Closed)
		}
		if other, ok := w.Beside(len(w.Order.Candidates) - 1); ok {
			if _, has := other.Calendar.Evening(len(other.Order.Plan.Evenings)); !has {
				t.Errorf("%s: the order beside has no days of its own", name)
			}
		}
	}
	job := load(t, "well-behaved")
	job.Shop.Start = "2026-11-30"
	job.Wishes.Order = []model.OrderHint{{First: "T05", Then: "R05"}}
	if w := solver.Plan(solver.Solve(job, tab), tab); w.Order.Status == fitting.Solved || len(w.Calendar.Days) != 0 || len(w.Calendar.Notes) != 1 {
		t.Errorf("%s, and %d days", w.Order.Status, len(w.Calendar.Days))
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

// TestPlanGivenUp: a plan that nobody waits for any more ends at once, however
// long the flight.
func TestPlanGivenUp(t *testing.T) {
	job, err := demo.Long(60)
	if err != nil {
		t.Fatal(err)
	}
	pub := published(t)
	a := solver.Solve(job, pub)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if w, err := solver.PlanUntil(ctx, a, pub); w != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("%v, %v", w, err)
	}
}

// TestTooLongToMend: the search for changes says where it ends.
func TestTooLongToMend(t *testing.T) {
	job, err := demo.Long(301)
	if err != nil {
		t.Fatal(err)
	}
	pub := published(t)
	m := solver.Advise(solver.Solve(job, pub), pub)
	if m.Status != buildup.Unmended || !strings.Contains(m.Why, "up to 300 risers: this one has 301") {
		t.Errorf("%s: %s", m.Status, m.Why)
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
