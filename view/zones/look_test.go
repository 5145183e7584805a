package zones_test

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
	"risewright/view/zones"
)

// TestLook writes bands, plans and sections for eyes when RISEWRIGHT_LOOK names
// a folder.
func TestLook(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write pictures for eyes")
	}
	const w, h, paper = 1200, 800, 4
	save := func(name string, l *drawing.List, v drawing.Viewport, p drawing.Palette) {
		img := image.NewRGBA(image.Rect(0, 0, w, h))
		var r screen.Renderer
		r.Draw(img, l, v, p)
		f, err := os.Create(filepath.Join(dir, name+".png"))
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
	for name, s := range scenes(t) {
		o := zones.Options{Chosen: 2, Grips: true}
		v := zones.FitBand(s.r, o, w, h, paper)
		o.Scale = v.Scale / v.Paper
		var l drawing.List
		zones.Band(&l, s.r, o)
		save(name+" band", &l, v, drawing.Light())
		save(name+" band dark", &l, v, drawing.Dark())
		for _, in := range []bool{false, true} {
			ho := handle.Options{}
			fit, draw, place, kind := plan.Fit, plan.Draw, lights.Plan(ho), "plan"
			if in {
				fit, draw, place, kind = section.Fit, section.Draw, lights.Section(s.a, ho), "section"
			}
			v := fit(s.a, ho, w, h, paper)
			ho.Scale = v.Scale / v.Paper
			var l drawing.List
			draw(&l, s.a, ho)
			zones.Draw(&l, s.r, place, zones.Options{Scale: ho.Scale, Section: in, Chosen: 2, Grips: true})
			save(name+" "+kind, &l, v, drawing.Light())
		}
	}
}
