package panel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"risewright/model"
	"risewright/solver/buildup"
)

// exaggerations are the factors offered for what is out of square.
var exaggerations = [...]float64{1, 5, 10}

// cuts are the places of the section, from left to right.
var cuts = [...]buildup.Side{buildup.Left, buildup.Middle, buildup.Right}

// newStrip returns the row of tools above the drawings.
func newStrip(d *Desk, fit func()) fyne.CanvasObject {
	dims := newButton("Dimensions", nil)
	var times, at []*button
	set := func(change func(*View)) func() {
		return func() {
			v := d.view
			change(&v)
			d.SetView(v)
		}
	}
	dims.OnTapped = set(func(v *View) { v.Dimensions = !v.Dimensions })
	objects := []fyne.CanvasObject{newButton("Fit", fit), dims, padded(newWhole("Out of square").soft())}
	for _, k := range exaggerations {
		b := newButton(fmt.Sprintf("×%g", k), set(func(v *View) { v.Exaggerate = k }))
		times = append(times, b)
		objects = append(objects, b)
	}
	objects = append(objects, padded(newWhole("Section cut").soft()))
	for _, s := range cuts {
		b := newButton(model.Capital(s.String()), set(func(v *View) { v.Cut = s }))
		at = append(at, b)
		objects = append(objects, b)
	}
	press := func(b *button, on bool) {
		i := widget.MediumImportance
		if on {
			i = widget.HighImportance
		}
		if b.Importance != i {
			b.Importance = i
			b.Refresh()
		}
	}
	tell := func(c Change) {
		if c&Viewed == 0 {
			return
		}
		press(dims, d.view.Dimensions)
		for i, b := range times {
			press(b, d.view.Exaggerate == exaggerations[i])
		}
		for i, b := range at {
			press(b, d.view.Cut == cuts[i])
		}
	}
	d.Watch(tell)
	tell(Viewed)
	return container.NewHBox(objects...)
}
