package screen_test

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"risewright/view/drawing"
	"risewright/view/drawing/internal/specimen"
	"risewright/view/drawing/screen"
)

// TestLook writes pictures for eyes when RISEWRIGHT_LOOK names a folder.
func TestLook(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write pictures for eyes")
	}
	var r screen.Renderer
	save := func(name string, l *drawing.List, w, h int, v drawing.Viewport, p drawing.Palette) {
		dst := image.NewRGBA(image.Rect(0, 0, w, h))
		r.Draw(dst, l, v, p)
		f, err := os.Create(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if err := png.Encode(f, dst); err != nil {
			t.Fatal(err)
		}
	}
	var stair, sheet drawing.List
	specimen.Stair(&stair, 3)
	lo, hi := stair.Bounds()
	v := drawing.Fit(lo, hi, 1200, 800, 30, drawing.PaperScale(1))
	save("stair-light.png", &stair, 1200, 800, v, drawing.Light())
	save("stair-dark.png", &stair, 1200, 800, v, drawing.Dark())
	save("stair-close.png", &stair, 1200, 800, v.Zoom(v.Pixel(drawing.Point{X: 300, Y: 500}), 4), drawing.Light())
	specimen.Sheet(&sheet)
	k := drawing.PaperScale(1)
	save("sheet-96.png", &sheet, int(210*k), int(297*k), drawing.Viewport{Scale: k, Origin: drawing.Point{Y: 297 * k}, Paper: k}, drawing.Light())
	k *= 1.5
	save("sheet-144.png", &sheet, int(210*k), int(297*k), drawing.Viewport{Scale: k, Origin: drawing.Point{Y: 297 * k}, Paper: k}, drawing.Dark())
}
