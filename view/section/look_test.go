package section_test

import (
	"fmt"
	"os"
	"testing"

	"risewright/model"
	"risewright/solver/buildup"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/section"
)

// TestLook writes pictures for eyes when RISEWRIGHT_LOOK names a folder.
func TestLook(t *testing.T) {
	if os.Getenv("RISEWRIGHT_LOOK") == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write pictures for eyes")
	}
	for _, name := range demoJobs {
		a := demo(t, name)
		show := func(kind string, w, h int, o section.Options, p drawing.Palette) {
			o.Format = a.Job.Format()
			v := section.Fit(a, o, float64(w), float64(h), drawing.PaperScale(1))
			o.Scale = v.Scale / v.Paper
			var l drawing.List
			section.Draw(&l, a, o)
			save(t, fmt.Sprintf("section-%s-%s", name, kind), &l, w, h, v, p)
		}
		show("large", 1200, 800, section.Options{Dimensions: true, Findings: true}, drawing.Light())
		show("flight", 1200, 400, section.Options{Dimensions: true, Findings: true}, drawing.Light())
		show("step", 1200, 400, section.Options{Dimensions: true, Findings: true, Selected: 5, Handles: true}, drawing.Light())
		show("dark", 1600, 600, section.Options{Dimensions: true, Findings: true, Selected: 5, Exaggerate: 5, Ghost: true, Handles: true, Cut: buildup.Left}, drawing.Dark())
		near := section.Options{Dimensions: true, Findings: true, Selected: 5, Handles: true, Format: a.Job.Format()}
		v := section.Fit(a, near, 1200, 800, drawing.PaperScale(1)).Zoom(drawing.Point{X: 430, Y: 560}, 5)
		near.Scale = v.Scale / v.Paper
		var l drawing.List
		section.Draw(&l, a, near)
		save(t, fmt.Sprintf("section-%s-near", name), &l, 1200, 800, v, drawing.Light())
		show("upright", 700, 1000, section.Options{Dimensions: true, Findings: true, Selected: 3}, drawing.Light())
	}
	job := tilted(flight(t, 6, model.Imperial))
	job.Overlay.FloorTop, job.Overlay.FloorBottom = 14, 9
	a := answer(t, job)
	o := section.Options{Dimensions: true, Findings: true, Format: job.Format(), Selected: 2, Handles: true, Exaggerate: 3, Piece: "T04"}
	v := section.Fit(a, o, 1200, 1000, drawing.PaperScale(1))
	o.Scale = v.Scale / v.Paper
	o.Hover = handle.ID{Kind: handle.TreadHeight, Step: 2}
	save(t, "section-own", drawn(a, o), 1200, 1000, v, drawing.Light())
	save(t, "section-own-print", drawn(a, o), 1200, 1000, v, drawing.Print())
}
