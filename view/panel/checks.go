package panel

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
)

// checkTable lists rail heights, headroom points and doors, each with what the
// overlay makes of it.
type checkTable struct {
	desk    *Desk
	heights []*heightRow
	doors   []*doorRow
	body    *fyne.Container
	box     *fyne.Container
	shown   string // the ids listed now
}

// heightRow is a rail height or a headroom point.
type heightRow struct {
	id         model.ID
	rail       bool
	at, value  *field
	after      *label
	box        fyne.CanvasObject
	stepNumber int
}

// doorRow is a door that swings over one of the floors.
type doorRow struct {
	id                   model.ID
	name, gap, clearance *field
	floor                *chooser
	after                *label
	box                  fyne.CanvasObject
}

func newCheckTable(d *Desk) *checkTable {
	t := &checkTable{desk: d, body: container.NewVBox()}
	add := container.NewHBox(
		newButton("Add a rail height", func() { t.addHeight(true) }),
		newButton("Add a headroom point", func() { t.addHeight(false) }),
		newButton("Add a door", t.addDoor))
	t.box = container.NewVBox(t.body, add)
	return t
}

// checksOf returns the edit that would leave the lists as they are, as copies.
func checksOf(j *model.Job) model.SetChecks {
	return model.SetChecks{Rail: slices.Clone(j.Flight.Rail), Headroom: slices.Clone(j.Flight.Headroom), Doors: slices.Clone(j.Flight.Doors)}
}

// list returns the list that a height belongs to.
func list(e *model.SetChecks, rail bool) *[]model.Height {
	if rail {
		return &e.Rail
	}
	return &e.Headroom
}

// usual heights of a rail and of headroom, put in for a new row to be typed
// over. Common practice, no source.
const (
	usualRail     = 900 * model.Millimetre
	usualHeadroom = 2000 * model.Millimetre
	usualGap      = 10 * model.Millimetre
	usualClear    = 6 * model.Millimetre
)

func (t *checkTable) addHeight(rail bool) {
	job := t.desk.Job()
	if len(job.Flight.Steps) == 0 {
		return
	}
	e := checksOf(&job)
	h := model.Height{ID: model.NewID(), Step: job.Flight.Steps[max(0, t.desk.step-1)].ID, Value: usualHeadroom}
	if rail {
		h.Value = usualRail
	}
	l := list(&e, rail)
	*l = append(*l, h)
	if t.desk.Do(e) == nil {
		t.focusID(h.ID)
	}
}

func (t *checkTable) addDoor() {
	job := t.desk.Job()
	e := checksOf(&job)
	door := model.Door{ID: model.NewID(), Name: fmt.Sprintf("door %d", len(e.Doors)+1), Gap: usualGap, Clearance: usualClear}
	e.Doors = append(e.Doors, door)
	if t.desk.Do(e) == nil {
		t.focusID(door.ID)
	}
}

func (t *checkTable) focusID(id model.ID) {
	for _, r := range t.heights {
		if r.id == id {
			t.desk.focus(r.value.entry)
		}
	}
	for _, r := range t.doors {
		if r.id == id {
			t.desk.focus(r.name.entry)
		}
	}
}

func (t *checkTable) remove(id model.ID) {
	job := t.desk.Job()
	e := checksOf(&job)
	gone := func(h model.Height) bool { return h.ID == id }
	e.Rail, e.Headroom = slices.DeleteFunc(e.Rail, gone), slices.DeleteFunc(e.Headroom, gone)
	e.Doors = slices.DeleteFunc(e.Doors, func(d model.Door) bool { return d.ID == id })
	_ = t.desk.Do(e) // an error has been shown
}

// height returns the height called id, and false once it is gone.
func height(j *model.Job, id model.ID) (model.Height, bool) {
	for _, l := range [][]model.Height{j.Flight.Rail, j.Flight.Headroom} {
		for _, h := range l {
			if h.ID == id {
				return h, true
			}
		}
	}
	return model.Height{}, false
}

func door(j *model.Job, id model.ID) (model.Door, bool) {
	for _, d := range j.Flight.Doors {
		if d.ID == id {
			return d, true
		}
	}
	return model.Door{}, false
}

func (t *checkTable) newHeight(id model.ID, rail bool) *heightRow {
	r := &heightRow{id: id, rail: rail, after: newLabel("")}
	change := func(j *model.Job, f func(*model.Height)) model.Edit {
		e := checksOf(j)
		l := *list(&e, rail)
		for i := range l {
			if l[i].ID == id {
				f(&l[i])
			}
		}
		return e
	}
	r.at = newField(t.desk, "", "",
		func(j *model.Job) string {
			h, _ := height(j, id)
			return strconv.Itoa(j.StepIndex(h.Step) + 1)
		},
		func(j *model.Job, text string) (model.Edit, error) {
			n, err := stepNumber(j, text)
			if err != nil {
				return nil, err
			}
			return change(j, func(h *model.Height) { h.Step = j.Flight.Steps[n-1].ID }), nil
		})
	r.value = newField(t.desk, "", "",
		func(j *model.Job) string {
			h, _ := height(j, id)
			return typedText(j, model.TotalRise, h.Typed, float64(h.Value))
		},
		func(j *model.Job, text string) (model.Edit, error) {
			l, err := ReadLength(text, j.Units)
			if err != nil {
				return nil, err
			}
			return change(j, func(h *model.Height) { h.Value, h.Typed = l, text }), nil
		})
	name := "Headroom, step"
	if rail {
		name = "Rail, step"
	}
	cols := &columns{least: []float32{100, 40, 90, 170, 26}, share: []float32{0, 0, 2, 3, 0}, gap: 4}
	line := cols.row(newLabel(name), r.at.entry, r.value.entry, r.after, newButton("✕", func() { t.remove(id) }))
	r.box = container.NewVBox(line, r.at.fault.box, r.value.fault.box)
	return r
}

// stepNumber reads the number of a step.
func stepNumber(j *model.Job, text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > len(j.Flight.Steps) {
		return 0, &model.TextError{Text: text, Problem: "this is not the number of a step",
			Remedy: fmt.Sprintf("type 1 to %d, counted from the bottom", len(j.Flight.Steps))}
	}
	return n, nil
}

func (t *checkTable) newDoor(id model.ID) *doorRow {
	r := &doorRow{id: id, after: newLabel("")}
	change := func(j *model.Job, f func(*model.Door)) model.Edit {
		e := checksOf(j)
		for i := range e.Doors {
			if e.Doors[i].ID == id {
				f(&e.Doors[i])
			}
		}
		return e
	}
	length := func(at func(*model.Door) *model.Length) *field {
		return lengthField(t.desk, "", "",
			func(j *model.Job) model.Length {
				d, _ := door(j, id)
				return *at(&d)
			},
			func(j *model.Job, l model.Length) model.Edit {
				return change(j, func(d *model.Door) { *at(d) = l })
			})
	}
	r.name = textField(t.desk, "", "",
		func(j *model.Job) string { d, _ := door(j, id); return d.Name },
		func(j *model.Job, s string) model.Edit { return change(j, func(d *model.Door) { d.Name = s }) })
	r.gap = length(func(d *model.Door) *model.Length { return &d.Gap })
	r.clearance = length(func(d *model.Door) *model.Length { return &d.Clearance })
	r.floor = newChooser(func(i int) {
		job := t.desk.Job()
		_ = t.desk.Do(change(&job, func(d *model.Door) { d.Top = i == 1 })) // an error has been shown
	})
	r.floor.words([]string{"bottom", "top"}, []string{"at the bottom floor", "at the top floor"})
	cols := &columns{least: []float32{84, 74, 30, 66, 44, 66, 60, 26}, share: []float32{2, 0, 0, 2, 0, 2, 3, 0}, gap: 4}
	line := cols.row(r.name.entry, r.floor, newLabel("gap").soft(), r.gap.entry, newLabel("wants").soft(), r.clearance.entry, r.after,
		newButton("✕", func() { t.remove(id) }))
	r.box = container.NewVBox(line, r.name.fault.box, r.gap.fault.box, r.clearance.fault.box)
	return r
}

// tell lists what the job has and what the answer makes of it.
func (t *checkTable) tell(a *solver.Answer) {
	job := a.Job
	f := job.Format()
	t.rebuild(&job)
	show := func(v float64) string { return f.Length(model.Length(v)) }
	changes := map[model.ID]buildup.HeightChange{}
	for _, l := range [][]buildup.HeightChange{a.Buildup.Rail, a.Buildup.Headroom} {
		for _, c := range l {
			changes[c.ID] = c
		}
	}
	for _, r := range t.heights {
		r.at.tell(&job)
		r.value.tell(&job)
		text := ""
		if c, ok := changes[r.id]; ok {
			r.stepNumber = c.Step
			text = fmt.Sprintf("→ %s after (%s)", show(c.After.At), f.PlusMinus(model.Length(c.After.Band())))
		}
		r.after.set(text)
	}
	for _, r := range t.doors {
		r.name.tell(&job)
		r.gap.tell(&job)
		r.clearance.tell(&job)
		d, _ := door(&job, r.id)
		r.floor.set(0)
		if d.Top {
			r.floor.set(1)
		}
		text, role := "", base.ColorNameForeground
		for _, c := range a.Buildup.Doors {
			if c.ID != r.id {
				continue
			}
			if text = "● clears: " + show(c.After); c.Undercut > 0 {
				text, role = "▲ cut "+show(c.Undercut)+" off", base.ColorNameWarning
			}
		}
		r.after.put(text, role)
	}
}

// rebuild makes the rows anew when the lists have other members.
func (t *checkTable) rebuild(job *model.Job) {
	var ids strings.Builder
	for _, l := range [][]model.Height{job.Flight.Rail, job.Flight.Headroom} {
		for _, h := range l {
			ids.WriteString(h.ID.String())
		}
		ids.WriteByte('|')
	}
	for _, d := range job.Flight.Doors {
		ids.WriteString(d.ID.String())
	}
	if ids.String() == t.shown {
		return
	}
	t.shown = ids.String()
	t.heights, t.doors = t.heights[:0], t.doors[:0]
	t.body.RemoveAll()
	for _, h := range job.Flight.Rail {
		t.heights = append(t.heights, t.newHeight(h.ID, true))
	}
	for _, h := range job.Flight.Headroom {
		t.heights = append(t.heights, t.newHeight(h.ID, false))
	}
	for _, r := range t.heights {
		t.body.Add(r.box)
	}
	for _, d := range job.Flight.Doors {
		r := t.newDoor(d.ID)
		t.doors = append(t.doors, r)
		t.body.Add(r.box)
	}
}

// goTo returns the entry of a place among rail, headroom and doors, or nil.
func (t *checkTable) goTo(p model.Place) fyne.Focusable {
	switch p.Field {
	case "flight.rail", "flight.headroom":
		for _, r := range t.heights {
			if r.rail == (p.Field == "flight.rail") && (p.Step == 0 || r.stepNumber == p.Step) {
				return r.value.entry
			}
		}
	case "flight.doors":
		if len(t.doors) > 0 {
			return t.doors[0].gap.entry
		}
	}
	return nil
}
