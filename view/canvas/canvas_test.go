package canvas_test

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"risewright/view/canvas"
	"risewright/view/drawing"
)

// board is a scene with one handle, at the origin, that writes down what the
// hand does.
type board struct {
	drawn int
	log   []string
	at    drawing.Point // scene, of the last drag
}

func (b *board) Draw(l *drawing.List, _ drawing.Viewport) {
	b.drawn++
	for i := range 40 {
		x := float64(i) * 25
		l.Line(drawing.Point{X: x}, drawing.Point{X: x, Y: 500}, drawing.Stroke{Ink: drawing.Line})
	}
	l.Dot(b.at, 2, drawing.Fill{Ink: drawing.Select}, drawing.Stroke{})
}

func (b *board) Fit(w, h, paper float64) drawing.Viewport {
	return drawing.Fit(drawing.Point{}, drawing.Point{X: 1000, Y: 500}, w, h, 20, paper)
}

func (b *board) near(v drawing.Viewport, at drawing.Point) bool {
	return v.Pixel(drawing.Point{}).Sub(at).Len() < 10
}

func (b *board) Hover(v drawing.Viewport, at drawing.Point, out bool) (changed, handle bool) {
	return false, !out && b.near(v, at)
}

func (b *board) Grab(v drawing.Viewport, at drawing.Point) bool {
	if !b.near(v, at) {
		return false
	}
	b.log = append(b.log, "grab")
	return true
}

func (b *board) Drag(v drawing.Viewport, at drawing.Point) {
	b.at = v.Scene(at)
	b.log = append(b.log, "drag")
}
func (b *board) Drop()                                 { b.log = append(b.log, "drop") }
func (b *board) Cancel()                               { b.log = append(b.log, "cancel") }
func (b *board) Click(drawing.Viewport, drawing.Point) { b.log = append(b.log, "click") }
func (b *board) Key(fyne.KeyName) bool                 { return false }

func newBoard(t testing.TB) (*board, *canvas.Canvas, fyne.Window) {
	test.NewTempApp(t)
	b := &board{}
	c := canvas.New("Board", b)
	w := test.NewTempWindow(t, c)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(640, 360))
	w.Canvas().Capture()
	return b, c, w
}

func mouse(c *canvas.Canvas, px drawing.Point, b desktop.MouseButton) *desktop.MouseEvent {
	e := &desktop.MouseEvent{Button: b}
	e.Position = c.Place(px)
	return e
}

func drag(c *canvas.Canvas, px drawing.Point) {
	e := &fyne.DragEvent{}
	e.Position = c.Place(px)
	c.Dragged(e)
}

// A gesture is a row: what the fingers do, and what the scene is told.
func TestGestures(t *testing.T) {
	const left, middle, right = desktop.MouseButtonPrimary, desktop.MouseButtonTertiary, desktop.MouseButtonSecondary
	onto := func(c *canvas.Canvas) drawing.Point { return c.View().Pixel(drawing.Point{}) }
	far := drawing.Point{X: 300, Y: 100}
	rows := []struct {
		name string
		do   func(*canvas.Canvas, *testing.T)
		want []string
		pans bool
	}{
		{"click", func(c *canvas.Canvas, _ *testing.T) {
			c.MouseDown(mouse(c, far, left))
			c.MouseUp(mouse(c, far, left))
		}, []string{"click"}, false},
		{"drag a handle", func(c *canvas.Canvas, t *testing.T) {
			c.MouseDown(mouse(c, onto(c), left))
			drag(c, far)
			drag(c, far.Add(drawing.Point{X: 5}))
			c.MouseUp(mouse(c, far, left))
			c.DragEnd()
		}, []string{"grab", "drag", "drag", "drop"}, false},
		{"drag empty ground", func(c *canvas.Canvas, _ *testing.T) {
			c.MouseDown(mouse(c, far, left))
			drag(c, far.Add(drawing.Point{X: 30, Y: 7}))
			c.MouseUp(mouse(c, far, left))
			c.DragEnd()
		}, nil, true},
		{"middle button pans even from a handle", func(c *canvas.Canvas, _ *testing.T) {
			at := onto(c)
			c.MouseDown(mouse(c, at, middle))
			drag(c, at.Add(drawing.Point{X: 30, Y: 7}))
			c.MouseUp(mouse(c, at, middle))
		}, nil, true},
		{"Escape", func(c *canvas.Canvas, _ *testing.T) {
			c.MouseDown(mouse(c, onto(c), left))
			drag(c, far)
			c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
			drag(c, far)
			c.MouseUp(mouse(c, far, left))
			c.DragEnd()
		}, []string{"grab", "drag", "cancel"}, false},
		{"second button", func(c *canvas.Canvas, _ *testing.T) {
			c.MouseDown(mouse(c, onto(c), left))
			drag(c, far)
			c.MouseDown(mouse(c, far, right))
			c.MouseUp(mouse(c, far, right))
			c.MouseUp(mouse(c, far, left))
		}, []string{"grab", "drag", "cancel"}, false},
		{"window loses the keyboard", func(c *canvas.Canvas, _ *testing.T) {
			c.MouseDown(mouse(c, onto(c), left))
			drag(c, far)
			c.FocusLost()
			c.MouseDown(mouse(c, far, left)) // the release was never seen
			c.MouseUp(mouse(c, far, left))
		}, []string{"grab", "drag", "cancel", "click"}, false},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			b, c, _ := newBoard(t)
			before := c.View()
			row.do(c, t)
			if len(b.log) != len(row.want) {
				t.Fatalf("the scene was told %v, want %v", b.log, row.want)
			}
			for i := range b.log {
				if b.log[i] != row.want[i] {
					t.Fatalf("the scene was told %v, want %v", b.log, row.want)
				}
			}
			moved := c.View().Origin.Sub(before.Origin)
			if want := (drawing.Point{X: 30, Y: 7}); row.pans && moved.Sub(want).Len() > 1e-4 || !row.pans && moved != (drawing.Point{}) {
				t.Errorf("the drawing moved by %v", moved)
			}
		})
	}
}

func TestFramesAreDrawnWhenShown(t *testing.T) {
	b, c, w := newBoard(t)
	b.drawn = 0
	c.MouseDown(mouse(c, c.View().Pixel(drawing.Point{}), desktop.MouseButtonPrimary))
	for i := range 100 {
		drag(c, drawing.Point{X: float64(i), Y: 50})
	}
	if b.drawn != 0 {
		t.Errorf("drawn %d times before a frame was shown", b.drawn)
	}
	w.Canvas().Capture()
	if b.drawn != 1 {
		t.Errorf("drawn %d times for one frame", b.drawn)
	}
}

func TestResizeKeepsTheMiddle(t *testing.T) {
	_, c, w := newBoard(t)
	fitted := c.View()
	w.Resize(fyne.NewSize(900, 360))
	w.Canvas().Capture()
	if math.Abs(c.View().Origin.X-fitted.Origin.X) < 1 {
		t.Error("a fitted drawing did not fit anew")
	}
	c.Zoom(2)
	mid := c.View().Scene(drawing.Point{X: float64(c.Size().Width) / 2, Y: float64(c.Size().Height) / 2})
	w.Resize(fyne.NewSize(700, 300))
	w.Canvas().Capture()
	now := c.View().Scene(drawing.Point{X: float64(c.Size().Width) / 2, Y: float64(c.Size().Height) / 2})
	if now.Sub(mid).Len() > 1e-6 {
		t.Errorf("the middle moved from %v to %v", mid, now)
	}
}

func TestZoomStopsAtItsEnds(t *testing.T) {
	_, c, _ := newBoard(t)
	for range 500 {
		c.TypedRune('+')
	}
	in := c.View().Scale
	for range 1000 {
		c.TypedRune('-')
	}
	if in > 80 || in < 60 || c.View().Scale < 0.002 || c.View().Scale > 0.003 {
		t.Errorf("from %v to %v pixels a millimetre", in, c.View().Scale)
	}
}

// BenchmarkDrag is one move of a drag and its frame, without the window
// system: it must not allocate more the longer the drag lasts.
func BenchmarkDrag(b *testing.B) {
	_, c, w := newBoard(b)
	c.MouseDown(mouse(c, c.View().Pixel(drawing.Point{}), desktop.MouseButtonPrimary))
	test.WidgetRenderer(c)
	_ = w
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		drag(c, drawing.Point{X: float64(i % 300), Y: 50})
		c.Frame()
	}
}
