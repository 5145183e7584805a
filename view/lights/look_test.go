package lights_test

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"risewright/view/drawing"
	"risewright/view/drawing/screen"
	"risewright/view/handle"
	"risewright/view/lights"
	"risewright/view/plan"
	"risewright/view/section"
)

// TestLook writes plans and sections with their lights for eyes when
// RISEWRIGHT_LOOK names a folder.
func TestLook(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write pictures for eyes")
	}
	const w, h, paper = 1300, 800, 4
	for name, a := range answers(t) {
		for _, in := range []bool{false, true} {
			o := handle.Options{Selected: 2}
			fit, draw, place, kind := plan.Fit, plan.Draw, lights.Plan(o), "plan"
			if in {
				fit, draw, place, kind = section.Fit, section.Draw, lights.Section(a, o), "section"
			}
			v := fit(a, o, w, h, paper)
			o.Scale = v.Scale / v.Paper
			var l drawing.List
			draw(&l, a, o)
			lights.Draw(&l, a, place, lights.Options{Scale: o.Scale, Section: in, Grips: true, Lit: func(step int) bool { return step%3 == 0 }})
			img := image.NewRGBA(image.Rect(0, 0, w, h))
			var r screen.Renderer
			r.Draw(img, &l, v, drawing.Light())
			f, err := os.Create(filepath.Join(dir, name+" "+kind+".png"))
			if err != nil {
				t.Fatal(err)
			}
			if err := png.Encode(f, img); err != nil {
				t.Error(err)
			}
			if err := f.Close(); err != nil {
				t.Error(err)
			}
		}
	}
}
