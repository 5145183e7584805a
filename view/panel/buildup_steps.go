package panel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
)

// stepTable lists every rise and going before and after, with the packing
// that would make the rises equal and the packing and board that are planned.
type stepTable struct {
	desk *Desk
	rows []*stepRow
	box  *fyne.Container
	body *fyne.Container
}

// stepRow is one riser and the tread above it.
type stepRow struct {
	table *stepTable
	index int // of the step, from 0

	number, before, after, going, shim *label
	packLeft, packRight, board         *field
	box                                *fyne.Container
}

func stepColumns() *columns {
	return &columns{
		least: []float32{28, 90, 90, 100, 84, 58, 58, 54},
		share: []float32{0, 2, 2, 2, 2, 2, 2, 2},
		gap:   4,
	}
}

func newStepTable(d *Desk) *stepTable {
	t := &stepTable{desk: d, body: container.NewVBox()}
	heads := []fyne.CanvasObject{}
	for _, h := range []string{"Step", "Rise now", "Rise after", "Going now → after", "Wants packing", "Pack left", "right", "Board"} {
		heads = append(heads, newLabel(h).small().soft())
	}
	t.box = container.NewVBox(stepColumns().row(heads...), t.body,
		newPara("Left · right where they differ; goings at mid width. “Wants packing” makes all rises equal: below zero is planing, or a rebate at the landing; ▲ leaves less than 1 mm for the bed of adhesive. Packing laid thicker at one end takes tilt out. An empty packing is none, an empty board the job's."))
	return t
}

func newStepRow(t *stepTable, i int) *stepRow {
	d := t.desk
	r := &stepRow{table: t, index: i, number: newLabel(fmt.Sprint(i + 1)), before: newLabel("").small().soft(), after: newLabel("").small(),
		going: newLabel("").small(), shim: newLabel("").small()}
	step := func(j *model.Job) *model.Step { return &j.Flight.Steps[min(i, len(j.Flight.Steps)-1)] }
	// length is a field that is empty for 0: no packing, or the job's board
	length := func(of func(*model.SetStep) *model.Length) *field {
		return newField(d, "", "",
			func(j *model.Job) string {
				e := model.StepOf(*step(j))
				if *of(&e) == 0 {
					return ""
				}
				return fieldText(j.Format(), *of(&e))
			},
			func(j *model.Job, text string) (model.Edit, error) {
				e := model.StepOf(*step(j))
				*of(&e) = 0
				if text != "" {
					l, err := ReadLength(text, j.Units)
					if err != nil {
						return nil, err
					}
					*of(&e) = l
				}
				return e, nil
			})
	}
	r.packLeft = length(func(e *model.SetStep) *model.Length { return &e.PackLeft })
	r.packRight = length(func(e *model.SetStep) *model.Length { return &e.PackRight })
	r.board = length(func(e *model.SetStep) *model.Length { return &e.Thickness })
	for _, f := range r.fields() {
		f.entry.Gained = func() { d.Choose(i + 1) }
	}
	to := func(k, column int) func() {
		return func() {
			if k >= 0 && k < len(t.body.Objects) {
				d.focus(t.rows[k].fields()[column].entry)
			}
		}
	}
	line := []fyne.CanvasObject{r.number, r.before, r.after, r.going, r.shim}
	r.box = container.NewVBox()
	for column, f := range r.fields() {
		f.entry.Next, f.entry.Below = to(i+1, column), to(i+1, column)
		f.entry.Back, f.entry.Above = to(i-1, column), to(i-1, column)
		line = append(line, f.entry)
		r.box.Add(f.fault.box)
	}
	r.box.Objects = append([]fyne.CanvasObject{stepColumns().row(line...)}, r.box.Objects...)
	return r
}

// fields are those of the row, from left to right.
func (r *stepRow) fields() [3]*field { return [3]*field{r.packLeft, r.packRight, r.board} }

func (t *stepTable) tell(a *solver.Answer) {
	b, job := &a.Buildup, a.Job
	f := job.Format()
	n := len(job.Flight.Steps)
	for len(t.rows) < n {
		t.rows = append(t.rows, newStepRow(t, len(t.rows)))
	}
	if len(t.body.Objects) != n {
		t.body.Objects = t.body.Objects[:0]
		for _, r := range t.rows[:n] {
			t.body.Objects = append(t.body.Objects, r.box)
		}
		t.body.Refresh()
	}
	for i, r := range t.rows[:n] {
		for _, f := range r.fields() {
			f.tell(&job)
		}
		number, role := fmt.Sprint(i+1), base.ColorNameForeground
		if i+1 == t.desk.step {
			number, role = "▸ "+number, base.ColorNamePrimary
		}
		r.number.put(number, role)
		if i >= len(b.Steps) {
			for _, l := range []*label{r.before, r.after, r.going, r.shim} {
				l.set("")
			}
			continue
		}
		s := &b.Steps[i]
		r.before.set(both(f, s.RiseBefore))
		r.after.set(both(f, s.RiseAfter))
		going := "–"
		if s.HasGoing {
			going = f.Number(model.Length(s.GoingBefore.Mean())) + " → " + f.Number(model.Length(s.GoingAfter.Mean()))
		}
		r.going.set(going)
		r.shim.put(shimWords(f, s))
	}
}

// shimWords says what packing would make the rises equal. A step that wants
// none is as it should be; one that leaves no room for board and bedding is
// marked.
func shimWords(f model.Format, s *buildup.Step) (string, fyne.ThemeColorName) {
	text := both(f, s.Shim)
	switch {
	case text == f.Number(0):
		return "none", base.ColorNamePlaceHolder
	case !s.Room:
		return "▲ " + text, base.ColorNameWarning
	}
	return text, base.ColorNameForeground
}

// goTo returns the packing of a step whose nosing or packing a place names.
func (t *stepTable) goTo(p model.Place) fyne.Focusable {
	if p.Field == "steps.pack" && p.Step >= 1 && p.Step <= len(t.body.Objects) {
		return t.rows[p.Step-1].packLeft.entry
	}
	return nil
}
