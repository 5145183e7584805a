package panel

import (
	"strings"

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
	tabSensors
	tabBuy
	tabPicture
)

// tabs are the panels at the right, of which one is shown. The zero tabs has
// none.
type tabs struct {
	at    *container.AppTabs
	shown map[tab]func()
	turns []func()
	names map[string]tab // in English and small letters
}

// fill puts the panels in, in the order of their names.
func (t *tabs) fill(items ...*container.TabItem) {
	t.names = map[string]tab{}
	for i, item := range items {
		t.names[strings.ToLower(item.Text)] = tab(i)
		item.Text = words.Say(item.Text)
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

// named returns the panel called so, in English and small letters.
func (t *tabs) named(name string) (tab, bool) {
	i, ok := t.names[name]
	return i, ok
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
