package panel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"risewright/model"
)

// NewTodo returns the line at the foot of the window that says what to do
// next. A press of its button goes there.
func NewTodo(d *Desk) fyne.CanvasObject {
	var where model.Place
	line := newLabel("").bold()
	head := newWhole("Next:").soft()
	show := newButton("Show me", func() { d.GoTo(where) })
	show.Importance = widget.HighImportance
	tell := func(c Change) {
		if c&(Answered|Found) == 0 {
			return
		}
		text, place := NextStep(d.session.Answer(), d.Findings())
		where = place
		line.put(text, base.ColorNameForeground)
	}
	d.Watch(tell)
	tell(Answered)
	return container.NewBorder(nil, nil, padded(head), show, line)
}
