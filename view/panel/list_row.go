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

// listRow is what the rows of every list are: a ground that shows whether the
// pointer, the keyboard or the choice is on it, under what the row says. A row
// embeds it, extends it with itself, and answers taps and keys.
type listRow struct {
	widget.BaseWidget
	back *fcanvas.Rectangle
	body *fyne.Container
	// ground is the fill at rest and lit the one under the keyboard; none when
	// empty.
	ground, lit fyne.ThemeColorName

	on, focused, hovered bool
}

// hold puts content on the row's ground.
func (r *listRow) hold(content fyne.CanvasObject) {
	r.back = fcanvas.NewRectangle(color.Transparent)
	r.body = container.NewStack(r.back, content)
}

func (r *listRow) look() {
	th, v := r.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	r.back.CornerRadius = th.Size(base.SizeNameInputRadius)
	r.back.StrokeWidth = 0
	r.back.FillColor = color.Transparent
	fill := func(name fyne.ThemeColorName, when bool) {
		if when && name != "" {
			r.back.FillColor = th.Color(name, v)
		}
	}
	fill(r.ground, true)
	fill(base.ColorNameHeaderBackground, r.hovered)
	fill(base.ColorNameSelection, r.on)
	fill(r.lit, r.focused)
	if r.focused {
		r.back.StrokeColor, r.back.StrokeWidth = th.Color(base.ColorNamePrimary, v), 2
	}
}

// Refresh implements fyne.CanvasObject.
func (r *listRow) Refresh() {
	r.look()
	r.back.Refresh()
	r.BaseWidget.Refresh()
}

// CreateRenderer implements fyne.Widget.
func (r *listRow) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(r.body) }

// MouseIn implements desktop.Hoverable.
func (r *listRow) MouseIn(*desktop.MouseEvent) { r.hovered = true; r.Refresh() }

// MouseMoved implements desktop.Hoverable.
func (r *listRow) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (r *listRow) MouseOut() { r.hovered = false; r.Refresh() }

// FocusGained implements fyne.Focusable.
func (r *listRow) FocusGained() { r.focused = true; r.Refresh() }

// FocusLost implements fyne.Focusable.
func (r *listRow) FocusLost() { r.focused = false; r.Refresh() }

// TypedRune implements fyne.Focusable.
func (r *listRow) TypedRune(rune) {}
