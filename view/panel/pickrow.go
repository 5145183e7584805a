package panel

import (
	"image/color"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// pickRow is a row of a list, of which one is picked by a click or with the
// arrow keys.
type pickRow struct {
	widget.BaseWidget
	desk  *Desk
	index int
	pick  func(int) // picks the row with an index and gives it the keyboard

	back *fcanvas.Rectangle
	body *fyne.Container

	on, focused, hovered bool
}

var (
	_ fyne.Focusable    = (*pickRow)(nil)
	_ fyne.Tappable     = (*pickRow)(nil)
	_ desktop.Hoverable = (*pickRow)(nil)
)

func newPickRow(d *Desk, i int, content fyne.CanvasObject, pick func(int)) *pickRow {
	r := &pickRow{desk: d, index: i, pick: pick, back: fcanvas.NewRectangle(color.Transparent)}
	r.body = container.NewStack(r.back, container.New(&gap{x: 3, y: 1}, content))
	r.ExtendBaseWidget(r)
	r.look()
	return r
}

func (r *pickRow) mark(on bool) {
	if on != r.on {
		r.on = on
		r.Refresh()
	}
}

func (r *pickRow) look() {
	th, v := r.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	r.back.CornerRadius = th.Size(base.SizeNameInputRadius)
	r.back.StrokeWidth = 0
	r.back.FillColor = color.Transparent
	if r.hovered {
		r.back.FillColor = th.Color(base.ColorNameHeaderBackground, v)
	}
	if r.on {
		r.back.FillColor = th.Color(base.ColorNameSelection, v)
	}
	if r.focused {
		r.back.StrokeColor, r.back.StrokeWidth = th.Color(base.ColorNamePrimary, v), 2
	}
}

// Refresh implements fyne.CanvasObject.
func (r *pickRow) Refresh() {
	r.look()
	r.back.Refresh()
	r.BaseWidget.Refresh()
}

// CreateRenderer implements fyne.Widget.
func (r *pickRow) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(r.body) }

// Tapped implements fyne.Tappable.
func (r *pickRow) Tapped(*fyne.PointEvent) { r.pick(r.index) }

// MouseIn implements desktop.Hoverable.
func (r *pickRow) MouseIn(*desktop.MouseEvent) { r.hovered = true; r.Refresh() }

// MouseMoved implements desktop.Hoverable.
func (r *pickRow) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (r *pickRow) MouseOut() { r.hovered = false; r.Refresh() }

// FocusGained implements fyne.Focusable.
func (r *pickRow) FocusGained() { r.focused = true; r.Refresh() }

// FocusLost implements fyne.Focusable.
func (r *pickRow) FocusLost() { r.focused = false; r.Refresh() }

// TypedRune implements fyne.Focusable.
func (r *pickRow) TypedRune(rune) {}

// TypedKey implements fyne.Focusable.
func (r *pickRow) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyUp:
		r.pick(r.index - 1)
	case fyne.KeyDown:
		r.pick(r.index + 1)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		r.pick(r.index)
	}
}
