package estimate_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
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
	if w := estimate.WorkOf(j, 1, true, 5); !reflect.DeepEqual(w, estimate.Work{Risers: 5, Treads: 4, ScribedSkirts: 1, OpenSteps: 3, LightBars: 5}) {
		t.Errorf("%+v", w)
	}
	if w := estimate.WorkOf(model.Job{}, 0, false, 0); !reflect.DeepEqual(w, estimate.Work{}) {
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

// A novice takes as long as a householder, and is paid.
func TestNovicesArePaid(t *testing.T) {
	l := labour(t)
	novice, home := usual, usual
	novice.Novice, home.Householder = true, true
	_, n := estimate.Hours(l, novice)
	if _, h := estimate.Hours(l, home); n != h {
		t.Errorf("a novice takes %v, a householder %v", n, h)
	}
	if m := estimate.Cost(l, novice, n, stock.Plan{}); m.Labour.Likely <= 0 {
		t.Errorf("a novice works for %v", m.Labour)
	}
}

// evenings is an order of fitting of three evenings: wires 5 h, and two of 3 h
// with boards.
var evenings = estimate.Work{Risers: 14, Treads: 13, LightBars: 14, Pieces: map[string]int{"wiring": 1, "risers": 2, "treads": 2}, Sessions: []estimate.Session{
	{Number: 1, Name: "wires", Hours: 5, Night: estimate.NightUsable, Holds: []string{"photograph the wires"}},
	{Number: 2, Name: "R01 to T01", Hours: 3, Boards: true, Treads: true, Night: estimate.NightOff, Waits: []string{"adhesive"}},
	{Number: 3, Name: "R02 to T02", Hours: 3, Boards: true, Treads: true, Night: estimate.NightStepOver},
}}

// Evenings hold the pieces that the table lists and small work that it does
// not: 11 h less 5 of wiring, 2 × 0.35 and 2 × 0.75 are 3.8.
func TestHoursOfEvenings(t *testing.T) {
	rows, _ := estimate.Hours(labour(t), evenings)
	sum, small := 0.0, 0.0
	for _, r := range rows {
		switch r.ID {
		case "wiring", "risers", "treads":
			sum += r.Hours.Likely
		case estimate.Small:
			small = r.Hours.Likely
		case "light-bars", "landing", "skirt-straight":
			t.Errorf("%s takes %v, and the order has none", r.ID, r.Hours)
		}
	}
	if math.Abs(sum-7.2) > 1e-9 || math.Abs(small-3.8) > 1e-9 {
		t.Errorf("listed %g and small %g, want 7.2 and 3.8", sum, small)
	}
}

// Worked by hand, likeliest: Monday 4 March 2030, 7 hours a day. Look 1.5,
// survey 2.5 and order 1 fill 5 of Monday's 7 hours; boards come 7 days later,
// the 11th, and have lain 10 days on the 21st, a Thursday. Strip 2.8 of the
// 11th's hours; prepare 5.6 and survey 3.5 end on the 12th. The evening of the
// wires needs no boards: the 13th. The first boards are dry on the 21st, and
// their finish after two days on the bench: Saturday the 23rd, so Monday the
// 25th. The last evening is the 26th, stepped over that night.
func TestCalendarByHand(t *testing.T) {
	c := estimate.Plan(labour(t), evenings, estimate.Settings{Start: monday.Add(15 * time.Hour), Evening: 3})
	for id, want := range map[string]int{"start": 4, "delivered": 11, "surveyed": 12, "fit": 13, "dry": 21, "walk": 27} {
		if m := milestone(t, c, id); m.Likely.Month() != time.March || m.Likely.Day() != want {
			t.Errorf("%s: %v, want the %d", id, m.Likely, want)
		}
	}
	for n, want := range map[int]int{1: 13, 2: 25, 3: 26} {
		if d, ok := c.Evening(n); !ok || d.Day() != want {
			t.Errorf("evening %d is on %v, want the %d", n, d, want)
		}
	}
	if _, ok := c.Evening(4); ok {
		t.Error("there is a fourth evening")
	}
	holds := 0
	for _, d := range c.Days {
		holds += len(d.Hold)
		want := estimate.NightUsable
		switch d.Date.Day() {
		case 4, 5, 6, 7, 8, 9, 10:
			want = estimate.NightAsBefore
		case 25:
			want = estimate.NightOff
		case 26:
			want = estimate.NightStepOver
		}
		if d.Date.Month() == time.March && d.Night != want {
			t.Errorf("%v: %s, want %s", d.Date, d.Night, want)
		}
	}
	if holds != 2 { // the wires, and the moisture of the boards
		t.Errorf("%d holds", holds)
	}
	if none := estimate.Plan(labour(t), usual, estimate.Settings{Start: monday}); len(none.Days) != 0 || len(none.Notes) != 1 {
		t.Errorf("without an order: %+v", none)
	}
}

// Whatever the work, the guarantees of the package hold, and the days of the
// fitting are the evenings of its order.
func TestCalendarLaws(t *testing.T) {
	l := labour(t)
	for seed := range uint64(200) {
		rng := rand.New(rand.NewPCG(seed, 31))
		w := estimate.Work{Risers: 2 + rng.IntN(20), Householder: rng.IntN(2) == 0, Pieces: map[string]int{}}
		w.Treads = w.Risers - 1
		w.Pieces["risers"], w.Pieces["treads"] = w.Risers, w.Treads
		if rng.IntN(2) == 0 {
			w.LightBars, w.Pieces["wiring"], w.Pieces["light-bars"] = w.Risers, 1, w.Risers
		}
		pace := 1.0
		if w.Householder {
			pace = l.Householder.Likely
		}
		least := pace * (0.35*float64(w.Risers) + 0.75*float64(w.Treads) + float64(w.Pieces["wiring"])*5 + 0.4*float64(w.Pieces["light-bars"]))
		nights := []estimate.Night{estimate.NightUsable, estimate.NightOff, estimate.NightStepOver}
		for n, done := 1, 0.0; done < least; n++ {
			x := estimate.Session{Number: n, Name: fmt.Sprint(n), Hours: 0.5 + 5*rng.Float64(), Boards: n > 2, Treads: n > 3, Night: nights[rng.IntN(3)]}
			done += x.Hours
			w.Sessions = append(w.Sessions, x)
		}
		end := &w.Sessions[len(w.Sessions)-1]
		end.Boards, end.Treads = true, true
		set := estimate.Settings{Start: monday.AddDate(0, 0, rng.IntN(400)), Evening: 1 + 3*rng.Float64()}
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
		spent, evening := 0.0, 0
		last := time.Time{}
		for i, d := range c.Days {
			if i > 0 && !d.Date.Equal(last.AddDate(0, 0, 1)) {
				t.Errorf("seed %d: %v follows %v", seed, d.Date, last)
			}
			last = d.Date
			sum, most, night := 0.0, perDay, estimate.Night("")
			for _, x := range d.Work {
				sum += x.Hours
				if x.Evening == 0 {
					continue
				}
				evening++
				if x.Evening != evening || len(d.Work) != 1 || math.Abs(x.Hours-w.Sessions[evening-1].Hours) > 1e-9 {
					t.Errorf("seed %d: %v has %+v, and evening %d is next", seed, d.Date, d.Work, evening)
				}
				most, night = w.Sessions[evening-1].Hours, w.Sessions[evening-1].Night
			}
			if night != "" && d.Night != night {
				t.Errorf("seed %d: after evening %d the stair is %s, not %s", seed, evening, d.Night, night)
			}
			if night == "" && (d.Night == estimate.NightOff || d.Night == estimate.NightStepOver) {
				t.Errorf("seed %d: %v: %s without an evening", seed, d.Date, d.Night)
			}
			spent += sum
			days := set.Days
			if days == [7]bool{} {
				days = [7]bool{false, true, true, true, true, true, false}
			}
			open := days[int(d.Date.Weekday())]
			for _, x := range set.Closed {
				open = open && !x.Equal(d.Date)
			}
			if sum > most+1e-9 || sum > 0 && !open {
				t.Errorf("seed %d: %v has %v hours", seed, d.Date, sum)
			}
		}
		if evening != len(w.Sessions) {
			t.Errorf("seed %d: %d of %d evenings have a day", seed, evening, len(w.Sessions))
		}
		if _, want := estimate.Hours(l, w); math.Abs(spent-want.Likely) > 0.2 {
			t.Errorf("seed %d: %v hours are in the calendar, %v in the estimate", seed, spent, want.Likely)
		}
		dry := milestone(t, c, "dry").Likely
		for i, x := range w.Sessions {
			if d, _ := c.Evening(i + 1); x.Boards && d.Before(dry) {
				t.Errorf("seed %d: boards go in on %v, dry on %v", seed, d, dry)
			}
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
