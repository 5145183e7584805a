package window

import (
	"image/color"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// reader is a text in a dialog that keys can scroll.
type reader struct {
	widget.BaseWidget
	w      *window
	scroll *container.Scroll
	edge   *fcanvas.Rectangle // says that it has the keyboard
}

var _ fyne.Focusable = (*reader)(nil)

func (w *window) newReader(content fyne.CanvasObject) *reader {
	r := &reader{w: w, scroll: container.NewVScroll(content), edge: fcanvas.NewRectangle(color.Transparent)}
	r.ExtendBaseWidget(r)
	return r
}

// CreateRenderer implements fyne.Widget.
func (r *reader) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewStack(r.scroll, r.edge))
}

func (r *reader) mark(width float32) {
	r.edge.StrokeWidth = width
	r.edge.StrokeColor = r.Theme().Color(base.ColorNamePrimary, fyne.CurrentApp().Settings().ThemeVariant())
	r.edge.Refresh()
}

// FocusGained implements fyne.Focusable.
func (r *reader) FocusGained() { r.mark(2) }

// FocusLost implements fyne.Focusable.
func (r *reader) FocusLost() { r.mark(0) }

// TypedRune implements fyne.Focusable.
func (r *reader) TypedRune(rune) {}

// TypedKey implements fyne.Focusable.
func (r *reader) TypedKey(k *fyne.KeyEvent) {
	const line = 40 // in the window's units
	y, page := r.scroll.Offset.Y, r.scroll.Size().Height*0.9
	most := max(0, r.scroll.Content.MinSize().Height-r.scroll.Size().Height)
	switch k.Name {
	case fyne.KeyUp:
		y -= line
	case fyne.KeyDown:
		y += line
	case fyne.KeyPageUp:
		y -= page
	case fyne.KeyPageDown, fyne.KeySpace:
		y += page
	case fyne.KeyHome:
		y = 0
	case fyne.KeyEnd:
		y = most
	case fyne.KeyEscape:
		r.w.escape()
		return
	default:
		return
	}
	r.scroll.ScrollToOffset(fyne.NewPos(0, max(0, min(most, y))))
}
