package sheets

import (
	"fmt"
	"slices"
	"strings"

	"risewright/model"
	"risewright/solver/fitting"
	"risewright/view/card"
	"risewright/view/drawing"
)

// order is the order of work: what was chosen and why, then evening by evening
// what is fitted, what to stop for, and what can be walked on that night.
func (k *worker) order() {
	o := &k.w.Order
	switch o.Status {
	case fitting.Solved:
	case fitting.Refused:
		k.refused()
		return
	default:
		why := o.Why
		if why == "" {
			why = "no order of fitting was worked out"
		}
		k.missing(why, "mend the findings that stop work; they are on the build-up sheet")
		return
	}
	nothing := k.unmeasured(k.job)
	k.chosen()
	k.overview()
	for i := range o.Plan.Evenings {
		k.together(func() { k.evening(&o.Plan.Evenings[i]) })
	}
	if !nothing {
		k.together(k.joints)
	}
}

// refused says that no order can be built, and which piece is trapped.
func (k *worker) refused() {
	o := &k.w.Order
	k.framed("NO ORDER", "Nothing that meets the wishes can be built. "+model.Sentence(o.Why))
	k.y += 1
	k.paragraph(fmt.Sprintf("%d combinations were tried, %d of those that meet the wishes cannot be put together. Change a wish, or the treatment of a side, and ask again.", o.Tried, o.Refused), letter{size: 3.6})
	k.y += gap
	groups := Trapped(o)
	for i, g := range groups {
		if i == 0 {
			k.heading("What is trapped, in the best of those refused first", 20)
		}
		k.room(22)
		k.text(k.left(), k.y+3.4, 0, fmt.Sprint(i+1), letter{size: 3.8, bold: true})
		k.y = k.lines(k.left()+7, k.y, wrap(model.Sentence(g.What), k.inner()-7, letter{size: 3.8, bold: true}), letter{size: 3.8, bold: true})
		k.item("", card.SetFractions(model.Sentence(g.Why)))
		if len(g.Also) > 0 {
			k.item("", "The same stops:")
			for _, s := range g.Also {
				k.item("", "– "+s)
			}
		}
		k.y += gap
	}
}

// chosen says what runs past what on each side, why, and what would change it.
func (k *worker) chosen() {
	o := &k.w.Order
	g := k.grid(3.4,
		column{title: "side", width: 13, bold: true, holds: []string{"LEFT", "RIGHT"}}, column{title: "what stands there", width: 38}, column{title: "risers", width: 34},
		column{title: "treads", width: 34}, column{title: "ends", width: 42}, column{title: "scheme", width: 15, align: drawing.AlignMiddle})
	for i, d := range []fitting.Decision{o.Left, o.Right} {
		side := "LEFT"
		if i == 1 {
			side = "RIGHT"
		}
		scheme := d.Scheme()
		if scheme == "" {
			scheme = "none"
		}
		board := string(d.Board)
		if d.Cap {
			board += ", with a cap over the wires"
		}
		g.row(side, board, past(d.RiserPast, d.Board), past(d.TreadPast, d.Board), endsWords(d), scheme)
	}
	k.y += 1
	k.paragraph("Between the steps: "+backWords(o.Back)+". The letter of a scheme is only a short name for its row.", letter{size: 3.3})
	k.y += gap
	why := [][2]string{{"WHY THIS ONE", o.Winner}, {"RUNNER-UP", o.RunnerUp}}
	for _, s := range why {
		if s[1] == "" {
			continue
		}
		k.labelled(s[0], card.SetFractions(s[1]))
	}
	if len(o.Changes) > 0 {
		k.y += 0.5
		for i, c := range o.Changes {
			title := ""
			if i == 0 {
				title = "WOULD CHANGE IT"
			}
			k.labelled(title, model.Sentence(c.If+": "+c.Choice))
		}
	}
	k.y += gap
	if p := &o.Plan; len(p.Notes) > 0 {
		k.heading("How it is held down, and the house at night", 12)
		k.paragraph(model.Sentence("treads are "+string(p.Fixing)), letter{size: 3.6, bold: true})
		for _, n := range p.Notes {
			k.item("–", model.Sentence(n))
		}
		k.y += gap
	}
}

// labelled sets a paragraph beside a short title.
func (k *worker) labelled(title, s string) {
	const label = 36.0
	t := letter{size: 3.5}
	lines := wrap(s, k.inner()-label, t)
	k.room(float64(len(lines)) * t.size * leading)
	k.text(k.left(), k.y+3.2, label-2, title, letter{size: 3.4, bold: true})
	k.y = k.lines(k.left()+label, k.y, lines, t) + 1
}

// overview is a line for each evening, with the stair as it is that night.
func (k *worker) overview() {
	p := &k.w.Order.Plan
	if len(p.Evenings) == 0 {
		k.missing("no evenings were planned", "")
		return
	}
	n := len(k.w.Answer.Job.Flight.Steps)
	k.heading(fmt.Sprintf("%d evenings, %s in all; %s", len(p.Evenings), hoursWords(p.Minutes/60), shutWords(p)), 24)
	k.paragraph("Minutes for each piece are from memory. Boxes are the steps, 1 at the left: a black one must not be walked on that night.", letter{size: 3})
	k.y += 1
	strip := min(70, 5*float64(n))
	over := stripOver(strip, n)
	row := 6.4 + over
	// the boxes end at the right edge
	x0 := k.right() - strip
	for i := range p.Evenings {
		e := &p.Evenings[i]
		k.room(row)
		k.y += over
		k.text(k.left(), k.y+4.4, 24, fmt.Sprintf("Evening %d", e.Number), letter{size: 3.8, bold: true})
		words := fmt.Sprintf("%s · %s", hoursWords(e.Minutes/60), k.span(e))
		if len(e.Holds) > 0 {
			words += fmt.Sprintf(" · %d to stop for", len(e.Holds))
		}
		room := x0 - k.left() - 27
		if e.Closed {
			room -= 18
			k.tag(x0-19, k.y+1, 17, "SHUT")
		}
		k.text(k.left()+25, k.y+4.3, room, words, letter{size: 3.3})
		k.strip(x0, k.y+0.9, strip, e, n)
		k.y += row - over
		k.faint(k.left(), k.y, k.right(), k.y)
	}
	k.y += gap
}

// shutWords says on how many nights of the fitting nobody may walk on the stair.
func shutWords(p *fitting.Plan) string {
	if p.Closed > 0 {
		return fmt.Sprintf("the stair is shut on %d of the nights", p.Closed)
	}
	return "the stair can be used every night"
}

// tag is a black label.
func (k *worker) tag(x, y, width float64, s string) {
	k.rect(x, y, width, 4.4, drawing.Fill{Ink: drawing.Line}, 0)
	k.text(x+width/2, y+3.3, width-1, s, letter{size: 3, bold: true, align: drawing.AlignMiddle, ink: drawing.Paper})
}

// narrow is how wide a box of a strip must be to hold its number, mm.
const narrow = 3.6

// stripOver is the room that a strip takes above its boxes: their numbers stand
// there when the boxes are narrow.
func stripOver(width float64, n int) float64 {
	if width/float64(n) < narrow {
		return 2.6
	}
	return 0
}

// strip draws the steps of the night as boxes, those that are off in black.
func (k *worker) strip(x, y, width float64, e *fitting.Evening, n int) {
	w := width / float64(n)
	for s := 1; s <= n; s++ {
		off := slices.Contains(e.Off, s)
		fill, ink := drawing.Fill{}, drawing.Letter
		if off {
			fill, ink = drawing.Fill{Ink: drawing.Line}, drawing.Paper
		}
		k.rect(x+float64(s-1)*w, y, w, 4.6, fill, drawing.Fine)
		switch {
		case w >= narrow:
			k.text(x+(float64(s)-0.5)*w, y+3.3, 0, fmt.Sprint(s), letter{size: max(min(2.8, w*0.62), least), align: drawing.AlignMiddle, ink: ink})
		case s == 1 || s%5 == 0 && w >= 0.7 || s%10 == 0:
			k.text(x+(float64(s)-0.5)*w, y-0.6, 0, fmt.Sprint(s), letter{size: least, align: drawing.AlignMiddle})
		}
	}
}

// scribedTo lists what the edges of a piece are scribed to.
func scribedTo(t *fitting.Task) string {
	var to []string
	for _, s := range t.Scribe {
		to = append(to, strings.TrimPrefix(s, "to "))
	}
	return strings.Join(to, ", ")
}

// ids are the names of what goes in on an evening.
func (k *worker) ids(e *fitting.Evening) []string {
	ts := k.w.Order.Order
	var ids []string
	for _, i := range e.Tasks {
		if ts[i].Kind != fitting.Hold {
			ids = append(ids, ts[i].ID)
		}
	}
	return ids
}

// span names the first and last piece of an evening.
func (k *worker) span(e *fitting.Evening) string {
	ids := k.ids(e)
	switch len(ids) {
	case 0:
		return "no pieces"
	case 1:
		return ids[0]
	}
	return fmt.Sprintf("%s to %s (%d)", ids[0], ids[len(ids)-1], len(ids))
}

// evening is the work of one evening in order. Hold points stand in their turn,
// framed; those of the whole evening first.
func (k *worker) evening(e *fitting.Evening) {
	ts := k.w.Order.Order
	title := fmt.Sprintf("Evening %d: %s, %s", e.Number, k.span(e), hoursWords(e.Minutes/60))
	if day, ok := k.w.Calendar.Evening(e.Number); ok {
		title += ", likely " + dateWords(day)
	}
	k.heading(title, 44)
	if e.Number == 1 {
		var there []string
		for i := range ts {
			if ts[i].InPlace {
				there = append(there, ts[i].ID)
			}
		}
		if len(there) > 0 {
			k.paragraph("In place already, and staying: "+strings.Join(there, ", ")+".", letter{size: 3.4, bold: true})
			k.y += 1
		}
	}
	turn := map[string]bool{}
	for _, i := range e.Tasks {
		if ts[i].Kind == fitting.Hold {
			turn[HoldWords(&ts[i])] = true
		}
	}
	for _, h := range e.Holds {
		if !turn[h] {
			k.framed("STOP", card.SetFractions(model.Sentence(h)))
		}
	}
	var g *grid
	for _, i := range e.Tasks {
		t := &ts[i]
		if t.Kind == fitting.Hold {
			k.y += 1
			k.framed("STOP", fmt.Sprintf("%d. %s About %.0f minutes.", Turn(&k.w.Order, i), card.SetFractions(model.Sentence(HoldWords(t))), t.Minutes))
			g = nil
			continue
		}
		if g == nil {
			g = k.grid(3.1,
				figures("#", 8), column{title: "piece", width: 19, bold: true, holds: k.ids(e)}, column{title: "how it goes in", width: 35},
				column{title: "runs past", width: 18}, column{title: "butts against", width: 40}, column{title: "scribe its edge to", width: 38},
				column{title: "what is left to be seen", width: 42}, figures("minutes", 9))
		}
		over, butts := Meetings(&k.w.Order, t)
		reveal := ""
		if t.Reveal != "" {
			reveal = t.Reveal
			if t.RevealBy > 0 {
				reveal = k.length(t.RevealBy) + ": " + reveal
			}
		}
		if t.Note != "" {
			reveal = strings.TrimPrefix(reveal+"; "+t.Note, "; ")
		}
		way := WayIn(t)
		if t.Way.Tilted && t.Way.Needs > 0 {
			way += fmt.Sprintf(": needs %s, has %s", k.length(t.Way.Needs), k.length(t.Way.Has))
		}
		g.row(fmt.Sprint(Turn(&k.w.Order, i)), t.ID, way, over, butts, scribedTo(t), reveal, fmt.Sprintf("%.0f", t.Minutes))
	}
	k.tonight(e)
	k.y += gap
}

// tonight says what the stair is like when the work is done.
func (k *worker) tonight(e *fitting.Evening) {
	n := len(k.w.Answer.Job.Flight.Steps)
	words := "walk on every step"
	if len(e.Off) > 0 {
		words = "keep off " + Steps(e.Off)
		if len(e.Walk) > 0 {
			words += "; walk on " + Steps(e.Walk)
		}
	}
	if e.Closed {
		words = "THE STAIR IS SHUT: " + words
	}
	width := min(84, 6*float64(n))
	t := letter{size: 3.5, bold: e.Closed}
	lines := wrap(words, k.inner()-22-width, t)
	strip := max(7, 2.4+float64(len(lines))*t.size*leading)
	over := stripOver(width, n)
	k.room(1 + over + strip)
	k.y += 1 + over
	k.text(k.left(), k.y+3.8, 18, "Tonight", letter{size: 3.8, bold: true})
	k.strip(k.left()+19, k.y+0.4, width, e, n)
	k.lines(k.left()+22+width, k.y+0.6, lines, t)
	k.y += strip
	var rest []string
	for _, w := range e.Waits {
		rest = append(rest, fmt.Sprintf("wait %.0f h: %s", w.Hours, w.What))
	}
	for _, s := range append(rest, e.Notes...) {
		k.item("–", card.SetFractions(model.Sentence(s)))
	}
}

// joints lists the joints that will be seen, those likely to gape most first.
func (k *worker) joints() {
	o := &k.w.Order
	var seen []fitting.Joint
	for _, j := range o.Joints {
		if j.Visible {
			seen = append(seen, j)
		}
	}
	if len(seen) == 0 {
		return
	}
	slices.SortStableFunc(seen, func(a, b fitting.Joint) int {
		switch {
		case a.Gap.P95 > b.Gap.P95:
			return -1
		case a.Gap.P95 < b.Gap.P95:
			return 1
		}
		return 0
	})
	const most = 14
	shown := seen[:min(most, len(seen))]
	k.heading(fmt.Sprintf("Joints that will be seen: the %d likely to gape most, of %d", len(shown), len(seen)), 24)
	k.paragraph("Gaps are those of this survey's own uncertainty and of the usual spread of cuts (common practice, no source): one joint in twenty is wider. By feeler gauge.", letter{size: 3})
	k.y += 1
	g := k.grid(3.3, column{title: "joint", width: 54, bold: true}, column{title: "its edge is scribed", width: 20}, figures("one in twenty wider than, "+k.fineUnit(), 28),
		figures("good up to, "+k.fineUnit(), 20), figures("not accepted beyond, "+k.fineUnit(), 24), column{title: "an error here", width: 46})
	for _, j := range shown {
		g.cells(cell{s: j.A + " to " + j.B}, cell{s: j.Scribed}, cell{s: k.fine(j.Gap.P95), bold: j.Gap.P95 > j.Reject},
			cell{s: k.fine(j.Limit)}, cell{s: k.fine(j.Reject)}, cell{s: scopeWords(j.Scope)})
	}
}

func scopeWords(s fitting.Scope) string {
	switch s {
	case fitting.Local:
		return "stays in this joint"
	case fitting.Chain:
		return "moves every step above"
	case fitting.Rigid:
		return "spreads along one rigid board"
	}
	return string(s)
}
