package panel

import (
	"fmt"
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver/fitting"
)

// orderTab takes the wishes and shows the order of fitting that follows.
type orderTab struct {
	desk   *Desk
	wishes *wishForm
	first  *firstForm
	status *para
	words  *fyne.Container // winner and runner-up; or the refusals
	more   *folded         // what would change the choice, and what cannot be built
	notes  *fyne.Container
	ask    *folded // the wishes
	tasks  *taskList
	veil   *veil
	shown  *fitting.Result
	scroll *container.Scroll
}

// newOrderTab returns the tab and what brings it up to date.
func newOrderTab(d *Desk) (fyne.CanvasObject, func(Change)) {
	t := &orderTab{desk: d, status: newPara(""), words: container.New(&stack{gap: 0}), veil: newVeil()}
	t.wishes, t.first = newWishForm(d), newFirstForm(d)
	t.status.bold()
	caution := newPara("What is on the mains is for a licensed electrician. Never leave a step half done overnight; a stair that cannot be used is barred at both ends.")
	caution.soft()
	t.scroll = container.NewVScroll(nil)
	t.tasks = newTaskList(d, t.scroll)
	t.more, t.notes = newFolded("Why, and what would change it"), container.New(&stack{})
	t.ask = newFolded("Wishes")
	t.ask.body.Add(t.wishes.box)
	t.ask.body.Add(t.first.box)
	result := container.NewStack(container.New(&stack{gap: 2}, t.words, t.more.box, t.tasks.box, t.notes), t.veil.rect)
	body := container.New(&stack{gap: 2}, t.status, t.ask.box, result, caution)
	t.scroll.Content = container.New(&gap{x: 4, y: 2}, body)
	d.onGo(func(p model.Place) bool {
		o := t.wishes.goTo(p.Field)
		if o == nil {
			o = t.first.goTo(p.Field)
		}
		if o == nil {
			return false
		}
		d.tabs.show(tabOrder)
		t.ask.open(true)
		d.focus(o)
		reveal(t.scroll, o.(fyne.CanvasObject))
		return true
	})
	return wheeled(t.scroll), t.tell
}

func (t *orderTab) tell(c Change) {
	if c&Answered != 0 {
		t.wishes.tell()
		t.first.tell()
		t.ask.say("Wishes: " + wishWords(t.desk.Job().Wishes))
		t.desk.plan()
	}
	if c&(Answered|Planned) != 0 {
		t.result()
	}
	if c&(Answered|Planned|Played|Chosen) != 0 {
		t.tasks.mark()
	}
}

// result shows the last plan, and whether it is still that of the job.
func (t *orderTab) result() {
	w, fresh := t.desk.Work()
	t.veil.cover(w != nil && !fresh)
	switch fault := t.desk.planFault(); {
	case fault != "":
		t.say("■ "+model.Capital(fault)+".", base.ColorNameError)
	case w == nil:
		t.say("Working out the order…", base.ColorNamePlaceHolder)
	case !fresh:
		t.say("Working out the order… Below is that of the job before the last change.", base.ColorNamePlaceHolder)
	case w.Order.Status == fitting.Refused:
		t.say("■ Nothing can be built that meets these wishes.", base.ColorNameError)
	case w.Order.Status != fitting.Solved:
		t.say("○ No order yet: "+w.Order.Why+".", base.ColorNameWarning)
	default:
		p := &w.Order.Plan
		text := fmt.Sprintf("● %d pieces and jobs in %s, %s of work; treads %s.", len(w.Order.Order), model.Plural(len(p.Evenings), "evening"), hoursWords(p.Minutes), p.Fixing)
		if p.Closed > 0 {
			text += fmt.Sprintf(" The stair cannot be used on %s.", model.Plural(p.Closed, "night"))
		} else {
			text += " The stair can be used every night."
		}
		t.say(text, base.ColorNameSuccess)
	}
	if w == nil || t.shown == &w.Order {
		return
	}
	t.shown = &w.Order
	t.first.offer(&w.Order)
	t.words.RemoveAll()
	t.more.body.RemoveAll()
	t.notes.RemoveAll()
	if w.Order.Status == fitting.Solved {
		t.choice(&w.Order)
	} else {
		t.refusals(&w.Order)
	}
	t.tasks.fill(w)
}

func (t *orderTab) say(text string, role fyne.ThemeColorName) {
	if t.status.role != role {
		t.status.role = role
		t.status.Refresh()
	}
	setPara(t.status, text)
}

// choice says which way won, which came next, and what would change it.
func (t *orderTab) choice(r *fitting.Result) {
	add := func(to *fyne.Container, text string) *para {
		p := newPara(text)
		to.Add(p)
		return p
	}
	add(t.words, r.Winner)
	for _, f := range r.Findings {
		mark, _ := severityMark(f.Severity)
		text := mark + " " + model.Capital(f.Title) + "."
		if f.Remedy != "" {
			text += " " + model.Capital(f.Remedy) + "."
		}
		add(t.words, text)
	}
	add(t.words, r.RunnerUp).soft()
	if len(r.Changes) == 0 {
		add(t.more.body, "None of the wishes, and no better or worse survey, would change the choice.")
	}
	for _, c := range r.Changes {
		add(t.more.body, model.Sentence(c.If+": "+c.Choice))
	}
	if r.Refused > 0 {
		add(t.more.body, fmt.Sprintf("%d of %d ways cannot be built; such as: %s.", r.Refused, r.Tried, strings.TrimSuffix(firstRefusal(r), "."))).soft()
	}
	add(t.more.body, "Troubles are weighed in minutes, by this program's own judgement: gaps to be expected from the survey, scribed edges, joints seen, and reach of the wires.").soft()
	for _, n := range r.Plan.Notes {
		add(t.notes, model.Capital(n)+".").soft()
	}
}

// wishWords says the wishes in a line.
func wishWords(w model.Wishes) string {
	var parts []string
	say := func(on bool, text string) {
		if on {
			parts = append(parts, text)
		}
	}
	for s, side := range [2]model.SideWish{w.Left, w.Right} {
		at := " " + sideNames[s]
		say(side.Keep, "keep the"+at+" skirt")
		say(side.Battered, "hide the"+at+" skirt")
		say(side.NoFalse, "no board over the"+at+" skirt")
		say(side.Wiring, "wires in reach on the"+at)
	}
	say(w.Usable, "usable every evening")
	say(w.SameSides, "sides alike")
	say(w.LightBars, "light bars")
	say(w.Coves, "coves")
	say(w.FirstTimer, "first-timers")
	say(w.SleepBelow, "household sleeps below")
	say(w.Back != "", "treads "+string(w.Back))
	for _, h := range w.Order {
		parts = append(parts, wordsOf(h.First)+" before "+wordsOf(h.Then))
	}
	if len(parts) == 0 {
		return "none; everything that can be built was weighed"
	}
	return strings.Join(parts, ", ")
}

func firstRefusal(r *fitting.Result) string {
	if len(r.Refusals) > 0 {
		return r.Refusals[0].Why
	}
	return "none is told"
}

// refusals says which piece is trapped, how it would have to come, and what is
// in its way.
func (t *orderTab) refusals(r *fitting.Result) {
	if r.Why != "" && len(r.Refusals) == 0 {
		t.words.Add(newPara(model.Capital(r.Why) + "."))
	}
	for i := range r.Refusals {
		f := &r.Refusals[i]
		title := newPara(refusalTitle(f))
		title.bold()
		line := fyne.CanvasObject(title)
		if t.desk.session.Answer().Piece(f.Trapped) >= 0 {
			show := newButton("Show it", func() { t.desk.ChoosePiece(f.Trapped) })
			line = container.NewBorder(nil, nil, nil, container.NewVBox(show), title)
		}
		t.words.Add(line)
		why := newPara(model.Capital(strings.TrimSuffix(f.Why, ".")) + ".")
		why.soft()
		t.words.Add(why)
	}
	if len(r.Refusals) > 0 {
		hint := newPara("Take back a wish above, or change what stands in the way: each refusal names it.")
		t.words.Add(hint)
	}
}

func refusalTitle(f *fitting.Refusal) string {
	if f.Trapped == "" {
		return "■ A wish cannot be kept."
	}
	s := "■ " + f.Trapped + " is trapped"
	if way := wayWords(f.Must); way != "" {
		s += ": it would have to come " + way
	}
	if len(f.Blocked) > 0 {
		s += "; in its way: " + strings.Join(f.Blocked, ", ")
	}
	return s + "."
}

// wayWords says from where a piece comes, by the greatest part of its way.
func wayWords(w fitting.Way) string {
	best, words := 0.0, ""
	for axis, names := range [3][2]string{{"from the left", "from the right"}, {"from the front", "from behind"}, {"from below", "from above"}} {
		v, name := -w.Out[axis], names[0] // it leaves along Out, and so comes from there
		if v < 0 {
			v, name = -v, names[1]
		}
		if v > best {
			best, words = v, name
		}
	}
	return words
}

func hoursWords(minutes float64) string {
	if minutes < 90 {
		return fmt.Sprintf("%.0f min", minutes)
	}
	return fmt.Sprintf("%.1f h", minutes/60)
}

// veil greys what lies under it: a result of the job before the last change.
type veil struct {
	rect *fcanvas.Rectangle
	on   bool
}

func newVeil() *veil {
	v := &veil{rect: fcanvas.NewRectangle(color.Transparent)}
	v.rect.Hide()
	return v
}

// veilAlpha lets the result be read, and shows that it is not current.
const veilAlpha = 0x90

func (v *veil) cover(on bool) {
	if on == v.on {
		return
	}
	v.on = on
	if !on {
		v.rect.Hide()
		return
	}
	settings := fyne.CurrentApp().Settings()
	c := color.NRGBAModel.Convert(settings.Theme().Color(base.ColorNameBackground, settings.ThemeVariant())).(color.NRGBA)
	c.A = veilAlpha
	v.rect.FillColor = c
	v.rect.Show()
	v.rect.Refresh()
}
