package plan

import (
	"fmt"
	"math"

	"risewright/model"
	"risewright/view/drawing"
	"risewright/view/handle"
)

// Font sizes in paper mm.
const (
	stepSize   = 3.1
	chosenSize = 3.8
	dimSize    = 3.1
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
	p.notes()
	p.numbers(chosen)
	p.text.Flush(p.l)
}

// numbers writes the names of all steps but the chosen one; when they have no
// room, of every second, fifth or tenth, counted so that both ends keep theirs.
func (p *painter) numbers(chosen int) {
	n := len(p.steps)
	ends := func(i int) bool { return i == 0 || i == n-1 }
	marked := func(i int) bool {
		_, any := handle.WorstAt(p.a.Findings, i+1, drawn)
		return any && p.o.Findings
	}
	every := p.stride()
	for rank := range 3 {
		for i := range n {
			own := 2
			if ends(i) {
				own = 0
			} else if marked(i) {
				own = 1
			}
			if i != chosen && own == rank && (rank < 2 || (i+1)%every == 0) {
				p.number(i)
			}
		}
	}
}

// stride returns how many steps apart the names must be.
func (p *painter) stride() int {
	n := len(p.steps)
	if n < 2 {
		return 1
	}
	total := 0.0
	for i := 1; i < n; i++ {
		total += p.across(i, 0.5).Sub(p.across(i-1, 0.5)).Len()
	}
	each := total / float64(n-1) * p.k
	need := drawing.TextWidth("T00", stepSize, true, false) + 1
	if p.o.Upright {
		need = stepSize
	}
	for _, s := range [...]int{1, 2, 5, 10} {
		if each*float64(s) >= need {
			return s
		}
	}
	return 20
}

func drawn(f *model.Finding) bool { _, ok := handle.Mark(f.Severity); return ok }

// number writes the name of step i in its tread, with the mark of its worst
// finding.
func (p *painter) number(i int) {
	name := handle.StepName(p.job, i)
	t := drawing.Text{Size: stepSize, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, Bold: true, Halo: true, String: name}
	if i == p.chosenStep() {
		t.Size, t.Ink = chosenSize, drawing.Select
	}
	if p.o.Findings {
		if s, any := handle.WorstAt(p.a.Findings, i+1, drawn); any {
			mark, _ := handle.Mark(s)
			p.marked(i, t, mark, handle.SeverityInk(s))
			return
		}
	}
	for _, f := range [...]float64{0.5, 0.4, 0.62, 0.3, 0.2} {
		t.At = p.middle(i, f)
		if p.text.Put(t) {
			return
		}
	}
}

// marked writes a name with a mark of its own ink above it.
func (p *painter) marked(i int, t drawing.Text, mark string, ink drawing.Ink) {
	m := t
	m.String, m.Ink, m.Size = mark, ink, stepSize
	for _, f := range [...]float64{0.5, 0.4, 0.62, 0.3, 0.2} {
		t.At = p.middle(i, f)
		if !p.text.Put(t) {
			continue
		}
		m.At = t.At.Add(drawing.Point{Y: p.paper(t.Size*0.73 + 1.6)})
		if !p.text.Put(m) {
			m.At = t.At.Sub(drawing.Point{Y: p.paper(t.Size*0.73 + 1.6)})
			p.text.Put(m)
		}
		return
	}
}

// dimension puts a dimension with the fullest wording that has room: with its
// band, without, without its unit.
func (p *painter) dimension(a, b drawing.Point, offset, value, spread float64) {
	full := p.o.Figure(value, spread)
	words := []string{full, p.o.Length(value), p.o.Number(value)}
	room := b.Sub(a).Len() * p.k
	for n, w := range words {
		if n < len(words)-1 && drawing.TextWidth(w, dimSize, false, false) > room {
			continue
		}
		for _, by := range [...]float64{1, 1.75, 2.5} {
			if p.text.Dimension(a, b, offset*by, drawing.Text{String: w, Size: dimSize}, thinLine) {
				return
			}
		}
	}
}

const (
	dimensionOff = 4.6 // of a dimension line from what it measures, paper mm
	sideOff      = 1.8 // the same beyond the band of a side
)

// dimensions draws the figures of the chosen step as the tools show them.
func (p *painter) dimensions(i int) {
	s := &p.steps[i]
	fl, fr, br, bl := p.corner(i, s.FL), p.corner(i, s.FR), p.corner(i, s.BR), p.corner(i, s.BL)
	put := func(k model.Kind, a, b drawing.Point, offset float64) {
		if f, ok := s.Figure(k); ok {
			p.dimension(a, b, offset, f.Value, f.Spread)
		}
	}
	// Seen going from left to right, down the flight is on the right hand.
	put(model.FrontWidth, fl, fr, -dimensionOff)
	if s.BL != s.BR {
		put(model.BackWidth, bl, br, dimensionOff)
	}
	band := wallShown*p.k + sideOff + dimensionOff/2
	put(model.LeftDepth, fl, bl, band)
	put(model.RightDepth, fr, br, -band)
	p.gauges(i)
}

// gauges writes the interior angle at each corner, as the gauge shows it.
func (p *painter) gauges(i int) {
	s := &p.steps[i]
	n := len(s.Corners)
	for c := range s.Corners {
		angle, ok := handle.Interior(s, c)
		if !ok {
			continue
		}
		at := p.corner(i, c)
		u, v := unit(p.corner(i, (c+1)%n).Sub(at)), unit(p.corner(i, (c+n-1)%n).Sub(at))
		in := u.Add(v)
		if in.Len() < 0.2 || angle > math.Pi { // nearly straight, or turning back
			continue
		}
		word := model.FormatDegrees(model.Angle(angle), 1)
		half := drawing.TextWidth(word, noteSize, false, false) / 2
		// far enough in for the lettering to clear both edges
		off := drawing.Point{X: math.Copysign(half+1.6, in.X), Y: math.Copysign(noteSize*0.37+1.8, in.Y)}
		if math.Abs(in.X) < 0.3 {
			off.X = 0
		}
		if math.Abs(in.Y) < 0.3 {
			off.Y = 0
		}
		p.text.Put(drawing.Text{At: at.Add(off.Mul(1 / p.k)), Size: noteSize, Align: drawing.AlignMiddle,
			Baseline: drawing.BaseMiddle, Halo: true, String: word})
	}
}

// totals draws the flight's own figures when no step is chosen.
func (p *painter) totals() {
	n := len(p.steps) - 1
	first, last := &p.steps[0], &p.steps[n]
	if f, ok := first.Figure(model.FrontWidth); ok {
		p.dimension(p.corner(0, first.FL), p.corner(0, first.FR), -dimensionOff, f.Value, f.Spread)
	}
	if f, ok := last.Figure(model.BackWidth); ok {
		p.dimension(p.corner(n, last.BL), p.corner(n, last.BR), dimensionOff, f.Value, f.Spread)
	}
	if len(p.a.Buildup.Steps) == n+1 && n > 0 && p.straight() {
		g := p.a.Buildup.FlightGoing
		a, b := p.corner(0, first.FL), p.corner(n, last.FL)
		d := p.up(0)
		b = a.Add(d.Mul(b.Sub(a).X*d.X + b.Sub(a).Y*d.Y))
		p.dimension(a, b, wallShown*p.k+sideOff+dimensionOff/2, g.At, g.Spread)
	}
}

// straight says whether the whole flight runs one way.
func (p *painter) straight() bool {
	for i := range p.steps {
		if p.up(i) != p.up(0) {
			return false
		}
	}
	return true
}

// notes writes what is true of the whole drawing.
func (p *painter) notes() {
	small := drawing.Text{Size: noteSize, Ink: drawing.LetterSoft, Halo: true, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle}
	// put writes s at the first of several places that has room.
	put := func(t drawing.Text, s string, at ...drawing.Point) {
		t.String = s
		for _, t.At = range at {
			if p.text.Put(t) {
				return
			}
		}
	}
	n := len(p.steps) - 1
	last := &p.steps[n]
	down := p.up(0).Mul(-1)
	hall := down.Mul(floorShown * 0.45)
	up := small
	up.Ink = drawing.Letter
	foot := p.across(0, walkingAt).Add(hall)
	out := unit(p.across(0, 1).Sub(p.across(0, 0)))
	// beside the foot of the arrow, towards the middle of the flight; else before
	// it, beyond the figures of the first step
	beyond := down.Mul(p.paper(3.4))
	put(up, "up", foot.Sub(out.Mul(p.paper(2.6))), foot.Add(out.Mul(p.paper(2.6))), foot.Add(beyond), foot.Add(beyond.Mul(2)), foot.Add(beyond.Mul(3)))
	for side, word := range [2]string{"left", "right"} {
		away := out.Mul(wallShown + p.paper(2.4))
		if side == 0 {
			away = away.Mul(-1)
		}
		at := p.across(0, float64(side)).Add(away)
		put(small, word, at.Add(hall), at.Add(hall).Add(beyond), at.Add(hall).Add(beyond.Mul(2)), at.Add(hall).Add(beyond.Mul(3)))
	}
	turn := 0.0
	if !p.o.Upright {
		turn = math.Pi / 2
	}
	floor := small
	floor.Angle = turn
	at := p.across(0, 0.4).Add(down.Mul(floorShown * 0.6))
	put(floor, "bottom floor", at, at.Add(beyond), at.Add(beyond.Mul(2)), at.Add(beyond.Mul(3)), at.Add(beyond.Mul(4)))
	floor.String = "top floor"
	floor.At = lerp(p.corner(n, last.BL), p.corner(n, last.BR), 0.5).Add(p.up(n).Mul(floorBeyond * 0.5))
	if !p.straight() {
		floor.Angle = 0
	}
	if p.chosenStep() >= 0 && p.chosenStep() != n || !p.o.Dimensions {
		p.text.Put(floor)
	}
}

// legend writes, below the drawing, what changes how it is to be read.
func (p *painter) legend() {
	var says []string
	if e := p.o.Factor(); e != 1 {
		says = append(says, fmt.Sprintf("out of square ×%g", e))
	}
	if p.o.Uncertainty && p.a.Survey != nil {
		says = append(says, p.certaintyNote())
	}
	if p.o.Ghost && p.a.Survey != nil {
		says = append(says, "dotted: sketch")
	}
	lo, _ := p.l.Bounds()
	at := drawing.Point{X: lo.X, Y: lo.Y - p.paper(4)}
	if !p.o.Upright {
		at.X = p.across(0, 1).X // beyond "right"
		if p.o.Dimensions && p.chosenStep() >= 0 {
			at.Y -= p.paper(8.5) // below the depth at the right
		}
	}
	for k, s := range says {
		bold := k == 0 && p.o.Factor() != 1
		p.text.Put(drawing.Text{Size: noteSize, Ink: drawing.Letter, Bold: bold, Halo: true, String: s, At: at})
		if p.o.Upright {
			at.Y -= p.paper(4)
		} else {
			at.X += p.paper(drawing.TextWidth(s, noteSize, bold, false) + 6)
		}
	}
}
