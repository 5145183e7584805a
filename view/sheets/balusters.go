package sheets

import (
	"fmt"
	"slices"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
	"risewright/solver/pieces"
	"risewright/solver/rules"
	"risewright/view/card"
)

// Balusters returns the paper of the bars that stand on treads: the number to
// write on each before it comes off, where it stands, and what is cut off its
// bottom. A job without any has none.
func Balusters(a *solver.Answer, m Meta) []Paper {
	if a == nil || len(a.Balusters) == 0 {
		return nil
	}
	b := newBook("Balusters", m, a.Job.Format())
	b.page()
	b.paragraph("Number every bar from the bottom, by side, before it comes off. It keeps its place and loses what its tread rises, from the bottom. Rail and newels stay.", letter{size: 4, bold: true})
	b.framed("FALLS", "An open side is a fall. Keep it fenced, and the stair shut to others, while bars are off. Gaps in a guard, its height and its strength are for the local code; loose newels or rails are for a builder.",
		rules.Deference)
	b.y += 1.5
	if b.unmeasured(&a.Job) {
		return []Paper{{Name: "balusters.pdf", Title: "Balusters", Pages: b.finish(len(b.pages))}}
	}
	unit := ", mm"
	if a.Job.Units == model.Imperial {
		unit = ", in"
	}
	number := func(mm float64) string { return card.Number(b.f, mm) }
	g := b.grid(3.5, column{title: "bar", width: 24, bold: true}, column{title: "tread", width: 16}, figures("behind the new nose"+unit, 30), figures("as it stands"+unit, 26),
		figures("cut off its bottom"+unit, 30), figures("then long"+unit, 26), column{title: "off, cut, back", width: 28})
	short, unread := 0, 0
	for i := range a.Balusters {
		x := &a.Balusters[i]
		old, then := "", ""
		if x.Old > 0 {
			old, then = number(x.Old), number(x.New)
		} else {
			unread++
		}
		cut := number(x.Cut)
		if x.Cut < 0 {
			cut = "short by " + number(-x.Cut)
			short++
		}
		g.cells(cell{s: fmt.Sprintf("%s %d", x.Side, x.Number)}, cell{s: fmt.Sprint(x.Step)}, cell{s: number(x.Behind)}, cell{s: old}, cell{s: cut, bold: x.Cut < 0}, cell{s: then}, cell{s: "☐  ☐  ☐"})
	}
	b.y += 1.5
	if unread > 0 {
		b.item("–", fmt.Sprintf("%s not measured: write the length here before it comes off.", was(unread)))
	}
	if short > 0 {
		b.item("–", fmt.Sprintf("Too short: %s, where a tread comes lower than it was. Set it on a block, or make it new.", model.Plural(short, "bar")))
	}
	for i := range a.Buildup.Runs {
		r := &a.Buildup.Runs[i]
		if r.Pitch.At == 0 || !carries(a.Balusters, r) {
			continue
		}
		where := ""
		if len(a.Buildup.Runs) > 1 {
			where = fmt.Sprintf(" from riser %d to %d", r.First, r.Last)
		}
		b.item("–", fmt.Sprintf("A new bar%s is cut at its upper end %s from square, the pitch of the flight, where the rail slopes with it.", where, model.FormatDegrees(model.Angle(r.Pitch.At), 1)))
	}
	b.item("–", "A bar is cut only once its tread lies: mark what comes off beside the bar next to it.")
	return []Paper{{Name: "balusters.pdf", Title: "Balusters", Pages: b.finish(len(b.pages))}}
}

// carries says whether bars stand on a flight.
func carries(bars []pieces.Baluster, r *buildup.Run) bool {
	return slices.ContainsFunc(bars, func(b pieces.Baluster) bool { return b.Step >= r.First && b.Step <= r.Last })
}

// was says how many bars there are, with the verb.
func was(n int) string {
	if n == 1 {
		return "1 bar was"
	}
	return fmt.Sprintf("%d bars were", n)
}
