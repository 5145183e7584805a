package screen

import (
	"image"
	"image/color"
	"math"
	"testing"
	"time"

	"golang.org/x/image/vector"

	"risewright/view/drawing"
)

// BenchmarkAgainstGeneralRasteriser times the fill of treads seen in plan against
// the rasteriser of golang.org/x/image, which is also antialiased by area, and
// reports how many times longer that takes. The treads lie askew: on nearly level
// edges the two differ by more (see filler).
func BenchmarkAgainstGeneralRasteriser(b *testing.B) {
	const wide, high, treads = 1200, 400, 14
	const turn = 0.7
	var shapes [][]drawing.Point
	for i := range treads {
		at, across, deep := drawing.Point{X: 210 + 66*float64(i), Y: 60 + 3*float64(i)}, 230.0, 70.0
		along, back := drawing.Point{X: math.Cos(turn), Y: math.Sin(turn)}, drawing.Point{X: -math.Sin(turn), Y: math.Cos(turn)}
		shapes = append(shapes, []drawing.Point{at, at.Add(along.Mul(deep)), at.Add(along.Mul(deep)).Add(back.Mul(across)), at.Add(back.Mul(across))})
	}
	palette := drawing.Light()
	ground, ink := palette[drawing.Paper], palette[drawing.Wood]
	blank := image.NewRGBA(image.Rect(0, 0, wide, high))
	for i := 0; i < len(blank.Pix); i += 4 {
		blank.Pix[i], blank.Pix[i+1], blank.Pix[i+2], blank.Pix[i+3] = ground.R, ground.G, ground.B, 255
	}
	ours, general := image.NewRGBA(blank.Rect), image.NewRGBA(blank.Rect)
	var r Renderer
	r.begin(ours, drawing.Viewport{Scale: 1, Paper: 1}, palette)
	z := vector.NewRasterizer(wide, high)
	src := image.NewUniform(color.NRGBA{ink.R, ink.G, ink.B, 255})
	var mine, theirs time.Duration
	for b.Loop() {
		copy(ours.Pix, blank.Pix)
		copy(general.Pix, blank.Pix)
		start := time.Now()
		for _, s := range shapes {
			r.fill(s, drawing.Wood)
		}
		mine += time.Since(start)

		start = time.Now()
		for _, s := range shapes {
			// Only the box round a shape is drawn, as whoever uses it well does.
			box := image.Rectangle{}
			for i, p := range s {
				at := image.Rect(int(p.X), int(p.Y), int(p.X)+2, int(p.Y)+2)
				if i == 0 {
					box = at
				}
				box = box.Union(at)
			}
			z.Reset(box.Dx(), box.Dy())
			for i, p := range s {
				x, y := float32(p.X-float64(box.Min.X)), float32(p.Y-float64(box.Min.Y))
				if i == 0 {
					z.MoveTo(x, y)
				} else {
					z.LineTo(x, y)
				}
			}
			z.ClosePath()
			z.Draw(general, box, src, image.Point{})
		}
		theirs += time.Since(start)

		worst := 0
		for i, v := range ours.Pix {
			worst = max(worst, int(math.Abs(float64(v)-float64(general.Pix[i]))))
		}
		if worst > 8 { // steps of its slopes
			b.Fatalf("the two differ by %d of 255", worst)
		}
	}
	b.ReportMetric(float64(mine.Nanoseconds())/float64(b.N), "ns/ours")
	b.ReportMetric(float64(theirs.Nanoseconds())/float64(b.N), "ns/x-image")
	b.ReportMetric(float64(theirs)/float64(mine), "x-image/ours")
}
