package section_test

import (
	"image"
	"testing"

	"risewright/view/drawing"
	"risewright/view/drawing/screen"
	"risewright/view/plan"
	"risewright/view/section"
)

// BenchmarkRedraw1200x800 draws plan and section of a surveyed flight anew and
// paints both, as during a drag. The figure to hold is 8 ms.
func BenchmarkRedraw1200x800(b *testing.B) {
	a := demo(b, "tapering")
	o := section.Options{Selected: 5, Dimensions: true, Findings: true, Handles: true, Uncertainty: true, Ghost: true, Format: a.Job.Format()}
	vs := section.Fit(a, o, 1200, 400, drawing.PaperScale(1))
	vp := plan.Fit(a, o, 1200, 400, drawing.PaperScale(1))
	dst := image.NewRGBA(image.Rect(0, 0, 1200, 800))
	upper := dst.SubImage(image.Rect(0, 0, 1200, 400)).(*image.RGBA)
	lower := dst.SubImage(image.Rect(0, 400, 1200, 800)).(*image.RGBA)
	vp = vp.Pan(0, 400)
	var ls, lp drawing.List
	var rs, rp screen.Renderer
	p := drawing.Light()
	b.ReportAllocs()
	for b.Loop() {
		ls.Reset()
		lp.Reset()
		o.Scale = vs.Scale / vs.Paper
		section.Draw(&ls, a, o)
		o.Scale = vp.Scale / vp.Paper
		plan.Draw(&lp, a, o)
		rs.Draw(upper, &ls, vs, p)
		rp.Draw(lower, &lp, vp, p)
	}
}

// BenchmarkDraw writes the two lists without painting them.
func BenchmarkDraw(b *testing.B) {
	a := demo(b, "tapering")
	o := section.Options{Selected: 5, Dimensions: true, Findings: true, Handles: true, Uncertainty: true, Ghost: true, Format: a.Job.Format()}
	var l drawing.List
	b.ReportAllocs()
	for b.Loop() {
		l.Reset()
		section.Draw(&l, a, o)
		plan.Draw(&l, a, o)
	}
}
