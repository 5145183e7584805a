package panel

import (
	"image/color"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// lookSwatch is a colour that can be chosen, with its name below. The one that is
// chosen has a frame and a mark, so that it is told without colour.
type lookSwatch struct {
	widget.BaseWidget
	name             string
	colours          [2]color.NRGBA // of its two halves
	on               bool
	focused, hovered bool
	pick             func()
}

var (
	_ fyne.Focusable    = (*lookSwatch)(nil)
	_ fyne.Tappable     = (*lookSwatch)(nil)
	_ desktop.Hoverable = (*lookSwatch)(nil)
)

func newLookSwatch(name string, a, b color.NRGBA, pick func()) *lookSwatch {
	s := &lookSwatch{name: name, colours: [2]color.NRGBA{a, b}, pick: pick}
	s.ExtendBaseWidget(s)
	return s
}

func (s *lookSwatch) set(on bool, a, b color.NRGBA) {
	if c := [2]color.NRGBA{a, b}; s.on != on || s.colours != c {
		s.on, s.colours = on, c
		s.Refresh()
	}
}

// Tapped implements fyne.Tappable.
func (s *lookSwatch) Tapped(*fyne.PointEvent) {
	focus(s)
	s.pick()
}

// MouseIn implements desktop.Hoverable.
func (s *lookSwatch) MouseIn(*desktop.MouseEvent) { s.hovered = true; s.Refresh() }

// MouseMoved implements desktop.Hoverable.
func (s *lookSwatch) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (s *lookSwatch) MouseOut() { s.hovered = false; s.Refresh() }

// FocusGained implements fyne.Focusable.
func (s *lookSwatch) FocusGained() {
	s.focused = true
	s.Refresh()
	toSight(s)
}

// FocusLost implements fyne.Focusable.
func (s *lookSwatch) FocusLost() { s.focused = false; s.Refresh() }

// TypedRune implements fyne.Focusable.
func (s *lookSwatch) TypedRune(rune) {}

// TypedKey implements fyne.Focusable.
func (s *lookSwatch) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		s.pick()
	}
}

// CreateRenderer implements fyne.Widget.
func (s *lookSwatch) CreateRenderer() fyne.WidgetRenderer {
	r := &lookSwatchRenderer{s: s, frame: fcanvas.NewRectangle(color.Transparent), word: newLabel(s.name).small()}
	for i := range r.half {
		r.half[i] = fcanvas.NewRectangle(color.Transparent)
	}
	r.mark = newWhole("✓").bold()
	r.objects = []fyne.CanvasObject{r.half[0], r.half[1], r.frame, r.word, r.mark}
	r.look()
	return r
}

type lookSwatchRenderer struct {
	s          *lookSwatch
	half       [2]*fcanvas.Rectangle
	frame      *fcanvas.Rectangle
	word, mark *label
	objects    []fyne.CanvasObject
}

func (r *lookSwatchRenderer) look() {
	th, v := r.s.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	for i, h := range r.half {
		h.FillColor = r.s.colours[i]
	}
	edge, width := base.ColorNameInputBorder, float32(1)
	switch {
	case r.s.focused:
		edge, width = base.ColorNamePrimary, 3
	case r.s.on || r.s.hovered:
		edge, width = base.ColorNameForeground, 2
	}
	r.frame.StrokeColor, r.frame.StrokeWidth = th.Color(edge, v), width
	r.frame.CornerRadius = 3
	if r.s.on {
		r.mark.set("✓")
	} else {
		r.mark.set("")
	}
	c := r.s.colours[0]
	role := base.ColorNameForeground
	if (int(c.R)*3+int(c.G)*6+int(c.B))/10 < 128 == (v == base.VariantLight) {
		role = base.ColorNameBackground
	}
	r.mark.put(r.mark.text, role)
}

const lookSwatchHigh = 26

func (r *lookSwatchRenderer) Layout(s fyne.Size) {
	k := letterScale()
	w := s.Width / 2
	for i, h := range r.half {
		h.Move(fyne.NewPos(1+float32(i)*(w-1), 1))
		h.Resize(fyne.NewSize(w-1, lookSwatchHigh*k-2))
	}
	r.frame.Resize(fyne.NewSize(s.Width, lookSwatchHigh*k))
	m := r.mark.MinSize()
	r.mark.Move(fyne.NewPos(5, (lookSwatchHigh*k-m.Height)/2))
	r.mark.Resize(m)
	r.word.Move(fyne.NewPos(0, lookSwatchHigh*k))
	r.word.Resize(fyne.NewSize(s.Width, r.word.MinSize().Height))
}

func (r *lookSwatchRenderer) MinSize() fyne.Size {
	return fyne.NewSize(84*letterScale(), lookSwatchHigh*letterScale()+r.word.MinSize().Height)
}

// Refresh implements fyne.WidgetRenderer.
func (r *lookSwatchRenderer) Refresh() {
	r.look()
	r.Layout(r.s.Size())
	for _, o := range r.objects {
		o.Refresh()
	}
}
func (r *lookSwatchRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *lookSwatchRenderer) Destroy()                     {}
