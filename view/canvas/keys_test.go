package canvas_test

import (
	"fmt"
	"image/color"
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"risewright/view/canvas"
	"risewright/view/drawing"
)

// pegs is a board with several handles for the keyboard.
type pegs struct {
	board
	at   []drawing.Point
	held int
	keys []fyne.KeyName
	view drawing.Viewport // of the last drag
}

func (p *pegs) Draw(*drawing.List, drawing.Viewport) {}

func (p *pegs) Grips(drawing.Viewport) []canvas.Grip {
	var out []canvas.Grip
	for i, at := range p.at {
		out = append(out, canvas.Grip{Key: i, At: at, Step: 5,
			Show: func() { p.log = append(p.log, fmt.Sprint("show ", i)) },
			Take: func(drawing.Viewport) bool {
				p.held = i
				p.log = append(p.log, fmt.Sprint("take ", i))
				return i != 2 // which cannot be taken
			}})
	}
	return out
}

func (p *pegs) Drag(v drawing.Viewport, px drawing.Point) {
	p.view, p.at[p.held] = v, v.Scene(px)
	p.log = append(p.log, "drag")
}

func (p *pegs) Hover(_ drawing.Viewport, _ drawing.Point, out bool) (changed, handle bool) {
	if out {
		p.log = append(p.log, "out")
	}
	return out, false
}

func (p *pegs) Key(k fyne.KeyName) bool {
	p.keys = append(p.keys, k)
	return true
}

func newPegs(t testing.TB) (*pegs, *canvas.Canvas, fyne.Window) {
	test.NewTempApp(t)
	p := &pegs{at: []drawing.Point{{X: 100, Y: 100}, {X: 500, Y: 250}, {X: 900, Y: 400}}}
	c := canvas.New("Pegs", p)
	w := test.NewTempWindow(t, c)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(640, 360))
	w.Canvas().Capture()
	w.Canvas().Focus(c)
	return p, c, w
}

// A row is what is typed, and what the scene is told: H and h choose, arrows
// move, ! is Enter, ^ is Escape, . is a key that the canvas has no use for, and
// what stands in brackets is typed with Shift.
func TestHandlesByKeyboard(t *testing.T) {
	arrows := map[rune]fyne.KeyName{'>': fyne.KeyRight, '<': fyne.KeyLeft, 'u': fyne.KeyUp, 'd': fyne.KeyDown,
		'!': fyne.KeyReturn, '^': fyne.KeyEscape, '.': fyne.KeyPageUp}
	for _, row := range []struct {
		name, keys string
		told       []string
		scene      []fyne.KeyName // keys that came through
		at         drawing.Point  // of the first peg, afterwards
	}{
		{"next, next, round", "hhhh", []string{"show 0", "out", "show 1", "out", "show 2", "out", "show 0"}, nil, drawing.Point{X: 100, Y: 100}},
		{"the last first", "HH", []string{"show 2", "out", "show 1"}, nil, drawing.Point{X: 100, Y: 100}},
		{"moved and dropped", "h>>u!", []string{"show 0", "take 0", "drag", "drag", "drag", "drop", "out"}, nil, drawing.Point{X: 110, Y: 105}},
		{"down and left, with Shift", "h(<)d!", []string{"show 0", "take 0", "drag", "drag", "drop", "out"}, nil, drawing.Point{X: 50, Y: 95}},
		{"put back", "h>^", []string{"show 0", "take 0", "drag", "cancel", "out"}, nil, drawing.Point{X: 105, Y: 100}},
		{"after a drop the next", "h>!h", []string{"show 0", "take 0", "drag", "drop", "out", "show 1"}, nil, drawing.Point{X: 105, Y: 100}},
		{"no other while one is moved", "h>hH.!", []string{"show 0", "take 0", "drag", "drop", "out"}, nil, drawing.Point{X: 105, Y: 100}},
		{"one that cannot be taken", "H>", []string{"show 2", "take 2", "out"}, nil, drawing.Point{X: 100, Y: 100}},
		{"arrows without a handle are the drawing's", ">h^>", []string{"show 0", "out"}, []fyne.KeyName{fyne.KeyRight, fyne.KeyRight}, drawing.Point{X: 100, Y: 100}},
		{"Enter without a move is the drawing's", "h!", []string{"show 0", "out"}, []fyne.KeyName{fyne.KeyReturn}, drawing.Point{X: 100, Y: 100}},
		{"another key is the drawing's", "h.", []string{"show 0", "out"}, []fyne.KeyName{fyne.KeyPageUp}, drawing.Point{X: 100, Y: 100}},
	} {
		t.Run(row.name, func(t *testing.T) {
			p, c, _ := newPegs(t)
			for _, k := range row.keys {
				switch name, ok := arrows[k]; {
				case ok:
					c.TypedKey(&fyne.KeyEvent{Name: name})
				case k == '(':
					c.KeyDown(&fyne.KeyEvent{Name: desktop.KeyShiftLeft})
				case k == ')':
					c.KeyUp(&fyne.KeyEvent{Name: desktop.KeyShiftLeft})
				default:
					c.TypedRune(k)
				}
			}
			if !slices.Equal(p.log, row.told) {
				t.Errorf("the scene was told %q, want %q", p.log, row.told)
			}
			if !slices.Equal(p.keys, row.scene) {
				t.Errorf("the keys %q came through, want %q", p.keys, row.scene)
			}
			if p.at[0].Sub(row.at).Len() > 1e-4 {
				t.Errorf("the first handle is at %v, want %v", p.at[0], row.at)
			}
		})
	}
}

// What the keyboard holds is put back when the keyboard leaves, and a handle
// outside the view is brought into it before it is moved.
func TestLeavingAndZooming(t *testing.T) {
	p, c, w := newPegs(t)
	c.TypedRune('h')
	c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	w.Canvas().Unfocus()
	if n := len(p.log); p.log[n-2] != "cancel" {
		t.Errorf("the scene was told %q", p.log)
	}
	w.Canvas().Focus(c)
	for range 8 {
		c.TypedRune('+')
	}
	w.Canvas().Capture()
	c.TypedRune('H') // a corner, now far outside
	px := c.View().Pixel(p.at[2])
	if px.X < 0 || px.Y < 0 || px.X > 640 || px.Y > 360 {
		t.Errorf("the chosen handle is at %v, out of sight", px)
	}
	c.TypedRune('H')
	was := p.at[1]
	c.TypedRune('-') // between choosing and moving
	c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	if d := p.at[1].Sub(was).Sub(drawing.Point{Y: 5}).Len(); d > 1e-4 {
		t.Errorf("it moved from %v to %v", was, p.at[1])
	}
}

// Shift and an arrow key move the drawing itself, as a drag of empty ground does.
func TestTheDrawingIsMovedByKeys(t *testing.T) {
	p, c, _ := newPegs(t)
	was := c.View().Origin
	c.KeyDown(&fyne.KeyEvent{Name: desktop.KeyShiftRight})
	c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	if got, want := c.View().Origin.Sub(was), (drawing.Point{X: 64, Y: 36}); got.Sub(want).Len() > 1e-4 {
		t.Errorf("it moved by %v, want %v", got, want)
	}
	c.KeyUp(&fyne.KeyEvent{Name: desktop.KeyShiftRight})
	c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if len(p.keys) != 1 {
		t.Errorf("the scene was told of %q", p.keys)
	}
}

// The ring is seen over a light and over a dark drawing.
func TestTheChosenHandleIsMarked(t *testing.T) {
	p, c, w := newPegs(t)
	before := w.Canvas().Capture()
	c.TypedRune('h')
	c.Redraw()
	after := w.Canvas().Capture()
	px := c.View().Pixel(p.at[0])
	changed := 0
	for x := -20; x <= 20; x++ {
		for y := -20; y <= 20; y++ {
			a, b := before.At(int(px.X)+x, int(px.Y)+y), after.At(int(px.X)+x, int(px.Y)+y)
			if color.NRGBAModel.Convert(a) != color.NRGBAModel.Convert(b) {
				changed++
			}
		}
	}
	if changed < 60 {
		t.Errorf("only %d pixels round the chosen handle differ", changed)
	}
}
