package walk_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"sync"
	"testing"

	"risewright/model"
	"risewright/solver/walk"
)

// drawStair draws a stair whose sensors are sure of every step, and settings
// that differ from stair to stair; it has least sensors or more.
func drawStair(r *rand.Rand, least int) walk.Setup {
	n := max(3, 3*least) + r.IntN(18)
	c := model.FirstControl()
	c.TickMS = []float64{20, 30, 40, 50}[r.IntN(4)]
	c.Hall = r.IntN(2) == 0
	c.Behind, c.AheadUp, c.AheadDown = r.IntN(2), r.IntN(3), r.IntN(4)
	c.Hold, c.Fall = 4*r.Float64(), 2*r.Float64()
	c.Still = 8 + 20*r.Float64()
	s := walk.Setup{Control: c, Light: walk.Light{Bars: n, Scenes: firstScenes()}, Single: r.IntN(3) == 0}
	count := least + r.IntN(min(6, n-1)-least+1)
	first := r.IntN(2) // an end's sensor sees the floor, or begins at the first step
	for i := range count {
		last := first + (n-1-first)/(count-i)
		if i == count-1 {
			last = n - r.IntN(2)
		}
		z := walk.Zone{Name: fmt.Sprint(i), First: first, Last: last, Hold: 0.2 + 3*r.Float64(), Block: 2.5 * r.Float64() * float64(r.IntN(2)), WarmUp: 1, Latency: 0.3 * r.Float64()}
		z.MayFirst, z.MayLast = max(0, first-r.IntN(3)), min(n, last+r.IntN(3))
		s.Zones = append(s.Zones, z)
		first = min(n-1, max(1, last+1-r.IntN(3)))
	}
	return s
}

// drawWalks draws people for a stair: some close behind or against each other,
// some far apart, who turn round, stand, run and wander about the hall.
func drawWalks(r *rand.Rand, s *walk.Setup, walks int) []walk.Walker {
	n := float64(s.Light.Bars)
	gap := []float64{1, 3, 12, 60}[r.IntN(4)]
	at := 0.0
	var out []walk.Walker
	for range walks {
		speed := 0.3 + 2.2*r.Float64()
		if r.IntN(8) == 0 {
			speed = 3 + r.Float64() // runs
		}
		from, to := -2.0, n+1
		if r.IntN(2) == 0 {
			from, to = to, from
		}
		w := walk.Walker{Name: "drawn", Start: at, From: from}
		leg := func(to float64) { w.Legs = append(w.Legs, walk.Leg{To: to, Speed: speed}) }
		stand := func() {
			l := &w.Legs[len(w.Legs)-1]
			l.Wait, l.Fidget = 60*r.Float64(), s.Control.Still*(0.2+0.6*r.Float64())
		}
		switch r.IntN(10) {
		case 0: // turns round, once or more
			for range 1 + r.IntN(3) {
				leg(r.Float64() * (n - 1))
			}
			leg([]float64{from, to}[r.IntN(2)])
		case 1: // stands
			leg(r.Float64() * (n - 1))
			stand()
			leg(to)
		case 2: // stays in the hall, and stands before the stair
			near := -0.5
			if from > 0 {
				near = n - 0.5
			}
			leg(near)
			stand()
			leg(from)
		default:
			leg(to)
		}
		out = append(out, w)
		at += gap * r.ExpFloat64()
	}
	return out
}

// climbs runs so many climbs over drawn stairs, each stair changed by change (if
// set), and returns what came of all of them.
func climbs(t *testing.T, total int, seed uint64, least int, change func(*rand.Rand, *walk.Setup), each func(int, walk.Score)) walk.Score {
	t.Helper()
	const walks = 50
	var mu sync.Mutex
	var sum walk.Score
	var wg sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for w := range workers {
		wg.Go(func() {
			for i := w; i*walks < total; i += workers {
				r := rand.New(rand.NewPCG(uint64(i), seed))
				s := drawStair(r, least)
				people := drawWalks(r, &s, walks)
				if change != nil {
					change(r, &s)
				}
				sim, err := walk.NewSim(s, uint64(i))
				if err != nil {
					t.Errorf("stair %d: %v", i, err)
					return
				}
				score := sim.Run(people)
				mu.Lock()
				sum.Add(score)
				each(i, score)
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	return sum
}

func tell(t *testing.T, what string, s walk.Score) {
	t.Helper()
	t.Logf("%s: %d climbs, %d feet on steps; %d in the dark, %d of them while coming in (%.2f s at most); %.2f s on dark steps after that; %d on dim steps; warning %.1f s; lit %.0f step-hours, %.0f %% of no use",
		what, s.Walks, s.Footfalls, s.Dark, s.DarkEntry, s.EntryDark, s.UnlitS, s.Dimly, s.Warning, s.Lit/3600, 100*s.Needless/math.Max(1, s.Lit))
}

// TestNoOccupiedStepDark knows where the people are. With sensors that work and
// are sure of every step nobody stands on a dark one, but for the latency of
// coming in.
func TestNoOccupiedStepDark(t *testing.T) {
	total := size(1_000_000, 4000)
	s := climbs(t, total, 11, 1, nil, func(i int, sc walk.Score) {
		if sc.Unlit > 0 {
			t.Errorf("stair %d: %d ticks with a foot on a dark step", i, sc.Unlit)
		}
		if sc.Conflicts > 0 {
			t.Errorf("stair %d: %d triggers where nobody can have been", i, sc.Conflicts)
		}
	})
	tell(t, "all sensors work", s)
	if s.Walks < total || s.Footfalls < 5*total {
		t.Errorf("only %d climbs with %d feet", s.Walks, s.Footfalls)
	}
	if s.EntryDark > 0.3+2*0.05+1e-9 {
		t.Errorf("coming in, somebody stood %.3f s in the dark, longer than the entry latency", s.EntryDark)
	}
}

// TestOneSensorLess takes one sensor away from every stair (and makes new
// tables), lets one stick, or lets one fall silent (with the old tables), and
// says what it costs. A silent sensor is only found out by the next one, so the
// first walk past it is dark in part; with no other sensor beyond it, it is never
// found out, and that figure is told and not bounded.
func TestOneSensorLess(t *testing.T) {
	total := size(50_000, 1000)
	fail := func(s *walk.Setup, i int, f walk.Fault) {
		s.Faults = make([]walk.Fault, len(s.Zones))
		s.Faults[i] = f
	}
	for _, c := range []struct {
		name   string
		least  int // sensors
		change func(r *rand.Rand, s *walk.Setup)
		most   float64 // share of feet in the dark, coming in not counted
	}{
		{"all sensors work", 1, func(*rand.Rand, *walk.Setup) {}, 0},
		{"one taken away, new tables", 1, func(r *rand.Rand, s *walk.Setup) { s.Zones[r.IntN(len(s.Zones))].Removed = true }, 0.0005},
		{"one stuck on", 1, func(r *rand.Rand, s *walk.Setup) { fail(s, r.IntN(len(s.Zones)), walk.DeadOn) }, 0.0005},
		{"one of four or more silent, between the ends", 4, func(r *rand.Rand, s *walk.Setup) { fail(s, 1+r.IntN(len(s.Zones)-2), walk.DeadOff) }, 0.02},
		{"one of four or more silent, at an end", 4, func(r *rand.Rand, s *walk.Setup) { fail(s, r.IntN(2)*(len(s.Zones)-1), walk.DeadOff) }, 0.02},
		{"one of any silent", 1, func(r *rand.Rand, s *walk.Setup) { fail(s, r.IntN(len(s.Zones)), walk.DeadOff) }, 1},
	} {
		s := climbs(t, total, 12, c.least, c.change, func(int, walk.Score) {})
		tell(t, c.name, s)
		if dark := float64(s.Dark-s.DarkEntry) / float64(s.Footfalls); dark > c.most {
			t.Errorf("%s: %.4f of the feet are in the dark", c.name, dark)
		}
	}
}

// TestCheckerSees: the checker is not blind. Sensors that are slower than the
// rules count on, or that miss people, leave feet in the dark.
func TestCheckerSees(t *testing.T) {
	for name, change := range map[string]func(r *rand.Rand, s *walk.Setup){
		"slow": func(_ *rand.Rand, s *walk.Setup) {
			s.Known = append([]walk.Zone(nil), s.Zones...)
			for i := range s.Zones {
				s.Zones[i].Latency = 2.5
			}
		},
		"missing": func(_ *rand.Rand, s *walk.Setup) { s.Missed = 0.5 },
	} {
		s := climbs(t, max(1000, size(2000, 400)), 13, 1, change, func(int, walk.Score) {})
		tell(t, name, s)
		if s.Dark == s.DarkEntry && s.Unlit == 0 {
			t.Errorf("%s: not seen", name)
		}
	}
}

// TestSkipping: what Run skips is what it would have walked through, on drawn
// stairs with false and missed pulses.
func TestSkipping(t *testing.T) {
	for i := range uint64(size(25, 25)) {
		r := rand.New(rand.NewPCG(i, 14))
		s := drawStair(r, 1)
		people := drawWalks(r, &s, 10)
		for k := range people {
			people[k].Start = float64(k) * 100 * r.Float64()
		}
		s.Missed, s.FalsePerHour = 0.1*float64(i%3), 20*float64(i%2)
		run := func(whole bool) walk.Score {
			sim, err := walk.NewSim(s, 1)
			if err != nil {
				t.Fatal(err)
			}
			sim.Whole = whole
			sc := sim.Run(people)
			for _, v := range []*float64{&sc.Needless, &sc.Lit, &sc.BarHours, &sc.WattHours, &sc.Seconds} {
				*v = math.Round(*v * 1e6) // sums of other lengths
			}
			return sc
		}
		a, b := run(false), run(true)
		if a != b {
			t.Errorf("stair %d, skipping:\n%+v\nwithout:\n%+v", i, a, b)
		}
	}
}
