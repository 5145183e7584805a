package sheets

import (
	"fmt"
	"math"
	"strings"
	"time"

	"risewright/model"
	"risewright/solver/estimate"
	"risewright/view/drawing"
	"risewright/view/words"
)

// time is how long the job takes, what it costs and on which days: ranges, and
// a calendar with the nights on which the stair is limited.
func (k *worker) time() {
	if !k.solved() {
		return
	}
	if len(k.w.Hours) == 0 {
		k.missing("there are no hours: the table of labour is empty", "put the table back, or give your own")
		return
	}
	k.unmeasured(k.job)
	h, m := k.w.Total, &k.w.Money
	who := "for a professional"
	if k.job.Shop.Householder {
		who = "for a householder"
	}
	k.paragraph(fmt.Sprintf("%.0f to %.0f hours %s, likeliest %.0f.", h.Low, h.High, who, h.Likely), letter{size: 4.6, bold: true})
	if k.priced() {
		k.paragraph(fmt.Sprintf("%s to %s, likeliest %s, labour and materials with something for what the carpet hides.", money(m.Currency, m.Total.Low), money(m.Currency, m.Total.High), money(m.Currency, m.Total.Likely)), letter{size: 4.2, bold: true})
	}
	k.paragraph("A range, not a number: low is all going well, high all going ill. Hours, rates and prices shipped with the program are from memory; put your own in the tables.", letter{size: 3.4})
	k.y += 1.5
	k.hours()
	if k.priced() {
		k.together(k.costs)
	} else {
		k.heading("Money", 30)
		k.unpriced()
	}
	k.dates()
	if len(k.w.Calendar.Days) > 0 {
		k.together(func() { k.notes("Notes on the calendar", k.w.Calendar.Notes) })
	}
}

// priced says whether there is anything to reckon a price with.
func (k *worker) priced() bool { return len(k.w.Hours) > 0 && k.w.Money.Total.High > 0 }

// unpriced says that there is no price.
func (k *worker) unpriced() {
	k.missing("there is no price: the tables of labour or goods are empty", "put the tables back, or give your own prices")
}

// hours lists the stages with a bar from low to high each.
func (k *worker) hours() {
	k.heading("Hours", 20)
	const bars = 38.0
	most := 0.0
	for _, s := range k.w.Hours {
		most = math.Max(most, s.Hours.High)
	}
	g := k.grid(3.2, column{title: "stage", width: 70}, figures("count", 13), figures("low", 13), figures("likely", 14), figures("high", 13),
		column{title: "hours are", width: 31}, column{title: "low to high, likely marked", width: bars}, column{title: "note", width: 60})
	for _, s := range k.w.Hours {
		k.roomFor(g, 8)
		x, w := g.x[6], g.width(6)
		before := k.y
		pages := len(k.pages)
		g.cells(cell{s: s.Name}, cell{s: fmt.Sprint(s.Count)}, cell{s: tenth(s.Hours.Low)}, cell{s: tenth(s.Hours.Likely), bold: true}, cell{s: tenth(s.Hours.High)},
			cell{s: standing(s.Standing)}, cell{}, cell{s: s.Note})
		if len(k.pages) != pages {
			continue // its row went to the next page; the figures say the same
		}
		k.rangeBar(x, before+0.8, w, s.Hours, most)
	}
	g.cells(cell{s: "in all", bold: true}, cell{}, cell{s: tenth(k.w.Total.Low), bold: true}, cell{s: tenth(k.w.Total.Likely), bold: true}, cell{s: tenth(k.w.Total.High), bold: true})
	k.y += gap
}

// rangeBar draws a range on a scale from 0 to most.
func (k *worker) rangeBar(x, y, w float64, r estimate.Range, most float64) {
	if !(most > 0) {
		return
	}
	s := w / most
	k.rect(x+r.Low*s, y, math.Max((r.High-r.Low)*s, 0.3), 2.4, drawing.Fill{Ink: drawing.Soft}, drawing.Fine)
	k.line(x+r.Likely*s, y-0.4, x+r.Likely*s, y+2.8, drawing.Heavy)
}

func tenth(v float64) string { return fmt.Sprintf("%.1f", v) }

func (k *worker) costs() {
	m := &k.w.Money
	k.heading("Money", 30)
	if m.Currency == "" {
		k.paragraph("The tables name no currency; figures are in that of the rates and prices.", letter{size: 3.2})
	}
	g := k.grid(3.5, column{title: "", width: 60}, figures("low", 26), figures("likely", 26), figures("high", 26), column{title: "", width: 50})
	row := func(name string, r estimate.Range, why string, bold bool) {
		g.cells(cell{s: name, bold: bold}, cell{s: money("", r.Low), bold: bold}, cell{s: money("", r.Likely), bold: bold}, cell{s: money("", r.High), bold: bold}, cell{s: why})
	}
	labour := "hours times rate"
	if k.job.Shop.Householder {
		labour = "your own hours cost nothing"
	}
	row("labour", m.Labour, labour, false)
	row("materials", m.Materials, "see the buying list", false)
	row("for what the carpet hides", m.Contingency, "a share of the two", false)
	row("in all", m.Total, "", true)
	for _, n := range m.Notes {
		k.item("–", model.Sentence(n))
	}
	k.y += gap
}

func (k *worker) dates() {
	c := &k.w.Calendar
	if len(c.Days) == 0 {
		k.heading("Days", 12)
		if len(c.Notes) > 0 {
			k.missing(c.Notes[0], "see the order of work for what stands in the way")
			return
		}
		k.missing("there is no calendar, because the job names no first day of work", "give the job its first day, and the days follow with drying and curing times")
		return
	}
	k.heading("Days that matter", 24)
	g := k.grid(3.5, column{title: "", width: 70}, column{title: "at the earliest", width: 34}, column{title: "likely", width: 34, bold: true}, column{title: "at the latest", width: 34})
	for _, m := range c.Milestones {
		g.row(m.Name, dateWords(m.Low), dateWords(m.Likely), dateWords(m.High))
	}
	k.y += gap
	k.calendar()
	k.days()
}

func dateWords(t time.Time) string { return t.Format("Mon 2 Jan 2006") }

// The parts of a day in the calendar, mm: its date, a line of its work, the
// band of a limited night, and the least it is high.
const (
	dayHead  = 4.6
	dayNight = 4.0
	dayLeast = 13.0
	dayGap   = 0.6 // between one work and the next
	// dayMost is how many lines of work a day shows; the list below the calendar
	// has them all.
	dayMost = 20
)

var daySmall = letter{size: least}

// calendar draws the likeliest course week by week, with the nights on which
// the stair is limited. A week is as high as its fullest day.
func (k *worker) calendar() {
	days := k.w.Calendar.Days
	const head = 4.6
	w := k.inner() / 7
	weeks := weeksOf(days)
	row := func(week []estimate.Day) float64 {
		tall := dayLeast
		for i := range week {
			tall = math.Max(tall, dayTall(&week[i], w))
		}
		return tall
	}
	k.heading("The likeliest course, week by week", head+8+row(weeks[0]))
	k.paragraph("A black bar is a night off the stair, a striped one a night of stepping over every other tread. Hours are of work that day.", letter{size: 3.2})
	k.y += 1
	names := func() {
		for i, s := range []string{"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"} {
			k.text(k.left()+float64(i)*w+1, k.y+3.2, w-2, s, letter{size: 3, bold: true})
		}
		k.y += head
	}
	names()
	for n, week := range weeks {
		tall := row(week)
		if k.room(tall) {
			names()
		}
		for i := range week {
			d := &week[i]
			k.day(k.left()+float64(weekday(d.Date))*w, k.y, w, tall, d, d.Date.Day() == 1 || i == 0 && (n == 0 || weekday(d.Date) == 0))
		}
		k.y += tall
	}
	k.y += gap
}

// weekday counts from Monday, 0.
func weekday(t time.Time) int { return (int(t.Weekday()) + 6) % 7 }

// weeksOf parts days where a week begins.
func weeksOf(days []estimate.Day) [][]estimate.Day {
	var out [][]estimate.Day
	from := 0
	for i := range days {
		if i > from && weekday(days[i].Date) == 0 {
			out = append(out, days[from:i])
			from = i
		}
	}
	return append(out, days[from:])
}

// dayItems is what stands in a day of the calendar, each in whole words.
func dayItems(d *estimate.Day, w float64) [][]string {
	var items [][]string
	lines := 0
	add := func(s string) {
		broken := wrap(s, w-2, daySmall)
		items, lines = append(items, broken), lines+len(broken)
	}
	if len(d.Hold) > 0 {
		add("STOP: check")
	}
	for i, v := range d.Work {
		if add(v.Name); lines > dayMost && i > 0 {
			items = items[:len(items)-1]
			add(fmt.Sprintf("and %d more", len(d.Work)-i))
			return items
		}
	}
	if len(d.Work) == 0 {
		for _, s := range d.Waits {
			if add("wait: " + s); lines > dayMost {
				break
			}
		}
	}
	return items
}

// dayTall is how high a day must be for its items and its night.
func dayTall(d *estimate.Day, w float64) float64 {
	tall := dayHead + 1.2
	for _, lines := range dayItems(d, w) {
		tall += float64(len(lines))*least*leading + dayGap
	}
	if d.Night == estimate.NightOff || d.Night == estimate.NightStepOver {
		tall += dayNight
	}
	return tall
}

func (k *worker) day(x, y, w, tall float64, d *estimate.Day, month bool) {
	k.rect(x, y, w, tall, drawing.Fill{}, drawing.Thin)
	name := fmt.Sprint(d.Date.Day())
	if month {
		name = d.Date.Format("2 Jan")
	}
	k.text(x+1, y+3.6, 0, name, letter{size: 3.4, bold: true})
	sum := 0.0
	for _, v := range d.Work {
		sum += v.Hours
	}
	if sum > 0 {
		k.text(x+w-1, y+3.6, w-13, tenth(sum)+" h", letter{size: 2.8, align: drawing.AlignEnd})
	}
	at := y + dayHead
	for _, lines := range dayItems(d, w) {
		at = k.lines(x+1, at, lines, daySmall) + dayGap
	}
	switch d.Night {
	case estimate.NightOff:
		k.rect(x, y+tall-dayNight, w, dayNight, drawing.Fill{Ink: drawing.Line}, drawing.Thin)
		k.text(x+w/2, y+tall-1, w-2, "OFF THE STAIR", letter{size: 2.5, bold: true, align: drawing.AlignMiddle, ink: drawing.Paper})
	case estimate.NightStepOver:
		k.rect(x, y+tall-dayNight, w, dayNight, drawing.Fill{Hatch: drawing.Hatch{Pattern: drawing.Diagonal, Spacing: 1}}, drawing.Thin)
		k.list().Text(drawing.Text{At: k.at(x+w/2, y+tall-dayNight/2), Size: 2.5, Bold: true, Halo: true, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, String: "STEP OVER"})
	}
}

// days lists every day with work, a wait or something to check, in full.
func (k *worker) days() {
	k.heading("Day by day, the likeliest course", 24)
	g := k.grid(3.2, column{title: "day", width: 22, bold: true}, column{title: "work", width: 88}, column{title: "dries or settles meanwhile", width: 40}, column{title: "that night", width: 34})
	for i := range k.w.Calendar.Days {
		d := &k.w.Calendar.Days[i]
		if len(d.Work) == 0 && len(d.Hold) == 0 && d.Night != estimate.NightOff && d.Night != estimate.NightStepOver {
			continue
		}
		var parts []string
		for _, h := range d.Hold {
			parts = append(parts, words.Say("STOP: "+h))
		}
		for _, v := range d.Work {
			parts = append(parts, words.Say(v.Name)+" "+words.Say(tenth(v.Hours)+" h"))
		}
		limited := d.Night == estimate.NightOff || d.Night == estimate.NightStepOver
		night := string(d.Night)
		if limited {
			night = strings.ToUpper(night)
		}
		g.cells(cell{s: d.Date.Format("Mon 2 Jan")}, cell{s: words.Done(strings.Join(parts, "; "))}, cell{s: strings.Join(d.Waits, ", ")}, cell{s: night, bold: limited})
	}
	k.y += gap
}
