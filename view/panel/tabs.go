package panel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// tab names one of the panels at the right.
type tab int

const (
	tabReadings tab = iota
	tabCard
	tabBuildup
	tabJob
)

// tabs are the panels at the right, of which one is shown.
type tabs struct{ at *container.AppTabs }

// show brings a panel to the front. The zero tabs has none.
func (t *tabs) show(i tab) {
	if t.at != nil && t.at.SelectedIndex() != int(i) {
		t.at.SelectIndex(int(i))
	}
}

func (t *tabs) object() fyne.CanvasObject { return t.at }
