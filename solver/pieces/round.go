package pieces

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// arcSag is how far, in mm, the straight parts of a drawn arc may lie inside
// it: a tenth of a pencil line.
const arcSag = 0.05

// radius returns the radius of the existing riser at a front corner of step i,
// 0 where it is not round.
func (b *builder) radius(i int, side Side) float64 {
	if side == Right {
		return float64(b.job.Flight.Steps[i].RoundRight)
	}
	return float64(b.job.Flight.Steps[i].RoundLeft)
}

// pastSide returns how far a tread runs past an open side: by the overhang,
// and where the riser runs round that side by the riser as well.
func (b *builder) pastSide(side Side) float64 {
	over := &b.job.Overlay
	if b.radius(b.i, side) > 0 {
		return float64(over.Overhang + over.Riser)
	}
	return float64(over.Overhang)
}

// rounds runs the nose of a finished tread round its round front corners. The
// old riser, the new one and the nose are circles about one middle, so the
// radius of the nose is the old one with the riser and the overhang.
func (b *builder) rounds(p *Piece) {
	if p.Impossible != "" {
		return
	}
	for _, side := range [2]Side{Left, Right} {
		old := b.radius(b.i, side)
		if old == 0 {
			continue
		}
		r := old + float64(model.NoseSetForward(*b.job))
		front, back := p.endAt(side)
		otherFront, _ := p.endAt(1 - side)
		at := p.Face[front]
		nose, end := p.Face[otherFront].Sub(at), p.Face[back].Sub(at)
		u, v := nose.Normalize(), end.Normalize()
		phi := math.Atan2(math.Abs(u[0]*v[1]-u[1]*v[0]), u.Dot(v))
		tangent := r / math.Tan(phi/2)
		f := b.job.Format()
		p.Template = fmt.Sprintf("its front %s corner is round, with a radius of %s: make a template", side, f.Length(model.Length(r)))
		p.Released, p.Why = false, p.Template
		if tangent > nose.Len() || tangent > end.Len() {
			p.Impossible = fmt.Sprintf("its nose would run round with a radius of %s, for which the step is too small; check the radius of the old riser", f.Length(model.Length(r)))
			p.Why = p.Impossible
			continue
		}
		from, to := at.Add(v.Mul(tangent)), at.Add(u.Mul(tangent))
		if side == Left {
			from, to = to, from
		}
		arc := arcThrough(from, to, at, r)
		var next []rim
		for _, q := range p.rims() {
			if q.was != front {
				next = append(next, q)
				continue
			}
			for k, c := range arc {
				n := plumb(c, Nose)
				// The named corner is where the straight nose begins.
				if side == Right && k == len(arc)-1 || side == Left && k == 0 {
					n.was = front
				}
				if side == Left && k == len(arc)-1 {
					n.part = LeftEnd
				}
				next = append(next, n)
			}
		}
		p.setRims(next)
	}
}

// arcThrough returns the corners of an arc of radius r from one place to
// another, both tangent to the lines that meet at corner.
func arcThrough(from, to, corner mgl64.Vec2, r float64) []mgl64.Vec2 {
	// the middle lies on the line from the corner through the middle of the two
	half := from.Add(to).Mul(0.5)
	out := half.Sub(corner)
	reach := math.Hypot(r, from.Sub(corner).Len())
	middle := corner.Add(out.Normalize().Mul(reach))
	a, b := from.Sub(middle), to.Sub(middle)
	sweep := math.Atan2(a[0]*b[1]-a[1]*b[0], a.Dot(b))
	n := max(2, int(math.Ceil(math.Abs(sweep)/(2*math.Acos(1-arcSag/r)))))
	pts := make([]mgl64.Vec2, n+1)
	for k := range pts {
		pts[k] = middle.Add(mgl64.Rotate2D(sweep * float64(k) / float64(n)).Mul2x1(a))
	}
	pts[0], pts[n] = from, to
	return pts
}

// bent adds to a riser that runs round what there is to say: only its straight
// part is drawn.
func (b *builder) bent(p *Piece) {
	left, right := b.radius(b.i, Left), b.radius(b.i, Right)
	if left == 0 && right == 0 {
		return
	}
	f := b.job.Format()
	skin := float64(b.job.Overlay.Riser)
	length := func(v float64) string { return f.Length(model.Length(v)) }
	for _, side := range [2]Side{Left, Right} {
		old := b.radius(b.i, side)
		if old == 0 {
			continue
		}
		r := old + skin
		p.Template = fmt.Sprintf("it runs round the %s end in a quarter circle of radius %s: kerf its back, or laminate plies of 3 mm on a form", side, length(r))
		p.Notes = append(p.Notes, fmt.Sprintf("%s end: the old riser has a radius of %s, the new face %s; round the quarter it is %s long, beyond the straight part of this drawing",
			side, length(old), length(r), length(r*math.Pi/2)))
	}
	p.Notes = append(p.Notes, "bend a trial piece before the good one; kerfs and plies differ from timber to timber (common practice, no source)")
}
