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
	index   int
	grip    Grip
	to      drawing.Point // pixel
	view    drawing.Viewport
	shift   bool
}

// manySteps is how many steps an arrow key moves with Shift.
const manySteps = 10

// hold chooses the handle n places on.
func (c *Canvas) hold(n int) {
	hand, ok := c.hand.(Gripped)
	if !ok || c.keys.carried || c.gesture.state != idle || c.view.Scale <= 0 {
		return
	}
	grips := hand.Grips(c.view)
	if len(grips) == 0 {
		c.letGo()
		return
	}
	k := &c.keys
	switch {
	case k.on:
		k.index = (k.index + n + len(grips)) % len(grips)
	case n > 0:
		k.index = 0
	default:
		k.index = len(grips) - 1
	}
	k.on, k.grip, k.to = true, grips[k.index], grips[k.index].At
	c.see(k.grip.At)
	hand.Keyed(true)
	hand.Hover(c.view, k.grip.At, false)
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
	dx, dy := over(at.X, float64(c.width)), over(at.Y, float64(c.height))
	if dx == 0 && dy == 0 {
		return
	}
	by := drawing.Point{X: dx, Y: dy}
	c.pan(dx, dy)
	c.keys.grip.At, c.keys.to = c.keys.grip.At.Add(by), c.keys.to.Add(by)
}

// heldKey answers a key while a handle is chosen, and says whether it did.
func (c *Canvas) heldKey(name fyne.KeyName) bool {
	k := &c.keys
	if !k.on {
		return false
	}
	dx, dy := 0.0, 0.0
	switch name {
	case fyne.KeyLeft:
		dx = -1
	case fyne.KeyRight:
		dx = 1
	case fyne.KeyUp:
		dy = -1
	case fyne.KeyDown:
		dy = 1
	case fyne.KeyReturn, fyne.KeyEnter:
		moved := k.carried
		if moved {
			k.carried = false
			c.hand.Drop()
		}
		c.letGo()
		return moved
	case fyne.KeyEscape:
		if k.carried {
			k.carried = false
			c.hand.Cancel()
			k.to = k.grip.At
			c.Redraw()
			return true
		}
		c.letGo()
		return true
	default:
		return false
	}
	if !k.carried {
		k.view = c.view
		if !c.hand.Grab(k.view, k.grip.At) {
			c.letGo()
			return true
		}
		k.carried = true
	}
	step := k.grip.Step * k.view.Scale
	if k.shift {
		step *= manySteps
	}
	k.to = k.to.Add(drawing.Point{X: dx * step, Y: dy * step})
	c.hand.Drag(k.view, k.to)
	c.Redraw()
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
	*k = keyHold{shift: k.shift}
	c.hand.(Gripped).Keyed(false)
	c.hand.Hover(c.view, drawing.Point{}, true)
	c.Redraw()
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
