package pieces

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

const (
	// leastReturn is the narrowest return worth cutting, mm. Common practice, no
	// source.
	leastReturn = 5.0
	// steepMitre is the steepest tilt of a saw's head at which a riser is still
	// mitred from a card: most end at 45 to 48 degrees. Saw ranges differ;
	// common practice, no source.
	steepMitre = 50 * math.Pi / 180
	// steepBevel is the same for an end that is not seen from both sides, which
	// may be sawn in more than one setting.
	steepBevel = 59 * math.Pi / 180
)

// returned says whether the tread of step i has a mitred return on a side. The
// nosings of landings are let into a floor and have none.
func (b *builder) returned(i int, side Side) bool {
	j := &b.job.Flight.Steps[i]
	if j.Landing || i == len(b.steps)-1 || b.bentSide(i, side) {
		return false
	}
	if side == Right {
		return j.Right.MitredReturn() && j.RoundRight == 0
	}
	return j.Left.MitredReturn() && j.RoundLeft == 0
}

// bentSide says whether a side of step i is no single edge: it has a corner, or
// the opening comes to a point there.
func (b *builder) bentSide(i int, side Side) bool {
	s := b.steps[i].step
	n := len(s.Corners)
	if side == Right {
		return (s.FR+1)%n != s.BR
	}
	return (s.BL+1)%n != s.FL
}

// ends of a tread at a side, as indices in its face: of the front and of the
// back corner.
func (p *Piece) endAt(side Side) (front, back int) {
	if side == Right {
		return p.FrontRight, p.BackRight
	}
	return p.FrontLeft, p.BackLeft
}

// returns makes the return nosings of a finished tread and mitres its ends for
// them. The returns are appended to out.
//
// The return has the tread's nosing along its outer edge, which lies past the
// outer skirt by the overhang as the tread's nose lies past the riser. It meets
// the tread in a mitre that halves the angle between nose and side, and runs on
// past the face of the riser behind by the overhang, with a square end.
func (b *builder) returns(p *Piece, out []Piece) []Piece {
	if p.Impossible != "" {
		return out
	}
	both := b.returned(b.i, Left) && b.returned(b.i, Right)
	for _, side := range [2]Side{Left, Right} {
		if !b.returned(b.i, side) {
			continue
		}
		n := Piece{Kind: ReturnNosing, Step: p.Step, Thickness: p.Thickness, ID: Label(ReturnNosing, p.Step)}
		if both {
			n.ID += [2]string{"L", "R"}[side]
		}
		b.returnNosing(p, &n, side)
		out = append(out, n)
	}
	return out
}

// returnNosing makes one return and mitres the tread's end for it.
func (b *builder) returnNosing(p, n *Piece, side Side) {
	over := &b.job.Overlay
	w := float64(over.ReturnWidth())
	front, back := p.endAt(side)
	f, e := p.Face[front], p.Face[back]
	d := e.Sub(f) // along the end, up the flight
	long := d.Len()
	d = d.Mul(1 / long)
	otherFront, otherBack := p.endAt(1 - side)
	nose := p.Face[otherFront].Sub(f).Normalize() // along the nose, inwards
	rear := p.Face[otherBack].Sub(e).Normalize()
	phi := math.Atan2(math.Abs(nose[0]*d[1]-nose[1]*d[0]), nose.Dot(d))
	in := mgl64.Vec2{-d[1], d[0]} // from the outer edge into the tread
	if in.Dot(nose) < 0 {
		in = in.Mul(-1)
	}
	mitre := f.Add(nose.Add(d).Normalize().Mul(w / math.Sin(phi/2)))
	inner, ok := crossing(mitre, d, e, rear)
	// where the new riser behind has its face, along the outer edge
	face := long
	if over.Back == model.BackUnderRiser {
		face -= float64(over.Riser) / math.Abs(in.Dot(rear))
	}
	length := face + float64(over.Overhang)
	n.Ends[Left].Side, n.Ends[Right].Side = model.Open, model.Open
	if !ok || !(w >= leastReturn) || !(w < long) || mitre.Sub(f).Dot(d) >= inner.Sub(f).Dot(d) || !(length > w/math.Tan(phi/2)) {
		n.Impossible = fmt.Sprintf("a return %.0f mm wide does not fit the end of this tread; check its depth, or take a narrower return", w)
		n.release(b)
		return
	}

	// The return: its inner edge goes to the fence, the nosing is towards you.
	outerEnd := f.Add(d.Mul(length))
	innerEnd := outerEnd.Add(in.Mul(w))
	quad := []mgl64.Vec2{mitre, innerEnd, outerEnd, f}
	parts := []Part{BackEdge, RightEnd, Nose, LeftEnd}
	if side == Left {
		quad = []mgl64.Vec2{innerEnd, mitre, f, outerEnd}
	}
	// The face of the tread is its frame's z = 0, seen from inside: the corners
	// above run anticlockwise in it as those of the tread do.
	ex, ey := p.Frame.Col(0).Vec3(), p.Frame.Col(1).Vec3()
	n.BackLeft, n.BackRight, n.FrontRight, n.FrontLeft = 0, 1, 2, 3
	n.Impossible = n.prism(p.Frame.Col(3).Vec3(), ex, ey, quad, parts)
	n.BackLeft, n.BackRight, n.FrontRight, n.FrontLeft = 0, 1, 2, 3
	depth := p.Figures.LeftDepth
	if side == Right {
		depth = p.Figures.RightDepth
	}
	n.quadFigures(depth.PlusMinus)
	n.Notes = append(n.Notes,
		"mitre it first, on a longer piece, then cut it to length: the nosing is the same from either side, so a slip can be cut again from the other end",
		"glue the front third, slot-nail behind, so that the tread can move",
		"its end runs past the riser by the overhang: carry the nosing's profile round it, or return it on itself")
	n.release(b)

	// The tread: its end goes back to the inner edge of the return.
	rs := p.rims()
	part := LeftEnd
	if side == Right {
		part = RightEnd
	}
	var next []rim
	for _, r := range rs {
		switch r.was {
		case back:
			next = append(next, rim{top: inner, under: inner, part: r.part, was: back})
			if side == Right {
				next[len(next)-1].part = part
				next = append(next, plumb(mitre, part))
			}
		case front:
			next = append(next, r)
			if side == Left {
				next = append(next, plumb(mitre, part))
			}
		default:
			next = append(next, r)
		}
	}
	shift := mgl64.Vec2{}
	if side == Left { // the frame begins at the back left corner
		shift = inner
		for k := range next {
			next[k].top, next[k].under = next[k].top.Sub(shift), next[k].under.Sub(shift)
		}
		p.Frame.SetCol(3, p.Frame.Mul4x1(shift.Vec4(0, 1)))
	}
	p.setRims(next)
	if p.Template == "" {
		p.Template = "its returned end is mitred at the nose and straight behind, a cut that stops inside the board: mark it from a template, saw to the corner and finish by hand"
	}
	p.Released, p.Why = false, p.Template
}

// quadFigures fills in the figures and gauges of a board of four corners; its
// lengths are known to pm.
func (p *Piece) quadFigures(pm float64) {
	at := func(a, b int) Value { return Value{p.Face[b].Sub(p.Face[a]).Len(), pm} }
	p.Figures = Figures{Back: at(0, 1), Front: at(3, 2), LeftDepth: at(0, 3), RightDepth: at(1, 2), DiagonalLeft: at(0, 2), DiagonalRight: at(1, 3)}
	p.Figures.LeftDepth.PlusMinus, p.Figures.RightDepth.PlusMinus = 0, 0
	gauge := func(at, first, last int) Value {
		d, e := p.Face[first].Sub(p.Face[at]), p.Face[last].Sub(p.Face[at])
		return Value{Value: math.Atan2(d[0]*e[1]-d[1]*e[0], d.Dot(e))}
	}
	p.Ends[Left].Gauge, p.Ends[Right].Gauge = gauge(0, 1, 3), gauge(1, 2, 0)
}

// release decides whether a piece made from the builder's tread may be cut.
func (p *Piece) release(b *builder) { b.release(p, b.i) }

// mitreSlope returns the tangent of the bevel that mitres a riser to the outer
// skirt along side w: half of what their faces make, from square.
func (b *builder) mitreSlope(w *wall, side Side) float64 {
	o := &b.outline
	up := w.along
	if up.Dot(o.into.Vec2()) < 0 {
		up = up.Mul(-1)
	}
	in := o.ex.Vec2()
	if side == Right {
		in = in.Mul(-1)
	}
	phi := math.Acos(math.Max(-1, math.Min(1, in.Dot(up))))
	return 1 / math.Tan(phi/2)
}
