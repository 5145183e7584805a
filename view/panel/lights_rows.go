package panel

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
)

// rowEditor changes the rows of the electrical tables. What is changed is kept
// in the job: a row of its own with the id of a shipped one stands in for it.
type rowEditor struct {
	desk   *Desk
	tables []lightTable
	table  int    // which is shown
	row    string // id of the row shown
	ids    []string

	kind, which *chooser
	form        form
	cells       []shownCell
	body        *fyne.Container
	words       *para
	reset       *button
	add, remove *button
	box         *fyne.Container
}

// shownCell is a cell on the screen.
type shownCell struct {
	def   *lightCell
	field *field // nil for a tick
	tick  *check
	note  *label // unit and standing
}

func newRowEditor(d *Desk) *rowEditor {
	e := &rowEditor{desk: d, tables: lightTables(), form: form{desk: d, tab: tabLights}, body: container.New(&stack{gap: 1}), words: newPara("").soft()}
	e.kind = newChooser(func(i int) { e.show(i, "") })
	var names []string
	for _, t := range e.tables {
		names = append(names, t.name)
	}
	e.kind.words(names, nil)
	e.which = newChooser(func(i int) {
		if i < len(e.ids) {
			e.show(e.table, e.ids[i])
		}
	})
	e.reset = newButton("Reset to shipped", func() { e.change(func(own *model.LightTables) { e.def().reset(own, e.row) }) })
	e.remove = newButton("Remove this row", e.drop)
	e.add = newButton("Add a row like this", e.more)
	e.box = container.New(&stack{gap: 2},
		fieldColumns().row(newLabel("Table"), e.kind), fieldColumns().row(newLabel("Row"), e.which),
		e.body, e.words, container.NewHBox(e.reset, e.add, e.remove))
	return e
}

func (e *rowEditor) def() *lightTable { return &e.tables[e.table] }

// shipped returns the tables without the job's own rows, and those with them.
func (e *rowEditor) shipped() (base, all model.LightTables) {
	base = e.desk.session.Tables().Lights
	return base, base.With(e.desk.Job().Lighting.Own)
}

// edit returns the edit that changes the job's own rows.
func (e *rowEditor) edit(j *model.Job, do func(own *model.LightTables)) model.Edit {
	l := j.Lighting
	do(&l.Own)
	return model.SetLighting{Lighting: l}
}

func (e *rowEditor) change(do func(own *model.LightTables)) {
	job := e.desk.Job()
	_ = e.desk.Do(e.edit(&job, do)) // an error has been shown
}

// show shows a row of a table; "" is the one that the job uses.
func (e *rowEditor) show(table int, row string) {
	e.form.leave()
	if row == "" {
		job := e.desk.Job()
		row = e.tables[table].used(&job.Lighting)
	}
	e.table, e.row, e.cells = table, row, nil
	e.tell()
}

// more adds a row with the values of the one shown, and shows it.
func (e *rowEditor) more() {
	t := e.def()
	base, all := e.shipped()
	id := ""
	e.change(func(own *model.LightTables) { id = t.add(own, base, all, e.row) })
	if id != "" {
		e.show(e.table, id)
	}
}

// drop removes a row that is not a shipped one.
func (e *rowEditor) drop() {
	t, row := e.def(), e.row
	base, _ := e.shipped()
	e.change(func(own *model.LightTables) { t.remove(own, base, row) })
	e.show(e.table, "")
}

func (e *rowEditor) tell() {
	job := e.desk.Job()
	t := e.def()
	base, all := e.shipped()
	ids, titles := t.rows(all)
	own, _ := t.rows(job.Lighting.Own)
	known, _ := t.rows(base)
	for i, id := range ids {
		if slices.Contains(own, id) {
			titles[i] += ", yours"
		}
	}
	e.ids = ids
	e.which.words(titles, nil)
	at := slices.Index(ids, e.row)
	if at < 0 && len(ids) > 0 {
		e.row, at, e.cells = t.used(&job.Lighting), 0, nil
		if at = slices.Index(ids, e.row); at < 0 {
			e.row, at = ids[0], 0
		}
	}
	e.kind.set(e.table)
	e.which.set(at)
	if e.cells == nil {
		e.fill()
	}
	e.form.tell()
	for _, c := range e.cells {
		now, standing := c.def.get(all, e.row)
		was, _ := c.def.get(base, e.row)
		note := strings.TrimSpace(c.def.unit)
		if c.def.unitOf != nil {
			note = c.def.unitOf(all, e.row)
		}
		if s := standingShort(standing.Standing); s != "" {
			note = strings.TrimPrefix(note+" · "+s, " · ")
		}
		if standing.From != "" {
			note += ": " + standing.From
		}
		c.note.set(note)
		if c.tick != nil {
			c.tick.show(now == yes)
			continue
		}
		c.field.entry.SetPlaceHolder(was)
	}
	isOwn := slices.Contains(own, e.row)
	isKnown := slices.Contains(known, e.row)
	words := "As shipped. What you change is kept in this job and marked yours."
	switch {
	case t.whole && len(own) > 0:
		words = "This job has a list of its own; reset brings the shipped list back."
	case isOwn && isKnown:
		words = "Yours: it stands in for the shipped row. Empty a field to have its shipped value back."
	case isOwn:
		words = "A row of this job."
	}
	used := t.used(&job.Lighting) == e.row && !t.whole
	if isOwn && !isKnown && used {
		words += " It is in use; choose another before you remove it."
	}
	setPara(e.words, words)
	e.reset.say("Reset to shipped", isOwn && (isKnown || t.whole))
	e.add.say("Add a row like this", t.add != nil && e.row != "")
	e.remove.say("Remove this row", t.whole && len(ids) > 1 || isOwn && !isKnown && !used)
}

// fill makes the cells of the row shown.
func (e *rowEditor) fill() {
	t, row := e.def(), e.row
	e.form.fields, e.cells = nil, []shownCell{}
	e.body.RemoveAll()
	cols := &columns{least: []float32{136, 84, 120}, share: []float32{1, 0, 3}, gap: 6}
	for i := range t.cells {
		def := &t.cells[i]
		c := shownCell{def: def, note: newLabel("").soft().small()}
		if def.flag {
			c.tick = newCheck("", func(on bool) {
				base, all := e.shipped()
				e.change(func(own *model.LightTables) {
					_ = def.put(own, base, all, row, map[bool]string{true: yes, false: "no"}[on])
				})
			})
			e.body.Add(cols.row(newLabel(def.name), c.tick, c.note))
			e.cells = append(e.cells, c)
			continue
		}
		c.field = newField(e.desk, "lighting.own."+t.id+"."+def.id, def.name,
			func(*model.Job) string {
				_, all := e.shipped()
				text, _ := def.get(all, row)
				return text
			},
			func(j *model.Job, text string) (model.Edit, error) {
				base, all := e.shipped()
				var err error
				edit := e.edit(j, func(own *model.LightTables) { err = def.put(own, base, all, row, text) })
				return edit, err
			})
		c.field.free = def.free
		e.form.add(c.field)
		e.body.Add(container.New(&stack{}, cols.row(c.field.name, c.field.entry, c.note), c.field.fault.box))
		e.cells = append(e.cells, c)
	}
	e.box.Refresh()
}

// goTo returns the control of a field of a row, given as
// lighting.own.strips.rgbw-5v-60.volts, or nil. An id may have points in it.
func (e *rowEditor) goTo(id string) fyne.Focusable {
	rest, ok := strings.CutPrefix(id, "lighting.own")
	if !ok {
		return nil
	}
	rest = strings.TrimPrefix(rest, ".")
	for i := range e.tables {
		t := &e.tables[i]
		of, ok := strings.CutPrefix(rest, t.id)
		if !ok {
			continue
		}
		of = strings.TrimPrefix(of, ".")
		_, all := e.shipped()
		ids, _ := t.rows(all)
		row := ""
		for _, r := range ids {
			if (of == r || strings.HasPrefix(of, r+".")) && len(r) >= len(row) {
				row = r
			}
		}
		e.show(i, row)
		cell := strings.TrimPrefix(strings.TrimPrefix(of, row), ".")
		for _, c := range e.cells {
			if c.def.id == cell && c.field != nil {
				return c.field.entry
			}
			if c.def.id == cell {
				return c.tick
			}
		}
		if len(e.form.fields) > 0 {
			return e.form.fields[0].entry
		}
	}
	return e.kind
}

// freeID returns an id that no row has.
func freeID(ids []string) string {
	for n := 1; ; n++ {
		if id := "own-" + strconv.Itoa(n); !slices.Contains(ids, id) {
			return id
		}
	}
}

// rangeError says what a cell takes.
func rangeError(text string, least, most float64) error {
	if least == tiny {
		return fmt.Errorf("%q is no number above 0 and at most %g; type one, as figures alone", text, most)
	}
	if most >= upTo {
		return fmt.Errorf("%q is no number from %g up; type one, as figures alone", text, least)
	}
	return fmt.Errorf("%q is no number from %s to %s; type one, as figures alone", text, plainly(least), plainly(most))
}
