package solver_test

import (
	"slices"
	"strings"
	"testing"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/walk"
)

// senseOf solves a job and returns it with what its sensors see, to be walked on.
func senseOf(t *testing.T, job model.Job, pub model.Tables) (a *solver.Answer, setup walk.Setup, blind []int) {
	t.Helper()
	a = solver.Solve(job, pub)
	sense := solver.Sense(a, pub, nil)
	a.Findings, a.Lit = solver.Found(a, pub, &sense)
	if a.Lit == nil {
		t.Fatalf("%s: nothing is known of the light: %v", job.Name, a.Findings)
	}
	return a, solver.WalkOn(a, pub, &sense), sense.Blind
}

// TestPromise: on the demo stairs about half of the bars light for one adult, the
// steps round them; and no foot is on a dark step once a sensor could act, with all
// sensors or with any one of them taken away or failed.
func TestPromise(t *testing.T) {
	pub := published(t)
	for _, name := range []string{"well-behaved", "tapering"} {
		job := demoJob(t, name)
		a, setup, blind := senseOf(t, job, pub)
		if up, down := a.Lit.Up, a.Lit.Down; up.Bars != len(job.Flight.Steps) || up.Bright < 4 || up.Bright > 7.5 || down.Bright < 4 || down.Bright > 8.5 {
			t.Errorf("%s: %s", name, a.Lit.Words())
		}
		if len(blind) > 0 {
			t.Errorf("%s: nobody sees %v", name, blind)
		}
		people := walk.Crowd{Walks: 60, Passers: 15, StepM: solver.StepM(a)}.Draw(3, len(job.Flight.Steps), pub.Senses.Paces)
		try := func(what string, s walk.Setup, entry bool) {
			sim, err := walk.NewSim(s, 1)
			if err != nil {
				t.Fatal(err)
			}
			sc := sim.Run(people)
			if sc.Footfalls < 500 || sc.Dark > sc.DarkEntry || !entry && sc.Unlit > 0 {
				t.Errorf("%s, %s: %+v", name, what, sc)
			}
		}
		try("all sensors", setup, false)
		for i := range setup.Zones {
			gone, failed := setup, setup
			gone.Zones = slices.Clone(setup.Zones)
			gone.Zones[i].Removed = true
			try(setup.Zones[i].Name+" taken away", gone, false)
			if i == 0 || i == len(setup.Zones)-1 {
				continue // until the next one sees who comes in past the end's, nobody knows: package walk says so
			}
			failed.Faults = make([]walk.Fault, len(setup.Zones))
			failed.Faults[i] = walk.DeadOff
			try(setup.Zones[i].Name+" failed", failed, true)
		}
	}
}

// TestFirstSensingLight: of the sensors first given to straight flights of all
// goings no step is unseen, and for one adult not most of the flight lights.
func TestFirstSensingLight(t *testing.T) {
	pub := published(t)
	for _, c := range []struct {
		risers       int
		width, going model.Length
	}{{3, 900, 254}, {9, 760, 225}, {12, 914, 280}, {13, 1000, 260}, {15, 1150, 225}, {16, 860, 280}, {24, 914, 254}} {
		j, err := tables.NewJob(model.Metric, func(name string) model.ID { return model.NamedID(model.ID{}, name) })
		if err != nil {
			t.Fatal(err)
		}
		j.ID = model.NamedID(model.ID{}, "job")
		j = model.Sketch(model.SketchSpec{Risers: c.risers, Width: c.width, Rise: 190, Going: c.going, Base: j,
			IDs: func(i int) model.ID { return model.NamedID(j.ID, string(rune('a'+i))) }})
		j.Sensing = model.FirstSensing(j, pub.Senses)
		a, _, blind := senseOf(t, j, pub)
		if len(blind) > 0 || a.Lit.Up.Wide() || a.Lit.Down.Wide() {
			t.Errorf("%+v: unseen %v; %s", c, blind, a.Lit.Words())
		}
	}
}

// TestLitFinding: sensors that see far light most of the flight, and what narrows
// that is said.
func TestLitFinding(t *testing.T) {
	pub := published(t)
	of := func(job model.Job) []model.Finding {
		a, _, _ := senseOf(t, job, pub)
		return slices.DeleteFunc(a.Findings, func(f model.Finding) bool { return f.Rule != "walk.spread" })
	}
	job := demoJob(t, "well-behaved")
	if f := of(job); len(f) > 0 {
		t.Errorf("few bars light: %+v", f)
	}
	for i := range job.Sensing.Sensors {
		job.Sensing.Sensors[i].Mask = model.Mask{}
	}
	f := of(job)
	if len(f) != 1 || f[0].Severity != model.Note || !strings.Contains(f[0].Remedy, "tape both sides") {
		t.Errorf("without tape: %+v", f)
	}
}

// TestPlacesLight: the places that the search finds for the wish of a first set
// see every step and light little; those for a wish that lets a sensor see any
// number of steps are fewer and light more.
func TestPlacesLight(t *testing.T) {
	pub := published(t)
	job := demoJob(t, "well-behaved")
	st := solver.StairOf(solver.Solve(job, pub), pub)
	place := func(w model.SensorWish) (sensors int, lit *solver.Lit) {
		j := job
		j.Sensing.Wish = w
		p := st.Place(&j)
		if !p.Found {
			t.Fatalf("%+v: %s", w, p.Why)
		}
		j.Sensing.Sensors = p.Sensors
		a, _, blind := senseOf(t, j, pub)
		if len(blind) > 0 {
			t.Errorf("%+v: nobody sees %v", w, blind)
		}
		return len(p.Sensors), a.Lit
	}
	w := model.FirstSensing(job, pub.Senses).Wish
	n, lit := place(w)
	w.Longest = 0
	m, most := place(w)
	if n <= m || lit.Up.Wide() || lit.Down.Wide() || !most.Up.Wide() {
		t.Errorf("%d sensors: %s\n%d sensors, seeing any number of steps: %s", n, lit.Words(), m, most.Words())
	}
}
