package panel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// lazy is a tab that is built when it is first shown and brought up to date
// only while it is: what nobody looks at costs nothing.
type lazy struct {
	desk  *Desk
	at    tab
	build func() (fyne.CanvasObject, func(Change)) // the content, and what tells it of changes
	tell  func(Change)
	room  *fyne.Container
	stale Change
}

func newLazy(d *Desk, at tab, build func() (fyne.CanvasObject, func(Change))) *lazy {
	l := &lazy{desk: d, at: at, build: build, room: container.NewStack(), stale: Answered | Chosen | Viewed}
	d.Watch(func(c Change) {
		l.stale |= c
		if d.tabs.shows(at) {
			l.wake()
		}
	})
	d.tabs.onShow(at, l.wake)
	return l
}

// wake builds the tab if need be and tells it what it has missed.
func (l *lazy) wake() {
	if l.tell == nil {
		var o fyne.CanvasObject
		o, l.tell = l.build()
		l.room.Add(o)
	}
	if c := l.stale; c != 0 {
		l.stale = 0
		l.tell(c)
	}
}
