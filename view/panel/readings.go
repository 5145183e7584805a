package panel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"risewright/model"
	"risewright/solver/survey"
	"risewright/view/drawing/screen"
)

// Readings is the table of the chosen step's readings, to be filled in with
// the keyboard alone: Enter goes to the next reading in walking order, across
// steps, Shift+Enter back.
type Readings struct {
	desk   *Desk
	rows   []*readingRow
	shown  int // how many of rows are in use
	box    *fyne.Container
	scroll *container.Scroll
	paint  screen.Renderer
	drafts map[draftKey]draft
	extra  map[draftKey]bool // kinds for which a further row was asked
	now    *readingRow       // the row that has, or had last, the keyboard
	detail *readingDetail
	whole  fyne.CanvasObject
	busy   bool
}

// draftKey names a field of the table in whatever step.
type draftKey struct {
	step, reading model.ID
	kind          model.Kind
}

// draft is a text that could not be read, and why.
type draft struct {
	text string
	err  error
}

// readingColumns are those of the table: mark, name, entry, what it was read
// as, instrument, state, residual, plus-or-minus, verdict.
func readingColumns() *columns {
	return &columns{
		least: []float32{28, 100, 72, 46, 70, 58, 66, 58, 78},
		share: []float32{0, 2, 2, 1, 8, 3, 1, 1, 1},
		gap:   3,
	}
}

// NewReadings returns the table.
func NewReadings(d *Desk) *Readings {
	t := &Readings{desk: d, box: container.New(&stack{gap: 1}), drafts: map[draftKey]draft{}, extra: map[draftKey]bool{}}
	t.scroll = container.NewVScroll(t.box)
	t.detail = newReadingDetail(t)
	heads := make([]fyne.CanvasObject, 0, 9)
	for i, h := range []string{"", "Reading", "As taken", "read as", "Tool", "State", "Off by", "±", "Verdict"} {
		l := newLabel(h).small().soft()
		if i == 6 || i == 7 {
			l.right()
		}
		heads = append(heads, l)
	}
	head := readingColumns().row(heads...)
	t.whole = container.NewBorder(container.NewVBox(head, widget.NewSeparator()), t.detail.whole, nil, nil, wheeled(t.scroll))
	d.Watch(t.tell)
	d.onGo(t.goTo)
	t.tell(Answered | Chosen)
	return t
}

// Object returns what stands in the window.
func (t *Readings) Object() fyne.CanvasObject { return t.whole }

// tell follows a change of the job or of the choice.
func (t *Readings) tell(c Change) {
	if c&(Answered|Chosen) == 0 || t.busy {
		return
	}
	if c&Chosen != 0 { // what is being typed belongs to the step it was typed at
		t.busy = true
		for _, r := range t.rows[:t.shown] {
			if r.entry.Pending() && r.step != t.stepID() {
				t.commit(r)
			}
		}
		t.busy = false
	}
	t.bind()
}

// stepID returns the id of the chosen step; zero for the whole flight.
func (t *Readings) stepID() model.ID {
	if s := t.desk.step; s > 0 {
		return t.desk.Job().Flight.Steps[s-1].ID
	}
	return model.ID{}
}

// bind shows the readings of the chosen step.
func (t *Readings) bind() {
	job := t.desk.Job()
	kinds, rs, step := model.FlightKinds(), job.Flight.Readings, model.ID{}
	if s := t.desk.step; s > 0 {
		kinds, rs, step = model.StepKinds(), job.Flight.Steps[s-1].Readings, job.Flight.Steps[s-1].ID
	}
	checks := t.checks()
	before := t.shown
	t.shown = 0
	for _, k := range kinds {
		if t.desk.step == 1 && (k == model.GoingLeft || k == model.GoingRight) && !hasKind(rs, k) {
			continue // no step below to measure from
		}
		used := false
		for _, r := range rs {
			if r.Kind == k {
				t.next().bind(&job, step, k, r, checks[r.ID])
				used = used || !r.Aside
			}
		}
		if !used || t.extra[draftKey{step: step, kind: k}] {
			t.next().bind(&job, step, k, model.Reading{}, nil)
		}
	}
	if t.shown != before || len(t.box.Objects) != t.shown {
		t.box.Objects = t.box.Objects[:0]
		for _, r := range t.rows[:t.shown] {
			t.box.Objects = append(t.box.Objects, r.box)
		}
		t.box.Refresh()
	}
	t.detail.tell()
}

func hasKind(rs []model.Reading, k model.Kind) bool {
	for _, r := range rs {
		if r.Kind == k {
			return true
		}
	}
	return false
}

// checks returns the verdicts of the answer by reading.
func (t *Readings) checks() map[model.ID]*survey.Check {
	a := t.desk.session.Answer()
	if a.Survey == nil {
		return nil
	}
	out := make(map[model.ID]*survey.Check, len(a.Survey.Checks))
	for i := range a.Survey.Checks {
		out[a.Survey.Checks[i].Reading] = &a.Survey.Checks[i]
	}
	return out
}

// next returns the next row to be bound.
func (t *Readings) next() *readingRow {
	if t.shown == len(t.rows) {
		t.rows = append(t.rows, newReadingRow(t, t.shown))
	}
	t.shown++
	return t.rows[t.shown-1]
}

// commit reads what was typed into a row and hands it to the session. It says
// whether the keyboard may move on.
func (t *Readings) commit(r *readingRow) bool {
	key := r.key()
	old, waiting := t.drafts[key]
	if !r.entry.Pending() {
		if waiting {
			delete(t.drafts, key)
			r.fault.say(nil)
		}
		return true
	}
	text := trim(r.entry.Text)
	if waiting && old.text == r.entry.Text {
		return false // the message stands
	}
	if text == "" {
		delete(t.drafts, key)
		r.fault.say(nil)
		delete(t.extra, draftKey{step: r.step, kind: r.kind})
		r.entry.force("")
		if r.id == (model.ID{}) {
			t.bind()
			return true
		}
		return t.desk.Do(model.RemoveReadings{IDs: []model.ID{r.id}}) == nil
	}
	err := t.put(r, text)
	if err != nil {
		t.drafts[key] = draft{r.entry.Text, err}
		r.fault.say(err)
		t.reveal(r)
	}
	return err == nil
}

// put files a text as the row's reading.
func (t *Readings) put(r *readingRow, text string) error {
	job := t.desk.Job()
	v, err := parseReading(r.kind, text, job.Units)
	if err != nil {
		return err
	}
	read, _, exists := job.Reading(r.id)
	if !exists {
		read = model.Reading{ID: model.NewID(), Kind: r.kind, Instrument: r.toolID(&job), State: r.newState()}
	}
	read.Value, read.Typed, read.Taken = v, text, t.desk.session.Now()
	was := r.entry.was
	r.entry.force(text)
	delete(t.drafts, r.key())
	delete(t.extra, draftKey{step: r.step, kind: r.kind})
	r.fault.say(nil)
	if err := t.desk.session.Do(model.SetReading{Step: r.step, Reading: read}); err != nil {
		r.entry.was = was
		return err
	}
	t.desk.Answered()
	return nil
}

// change alters a reading that is filed already.
func (t *Readings) change(r *readingRow, f func(*model.Reading)) {
	job := t.desk.Job()
	read, _, ok := job.Reading(r.id)
	if !ok {
		return
	}
	f(&read)
	_ = t.desk.Do(model.SetReading{Step: r.step, Reading: read}) // an error has been shown
}

// move takes the keyboard n rows on from row i, and to the next or previous
// step when the table ends.
func (t *Readings) move(i, n int, across bool) {
	if to := i + n; to >= 0 && to < t.shown {
		t.desk.focus(t.rows[to].entry)
		return
	}
	if !across {
		return
	}
	d, steps := t.desk, t.desk.Steps()
	switch {
	case n > 0 && d.step > 0 && d.step < steps:
		d.Choose(d.step + 1)
	case n > 0 && d.step == steps:
		d.Choose(0) // the readings of the whole flight come last
	case n < 0 && d.step == 0:
		d.Choose(steps)
	case n < 0 && d.step > 1:
		d.Choose(d.step - 1)
	default:
		return
	}
	to := 0
	if n < 0 {
		to = t.shown - 1
	}
	t.desk.focus(t.rows[to].entry)
}

// gained notes that a row has the keyboard.
func (t *Readings) gained(r *readingRow) {
	t.now = r
	t.detail.tell()
	t.reveal(r)
}

// reveal scrolls a row into sight.
func (t *Readings) reveal(r *readingRow) {
	top, h := r.box.Position().Y, r.box.MinSize().Height
	y, room := t.scroll.Offset.Y, t.scroll.Size().Height
	switch {
	case room <= 0:
		return
	case top < y:
		y = top
	case top+h > y+room:
		y = top + h - room
	default:
		return
	}
	t.scroll.ScrollToOffset(fyne.NewPos(0, y))
}

// goTo shows the reading that a place names.
func (t *Readings) goTo(p model.Place) bool {
	if p.Kind == "" || p.Field != "" && p.Reading == (model.ID{}) {
		return false // the field of the job is where it is mended
	}
	for pass := range 2 { // by id, then by kind
		for i := t.shown - 1; i >= 0; i-- { // the empty or latest row of a kind is the last
			r := t.rows[i]
			if pass == 0 && p.Reading != (model.ID{}) && r.id == p.Reading || pass == 1 && r.kind == p.Kind {
				t.desk.tabs.show(tabReadings)
				t.desk.focus(r.entry)
				return true
			}
		}
	}
	return false
}

// Aside sets the current reading aside, or uses it again.
func (t *Readings) Aside() {
	r := t.current()
	if r == nil {
		return
	}
	if read, _, ok := t.desk.Job().Reading(r.id); ok {
		_ = t.desk.Do(model.SetAside{IDs: []model.ID{r.id}, Aside: !read.Aside})
	}
}

// current returns the row that has the keyboard, or had it last.
func (t *Readings) current() *readingRow {
	if t.now == nil || t.now.index >= t.shown {
		return nil
	}
	return t.now
}

// again adds an empty row for a kind that has been read already.
func (t *Readings) again() {
	r := t.current()
	if r == nil || r.id == (model.ID{}) {
		return
	}
	kind := r.kind
	t.extra[draftKey{step: r.step, kind: kind}] = true
	t.bind()
	for _, x := range t.rows[:t.shown] {
		if x.kind == kind && x.id == (model.ID{}) {
			t.desk.focus(x.entry)
		}
	}
}

// title names a row at length.
func (t *Readings) title(r *readingRow) string {
	if s := t.desk.step; s > 0 {
		return fmt.Sprintf("Step %d, %s", s, r.kind.Words())
	}
	return "Whole flight, " + r.kind.Words()
}
