package canvas

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"risewright/view/drawing"
)

// keyHold is a handle that the keyboard is at. It is chosen with H, held from
// the first arrow key on, and let go with Enter or put back with Escape.
type keyHold struct {
	on      bool // a handle is chosen
	carried bool // and has been moved
	key     any  // of the handle; it stays after that is let go, so that H goes on
	step    float64
	to      drawing.Point    // pixel it has been brought to
	view    drawing.Viewport // when it was taken
	shift   bool
}

// manySteps is how many steps an arrow key moves with Shift.
const manySteps = 10

// grips returns the handles that the keyboard can come to, and which of them it
// is at or was at last; -1 for none.
func (c *Canvas) grips() (all []Grip, at int) {
	hand, ok := c.hand.(Gripped)
	if !ok || c.view.Scale <= 0 {
		return nil, -1
	}
	all = hand.Grips(c.view)
	for i := range all {
		if all[i].Key == c.keys.key {
			return all, i
		}
	}
	return all, -1
}

// hold chooses the handle n places on.
func (c *Canvas) hold(n int) {
	if c.keys.carried || c.gesture.state != idle {
		return
	}
	all, at := c.grips()
	if len(all) == 0 {
		c.letGo()
		return
	}
	if at < 0 && n < 0 {
		at = 0
	}
	g := all[(at+n+len(all))%len(all)]
	c.letGo()
	c.keys.on, c.keys.key = true, g.Key
	c.see(c.view.Pixel(g.At))
	g.Show()
	c.Redraw()
}

// see moves the drawing so that a pixel is well inside it.
func (c *Canvas) see(at drawing.Point) {
	const margin = 12
	over := func(v, most float64) float64 {
		switch {
		case v < margin:
			return margin - v
		case v > most-margin:
			return most - margin - v
		}
		return 0
	}
	if dx, dy := over(at.X, float64(c.width)), over(at.Y, float64(c.height)); dx != 0 || dy != 0 {
		c.pan(dx, dy)
	}
}

// heldKey answers a key while a handle is chosen, and says whether it did.
func (c *Canvas) heldKey(name fyne.KeyName) bool {
	k := &c.keys
	if !k.on {
		return false
	}
	by, arrow := arrowWay(name)
	switch name {
	case fyne.KeyReturn, fyne.KeyEnter:
		moved := k.carried
		if moved {
			k.carried = false
			c.hand.Drop()
		}
		c.letGo()
		return moved
	case fyne.KeyEscape:
		c.letGo()
		return true
	case fyne.KeyF:
		return false
	}
	if !arrow {
		if !k.carried { // it is meant for the drawing, which may show other handles then
			c.letGo()
		}
		return k.carried
	}
	if !k.carried && !c.take() {
		c.letGo()
		return true
	}
	step := k.step * k.view.Scale
	if k.shift {
		step *= manySteps
	}
	k.to = k.to.Add(by.Mul(step))
	c.hand.Drag(k.view, k.to)
	c.Redraw()
	return true
}

// arrowWay returns the way of an arrow key in pixels, and whether it is one.
func arrowWay(name fyne.KeyName) (drawing.Point, bool) {
	switch name {
	case fyne.KeyLeft:
		return drawing.Point{X: -1}, true
	case fyne.KeyRight:
		return drawing.Point{X: 1}, true
	case fyne.KeyUp:
		return drawing.Point{Y: -1}, true
	case fyne.KeyDown:
		return drawing.Point{Y: 1}, true
	}
	return drawing.Point{}, false
}

// slide moves the drawing itself the way of an arrow key, and says whether the
// key was one.
func (c *Canvas) slide(name fyne.KeyName) bool {
	const part = 0.1 // of the drawing's size
	by, arrow := arrowWay(name)
	if arrow {
		c.pan(by.X*part*float64(c.width), by.Y*part*float64(c.height))
	}
	return arrow
}

// take takes hold of the handle that the keyboard is at, where it is now.
func (c *Canvas) take() bool {
	all, at := c.grips()
	if at < 0 || !all[at].Take(c.view) {
		return false
	}
	k := &c.keys
	k.carried, k.step = true, all[at].Step
	k.view, k.to = c.view, c.view.Pixel(all[at].At)
	return true
}

// letGo takes the keyboard off the handle it is at; what was moved is put back.
func (c *Canvas) letGo() {
	k := &c.keys
	if !k.on {
		return
	}
	if k.carried {
		c.hand.Cancel()
	}
	k.on, k.carried = false, false
	c.hand.Hover(c.view, drawing.Point{}, true)
	c.Redraw()
}

// The ring round the handle that the keyboard is at, paper mm: outside the
// handle itself, on a ground of its own so that it is seen over anything.
const (
	ringRadius = 2.6
	ringWidth  = 0.8
	ringGround = 1.7
)

// ring marks the handle that the keyboard is at.
func (c *Canvas) ring(l *drawing.List) {
	if !c.keys.on {
		return
	}
	all, at := c.grips()
	if at < 0 {
		return
	}
	l.Dot(all[at].At, ringRadius, drawing.Fill{}, drawing.Stroke{Ink: drawing.Paper, Width: ringGround})
	l.Dot(all[at].At, ringRadius, drawing.Fill{}, drawing.Stroke{Ink: drawing.Select, Width: ringWidth})
}

// KeyDown implements desktop.Keyable.
func (c *Canvas) KeyDown(e *fyne.KeyEvent) {
	if e.Name == desktop.KeyShiftLeft || e.Name == desktop.KeyShiftRight {
		c.keys.shift = true
	}
}

// KeyUp implements desktop.Keyable.
func (c *Canvas) KeyUp(e *fyne.KeyEvent) {
	if e.Name == desktop.KeyShiftLeft || e.Name == desktop.KeyShiftRight {
		c.keys.shift = false
	}
}
