package scene_test

import (
	"fmt"
	"math"
	"testing"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/walk"
	"risewright/view/scene"
)

// TestLitAsTheController: where a job has sensors every bar of a scene is as
// bright as the controller's rules make it for somebody who has come there at an
// ordinary pace; walked here with a simulation of its own, which steps through
// every tick, beside the hand-moved one that the scene asks.
func TestLitAsTheController(t *testing.T) {
	ws, tb := stairs(t)
	for name, w := range ws {
		a := w.Answer
		if !a.Job.Sensing.On() {
			continue
		}
		n := float64(len(a.Job.Flight.Steps))
		sense := solver.Sense(a, tb, nil)
		thumb := *a
		thumb.Job.Sensing.Sensors = nil
		differ := 0
		for _, at := range []float64{1, math.Round(n / 2), n/2 + 0.4, n} {
			for _, down := range []bool{false, true} {
				o := scene.Options{Time: scene.Night, Walker: at, Down: down, Sense: &sense}
				// The scene's walk ends on a tick of its own, which may be the next one:
				// a bar that fades is then a tick further.
				want, next := walkedTo(t, solver.WalkOn(a, tb, &sense), at, down)
				level, by := scene.Lit(a, tb, o)
				if by != scene.ByController {
					t.Fatalf("%s: lit by %q", name, by)
				}
				rule, _ := scene.Lit(&thumb, tb, o)
				lit := 0
				for i := range want {
					if got := math.Round(level(i+1) * 255); got < float64(min(want[i], next[i])) || got > float64(max(want[i], next[i])) {
						t.Errorf("%s, step %g, down %v: bar %d is at %g of 255, the controller gives %d, and %d a tick later", name, at, down, i+1, got, want[i], next[i])
					}
					if want[i] > 0 {
						lit++
					}
					if math.Abs(rule(i+1)-level(i+1)) > 0.02 {
						differ++
					}
				}
				// Who has only just come from above may not have been seen as yet.
				if lit == 0 && !(down && at == n) {
					t.Errorf("%s, step %g, down %v: all is dark", name, at, down)
				}
				if down || at != 1 {
					continue
				}
				s, err := scene.Make(a, planned(w), tb, o)
				if err != nil || s.LitBy != by {
					t.Fatalf("lit by %q, %v", s.LitBy, err)
				}
				for _, l := range s.Lamps {
					if l.Bar > 0 && l.Level != level(l.Bar) {
						t.Errorf("%s: the lamp of bar %d is at %g, not %g", name, l.Bar, l.Level, level(l.Bar))
					}
				}
			}
		}
		if differ == 0 {
			t.Errorf("%s: the rule of thumb says the same, so nothing is proved", name)
		}
	}
}

// walkedTo returns the levels of 255 when somebody from the near floor comes to a
// step, and one tick later.
func walkedTo(t *testing.T, setup walk.Setup, step float64, down bool) (out, next []uint8) {
	t.Helper()
	sim, err := walk.NewSim(setup, 1)
	if err != nil {
		t.Fatal(err)
	}
	from, to := -1.5, step-0.5
	if down {
		from = float64(setup.Light.Bars) + 0.5
	}
	ends := math.Abs(to-from) / walk.UsualPace
	sim.Whole = true
	sim.Watch = func(at float64, bars []walk.Bar, _ uint16, _ []walk.Place) {
		levels := &out
		if at > ends-sim.Tables().Seconds(1)-1e-9 {
			if levels = &next; len(next) > 0 {
				return
			}
		}
		*levels = (*levels)[:0]
		for i := range bars {
			*levels = append(*levels, bars[i].Level)
		}
	}
	sim.Run([]walk.Walker{{From: from, Legs: []walk.Leg{{To: to, Speed: walk.UsualPace}}}})
	return out, next
}

// TestLitAtRest: with nobody there the bars are as the controller rests in the
// job's scene of that hour; by day they are dark, unless nothing tells it so.
func TestLitAtRest(t *testing.T) {
	ws, tb := stairs(t)
	a := *ws["tapering"].Answer
	level := func(kind model.SceneKind) float64 {
		for _, s := range a.Job.Lighting.Scenes {
			if s.Kind.Of() == kind && !s.Shown {
				return math.Min(s.Level, a.Job.Lighting.Cap)
			}
		}
		t.Fatalf("the job has no scene %q", kind)
		return 0
	}
	same := func(o scene.Options, want float64) {
		t.Helper()
		f, by := scene.Lit(&a, tb, o)
		for i := range a.Bars.Bars {
			// The tables hold levels in 255ths, rounded up.
			if got := f(i + 1); got < want-1e-9 || got > want+1.0/255 {
				t.Errorf("%+v: bar %d is at %.3f, want %.3f", o, i+1, got, want)
			}
		}
		if by != scene.ByController {
			t.Errorf("lit by %q", by)
		}
	}
	same(scene.Options{Time: scene.Evening}, level(model.Steady))
	same(scene.Options{Time: scene.Night}, level(model.NightLight))
	same(scene.Options{Time: scene.Day}, 0)
	same(scene.Options{Time: scene.Day, Walker: 5}, 0)
	c := a.Job.Sensing.Rules()
	c.Daylight = false
	a.Job.Sensing.Control = c
	same(scene.Options{Time: scene.Day}, 0)
	f, _ := scene.Lit(&a, tb, scene.Options{Time: scene.Day, Walker: 5})
	night, _ := scene.Lit(&a, tb, scene.Options{Time: scene.Night, Walker: 5})
	if f(6) == 0 || f(6) != night(6) {
		t.Errorf("with no input for daylight bar 6 is at %g by day and %g at night", f(6), night(6))
	}
}

// TestLitByThumb: without a sensor that is there, or with a flight that the
// controller cannot hold, the rule of thumb says it, and the scene says so.
func TestLitByThumb(t *testing.T) {
	ws, tb := stairs(t)
	o := scene.Options{Time: scene.Night, Walker: 5}
	for name, change := range map[string]func(*model.Job){
		"none":    func(j *model.Job) { j.Sensing.Sensors = nil },
		"removed": func(j *model.Job) { j.Sensing.Sensors = taken(j.Sensing.Sensors) },
		"still":   func(j *model.Job) { j.Sensing.Control = j.Sensing.Rules(); j.Sensing.Control.TickMS = 1000 },
	} {
		w := *ws["tapering"].Answer
		change(&w.Job)
		want := scene.ByThumb
		if name == "still" {
			want = scene.ByThumbStill
		}
		s, err := scene.Make(&w, nil, tb, o)
		if err != nil {
			t.Fatal(err)
		}
		var lit []int
		for _, l := range s.Lamps {
			if l.Bar > 0 && l.Level > 0 {
				lit = append(lit, l.Bar)
			}
		}
		// The scene of the walk-through lights five bars, two treads ahead: bar k+1
		// lights tread k.
		if s.LitBy != want || s.LitBy.String() == "" || fmt.Sprint(lit) != "[4 5 6 7 8]" {
			t.Errorf("%s: lit by %q: %v", name, s.LitBy, lit)
		}
	}
	s, err := scene.Make(ws["tapering"].Answer, nil, tb, scene.Options{Time: scene.Night, Before: true})
	if err != nil || s.LitBy.String() != "" {
		t.Errorf("the stair before is lit by %q, %v", s.LitBy, err)
	}
}

func taken(in []model.Sensor) []model.Sensor {
	out := append([]model.Sensor(nil), in...)
	for i := range out {
		out[i].Removed = true
	}
	return out
}
