package template

import (
	"math"

	"risewright/view/drawing"
)

// placer puts lettering where it lies neither over a line nor over other
// lettering. Places are those of the page.
type placer struct {
	list   *drawing.List
	window rect               // that lines are drawn in
	room   rect               // that lettering lies in
	off    [][2]drawing.Point // lines to keep off
	taken  []quad
}

// quad is a rectangle that may be turned: its middle, half its sides, and the
// direction of its first side.
type quad struct {
	middle drawing.Point
	hx, hy float64
	u      drawing.Point // of length 1
}

// local returns p seen from the quad's middle along its sides.
func (q quad) local(p drawing.Point) drawing.Point {
	d := p.Sub(q.middle)
	return drawing.Point{X: d.X*q.u.X + d.Y*q.u.Y, Y: d.Y*q.u.X - d.X*q.u.Y}
}

// corner returns corner i of four, in order round the quad.
func (q quad) corner(i int) drawing.Point {
	x, y := q.hx, q.hy
	if i == 1 || i == 2 {
		x = -x
	}
	if i >= 2 {
		y = -y
	}
	return q.middle.Add(q.u.Mul(x)).Add(drawing.Point{X: -q.u.Y, Y: q.u.X}.Mul(y))
}

// meets says whether the stretch a→b touches the quad.
func (q quad) meets(a, b drawing.Point) bool {
	box := rect{drawing.Point{X: -q.hx, Y: -q.hy}, drawing.Point{X: q.hx, Y: q.hy}}
	_, _, ok := box.clip(q.local(a), q.local(b))
	return ok
}

// overlaps says whether the two quads have a point in common: a side of one
// meets the other, or one lies whole in the other.
func (q quad) overlaps(o quad) bool {
	for i := range 4 {
		if q.meets(o.corner(i), o.corner((i+1)%4)) {
			return true
		}
	}
	return o.meets(q.middle, q.middle)
}

// free says whether a quad lies in the room, off all lines and lettering.
func (p *placer) free(q quad) bool {
	for i := range 4 {
		if !p.room.has(q.corner(i)) {
			return false
		}
	}
	for _, s := range p.off {
		if q.meets(s[0], s[1]) {
			return false
		}
	}
	for _, t := range p.taken {
		if q.overlaps(t) {
			return false
		}
	}
	return true
}

// air is kept round lettering, mm.
const air = 0.8

// quadOf returns the room that a text set from its middle takes.
func quadOf(t *drawing.Text) quad {
	sin, cos := math.Sincos(t.Angle)
	return quad{middle: t.At, u: drawing.Point{X: cos, Y: sin},
		hx: drawing.TextWidth(t.String, t.Size, t.Bold, t.Mono)/2 + air, hy: drawing.CapHeight(t.Size)/2 + air}
}

// put letters t, with its middle at its place, if it is free there.
func (p *placer) put(t drawing.Text) bool {
	t.Align, t.Baseline = drawing.AlignMiddle, drawing.BaseMiddle
	q := quadOf(&t)
	if !p.free(q) {
		return false
	}
	p.taken = append(p.taken, q)
	p.list.Text(t)
	return true
}

// keepOff adds the lines through pts to those that lettering keeps off.
func (p *placer) keepOff(pts []drawing.Point, closed bool) {
	for i := range pts {
		if i+1 < len(pts) {
			p.off = append(p.off, [2]drawing.Point{pts[i], pts[i+1]})
		} else if closed {
			p.off = append(p.off, [2]drawing.Point{pts[i], pts[0]})
		}
	}
}
