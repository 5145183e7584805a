package panel

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
)

// toolTable is the job's own table of measuring tools, and of what a state of
// a reading adds.
type toolTable struct {
	desk   *Desk
	rows   []*toolRow
	states []*stateRow
	body   *fyne.Container
	adds   *fyne.Container
	box    *fyne.Container
	shown  string
}

// toolRow is one tool.
type toolRow struct {
	id           string
	name, spread *field
	standing     *label
	box          fyne.CanvasObject
}

// stateRow is one state.
type stateRow struct {
	length, angle, slope *field
	standing             *label
	box                  fyne.CanvasObject
}

// quantities are what tools measure, with the words shown.
var quantities = [...]struct {
	q     model.Quantity
	words string
}{
	{model.QuantityLength, "length"}, {model.QuantityAngle, "angle"},
	{model.QuantityLean, "lean"}, {model.QuantitySlope, "tilt"},
}

func newToolTable(d *Desk) *toolTable {
	t := &toolTable{desk: d, body: container.NewVBox(), adds: container.NewVBox()}
	add := container.NewHBox(newLabel("Add a tool for").soft())
	add.Objects[0].(*label).whole = true
	for _, q := range quantities {
		add.Add(newButton(q.words, func() { t.add(q.q) }))
	}
	note := newPara("A spread is one standard deviation: two readings in three lie within it. What you change is marked as yours.")
	note.soft()
	cols := stateColumns()
	head := cols.row(newLabel("State adds").small().soft(), newLabel("to lengths").small().soft(),
		newLabel("to angles").small().soft(), newLabel("to tilts").small().soft(), newLabel("standing").small().soft())
	t.box = container.NewVBox(note, t.body, add, head, t.adds)
	return t
}

func toolColumns() *columns {
	return &columns{least: []float32{180, 56, 90, 84, 26}, share: []float32{4, 0, 1, 1, 0}, gap: 4}
}

func stateColumns() *columns {
	return &columns{least: []float32{90, 80, 80, 90, 80}, share: []float32{1, 1, 1, 1, 1}, gap: 4}
}

// change hands a changed copy of the tables to the session.
func (t *toolTable) change(j *model.Job, f func(*model.SetInstruments)) model.Edit {
	e := model.SetInstruments{Instruments: slices.Clone(j.Instruments), States: slices.Clone(j.States)}
	f(&e)
	return e
}

// tool changes the tool called id.
func (t *toolTable) tool(j *model.Job, id string, f func(*model.Instrument)) model.Edit {
	return t.change(j, func(e *model.SetInstruments) {
		for i := range e.Instruments {
			if e.Instruments[i].ID == id {
				f(&e.Instruments[i])
			}
		}
	})
}

func (t *toolTable) add(q model.Quantity) {
	job := t.desk.Job()
	spread := 1.0 // mm
	if q != model.QuantityLength {
		spread = 0.2 * float64(model.Degree)
	}
	id := "own-" + model.NewID().String()[:8]
	e := t.change(&job, func(e *model.SetInstruments) {
		e.Instruments = append(e.Instruments, model.Instrument{ID: id, Name: "New tool", Measures: q, Spread: spread, Standing: model.Yours})
	})
	if t.desk.Do(e) == nil {
		for _, r := range t.rows {
			if r.id == id {
				t.desk.focus(r.name.entry)
			}
		}
	}
}

func (t *toolTable) remove(id string) {
	job := t.desk.Job()
	if n := readingsBy(&job, id); n > 0 {
		in, _ := job.InstrumentByID(id)
		t.desk.complain(fmt.Errorf("remove %q: %d readings were taken with it; give them another tool first", in.Name, n))
		return
	}
	_ = t.desk.Do(t.change(&job, func(e *model.SetInstruments) { // an error has been shown
		e.Instruments = slices.DeleteFunc(e.Instruments, func(in model.Instrument) bool { return in.ID == id })
	}))
}

// readingsBy counts the readings taken with a tool.
func readingsBy(j *model.Job, id string) int {
	n := 0
	count := func(rs []model.Reading) {
		for _, r := range rs {
			if r.Instrument == id {
				n++
			}
		}
	}
	count(j.Flight.Readings)
	for _, s := range j.Flight.Steps {
		count(s.Readings)
	}
	return n
}

// parseSpread reads a spread in the way of the quantity.
func parseSpread(q model.Quantity, text string, u model.Units) (float64, error) {
	text = strings.TrimSpace(strings.TrimPrefix(text, "±"))
	var v float64
	var err error
	switch q {
	case model.QuantityLength:
		var l model.Length
		l, err = ReadLength(text, u)
		v = float64(l)
	case model.QuantitySlope:
		var a model.Angle
		a, err = readSlope(text)
		v = float64(a)
	default:
		var a model.Angle
		a, err = readAngle(text)
		v = float64(a)
	}
	if err == nil && v < 0 {
		err = errors.New("a spread is not below 0; type the size of the usual error")
	}
	return v, err
}

func (t *toolTable) newTool(in model.Instrument) *toolRow {
	r := &toolRow{id: in.ID, standing: newLabel("").soft()}
	get := func(j *model.Job) model.Instrument { in, _ := j.InstrumentByID(r.id); return in }
	r.name = textField(t.desk, "", "",
		func(j *model.Job) string { return get(j).Name },
		func(j *model.Job, s string) model.Edit {
			return t.tool(j, r.id, func(in *model.Instrument) { in.Name = s })
		})
	r.spread = newField(t.desk, "", "",
		func(j *model.Job) string { return spreadText(j, get(j)) },
		func(j *model.Job, text string) (model.Edit, error) {
			v, err := parseSpread(get(j).Measures, text, j.Units)
			return t.tool(j, r.id, func(in *model.Instrument) { in.Spread, in.Standing = v, model.Yours }), err
		})
	words := ""
	for _, q := range quantities {
		if q.q == in.Measures {
			words = q.words
		}
	}
	line := toolColumns().row(r.name.entry, newLabel(words).soft(), r.spread.entry, r.standing, newButton("✕", func() { t.remove(r.id) }))
	r.box = container.NewVBox(line, r.name.fault.box, r.spread.fault.box)
	return r
}

func (t *toolTable) newState(i int) *stateRow {
	r := &stateRow{standing: newLabel("").soft()}
	get := func(j *model.Job) model.StateRow {
		if i < len(j.States) {
			return j.States[i]
		}
		return model.StateRow{}
	}
	cell := func(q model.Quantity, at func(*model.StateRow) *float64) *field {
		return newField(t.desk, "", "",
			func(j *model.Job) string {
				s := get(j)
				return spreadText(j, model.Instrument{Measures: q, Spread: *at(&s)})
			},
			func(j *model.Job, text string) (model.Edit, error) {
				v, err := parseSpread(q, text, j.Units)
				return t.change(j, func(e *model.SetInstruments) {
					if i < len(e.States) {
						*at(&e.States[i]) = v
						e.States[i].Standing = model.Yours
					}
				}), err
			})
	}
	r.length = cell(model.QuantityLength, func(s *model.StateRow) *float64 { return &s.Length })
	r.angle = cell(model.QuantityAngle, func(s *model.StateRow) *float64 { return &s.Angle })
	r.slope = cell(model.QuantitySlope, func(s *model.StateRow) *float64 { return &s.Slope })
	job := t.desk.Job()
	line := stateColumns().row(newLabel(string(get(&job).State)), r.length.entry, r.angle.entry, r.slope.entry, r.standing)
	r.box = container.NewVBox(line, r.length.fault.box, r.angle.fault.box, r.slope.fault.box)
	return r
}

func (t *toolTable) tell() {
	job := t.desk.Job()
	var ids strings.Builder
	for _, in := range job.Instruments {
		ids.WriteString(in.ID + string(in.Measures) + "\n")
	}
	for _, s := range job.States {
		ids.WriteString(string(s.State) + "\n")
	}
	if ids.String() != t.shown {
		t.shown = ids.String()
		t.rows, t.states = t.rows[:0], t.states[:0]
		t.body.RemoveAll()
		t.adds.RemoveAll()
		for _, in := range job.Instruments {
			r := t.newTool(in)
			t.rows = append(t.rows, r)
			t.body.Add(r.box)
		}
		for i := range job.States {
			r := t.newState(i)
			t.states = append(t.states, r)
			t.adds.Add(r.box)
		}
	}
	for i, r := range t.rows {
		r.name.tell(&job)
		r.spread.tell(&job)
		r.standing.set(string(job.Instruments[i].Standing))
	}
	for i, r := range t.states {
		r.length.tell(&job)
		r.angle.tell(&job)
		r.slope.tell(&job)
		r.standing.set(string(job.States[i].Standing))
	}
}
