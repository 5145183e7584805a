package sheets

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/bars"
	"risewright/solver/power"
	"risewright/view/card"
	"risewright/view/drawing"
	"risewright/view/words"
)

// Lights returns the papers of the light bars: wiring schedule and plan, labels to
// print, soak test and commissioning list, and the arithmetic of supply and
// controller. A job without lighting has none; what cannot be said is named on
// the paper.
func Lights(a *solver.Answer, m Meta) []Paper {
	if a == nil || !a.Job.Lighting.On() {
		return nil
	}
	var out []Paper
	for _, p := range []struct {
		name, title string
		write       func(*wirer)
	}{
		{"wiring-schedule.pdf", "Wiring schedule", (*wirer).schedule},
		{"wiring-plan.pdf", "Wiring plan", (*wirer).plan},
		{"wiring-labels.pdf", "Wiring labels", (*wirer).labels},
		{"light-commissioning.pdf", "Commissioning", (*wirer).commissioning},
		{"light-supply.pdf", "Supply and controller", (*wirer).supply},
	} {
		w := &wirer{book: newBook(p.title, m, a.Job.Format()), a: a, p: a.Power}
		w.page()
		p.write(w)
		out = append(out, Paper{Name: p.name, Title: p.title, Pages: w.finish(len(w.pages))})
	}
	return out
}

// wirer lays out one paper of the light bars.
type wirer struct {
	*book
	a *solver.Answer
	p *power.Result
}

// solved reports whether there are bars at all; where not, the page says so.
func (w *wirer) solved() bool {
	if w.p != nil && len(w.p.Bars) > 0 && len(w.p.Bars) == len(w.a.Bars.Bars) {
		return !w.unmeasured(&w.a.Job)
	}
	w.missing("there are no light bars yet, so there is nothing to wire", "mend the findings that stop work; they are on the build-up sheet")
	return false
}

func (w *wirer) length(mm float64) string { return card.Length(w.f, mm) }

// weight writes kilograms as they are weighed out.
func (w *wirer) weight(kg float64) string {
	const pound = 0.45359237 // kg, NIST Handbook 44, appendix C, from memory
	if w.f.Units == model.Imperial {
		return fmt.Sprintf("%.2f lb", kg/pound)
	}
	return fmt.Sprintf("%.2f kg", kg)
}

// trim writes a number with at most so many decimals.
func trim(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// schedule is what to cut, solder, fuse and connect, bar by bar and pair by
// pair.
func (w *wirer) schedule() {
	w.cautions(power.Cautions()...)
	if !w.solved() {
		return
	}
	l, p := &w.a.Job.Lighting, w.p
	w.framed("BOX", w.box())
	w.y += 1
	w.paragraph(model.Sentence(fmt.Sprintf("%s; %s", p.Strip.Title, w.way(l))), letter{size: 3.4})
	w.y += gap
	tables := p.Schedule(&w.a.Bars, w.f)
	w.table(tables[0], []float64{9, 20, 17, 11, 17, 14, 15, 10, 26, 10, 70, 11, 12}, map[int]bool{3: true, 11: true, 12: true})
	w.paragraph("Length is that of base strip and diffuser, strip that of the LED strip on it, cut at its cut points. Worst volts are those at the bar's lowest pixel in any scene that the supply is to carry.", letter{size: 3})
	w.y += gap
	w.table(tables[1], []float64{16, 24, 28, 22, 22, 14, 18, 13, 14, 14}, map[int]bool{7: true, 8: true, 9: true})
	w.paragraph(fmt.Sprintf("Length is one way along the cavity with %s of slack; a pair has two conductors. A fuse stands at the from end; where it says none, the fuse that guards the wire is the one before it. Copper in all: %s.", w.length(float64(l.Slack)), w.weight(p.Copper())), letter{size: 3})
	w.y += gap
	w.together(w.data)
	w.found("What was found about the bars and their wires", func(rule string) bool {
		return strings.HasPrefix(rule, "light.") && !budgetRule(rule)
	})
}

// box says where supply and controller stand.
func (w *wirer) box() string {
	l := &w.a.Job.Lighting
	at := fmt.Sprintf("Supply and controller stand %s above the old bottom floor's level mark.", w.length(float64(l.Box.Z)))
	if s := w.a.Job.Flight.Steps; len(s) > 0 {
		if i := s[0].FrontLeft(); i >= 0 && i < len(s[0].Corners) {
			c := s[0].Corners[i]
			dx, dy := float64(l.Box.X-c.X), float64(l.Box.Y-c.Y)
			across, along := "to the right of", "up the flight from"
			if dx < 0 {
				across = "to the left of"
			}
			if dy < 0 {
				along = "in front of"
			}
			at = fmt.Sprintf("Supply and controller stand %s %s the left end of nose 1, %s %s it, at height %s.", w.length(math.Abs(dy)), along, w.length(math.Abs(dx)), across, w.length(float64(l.Box.Z)))
			if math.Abs(dx) < level {
				at = fmt.Sprintf("Supply and controller stand %s %s the left end of nose 1, in line with it, at height %s.", w.length(math.Abs(dy)), along, w.length(float64(l.Box.Z)))
			}
		}
	}
	return at + " Reachable by hand, with air round it, never buried."
}

// way says how power and data run.
func (w *wirer) way(l *model.Lighting) string {
	cavity := map[model.Cavity]string{model.CavityRight: "behind the removable skirt or cap at the right", model.CavityUnder: "under the stair"}[l.Cavity]
	if cavity == "" {
		cavity = "behind the removable skirt or cap at the left"
	}
	trunk := "one bus along the cavity, tapped at every bar"
	if l.Trunk == model.HomeRuns {
		trunk = "a pair from the box to every bar"
	}
	return fmt.Sprintf("wires climb %s; %s; conductors taken at %s °C", cavity, trunk, trim(l.Warmth, 0))
}

// data says how data is sent and what protects it.
func (w *wirer) data() {
	d := &w.p.Data
	if len(d.Bars) == 0 {
		return
	}
	w.heading("Data", 14)
	way := d.Way
	if way == "" {
		way = model.DataReturn
	}
	text := fmt.Sprintf("%s, %s; the longest jump is %s, to %s", way, model.Plural(d.Lines, "line"), w.length(d.Longest), bars.Name(d.Bars[d.At].Step))
	w.item("–", card.SetFractions(model.Sentence(text)))
	if d.Shift {
		w.item("–", "The controller's level is too low for the strip: a level shifter stands in front of it, close to the controller.")
	}
	w.item("–", fmt.Sprintf("A resistor of %s ohm in each line at the controller's end (%s).", trim(d.Resistor.Value, 0), standing(d.Resistor.Standing)))
	w.item("–", fmt.Sprintf("A capacitor of %s µF across the supply at each feed of a bar, the right way round (%s).", trim(d.Capacitor.Value, 0), standing(d.Capacitor.Standing)))
	var arrows []string
	for i := range d.Bars {
		arrows = append(arrows, bars.Name(d.Bars[i].Step)+" "+d.Bars[i].Arrow())
	}
	w.item("–", model.Sentence("in the order of the data, as seen walking up: "+strings.Join(arrows, ", ")))
	w.y += gap
}

// table sets a table of the wiring with the given widths; columns in figures
// are set to the right.
func (w *wirer) table(t power.Table, widths []float64, figures map[int]bool) {
	w.heading(t.Title, 16)
	var cols []column
	var kept []int
	var alike []string
	for i, h := range t.Head {
		c := column{title: h, width: widths[i], bold: i == 0}
		if figures[i] {
			c.align = drawing.AlignEnd
		}
		for _, r := range t.Rows {
			c.holds = append(c.holds, card.SetFractions(r[i]))
		}
		if s := sameInAll(c.holds); s != "" && i > 0 {
			alike = append(alike, words.Say(h)+": "+words.Say(s))
			continue
		}
		cols, kept = append(cols, c), append(kept, i)
	}
	g := w.grid(2.8, cols...)
	for _, r := range t.Rows {
		cells := make([]string, len(kept))
		for i, k := range kept {
			cells[i] = card.SetFractions(r[k])
		}
		g.row(cells...)
	}
	w.y += 1
	if len(alike) > 0 {
		w.paragraph(words.Done(words.Say("The same for all:")+" "+strings.Join(alike, " · ")), letter{size: 3.2, bold: true})
	}
}

// sameInAll returns what stands in every row of a column, where there are enough
// rows to be worth saying it once; empty where they differ.
func sameInAll(rows []string) string {
	const enough = 5
	if len(rows) < enough {
		return ""
	}
	for _, s := range rows {
		if s != rows[0] {
			return ""
		}
	}
	return rows[0]
}

// cautions sets what can hurt, in one frame.
func (b *book) cautions(texts ...string) {
	b.framed("CAUTION", texts...)
	b.y += 1
}

// budgetRule says that a finding is about supply or controller and not about a
// bar or a wire.
func budgetRule(rule string) bool {
	for _, start := range []string{"light.budget", "light.supply", "light.scene", "light.limited", "light.idle", "light.peaks", "light.controller"} {
		if strings.HasPrefix(rule, start) {
			return true
		}
	}
	return false
}

// found lists the findings of some rules, worst first, each with its
// arithmetic, its standing and what to do.
func (w *wirer) found(title string, wanted func(rule string) bool) {
	begun := false
	for i := range w.a.Findings {
		f := &w.a.Findings[i]
		if !wanted(f.Rule) {
			continue
		}
		if !begun {
			w.heading(title, 14)
			begun = true
		}
		w.finding(f)
	}
	if begun {
		w.y += gap
	}
}

// finding sets one finding, with how far it can be trusted.
func (b *book) finding(f *model.Finding) {
	text := strings.ToUpper(f.Heading()) + ": " + model.Sentence(f.Title)
	if f.Detail != "" {
		text += " " + model.Sentence(f.Detail)
	}
	if f.Remedy != "" {
		text += " " + remedy(f.Remedy)
	}
	if f.Standing != "" {
		text += " (Values: " + standing(f.Standing) + ".)"
	}
	b.item("–", card.SetFractions(text))
}
