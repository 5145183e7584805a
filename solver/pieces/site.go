package pieces

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/survey"
)

// maxUnknowns is the most unknowns a step has: two for each of six corners, two
// heights, a fall and two leans.
const maxUnknowns = 2*model.MaxCorners + 5

// site is one step of the estimate with what the boards on it need again and
// again. The nose line is FL to FR; along is its direction in plan, back the
// direction square to it, up the flight.
type site struct {
	step *survey.Step
	job  *model.Step

	along, back mgl64.Vec2
	width       float64 // of the nose line in plan

	bed    plane // what the new tread lies on: the existing tread, or the packing on it
	ground plane // what a riser on the old tread stands on

	// pack is the packing at the left end of the nose line, packAcross how much
	// more it is along the nose line, mm in mm.
	pack, packAcross float64

	lift      float64 // from the bed up to the new tread's face, plumb
	thickness float64 // of the new tread, square to its face
	kept      bool    // cov is there: the estimate says how sure it is
}

// plane has height h + slope·(p - FL) at p. across is its slope along the nose
// line; the slope along back is the tread's fall, which packing does not change.
type plane struct {
	h      float64
	across float64
	slope  mgl64.Vec2
}

// planeOf returns the plane through two heights above the ends of the nose line.
func (t *site) planeOf(left, right float64) plane {
	across := (right - left) / t.width
	return plane{h: left, across: across, slope: t.along.Mul(across).Add(t.back.Mul(t.step.Fall))}
}

func siteOf(job *model.Job, res *survey.Result, i int) site {
	s, j := &res.Steps[i], &job.Flight.Steps[i]
	t := site{step: s, job: j, thickness: float64(job.TreadThickness(i))}
	d := s.Corners[s.FR].Sub(s.Corners[s.FL])
	t.width = d.Len()
	t.along = d.Mul(1 / t.width)
	t.back = mgl64.Vec2{-t.along[1], t.along[0]}
	left, right := float64(j.PackLeft), float64(j.PackRight)
	t.bed = t.planeOf(s.TopLeft+left, s.TopRight+right)
	t.lift = t.thickness
	t.pack, t.packAcross = left, (right-left)/t.width
	if i == len(job.Flight.Steps)-1 {
		t.bed = t.planeOf(s.TopLeft, s.TopRight)
		t.lift = float64(job.Overlay.FloorTop)
		t.pack, t.packAcross = 0, 0
	}
	// Packing lies beside a riser that stands on the old tread, but what is
	// planed off is gone from under it; planed at one side only, the riser
	// stands on the other.
	if left > 0 || right > 0 {
		left, right = 0, 0
	}
	t.ground = t.planeOf(s.TopLeft+left, s.TopRight+right)
	_, _, _, _, _, n := survey.Unknowns(len(s.Corners))
	t.kept = len(s.Cov) == n*n
	return t
}

// height returns the height of a plane at p.
func (t *site) height(l *plane, p mgl64.Vec2) float64 {
	return l.h + l.slope.Dot(p.Sub(t.step.Corners[t.step.FL]))
}

// raised returns how far the new tread's face lies above the existing tread at
// p, plumb.
func (t *site) raised(p mgl64.Vec2) float64 {
	return t.lift + t.pack + t.packAcross*t.along.Dot(p.Sub(t.step.Corners[t.step.FL]))
}

// top returns the point of the new tread's face above corner c.
func (t *site) top(c int) mgl64.Vec3 {
	p := t.step.Corners[c]
	return mgl64.Vec3{p[0], p[1], t.height(&t.bed, p) + t.lift}
}

// plumbThickness returns the plumb distance from the new tread's face down to
// its underside; more than the thickness when the tread tilts.
func (t *site) plumbThickness() float64 {
	return t.thickness * math.Sqrt(1+t.bed.slope.Dot(t.bed.slope))
}

// addHeight adds k times the derivative of the height of plane l at a fixed p to
// g, which is a gradient with respect to the step's unknowns.
//
// With u the place of p along the nose line (0 left, 1 right) and v how far it
// lies behind it, height = (1-u)TopLeft + u TopRight + v Fall, where the two
// tops are those of the plane: packing is laid, not measured. Moving the ends
// of the line by (t, b) along and back changes
//
//	du = -((1-u)tL + u tR)/w + v(bR - bL)/w²,  dv = -((1-u)bL + u bR).
func (t *site) addHeight(g *[maxUnknowns]float64, l *plane, p mgl64.Vec2, k float64) {
	d := p.Sub(t.step.Corners[t.step.FL])
	u, v := d.Dot(t.along)/t.width, d.Dot(t.back)
	topLeft, topRight, fall, _, _, _ := survey.Unknowns(len(t.step.Corners))
	g[topLeft] += k * (1 - u)
	g[topRight] += k * u
	g[fall] += k * v
	turn := l.across * v / t.width
	t.addPoint(g, t.step.FL, -k*(1-u)*l.across, k*(-turn-(1-u)*t.step.Fall))
	t.addPoint(g, t.step.FR, -k*u*l.across, k*(turn-u*t.step.Fall))
}

// addPoint adds to g what it means to move corner c by a along the nose line
// and b back from it: a and b are the weights of those two.
func (t *site) addPoint(g *[maxUnknowns]float64, c int, a, b float64) {
	g[2*c] += a*t.along[0] + b*t.back[0]
	g[2*c+1] += a*t.along[1] + b*t.back[1]
}

// wall is the plane of a side, through corners a and b of the opening at the
// height of the new tread's face. In it
//
//	out·(p - A) - tan(lean)·(z - line height above p) = 0,
//
// and this is positive beyond the side.
type wall struct {
	site       *site
	a, b       int // corners; equal where the opening comes to a point
	from, to   mgl64.Vec3
	along, out mgl64.Vec2 // in plan: from a to b, and square to it away from the stair
	length     float64    // from a to b in plan
	rise       float64    // slope of the line from a to b, rise over plan run
	lean, tan  float64
	leanIndex  int // of the lean among the unknowns
}

// wallOf returns the plane of a side as it is at the back of the opening, or
// at its front.
func (t *site) wallOf(side Side, atFront bool) wall {
	s := t.step
	n := len(s.Corners)
	switch {
	case side == Left && s.BL == s.FL:
		return t.wallAtPoint(side, s.FL)
	case side == Right && s.BR == s.FR:
		return t.wallAtPoint(side, s.FR)
	case side == Left && atFront:
		return t.wallThrough(side, (s.FL+n-1)%n, s.FL)
	case side == Left:
		return t.wallThrough(side, s.BL, (s.BL+1)%n)
	case atFront:
		return t.wallThrough(side, s.FR, (s.FR+1)%n)
	}
	return t.wallThrough(side, (s.BR+n-1)%n, s.BR)
}

// wallThrough returns the plane of a side through two corners, which follow
// each other anticlockwise.
func (t *site) wallThrough(side Side, a, b int) wall {
	s := t.step
	w := wall{site: t, a: a, b: b, from: t.top(a), to: t.top(b), lean: s.Lean[side], leanIndex: leanIndex(s, side)}
	d := s.Corners[b].Sub(s.Corners[a])
	w.length = d.Len()
	w.along = d.Mul(1 / w.length)
	// Corners run anticlockwise seen from above, so the stair is on the left.
	w.out = mgl64.Vec2{w.along[1], -w.along[0]}
	w.rise = (w.to[2] - w.from[2]) / w.length
	w.tan = math.Tan(w.lean)
	return w
}

// wallAtPoint stands in for a side that has no edge, where the opening comes to
// a point: the plumb plane through the point, square to the nose line. No lean
// was measured there.
func (t *site) wallAtPoint(side Side, c int) wall {
	w := wall{site: t, a: c, b: c, from: t.top(c), to: t.top(c), along: t.back, out: t.along, length: 1,
		leanIndex: leanIndex(t.step, side)}
	if side == Left {
		w.out = w.out.Mul(-1)
	}
	return w
}

func leanIndex(s *survey.Step, side Side) int {
	_, _, _, left, right, _ := survey.Unknowns(len(s.Corners))
	if side == Right {
		return right
	}
	return left
}

// pointed says that the opening has no edge on this side.
func (w *wall) pointed() bool { return w.a == w.b }

// beyond returns how far a point lies past the side, measured level and square
// to it in plan; negative inside.
func (w *wall) beyond(p mgl64.Vec3) float64 {
	d := mgl64.Vec2{p[0] - w.from[0], p[1] - w.from[1]}
	return w.out.Dot(d) - w.tan*(p[2]-w.from[2]-w.rise*w.along.Dot(d))
}

// normal is the gradient of beyond: square to the plane, outward, not unit.
func (w *wall) normal() mgl64.Vec3 {
	n := w.out.Add(w.along.Mul(w.tan * w.rise))
	return mgl64.Vec3{n[0], n[1], -w.tan}
}

// addBeyond adds k times the derivative of beyond(p), at a fixed p, to g.
func (w *wall) addBeyond(g *[maxUnknowns]float64, p mgl64.Vec3, k float64) {
	if w.pointed() {
		// The plane goes with the point and turns with the nose line.
		t := w.site
		d := mgl64.Vec2{p[0] - w.from[0], p[1] - w.from[1]}
		turn := k * d.Dot(t.back) * w.out.Dot(t.along) / t.width
		g[2*w.a] -= k * w.out[0]
		g[2*w.a+1] -= k * w.out[1]
		t.addPoint(g, t.step.FR, 0, turn)
		t.addPoint(g, t.step.FL, 0, -turn)
		return
	}
	d := mgl64.Vec2{p[0] - w.from[0], p[1] - w.from[1]}
	u, v := w.along.Dot(d)/w.length, w.out.Dot(d)
	add := func(c int, along, out float64) {
		g[2*c] += k * (along*w.along[0] + out*w.out[0])
		g[2*c+1] += k * (along*w.along[1] + out*w.out[1])
	}
	// The line's height above p: its ends ride on the tread's plane, and the
	// place u of p along it moves as in addHeight.
	lift := w.tan * w.rise
	turn := lift * v / w.length
	add(w.a, -lift*(1-u), -(1-u)-turn)
	add(w.b, -lift*u, -u+turn)
	for c, share := range [2]float64{1 - u, u} {
		corner := w.a
		if c == 1 {
			corner = w.b
		}
		f := k * w.tan * share
		w.site.addHeight(g, &w.site.bed, w.site.step.Corners[corner], f)
		g[2*corner] += f * w.site.bed.slope[0]
		g[2*corner+1] += f * w.site.bed.slope[1]
	}
	above := p[2] - w.from[2] - w.rise*w.along.Dot(d)
	g[w.leanIndex] -= k * (1 + w.tan*w.tan) * above
}
