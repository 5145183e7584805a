package panel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
)

// pickRow is a row of a list, of which one is picked by a click or with the
// arrow keys.
type pickRow struct {
	listRow
	desk  *Desk
	index int
	pick  func(int) // picks the row with an index and gives it the keyboard
}

var (
	_ fyne.Focusable    = (*pickRow)(nil)
	_ fyne.Tappable     = (*pickRow)(nil)
	_ desktop.Hoverable = (*pickRow)(nil)
)

func newPickRow(d *Desk, i int, content fyne.CanvasObject, pick func(int)) *pickRow {
	r := &pickRow{desk: d, index: i, pick: pick}
	r.hold(container.New(&gap{x: 3, y: 1}, content))
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

// Tapped implements fyne.Tappable.
func (r *pickRow) Tapped(*fyne.PointEvent) { r.pick(r.index) }

// FocusGained implements fyne.Focusable.
func (r *pickRow) FocusGained() {
	r.listRow.FocusGained()
	toSight(r)
}

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
