package solver_test

import (
	"math"
	"testing"

	"risewright/app/tables"
	"risewright/assets"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/walk"
)

// TestWalkOnDemo walks a day over each demo stair with the sensors that a job is
// first given, as their zones come out.
func TestWalkOnDemo(t *testing.T) {
	pub, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"well-behaved", "winding"} {
		text, err := assets.DemoJob(name)
		if err != nil {
			t.Fatal(err)
		}
		job, err := model.Decode(text)
		if err != nil {
			t.Fatal(err)
		}
		if job, err = (model.SetSensing{Sensing: model.FirstSensing(job, pub.Senses)}).Apply(job); err != nil {
			t.Fatal(err)
		}
		a := solver.Solve(job, pub)
		sense := solver.Sense(a, pub, nil)
		setup := solver.WalkOn(a, pub, &sense)
		step := solver.StepM(a)
		if math.Abs(step-0.35) > 0.06 {
			t.Errorf("%s: a step of %.3f m along the pitch line", name, step)
		}
		sim, err := walk.NewSim(setup, 1)
		if err != nil {
			t.Fatal(err)
		}
		blind, open := sim.Tables().Blind()
		people := walk.Crowd{Walks: 100, Passers: 30, StepM: step}.Draw(1, len(job.Flight.Steps), pub.Senses.Paces)
		s := sim.Run(people)
		t.Logf("%s: blind %v, open %v; %+v", name, blind, open, s)
		if s.Footfalls < 1000 || s.Conflicts > 0 && len(blind) == 0 {
			t.Errorf("%s: %+v", name, s)
		}
		// By the rules' own promise where every step is seen; elsewhere it is told.
		if len(blind) == 0 && s.Unlit > 0 {
			t.Errorf("%s: %d ticks with a foot on a dark step", name, s.Unlit)
		}
		for k := 1; k < len(job.Flight.Steps); k++ {
			if sim.Core().May(k) && len(open) == 0 {
				t.Errorf("%s: long after the last walker somebody may still be on step %d", name, k)
			}
		}
	}
}
