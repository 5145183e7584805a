package sheets

import (
	"fmt"
	"math"
	"strings"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
	"risewright/solver/rules"
	"risewright/view/card"
	"risewright/view/drawing"
)

// Buildup returns the build-up: rises before and after the overlay, what to
// pack above each tread, what becomes of headroom, rail and doors, and every
// finding with its section and standing.
func Buildup(a *solver.Answer, m Meta) []drawing.Page {
	b := builder{newBook("Build-up and findings", m, a.Job.Format()), a, &a.Buildup}
	b.page()
	nothing := b.unmeasured(&a.Job)
	b.summary(nothing)
	if len(b.r.Steps) > 0 && !nothing {
		b.chart()
		b.table()
		b.changes()
	}
	b.advice()
	b.findings()
	return b.finish(len(b.pages))
}

type builder struct {
	*book
	a *solver.Answer
	r *buildup.Result
}

func (b *builder) length(v float64) string { return card.Length(b.f, v) }
func (b *builder) number(v float64) string { return card.Number(b.f, v) }

func (b *builder) summary(nothing bool) {
	j, r := &b.a.Job, b.r
	lead := fmt.Sprintf("%d risers · code table %s", len(j.Flight.Steps), strings.ToUpper(j.Code))
	if j.CodeClass != "" {
		lead += ", " + j.CodeClass
	}
	b.paragraph(lead, letter{size: 4, bold: true})
	b.paragraph(fmt.Sprintf("Overlay: treads %s, risers %s, landing nosing %s, overhang %s. Floors raised: bottom %s, top %s.",
		b.length(float64(j.Overlay.Tread)), b.length(float64(j.Overlay.Riser)), b.length(float64(j.Overlay.Landing)), b.length(float64(j.Overlay.Overhang)),
		b.length(r.FloorBottom), b.length(r.FloorTop)), letter{size: 3.5})
	if len(r.Steps) == 0 {
		b.y += 2
		b.paragraph("There is no build-up yet: the job has faults that must be mended first. They are listed below.", letter{size: 4, bold: true})
		return
	}
	if nothing {
		b.y += 2
		return
	}
	b.paragraph(fmt.Sprintf("Floor to floor %s before, %s after. Mean rise after %s, mean going %s, pitch %s. Comparing finish to finish: the old stair may have been set out for carpet.",
		b.length(r.FlightRiseBefore.At), b.length(r.FlightRise.At), b.length(r.MeanRise), b.length(r.MeanGoing), model.FormatDegrees(model.Angle(r.Pitch.At), 1)), letter{size: 3.5})
	b.paragraph(fmt.Sprintf("Largest and smallest rise differ by %s before and %s %s after: %s at riser %d, %s at riser %d.",
		b.length(r.RiseBefore.Spread.At), b.length(r.RiseAfter.Spread.At), card.PlusMinus(b.f, r.RiseAfter.Spread.Band()),
		b.length(r.RiseAfter.Largest.Value.At), r.RiseAfter.Largest.Step, b.length(r.RiseAfter.Smallest.Value.At), r.RiseAfter.Smallest.Step), letter{size: 3.5, bold: true})
	b.y += 1.5
}

// chart draws the mean rise of every step before and after as bars that stand
// on a floor cut off below the smallest, so that differences can be seen.
func (b *builder) chart() {
	const tall, foot, head = 34.0, 7.0, 4.0
	b.room(tall + foot + head)
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range b.r.Steps {
		s := &b.r.Steps[i]
		for _, v := range [2]float64{s.RiseBefore.Mean(), s.RiseAfter.Mean()} {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	mean := b.r.MeanRise
	lo, hi = math.Min(lo, mean), math.Max(hi, mean)
	base := lo - math.Max(8, (hi-lo)*0.35) // where the bars are cut off
	scale := (tall - head) / math.Max(hi-base, 1)
	const right = 30.0
	top, x0 := b.y+head, b.left()
	floor := top + tall - head
	step := (b.inner() - right) / float64(len(b.r.Steps))
	y := func(v float64) float64 { return floor - (v-base)*scale }
	bar := math.Min(step*0.36, 6)
	for i := range b.r.Steps {
		s := &b.r.Steps[i]
		x := x0 + step*(float64(i)+0.5)
		before, after := y(s.RiseBefore.Mean()), y(s.RiseAfter.Mean())
		b.rect(x-bar, before, bar, floor-before, drawing.Fill{}, drawing.Fine)
		b.rect(x, after, bar, floor-after, drawing.Fill{Ink: drawing.Soft}, drawing.Fine)
		if label := fmt.Sprint(s.Number); step > 4.5 || s.Number%5 == 0 || s.Number == 1 {
			b.text(x, floor+3.6, 0, label, letter{size: 3, align: drawing.AlignMiddle})
		}
	}
	b.line(x0, floor, x0+step*float64(len(b.r.Steps)), floor, drawing.Medium)
	b.list().Line(b.at(x0, y(mean)), b.at(x0+step*float64(len(b.r.Steps)), y(mean)), drawing.Hidden(drawing.Line, drawing.Fine))
	kx := b.right() - right + 4
	b.rect(kx, top+1, 4, 3, drawing.Fill{}, drawing.Fine)
	b.text(kx+5.5, top+3.6, 0, "before", letter{size: 3})
	b.rect(kx, top+7, 4, 3, drawing.Fill{Ink: drawing.Soft}, drawing.Fine)
	b.text(kx+5.5, top+9.6, 0, "after", letter{size: 3})
	b.list().Line(b.at(kx, top+14.5), b.at(kx+4, top+14.5), drawing.Hidden(drawing.Line, drawing.Fine))
	b.text(kx+5.5, top+15.5, 0, "all equal", letter{size: 3})
	b.label(kx, top+20, right-4, "mean of left and right;", letter{size: 2.6, ink: drawing.LetterSoft})
	b.label(kx, top+26, right-4, "bars cut off at "+b.length(base), letter{size: 2.6, ink: drawing.LetterSoft})
	b.text(x0, floor+6.6, 0, "riser", letter{size: 2.8, ink: drawing.LetterSoft})
	b.y = floor + foot + 2
}

// table lists the steps: rises before and after, what to pack, left and right.
func (b *builder) table() {
	const row = 4.5
	b.heading("Every step: rises, going, and packing above the old tread for equal rises", row*4+9)
	type column struct {
		title string
		width float64
		of    func(*buildup.Step) string
	}
	sides := func(get func(*buildup.Step) buildup.Sides, right bool) func(*buildup.Step) string {
		return func(s *buildup.Step) string {
			if v := get(s); right {
				return b.number(v.Right.At)
			} else {
				return b.number(v.Left.At)
			}
		}
	}
	before := func(s *buildup.Step) buildup.Sides { return s.RiseBefore }
	after := func(s *buildup.Step) buildup.Sides { return s.RiseAfter }
	pack := func(s *buildup.Step) buildup.Sides { return s.Packing }
	shim := func(s *buildup.Step) buildup.Sides { return s.Shim }
	groups := []struct {
		title string
		n     int
	}{{"", 1}, {"rise before", 2}, {"rise after", 2}, {"going", 1}, {"packing, in all", 2}, {"shim under board", 2}, {"board", 1}}
	columns := []column{
		{"step", 12, func(s *buildup.Step) string { return fmt.Sprint(s.Number) }},
		{"left", 19, sides(before, false)}, {"right", 19, sides(before, true)},
		{"left", 19, sides(after, false)}, {"right", 19, sides(after, true)},
		{"after", 19, func(s *buildup.Step) string {
			if !s.HasGoing {
				return "none"
			}
			return b.number(s.GoingAfter.Mean())
		}},
		{"left", 19, sides(pack, false)}, {"right", 19, sides(pack, true)},
		{"left", 19, sides(shim, false)}, {"right", 19, sides(shim, true)},
		{"fits?", 15, func(s *buildup.Step) string {
			if s.Room {
				return "yes"
			}
			return "NO"
		}},
	}
	total := 0.0
	for _, c := range columns {
		total += c.width
	}
	k := b.inner() / total
	head := func() {
		x, n := b.left(), 0
		for _, g := range groups {
			w := 0.0
			for range g.n {
				w += columns[n].width * k
				n++
			}
			b.label(x+w-1, b.y+2.6, w-1.5, g.title, letter{size: 3, bold: true, align: drawing.AlignEnd})
			x += w
		}
		x = b.left()
		for _, c := range columns {
			x += c.width * k
			b.text(x-1, b.y+7.6, c.width*k-1, c.title, letter{size: 2.8, align: drawing.AlignEnd, ink: drawing.LetterSoft})
		}
		b.line(b.left(), b.y+8.6, b.right(), b.y+8.6, drawing.Thin)
		b.y += 9
	}
	head()
	for i := range b.r.Steps {
		s := &b.r.Steps[i]
		if b.room(row) {
			head()
		}
		x := b.left()
		for n, c := range columns {
			x += c.width * k
			bold := n == 0 || n == 3 || n == 4 || n == len(columns)-1 && !s.Room
			b.text(x-1, b.y+3.3, c.width*k-1.5, c.of(s), letter{size: 3.3, bold: bold, align: drawing.AlignEnd})
		}
		b.y += row
		b.faint(b.left(), b.y, b.right(), b.y)
	}
	b.y += 1
	b.paragraph("Packing, in all: from the old tread top to the new one if every rise is to be equal, tilt taken out too. Shim under board: that less the board; a minus is to be planed off, at the landing the depth of the rebate.", letter{size: 2.9})
	b.y += gap
}

// changes lists headroom, rail and doors before and after.
func (b *builder) changes() {
	n := len(b.r.Headroom) + len(b.r.Rail) + len(b.r.Doors)
	if n == 0 {
		return
	}
	b.heading("Headroom, handrail, doors", 10)
	line := func(what, words string) {
		const label, tall = 44.0, 5.0
		t := letter{size: 3.4}
		lines := wrap(words, b.inner()-label, t)
		b.room(float64(len(lines)) * tall)
		b.text(b.left(), b.y+3.6, label-2, what, letter{size: 3.5, bold: true})
		b.lines(b.left()+label, b.y+0.5, lines, t)
		b.y += max(tall, float64(len(lines))*t.size*leading+1)
	}
	list := func(what string, hs []buildup.HeightChange) {
		for _, h := range hs {
			line(fmt.Sprintf("%s, step %d", what, h.Step), fmt.Sprintf("%s before, %s %s after: the nose rises %s; moving it forward costs %s",
				b.length(h.Before.At), b.length(h.After.At), card.PlusMinus(b.f, h.After.Band()), b.length(h.Raised), b.length(h.Advanced)))
		}
	}
	list("headroom", b.r.Headroom)
	list("handrail", b.r.Rail)
	for _, d := range b.r.Doors {
		words := fmt.Sprintf("gap %s before, %s after", b.length(d.Before), b.length(d.After))
		if d.Undercut > 0 {
			words += fmt.Sprintf(": take %s off the door", b.length(d.Undercut))
		} else {
			words += ": it clears"
		}
		line("door "+printable(d.Name), words)
	}
	b.y += gap
}

func (b *builder) advice() {
	if len(b.meta.Advice) == 0 {
		return
	}
	b.heading("The smallest changes that bring the rises within the limits", 8)
	for i, s := range b.meta.Advice {
		b.item(fmt.Sprint(i+1), card.SetFractions(s))
	}
	b.y += gap
}

// item is a numbered paragraph.
func (b *book) item(mark, s string) {
	t := letter{size: 3.5}
	lines := wrap(s, b.inner()-7, t)
	b.room(float64(len(lines)) * t.size * leading)
	b.text(b.left(), b.y+3.2, 0, mark, letter{size: 3.6, bold: true})
	b.y = b.lines(b.left()+7, b.y, lines, t) + 1
}

// findings lists them all, worst first, each with what decides.
func (b *builder) findings() {
	fs := b.a.Findings
	if len(fs) == 0 {
		b.heading("Findings", 6)
		b.paragraph("None. "+rules.Deference, letter{size: 3.6})
		return
	}
	b.together(func() { // no head without the first of them
		b.heading(fmt.Sprintf("Findings, worst first (%d)", len(fs)), 20)
		b.paragraph(rules.Deference+" A limit from memory is advice, not a failure.", letter{size: 3.4, bold: true})
		b.y += 1
		b.decided(&fs[0])
	})
	for i := range fs[1:] {
		b.decided(&fs[i+1])
	}
}

// decided sets a finding with what decides it.
func (b *builder) decided(f *model.Finding) {
	const tag = 30.0
	title := wrap(model.Sentence(card.SetFractions(f.Title)), b.inner()-tag, letter{size: 3.7, bold: true})
	var rest []string
	small := letter{size: 3}
	for _, s := range []string{model.Sentence(f.Detail), remedy(f.Remedy), b.basis(f)} {
		if s != "" {
			rest = append(rest, wrap(card.SetFractions(s), b.inner()-tag, small)...)
		}
	}
	b.room(float64(len(title))*3.7*leading + float64(len(rest))*small.size*leading + 2)
	word := strings.ToUpper(f.Heading())
	b.severity(word, f.Severity, b.y)
	place := "whole flight"
	if f.Where.Step > 0 {
		place = fmt.Sprintf("step %d", f.Where.Step)
	}
	if f.Where.Piece != "" {
		place = f.Where.Piece
	}
	b.text(b.left(), b.y+9.4, tag-2, place, letter{size: 3, ink: drawing.LetterSoft})
	y := b.lines(b.left()+tag, b.y, title, letter{size: 3.7, bold: true})
	y = b.lines(b.left()+tag, y, rest, small)
	b.y = math.Max(y, b.y+10.5) + 0.8
	b.faint(b.left(), b.y, b.right(), b.y)
	b.y += 1
}

// severity is the tag of a finding: the worse, the blacker.
func (b *builder) severity(word string, s model.Severity, y float64) {
	const wide = 27.0
	tall, t := 5.2, letter{size: 3.1, bold: true, align: drawing.AlignMiddle}
	two := wrap(word, wide-2, letter{size: least, bold: true})
	if len(two) == 2 { // as in languages with long words
		tall = 6.4
	}
	fill, ink := drawing.Fill{}, drawing.Letter
	width := drawing.Fine
	switch s {
	case model.Block:
		fill, ink = drawing.Fill{Ink: drawing.Line}, drawing.Paper
	case model.Outside:
		width = drawing.Heavy
	}
	b.rect(b.left(), y+0.4, wide, tall, fill, width)
	t.ink = ink
	if len(two) != 2 {
		b.text(b.left()+wide/2, y+4.1, wide-2, word, t)
		return
	}
	t.size = least
	b.text(b.left()+wide/2, y+3.2, wide-2, two[0], t)
	b.text(b.left()+wide/2, y+6, wide-2, two[1], t)
}

func remedy(s string) string {
	if s == "" {
		return ""
	}
	return "Do: " + model.Sentence(s)
}

// basis says where a finding's limit stands and how far it can be trusted.
func (b *builder) basis(f *model.Finding) string {
	switch {
	case f.Section == "" && f.Standing == "", f.Section != "" && strings.Contains(f.Detail, f.Section):
		return "" // nothing to say, or said by the arithmetic
	case f.Section == "":
		return "Basis: " + rules.StandingWords(f.Standing) + "."
	case f.Standing == "" || f.Section == rules.Practice:
		return "Basis: " + f.Section + "."
	}
	return fmt.Sprintf("Basis: section %s; %s.", f.Section, rules.StandingWords(f.Standing))
}
