package estimate_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver/estimate"
	"risewright/solver/stock"
)

func labour(t testing.TB) model.Labour {
	t.Helper()
	var all model.Tables
	if err := tables.Trade(&all); err != nil {
		t.Fatal(err)
	}
	return all.Labour
}

// the flight of the trade's hours: 14 risers, 13 treads, both skirts straight,
// lights under every nose.
var usual = estimate.Work{Risers: 14, Treads: 13, PlainSkirts: 2, LightBars: 14}

// The trade's own sum, from memory: about 60 to 70 hours for a professional, a
// quarter of it lighting, and a householder twice that. Its rows come to 46.5
// to 69.2 for this flight: worked by hand below.
func TestHours(t *testing.T) {
	l := labour(t)
	rows, sum := estimate.Hours(l, usual)
	low := 1 + 2 + 1 + 2 + 14*0.15 + 14*0.3 + 14*0.2 + 4 + 14*0.3 + 13*0.6 + 2*1.5 + 1 + 14*0.3 + 4 + 6
	high := 2 + 3 + 1 + 3 + 14*0.25 + 14*0.5 + 14*0.3 + 6 + 14*0.4 + 13*0.9 + 2*2 + 2 + 14*0.5 + 6 + 8
	if math.Abs(sum.Low-low) > 1e-9 || math.Abs(sum.High-high) > 1e-9 {
		t.Errorf("%v, want %v to %v", sum, low, high)
	}
	if sum.Likely < 60 || sum.Likely > 70 {
		t.Errorf("likeliest %v, the trade says 60 to 70", sum.Likely)
	}
	light := 0.0
	for _, r := range rows {
		if r.ID == "wiring" || r.ID == "light-bars" || r.ID == "controls" {
			light += r.Hours.Likely
		}
		if r.Standing != model.Memory {
			t.Errorf("%s: standing %s", r.ID, r.Standing)
		}
	}
	if part := light / sum.Likely; part < 0.2 || part > 0.3 {
		t.Errorf("lighting takes %.2f of it, the trade says a quarter", part)
	}
	home := usual
	home.Householder = true
	if _, h := estimate.Hours(l, home); math.Abs(h.Likely-2*sum.Likely) > 1e-9 {
		t.Errorf("a householder takes %v for %v", h.Likely, sum.Likely)
	}
	if rows, sum := estimate.Hours(l, estimate.Work{}); len(rows) == 0 || sum.Low <= 0 {
		t.Error("even an empty stair is looked at")
	}
	// Twice the stair takes twice as much of all that is counted by the piece.
	double := estimate.Work{Risers: 28, Treads: 26, PlainSkirts: 4, LightBars: 28}
	_, two := estimate.Hours(l, double)
	fixed := 1.5 + 2.5 + 1 + 2.5 + 5 + 1.5 + 5 + 7 // job and lighting rows, likely
	if math.Abs(two.Likely-(2*sum.Likely-fixed)) > 1e-9 {
		t.Errorf("twice the stair takes %v, want %v", two.Likely, 2*sum.Likely-fixed)
	}
}

func TestWorkOf(t *testing.T) {
	j := model.Job{}
	for i := range 5 {
		s := model.Step{Left: model.Side{Kind: model.Wall}, Right: model.Side{Kind: model.Wall}}
		if i < 3 {
			s.Right.Kind = model.Open
		}
		j.Flight.Steps = append(j.Flight.Steps, s)
	}
	if w := estimate.WorkOf(j, 1, true, 5); w != (estimate.Work{Risers: 5, Treads: 4, ScribedSkirts: 1, OpenSteps: 3, LightBars: 5}) {
		t.Errorf("%+v", w)
	}
	if w := estimate.WorkOf(model.Job{}, 0, false, 0); w != (estimate.Work{}) {
		t.Errorf("%+v", w)
	}
}

func TestCost(t *testing.T) {
	l := labour(t)
	p := stock.Plan{Currency: "coins", Total: 1000, Lower: 900, Rows: []stock.Row{{Missing: true}}}
	m := estimate.Cost(l, usual, estimate.Range{Low: 50, Likely: 60, High: 70}, p)
	want := estimate.Range{Low: (50*45 + 900) * 1.10, Likely: (60*60 + 1000) * 1.15, High: (70*90 + 1200) * 1.20}
	for _, v := range [][2]float64{{m.Total.Low, want.Low}, {m.Total.Likely, want.Likely}, {m.Total.High, want.High}} {
		if math.Abs(v[0]-v[1]) > 1e-6 {
			t.Errorf("%+v, want %+v", m.Total, want)
		}
	}
	if m.Currency != "coins" || len(m.Notes) != 1 {
		t.Errorf("%+v", m)
	}
	home := usual
	home.Householder = true
	if m := estimate.Cost(l, home, estimate.Range{Low: 50, Likely: 60, High: 70}, p); m.Labour != (estimate.Range{}) {
		t.Errorf("a householder's hours cost %v", m.Labour)
	}
}

var monday = time.Date(2030, time.March, 4, 0, 0, 0, 0, time.UTC)

func milestone(t testing.TB, c estimate.Calendar, id string) estimate.Milestone {
	t.Helper()
	for _, m := range c.Milestones {
		if m.ID == id {
			return m
		}
	}
	t.Fatalf("no milestone %s", id)
	return estimate.Milestone{}
}

// Worked by hand, likeliest: Monday 4 March 2030, 7 hours a day. Look 1.5,
// survey 2.5 and order 1 fill 5 of Monday's 7 hours; boards come 7 days later,
// the 11th, and have lain 10 days on the 21st, a Thursday.
func TestCalendarByHand(t *testing.T) {
	c := estimate.Plan(labour(t), usual, estimate.Settings{Start: monday.Add(15 * time.Hour)})
	for id, want := range map[string]int{"start": 4, "delivered": 11, "dry": 21} {
		if m := milestone(t, c, id); m.Likely.Month() != time.March || m.Likely.Day() != want {
			t.Errorf("%s: %v, want the %d", id, m.Likely, want)
		}
	}
	// Strip 2.8 of the 11th's hours; prepare 5.6 and survey 3.5 end on the 12th;
	// wiring 5 begins with its last 2.1 and ends on the 13th.
	if m := milestone(t, c, "surveyed"); m.Likely.Day() != 12 {
		t.Errorf("surveyed on %v", m.Likely)
	}
	glue, walk := milestone(t, c, "glue"), milestone(t, c, "walk")
	// Risers 4.9 and treads 0.7 × 9.75 = 6.825: 11.725 of hours from the 21st end
	// on the 22nd; two days on the bench end on Sunday the 24th, so Monday.
	if glue.Likely.Day() != 25 || walk.Likely.Day() != 26 {
		t.Errorf("glued on %v, walked on %v", glue.Likely, walk.Likely)
	}
	// Moisture, and the lights on full, are looked at before boards close anything.
	holds := 0
	for _, d := range c.Days {
		if len(d.Hold) > 0 {
			holds += len(d.Hold)
			if d.Date.After(glue.Likely) {
				t.Errorf("%v is held after the gluing", d.Date)
			}
		}
		if off := d.Night == estimate.NightOff; off != d.Date.Equal(glue.Likely) {
			t.Errorf("%v: %s", d.Date, d.Night)
		}
	}
	if holds != 2 {
		t.Errorf("%d holds", holds)
	}
}

// Whatever the work, the guarantees of the package hold.
func TestCalendarLaws(t *testing.T) {
	l := labour(t)
	for seed := range uint64(200) {
		rng := rand.New(rand.NewPCG(seed, 31))
		w := estimate.Work{Risers: 2 + rng.IntN(20), PlainSkirts: rng.IntN(3), OpenSteps: rng.IntN(4), Householder: rng.IntN(2) == 0}
		w.Treads = w.Risers - 1
		if rng.IntN(2) == 0 {
			w.LightBars = w.Risers
		}
		set := estimate.Settings{Start: monday.AddDate(0, 0, rng.IntN(400)), StepOver: rng.IntN(2) == 0}
		if rng.IntN(2) == 0 {
			set.HoursPerDay = 2 + float64(rng.IntN(7))
		}
		if rng.IntN(2) == 0 {
			set.Days = [7]bool{false, true, false, true, true, false, true}
		}
		for range rng.IntN(5) {
			set.Closed = append(set.Closed, set.Start.AddDate(0, 0, rng.IntN(60)))
		}
		c := estimate.Plan(l, w, set)
		for _, m := range c.Milestones {
			if m.Low.After(m.Likely) || m.Likely.After(m.High) {
				t.Errorf("seed %d: %s on %v, %v, %v", seed, m.ID, m.Low, m.Likely, m.High)
			}
		}
		perDay := set.HoursPerDay
		if perDay == 0 {
			perDay = l.HoursPerDay
		}
		spent, nights := 0.0, map[estimate.Night]int{}
		last := time.Time{}
		for i, d := range c.Days {
			if i > 0 && !d.Date.Equal(last.AddDate(0, 0, 1)) {
				t.Errorf("seed %d: %v follows %v", seed, d.Date, last)
			}
			last = d.Date
			sum := 0.0
			for _, x := range d.Work {
				sum += x.Hours
			}
			spent += sum
			nights[d.Night]++
			days := set.Days
			if days == [7]bool{} {
				days = [7]bool{false, true, true, true, true, true, false}
			}
			open := days[int(d.Date.Weekday())]
			for _, x := range set.Closed {
				open = open && !x.Equal(d.Date)
			}
			if sum > perDay+1e-9 || sum > 0 && !open {
				t.Errorf("seed %d: %v has %v hours", seed, d.Date, sum)
			}
		}
		if _, want := estimate.Hours(l, w); math.Abs(spent-want.Likely) > 0.2 {
			t.Errorf("seed %d: %v hours are in the calendar, %v in the estimate", seed, spent, want.Likely)
		}
		if set.StepOver && (nights[estimate.NightOff] > 0 || nights[estimate.NightStepOver] < 2) || !set.StepOver && nights[estimate.NightOff] < 1 {
			t.Errorf("seed %d: step over %v, nights %v", seed, set.StepOver, nights)
		}
		// Weeks later, all is weeks later.
		moved := set
		moved.Start = set.Start.AddDate(0, 0, 21)
		moved.Closed = nil
		for _, x := range set.Closed {
			moved.Closed = append(moved.Closed, x.AddDate(0, 0, 21))
		}
		for i, m := range estimate.Plan(l, w, moved).Milestones {
			if !m.High.Equal(c.Milestones[i].High.AddDate(0, 0, 21)) {
				t.Errorf("seed %d: %s moves to %v from %v", seed, m.ID, m.High, c.Milestones[i].High)
			}
		}
		// More days a week never end later.
		more := set
		more.Days, more.Closed = [7]bool{true, true, true, true, true, true, true}, nil
		if m := milestone(t, estimate.Plan(l, w, more), "done"); m.Likely.After(milestone(t, c, "done").Likely) {
			t.Errorf("seed %d: working every day ends later", seed)
		}
		if again := estimate.Plan(l, w, set); fmt.Sprint(again) != fmt.Sprint(c) {
			t.Errorf("seed %d: the same again differs", seed)
		}
	}
}
