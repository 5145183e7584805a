package pieces

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

const (
	openNote = "open side: it runs past the side by the overhang; the mitred return is not on this card"
	// easedEdge is how far, in mm, a square edge may stand proud below the face
	// before a note says to ease it: a third of a hidden gap, which may be 3
	// mm. Common practice, no source.
	easedEdge = 1.0
	// winderFrom is the angle between nose and back from which a tread is a
	// winder. Carpenters leave a degree or two out of square.
	winderFrom = 10 * math.Pi / 180
)

// tread makes the tread or landing nosing of the builder's step.
func (b *builder) tread(p *Piece) {
	t, o := &b.steps[b.i], &b.outline
	s := t.step
	p.Kind, p.Step, p.Thickness = Tread, b.i+1, t.thickness
	if b.i == len(b.steps)-1 {
		p.Kind = LandingNosing
	}
	p.ID = Label(p.Kind, p.Step)

	up := b.flat(t, t.top(s.BL), t.top(s.BR).Sub(t.top(s.BL)))
	o.into = up.Mul(-1)

	// Going round the face from the back left runs against the opening's order.
	n := len(s.Corners)
	o.n = n
	opening := func(j int) int { return ((s.BL-j)%n + n) % n }
	o.backRight, o.front, o.frontAt = 1, opening(s.FR), opening(s.FL)
	for j := range n {
		d := t.top(opening(j)).Sub(o.origin)
		o.corners[j] = mgl64.Vec2{d.Dot(o.ex), d.Dot(o.ey)}
	}
	for j := range n {
		o.lines[j] = b.treadLine(t, opening(j+1), opening(j), o.corners[j], o.corners[(j+1)%n])
		o.ends[j] = [2]mgl64.Vec2{o.corners[j], o.corners[(j+1)%n]}
	}
	if p.Impossible = o.trace(p.Kind); p.Impossible == "" {
		switch {
		case n != 4:
			p.Template = fmt.Sprintf("its opening has %d corners; make a template", n)
		case o.frontAt == 0 || o.front == 1: // two corners at one side, and a point at the other
			p.Template = "its opening comes to a point at one side; make a template"
		case !o.convex():
			p.Template = "its opening has a corner that points inwards; make a template"
		}
	}
	o.finish(p)
	b.endsOf(p, [2]model.SideKind{t.job.Left.Kind, t.job.Right.Kind})
	b.treadGrads(t)
	b.figures(p)
	b.release(p, b.i)

	if nose, back := p.Face[p.FrontRight].Sub(p.Face[p.FrontLeft]), p.Face[p.BackRight].Sub(p.Face[p.BackLeft]); p.Kind == Tread && p.Impossible == "" &&
		math.Abs(math.Atan2(nose[0]*back[1]-nose[1]*back[0], nose.Dot(back))) > winderFrom {
		p.Notes = append(p.Notes, "winder: glue up a panel wide enough, with its grain along the nose")
	}
	switch {
	case b.returned(b.i, Left) || b.returned(b.i, Right):
		p.Notes = append(p.Notes, "open side: it runs past the outer skirt by the overhang, and its end is mitred for the return; the figures are those of the whole board before that")
	case t.job.Left.MitredReturn() && b.bentSide(b.i, Left) || t.job.Right.MitredReturn() && b.bentSide(b.i, Right):
		p.Notes = append(p.Notes, "open side with a corner: it runs past the side by the overhang; returns meet in mitres there, set out from the template")
	case t.job.Left.Kind == model.Open || t.job.Right.Kind == model.Open:
		p.Notes = append(p.Notes, openNote)
	}
	if proud := t.step.Fall * p.Thickness; p.Kind == Tread && proud > easedEdge {
		p.Notes = append(p.Notes, fmt.Sprintf("the tread rises to the back: ease its lower back edge, which stands %.1f mm proud of the face's", proud))
	}
}

// treadLine returns the line of the face along the opening's edge from corner
// a to corner z, which lie at qz and qa (the face runs the other way round).
func (b *builder) treadLine(t *site, a, z int, qz, qa mgl64.Vec2) line {
	s, over := t.step, &b.job.Overlay
	d := qa.Sub(qz).Normalize()
	l := line{normal: mgl64.Vec2{d[1], -d[0]}, a: z, b: a}
	switch {
	case a == s.FL:
		l.part = Nose
	case a == s.BR:
		l.part = BackEdge
		if b.i < len(b.steps)-1 && over.Back == model.BackAgainstRiser {
			l.inset = float64(over.Riser)
		}
	default:
		l.part, l.side = LeftEnd, Left
		kind := t.job.Left.Kind
		if a >= s.FR && a < s.BR {
			l.part, l.side = RightEnd, Right
			kind = t.job.Right.Kind
		}
		w := t.wallThrough(l.side, a, z)
		l.meet(&w, &b.outline, over, kind, -b.pastSide(l.side))
	}
	l.d = l.normal.Dot(qz) - l.inset
	return l
}

// meet sets the inset and bevel of an end that meets a side of the given kind:
// the fit and the undercut, or past an open side by -open and square.
func (l *line) meet(w *wall, o *outline, over *model.Overlay, kind model.SideKind, open float64) {
	if kind == model.Open {
		l.inset = open
		return
	}
	l.inset = float64(over.Fit)
	l.slope = math.Tan(float64(over.Undercut) + math.Max(0, leanOf(w, o)))
}

// leanOf returns the lean of a side relative to the board: the angle from
// square to the face at which the side comes closer going into the board.
func leanOf(w *wall, o *outline) float64 {
	n := w.normal()
	return math.Atan2(n.Dot(o.into), math.Hypot(n.Dot(o.ex), n.Dot(o.ey)))
}

// endsOf fills in what the two ends meet. Their gauges come with the figures.
func (b *builder) endsOf(p *Piece, kinds [2]model.SideKind) {
	o := &b.outline
	for side := range p.Ends {
		e := &p.Ends[side]
		e.Side = kinds[side]
		part := LeftEnd
		if Side(side) == Right {
			part = RightEnd
		}
		for j := range o.n {
			// With several lines on a side, that at the back corner counts: the
			// first from there on the right, the last on the left.
			if l := &o.lines[j]; l.part == part {
				e.Fit, e.Bevel = l.inset, math.Atan(l.slope)
				w := b.wallAt(p.Kind, l)
				e.Lean = leanOf(&w, o)
				if part == RightEnd {
					break
				}
			}
		}
	}
}

// wallAt returns the side that an end's line follows.
func (b *builder) wallAt(k Kind, l *line) wall {
	if k == Riser {
		src, atFront := b.sideSource()
		return b.steps[src].wallOf(l.side, atFront)
	}
	if l.a == l.b {
		return b.steps[b.i].wallAtPoint(l.side, l.a)
	}
	return b.steps[b.i].wallThrough(l.side, l.b, l.a)
}

// treadGrads fills in how the two lines at each named corner move, square to
// themselves in the face, with the step's unknowns. A point on the line between
// corners A and B moves by the share of each; what moves the face out of
// itself changes no figure to first order.
func (b *builder) treadGrads(t *site) {
	o := &b.outline
	if !t.kept {
		return
	}
	for k, j := range o.named() {
		for side, at := range [2]int{(j + o.n - 1) % o.n, j} {
			l := &o.lines[at]
			g := &b.grads[k][side].own
			qa, qb := o.ends[at][0], o.ends[at][1]
			d := qb.Sub(qa)
			share := 0.0 // of a line square to the nose at a point: it goes with that
			if l.a != l.b {
				share = o.vertices[j].Sub(qa).Dot(d) / d.Dot(d)
			}
			normal := o.ex.Mul(l.normal[0]).Add(o.ey.Mul(l.normal[1]))
			if l.a == l.b { // and turns with the nose line
				turn := l.normal[0] * (o.vertices[j][1] - qa[1]) / t.width
				t.addPoint(g, t.step.FR, 0, turn)
				t.addPoint(g, t.step.FL, 0, -turn)
			}
			for end, w := range [2]float64{1 - share, share} {
				c := l.a
				if end == 1 {
					c = l.b
				}
				g[2*c] += w * (normal[0] + normal[2]*t.bed.slope[0])
				g[2*c+1] += w * (normal[1] + normal[2]*t.bed.slope[1])
				t.addHeight(g, &t.bed, t.step.Corners[c], w*normal[2])
			}
		}
	}
}
