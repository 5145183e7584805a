package panel

import "fyne.io/fyne/v2"

func newBuildupTab(d *Desk) fyne.CanvasObject { return newLabel("to come") }
