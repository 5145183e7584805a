package panel

import (
	"image/color"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// wheel lies unseen over a scroll and gives it every turn of the wheel. An
// entry has a scroll of its own inside, which would otherwise stop the page
// whenever a field came under the pointer. Clicks and pointing go through it,
// because it answers to the wheel only.
type wheel struct {
	widget.BaseWidget
	scroll *container.Scroll
}

var _ fyne.Scrollable = (*wheel)(nil)

// wheeled returns a scroll that the wheel moves wherever the pointer is.
func wheeled(s *container.Scroll) fyne.CanvasObject {
	w := &wheel{scroll: s}
	w.ExtendBaseWidget(w)
	return container.NewStack(s, w)
}

// Scrolled implements fyne.Scrollable.
func (w *wheel) Scrolled(e *fyne.ScrollEvent) { w.scroll.Scrolled(e) }

// MinSize implements fyne.CanvasObject.
func (w *wheel) MinSize() fyne.Size { return fyne.Size{} }

// CreateRenderer implements fyne.Widget.
func (w *wheel) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(fcanvas.NewRectangle(color.Transparent))
}
