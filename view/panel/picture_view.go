package panel

import (
	"image"
	"image/color"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"risewright/view/picture"
	"risewright/view/scene"
	"risewright/view/words"
)

// pictureView shows the picture and takes the hand: drag to go round, wheel to
// approach, the divider to move it, and keys for everything.
type pictureView struct {
	widget.BaseWidget
	p       *pictureDesk
	raster  *fcanvas.Raster
	blank   *image.RGBA
	focused bool
	onEdge  bool // the divider is held
	near    bool // the mouse is over the divider
}

var (
	_ fyne.Focusable     = (*pictureView)(nil)
	_ fyne.Draggable     = (*pictureView)(nil)
	_ fyne.Scrollable    = (*pictureView)(nil)
	_ fyne.Tappable      = (*pictureView)(nil)
	_ desktop.Mouseable  = (*pictureView)(nil)
	_ desktop.Cursorable = (*pictureView)(nil)
	_ desktop.Hoverable  = (*pictureView)(nil)
)

func newPictureView(p *pictureDesk) *pictureView {
	v := &pictureView{p: p}
	v.raster = fcanvas.NewRaster(v.frame)
	v.raster.ScaleMode = fcanvas.ImageScalePixels
	p.shown = v.Refresh
	v.ExtendBaseWidget(v)
	return v
}

// frame returns the last frame, stretched where the size has just changed.
func (v *pictureView) frame(w, h int) image.Image {
	size := image.Pt(max(1, w), max(1, h))
	front := v.p.front
	if front != nil && front.Rect.Size() == size {
		v.p.resize(w, h)
		return front
	}
	if v.blank == nil || v.blank.Rect.Size() != size {
		v.blank = image.NewRGBA(image.Rectangle{Max: size})
	}
	if front != nil {
		picture.Enlarge(v.blank, front)
	} else {
		for i := range v.blank.Pix {
			v.blank.Pix[i] = [4]uint8{22, 23, 26, 255}[i&3]
		}
	}
	v.p.resize(w, h)
	return v.blank
}

// edgeReach is how near the divider a press takes it, in the window's units.
const edgeReach = 9

func (v *pictureView) overEdge(at fyne.Position) bool {
	x := v.Size().Width * float32(v.p.divider)
	return v.p.shows == showBoth && at.X > x-edgeReach && at.X < x+edgeReach
}

// MouseDown implements desktop.Mouseable.
func (v *pictureView) MouseDown(e *desktop.MouseEvent) {
	v.onEdge = v.overEdge(e.Position)
	v.p.desk.focus(v)
}

// MouseUp implements desktop.Mouseable.
func (v *pictureView) MouseUp(*desktop.MouseEvent) {}

// Cursor implements desktop.Cursorable.
func (v *pictureView) Cursor() desktop.Cursor {
	if v.near || v.onEdge {
		return desktop.HResizeCursor
	}
	return desktop.PointerCursor
}

// MouseIn implements desktop.Hoverable.
func (v *pictureView) MouseIn(e *desktop.MouseEvent) { v.near = v.overEdge(e.Position) }

// MouseMoved implements desktop.Hoverable.
func (v *pictureView) MouseMoved(e *desktop.MouseEvent) { v.near = v.overEdge(e.Position) }

// MouseOut implements desktop.Hoverable.
func (v *pictureView) MouseOut() { v.near = false }

// Tapped implements fyne.Tappable.
func (v *pictureView) Tapped(*fyne.PointEvent) { v.onEdge = false }

// Dragged implements fyne.Draggable.
func (v *pictureView) Dragged(e *fyne.DragEvent) {
	s := v.Size()
	if s.Width < 1 || s.Height < 1 {
		return
	}
	if v.onEdge {
		v.p.divide(float64(e.Position.X / s.Width))
		return
	}
	v.p.turn(float64(e.Dragged.DX/s.Height), float64(e.Dragged.DY/s.Height))
}

// DragEnd implements fyne.Draggable.
func (v *pictureView) DragEnd() { v.onEdge = false }

// Scrolled implements fyne.Scrollable.
func (v *pictureView) Scrolled(e *fyne.ScrollEvent) {
	v.p.approach(max(-0.3, min(0.3, float64(e.Scrolled.DY)*0.01)))
}

// FocusGained implements fyne.Focusable.
func (v *pictureView) FocusGained() { v.focused = true; v.Refresh() }

// FocusLost implements fyne.Focusable.
func (v *pictureView) FocusLost() { v.focused = false; v.Refresh() }

// TypedKey implements fyne.Focusable.
func (v *pictureView) TypedKey(k *fyne.KeyEvent) {
	const turn, near = 0.06, 0.1
	p := v.p
	switch k.Name {
	case fyne.KeyLeft:
		p.turn(turn, 0)
	case fyne.KeyRight:
		p.turn(-turn, 0)
	case fyne.KeyUp:
		p.turn(0, turn)
	case fyne.KeyDown:
		p.turn(0, -turn)
	case fyne.KeyPageUp:
		p.approach(near)
	case fyne.KeyPageDown:
		p.approach(-near)
	case fyne.KeyHome, fyne.KeyEscape:
		p.look(p.view)
	}
}

// TypedRune implements fyne.Focusable.
func (v *pictureView) TypedRune(r rune) {
	p := v.p
	if i := int(r - '1'); i >= 0 && i < len(scene.Views()) {
		p.look(scene.Views()[i])
		return
	}
	switch fold(r) {
	case 'd':
		p.change(func() { p.time = scene.Day })
	case 'e':
		p.change(func() { p.time = scene.Evening })
	case 'n':
		p.change(func() { p.time = scene.Night })
	case 'b':
		p.change(func() { p.shows = (p.shows + 1) % (showBoth + 1) })
	case 'w':
		p.change(p.nextWalker)
	case ',', '<':
		p.change(func() { p.walkBy(-0.5) })
	case '.', '>':
		p.change(func() { p.walkBy(0.5) })
	case '[':
		p.divide(p.divider - 0.05)
	case ']':
		p.divide(p.divider + 0.05)
	case '+', '=':
		p.approach(0.1)
	case '-':
		p.approach(-0.1)
	case 's':
		p.makeStill()
	}
}

// CreateRenderer implements fyne.Widget.
func (v *pictureView) CreateRenderer() fyne.WidgetRenderer {
	text := func() *fcanvas.Text {
		t := fcanvas.NewText("", color.White)
		t.TextStyle.Bold = true
		return t
	}
	r := &pictureRenderer{v: v, rim: fcanvas.NewRectangle(color.Transparent), line: fcanvas.NewRectangle(color.NRGBA{255, 255, 255, 230}),
		grip: fcanvas.NewCircle(color.NRGBA{255, 255, 255, 240}), before: text(), after: text(), work: text(),
		beforeBack: fcanvas.NewRectangle(plate), afterBack: fcanvas.NewRectangle(plate), workBack: fcanvas.NewRectangle(plate)}
	r.before.Text, r.after.Text = words.Say("Before"), words.Say("After")
	for _, p := range []*fcanvas.Rectangle{r.beforeBack, r.afterBack, r.workBack} {
		p.CornerRadius = 4
	}
	r.objects = []fyne.CanvasObject{v.raster, r.line, r.grip, r.beforeBack, r.afterBack, r.workBack, r.before, r.after, r.work, r.rim}
	r.look()
	return r
}

// plate is what words on the picture stand on.
var plate = color.NRGBA{20, 22, 26, 170}

type pictureRenderer struct {
	v                               *pictureView
	line, rim                       *fcanvas.Rectangle
	grip                            *fcanvas.Circle
	before, after, work             *fcanvas.Text
	beforeBack, afterBack, workBack *fcanvas.Rectangle
	objects                         []fyne.CanvasObject
}

func (r *pictureRenderer) look() {
	th := r.v.Theme()
	name := base.ColorNameSeparator
	r.rim.StrokeWidth = 1
	if r.v.focused {
		name, r.rim.StrokeWidth = base.ColorNamePrimary, 2
	}
	r.rim.StrokeColor = th.Color(name, fyne.CurrentApp().Settings().ThemeVariant())
	size := th.Size(base.SizeNameText)
	for _, t := range []*fcanvas.Text{r.before, r.after, r.work} {
		t.TextSize = size
	}
	p := r.v.p
	r.work.Text = p.atWork()
	show := func(on bool, os ...fyne.CanvasObject) {
		for _, o := range os {
			if on {
				o.Show()
			} else {
				o.Hide()
			}
		}
	}
	show(p.shows == showBoth, r.line, r.grip)
	show(p.shows != showAfter, r.before, r.beforeBack)
	show(p.shows == showBoth, r.after, r.afterBack)
	show(r.work.Text != "", r.work, r.workBack)
}

func (r *pictureRenderer) Layout(s fyne.Size) {
	r.v.raster.Resize(s)
	r.rim.Resize(s)
	x := s.Width * float32(r.v.p.divider)
	r.line.Move(fyne.NewPos(x-1, 0))
	r.line.Resize(fyne.NewSize(2, s.Height))
	r.grip.Move(fyne.NewPos(x-7, s.Height/2-7))
	r.grip.Resize(fyne.NewSize(14, 14))
	put := func(t *fcanvas.Text, back *fcanvas.Rectangle, at fyne.Position) {
		m := t.MinSize()
		t.Move(at)
		t.Resize(m)
		back.Move(at.SubtractXY(6, 2))
		back.Resize(m.AddWidthHeight(12, 4))
	}
	put(r.before, r.beforeBack, fyne.NewPos(14, 10))
	put(r.after, r.afterBack, fyne.NewPos(s.Width-r.after.MinSize().Width-14, 10))
	put(r.work, r.workBack, fyne.NewPos(14, s.Height-r.work.MinSize().Height-10))
}

func (r *pictureRenderer) MinSize() fyne.Size           { return fyne.NewSize(200, 140) }
func (r *pictureRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *pictureRenderer) Destroy()                     {}

// Refresh shows the last frame.
func (r *pictureRenderer) Refresh() {
	r.look()
	r.Layout(r.v.Size())
	for _, o := range r.objects {
		o.Refresh()
	}
}
