package panel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver"
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
	pack, board                        *field
	box                                *fyne.Container
}

func stepColumns() *columns {
	return &columns{
		least: []float32{28, 98, 98, 108, 94, 52, 52},
		share: []float32{0, 2, 2, 2, 2, 2, 2},
		gap:   4,
	}
}

func newStepTable(d *Desk) *stepTable {
	t := &stepTable{desk: d, body: container.NewVBox()}
	heads := []fyne.CanvasObject{}
	for _, h := range []string{"Step", "Rise now", "Rise after", "Going now → after", "Wants packing", "Packing", "Board"} {
		heads = append(heads, newLabel(h).small().soft())
	}
	t.box = container.NewVBox(stepColumns().row(heads...), t.body,
		newPara("Left · right where they differ; goings at mid width. “Wants packing” makes all rises equal: below zero is planing, or a rebate at the landing. An empty board is the job's."))
	return t
}

func newStepRow(t *stepTable, i int) *stepRow {
	d := t.desk
	r := &stepRow{table: t, index: i, number: newLabel(fmt.Sprint(i + 1)), before: newLabel("").small().soft(), after: newLabel("").small(),
		going: newLabel("").small(), shim: newLabel("").small()}
	step := func(j *model.Job) *model.Step { return &j.Flight.Steps[min(i, len(j.Flight.Steps)-1)] }
	r.pack = lengthField(d, "", "", func(j *model.Job) model.Length { return step(j).Pack },
		func(j *model.Job, l model.Length) model.Edit {
			e := model.StepOf(*step(j))
			e.Pack = l
			return e
		})
	r.board = newField(d, "", "",
		func(j *model.Job) string {
			if step(j).Thickness == 0 {
				return ""
			}
			return fieldText(j.Format(), step(j).Thickness)
		},
		func(j *model.Job, text string) (model.Edit, error) {
			e := model.StepOf(*step(j))
			e.Thickness = 0
			if text != "" {
				l, err := model.ParseLength(text, j.Units)
				if err != nil {
					return nil, err
				}
				e.Thickness = l
			}
			return e, nil
		})
	for _, f := range []*field{r.pack, r.board} {
		f.entry.Gained = func() { d.Choose(i + 1) }
	}
	to := func(k int, board bool) func() {
		return func() {
			if k < 0 || k >= len(t.body.Objects) {
				return
			}
			if board {
				d.focus(t.rows[k].board.entry)
			} else {
				d.focus(t.rows[k].pack.entry)
			}
		}
	}
	r.pack.entry.Next, r.pack.entry.Below = to(i+1, false), to(i+1, false)
	r.pack.entry.Back, r.pack.entry.Above = to(i-1, false), to(i-1, false)
	r.board.entry.Next, r.board.entry.Below = to(i+1, true), to(i+1, true)
	r.board.entry.Back, r.board.entry.Above = to(i-1, true), to(i-1, true)
	line := stepColumns().row(r.number, r.before, r.after, r.going, r.shim, r.pack.entry, r.board.entry)
	r.box = container.NewVBox(line, r.pack.fault.box, r.board.fault.box)
	return r
}

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
		r.pack.tell(&job)
		r.board.tell(&job)
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
		shim, role := both(f, s.Shim), base.ColorNameForeground
		if !s.Room {
			shim, role = "▲ "+shim, base.ColorNameWarning // no room for board and bedding
		}
		r.shim.put(shim, role)
	}
}

// goTo returns the packing of a step whose nosing or packing a place names.
func (t *stepTable) goTo(p model.Place) fyne.Focusable {
	if p.Field == "steps.pack" && p.Step >= 1 && p.Step <= len(t.body.Objects) {
		return t.rows[p.Step-1].pack.entry
	}
	return nil
}
