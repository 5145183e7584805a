package panel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"
)

// folded is a part of a tab that is opened when it is wanted.
type folded struct {
	turn *button
	head *para
	body *fyne.Container
	box  *fyne.Container
	// opening is called before it is opened, and turned after the user has
	// opened or closed it; both may be nil.
	opening, turned func()
}

// newFolded returns a closed fold.
func newFolded(title string) *folded {
	f := &folded{head: newPara(title), body: container.New(&stack{gap: 1})}
	f.head.bold()
	f.head.role = base.ColorNamePrimary
	f.turn = newButton("Show", func() {
		f.open(!f.body.Visible())
		if f.turned != nil {
			f.turned()
		}
	})
	f.body.Hide()
	f.box = container.New(&stack{gap: 1}, container.NewBorder(nil, nil, nil, container.NewVBox(f.turn), f.head), f.body)
	return f
}

// open opens or closes it.
func (f *folded) open(on bool) {
	if on == f.body.Visible() {
		return
	}
	if on {
		if f.opening != nil {
			f.opening()
		}
		f.body.Show()
		f.turn.say("Hide", true)
	} else {
		f.body.Hide()
		f.turn.say("Show", true)
	}
	f.box.Refresh()
}

func (f *folded) say(title string) { setPara(f.head, title) }
