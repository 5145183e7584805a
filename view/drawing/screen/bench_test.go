package screen_test

import (
	"image"
	"testing"

	"risewright/view/drawing"
	"risewright/view/drawing/internal/specimen"
	"risewright/view/drawing/screen"
)

// BenchmarkDraw1200x800 repaints plan and section of a 14-riser flight, with
// the list written anew each time as during a drag. The figure to hold is 8 ms.
func BenchmarkDraw1200x800(b *testing.B) {
	dst := image.NewRGBA(image.Rect(0, 0, 1200, 800))
	var l drawing.List
	var r screen.Renderer
	p := drawing.Light()
	specimen.Stair(&l, 3)
	lo, hi := l.Bounds()
	v := drawing.Fit(lo, hi, 1200, 800, 30, drawing.PaperScale(1))
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		l.Reset()
		specimen.Stair(&l, float64(i%200)/20)
		r.Draw(dst, &l, v, p)
	}
}

// BenchmarkDrawAgain repaints a list that has not changed.
func BenchmarkDrawAgain(b *testing.B) {
	dst := image.NewRGBA(image.Rect(0, 0, 1200, 800))
	var l drawing.List
	var r screen.Renderer
	p := drawing.Light()
	specimen.Stair(&l, 3)
	lo, hi := l.Bounds()
	v := drawing.Fit(lo, hi, 1200, 800, 30, drawing.PaperScale(1))
	b.ReportAllocs()
	for b.Loop() {
		r.Draw(dst, &l, v, p)
	}
}

// BenchmarkDrawZoomedIn repaints at a scale where nearly everything is outside.
func BenchmarkDrawZoomedIn(b *testing.B) {
	dst := image.NewRGBA(image.Rect(0, 0, 1200, 800))
	var l drawing.List
	var r screen.Renderer
	p := drawing.Light()
	specimen.Stair(&l, 3)
	v := drawing.Viewport{Scale: 1e6, Origin: drawing.Point{X: -3.6e8, Y: 2e6}, Paper: drawing.PaperScale(1)}
	for b.Loop() {
		r.Draw(dst, &l, v, p)
	}
}
