package panel

import (
	"fmt"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
	"risewright/view/handle"
)

// Session is an open job, as the panels need it.
type Session interface {
	Job() model.Job
	Answer() *solver.Answer
	Tables() model.Tables
	Now() time.Time
	// Do applies an edit and solves; on an error nothing has changed.
	Do(model.Edit) error
	// Preview answers the job as it would be after an edit.
	Preview(model.Edit) (*solver.Answer, error)
}

// Change says what has changed on a Desk.
type Change uint16

// The changes. They may come together.
const (
	Answered Change = 1 << iota // the job and its answer
	Chosen                      // the chosen step or piece
	Dragged                     // the answer shown during a drag
	Viewed                      // how the drawings are drawn
	Pointed                     // the handle under the pointer
	Planned                     // what follows from the answer: order, buying, time
	Played                      // the task of the order that is shown
	Walked                      // somebody on the stair, and what is lit for them
	Found                       // what is to be known of the sensors
)

// View is how the drawings are drawn.
type View struct {
	Exaggerate float64 // 1, 5 or 10
	Dimensions bool
	Cut        buildup.Side
}

// Desk is what the panels share. Make one with NewDesk. It belongs to the
// goroutine of the interface.
type Desk struct {
	session Session
	step    int
	piece   string
	view    View
	preview *solver.Answer
	hint    string // about the handle under the pointer
	held    *held  // what a pulled handle is held by, while that is asked

	watchers []func(Change)
	goers    []func(model.Place) bool
	settlers []func()
	// afterwards follows a settler that solved.
	afterwards []func()
	// Canvas is the screen the panels stand on; it gives them the keyboard.
	Canvas fyne.Canvas
	// Complain shows an error to the user. Nil drops it.
	Complain func(error)
	// Later does work elsewhere and then something on the goroutine of the
	// interface. Nil starts a goroutine and comes back with fyne.Do.
	Later func(work, then func())
	// state is what new readings are taken as once the user has chosen one;
	// see stateAt.
	state model.State
	tabs  tabs
	// Rest waits while the job must stay as it is before the work that follows
	// from it is planned; it runs beside the interface. Nil does not wait.
	Rest func()
	// Frame waits for the next frame of what moves by itself; it runs beside the
	// interface. Nil does not wait.
	Frame    func()
	planned  planned
	player   player
	lights   lightDesk
	sensors  sensorDesk
	walking  walkDesk
	pictures *pictureDesk
	// MakeStill makes a still picture of what is seen. Nil: there is no such thing.
	MakeStill func(StillWanted)
}

// held is a handle that readings hold, pulled and let go.
type held struct {
	words    string
	readings []model.ID
	edit     model.Edit // sets them aside and moves the sketch
}

// rested calls then, on the goroutine of the interface, once Rest has passed.
func (d *Desk) rested(then func()) {
	rest := d.Rest
	if rest == nil {
		rest = func() {}
	}
	d.later(rest, then)
}

// NewDesk returns a desk with a session on it.
func NewDesk(s Session) *Desk {
	d := &Desk{view: View{Exaggerate: 1, Dimensions: true}}
	d.pictures = newPictureDesk(d)
	d.Use(s)
	return d
}

// Use puts another session on the desk.
func (d *Desk) Use(s Session) {
	d.session, d.preview, d.held = s, nil, nil
	d.planned.work, d.planned.about = nil, nil // those of another job
	d.sensors.found = sensorFindings{running: d.sensors.found.running}
	d.dropLight()
	g := &d.lights
	d.lights = lightDesk{luxRun: g.luxRun, siding: g.siding, sideRun: g.sideRun}
	d.player = player{seeking: d.player.seeking}
	_, next := NextStep(s.Answer(), s.Answer().Findings)
	d.step, d.piece = max(1, next.Step), ""
	d.state = ""
	d.clampChoice()
	d.tell(Answered | Chosen | Dragged)
}

// stateAt returns what a new reading among rs is taken as: the state chosen
// last, or else that of the readings taken there already. A guess is never
// offered, because it would go unnoticed into a survey; without any reading it
// is bare wood, which a cut needs.
func (d *Desk) stateAt(rs []model.Reading) model.State {
	if d.state != "" {
		return d.state
	}
	for i := len(rs) - 1; i >= 0; i-- {
		if rs[i].State != model.Guessed {
			return rs[i].State
		}
	}
	return model.Bare
}

// Job returns the job as it is.
func (d *Desk) Job() model.Job { return d.session.Job() }

// Answer returns what is to be shown: during a drag the answer as it would be.
func (d *Desk) Answer() *solver.Answer {
	if d.preview != nil {
		return d.preview
	}
	return d.session.Answer()
}

// Session returns the session on the desk.
func (d *Desk) Session() Session { return d.session }

// Watch calls f after every change.
func (d *Desk) Watch(f func(Change)) { d.watchers = append(d.watchers, f) }

func (d *Desk) tell(c Change) {
	for _, f := range d.watchers {
		f(c)
	}
}

// Do hands an edit to the session and shows the new answer. An error is shown
// and returned.
func (d *Desk) Do(e model.Edit) error {
	if err := d.session.Do(e); err != nil {
		d.complain(fmt.Errorf("%s: %w", e.Label(), err))
		return err
	}
	d.Answered()
	return nil
}

// Answered tells all panels that the session has another job or answer, as
// after an undo.
func (d *Desk) Answered() {
	d.preview, d.held = nil, nil
	d.dropLight()
	d.clampChoice()
	d.tell(Answered | Chosen | Dragged)
}

func (d *Desk) complain(err error) {
	if d.Complain != nil {
		d.Complain(err)
	}
}

// Step returns the chosen step, counted from 1; 0 is the whole flight.
func (d *Desk) Step() int { return d.step }

// Piece returns the chosen piece, or "".
func (d *Desk) Piece() string { return d.piece }

// Steps returns the number of steps.
func (d *Desk) Steps() int { return len(d.session.Job().Flight.Steps) }

// Choose chooses a step (0: the whole flight) and its tread.
func (d *Desk) Choose(step int) {
	step = max(0, min(step, d.Steps()))
	if step == d.step && d.piece == d.treadOf(step) {
		return
	}
	d.step, d.piece = step, d.treadOf(step)
	d.tell(Chosen)
}

// ChoosePiece chooses a piece and its step.
func (d *Desk) ChoosePiece(id string) {
	a := d.session.Answer()
	if i := a.Piece(id); i >= 0 && id != d.piece {
		d.piece, d.step = id, a.Pieces[i].Step
		d.tell(Chosen)
	}
}

// treadOf returns the id of the board on top of a step, or "".
func (d *Desk) treadOf(step int) string {
	a := d.session.Answer()
	id := ""
	for i := range a.Pieces {
		if p := &a.Pieces[i]; p.Step == step && p.Kind != "riser" {
			id = p.ID
		}
	}
	return id
}

// clampChoice keeps the choice on steps and pieces that exist.
func (d *Desk) clampChoice() {
	d.step = max(0, min(d.step, d.Steps()))
	a := d.session.Answer()
	if i := a.Piece(d.piece); i < 0 || a.Pieces[i].Step != d.step {
		d.piece = d.treadOf(d.step)
	}
}

// View returns how the drawings are drawn.
func (d *Desk) View() View { return d.view }

// SetView changes how the drawings are drawn.
func (d *Desk) SetView(v View) {
	if v != d.view {
		d.view = v
		d.tell(Viewed)
	}
}

// GoTo takes the user to a place: its step is chosen, and the panel that has
// its field shows it and takes the keyboard.
func (d *Desk) GoTo(p model.Place) {
	if p.Piece != "" {
		d.ChoosePiece(p.Piece)
	} else if p.Step > 0 || p.Kind.WholeFlight() || p.Field == "" {
		d.Choose(p.Step)
	}
	if p.Field != "" && p.Reading == (model.ID{}) {
		d.tabs.show(tabOf(p.Field)) // which builds it, if it was never shown
	}
	for _, f := range d.goers {
		if f(p) {
			return
		}
	}
}

// tabOf returns the panel that has a field of the job.
func tabOf(field string) tab {
	switch {
	case strings.HasPrefix(field, "wishes."):
		return tabOrder
	case strings.HasPrefix(field, "shop."):
		return tabBuy
	case strings.HasPrefix(field, "look."):
		return tabPicture
	case strings.HasPrefix(field, "lighting"):
		return tabLights
	case strings.HasPrefix(field, "sensing"):
		return tabSensors
	}
	for _, start := range []string{"overlay.", "flight.rail", "flight.headroom", "flight.doors", "steps.pack"} {
		if strings.HasPrefix(field, start) {
			return tabBuildup
		}
	}
	return tabJob
}

// onGo registers a panel that can show places; f says whether it did.
func (d *Desk) onGo(f func(model.Place) bool) { d.goers = append(d.goers, f) }

// onSettle registers what is to be solved before a frame is drawn.
func (d *Desk) onSettle(f func()) { d.settlers = append(d.settlers, f) }

// Settle solves for what has been dragged since the last frame.
func (d *Desk) Settle() {
	for _, f := range d.settlers {
		f()
	}
}

// onSettled registers what shows figures of a drag in words: they are known
// only once a frame has solved for them.
func (d *Desk) onSettled(f func()) { d.afterwards = append(d.afterwards, f) }

func (d *Desk) settled() {
	for _, f := range d.afterwards {
		f()
	}
}

// Held returns the handle that was pulled, in words, and the names of the
// readings that hold it, those of the chosen step first; "" when nothing is
// asked.
func (d *Desk) Held() (handle string, readings []string) {
	if d.held == nil {
		return "", nil
	}
	return d.held.words, d.names(d.held.readings)
}

// names returns the names of readings, those of the chosen step first.
func (d *Desk) names(ids []model.ID) (here []string) {
	job := d.session.Job()
	var elsewhere []string
	for _, id := range ids {
		switch r, step, ok := job.Reading(id); {
		case !ok:
		case step < 0 || step+1 == d.step:
			here = append(here, r.Kind.Words())
		default:
			elsewhere = append(elsewhere, fmt.Sprintf("%s of step %d", r.Kind.Words(), step+1))
		}
	}
	return append(here, elsewhere...)
}

// SetAsideAndMove does what was asked: the readings are set aside and the
// handle is moved, as one change.
func (d *Desk) SetAsideAndMove() {
	if d.held == nil {
		return
	}
	e := d.held.edit
	d.Leave()
	_ = d.Do(e) // an error has been shown
}

// Leave leaves the readings in use and puts the handle back.
func (d *Desk) Leave() {
	if d.held == nil && d.preview == nil {
		return
	}
	d.held, d.preview = nil, nil
	d.tell(Dragged)
}

// point notes which handle lies under the pointer; "" for none.
func (d *Desk) point(hint string) {
	if hint != d.hint {
		d.hint = hint
		d.tell(Pointed)
	}
}

func (d *Desk) ask(h *held) {
	d.held = h
	d.tell(Dragged)
}

// options returns how plan and section are drawn now.
func (d *Desk) options() handle.Options {
	job := d.session.Job()
	return handle.Options{
		Selected: d.step, Piece: d.piece, Exaggerate: d.view.Exaggerate, Cut: d.view.Cut,
		Format: job.Format(), Dimensions: d.view.Dimensions, Findings: true, Ghost: true,
		Uncertainty: true, Handles: true, Snap: handle.SnapOf(job.Units),
	}
}

func (d *Desk) later(work, then func()) {
	if d.Later != nil {
		d.Later(work, then)
		return
	}
	go func() {
		work()
		fyne.Do(then)
	}()
}

// focus gives the keyboard to an object, also to one that has not been drawn
// yet.
func (d *Desk) focus(o fyne.Focusable) {
	if d.Canvas != nil {
		d.Canvas.Focus(o)
	}
}

// focus gives the keyboard to an object that is on a screen.
func focus(o fyne.Focusable) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(o.(fyne.CanvasObject)); c != nil {
		c.Focus(o)
	}
}
