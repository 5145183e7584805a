package solver_test

import (
	"fmt"
	"testing"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
)

// What a new job is first given under its noses holds, by everything that is
// judged: no limit is passed, whatever the flight's length, width and units.
func TestTheFirstLightingHolds(t *testing.T) {
	tab := published(t)
	for _, units := range []model.Units{model.Imperial, model.Metric} {
		for _, risers := range []int{3, 8, 14, 20} {
			for _, width := range []model.Length{700, 914, 1200} {
				t.Run(fmt.Sprint(units, risers, width), func(t *testing.T) {
					base, err := tables.NewJob(units, nil)
					if err != nil {
						t.Fatal(err)
					}
					j := model.Sketch(model.SketchSpec{Risers: risers, Width: width, Rise: 190, Going: 254, Base: base})
					j.Lighting = solver.FirstLighting(solver.Solve(j, tab), tab)
					a := solver.Solve(j, tab)
					if len(a.Bars.Bars) != risers {
						t.Fatalf("%d bars", len(a.Bars.Bars))
					}
					for _, f := range append(a.Bars.Findings, a.Power.Findings...) {
						if f.Severity >= model.Outside {
							t.Errorf("%s: %s", f.Rule, f.Title)
						} else if f.Severity == model.Advice {
							t.Logf("%s: %s", f.Rule, f.Title)
						}
					}
					if l := j.Lighting; l.Cap != 0 && l.Cap < 0.3 {
						t.Errorf("the brightness is capped at %g", l.Cap)
					}
					t.Log(j.Lighting.Strip, j.Lighting.Supply, j.Lighting.Controller, j.Lighting.Cap, j.Lighting.Wires)
				})
			}
		}
	}
}

// Tables that have nothing to choose from leave what model.FirstLighting gives,
// and a flight without boards does not stop it.
func TestAFirstLightingFromPoorTables(t *testing.T) {
	tab := published(t)
	base, err := tables.NewJob(model.Metric, nil)
	if err != nil {
		t.Fatal(err)
	}
	j := model.Sketch(model.SketchSpec{Risers: 5, Width: 900, Rise: 190, Going: 250, Base: base})
	a := solver.Solve(j, tab)
	tab.Lights = model.LightTables{Strips: tab.Lights.Strips[:1]}
	l := solver.FirstLighting(a, tab)
	if l.Strip != tab.Lights.Strips[0].ID || l.Supply != "" || l.Controller != "" {
		t.Errorf("chosen are %q, %q, %q", l.Strip, l.Supply, l.Controller)
	}
	if l := solver.FirstLighting(&solver.Answer{Job: j}, published(t)); !l.On() {
		t.Error("without boards there is no lighting")
	}
}
