package panel

import (
	"image/color"
	"slices"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// swatches shows colours side by side in one frame, as they look on a screen.
type swatches struct {
	widget.BaseWidget
	colours []color.NRGBA
}

func newSwatches(colours ...color.NRGBA) *swatches {
	s := &swatches{colours: colours}
	s.ExtendBaseWidget(s)
	return s
}

// show changes the colours.
func (s *swatches) show(colours []color.NRGBA) {
	if slices.Equal(colours, s.colours) {
		return
	}
	s.colours = append([]color.NRGBA(nil), colours...)
	s.Refresh()
}

// CreateRenderer implements fyne.Widget.
func (s *swatches) CreateRenderer() fyne.WidgetRenderer {
	r := &swatchesRenderer{s: s, frame: fcanvas.NewRectangle(color.Transparent)}
	r.frame.StrokeWidth = 1
	r.fill()
	return r
}

type swatchesRenderer struct {
	s       *swatches
	frame   *fcanvas.Rectangle
	parts   []*fcanvas.Rectangle
	objects []fyne.CanvasObject
}

func (r *swatchesRenderer) fill() {
	th := r.s.Theme()
	r.frame.StrokeColor = th.Color(base.ColorNameInputBorder, fyne.CurrentApp().Settings().ThemeVariant())
	r.objects = r.objects[:0]
	for len(r.parts) < len(r.s.colours) {
		r.parts = append(r.parts, fcanvas.NewRectangle(color.Transparent))
	}
	for i, c := range r.s.colours {
		r.parts[i].FillColor = c
		r.objects = append(r.objects, r.parts[i])
	}
	r.objects = append(r.objects, r.frame)
}

// swatchHigh is the height of a swatch: that of a line of text.
const swatchHigh = 16

// Layout implements fyne.WidgetRenderer.
func (r *swatchesRenderer) Layout(s fyne.Size) {
	h := min(s.Height, swatchHigh)
	top := (s.Height - h) / 2
	n := len(r.s.colours)
	for i := range n {
		w := s.Width / float32(n)
		r.parts[i].Move(fyne.NewPos(float32(i)*w, top))
		r.parts[i].Resize(fyne.NewSize(w, h))
	}
	r.frame.Move(fyne.NewPos(0, top))
	r.frame.Resize(fyne.NewSize(s.Width, h))
}

// MinSize implements fyne.WidgetRenderer.
func (r *swatchesRenderer) MinSize() fyne.Size { return fyne.NewSize(18, swatchHigh) }

// Refresh implements fyne.WidgetRenderer.
func (r *swatchesRenderer) Refresh() {
	r.fill()
	r.Layout(r.s.Size())
	fcanvas.Refresh(r.s)
}

// Objects implements fyne.WidgetRenderer.
func (r *swatchesRenderer) Objects() []fyne.CanvasObject { return r.objects }

// Destroy implements fyne.WidgetRenderer.
func (r *swatchesRenderer) Destroy() {}
