package pieces

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// sideSource returns the step whose sides the builder's riser meets, and whether
// they are taken at the front of that step's opening. Above a landing, and above a
// starting step that is wider than the flight, the sides of the flight begin
// with the riser: they are those of its own step. So it is
// where a side bends below, as at a kite, whose last edge hangs on a corner that
// only gauges fix. Both sides come from one step: how two steps of a turn lie
// to each other along a nose line is known far less well than either.
func (b *builder) sideSource() (step int, atFront bool) {
	if b.i == 0 {
		return 0, true
	}
	low := b.i - 1
	if b.job.Flight.Steps[low].Landing || b.radius(low, Left) > 0 || b.radius(low, Right) > 0 {
		return b.i, true
	}
	below, own := &b.steps[low], &b.steps[b.i]
	if max(below.corners(Left), below.corners(Right)) > 2 && max(own.corners(Left), own.corners(Right)) == 2 {
		return b.i, true
	}
	return low, false
}

// corners returns how many corners a side of the opening has, its ends among
// them; 1 where the opening comes to a point.
func (t *site) corners(side Side) int {
	s := t.step
	n := len(s.Corners)
	if side == Right {
		return (s.BR-s.FR+n)%n + 1
	}
	return (s.FL-s.BL+n)%n + 1
}

// riser makes the riser below the builder's step. Its flat frame is q = (s, z):
// s along the nose line from below its left end, z plumb from the old bottom
// floor.
func (b *builder) riser(p *Piece) {
	t, o, over := &b.steps[b.i], &b.outline, &b.job.Overlay
	p.Kind, p.Step, p.Thickness = Riser, b.i+1, float64(over.Riser)
	p.ID = Label(Riser, p.Step)

	set := float64(over.Overhang)
	foot := t.step.Corners[t.step.FL].Add(t.back.Mul(set))
	o.origin = foot.Vec3(0)
	o.ex, o.ey, o.into = t.along.Vec3(0), mgl64.Vec3{0, 0, 1}, t.back.Vec3(0)
	o.n, o.backRight, o.front, o.frontAt = 4, 1, 2, 3

	src, atFront := b.sideSource()
	meets := &b.steps[src]
	p.Meets = src + 1
	left, right := meets.wallOf(Left, atFront), meets.wallOf(Right, atFront)
	o.lines[0] = b.riserLevel(BackEdge)
	o.lines[1] = b.riserEnd(&right, RightEnd, Right, meets.job.Right.Kind)
	o.lines[2] = b.riserLevel(Nose)
	o.lines[3] = b.riserEnd(&left, LeftEnd, Left, meets.job.Left.Kind)
	for j := range o.n {
		o.corners[j] = o.corner(j, 0)
	}
	p.Impossible = o.trace(Riser)
	o.finish(p)
	b.endsOf(p, [2]model.SideKind{meets.job.Left.Kind, meets.job.Right.Kind})
	if t.kept && (b.i == 0 || b.steps[b.i-1].kept) {
		b.twoSteps = b.i > 0
		b.riserGrads([4]*wall{1: &right, 3: &left})
	}
	b.figures(p)
	b.bent(p)
	b.steep(p)
	if b.i == 0 {
		b.release(p, b.i)
	} else {
		b.release(p, b.i-1, b.i)
	}

	if t.job.Nosing == model.NosingKept && b.job.Existing.Overhang > 0 {
		p.Notes = append(p.Notes, "the old nose above still stands where this riser goes: cut it flush first, or pack the old riser out to it")
	}
	_, openLeft := b.open(Left)
	_, openRight := b.open(Right)
	if b.mitred(Left) || b.mitred(Right) {
		p.Notes = append(p.Notes, "open side: mitred to the outer skirt; the long point lies at the skirt's face")
	} else if openLeft || openRight {
		p.Notes = append(p.Notes, "open side: the face ends at the side; the mitre with the outer skirt is not on this card")
	}
	if left.pointed() || right.pointed() {
		p.Notes = append(p.Notes, "the opening below comes to a point: no side was measured there, so the end is plumb and square; offer it up before cutting")
	}
	if b.i > 0 && over.Back == model.BackUnderRiser {
		below := &b.steps[b.i-1]
		if fall := below.bed.slope.Dot(t.back); fall > shownSlope {
			p.Notes = append(p.Notes, fmt.Sprintf("the tread below rises to the back: ease the lower back edge by %.1f mm so that the face stands tight", fall*p.Thickness))
		}
	}
}

// riserEnd returns the line of the face along a side.
func (b *builder) riserEnd(w *wall, part Part, side Side, kind model.SideKind) line {
	o := &b.outline
	n := w.normal()
	l := b.riserLine(n, w.beyond(o.origin))
	l.part, l.side = part, side
	l.meet(w, o, &b.job.Overlay, kind, 0)
	if kind == model.Open {
		src, _ := b.sideSource()
		switch {
		case b.i == src && b.radius(src, side) > 0: // the straight part ends where the circle begins
			l.inset = b.radius(src, side)
		case b.mitred(side) && !w.pointed():
			l.slope = b.mitreSlope(w, side)
		}
	}
	l.d -= l.inset
	return l
}

// steep finds ends that no saw's head tilts to, as in a turn where the riser
// meets its side askew.
func (b *builder) steep(p *Piece) {
	for _, at := range [2]int{1, 3} {
		l := &b.outline.lines[at]
		tilt, most, how := math.Atan(l.slope), steepBevel, "meets its side"
		if b.mitred(l.side) {
			most, how = steepMitre, "is mitred to the outer skirt"
		}
		if p.Template == "" && tilt > most {
			p.Template = fmt.Sprintf("its %s end %s at %.0f° from square, steeper than saws tilt: make a template, and finish the end with a plane", l.side, how, tilt*180/math.Pi)
		}
	}
}

// open returns the side that the riser meets, and whether it is open and not
// round.
func (b *builder) open(side Side) (*model.Side, bool) {
	src, _ := b.sideSource()
	s := &b.steps[src].job.Left
	if side == Right {
		s = &b.steps[src].job.Right
	}
	return s, s.Kind == model.Open && b.radius(src, side) == 0
}

// mitred says whether the riser is mitred to an outer skirt at a side.
func (b *builder) mitred(side Side) bool {
	s, open := b.open(side)
	return open && s.Returned
}

// riserLine returns the line of the face where a function of place, positive
// outside, is nil: grad is its gradient and at its value at q's origin.
func (b *builder) riserLine(grad mgl64.Vec3, at float64) line {
	o := &b.outline
	n := mgl64.Vec2{grad.Dot(o.ex), grad.Dot(o.ey)}
	k := 1 / n.Len()
	return line{normal: n.Mul(k), d: -at * k}
}

// level is the height that a riser's bottom or top goes by: that of a plane on a
// step, lifted, at the face or at the riser's back; or a floor.
type level struct {
	site   *site // nil: a floor
	plane  *plane
	lift   float64
	behind float64 // how far behind the face the plane is taken, mm
	under  bool    // less the new tread's thickness: its underside
}

// levelOf returns what the bottom (BackEdge) or top (Nose) of the builder's
// riser goes by. Both edges are square to the face. The bottom is seen where it
// stands on the new tread and fits at the face; hidden, it stands on the
// highest of the old tread under it. The top is never proud of the tread.
func (b *builder) levelOf(part Part) level {
	t, over := &b.steps[b.i], &b.job.Overlay
	thickness := float64(over.Riser)
	if part == Nose {
		l := level{site: t, plane: &t.bed, lift: t.lift - float64(over.RiserGap), under: true}
		if t.bed.slope.Dot(t.back) < 0 {
			l.behind = thickness
		}
		return l
	}
	if b.i == 0 {
		return level{lift: float64(over.FloorBottom)}
	}
	low := &b.steps[b.i-1]
	if over.Back == model.BackUnderRiser {
		return level{site: low, plane: &low.bed, lift: low.lift}
	}
	l := level{site: low, plane: &low.ground}
	if low.ground.slope.Dot(t.back) > 0 {
		l.behind = thickness
	}
	return l
}

// riserLevel returns the line of the face along its bottom or top.
func (b *builder) riserLevel(part Part) line {
	o, v := &b.outline, b.levelOf(part)
	grad, at := mgl64.Vec3{0, 0, -1}, v.lift
	if v.site != nil {
		p := o.origin.Vec2().Add(o.into.Vec2().Mul(v.behind))
		grad = v.plane.slope.Vec3(-1)
		at += v.site.height(v.plane, p)
		if v.under {
			at -= v.site.plumbThickness()
		}
	}
	if part == Nose { // outside is above
		grad, at = grad.Mul(-1), -at
	}
	l := b.riserLine(grad, at)
	l.part = part
	return l
}

// riserGrads fills in how the two lines at each corner move, square to
// themselves in the face, with the unknowns of the step and of the one below.
// A line is where a function f of place is nil; a point of it that keeps its
// place in q is carried by the face, so the line moves outward there by
//
//	-(df + ∇f·dp) / |∇f in the face|.
func (b *builder) riserGrads(walls [4]*wall) {
	o, t := &b.outline, &b.steps[b.i]
	set := float64(b.job.Overlay.Overhang)
	for j := range 4 {
		for side, at := range [2]int{(j + 3) % 4, j} {
			l := &o.lines[at]
			r := &b.grads[j][side]
			// The line before its inset: the two stay parallel.
			q := o.vertices[j].Add(l.normal.Mul(l.inset))
			p := o.origin.Add(o.ex.Mul(q[0])).Add(o.ey.Mul(q[1]))
			if w := walls[at]; w != nil {
				grad := w.normal()
				k := -1 / math.Hypot(grad.Dot(o.ex), grad.Dot(o.ey))
				w.addBeyond(b.block(r, w.site), p, k)
				addCarried(r, t, grad.Vec2().Mul(k), q[0], set)
				continue
			}
			v := b.levelOf(l.part)
			if v.site == nil {
				continue
			}
			grad := v.plane.slope
			k := -1 / math.Hypot(grad.Dot(o.ex.Vec2()), 1)
			if l.part == Nose {
				k = -k
			}
			g := b.block(r, v.site)
			v.site.addHeight(g, v.plane, p.Vec2().Add(o.into.Vec2().Mul(v.behind)), k)
			if v.under {
				v.site.addPlumbThickness(g, -k)
			}
			addCarried(r, t, grad.Mul(k), q[0], set+v.behind)
		}
	}
}

// block returns the half of r that holds the unknowns of a step.
func (b *builder) block(r *row, t *site) *[maxUnknowns]float64 {
	if t == &b.steps[b.i] {
		return &r.own
	}
	return &r.below
}

// addCarried adds the weight, in plan, of moving with the face a point that
// stays s along the nose line and set behind it: turning the line by ω carries
// it by -set·ω along and s·ω back.
func addCarried(r *row, t *site, weight mgl64.Vec2, s, set float64) {
	a, c := weight.Dot(t.along), weight.Dot(t.back)
	turn := (c*s - a*set) / t.width
	t.addPoint(&r.own, t.step.FL, a, c-turn)
	t.addPoint(&r.own, t.step.FR, 0, turn)
}

// addPlumbThickness adds k times the derivative of plumbThickness to g.
func (t *site) addPlumbThickness(g *[maxUnknowns]float64, k float64) {
	f := k * t.thickness / math.Sqrt(1+t.bed.slope.Dot(t.bed.slope))
	topLeft, topRight, fall, _, _, _ := unknowns(t)
	across := f * t.bed.across / t.width
	g[topLeft] -= across
	g[topRight] += across
	g[fall] += f * t.step.Fall
	t.addPoint(g, t.step.FL, across*t.bed.across, 0)
	t.addPoint(g, t.step.FR, -across*t.bed.across, 0)
}
