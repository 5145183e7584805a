package panel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
)

// stepForm shows and changes what stands at the chosen step.
type stepForm struct {
	desk        *Desk
	title       *label
	count       *label
	left, right *chooser
	nosing      *chooser
	form        form
	fields      *fyne.Container
	box         fyne.CanvasObject
}

var (
	sideKinds = [...]model.SideKind{model.Wall, model.Skirt, model.Open}
	nosings   = [...]model.NosingState{model.NosingKept, model.NosingCut, model.NosingPacked}
)

func newStepForm(d *Desk) *stepForm {
	t := &stepForm{desk: d, title: newLabel("").bold(), count: newLabel("").soft(), form: form{desk: d, tab: tabJob}}
	t.title.role = base.ColorNamePrimary
	change := func(f func(*model.SetStep)) {
		if s, ok := t.step(); ok {
			e := model.StepOf(s)
			f(&e)
			_ = d.Do(e) // an error has been shown
		}
	}
	t.left = newChooser(func(i int) { change(func(e *model.SetStep) { e.Left.Kind = sideKinds[i] }) })
	t.right = newChooser(func(i int) { change(func(e *model.SetStep) { e.Right.Kind = sideKinds[i] }) })
	sides := []string{"wall", "skirt board", "open"}
	t.left.words(sides, nil)
	t.right.words(sides, nil)
	t.nosing = newChooser(func(i int) { change(func(e *model.SetStep) { e.Nosing = nosings[i] }) })
	t.nosing.words([]string{"kept", "cut off", "packed out"}, []string{"kept as it is", "sawn off flush with the old riser", "old riser packed out flush with it"})
	lean := func(name string, at func(*model.SetStep) *model.Side) *field {
		return newField(d, "", name,
			func(j *model.Job) string {
				if s, ok := t.step(); ok {
					e := model.StepOf(s)
					return model.FormatDegrees(at(&e).Lean, 1)
				}
				return ""
			},
			func(j *model.Job, text string) (model.Edit, error) {
				s, ok := t.step()
				if !ok {
					return nil, nil
				}
				a, err := readLean(text)
				e := model.StepOf(s)
				at(&e).Lean = a
				return e, err
			})
	}
	grid := container.NewGridWithColumns(2)
	pair := func(name string, o fyne.CanvasObject) { grid.Add(fieldColumns().row(newLabel(name), o)) }
	pair("Left side", t.left)
	pair("Right side", t.right)
	grid.Add(t.form.add(lean("Sketched lean, left", func(e *model.SetStep) *model.Side { return &e.Left })).box)
	grid.Add(t.form.add(lean("Sketched lean, right", func(e *model.SetStep) *model.Side { return &e.Right })).box)
	pair("Old nosing", t.nosing)
	all := newButton("Same for all steps", t.copyToAll)
	grid.Add(all)
	t.fields = grid
	steps := container.NewHBox(
		newButton("Insert a step above", func() { t.insert(1) }),
		newButton("Insert below", func() { t.insert(0) }),
		newButton("Remove this step", t.remove))
	note := newPara("Opening a side, or cutting an old nosing that carries a tread, touches structure: have it judged.")
	note.soft()
	t.box = container.NewVBox(container.New(&gap{y: 3}, t.title), grid, note,
		container.NewBorder(nil, nil, nil, steps, t.count))
	return t
}

// step returns the chosen step.
func (t *stepForm) step() (model.Step, bool) {
	if k := t.desk.step; k >= 1 && k <= t.desk.Steps() {
		return t.desk.Job().Flight.Steps[k-1], true
	}
	return model.Step{}, false
}

func (t *stepForm) tell() {
	n := t.desk.Steps()
	t.count.set(fmt.Sprintf("%d risers", n))
	s, ok := t.step()
	for _, c := range []*chooser{t.left, t.right, t.nosing} {
		c.enable(ok)
	}
	t.form.tell()
	if !ok {
		t.title.set("Choose a step to see its sides and nosing")
		return
	}
	t.title.set(fmt.Sprintf("Step %d", t.desk.step))
	for i, k := range sideKinds {
		if s.Left.Kind == k {
			t.left.set(i)
		}
		if s.Right.Kind == k {
			t.right.set(i)
		}
	}
	for i, k := range nosings {
		if s.Nosing == k {
			t.nosing.set(i)
		}
	}
}

// copyToAll gives every step the sides and the nosing of the chosen one.
func (t *stepForm) copyToAll() {
	s, ok := t.step()
	if !ok {
		return
	}
	b := model.Batch{Name: fmt.Sprintf("sides and nosing of step %d to all", t.desk.step)}
	for _, o := range t.desk.Job().Flight.Steps {
		e := model.StepOf(o)
		e.Left.Kind, e.Right.Kind, e.Nosing = s.Left.Kind, s.Right.Kind, s.Nosing
		b.Edits = append(b.Edits, e)
	}
	_ = t.desk.Do(b) // an error has been shown
}

// insert puts a copy of the chosen step's sketch above or below it, and moves
// the steps above up by its rise and on by its going.
func (t *stepForm) insert(above int) {
	if _, ok := t.step(); !ok {
		return
	}
	e, err := InsertedStep(t.desk.Job(), t.desk.step-1, above)
	if err != nil {
		t.desk.complain(err)
		return
	}
	k := t.desk.step + above
	if t.desk.Do(e) == nil {
		t.desk.Choose(k)
	}
}

func (t *stepForm) remove() {
	if s, ok := t.step(); ok {
		_ = t.desk.Do(model.RemoveStep{Step: s.ID}) // an error has been shown; it can be undone
	}
}

// goTo returns the control of a place, or nil.
func (t *stepForm) goTo(p model.Place) fyne.Focusable {
	switch p.Field {
	case "steps.nosing":
		return t.nosing
	case "flight.steps":
		return t.left
	}
	return nil
}
