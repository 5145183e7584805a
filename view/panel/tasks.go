package panel

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/fitting"
)

// taskList is the order of fitting by evenings. The task that is shown in the
// drawings is marked; a click or the arrow keys show another.
type taskList struct {
	desk   *Desk
	scroll *container.Scroll
	rows   []*taskRow
	count  int // of rows in use
	box    *fyne.Container
}

func newTaskList(d *Desk, s *container.Scroll) *taskList {
	return &taskList{desk: d, scroll: s, box: container.New(&stack{})}
}

func (l *taskList) fill(w *solver.Work) {
	r := &w.Order
	var rows []fyne.CanvasObject
	add := func(o fyne.CanvasObject) { rows = append(rows, o) }
	l.count = len(r.Order)
	for len(l.rows) < l.count {
		l.rows = append(l.rows, newTaskRow(l, len(l.rows)))
	}
	for i := range r.Order {
		l.rows[i].show(&r.Order[i])
	}
	done := make([]bool, l.count)
	before := true
	for i := range r.Order {
		if r.Order[i].Evening == 0 {
			if before {
				before = false
				add(container.New(&gap{y: 2}, newLabel("  There already").bold()))
			}
			add(l.rows[i])
			done[i] = true
		}
	}
	for i := range r.Plan.Evenings {
		e := &r.Plan.Evenings[i]
		title := fmt.Sprintf("Evening %d, %s", e.Number, hoursWords(e.Minutes))
		if day, ok := w.Calendar.Evening(e.Number); ok {
			title += ", likely " + day.Format("Mon 2 Jan")
		}
		add(heading(title))
		for _, n := range e.Tasks {
			add(l.rows[n])
			done[n] = true
		}
		for _, h := range e.Holds {
			p := newPara("◆ Hold: " + h + ".")
			p.role = base.ColorNameWarning
			add(p)
		}
		tonight := newPara(tonightWords(e, len(l.desk.session.Job().Flight.Steps)))
		if e.Closed {
			tonight.role = base.ColorNameError
		}
		add(tonight)
	}
	for i := range done { // none, unless the plan leaves one out
		if !done[i] {
			add(l.rows[i])
		}
	}
	holdAll(l.box, rows)
}

// tonightWords says what can be walked on after an evening.
func tonightWords(e *fitting.Evening, n int) string {
	var parts []string
	switch {
	case e.Closed:
		parts = append(parts, "■ Tonight the stair is shut: "+stepList(e.Off)+" may not be walked on")
	case len(e.Off) > 0:
		parts = append(parts, "◐ Tonight step over "+stepList(e.Off)+"; the others can be walked on")
	default:
		parts = append(parts, "● Tonight every step can be walked on")
	}
	for _, w := range e.Waits {
		parts = append(parts, fmt.Sprintf("%s: leave it %.0f h", w.What, w.Hours))
	}
	parts = append(parts, e.Notes...)
	for i := range parts {
		parts[i] = model.Capital(parts[i])
	}
	return strings.Join(parts, ". ") + "."
}

// stepList writes rising step numbers, runs drawn together.
func stepList(ks []int) string {
	var parts []string
	for i := 0; i < len(ks); {
		k := i
		for k+1 < len(ks) && ks[k+1] == ks[k]+1 {
			k++
		}
		switch {
		case k == i:
			parts = append(parts, fmt.Sprint(ks[i]))
		case k == i+1:
			parts = append(parts, fmt.Sprint(ks[i]), fmt.Sprint(ks[k]))
		default:
			parts = append(parts, fmt.Sprintf("%d to %d", ks[i], ks[k]))
		}
		i = k + 1
	}
	word := "steps "
	if len(ks) == 1 {
		word = "step "
	}
	return word + model.Listed(parts)
}

// mark shows which task is in the drawings.
func (l *taskList) mark() {
	at, _ := l.desk.Task()
	for i, r := range l.rows {
		if on := i == at && i < l.count; on != r.on {
			r.on = on
			r.Refresh()
			if on && l.desk.tabs.shows(tabOrder) && r.Size().Height > 0 {
				reveal(l.scroll, r)
			}
		}
	}
}

// taskRow is one task.
type taskRow struct {
	listRow
	list                   *taskList
	index                  int
	number, name, how, min *label
}

var (
	_ fyne.Focusable    = (*taskRow)(nil)
	_ fyne.Tappable     = (*taskRow)(nil)
	_ desktop.Hoverable = (*taskRow)(nil)
)

func newTaskRow(l *taskList, i int) *taskRow {
	r := &taskRow{list: l, index: i}
	r.number, r.name, r.how, r.min = newLabel("").small().soft().right(), newLabel("").bold(), newLabel("").small(), newLabel("").small().soft().right()
	cols := &columns{least: []float32{24, 120, 120, 46}, share: []float32{0, 1, 3, 0}, gap: 6}
	r.hold(container.New(&gap{x: 3, y: 1}, cols.row(r.number, r.name, r.how, r.min)))
	r.ExtendBaseWidget(r)
	r.look()
	return r
}

func (r *taskRow) show(t *fitting.Task) {
	r.number.set(fmt.Sprint(r.index + 1))
	name, role := taskName(t), base.ColorNameForeground
	if t.Kind == fitting.Hold {
		role = base.ColorNameWarning
	}
	r.name.put(name, role)
	r.how.set(taskShort(t))
	r.min.set("")
	if t.Minutes > 0 {
		r.min.set(hoursWords(t.Minutes))
	}
}

// taskName names a task in a few words.
func taskName(t *fitting.Task) string {
	switch t.Kind {
	case fitting.Riser, fitting.Tread, fitting.Landing:
		return t.ID + " " + string(t.Kind)
	case fitting.Hold:
		return "◆ " + strings.TrimPrefix(t.ID, "hold: ")
	}
	return model.Capital(t.ID)
}

// taskHow says how a task is done.
func taskHow(t *fitting.Task) string {
	var parts []string
	if t.InPlace {
		parts = append(parts, "stays as it is")
	}
	if t.Way.Words != "" {
		parts = append(parts, t.Way.Words)
	}
	if len(t.Scribe) > 0 {
		parts = append(parts, "scribe "+scribeWords(t.Scribe))
	}
	if len(parts) == 0 && t.Note != "" {
		parts = append(parts, t.Note)
	}
	return strings.Join(parts, "; ")
}

// taskShort is taskHow for a narrow column: boards are scribed at their ends.
func taskShort(t *fitting.Task) string {
	if t.Kind == fitting.Skirt || len(t.Scribe) == 0 {
		return taskHow(t)
	}
	short := *t
	short.Scribe = nil
	var ends, others []string
	for _, to := range t.Scribe {
		switch {
		case strings.HasSuffix(to, " left"):
			ends = append(ends, "left end")
		case strings.HasSuffix(to, " right"):
			ends = append(ends, "right end")
		default:
			others = append(others, to)
		}
	}
	if len(ends) == 2 {
		ends = []string{"both ends"}
	}
	text := "scribe " + strings.Join(append(ends, others...), ", ")
	if how := taskHow(&short); how != "" {
		text = how + "; " + text
	}
	return text
}

// mostScribes is how many scribed edges are named; a skirt has one a step.
const mostScribes = 3

func scribeWords(to []string) string {
	if len(to) <= mostScribes {
		return strings.Join(to, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(to[:mostScribes-1], ", "), len(to)-mostScribes+1)
}

// Tapped implements fyne.Tappable.
func (r *taskRow) Tapped(*fyne.PointEvent) {
	r.list.desk.focus(r)
	r.list.desk.ShowTask(r.index)
}

// FocusGained implements fyne.Focusable.
func (r *taskRow) FocusGained() {
	r.listRow.FocusGained()
	reveal(r.list.scroll, r)
}

// TypedKey implements fyne.Focusable: up and down, or left and right, show the
// task before or after.
func (r *taskRow) TypedKey(k *fyne.KeyEvent) {
	to := r.index
	switch k.Name {
	case fyne.KeyUp, fyne.KeyLeft:
		to--
	case fyne.KeyDown, fyne.KeyRight:
		to++
	case fyne.KeyHome:
		to = 0
	case fyne.KeyEnd:
		to = r.list.count - 1
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
	default:
		return
	}
	if to >= 0 && to < r.list.count {
		r.list.desk.focus(r.list.rows[to])
		r.list.desk.ShowTask(to)
	}
}
