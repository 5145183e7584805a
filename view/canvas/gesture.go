package canvas

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"risewright/view/drawing"
)

var (
	_ desktop.Hoverable   = (*Canvas)(nil)
	_ desktop.Mouseable   = (*Canvas)(nil)
	_ desktop.Cursorable  = (*Canvas)(nil)
	_ fyne.Draggable      = (*Canvas)(nil)
	_ fyne.Scrollable     = (*Canvas)(nil)
	_ fyne.DoubleTappable = (*Canvas)(nil)
	_ fyne.Focusable      = (*Canvas)(nil)
	_ desktop.Keyable     = (*Canvas)(nil)
)

// gesture is what a pressed button is doing.
type gesture struct {
	state  state
	button desktop.MouseButton
	view   drawing.Viewport // at the press
	from   drawing.Point    // pixel of the press
	last   drawing.Point
}

type state uint8

const (
	idle    state = iota
	pressed       // a button is down and nothing has moved
	grabbed       // the scene holds something
	panning
	cancelled // the button is still down, but what it did is taken back
)

// pixel turns a place in fyne's units into pixels.
func (c *Canvas) pixel(p fyne.Position) drawing.Point {
	return drawing.Point{X: float64(p.X) * c.density, Y: float64(p.Y) * c.density}
}

// MouseIn implements desktop.Hoverable.
func (c *Canvas) MouseIn(e *desktop.MouseEvent) { c.MouseMoved(e) }

// MouseMoved implements desktop.Hoverable.
func (c *Canvas) MouseMoved(e *desktop.MouseEvent) {
	if c.gesture.state == idle {
		c.hover(c.pixel(e.Position), false)
	}
}

// MouseOut implements desktop.Hoverable.
func (c *Canvas) MouseOut() {
	if c.gesture.state == idle {
		c.hover(drawing.Point{}, true)
	}
}

func (c *Canvas) hover(at drawing.Point, out bool) {
	if c.hand == nil {
		return
	}
	changed, handle := c.hand.Hover(c.view, at, out)
	c.hovered = handle
	if changed {
		c.Redraw()
	}
}

// Cursor implements desktop.Cursorable.
func (c *Canvas) Cursor() desktop.Cursor {
	if c.hovered || c.gesture.state == grabbed {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// MouseDown implements desktop.Mouseable.
func (c *Canvas) MouseDown(e *desktop.MouseEvent) {
	if f := fyne.CurrentApp().Driver().CanvasForObject(c); f != nil {
		f.Focus(c)
	}
	c.letGo()
	if s := c.gesture.state; s != idle && s != cancelled { // a second button takes back what the first one does
		c.cancel()
		return
	}
	at := c.pixel(e.Position)
	c.gesture = gesture{state: pressed, button: e.Button, view: c.view, from: at, last: at}
	if e.Button == desktop.MouseButtonPrimary && c.hand != nil && c.hand.Grab(c.view, at) {
		c.gesture.state = grabbed
		c.Redraw()
	}
}

// MouseUp implements desktop.Mouseable.
func (c *Canvas) MouseUp(e *desktop.MouseEvent) {
	g := c.gesture
	if g.state == idle || e.Button != g.button {
		return
	}
	c.gesture = gesture{}
	switch g.state {
	case grabbed:
		c.hand.Drop()
		c.Redraw()
	case pressed:
		if g.button == desktop.MouseButtonPrimary && c.hand != nil {
			c.hand.Click(c.view, g.from)
			c.Redraw()
		}
	}
}

// Dragged implements fyne.Draggable.
func (c *Canvas) Dragged(e *fyne.DragEvent) {
	at := c.pixel(e.Position)
	g := &c.gesture
	switch g.state {
	case idle: // a driver without buttons, such as a touch screen
		c.pan(float64(e.Dragged.DX)*c.density, float64(e.Dragged.DY)*c.density)
		return
	case cancelled:
		return
	case grabbed:
		c.hand.Drag(g.view, at)
		c.Redraw()
	case pressed:
		g.state = panning
		c.pan(at.X-g.from.X, at.Y-g.from.Y)
	case panning:
		c.pan(at.X-g.last.X, at.Y-g.last.Y)
	}
	g.last = at
}

// DragEnd implements fyne.Draggable. The release itself comes as MouseUp; this
// one also comes when the pointer was let go outside the window.
func (c *Canvas) DragEnd() {
	if c.gesture.state != idle {
		c.MouseUp(&desktop.MouseEvent{Button: c.gesture.button})
	}
}

// cancel takes back what the pressed button does.
func (c *Canvas) cancel() {
	if c.gesture.state == grabbed {
		c.hand.Cancel()
		c.Redraw()
	}
	if c.gesture.state != idle {
		c.gesture.state = cancelled
	}
}

// Scrolled implements fyne.Scrollable: the wheel zooms about the pointer.
func (c *Canvas) Scrolled(e *fyne.ScrollEvent) {
	if c.gesture.state != idle || e.Scrolled.DY == 0 {
		return
	}
	c.zoomAt(c.pixel(e.Position), math.Pow(notch, float64(e.Scrolled.DY)/wheelNotch))
}

// wheelNotch is what fyne reports for one notch of a wheel.
const wheelNotch = 10

// DoubleTapped implements fyne.DoubleTappable.
func (c *Canvas) DoubleTapped(*fyne.PointEvent) { c.Fit() }

// FocusGained implements fyne.Focusable.
func (c *Canvas) FocusGained() {
	c.focused = true
	c.Refresh()
	if c.Gained != nil {
		c.Gained()
	}
}

// FocusLost implements fyne.Focusable.
func (c *Canvas) FocusLost() {
	c.focused = false
	c.letGo()
	c.keys = keyHold{}
	c.cancel()
	c.Refresh()
}

// TypedRune implements fyne.Focusable.
func (c *Canvas) TypedRune(r rune) {
	switch r {
	case '+', '=':
		c.Zoom(keyStep)
	case '-', '_':
		c.Zoom(1 / keyStep)
	case 'h':
		c.hold(1)
	case 'H':
		c.hold(-1)
	}
}

// TypedKey implements fyne.Focusable.
func (c *Canvas) TypedKey(e *fyne.KeyEvent) {
	if c.heldKey(e.Name) {
		return
	}
	switch e.Name {
	case fyne.KeyEscape:
		if c.gesture.state != idle {
			c.cancel()
			return
		}
	case fyne.KeyF:
		c.Fit()
		return
	}
	if c.keys.shift && c.slide(e.Name) {
		return
	}
	if c.hand != nil && c.hand.Key(e.Name) {
		c.Redraw()
	}
}
