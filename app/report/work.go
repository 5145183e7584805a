package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/estimate"
	"risewright/solver/fitting"
	"risewright/solver/stock"
	"risewright/view/sheets"
)

// Work writes what follows from an answer for those who buy and fit: the order
// of work evening by evening, the buying list, and hours, money and days.
func Work(w io.Writer, work *solver.Work) error {
	t := &text{a: work.Answer, job: &work.Answer.Job, f: work.Answer.Job.Format()}
	t.heading()
	t.order(&work.Order, &work.Calendar)
	t.buying(&work.Buy)
	t.time(work)
	t.cautions()
	_, err := io.WriteString(w, t.b.String())
	return err
}

// order writes what runs past what, and the evenings.
func (t *text) order(o *fitting.Result, c *estimate.Calendar) {
	switch o.Status {
	case fitting.Solved:
	case fitting.Refused:
		t.title("NO ORDER OF WORK")
		t.para(2, "Nothing that meets the wishes can be built. "+model.Sentence(plain(o.Why)))
		t.para(2, fmt.Sprintf("%d combinations were tried; %d of those that meet the wishes cannot be put together. Change a wish, or the treatment of a side.", o.Tried, o.Refused))
		for i, g := range sheets.Trapped(o) {
			t.line("")
			t.hang(5, fmt.Sprintf("  %d", i+1), model.Sentence(g.What))
			t.para(5, model.Sentence(plain(g.Why)))
			if n := len(g.Also); n > 0 {
				t.para(5, "The same stops: "+strings.Join(g.Also, "; ")+".")
			}
		}
		return
	default:
		t.title("NO ORDER OF WORK")
		t.para(2, model.Sentence(plain(o.Why)))
		return
	}
	t.title("ORDER OF WORK")
	for _, s := range sheets.Sides(o) {
		t.para(2, capital(s)+".")
	}
	t.line("")
	t.para(2, plain(o.Winner))
	if o.RunnerUp != "" {
		t.para(2, plain(o.RunnerUp))
	}
	for i, c := range o.Changes {
		if i == 0 {
			t.line("")
			t.para(2, "It would be another order:")
		}
		t.hang(4, "  -", c.If+": "+c.Choice)
	}
	t.line("")
	t.para(2, fmt.Sprintf("Treads are %s. %s, %.1f hours; the stair is shut on %d of the nights. Minutes are from memory.", o.Plan.Fixing, evenings(len(o.Plan.Evenings)), o.Plan.Minutes/60, o.Plan.Closed))
	for _, n := range o.Plan.Notes {
		t.hang(4, "  -", model.Sentence(n))
	}
	var there []string
	for i := range o.Order {
		if o.Order[i].InPlace {
			there = append(there, o.Order[i].ID)
		}
	}
	if len(there) > 0 {
		t.para(2, "In place already, and staying: "+strings.Join(there, ", ")+".")
	}
	for i := range o.Plan.Evenings {
		t.evening(o, &o.Plan.Evenings[i], c)
	}
}

func evenings(n int) string {
	if n == 1 {
		return "1 evening"
	}
	return fmt.Sprintf("%d evenings", n)
}

func (t *text) evening(o *fitting.Result, e *fitting.Evening, c *estimate.Calendar) {
	title := fmt.Sprintf("EVENING %d  %.1f hours", e.Number, e.Minutes/60)
	if day, ok := c.Evening(e.Number); ok {
		title += ", likely " + day.Format("Mon 2 Jan 2006")
	}
	t.title(title)
	turn := map[string]bool{}
	for _, i := range e.Tasks {
		if o.Order[i].Kind == fitting.Hold {
			turn[sheets.HoldWords(&o.Order[i])] = true
		}
	}
	const at = 20
	for _, h := range e.Holds {
		if !turn[h] {
			t.hang(at, "      STOP", model.Sentence(h))
		}
	}
	for _, i := range e.Tasks {
		k := &o.Order[i]
		label := fmt.Sprintf("%5d %s", sheets.Turn(o, i), k.ID)
		if k.Kind == fitting.Hold {
			t.hang(at, fmt.Sprintf("%5d STOP", sheets.Turn(o, i)), model.Sentence(sheets.HoldWords(k)))
			continue
		}
		var parts []string
		say := func(title, s string) {
			if s != "" {
				parts = append(parts, title+s)
			}
		}
		past, butts := sheets.Meetings(o, k)
		say("", sheets.WayIn(k))
		say("runs past ", past)
		say("butts against ", butts)
		say("scribe ", strings.Join(k.Scribe, ", "))
		if k.RevealBy > 0 {
			say("", k.Reveal+" "+t.length(k.RevealBy))
		} else {
			say("", k.Reveal)
		}
		if k.Kind != fitting.Hold {
			say("", k.Note)
		}
		if len([]rune(label)) >= at-1 { // a long name stands alone
			t.line(label)
			label = ""
		}
		t.hangLines(at, label, join(parts, Width-at))
	}
	night := "Tonight walk on every step."
	if len(e.Off) > 0 {
		night = "Tonight keep off " + sheets.Steps(e.Off)
		if len(e.Walk) > 0 {
			night += "; walk on " + sheets.Steps(e.Walk)
		}
		night += "."
	}
	if e.Closed {
		night = "THE STAIR IS SHUT. " + night
	}
	t.para(6, night)
	for _, w := range e.Waits {
		t.para(6, model.Sentence(fmt.Sprintf("wait %.0f h: %s", w.Hours, w.What)))
	}
	for _, n := range e.Notes {
		t.para(6, model.Sentence(n))
	}
}

// buying writes the buying list.
func (t *text) buying(p *stock.Plan) {
	all := p.All()
	if len(all) == 0 {
		return
	}
	t.title("BUYING LIST")
	if p.Early {
		t.para(2, "EARLY: the survey is not finished. Lengths are long enough with 99 %; have nothing cut to size yet.")
		t.line("")
	}
	const at = 6
	for i := range all {
		r := &all[i]
		if i == len(p.Rows) {
			t.line("")
			t.line(stock.Electric)
			t.para(2, "CAUTION: "+stock.ElectricCaution)
		}
		parts := []string{plain(r.Name), "for " + string(r.Use)}
		switch {
		case r.Missing:
			parts[0] = "ASK: " + parts[0]
			parts = append(parts, "not listed")
		case r.InHand:
			parts = append(parts, "nothing to pay")
		default:
			parts = append(parts, fmt.Sprintf("%.2f each", r.Price), fmt.Sprintf("%.2f", r.Cost), "price "+standingWords(r.Standing))
		}
		t.hangLines(at, fmt.Sprintf("%4d", r.Count), join(parts, Width-at))
		if r.Why != "" {
			t.para(at, model.Sentence(plain(r.Why)))
		}
	}
	t.line("")
	total := &table{left: map[int]bool{0: true}}
	total.add("in all, as listed", fmt.Sprintf("%.2f", p.Total), p.Currency)
	total.add("no plan costs less than", fmt.Sprintf("%.2f", p.Lower), p.Currency)
	t.table(total)
	for _, n := range p.Notes {
		t.hang(4, "  -", model.Sentence(plain(n)))
	}
	t.para(2, "The blank map and the rip list are among the sheets: \"risewright sheets\".")
}

func standingWords(s model.Standing) string {
	switch s {
	case model.Memory:
		return "from memory"
	case model.Yours:
		return "set by you"
	case "":
		return "of unknown standing"
	}
	return string(s)
}

// time writes hours, money and days as ranges.
func (t *text) time(w *solver.Work) {
	if len(w.Hours) == 0 {
		return
	}
	who := "a professional"
	if t.job.Shop.Householder {
		who = "a householder"
	}
	t.title("HOURS AND MONEY", "For "+who+"; low is all going well, high all going ill. Hours, rates and prices that come with the program are from memory.")
	tb := &table{left: map[int]bool{0: true}}
	tb.add("", "low", "likely", "high")
	for _, h := range w.Hours {
		name := h.Name
		if h.Count != 1 {
			name += fmt.Sprintf(" × %d", h.Count)
		}
		tb.add(name, tenth(h.Hours.Low), tenth(h.Hours.Likely), tenth(h.Hours.High))
	}
	tb.add("hours in all", tenth(w.Total.Low), tenth(w.Total.Likely), tenth(w.Total.High))
	m := &w.Money
	money := func(name string, r estimate.Range) {
		if m.Currency != "" {
			name += ", " + m.Currency
		}
		tb.add(name, whole(r.Low), whole(r.Likely), whole(r.High))
	}
	money("labour", m.Labour)
	money("materials", m.Materials)
	money("for what the carpet hides", m.Contingency)
	money("money in all", m.Total)
	t.table(tb)
	for _, n := range m.Notes {
		t.hang(4, "  -", model.Sentence(n))
	}
	t.days(&w.Calendar)
}

func tenth(v float64) string { return fmt.Sprintf("%.1f", v) }
func whole(v float64) string { return fmt.Sprintf("%.0f", math.Round(v)) }

// days writes the days that matter and the nights on which the stair is limited.
func (t *text) days(c *estimate.Calendar) {
	t.title("DAYS")
	if len(c.Days) == 0 {
		if len(c.Notes) > 0 {
			t.para(2, model.Sentence(c.Notes[0]))
			return
		}
		t.para(2, "There is no calendar: the job names no first day of work.")
		return
	}
	tb := &table{left: map[int]bool{0: true}}
	const day = "Mon 2 Jan 2006"
	tb.add("", "at the earliest", "likely", "at the latest")
	for _, m := range c.Milestones {
		tb.add(m.Name, m.Low.Format(day), m.Likely.Format(day), m.High.Format(day))
	}
	t.table(tb)
	for _, d := range c.Days {
		if d.Night == estimate.NightOff || d.Night == estimate.NightStepOver {
			t.para(2, model.Sentence(fmt.Sprintf("%s, likely: %s that night", d.Date.Format(day), d.Night)))
		}
	}
	for _, n := range c.Notes {
		t.hang(4, "  -", model.Sentence(n))
	}
}
