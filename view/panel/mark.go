package panel

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"risewright/model"
	"risewright/view/drawing"
	"risewright/view/drawing/screen"
	"risewright/view/theme"
)

// mark is a tiny drawing that shows where a reading is taken.
type mark struct {
	widget.BaseWidget
	kind   model.Kind
	list   drawing.List
	paint  *screen.Renderer // shared by all marks of a table
	image  *image.RGBA
	raster *fcanvas.Raster
}

// markWidth and markHeight are the sides of a mark, in fyne units and in the
// units it is drawn in.
const (
	markWidth  = 27.0
	markHeight = 20.0
)

func newMark(paint *screen.Renderer) *mark {
	m := &mark{paint: paint}
	m.raster = fcanvas.NewRaster(m.frame)
	m.raster.ScaleMode = fcanvas.ImageScalePixels
	m.raster.SetMinSize(fyne.NewSize(markWidth, markHeight))
	m.ExtendBaseWidget(m)
	return m
}

func (m *mark) set(k model.Kind) {
	if k != m.kind {
		m.kind = k
		m.raster.Refresh()
	}
}

// CreateRenderer implements fyne.Widget.
func (m *mark) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(m.raster) }

func (m *mark) frame(w, h int) image.Image {
	if m.image == nil || m.image.Rect.Dx() != w || m.image.Rect.Dy() != h {
		m.image = image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	}
	scale := math.Min(float64(w)/markWidth, float64(h)/markHeight)
	if scale <= 0 {
		return m.image
	}
	m.list.Reset()
	drawMark(&m.list, m.kind)
	v := drawing.Viewport{Scale: scale, Origin: drawing.Point{X: float64(w)/2 - scale*markWidth/2, Y: float64(h)/2 + scale*markHeight/2}, Paper: drawing.PaperScale(scale)}
	variant := fyne.CurrentApp().Settings().ThemeVariant()
	palette := theme.PaletteOf(m.Theme(), variant)
	if ground, ok := m.Theme().Color(base.ColorNameBackground, variant).(color.NRGBA); ok {
		palette[drawing.Paper] = ground
	}
	m.paint.Draw(m.image, &m.list, v, palette)
	return m.image
}

// drawMark draws the opening from above, up the flight upwards, or the flight
// from the side, with what is measured thick.
func drawMark(l *drawing.List, k model.Kind) {
	thin := drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin}
	thick := drawing.Stroke{Ink: drawing.Select, Width: drawing.Heavy}
	p := func(x, y float64) drawing.Point { return drawing.Point{X: x, Y: y} }
	fl, fr, br, bl := p(3, 4), p(24, 4), p(22, 16), p(5, 16)
	mid := func(a, b drawing.Point) drawing.Point { return a.Add(b).Mul(0.5) }
	opening := func() { l.Polyline([]drawing.Point{fl, fr, br, bl}, true, thin) }
	gauge := func(at drawing.Point, from, to float64) {
		opening()
		l.Arc(at, 6, from*math.Pi/180, to*math.Pi/180, thick)
		l.Dot(at, 0.45, drawing.Fill{Ink: drawing.Select}, drawing.Stroke{})
	}
	// which end of a nose: a small mark at the left or the right of an opening
	side := func(left bool) {
		x := 24.0
		if left {
			x = 3
		}
		l.Dot(p(x, 17), 0.55, drawing.Fill{Ink: drawing.Select}, drawing.Stroke{})
	}
	line := func(a, b drawing.Point) {
		opening()
		l.Line(a, b, thick)
	}
	switch k {
	case model.FrontWidth:
		line(fl, fr)
	case model.BackWidth:
		line(bl, br)
	case model.MiddleWidth:
		line(mid(fl, bl), mid(fr, br))
	case model.LeftDepth:
		line(fl, bl)
	case model.RightDepth:
		line(fr, br)
	case model.DiagonalLeft:
		line(bl, fr)
	case model.DiagonalRight:
		line(br, fl)
	case model.GaugeFrontLeft:
		gauge(fl, 0, 80)
	case model.GaugeFrontRight:
		gauge(fr, 100, 180)
	case model.GaugeBackRight:
		gauge(br, 180, 280)
	case model.GaugeBackLeft:
		gauge(bl, 260, 360)
	case model.LeanLeft:
		l.Line(p(7, 4), p(24, 4), thin)
		l.Line(p(7, 4), p(7, 17), drawing.Hidden(drawing.Soft, drawing.Thin))
		l.Line(p(7, 4), p(3, 17), thick)
	case model.LeanRight:
		l.Line(p(3, 4), p(20, 4), thin)
		l.Line(p(20, 4), p(20, 17), drawing.Hidden(drawing.Soft, drawing.Thin))
		l.Line(p(20, 4), p(24, 17), thick)
	case model.RiseLeft, model.RiseRight:
		l.Polyline([]drawing.Point{p(5, 4), p(13, 4), p(13, 14), p(22, 14)}, false, thin)
		l.Line(p(13, 4), p(13, 14), thick)
		side(k == model.RiseLeft)
	case model.GoingLeft, model.GoingRight:
		l.Polyline([]drawing.Point{p(5, 3), p(5, 8), p(21, 8), p(21, 14), p(24, 14)}, false, thin)
		l.Line(p(5, 8), p(21, 8), thick)
		side(k == model.GoingLeft)
	case model.TiltAcross:
		l.Line(p(3, 8), p(24, 8), drawing.Hidden(drawing.Soft, drawing.Thin))
		l.Line(p(3, 7), p(24, 12), thick)
		l.Line(p(3, 3), p(3, 17), thin)
		l.Line(p(24, 3), p(24, 17), thin)
	case model.TiltFore:
		l.Line(p(4, 8), p(22, 8), drawing.Hidden(drawing.Soft, drawing.Thin))
		l.Line(p(4, 7), p(22, 12), thick)
		l.Line(p(4, 7), p(4, 2), thin)
		l.Line(p(22, 12), p(22, 18), thin)
	case model.TotalRise, model.TotalGoing:
		l.Polyline([]drawing.Point{p(3, 3), p(8, 3), p(8, 7), p(13, 7), p(13, 11), p(18, 11), p(18, 15), p(24, 15)}, false, thin)
		if k == model.TotalRise {
			l.Line(p(22, 3), p(22, 15), thick)
		} else {
			l.Line(p(8, 18), p(18, 18), thick)
		}
	case model.LongDiagonalLeft, model.LongDiagonalRight:
		l.Polyline([]drawing.Point{p(8, 1), p(19, 1), p(19, 19), p(8, 19)}, true, thin)
		for y := 5.5; y < 18; y += 4.5 {
			l.Line(p(8, y), p(19, y), thin)
		}
		if k == model.LongDiagonalLeft {
			l.Line(p(8, 1), p(19, 19), thick)
		} else {
			l.Line(p(19, 1), p(8, 19), thick)
		}
	}
}

// shortName is the name of a kind for a narrow column.
func shortName(k model.Kind) string {
	switch k {
	case model.DiagonalLeft:
		return "diagonal ╲" // as it lies, up the flight upwards
	case model.DiagonalRight:
		return "diagonal ╱"
	case model.GaugeFrontLeft:
		return "gauge front left"
	case model.GaugeFrontRight:
		return "gauge front right"
	case model.GaugeBackRight:
		return "gauge back right"
	case model.GaugeBackLeft:
		return "gauge back left"
	case model.LeanLeft:
		return "lean left"
	case model.LeanRight:
		return "lean right"
	case model.RiseLeft:
		return "rise left"
	case model.RiseRight:
		return "rise right"
	case model.GoingLeft:
		return "going left"
	case model.GoingRight:
		return "going right"
	case model.TiltFore:
		return "tilt fore, aft"
	case model.LongDiagonalLeft:
		return "long diagonal ╱"
	case model.LongDiagonalRight:
		return "long diagonal ╲"
	}
	return k.Words()
}
