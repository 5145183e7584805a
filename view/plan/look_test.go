package plan_test

import (
	"fmt"
	"os"
	"testing"

	"risewright/model"
	"risewright/view/drawing"
	"risewright/view/plan"
)

// TestLook writes pictures for eyes when RISEWRIGHT_LOOK names a folder.
func TestLook(t *testing.T) {
	if os.Getenv("RISEWRIGHT_LOOK") == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write pictures for eyes")
	}
	for _, name := range demoJobs {
		a := demo(t, name)
		show := func(kind string, w, h int, o plan.Options, p drawing.Palette) {
			o.Format = a.Job.Format()
			v := plan.Fit(a, o, float64(w), float64(h), drawing.PaperScale(1))
			o.Scale = v.Scale / v.Paper
			var l drawing.List
			plan.Draw(&l, a, o)
			save(t, fmt.Sprintf("plan-%s-%s", name, kind), &l, w, h, v, p)
		}
		show("flight", 1200, 400, plan.Options{Dimensions: true, Findings: true}, drawing.Light())
		show("step", 1200, 400, plan.Options{Dimensions: true, Findings: true, Selected: 5, Handles: true, Uncertainty: true}, drawing.Light())
		show("dark", 1600, 600, plan.Options{Dimensions: true, Findings: true, Selected: 5, Exaggerate: 5, Ghost: true, Handles: true, Uncertainty: true}, drawing.Dark())
		show("upright", 700, 1000, plan.Options{Dimensions: true, Findings: true, Selected: 3, Upright: true}, drawing.Light())
	}
	for name, job := range map[string]model.Job{"winders": winders(t), "forty": flight(t, 40, model.Imperial)} {
		a := answer(t, job)
		o := plan.Options{Dimensions: true, Findings: true, Format: job.Format(), Selected: 4, Handles: true}
		v := plan.Fit(a, o, 1200, 400, drawing.PaperScale(1))
		o.Scale = v.Scale / v.Paper
		save(t, "plan-"+name, drawn(a, o), 1200, 400, v, drawing.Light())
	}
}
