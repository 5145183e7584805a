package panel

import "fyne.io/fyne/v2"

func newJobTab(d *Desk) fyne.CanvasObject { return newLabel("to come") }
