package panel

import (
	"strings"

	"fyne.io/fyne/v2"

	"risewright/model"
	"risewright/solver"
	"risewright/view/canvas"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/order"
	"risewright/view/plan"
	"risewright/view/section"
)

// grabRadius is how far from a handle a press still takes it, in paper mm: a
// little more than the handle's own size, so that it is easy to hit.
const grabRadius = 3.0

// stairDrawing is plan or section as a scene that can be touched.
type stairDrawing struct {
	desk *Desk
	draw func(*drawing.List, *solver.Answer, handle.Options)
	all  func([]handle.Handle, *solver.Answer, handle.Options) []handle.Handle
	step func(*solver.Answer, handle.Options, drawing.Point) int
	// play and fitPlay draw the order of fitting instead, while it is played.
	play    func(*drawing.List, []order.Play, order.Options)
	fitPlay func([]order.Play, order.Options, float64, float64, float64) drawing.Viewport
	fit     func(*solver.Answer, handle.Options, float64, float64, float64) drawing.Viewport

	handles []handle.Handle // kept between calls
	fitted  fitOnce[stairFit]
	hover   handle.ID

	// the drag in hand
	id       handle.ID
	held     []model.ID
	words    string
	job      model.Job
	answer   *solver.Answer
	opts     handle.Options
	from, to drawing.Point // scene
	moved    bool          // since the last solve
	edit     model.Edit    // of the last solve; nil when refused
}

// stairFit is what a fit of the stair hangs on: during a drag it fits as it did.
type stairFit struct {
	answer               *solver.Answer
	work, other          *solver.Work // of an order that is played
	opts                 handle.Options
	width, height, paper float64
}

var _ canvas.Gripped = (*stairDrawing)(nil)

// NewPlan returns the plan on a canvas.
func NewPlan(d *Desk) *canvas.Canvas {
	return newStairCanvas(d, "Plan", &stairDrawing{desk: d, draw: plan.Draw, all: plan.Handles, step: plan.StepAt, fit: plan.Fit, play: order.Plan, fitPlay: order.FitPlan})
}

// NewSection returns the section on a canvas.
func NewSection(d *Desk) *canvas.Canvas {
	return newStairCanvas(d, sectionName, &stairDrawing{desk: d, draw: section.Draw, all: section.Handles, step: section.StepAt, fit: section.Fit, play: order.Section, fitPlay: order.FitSection})
}

// sectionName is what the section is called.
const sectionName = "Section"

func newStairCanvas(d *Desk, name string, s *stairDrawing) *canvas.Canvas {
	c := canvas.New(name, withSensors(withLights(s, name == sectionName)))
	d.onSettle(s.settle)
	d.Watch(func(ch Change) {
		if ch != Pointed { // that is shown by the drawing under the pointer alone
			c.Redraw()
		}
	})
	return c
}

// options returns how this drawing is drawn in a viewport.
func (s *stairDrawing) options(v drawing.Viewport) handle.Options {
	o := s.desk.options()
	if v.Paper > 0 {
		o.Scale = v.Scale / v.Paper
	}
	o.Hover, o.Held = s.hover, s.id
	return o
}

// Draw implements canvas.Scene.
func (s *stairDrawing) Draw(l *drawing.List, v drawing.Viewport) {
	s.desk.Settle()
	if s.desk.playing() {
		s.play(l, s.desk.plays(), s.options(v))
		return
	}
	s.draw(l, s.desk.Answer(), s.options(v))
}

// Fit implements canvas.Scene. It fits the job's own answer, so that the
// drawing does not run away from a drag.
func (s *stairDrawing) Fit(width, height, paper float64) drawing.Viewport {
	d := s.desk
	now := stairFit{answer: d.session.Answer(), opts: s.options(drawing.Viewport{}), width: width, height: height, paper: paper}
	playing := d.playing()
	if playing {
		now.work, now.other = d.planned.work, d.player.other
	}
	return s.fitted.get(now, func() drawing.Viewport {
		if playing {
			return s.fitPlay(d.plays(), now.opts, width, height, paper)
		}
		return s.fit(now.answer, now.opts, width, height, paper)
	})
}

func (s *stairDrawing) hit(v drawing.Viewport, at drawing.Point) (handle.Handle, bool) {
	if s.desk.playing() { // the order is looked at; nothing is dragged
		return handle.Handle{}, false
	}
	s.handles = s.all(s.handles[:0], s.desk.session.Answer(), s.options(v))
	return handle.Hit(s.handles, v, at, grabRadius*v.Paper)
}

// Hover implements canvas.Hand.
func (s *stairDrawing) Hover(v drawing.Viewport, at drawing.Point, out bool) (changed, on bool) {
	var id handle.ID
	hint := ""
	if !out {
		if h, ok := s.hit(v, at); ok {
			id, on = h.ID, true
			hint = s.hint(&h)
		}
	}
	if changed = id != s.hover; changed {
		s.hover = id
		s.desk.point(hint)
	}
	return changed, on
}

// hint tells about a handle under the pointer.
func (s *stairDrawing) hint(h *handle.Handle) string {
	if len(h.Held) > 0 {
		return heldWords(h.Words, s.desk.names(h.Held)) + "."
	}
	return model.Capital(h.Words) + ": drag it."
}

// keyedWords says what moves a handle that the keyboard is at.
const keyedWords = "arrow keys move it, with Shift farther. Enter lets go, Escape puts it back"

// keyedHint turns what a hint says about the pointer into what it is for the
// keyboard.
func keyedHint(hint string) string {
	what, _, _ := strings.Cut(strings.TrimSuffix(hint, "."), ": ")
	return what + ": " + keyedWords + "."
}

// Grips implements canvas.Gripped: the handles of the chosen step and of the
// whole flight, or all while none is chosen.
func (s *stairDrawing) Grips(v drawing.Viewport) []canvas.Grip {
	if s.desk.playing() {
		return nil
	}
	o := s.options(v)
	s.handles = s.all(s.handles[:0], s.desk.Answer(), o)
	step := float64(o.Snap)
	if step <= 0 {
		step = 1
	}
	var own, whole []canvas.Grip
	for _, h := range s.handles {
		g := canvas.Grip{Key: h.ID, At: h.At, Step: step,
			Show: func() {
				s.hover = h.ID
				s.desk.point(keyedHint(s.hint(&h)))
			},
			Take: func(v drawing.Viewport) bool { return s.take(v, h, h.At) },
		}
		switch {
		case s.desk.step == 0 || h.ID.Step == s.desk.step:
			own = append(own, g)
		case h.ID.Step == 0:
			whole = append(whole, g)
		}
	}
	return append(own, whole...)
}

// Grab implements canvas.Hand.
func (s *stairDrawing) Grab(v drawing.Viewport, at drawing.Point) bool {
	h, ok := s.hit(v, at)
	if !ok {
		return false
	}
	return s.take(v, h, v.Scene(at))
}

// take takes hold of a handle at a scene point.
func (s *stairDrawing) take(v drawing.Viewport, h handle.Handle, from drawing.Point) bool {
	s.desk.Leave()
	s.id, s.held, s.words = h.ID, append([]model.ID(nil), h.Held...), h.Words
	s.job, s.answer, s.opts = s.desk.session.Job(), s.desk.session.Answer(), s.options(v)
	s.from, s.to, s.moved, s.edit = from, from, false, nil
	return true
}

// Drag implements canvas.Hand. It only notes where the pointer is; settle
// solves for it when the next frame is drawn.
func (s *stairDrawing) Drag(v drawing.Viewport, at drawing.Point) {
	s.to, s.moved = v.Scene(at), true
	s.desk.tell(Dragged)
}

// settle solves for the last place of the pointer.
func (s *stairDrawing) settle() {
	if !s.moved {
		return
	}
	s.moved = false
	e, err := handle.Drag(s.job, s.answer, s.id, s.from, s.to, s.opts)
	if err != nil {
		return // the handle stays at the last place it can be in
	}
	if e == nil { // back where it was, within what a drag snaps to
		s.edit, s.desk.preview = nil, nil
		return
	}
	a, err := s.desk.session.Preview(e)
	if err != nil {
		return
	}
	s.edit = e
	s.desk.preview = a
}

// Drop implements canvas.Hand.
func (s *stairDrawing) Drop() {
	s.settle()
	id, e := s.id, s.edit
	s.id, s.edit = handle.ID{}, nil
	if e == nil { // pressed and let go: choose the step the handle belongs to
		s.desk.Leave()
		if id.Step > 0 {
			s.desk.Choose(id.Step)
		}
		return
	}
	if len(s.held) > 0 {
		release, err := handle.Release(s.job, s.answer, id, s.from, s.to, s.opts)
		if err != nil {
			s.desk.Leave()
			s.desk.complain(err)
			return
		}
		s.desk.ask(&held{words: s.words, readings: s.held, edit: release})
		return
	}
	s.desk.preview = nil
	if s.desk.Do(e) != nil {
		s.desk.tell(Dragged)
	}
}

// Cancel implements canvas.Hand.
func (s *stairDrawing) Cancel() {
	s.id, s.edit, s.moved = handle.ID{}, nil, false
	s.desk.Leave()
	s.desk.tell(Dragged)
}

// Click implements canvas.Hand.
func (s *stairDrawing) Click(v drawing.Viewport, at drawing.Point) {
	s.desk.Leave()
	if s.desk.playing() {
		s.desk.showStep(s.step(s.desk.planned.work.Answer, s.options(v), v.Scene(at)))
		return
	}
	s.desk.Choose(s.step(s.desk.session.Answer(), s.options(v), v.Scene(at)))
}

// Key implements canvas.Hand: up the flight and down, the first and the last.
func (s *stairDrawing) Key(k fyne.KeyName) bool {
	d := s.desk
	if d.playing() && d.playKey(k) {
		return true
	}
	switch k {
	case fyne.KeyUp, fyne.KeyRight, fyne.KeyPageUp:
		d.Choose(d.step + 1)
	case fyne.KeyDown, fyne.KeyLeft, fyne.KeyPageDown:
		d.Choose(max(1, d.step-1))
	case fyne.KeyHome:
		d.Choose(1)
	case fyne.KeyEnd:
		d.Choose(d.Steps())
	case fyne.KeyEscape:
		if d.held != nil || d.preview != nil {
			d.Leave()
		} else {
			d.Choose(0)
		}
	case fyne.KeyReturn, fyne.KeyEnter:
		if d.held == nil {
			return false
		}
		d.SetAsideAndMove()
	default:
		return false
	}
	return true
}
