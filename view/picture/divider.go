package picture

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"risewright/view/drawing"
	"risewright/view/drawing/screen"
)

// StillBoth draws two worlds as Still does, one at the left of a column and the
// other from there on, with a divider: a stair before and after. One eye sees
// both, used to the light of the right one.
func (p *Painter) StillBoth(left, right *World, s Shot, column int, img *image.RGBA, frames int) error {
	if s.Exposure.Gain == 0 {
		s.Exposure = right.Meter(s.Camera)
	}
	column = max(1, min(img.Rect.Dx()-1, column))
	s.From, s.To = column, img.Rect.Dx()
	if err := p.Still(right, s, img, frames); err != nil {
		return err
	}
	s.From, s.To = 0, column
	half := image.NewRGBA(img.Rect)
	if err := p.Still(left, s, half, frames); err != nil {
		return err
	}
	draw.Draw(img, image.Rectangle{img.Rect.Min, image.Pt(img.Rect.Min.X+column, img.Rect.Max.Y)}, half, img.Rect.Min, draw.Src)
	Divider(img, column)
	return nil
}

// DividerOn is Divider on an opaque picture of the other kind, whose bytes mean
// the same then.
func DividerOn(img *image.NRGBA, column int) {
	Divider(&image.RGBA{Pix: img.Pix, Stride: img.Stride, Rect: img.Rect}, column)
}

// smallDivided is how high a picture must be, pixels, for more than a thin line.
const smallDivided = 250

// Divider draws a line down a picture at a column, and the words for what its two
// sides show, where there is room for them: before and after. The picture must be
// opaque.
func Divider(img *image.RGBA, column int) {
	b := img.Rect
	tall := float64(b.Dy())
	fill := func(r image.Rectangle, c color.NRGBA) {
		draw.Draw(img, r, image.NewUniform(c), image.Point{}, draw.Over)
	}
	if x := b.Min.X + column; tall < smallDivided {
		fill(image.Rect(x, b.Min.Y, x+1, b.Max.Y), color.NRGBA{255, 255, 255, 255})
		return
	}
	// A dark rim, so that the line is seen on a white wall, too.
	half := max(1, int(math.Round(tall/700)))
	x := b.Min.X + column
	fill(image.Rect(x-2*half, b.Min.Y, x+2*half, b.Max.Y), color.NRGBA{20, 22, 26, 170})
	fill(image.Rect(x-half, b.Min.Y, x+half, b.Max.Y), color.NRGBA{255, 255, 255, 255})

	letters := math.Max(11, tall/34) // pixels
	pad := math.Round(letters * 0.45)
	plate := func(word string, left bool) {
		const paper = 4 // pixels a millimetre
		size := letters / paper
		wide := math.Ceil(drawing.TextWidth(word, size, true, false) * paper)
		high := math.Round(letters * 1.5)
		from := float64(x-2*half) - 2*pad - wide - pad
		if !left {
			from = float64(x+2*half) + pad
		}
		top := float64(b.Min.Y) + pad
		r := image.Rect(int(from), int(top), int(from+wide+2*pad), int(top+high))
		if !r.In(b) || high*3 > tall {
			return
		}
		fill(r, color.NRGBA{20, 22, 26, 170})
		var l drawing.List
		v := drawing.Viewport{Scale: paper, Paper: paper}
		at := v.Scene(drawing.Point{X: float64(r.Min.X) + pad, Y: float64(r.Min.Y+r.Max.Y) / 2})
		l.Text(drawing.Text{At: at, Size: size, Baseline: drawing.BaseMiddle, Bold: true, String: word})
		p := drawing.Dark()
		p[drawing.Letter] = color.NRGBA{255, 255, 255, 255}
		var painter screen.Renderer
		painter.DrawOver(img, &l, v, p)
	}
	plate("Before", true)
	plate("After", false)
}
