package panel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// Stop is one stop of a tour: what it says, and what is looked at meanwhile.
type Stop struct {
	Title, Text string
	Tab         string // as it is named on the tab, in small letters; "" leaves it
	Step        int    // to choose; 0 leaves it
}

// Tour is a strip that walks through the window stop by stop, while everything
// else can be used. It never changes the job.
type Tour struct {
	desk  *Desk
	stops []Stop
	at    int
	end   func()

	title, count *label
	text         *para
	back, next   *button
	whole        fyne.CanvasObject
}

// NewTour makes a tour; end is called when it is over.
func NewTour(d *Desk, stops []Stop, end func()) *Tour {
	t := &Tour{desk: d, stops: stops, end: end, title: newWhole("").bold(), count: newWhole("").soft(), text: newPara("")}
	t.back = newButton("Back", func() { t.show(t.at - 1) })
	t.next = newButton("Next", func() { t.show(t.at + 1) })
	stop := newButton("End the tour", end)
	head := container.NewHBox(t.title, t.count)
	t.whole = container.NewBorder(widget.NewSeparator(), nil, nil, nil, container.New(&gap{x: 8, y: 5},
		container.NewBorder(head, nil, nil, container.NewVBox(container.NewHBox(t.back, t.next, stop)), t.text)))
	t.show(0)
	return t
}

// Object returns the strip.
func (t *Tour) Object() fyne.CanvasObject { return t.whole }

// Focus gives the keyboard to the button that goes on.
func (t *Tour) Focus() { focus(t.next) }

// At returns which stop is shown, from 0.
func (t *Tour) At() int { return t.at }

// show shows stop i, and ends the tour after the last.
func (t *Tour) show(i int) {
	if i >= len(t.stops) {
		t.end()
		return
	}
	t.at = max(i, 0)
	s := &t.stops[t.at]
	t.title.set(s.Title)
	t.count.set(fmt.Sprintf("%d of %d", t.at+1, len(t.stops)))
	setPara(t.text, s.Text)
	t.back.say("Back", t.at > 0)
	word := "Next"
	if t.at == len(t.stops)-1 {
		word = "Done"
	}
	t.next.say(word, true)
	if tab, ok := t.desk.tabs.named(s.Tab); ok {
		t.desk.tabs.show(tab)
	}
	if s.Step > 0 {
		t.desk.Choose(s.Step)
	}
	t.whole.Refresh()
}
