package panel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/view/words"
)

// tab names one of the panels at the right.
type tab int

const (
	tabReadings tab = iota
	tabCard
	tabBuildup
	tabJob
	tabOrder
	tabLights
	tabBuy
)

// tabs are the panels at the right, of which one is shown. The zero tabs has
// none.
type tabs struct {
	at    *container.AppTabs
	shown map[tab]func()
	turns []func()
}

// fill puts the panels in, in the order of their names.
func (t *tabs) fill(items ...*container.TabItem) {
	for _, i := range items {
		i.Text = words.Say(i.Text)
	}
	t.at = container.NewAppTabs(items...)
	t.at.OnSelected = func(*container.TabItem) {
		if f := t.shown[tab(t.at.SelectedIndex())]; f != nil {
			f()
		}
		for _, f := range t.turns {
			f()
		}
	}
}

// onTurn calls f whenever another panel has come to the front.
func (t *tabs) onTurn(f func()) { t.turns = append(t.turns, f) }

// onShow calls f whenever a panel comes to the front.
func (t *tabs) onShow(i tab, f func()) {
	if t.shown == nil {
		t.shown = map[tab]func(){}
	}
	t.shown[i] = f
}

// shows says whether a panel is at the front.
func (t *tabs) shows(i tab) bool { return t.at != nil && t.at.SelectedIndex() == int(i) }

// show brings a panel to the front.
func (t *tabs) show(i tab) {
	if t.at != nil && !t.shows(i) {
		t.at.SelectIndex(int(i))
	}
}

func (t *tabs) object() fyne.CanvasObject { return t.at }
