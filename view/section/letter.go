package section

import (
	"fmt"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/buildup"
	"risewright/view/drawing"
	"risewright/view/handle"
)

// Font sizes in paper mm.
const (
	stepSize   = 2.9
	chosenSize = 3.8
	dimSize    = 3.1
	figureSize = 2.7
	noteSize   = 2.6
)

// letter writes everything, what matters most first.
func (p *painter) letter() {
	p.text = handle.NewLettering(p.k)
	chosen := p.chosenStep()
	if chosen >= 0 {
		p.number(chosen)
		if p.o.Dimensions {
			p.dimensions(chosen)
		}
	} else if p.o.Dimensions {
		p.totals()
	}
	p.legend()
	p.heights()
	p.figures(chosen)
	p.numbers(chosen)
	if p.o.Dimensions {
		p.goings(chosen)
	}
	p.text.Flush(p.l)
}

// every returns how many steps apart a row of labels must be that needs so much
// room, in paper mm, along the pitch.
func (p *painter) every(need float64) int {
	n := len(p.cuts)
	if n < 2 {
		return 1
	}
	each := p.newNose(n-1).Sub(p.newNose(0)).Len() / float64(n-1) * p.k
	for _, s := range [...]int{1, 2, 5, 10} {
		if each*float64(s) >= need {
			return s
		}
	}
	return 20
}

// numbers writes the names of the steps below their treads.
func (p *painter) numbers(chosen int) {
	n := len(p.cuts)
	every := p.every(stepSize + 1.2)
	for rank := range 2 {
		for i := range n {
			own := 1
			if i == 0 || i == n-1 {
				own = 0
			}
			if i != chosen && own == rank && (rank == 0 || (i+1)%every == 0) {
				p.number(i)
			}
		}
	}
}

// number writes the name of step i below its tread.
func (p *painter) number(i int) {
	t := drawing.Text{Size: stepSize, Align: drawing.AlignMiddle, Baseline: drawing.BaseTop, Bold: true, Halo: true,
		String: handle.StepName(p.job, i), At: p.under(i)}
	t.At.Y -= p.paper(1.1)
	if i == p.chosenStep() {
		t.Size, t.Ink = chosenSize, drawing.Select
		t.At.Y -= p.paper(2.9)
	}
	p.text.Put(t)
}

// riseFinding accepts findings about the rise of a step.
func riseFinding(f *model.Finding) bool {
	_, drawn := handle.Mark(f.Severity)
	return drawn && (f.Where.Kind == model.RiseLeft || f.Where.Kind == model.RiseRight)
}

// change words a figure before and after; one figure when it stays the same.
func change(before, after string) string {
	if before == after {
		return after
	}
	return before + " → " + after
}

// figures writes the rise of every step, before and after, beside its riser;
// those out of limits first and with their mark. Over the chosen step stands
// the figure of its going, so the rise above it gives way.
func (p *painter) figures(chosen int) {
	every := p.every(figureSize + 1.4)
	n := len(p.cuts)
	for rank := range 3 {
		for i := range n {
			s, bad := handle.WorstAt(p.a.Findings, i+1, riseFinding)
			bad = bad && p.o.Findings
			own := 2
			if bad {
				own = 0
			} else if i == 0 || i == n-1 {
				own = 1
			}
			if own != rank || chosen >= 0 && p.o.Dimensions && (i == chosen || i == chosen+1) || rank == 2 && (i+1)%every != 0 {
				continue
			}
			b := p.built(i)
			if b == nil {
				continue
			}
			t := drawing.Text{Size: figureSize, Align: drawing.AlignEnd, Baseline: drawing.BaseMiddle, Halo: true, Ink: drawing.LetterSoft,
				At: pt(p.cuts[i].nose-p.paper(1.1), (p.below(i)+p.cuts[i].new())/2)}
			short := p.o.Number(b.RiseAfter.On(p.o.Cut).At)
			t.String = change(p.o.Number(b.RiseBefore.On(p.o.Cut).At), short)
			if bad {
				mark, _ := handle.Mark(s)
				t.Bold, t.Ink = true, handle.SeverityInk(s)
				t.String = mark + " " + t.String
				short = mark + " " + short
			}
			if !p.text.Put(t) {
				t.String = short
				p.text.Put(t)
			}
		}
	}
}

// goings writes the going of every step below the names.
func (p *painter) goings(chosen int) {
	every := p.every(stepSize + figureSize + 2.6)
	for i := 1; i < len(p.cuts); i++ {
		b := p.built(i)
		if b == nil || !b.HasGoing || i == chosen || i%every != 0 {
			continue
		}
		// between noses i-1 and i: below the tread it is the going of
		t := drawing.Text{Size: figureSize, Align: drawing.AlignMiddle, Baseline: drawing.BaseTop, Halo: true, Ink: drawing.LetterSoft,
			String: p.o.Number(b.GoingAfter.On(p.o.Cut).At), At: p.under(i - 1)}
		t.At.Y -= p.paper(1.1 + stepSize + 1.3)
		if i-1 == p.chosenStep() {
			continue
		}
		if drawing.TextWidth(t.String, figureSize, false, false) > (p.cuts[i].nose-p.cuts[i-1].nose)*p.k*1.05 {
			continue
		}
		p.text.Put(t)
	}
}

const (
	dimensionOff = 5.0 // of a dimension line from what it measures, paper mm
	// overhangFrom is how long, in paper mm, the overhang must be drawn to be
	// dimensioned.
	overhangFrom = 3.0
)

// dimensions draws the figures of the chosen step.
func (p *painter) dimensions(i int) {
	b := p.built(i)
	if b == nil {
		return
	}
	c := &p.cuts[i]
	r := b.RiseAfter.On(p.o.Cut)
	low, high := pt(c.nose, p.below(i)), pt(c.nose, c.new())
	p.l.Dimension(low, high, dimensionOff*0.7, "", thinLine)
	t := drawing.Text{Size: dimSize, Align: drawing.AlignEnd, Baseline: drawing.BaseMiddle, Halo: true,
		At: pt(c.nose-p.paper(dimensionOff*0.7+1.6), (low.Y+high.Y)/2)}
	full := "rise " + p.o.Figure(r.At, r.Spread)
	if was := p.o.Number(b.RiseBefore.On(p.o.Cut).At); was != p.o.Number(r.At) {
		full = "rise " + was + " → " + p.o.Figure(r.At, r.Spread)
	}
	if s, bad := handle.WorstAt(p.a.Findings, i+1, riseFinding); bad && p.o.Findings {
		mark, _ := handle.Mark(s)
		full = mark + " " + full
		t.Ink, t.Bold = handle.SeverityInk(s), true
	}
	t.String = full
	var more []string
	if l, r := p.o.Number(b.RiseAfter.Left.At), p.o.Number(b.RiseAfter.Right.At); l != r {
		more = append(more, "left "+l+", right "+r)
	}
	if w := p.packed(i); w != "" {
		more = append(more, w)
	}
	// What is said besides stands between the figure and the riser's middle:
	// below that lie the floor, or the lower steps with their own lettering.
	line := p.paper(dimSize * 1.25)
	t.At.Y += line * float64(len(more))
	p.text.Put(t)
	t.Size, t.Ink, t.Bold = noteSize, drawing.LetterSoft, false
	for _, s := range more {
		t.At.Y -= line
		t.String = s
		p.text.Put(t)
	}
	if over := float64(p.job.Overlay.Overhang); over*p.k > overhangFrom {
		y := c.new() - float64(p.job.TreadThickness(i))
		p.text.Dimension(pt(c.nose, y), pt(c.nose+over, y), -dimensionOff,
			drawing.Text{String: p.o.Number(over), Size: dimSize}, thinLine)
	}
	if b.HasGoing {
		g := b.GoingAfter.On(p.o.Cut)
		from := pt(p.cuts[i-1].nose, c.new())
		for _, w := range [...]string{p.o.Figure(g.At, g.Spread), p.o.Length(g.At), p.o.Number(g.At)} {
			if drawing.TextWidth(w, dimSize, false, false) <= (c.nose-from.X)*p.k || w == p.o.Number(g.At) {
				p.text.Dimension(from, high, dimensionOff, drawing.Text{String: w, Size: dimSize}, thinLine)
				break
			}
		}
	}
}

// packed says what lies under the board of step i.
func (p *painter) packed(i int) string {
	if i == len(p.cuts)-1 {
		return ""
	}
	says := func(up model.Length) string {
		switch {
		case up > 0:
			return "packing " + p.o.Length(float64(up))
		case up < 0:
			return "planed off " + p.o.Length(-float64(up))
		}
		return ""
	}
	s := &p.job.Flight.Steps[i]
	left, right := says(s.PackLeft), says(s.PackRight)
	switch {
	case s.PackLeft == s.PackRight:
		return left
	case left == "":
		return right + " at the right"
	case right == "":
		return left + " at the left"
	}
	return left + " left, " + strings.TrimPrefix(right, "packing ") + " right"
}

// totals draws the flight's own figures when no step is chosen.
func (p *painter) totals() {
	n := len(p.cuts) - 1
	if len(p.a.Buildup.Steps) != n+1 {
		return
	}
	first, last := &p.cuts[0], &p.cuts[n]
	x := first.nose - hallShown
	rise := p.a.Buildup.FlightRise
	foot := float64(p.job.Overlay.FloorBottom)
	p.text.Dimension(pt(x, foot), pt(x, last.new()), dimensionOff*0.6,
		drawing.Text{String: p.o.Figure(rise.At, rise.Spread), Size: dimSize}, thinLine)
	if n == 0 {
		return
	}
	going := p.a.Buildup.FlightGoing
	y := -float64(slabBottom)
	says := p.o.Figure(going.At, going.Spread)
	if p.turns() { // the drawing is as long as the way, landings included
		says = "goings together " + says
	}
	p.text.Dimension(pt(first.nose, y), pt(last.nose, y), -dimensionOff,
		drawing.Text{String: says, Size: dimSize}, thinLine)
}

// turns says whether the flight turns or is broken by a landing.
func (p *painter) turns() bool {
	for i := range p.cuts {
		if p.cuts[i].way != (mgl64.Vec2{0, 1}) || p.job.Flight.Steps[i].Landing {
			return true
		}
	}
	return false
}

// heights writes rail heights and headroom, before and after.
func (p *painter) heights() {
	write := func(name, field string, hs []model.Height, changes []buildup.HeightChange) {
		for n := range changes {
			ch := &changes[n]
			var h *model.Height
			for k := range hs {
				if hs[k].ID == ch.ID {
					h = &hs[k]
				}
			}
			if h == nil {
				continue
			}
			top, i := p.railTop(h)
			if i < 0 {
				continue
			}
			t := drawing.Text{Size: figureSize, Halo: true, Align: drawing.AlignMiddle, At: top.Add(pt(0, p.paper(2))),
				String: fmt.Sprintf("%s %s → %s", name, p.o.Number(ch.Before.At), p.o.Length(ch.After.At))}
			if field == "flight.headroom" {
				// beside its line: on the left, where the flight is lowest
				t.Align, t.Baseline = drawing.AlignEnd, drawing.BaseMiddle
				t.At = pt(top.X-p.paper(1.4), top.Y-p.paper(4))
			}
			if s, bad := handle.WorstAt(p.a.Findings, i+1, func(f *model.Finding) bool {
				_, drawn := handle.Mark(f.Severity)
				return drawn && f.Where.Field == field
			}); bad && p.o.Findings {
				mark, _ := handle.Mark(s)
				t.Bold, t.Ink = true, handle.SeverityInk(s)
				t.String = mark + " " + t.String
			}
			if field == "flight.rail" {
				above, left := t, t
				above.At.Y += p.paper(3)
				left.Align, left.At = drawing.AlignEnd, top.Add(pt(-p.paper(2), p.paper(1)))
				below := t // beside the rail, on its lower side
				below.Align, below.Baseline, below.At = drawing.AlignStart, drawing.BaseTop, top.Add(pt(p.paper(3), -p.paper(1)))
				higher := left // over what stands left of the rail's foot
				higher.At.Y += p.paper(3)
				p.text.PutFirst(left, higher, below, above, t)
				continue
			}
			low, right := t, t
			low.At.Y -= p.paper(5)
			right.Align, right.At.X = drawing.AlignStart, top.X+p.paper(1.4)
			p.text.PutFirst(t, right, low)
		}
	}
	write("headroom", "flight.headroom", p.job.Flight.Headroom, p.a.Buildup.Headroom)
	write("rail", "flight.rail", p.job.Flight.Rail, p.a.Buildup.Rail)
}

// legend writes, below the drawing, what changes how it is to be read.
func (p *painter) legend() {
	says := []string{"cut at mid width, seen from the right"}
	if p.o.Cut != buildup.Middle {
		says[0] = fmt.Sprintf("cut at the %s, seen from the right", p.o.Cut)
	}
	if e := p.o.Factor(); e != 1 {
		says = append(says, fmt.Sprintf("fore-and-aft fall ×%g", e))
	}
	if p.o.Ghost && p.a.Survey != nil {
		says = append(says, "dotted: sketch")
	}
	lo, hi := p.l.Bounds()
	at := pt(hi.X, lo.Y+p.paper(1))
	if n := len(p.cuts); n > 1 && p.o.Dimensions && len(p.a.Buildup.Steps) == n {
		says = append(says, "pitch "+model.FormatDegrees(model.Angle(p.a.Buildup.Pitch.At), 1))
	}
	for k := range says {
		t := drawing.Text{Size: noteSize, Ink: drawing.LetterSoft, Halo: true, Align: drawing.AlignEnd, String: says[k], At: at}
		if k == 1 && p.o.Factor() != 1 {
			t.Bold, t.Ink = true, drawing.Letter
		}
		p.text.Put(t)
		at.Y += p.paper(4)
	}
}
