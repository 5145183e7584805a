package walk_test

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver/walk"
)

func evenSetup() walk.Setup {
	return walk.Setup{Name: "even", Zones: evenZones(), Control: model.FirstControl(), Light: walk.Light{Bars: 14, Scenes: firstScenes()}, BarW: 9}
}

func paces(t testing.TB) []model.StairPace {
	t.Helper()
	s, err := tables.Sensing()
	if err != nil {
		t.Fatal(err)
	}
	return s.Paces
}

// TestPaces draws many walkers and holds their speeds to what was published
// (standards: Fruin's ranges as quoted in PD 7974-6, 0.485 to 0.67 m/s up and
// 0.595 to 1.01 m/s down; children 6 to 10, 0.85 m/s down; older and impaired
// people 0.31 m/s down, spread 0.16, from 0.07 to 0.91).
func TestPaces(t *testing.T) {
	const step = 0.317 // 190 by 254 mm
	for _, c := range []struct {
		id        string
		up        bool
		least     float64 // of the mean, m/s
		most      float64
		low, high float64 // of all, m/s
	}{
		{"adult", true, 0.485, 0.67, 0.48, 1.05},
		{"adult", false, 0.595, 1.01, 0.48, 1.05},
		{"child", false, 0.80, 0.90, 0.39, 1.21},
		{"older", false, 0.28, 0.36, 0.07, 0.92},
	} {
		people := walk.Crowd{Walks: 4000, Mix: map[string]float64{c.id: 1}, Turn: 1e-9, StepM: step}.Draw(1, 14, paces(t))
		sum, n := 0.0, 0
		for _, w := range people {
			l := w.Legs[0]
			if (l.To > w.From) != c.up {
				continue
			}
			v := l.Speed * step
			if v < c.low || v > c.high {
				t.Errorf("%s: %.3f m/s", c.id, v)
			}
			sum += v
			n++
		}
		if mean := sum / float64(n); n < 1500 || mean < c.least || mean > c.most {
			t.Errorf("%s, up %v: mean of %d is %.3f m/s, want %g to %g", c.id, c.up, n, mean, c.least, c.most)
		}
	}
}

// TestSameSeedSameDay: a day is the same again, another seed is another, and the
// people of a day are the same whatever the sensors.
func TestSameSeedSameDay(t *testing.T) {
	crowd := walk.Crowd{Walks: 30, Passers: 10, Hours: 8}
	people := crowd.Draw(7, 14, paces(t))
	if !reflect.DeepEqual(people, crowd.Draw(7, 14, paces(t))) {
		t.Error("the same seed gives other people")
	}
	if reflect.DeepEqual(people, crowd.Draw(8, 14, paces(t))) {
		t.Error("another seed gives the same people")
	}
	plain, noisy := evenSetup(), evenSetup()
	plain.Control.TickMS, noisy.Control.TickMS = 50, 50
	noisy.Missed, noisy.FalsePerHour = 0.05, 1
	a := walk.Compare([]walk.Setup{noisy, plain}, people, 3)
	b := walk.Compare([]walk.Setup{noisy, plain}, people, 3)
	if !reflect.DeepEqual(a, b) {
		t.Error("the same day comes out otherwise")
	}
	if c := walk.Compare([]walk.Setup{noisy}, people, 4); reflect.DeepEqual(a[0].Score, c[0].Score) {
		t.Error("the seed of the sensors changes nothing")
	}
	day := a[1].Score
	t.Logf("a day of %d walks: %+v", day.Walks, day)
	if day.Seconds < 5*3600 || day.Footfalls < 30*9 || day.Dark > day.DarkEntry || day.WattHours <= 0 {
		t.Errorf("%+v", day)
	}
	if day.Warning < 1 || day.Warning > 10 {
		t.Errorf("%.2f s of warning", day.Warning)
	}
}

// TestWalkerByHand follows one walker whose times can be reckoned: two steps a
// second from two steps before the flight.
func TestWalkerByHand(t *testing.T) {
	s := evenSetup()
	s.Control.TickMS = 50
	var landed []float64
	sim, err := walk.NewSim(s, 1)
	if err != nil {
		t.Fatal(err)
	}
	last := -9
	sim.Watch = func(at float64, bars []walk.Bar, _ uint16, ps []walk.Place) {
		for _, p := range ps {
			if p.On != last {
				landed = append(landed, at)
				last = p.On
			}
			if p.Lifting != p.On && p.Lifting != p.On-1 {
				t.Errorf("at %.2f s: feet on %d and %d", at, p.Lifting, p.On)
			}
		}
	}
	score := sim.Run([]walk.Walker{{From: -2, Legs: []walk.Leg{{To: 15, Speed: 2}}}})
	// Positions -1 to 16 are reached half a second apart.
	for i := 1; i < len(landed); i++ {
		if d := landed[i] - landed[i-1]; math.Abs(d-0.5) > 0.051 {
			t.Errorf("foot %d after %.2f s", i, d)
		}
	}
	if len(landed) != 18 || score.Footfalls != 13 {
		t.Errorf("%d places, %d feet on steps, want 18 and 13", len(landed), score.Footfalls)
	}
	if score.Dark != 0 || score.LookDark > 3 {
		t.Errorf("%+v", score)
	}
}

// TestCompareSettings: with the same people, lighting further ahead leaves fewer
// looks into the dark and costs more light; and a sensor less costs light.
func TestCompareSettings(t *testing.T) {
	people := walk.Crowd{Walks: 60, Hours: 8}.Draw(2, 14, paces(t))
	base := evenSetup()
	// Narrow: a short still time, so that the windows and not the set decide.
	base.Control.Still, base.Control.AheadUp, base.Control.AheadDown, base.Control.TickMS = 5, 0, 0, 50
	for i := range base.Zones { // between two zones there is a step that none sees
		z := &base.Zones[i]
		z.First, z.Last = max(0, 3*i), min(14, 3*i+1)
		z.MayFirst, z.MayLast = z.First, z.Last
	}
	ahead, less, bad := base, base, base
	ahead.Control.AheadUp, ahead.Control.AheadDown = 4, 4
	less.Zones = slices.Clone(base.Zones)
	less.Zones[2].Removed = true
	bad.Light.Bars = 99
	out := walk.Compare([]walk.Setup{base, ahead, less, bad}, people, 1)
	for i, o := range out[:3] {
		t.Logf("%d: %+v", i, o.Score)
	}
	if out[1].Score.Dimly >= out[0].Score.Dimly || out[1].Score.BarHours <= out[0].Score.BarHours {
		t.Errorf("further ahead: %d on dim steps and %.3f bar-hours, against %d and %.3f", out[1].Score.Dimly, out[1].Score.BarHours, out[0].Score.Dimly, out[0].Score.BarHours)
	}
	if out[2].Score.Lit <= out[0].Score.Lit {
		t.Error("a sensor less lights no more")
	}
	if out[3].Err == nil {
		t.Error("no error for what has no tables")
	}
}

// TestSearch finds better settings than bad ones, and the same ones again.
func TestSearch(t *testing.T) {
	s := evenSetup()
	s.Zones[0].First, s.Zones[4].Last = 1, 13 // the ends' sensors see no floor
	s.Zones[0].MayFirst, s.Zones[4].MayLast = 1, 13
	s.Control.AheadUp, s.Control.AheadDown, s.Control.Still, s.Control.EndFirst, s.Missed = 0, 0, 5, 0, 0.1
	s.Control.TickMS = 50
	people := walk.Crowd{Walks: 10, Hours: 1}.Draw(5, 14, paces(t))
	f := walk.Search(s, people, 9, 1)
	t.Logf("%d tried; from %+v to %+v", f.Tried, f.First.Score, f.Best.Score)
	for _, c := range f.Changes {
		t.Logf("%s: %g to %g", c.Title, c.From, c.To)
	}
	if !f.Best.Score.Better(&f.First.Score) || len(f.Changes) == 0 {
		t.Error("nothing better found")
	}
	if g := walk.Search(s, people, 9, 1); !reflect.DeepEqual(f, g) {
		t.Error("another search finds something else")
	}
}

// TestLive drags somebody up and back down again.
func TestLive(t *testing.T) {
	l, err := walk.NewLive(evenSetup())
	if err != nil {
		t.Fatal(err)
	}
	at, lit := 0.0, func(bars []walk.Bar, k int) bool { return l.Tables().Lit(bars[k].Index) }
	if bars := l.At(-2.5, 0); lit(bars, 3) {
		t.Error("lit with nobody there")
	}
	move := func(from, to, step float64) {
		for p := from; (to-p)*step > 0; p += step {
			at += math.Abs(step) / 2 // two steps a second
			bars := l.At(p, at)
			if k := l.Feet().On; k >= 1 && k < 14 && !lit(bars, k) {
				t.Errorf("at %.1f: step %d is dark", p, k)
			}
		}
	}
	move(-2.5, 9.5, 0.1)
	if l.Sensors() == 0 || !l.May(10) {
		t.Errorf("at step 10: sensors %b", l.Sensors())
	}
	move(9.5, -2.5, -0.1)
	l.At(-2.5, at+300) // at most two minutes at once
	l.At(-2.5, at+300)
	bars := l.At(-2.5, at+300)
	for k := range bars {
		if lit(bars, k) {
			t.Errorf("long after, bar %d is lit", k)
		}
	}
	if s := l.Score(); s.Footfalls < 18 || s.Dark > 0 {
		t.Errorf("%+v", s)
	}
}

// TestTimeline: frames come in order, and the one asked for is the one then.
func TestTimeline(t *testing.T) {
	people := []walk.Walker{{From: -2, Legs: []walk.Leg{{To: 15, Speed: 2}}}, {Start: 2, From: 15, Legs: []walk.Leg{{To: -2, Speed: 1.5}}}}
	tl, err := walk.Record(evenSetup(), people, 1, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	if tl.Frame(-1) != nil || tl.Frame(3) == nil || math.Abs(tl.Frame(3).At-3) > 0.05 || len(tl.Frame(3).Walkers) != 2 {
		t.Errorf("at 3 s: %+v", tl.Frame(3))
	}
	if f := tl.Frame(1e6); f != &tl.Frames[len(tl.Frames)-1] {
		t.Error("after the end it is not the last frame")
	}
	for i, f := range tl.Frames {
		if len(f.Bars) != 14 || math.Abs(f.At-float64(i)*0.1) > 0.021 {
			t.Fatalf("frame %d: %d bars at %.3f", i, len(f.Bars), f.At)
		}
	}
}

// TestRulesReadable: each rule's bars hold the whole of where somebody may be.
func TestRulesReadable(t *testing.T) {
	tab := evenTables(t, nil)
	rules := tab.Rules()
	if len(rules) != 5+2*4+2*4 {
		t.Fatalf("%d rules", len(rules))
	}
	for _, r := range rules {
		for k := max(1, r.Where.First); k <= min(13, r.Where.Last); k++ {
			if !r.Dim.Has(k) {
				t.Errorf("%+v: position %d is not lit", r, k)
			}
		}
		if r.Full.Len() < 4 || (r.Way == walk.CameUnknown) != (r.Before < 0) {
			t.Errorf("%+v", r)
		}
	}
	if fs := walk.Findings(evenZones(), tab); len(fs) != 1 || fs[0].Rule != "walk.lockout" {
		t.Errorf("%+v", fs)
	}
	z := evenZones()
	z[0].Removed, z[2].Removed = true, true
	less, err := walk.Make(z, model.Control{}, walk.Light{Bars: 14})
	if err != nil {
		t.Fatal(err)
	}
	blind, open := less.Blind()
	if !reflect.DeepEqual(blind, []int{1, 6, 7}) || !reflect.DeepEqual(open, []int{1}) {
		t.Errorf("blind %v, open %v", blind, open)
	}
}

// The benchmarks say how many walkers are simulated a second on one core, and
// how that grows with steps and walkers.
func BenchmarkWalkers(b *testing.B) {
	for _, n := range []struct {
		name  string
		bars  int
		walks int
	}{{"8 risers", 8, 100}, {"14 risers", 14, 100}, {"28 risers", 28, 100}, {"56 risers", 56, 100}, {"14 risers, 1000 walkers", 14, 1000}} {
		b.Run(n.name, func(b *testing.B) {
			if testing.Short() && n.bars*n.walks > 28*100 {
				b.Skip("the smaller ones do the same")
			}
			s := walk.Setup{Control: model.FirstControl(), Light: walk.Light{Bars: n.bars, Scenes: firstScenes()}}
			sensors := max(2, n.bars/4)
			for i := range sensors {
				s.Zones = append(s.Zones, walk.Zone{First: i * n.bars / sensors, Last: (i + 1) * n.bars / sensors, Hold: 2, Latency: 0.3})
			}
			people := walk.Crowd{Walks: n.walks}.Draw(1, n.bars, paces(b))
			b.ResetTimer()
			for range b.N {
				if o := walk.Compare([]walk.Setup{s}, people, 1); o[0].Err != nil {
					b.Fatal(o[0].Err)
				}
			}
			b.ReportMetric(float64(len(people)*b.N)/b.Elapsed().Seconds(), "walkers/s")
		})
	}
}

func BenchmarkStep(b *testing.B) {
	c := walk.NewCore(evenTables(b, nil))
	b.ReportAllocs()
	for i := range b.N {
		c.Step(walk.Inputs{Sensors: uint16(1 << (i >> 8 & 3))})
	}
}
