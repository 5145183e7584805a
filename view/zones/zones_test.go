package zones_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/sensing"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/lights"
	"risewright/view/zones"
)

type scene struct {
	a *solver.Answer
	r *sensing.Result
}

// scenes are jobs with sensors: a good set on a straight flight, one with gaps,
// one that cannot be used and one taken away, and a stair with a landing.
func scenes(tb testing.TB) map[string]scene {
	tb.Helper()
	out, err := madeOnce()
	if err != nil {
		tb.Fatal(err)
	}
	return out
}

var madeOnce = sync.OnceValues(makeScenes)

func makeScenes() (map[string]scene, error) {
	t, err := tables.Published()
	if err != nil {
		return nil, err
	}
	base, err := tables.NewJob(model.Metric, func(name string) model.ID { return model.NamedID(model.ID{}, name) })
	if err != nil {
		return nil, err
	}
	flight := func(n int) model.Job {
		return model.Sketch(model.SketchSpec{Risers: n, Width: 914, Rise: 190, Going: 254, Base: base,
			IDs: func(i int) model.ID { return model.NamedID(base.ID, string(rune('a'+i))) }})
	}
	good := flight(14)
	good.Sensing = model.FirstSensing(good, t.Senses)
	poor := flight(14)
	poor.Sensing = model.FirstSensing(poor, t.Senses)
	poor.Sensing.Sensors[0].Class = "lost"
	poor.Sensing.Sensors[6].Removed = true
	poor.Sensing.Sensors = slices.Delete(poor.Sensing.Sensors, 3, 4)
	poor.Sensing.Sensors = append(poor.Sensing.Sensors, model.Sensor{ID: model.NamedID(base.ID, "post"), Name: "post", Class: "spot", Mount: model.OnPost, At: model.Point{X: 60, Y: -500, Z: 900}})
	turned := flight(13)
	if turned, err = (model.InsertLanding{At: turned.Flight.Steps[6].ID, Turn: model.QuarterTurn, Side: model.Left}).Apply(turned); err != nil {
		return nil, err
	}
	turned.Sensing = model.FirstSensing(turned, t.Senses)
	out := map[string]scene{}
	for name, j := range map[string]model.Job{"good": good, "poor": poor, "turned": turned} {
		a := solver.Solve(j, t)
		r := solver.Sense(a, t, nil)
		if r.Stair == nil {
			return nil, fmt.Errorf("%s: no stair", name)
		}
		out[name] = scene{a, &r}
	}
	return out, nil
}

// TestBand: every sensor has its row, the bars stand where the zones are, blind
// steps have their word, and nothing is drawn that is not a number.
func TestBand(t *testing.T) {
	for name, s := range scenes(t) {
		var l drawing.List
		zones.Band(&l, s.r, zones.Options{Chosen: -1, Grips: true})
		if err := l.Check(); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var texts []string
		for _, it := range l.Items() {
			if it.Kind == drawing.KindText {
				texts = append(texts, it.Text.String)
			}
		}
		for _, z := range s.r.Zones {
			found := false
			for _, x := range texts {
				found = found || strings.HasSuffix(x, z.Name)
			}
			if !found {
				t.Errorf("%s: no row of %s", name, z.Name)
			}
			// a bar from end to end of what it is sure of, as far as columns go
			if z.SureAt.Len() <= 0 {
				continue
			}
			from, to := max(-1, z.SureAt.From), min(float64(s.r.Stair.Risers), z.SureAt.To)
			bar := slices.ContainsFunc(l.Items(), func(it drawing.Item) bool {
				return it.Kind == drawing.KindPolygon && it.Fill.Ink == drawing.GoodWash &&
					math.Abs(it.Points[0].X-zones.X(from)) < 1e-9 && math.Abs(it.Points[1].X-zones.X(to)) < 1e-9
			})
			if !bar {
				t.Errorf("%s: no bar of %s from %.2f to %.2f", name, z.Name, from, to)
			}
		}
		if got, want := slices.Contains(texts, "blind"), len(s.r.Blind) > 0; got != want {
			t.Errorf("%s: blind at %v, and the word is written: %v", name, s.r.Blind, got)
		}
	}
	if s := scenes(t)["poor"]; len(s.r.Blind) == 0 {
		t.Error("the poor set is blind nowhere: nothing was tried")
	}
}

// TestDragEnds drags an end in the band, and over plan and section, and looks at
// what the edit makes of the job.
func TestDragEnds(t *testing.T) {
	tb, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	s := scenes(t)["good"]
	o := zones.Options{Chosen: 3, Grips: true}
	grips := zones.BandGrips(s.r, o)
	if len(grips) != 2*len(s.r.Order) {
		t.Fatalf("%d grips for %d zones", len(grips), len(s.r.Order))
	}
	for _, g := range grips {
		if g.Sensor != 3 || g.Kind != zones.UpperGrip {
			continue
		}
		if found, ok := zones.Find(grips, g.At.Add(drawing.Point{X: 3}), 20); !ok || !found.Is(g) {
			t.Errorf("found %+v for %+v", found, g)
		}
		want := s.r.Zones[3].SureAt.To - 0.8
		if got := zones.AlongAt(zones.X(want)); math.Abs(got-want) > 1e-12 {
			t.Errorf("%g became %g", want, got)
		}
		e, _, err := zones.End(s.r, g, want)
		if err != nil {
			t.Fatal(err)
		}
		j, err := e.Apply(s.a.Job)
		if err != nil {
			t.Fatal(err)
		}
		after := solver.Sense(solver.Solve(j, tb), tb, s.r)
		if got := after.Zones[3].SureAt.To; math.Abs(got-want) > 0.07 {
			t.Errorf("dragged to %.2f, came to %.2f", want, got)
		}
	}
	if _, _, err := zones.End(s.r, zones.Grip{Kind: zones.UpperGrip, Sensor: 3}, 13.9); err == nil {
		t.Error("an end was dragged farther than a sensor sees")
	}
	for _, in := range []bool{false, true} {
		ho := handle.Options{}
		place := lights.Plan(ho)
		if in {
			place = lights.Section(s.a, ho)
		}
		for _, g := range zones.Grips(s.r, place, o) {
			switch g.Kind {
			case zones.SensorGrip: // two steps up the flight along the rail
				if g.Sensor != 3 {
					continue
				}
				to := g.At.Add(drawing.Point{X: 2 * 254})
				e := zones.Move(s.r, place, g, ho, in, to).(model.MoveSensor)
				was := s.r.Zones[3].From
				if math.Abs(e.Along-was.Along-2) > 0.02 {
					t.Errorf("section %v: moved from %.2f to %.2f, not two steps", in, was.Along, e.Along)
				}
				if !in && e.Below != was.Below {
					t.Errorf("the plan moved it up or down")
				}
			case zones.UpperGrip:
				if got := zones.AlongOver(s.r, place, g.At); math.Abs(got-s.r.Zones[g.Sensor].SureAt.To) > 0.01 {
					t.Errorf("section %v: the grip is at %.3f, not %.3f", in, got, s.r.Zones[g.Sensor].SureAt.To)
				}
			}
		}
	}
}

// TestMovePost drags a sensor on a post in plan and section.
func TestMovePost(t *testing.T) {
	s := scenes(t)["poor"]
	i := len(s.r.Zones) - 1
	was := s.r.Zones[i].From
	for _, upright := range []bool{false, true} {
		ho := handle.Options{Upright: upright}
		place := lights.Plan(ho)
		at := place(1, [3]float64{200, -700, 0})
		e := zones.Move(s.r, place, zones.Grip{Kind: zones.SensorGrip, Sensor: i}, ho, false, at).(model.MoveSensor)
		if math.Abs(float64(e.At.X)-200) > 1e-6 || math.Abs(float64(e.At.Y)+700) > 1e-6 || e.At.Z != was.At.Z {
			t.Errorf("upright %v: %+v", upright, e.At)
		}
	}
	place := lights.Section(s.a, handle.Options{})
	at := place(1, [3]float64{60, -900, 1200})
	e := zones.Move(s.r, place, zones.Grip{Kind: zones.SensorGrip, Sensor: i}, handle.Options{}, true, at).(model.MoveSensor)
	if math.Abs(float64(e.At.Y)+900) > 1e-6 || math.Abs(float64(e.At.Z)-1200) > 1e-6 || math.Abs(float64(e.At.X-was.At.X)) > 1e-6 {
		t.Errorf("section: %+v", e.At)
	}
}

// TestSensorAt: a click in a row of the band chooses its sensor.
func TestSensorAt(t *testing.T) {
	s := scenes(t)["poor"]
	for _, g := range zones.BandGrips(s.r, zones.Options{Grips: true}) {
		if got := zones.SensorAt(s.r, g.At); got != g.Sensor {
			t.Errorf("row of %d is that of %d", g.Sensor, got)
		}
	}
	if got := zones.SensorAt(s.r, drawing.Point{Y: 5}); got != -1 {
		t.Errorf("above the band is sensor %d", got)
	}
	if got := zones.SensorAt(s.r, drawing.Point{Y: -1e6}); got != -1 {
		t.Errorf("below the band is sensor %d", got)
	}
}

func BenchmarkBand(b *testing.B) {
	s := scenes(b)["good"]
	var l drawing.List
	for b.Loop() {
		l.Reset()
		zones.Band(&l, s.r, zones.Options{Grips: true})
	}
}
