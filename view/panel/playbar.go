package panel

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"risewright/model"
	"risewright/solver/fitting"
)

// newPlayBar returns what stands under the drawings while the order of fitting
// is looked at: a slider that plays it, what the task in the drawings is, and
// what is shown beside it. fit is called when the drawings change their shape, and
// resized when the bar comes or goes, which the library does not lay out for.
func newPlayBar(d *Desk, fit, resized func()) fyne.CanvasObject {
	slider := widget.NewSlider(0, 1)
	slider.Step = 1
	slider.OnChanged = func(v float64) { d.ShowTask(int(v + 0.5)) }
	move := func(n int) func() {
		return func() {
			at, _ := d.Task()
			d.ShowTask(at + n)
		}
	}
	back, next := newButton("◀", move(-1)), newButton("▶", move(1))
	count := newWhole("")
	title, how := newLabel("").bold(), newLabel("")
	beside := newChooser(d.ShowBeside)
	line := container.NewBorder(nil, nil, container.NewHBox(back, next), padded(count), slider)
	compare := fieldColumns().row(newLabel("Beside it"), beside)
	compare.Layout = &columns{least: []float32{62, 150}, share: []float32{0, 1}, gap: 4}
	words := &columns{least: []float32{150, 150}, share: []float32{1, 1}, gap: 6}
	bar := container.New(&gap{x: 6, y: 2}, container.New(&stack{gap: 1}, line, words.row(title, compare), how))
	whole := sideways(bar)
	whole.Hide()
	var offered *fitting.Result // whose candidates can be chosen
	split := false
	tell := func(c Change) {
		if c&(Planned|Played|Answered) == 0 {
			return
		}
		if on := d.playing(); on != whole.Visible() {
			if on {
				whole.Show()
			} else {
				whole.Hide()
			}
			resized()
		}
		if both := d.playing() && d.player.other != nil; both != split {
			split = both
			fit()
		}
		r := d.order()
		if r == nil || !d.playing() {
			return
		}
		if r != offered {
			offered = r
			short, long := []string{"nothing"}, []string{"nothing"}
			for i := 1; i < len(r.Candidates); i++ {
				c := &r.Candidates[i]
				short = append(short, wayOfSides(c))
				long = append(long, fmt.Sprintf("%d.  %s  (+%s)", i+1, wayOfSides(c), hoursWords(c.Cost.Total()-r.Candidates[0].Cost.Total())))
			}
			beside.words([]string{"nothing"}, nil) // so that the widest word does not widen the bar
			beside.short, beside.long = short, long
		}
		beside.set(d.player.beside)
		at, n := d.Task()
		if slider.Max != float64(n) || slider.Value != float64(at) {
			slider.Max, slider.Value = float64(n), float64(at)
			slider.Refresh()
		}
		back.say("◀", at > 0)
		next.say("▶", at < n)
		count.set(fmt.Sprintf("%d of %d", min(at+1, n), n))
		if at == n {
			title.set("Finished")
			how.set("Every piece is in its place.")
		} else {
			title.set(taskTitle(&r.Order[at]))
			how.set(taskStory(d, &r.Order[at]))
		}
		switch p := &d.player; {
		case p.why != "":
			how.set(model.Capital(p.why) + ".")
		case p.beside > 0 && p.other == nil:
			how.set("Laying out the other order…")
		case p.other != nil:
			how.set("B: " + besideStory(p.other.Order.Order, at))
		}
	}
	d.Watch(tell)
	d.tabs.onTurn(func() { tell(Planned) })
	return whole
}

// taskTitle names a task and its evening.
func taskTitle(t *fitting.Task) string {
	s := taskName(t)
	if t.Step > 0 && t.Kind != fitting.Hold {
		s += fmt.Sprintf(", step %d", t.Step)
	}
	if t.Evening > 0 {
		s += fmt.Sprintf("  ·  evening %d", t.Evening)
	}
	return s
}

// taskStory says how a task is done, what is scribed and what is left to be
// seen.
func taskStory(d *Desk, t *fitting.Task) string {
	job := d.session.Job()
	var parts []string
	if how := taskHow(t); how != "" {
		parts = append(parts, model.Capital(how))
	}
	if t.Reveal != "" {
		s := model.Capital(t.Reveal)
		if t.RevealBy > 0 {
			s += ": " + job.Format().Length(model.Length(t.RevealBy))
		}
		parts = append(parts, s)
	}
	if t.Way.Tilted && t.Way.Has > 0 {
		parts = append(parts, fmt.Sprintf("To tilt it in, the opening must be wider than the board by %s; it is by %s", job.Format().Length(model.Length(t.Way.Needs)), job.Format().Length(model.Length(t.Way.Has))))
	}
	if len(parts) == 0 {
		return ""
	}
	return strings.Join(parts, ". ") + "."
}

func besideStory(ts []fitting.Task, at int) string {
	if at >= len(ts) {
		return "finished."
	}
	s := taskTitle(&ts[at])
	if how := taskHow(&ts[at]); how != "" {
		s += ": " + how
	}
	return s + "."
}
