package sensing_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/sensing"
)

// TestFirstSensing: the sensors a job is first given are sure of every position
// of every shape of stair, the top floor before the first step down among them.
func TestFirstSensing(t *testing.T) {
	tb := published(t)
	js := flights(t)
	for _, n := range []int{3, 9} {
		js = append(js, straight(t, n))
	}
	for i, j := range js {
		j.Sensing = model.FirstSensing(j, tb.Senses)
		st := stairOf(t, j, tb)
		r := sensing.Solve(&j, st, nil)
		if len(r.Blind) > 0 {
			t.Errorf("stair %d, %d risers: no sensor is sure of %s", i, st.Risers, st.Listed(r.Blind))
			for _, z := range r.Zones {
				t.Logf("%s %v %v %.2f", z.Name, z.Sure, z.SureAt, z.Least)
			}
		}
	}
}

// TestZonesHoldTogether checks what must be true of every zone and result, on
// all shapes of stair.
func TestZonesHoldTogether(t *testing.T) {
	tb := published(t)
	for i, j := range flights(t) {
		j.Sensing = model.FirstSensing(j, tb.Senses)
		st := stairOf(t, j, tb)
		r := sensing.Solve(&j, st, nil)
		n := st.Risers
		for _, z := range r.Zones {
			if z.Err != "" || len(z.Least) != n+1 {
				t.Fatalf("stair %d, %s: %+v", i, z.Name, z)
			}
			for k := range n + 1 {
				if z.Least[k] > z.Most[k] || z.Least[k] < 0 || z.Most[k] > 1+1e-9 || z.Sees[k] && !z.Glimpses[k] {
					t.Errorf("stair %d, %s, position %d: least %g, most %g, %v %v", i, z.Name, k, z.Least[k], z.Most[k], z.Sees[k], z.Glimpses[k])
				}
				if at := sensing.Along(k); z.Sure.Has(k) && (at < z.SureAt.From || at > z.SureAt.To) || z.May.Has(k) && (at < z.MayAt.From || at > z.MayAt.To) {
					t.Errorf("stair %d, %s: position %d is outside %v or %v", i, z.Name, k, z.SureAt, z.MayAt)
				}
				if z.Glimpses[k] != (z.May.Has(k) || slices.Contains(z.Stray, k)) {
					t.Errorf("stair %d, %s: position %d is glimpsed, and neither in %v nor in %v", i, z.Name, k, z.May, z.Stray)
				}
			}
			if z.May.And(z.Sure) != z.Sure || z.SureAt.From < z.MayAt.From-0.02 || z.SureAt.To > z.MayAt.To+0.02 {
				t.Errorf("stair %d, %s: sure of %v %v beyond %v %v", i, z.Name, z.Sure, z.SureAt, z.May, z.MayAt)
			}
		}
		// the states cover the flight once
		sum, positions := 0.0, 0
		for _, s := range r.States {
			positions += len(s.Positions)
			for _, a := range s.At {
				sum += a.Len()
			}
		}
		if positions != n+1 || math.Abs(sum-float64(n)) > 0.01*float64(2*len(r.Zones)) {
			t.Errorf("stair %d: states of %d positions and %.2f steps", i, positions, sum)
		}
		// what one sensor loses is what no other is sure of
		for k := range r.Zones {
			left := r.Without(k)
			for p := range n + 1 {
				other := false
				for m := range r.Zones {
					other = other || m != k && r.Zones[m].Sees[p]
				}
				if other == slices.Contains(left.Blind, p) {
					t.Errorf("stair %d without %s: position %d", i, r.Zones[k].Name, p)
				}
			}
		}
	}
}

// TestMirror: a sensor under the other rail of a flight that is alike on both
// sides sees the same.
func TestMirror(t *testing.T) {
	tb := published(t)
	j := straight(t, 10)
	s := model.Sensor{ID: model.NamedID(j.ID, "l"), Name: "l", Class: "standard-lens", Mount: model.RailLeft, Along: 4.2, Below: 12, Yaw: 0.2, Tilt: 0.6, Mask: model.Mask{Left: 0.5, Up: 0.4}}
	m := s
	m.ID, m.Name, m.Mount, m.Yaw, m.Mask = model.NamedID(j.ID, "r"), "r", model.RailRight, -0.2, model.Mask{Right: 0.5, Up: 0.4}
	j.Sensing.Sensors = []model.Sensor{s, m}
	z := stairOf(t, j, tb).Zones(j.Sensing.Sensors, nil)
	near := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-6 })
	if d := cmp.Diff(z[0].Least, z[1].Least, near); d != "" {
		t.Errorf("least: %s", d)
	}
	if z[0].Sure != z[1].Sure || z[0].Sure.Len() == 0 || math.Abs(z[0].SureAt.From-z[1].SureAt.From) > 0.011 {
		t.Errorf("%v and %v", z[0].SureAt, z[1].SureAt)
	}
}

// TestRange: nobody is seen beyond the range, and the zone of a long flight
// looked along from its foot ends there.
func TestRange(t *testing.T) {
	tb := published(t)
	j := straight(t, 17)
	s := model.Sensor{ID: model.NamedID(j.ID, "s"), Name: "s", Class: "small-digital", Mount: model.OnPost, At: model.Point{X: 457, Y: -300, Z: 1000}, Tilt: -30 * model.Degree}
	j.Sensing.Sensors = []model.Sensor{s}
	st := stairOf(t, j, tb)
	z := st.Zones(j.Sensing.Sensors, nil)[0]
	// range 3 m from the lens to the body's axis, at its height where they pass
	// each other: level distance y+300, going 254; the steps climb past the lens
	lens := vec{457, -300, 1000}
	far := 0.0
	for at := 0.0; at < 16; at += 0.001 {
		man, _ := tb.Senses.Body("man")
		foot, _ := st.Foot(&st.Lines[1], &man, at)
		if d := foot.Add(vec{0, 0, max(0, min(man.Stature.Value, 1000-foot[2]))}).Sub(lens).Len(); d <= 3000 {
			far = at
		}
	}
	if z.SureAt.To > far+0.02 || z.SureAt.To < far-1 {
		t.Errorf("the zone ends at %.2f, the range at %.2f", z.SureAt.To, far)
	}
}

// TestFindings says what is wrong with a poor set: the top blind, a gap, a class
// that is not there, the hall's traffic, a long block.
func TestFindings(t *testing.T) {
	tb := published(t)
	j := straight(t, 14)
	add := func(name, class string, along float64) {
		j.Sensing.Sensors = append(j.Sensing.Sensors, model.Sensor{ID: model.NamedID(j.ID, name), Name: name, Class: class, Mount: model.RailLeft, Along: along, Below: 10, Tilt: 45 * model.Degree})
	}
	add("foot", "wide-dome", 0)
	add("mid", "standard-lens", 6)
	add("lost", "no such class", 3)
	j.Sensing.Passers = []model.Passer{{ID: model.NamedID(j.ID, "w"), Name: "walker", Kind: model.AdultPasses, Path: []model.Corner{{X: -1500, Y: -700}, {X: 2500, Y: -700}}},
		{ID: model.NamedID(j.ID, "far"), Name: "far away", Kind: model.PetPasses, Path: []model.Corner{{X: -1500, Y: -30_000}, {X: 2500, Y: -30_000}}}}
	j.Sensing.Warm = []model.WarmThing{{ID: model.NamedID(j.ID, "r"), Name: "radiator", Kind: model.Radiator, Low: model.Point{X: 800, Y: -600, Z: 100}, High: model.Point{X: 880, Y: -100, Z: 700}}}
	j.Sensing.Wish.Most = 1
	a := solver.Solve(j, tb)
	r := solver.Sense(a, tb, nil)
	has := map[string]model.Finding{}
	for _, f := range r.Findings {
		has[f.Rule] = f
		if f.Title == "" || !strings.HasPrefix(f.Where.Field, "sensing") && f.Rule != "sensing.rail" || f.Severity == model.Block {
			t.Errorf("%+v", f)
		}
		if f.Severity > model.Note && f.Remedy == "" {
			t.Errorf("no remedy: %+v", f)
		}
	}
	for _, rule := range []string{"blind.top", "blind", "class", "block", "trigger", "wish.most", "rail", "standing"} {
		if _, ok := has["sensing."+rule]; !ok {
			t.Errorf("nothing says %s", rule)
		}
	}
	if f := has["sensing.blind.top"]; f.Where.Step != 14 || f.Standing != model.Memory {
		t.Errorf("%+v", f)
	}
	for _, tr := range r.Triggers {
		if tr.Name == "far away" || tr.Part <= 0 || tr.Part > 1 {
			t.Errorf("%+v", tr)
		}
	}
	// a good set says none of it
	j.Sensing = model.FirstSensing(j, tb.Senses)
	for i := range j.Sensing.Sensors {
		j.Sensing.Sensors[i].Class = "standard-lens"
	}
	r = solver.Sense(solver.Solve(j, tb), tb, nil)
	for _, f := range r.Findings {
		if f.Severity > model.Note {
			t.Errorf("a good set: %+v", f)
		}
	}
}

// TestTakesOver: what an earlier result still holds for is taken over, and the
// result is the same as one made anew; on another stair nothing is.
func TestTakesOver(t *testing.T) {
	tb := published(t)
	j := straight(t, 9)
	j.Sensing = model.FirstSensing(j, tb.Senses)
	before := solver.Sense(solver.Solve(j, tb), tb, nil)
	moved := model.MoveOf(j.Sensing.Sensors[1])
	moved.Along += 0.4
	j, err := moved.Apply(j)
	if err != nil {
		t.Fatal(err)
	}
	a := solver.Solve(j, tb)
	kept, anew := solver.Sense(a, tb, &before), solver.Sense(a, tb, nil)
	if &kept.Zones[0].Least[0] != &before.Zones[0].Least[0] {
		t.Error("an unchanged zone was made anew")
	}
	if &kept.Zones[1].Least[0] == &before.Zones[1].Least[0] {
		t.Error("a moved sensor's zone was taken over")
	}
	if d := cmp.Diff(anew.Zones, kept.Zones); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff(anew.Findings, kept.Findings); d != "" {
		t.Error(d)
	}
	j.Overlay.Tread += 5
	b := solver.Solve(j, tb)
	if r := solver.Sense(b, tb, &kept); &r.Zones[0].Least[0] == &kept.Zones[0].Least[0] {
		t.Error("the zone of another stair was taken over")
	}
}

// sensedFlight returns 14 steps with their first sensors, and more if it is set,
// and what is known of them.
func sensedFlight(b *testing.B, more func(*model.Job)) (model.Job, model.Tables, *solver.Answer, sensing.Result) {
	b.Helper()
	tb := published(b)
	j := straight(b, 14)
	j.Sensing = model.FirstSensing(j, tb.Senses)
	if more != nil {
		more(&j)
	}
	a := solver.Solve(j, tb)
	return j, tb, a, solver.Sense(a, tb, nil)
}

// BenchmarkDragSensor is one frame of dragging a sensor along the rail: all
// zones of seven sensors on 14 steps, of which one has changed. It must stay
// well within 16.7 ms.
func BenchmarkDragSensor(b *testing.B) {
	j, tb, a, r := sensedFlight(b, nil)
	i := 0
	for b.Loop() {
		c := *a
		c.Job.Sensing.Sensors = slices.Clone(j.Sensing.Sensors)
		c.Job.Sensing.Sensors[3].Along += 0.001 * float64(i%1000)
		i++
		r = solver.Sense(&c, tb, &r)
	}
}

// BenchmarkZones works out all seven zones anew.
func BenchmarkZones(b *testing.B) {
	tb := published(b)
	j := straight(b, 14)
	j.Sensing = model.FirstSensing(j, tb.Senses)
	st := stairOf(b, j, tb)
	b.ReportAllocs()
	for b.Loop() {
		st.Zones(j.Sensing.Sensors, nil)
	}
}

// BenchmarkDragEnd is one frame of dragging an end of a zone: the search for the
// tape, and what all seven sensors see then.
func BenchmarkDragEnd(b *testing.B) {
	j, tb, a, start := sensedFlight(b, nil)
	at := start.Zones[3].SureAt.To
	live := start
	i := 0
	for b.Loop() {
		z, err := start.Stair.DragEnd(start.Zones[3], sensing.Upper, at-0.5-0.001*float64(i%500))
		if err != nil {
			b.Fatal(err)
		}
		i++
		c := *a
		c.Job.Sensing.Sensors = slices.Clone(j.Sensing.Sensors)
		c.Job.Sensing.Sensors[3] = z.From
		live = solver.Sense(&c, tb, live.Knowing(z))
	}
}

// BenchmarkDragPasser is one frame of dragging somebody's way through the hall,
// with a door and a radiator beside it, before seven sensors.
func BenchmarkDragPasser(b *testing.B) {
	way := func(by model.Length) []model.Corner {
		return []model.Corner{{X: -1500, Y: -1200 + by}, {X: 2000, Y: -1200 + by}}
	}
	j, tb, a, r := sensedFlight(b, func(j *model.Job) {
		j.Sensing.Passers = []model.Passer{{ID: model.NamedID(j.ID, "w"), Name: "walker", Kind: model.AdultPasses, Path: way(0)},
			{ID: model.NamedID(j.ID, "d"), Name: "door", Kind: model.DoorSwings, Path: []model.Corner{{X: 1400, Y: -900}, {X: 1400, Y: -1700}, {X: 600, Y: -900}}}}
		j.Sensing.Warm = []model.WarmThing{{ID: model.NamedID(j.ID, "r"), Name: "radiator", Kind: model.Radiator, Low: model.Point{X: 800, Y: -600, Z: 100}, High: model.Point{X: 880, Y: -100, Z: 700}}}
	})
	i := 0
	for b.Loop() {
		c := *a
		c.Job.Sensing.Passers = slices.Clone(j.Sensing.Passers)
		c.Job.Sensing.Passers[0].Path = way(model.Length(i % 500))
		i++
		r = solver.Sense(&c, tb, &r)
	}
}

// BenchmarkPlace searches places for the reference flight.
func BenchmarkPlace(b *testing.B) {
	tb := published(b)
	steps := 14
	if testing.Short() {
		steps = 6
	}
	j := straight(b, steps)
	j.Sensing.Wish = model.SensorWish{Every: true, Overlap: 1, Longest: 5}
	st := stairOf(b, j, tb)
	for b.Loop() {
		st.Place(&j)
	}
}
