package panel

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/estimate"
)

// timeForm takes who works and when, and shows hours, money and days.
type timeForm struct {
	desk        *Desk
	form        form
	householder *check
	box         fyne.CanvasObject

	sums     *para
	stages   *folded
	cost     *fyne.Container
	calendar *fyne.Container
	days     *folded
	result   *fyne.Container
}

func newTimeForm(d *Desk) *timeForm {
	f := &timeForm{desk: d, form: form{desk: d, tab: tabBuy}, sums: newPara(""), stages: newFolded("Stage by stage"),
		cost: container.New(&stack{}), calendar: container.New(&stack{}), days: newFolded("Day by day, the likeliest course")}
	f.sums.bold()
	f.householder = newCheck("The household does it itself", func(on bool) { shopEdit(d, func(s *model.Shop) { s.Householder = on }) })
	hours := newField(d, "shop.hours_per_day", "Hours a day",
		func(j *model.Job) string { return hoursText(j.Shop.HoursPerDay) },
		func(j *model.Job, text string) (model.Edit, error) {
			v, err := parseHours(text)
			s := j.Shop
			s.HoursPerDay = v
			return model.SetShop{Shop: s}, err
		})
	hours.entry.SetPlaceHolder("from the table")
	start := newField(d, "shop.start", "First day",
		func(j *model.Job) string { return j.Shop.Start },
		func(j *model.Job, text string) (model.Edit, error) {
			day, err := parseDay(text)
			s := j.Shop
			s.Start = day
			return model.SetShop{Shop: s}, err
		})
	start.entry.SetPlaceHolder("such as 2026-11-30")
	rate := newField(d, "shop.rate", "An hour costs",
		func(j *model.Job) string {
			if j.Shop.Rate == 0 {
				return ""
			}
			return priceText(j.Shop.Rate)
		},
		func(j *model.Job, text string) (model.Edit, error) {
			v, err := parsePrice(text)
			s := j.Shop
			s.Rate = v
			return model.SetShop{Shop: s}, err
		})
	rate.entry.SetPlaceHolder("from the table")
	f.box = container.NewGridWithColumns(2, f.form.add(start).box, f.form.add(hours).box, f.householder, f.form.add(rate).box)
	f.result = container.New(&stack{gap: 2}, f.sums, f.cost, f.calendar, f.stages.box, f.days.box)
	return f
}

// parseDay reads a day; nothing is none.
func parseDay(text string) (string, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return "", nil
	}
	for _, layout := range []string{time.DateOnly, "2006-1-2", "2 Jan 2006", "2 January 2006", "Jan 2, 2006", "January 2, 2006"} {
		if t, err := time.Parse(layout, text); err == nil {
			return t.Format(time.DateOnly), nil
		}
	}
	return "", errors.New(`a day is year, month and day, such as 2026-11-30; or leave it empty`)
}

func (f *timeForm) tell() {
	f.form.tell()
	f.householder.show(f.desk.Job().Shop.Householder)
}

// dayWords writes a day.
func dayWords(t time.Time) string { return t.Format("Mon 2 Jan 2006") }

// spanWords writes a range of days.
func spanWords(m *estimate.Milestone) string {
	if m.Low.Equal(m.High) {
		return dayWords(m.Likely)
	}
	return fmt.Sprintf("%s  (%s to %s)", dayWords(m.Likely), m.Low.Format("2 Jan"), m.High.Format("2 Jan"))
}

func (f *timeForm) show(w *solver.Work) {
	for _, c := range []*fyne.Container{f.cost, f.calendar, f.stages.body, f.days.body} {
		c.RemoveAll()
	}
	f.days.box.Hidden = len(w.Calendar.Days) == 0
	f.stages.box.Hidden = len(w.Hours) == 0
	if len(w.Hours) == 0 {
		setPara(f.sums, "No work to be timed yet.")
		return
	}
	setPara(f.sums, fmt.Sprintf("About %.0f hours: from %.0f, if all goes well, to %.0f.", w.Total.Likely, w.Total.Low, w.Total.High))
	head := func(s string) *label { return newLabel(s).small().soft().right() }
	cols := &columns{least: []float32{110, 70, 70, 70, 80}, share: []float32{3, 1, 1, 1, 0}, gap: 5}
	m := &w.Money
	unit := ""
	if m.Currency != "" {
		unit = ", " + m.Currency
	}
	f.cost.Add(cols.row(newLabel("Money"+unit).small().soft(), head("at least"), head("likely"), head("at most"), head("")))
	for _, x := range []struct {
		name string
		r    estimate.Range
	}{{"Labour", m.Labour}, {"Materials", m.Materials}, {"What the carpet hides", m.Contingency}, {"Together", m.Total}} {
		name := newLabel(x.name)
		if x.name == "Together" {
			name.bold()
		}
		f.cost.Add(cols.row(name, newLabel(fmt.Sprintf("%.0f", x.r.Low)).right(), newLabel(fmt.Sprintf("%.0f", x.r.Likely)).bold().right(), newLabel(fmt.Sprintf("%.0f", x.r.High)).right(), newLabel("")))
	}
	for _, n := range m.Notes {
		f.cost.Add(newPara(model.Capital(n) + ".").soft())
	}
	var used []model.Standing
	f.stages.body.Add(cols.row(newLabel("Hours").small().soft(), head("at least"), head("likely"), head("at most"), head("source")))
	for i := range w.Hours {
		h := &w.Hours[i]
		f.stages.body.Add(cols.row(newLabel(model.Capital(h.Name)), newLabel(fmt.Sprintf("%.1f", h.Hours.Low)).right(), newLabel(fmt.Sprintf("%.1f", h.Hours.Likely)).bold().right(),
			newLabel(fmt.Sprintf("%.1f", h.Hours.High)).right(), newLabel(standingShort(h.Standing)).small().soft().right()))
		used = append(used, h.Standing)
	}
	f.stages.body.Add(newPara(standingKey(used)).soft())
	f.showDays(w)
}

func (f *timeForm) showDays(w *solver.Work) {
	if len(w.Calendar.Milestones) == 0 {
		text := "Type the first day to see the calendar."
		if len(w.Calendar.Notes) > 0 {
			text = model.Sentence(w.Calendar.Notes[0])
		}
		f.calendar.Add(newPara(text).soft())
		return
	}
	two := &columns{least: []float32{150, 150}, share: []float32{2, 3}, gap: 6}
	for i := range w.Calendar.Milestones {
		m := &w.Calendar.Milestones[i]
		f.calendar.Add(two.row(newLabel(model.Capital(m.Name)), newLabel(spanWords(m)).bold()))
	}
	for _, n := range w.Calendar.Notes {
		f.calendar.Add(newPara(model.Capital(n) + ".").soft())
	}
	line := &columns{least: []float32{84, 160, 110}, share: []float32{0, 1, 0}, gap: 6}
	for i := range w.Calendar.Days {
		d := &w.Calendar.Days[i]
		var parts []string
		for _, k := range d.Work {
			parts = append(parts, fmt.Sprintf("%s %.1f h", k.Name, k.Hours))
		}
		if len(d.Waits) > 0 {
			parts = append(parts, "waiting: "+strings.Join(d.Waits, ", "))
		}
		f.days.body.Add(line.row(newLabel(d.Date.Format("Mon 2 Jan")).bold(), newLabel(model.Capital(strings.Join(parts, "; "))), newLabel(nightWords(d.Night)).small()))
		for _, h := range d.Hold {
			p := newPara("◆ Hold: " + h + ".")
			p.role = base.ColorNameWarning
			f.days.body.Add(p)
		}
	}
}

// nightWords says what the stair is good for on a night.
func nightWords(n estimate.Night) string {
	switch n {
	case estimate.NightOff:
		return "■ " + string(n)
	case estimate.NightStepOver:
		return "◐ " + string(n)
	case "":
		return ""
	}
	return "● " + string(n)
}

// goTo returns the control of a field, or nil.
func (f *timeForm) goTo(id string) fyne.Focusable {
	for _, x := range f.form.fields {
		if id != "" && x.id == id {
			return x.entry
		}
	}
	if id == "shop.householder" {
		return f.householder
	}
	return nil
}
