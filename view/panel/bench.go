package panel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"risewright/view/canvas"
)

// Bench is everything that stands in the window, laid out.
type Bench struct {
	Plan     *canvas.Canvas
	Section  *canvas.Canvas
	Readings *Readings
	Findings *Findings

	desk  *Desk
	whole fyne.CanvasObject
	// the lines between the parts of the window
	across, drawings, right *container.Split
}

// drawingShare is how much of the width the drawings get, and planShare how
// much of their height the plan gets: the section needs more, for the rail.
const (
	drawingShare      = 0.555
	drawingShareLarge = 0.42 // with large letters
	planShare         = 0.42
	tabShare          = 0.70
)

// NewBench lays the panels out.
func NewBench(d *Desk) *Bench {
	b := &Bench{desk: d, Plan: NewPlan(d), Section: NewSection(d), Readings: NewReadings(d), Findings: NewFindings(d)}
	drawings := container.NewVSplit(b.Plan, b.Section)
	drawings.Offset = planShare
	b.drawings = drawings
	var left *fyne.Container
	resized := func() {
		if left != nil {
			left.Refresh()
		}
	}
	left = container.NewBorder(container.New(&gap{x: 3, y: 2}, sideways(newStrip(d, b.Fit))), newPlayBar(d, b.Fit, resized), nil, nil,
		container.NewStack(drawings, container.NewBorder(nil, container.New(&stack{}, newHint(d), newOffer(d)), nil, nil)))

	d.tabs.onTurn(func() {
		b.Plan.Redraw()
		b.Section.Redraw()
	})
	d.tabs.fill(
		container.NewTabItem("Readings", b.Readings.Object()),
		container.NewTabItem("Card", newCardTab(d)),
		container.NewTabItem("Build-up", newLazy(d, tabBuildup, func() (fyne.CanvasObject, func(Change)) { return newBuildupTab(d) }).room),
		container.NewTabItem("Job", newLazy(d, tabJob, func() (fyne.CanvasObject, func(Change)) { return newJobTab(d) }).room),
		container.NewTabItem("Order", newLazy(d, tabOrder, func() (fyne.CanvasObject, func(Change)) { return newOrderTab(d) }).room),
		container.NewTabItem("Lights", newLazy(d, tabLights, func() (fyne.CanvasObject, func(Change)) { return newLightsTab(d) }).room),
		container.NewTabItem("Sensors", newLazy(d, tabSensors, func() (fyne.CanvasObject, func(Change)) { return newSensorsTab(d) }).room),
		container.NewTabItem("Buy", newLazy(d, tabBuy, func() (fyne.CanvasObject, func(Change)) { return newBuyTab(d) }).room),
		container.NewTabItem("Picture", newLazy(d, tabPicture, func() (fyne.CanvasObject, func(Change)) { return newPictureTab(d) }).room),
	)
	right := container.NewVSplit(d.tabs.object(), b.Findings.Object())
	right.Offset = tabShare
	b.right = right
	rightSide := container.New(&gap{x: 4}, container.NewBorder(NewHeader(d), nil, nil, nil, right))

	// The picture takes the place of the drawings while its tab is at the front.
	look := newPictureView(d.pictures)
	look.Hide()
	d.tabs.onTurn(func() {
		if on := d.pictures.open(); on != look.Visible() {
			if on {
				left.Hide()
				look.Show()
				d.focus(look)
			} else {
				look.Hide()
				left.Show()
			}
		}
		d.plan()
		d.pictures.see()
		d.pictures.repaint(false)
	})
	d.Watch(func(c Change) {
		if c&(Answered|Planned) != 0 && d.pictures.open() {
			d.plan()
			d.pictures.see()
		}
		if c&Viewed != 0 && look.Visible() {
			look.Refresh()
		}
	})

	across := container.NewHSplit(container.NewStack(left, look), sideways(rightSide))
	across.Offset = drawingShare
	if letterScale() > large { // the panels need the room more
		across.Offset = drawingShareLarge
	}
	b.across = across
	foot := container.NewVBox(widget.NewSeparator(), container.New(&gap{x: 4, y: 1}, NewTodo(d)))
	b.whole = container.NewBorder(nil, foot, nil, nil, across)
	return b
}

// large is how many times as large as usual letters are when the panels may not
// fit beside the drawings.
const large = 1.3

// sideways lets an object be moved sideways where letters are so large that it
// may not fit.
func sideways(o fyne.CanvasObject) fyne.CanvasObject {
	if letterScale() <= large {
		return o
	}
	return container.NewHScroll(o)
}

// Object returns what stands in the window.
func (b *Bench) Object() fyne.CanvasObject { return b.whole }

// Fit shows the whole flight in both drawings.
func (b *Bench) Fit() {
	b.Plan.Fit()
	b.Section.Fit()
}

// ShowTab brings the tab with the given index to the front: readings, card,
// build-up, job, order, lights, sensors, buy, picture.
func (b *Bench) ShowTab(i int) { b.desk.tabs.show(tab(i)) }
