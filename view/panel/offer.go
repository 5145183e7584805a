package panel

import (
	"fmt"
	"image/color"
	"strings"

	"risewright/model"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// newOffer returns the bar that appears when a held handle was pulled: it
// names what holds the handle and offers to set that aside. It lies over the
// foot of the drawing, which does not jump, and never stands in the way: any
// other act leaves the readings as they are.
func newOffer(d *Desk) fyne.CanvasObject {
	words := newPara("")
	yes := newButton("Set aside and move  (Enter)", d.SetAsideAndMove)
	yes.Importance = widget.WarningImportance
	no := newButton("Leave  (Esc)", d.Leave)
	ground := fcanvas.NewRectangle(color.Transparent)
	ground.StrokeWidth = 1
	line := container.NewBorder(nil, nil, nil, container.NewCenter(container.NewHBox(yes, no)), words)
	bar := container.NewStack(ground, container.New(&gap{x: 4, y: 4}, line))
	bar.Hide()
	d.Watch(func(c Change) {
		if c&Dragged == 0 {
			return
		}
		handle, readings := d.Held()
		if handle == "" {
			if bar.Visible() {
				bar.Hide()
			}
			return
		}
		setPara(words, heldWords(handle, readings)+". Set aside, they are kept and the sketch moves it.")
		if !bar.Visible() {
			th, v := words.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
			ground.FillColor = th.Color(base.ColorNameHeaderBackground, v)
			ground.StrokeColor = th.Color(base.ColorNameInputBorder, v)
			bar.Show() // the drawing keeps the keyboard: Enter and Escape answer
		}
	})
	return bar
}

// mostNamed is how many readings the bar names; the drawing must stay in sight.
const mostNamed = 3

// heldWords says what holds a handle.
func heldWords(handle string, readings []string) string {
	n := len(readings)
	if n == 1 {
		return fmt.Sprintf("%s is held by the %s", model.Capital(handle), readings[0])
	}
	named := strings.Join(readings[:min(n, mostNamed)], "; ")
	if n > mostNamed {
		named += fmt.Sprintf("; and %d more", n-mostNamed)
	}
	return fmt.Sprintf("%s is held by %d readings: %s", model.Capital(handle), n, named)
}

// newHint returns the line that tells about the handle under the pointer.
func newHint(d *Desk) fyne.CanvasObject {
	words := newLabel("").small()
	ground := fcanvas.NewRectangle(color.Transparent)
	line := container.NewStack(ground, container.New(&gap{x: 6, y: 1}, words))
	line.Hide()
	d.Watch(func(c Change) {
		if c&(Pointed|Dragged) == 0 {
			return
		}
		if d.hint == "" || d.held != nil {
			if line.Visible() {
				line.Hide()
			}
			return
		}
		ground.FillColor = words.Theme().Color(base.ColorNameHeaderBackground, fyne.CurrentApp().Settings().ThemeVariant())
		words.set(d.hint)
		if !line.Visible() {
			line.Show()
		}
	})
	return line
}
