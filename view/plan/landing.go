package plan

import (
	"risewright/solver/pieces"
	"risewright/view/drawing"
)

// onLanding returns the middle of a landing's corners, moved along its nose line
// by what f is from one half.
func (p *painter) onLanding(i int, f float64) drawing.Point {
	var at drawing.Point
	for _, q := range p.open[i] {
		at = at.Add(q.Mul(1 / float64(len(p.open[i]))))
	}
	return at.Add(p.across(i, f).Sub(p.across(i, 0.5)))
}

// beside returns the middle of the longest edge of a step's sides, and the unit
// direction out of it there.
func (p *painter) beside(i int) (at, out drawing.Point) {
	longest := 0.0
	for c := range p.open[i] {
		e := p.job.Flight.Steps[i].Edges[c]
		if e == "front" || e == "back" {
			continue
		}
		a, b := p.corner(i, c), p.corner(i, (c+1)%len(p.open[i]))
		if d := b.Sub(a); d.Len() > longest+1e-6 { // the first of equals
			longest, at, out = d.Len(), lerp(a, b, 0.5), leftOf(unit(d)).Mul(-1)
		}
	}
	return at, out
}

// overLanding appends the way over landing i to line, which has come to its nose
// line: straight on, round, and straight up to the next.
func (p *painter) overLanding(line []drawing.Point, i int) []drawing.Point {
	s, t := &p.steps[i], &p.steps[i+1]
	from, to := p.across(i, walkingAt), p.across(i+1, walkingAt)
	on := leftOf(unit(p.corner(i, s.FR).Sub(p.corner(i, s.FL))))
	up := leftOf(unit(p.corner(i+1, t.FR).Sub(p.corner(i+1, t.FL))))
	d := to.Sub(from)
	// The two directions meet in a corner, or run beside each other as far as
	// half the landing.
	if cross := on.X*up.Y - on.Y*up.X; cross > 0.3 || cross < -0.3 {
		if far := (d.X*up.Y - d.Y*up.X) / cross; far > 0 {
			return append(line, from.Add(on.Mul(far)))
		}
		return line
	}
	far := 0.0
	for _, q := range p.open[i] {
		v := q.Sub(from)
		far = max(far, (v.X*on.X+v.Y*on.Y)/2)
	}
	if d.X*up.X+d.Y*up.Y > 0 && on.X*up.X+on.Y*up.Y > 0 { // straight through
		return line
	}
	back := to.Sub(from)
	return append(line, from.Add(on.Mul(far)), from.Add(on.Mul(far)).Add(back.Sub(on.Mul(back.X*on.X+back.Y*on.Y))))
}

// landingNosing draws the nosing of a landing between flights on its opening.
func (p *painter) landingNosing(i int) {
	if !p.trueToShape() || !p.job.Flight.Steps[i].Landing || 2*i+1 >= len(p.a.Pieces) {
		return
	}
	b := &p.a.Pieces[2*i+1]
	if b.Kind != pieces.LandingNosing || b.Impossible != "" {
		return
	}
	fill := drawing.WoodDark
	if p.o.Piece == b.ID {
		fill = drawing.SelectWash
	}
	p.room = p.outline(p.room[:0], b)
	p.l.Polygon(p.room, drawing.Fill{Ink: fill}, drawing.Stroke{})
	p.l.Line(p.room[b.BackLeft], p.room[b.BackRight], thinLine)
}
