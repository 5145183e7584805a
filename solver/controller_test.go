package solver_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"risewright/app/demo"
	"risewright/assets"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/walk"
)

func demoJob(t *testing.T, name string) model.Job {
	t.Helper()
	text, err := assets.DemoJob(name)
	if err != nil {
		t.Fatal(err)
	}
	job, err := model.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	return job
}

// TestWalkOnDemo walks a day over each demo stair with the sensors that a job is
// first given, as their zones come out.
func TestWalkOnDemo(t *testing.T) {
	pub := published(t)
	for _, name := range []string{"well-behaved", "winding"} {
		job, err := model.SetSensing{Sensing: model.FirstSensing(demoJob(t, name), pub.Senses)}.Apply(demoJob(t, name))
		if err != nil {
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

// TestLongStair: the sensors first given to a stair are never more than its
// controller takes, and one with more bars than that drives is told to be divided.
func TestLongStair(t *testing.T) {
	if model.ControllerInputs != walk.MaxSensors {
		t.Errorf("%d sensors are given, the controller takes %d", model.ControllerInputs, walk.MaxSensors)
	}
	pub := published(t)
	told := func(job model.Job) string {
		a := solver.Solve(job, pub)
		sense := solver.Sense(a, pub, nil)
		if len(sense.Blind) == 0 {
			t.Errorf("%d steps, %d sensors: no step is said to be unseen", len(job.Flight.Steps), len(job.Sensing.Sensors))
		}
		found, _ := solver.SensorFindings(a, pub, &sense)
		for _, f := range found {
			if f.Rule == "walk.tables" {
				return f.Title + ": " + f.Remedy
			}
		}
		return ""
	}
	for n, words := range map[int]string{walk.MaxBars: "", walk.MaxBars + 1: "divide the stair"} {
		job, err := demo.Long(n)
		if err != nil {
			t.Fatal(err)
		}
		if got := len(job.Sensing.Sensors); got != walk.MaxSensors {
			t.Errorf("%d steps are given %d sensors", n, got)
		}
		if got := told(job); !strings.Contains(got, words) || words == "" && got != "" {
			t.Errorf("%d steps: %q", n, got)
		}
		if words == "" {
			more := job.Sensing.Sensors[0]
			more.ID = model.NamedID(more.ID, "another")
			job.Sensing.Sensors = append(job.Sensing.Sensors, more)
			if got := told(job); !strings.Contains(got, "delete sensors") {
				t.Errorf("%d sensors: %q", walk.MaxSensors+1, got)
			}
		}
	}
}

// TestFound: without sensors the findings are the answer's own; with them those of
// sensors and rules come in the same order, what both say only once.
func TestFound(t *testing.T) {
	pub := published(t)
	job := demoJob(t, "well-behaved")
	job.Sensing = model.Sensing{}
	found := func() (*solver.Answer, []model.Finding) {
		a := solver.Solve(job, pub)
		sense := solver.Sense(a, pub, nil)
		found, _ := solver.Found(a, pub, &sense)
		return a, found
	}
	if a, fs := found(); !slices.Equal(fs, a.Findings) {
		t.Errorf("without sensors %d findings, %d of the answer", len(fs), len(a.Findings))
	}
	job.Sensing = model.FirstSensing(job, pub.Senses)
	for i := range job.Sensing.Sensors {
		job.Sensing.Sensors[i].Class = "wide-dome" // its block is long
		job.Sensing.Sensors[i].Removed = i > 0
	}
	a, fs := found()
	rules := map[string]int{}
	for i, f := range fs {
		rules[f.Rule]++
		if i > 0 && (f.Severity > fs[i-1].Severity || f.Severity == fs[i-1].Severity && f.Where.Step < fs[i-1].Where.Step) {
			t.Errorf("%q comes after %q", f.Title, fs[i-1].Title)
		}
	}
	for _, f := range a.Findings {
		if !slices.Contains(fs, f) {
			t.Errorf("%q is gone", f.Title)
		}
	}
	if rules["sensing.block"] != 1 || rules["walk.lockout"] != 0 || rules["sensing.blind"] != 1 || rules["walk.blind"] != 0 {
		t.Errorf("findings by rule: %v", rules)
	}
}
