package section

import (
	"math"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/survey"
	"risewright/view/drawing"
	"risewright/view/handle"
)

// Sizes in stair millimetres of what is only hinted at.
const (
	hallShown   = 420 // of the bottom floor before the flight
	floorBeyond = 420 // of the top floor behind the landing nosing
	slabBottom  = 90  // thickness of the bottom floor
	slabTop     = 200 // and of the top floor
	roofShown   = 300 // length of what hangs over a headroom point
)

// Lines of the section.
var (
	boardLine = drawing.Stroke{Ink: drawing.Line, Width: drawing.Medium}
	fineLine  = drawing.Stroke{Ink: drawing.Soft, Width: drawing.Fine}
	thinLine  = drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin}
	floorLine = drawing.Stroke{Ink: drawing.Line, Width: drawing.Medium}
	goneLine  = drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin, Dash: []float64{0.9, 0.7}}
	carcass   = drawing.Fill{Ink: drawing.Existing, Hatch: drawing.Hatch{Pattern: drawing.BackDiagonal, Spacing: 1.3, Ink: drawing.Soft, Width: drawing.Fine}}
	slab      = drawing.Fill{Ink: drawing.Ground, Hatch: drawing.Hatch{Pattern: drawing.Diagonal, Spacing: 2.2, Ink: drawing.Soft, Width: drawing.Fine}}
	pack      = drawing.Fill{Ink: drawing.Paper, Hatch: drawing.Hatch{Pattern: drawing.CrossHatch, Spacing: 0.8, Ink: drawing.Line, Width: drawing.Fine}}
)

// shape fills and outlines a polygon.
func (p *painter) shape(f drawing.Fill, s drawing.Stroke, pts ...drawing.Point) {
	p.room = append(p.room[:0], pts...)
	p.l.Polygon(p.room, f, s)
}

// box is shape for an upright box.
func (p *painter) box(x0, y0, x1, y1 float64, f drawing.Fill, s drawing.Stroke) {
	p.shape(f, s, pt(x0, y0), pt(x1, y0), pt(x1, y1), pt(x0, y1))
}

// floors draws the two old floors and what is laid on them.
func (p *painter) floors() {
	n := len(p.cuts) - 1
	first, last := &p.cuts[0], &p.cuts[n]
	x0, x1 := first.nose-hallShown, first.face
	p.box(x0, -slabBottom, x1, 0, slab, drawing.Stroke{})
	p.l.Line(pt(x0, 0), pt(x1, 0), floorLine)
	finish := drawing.Fill{Ink: drawing.Wood}
	if up := float64(p.job.Overlay.FloorBottom); up > 0 {
		p.box(x0, 0, first.face-float64(p.job.Overlay.Riser), up, finish, boardLine)
	}
	end := last.back + floorBeyond
	p.box(last.face, last.top-slabTop, end, last.top, slab, drawing.Stroke{})
	p.l.Line(pt(last.face, last.top), pt(end, last.top), floorLine)
	p.l.Line(pt(last.face, last.top-slabTop), pt(end, last.top-slabTop), fineLine)
	if up := float64(p.job.Overlay.FloorTop); up > 0 {
		p.box(last.back, last.top, end, last.top+up, finish, boardLine)
	}
}

// existing draws the old treads and risers and what became of their noses.
func (p *painter) existing() {
	tread, riser := float64(p.job.Existing.Tread), float64(p.job.Existing.Riser)
	over := float64(p.job.Existing.Overhang)
	n := len(p.cuts) - 1
	for i := range p.cuts {
		c := &p.cuts[i]
		foot, at := 0.0, c.face
		if i > 0 {
			foot = p.cuts[i-1].old(c.face)
		}
		state := p.job.Flight.Steps[i].Nosing
		if state == model.NosingPacked && over > 0 {
			p.box(c.face, foot, c.face+over, c.old(c.face)-tread, pack, fineLine)
			at = c.face + over
		}
		p.box(at, foot, at+riser, c.old(at)-tread, carcass, fineLine)
		front := c.face
		if state == model.NosingKept || state == model.NosingPacked {
			front = c.tip
		}
		back := c.back + riser
		if i == n { // the floor is there already; only its nose is drawn
			back = c.face
		}
		if back > front {
			p.slope(c, front, back, 0, -tread, carcass, fineLine)
		}
		if state == model.NosingCut && over > 0 {
			p.slope(c, c.tip, c.face, 0, -tread, drawing.Fill{}, goneLine)
		}
	}
}

// slope draws a board on the plane of the old tread, from x0 to x1 and between
// two heights above it.
func (p *painter) slope(c *cut, x0, x1, up0, up1 float64, f drawing.Fill, s drawing.Stroke) {
	p.shape(f, s, pt(x0, c.old(x0)+up0), pt(x0, c.old(x0)+up1), pt(x1, c.old(x1)+up1), pt(x1, c.old(x1)+up0))
}

// packing draws what lies between the old tread and the new one.
func (p *painter) packing() {
	for i := range p.cuts[:len(p.cuts)-1] {
		c := &p.cuts[i]
		if c.pack > 0 {
			p.slope(c, math.Max(c.face, c.nose), c.back, 0, c.pack, pack, fineLine)
		}
	}
}

// boards draws the new boards, cut where the section is taken.
func (p *painter) boards() {
	if len(p.a.Pieces) == 0 {
		for i := range p.cuts[:len(p.cuts)-1] {
			c := &p.cuts[i]
			p.slope(c, c.nose, c.back, c.lift, c.pack, drawing.Fill{Ink: drawing.WoodDark}, boardLine)
		}
		return
	}
	for n := range p.a.Pieces {
		p.board(&p.a.Pieces[n], p.boardLine())
	}
}

// boardLine returns the outline of a board: finer where boards are drawn so
// thin that the outline would hide the wood.
func (p *painter) boardLine() drawing.Stroke {
	s := boardLine
	if float64(p.job.Overlay.Tread)*p.k < 1.3 {
		s.Width = drawing.Fine
	}
	return s
}

// board draws one board.
func (p *painter) board(b *pieces.Piece, s drawing.Stroke) {
	if b.Step < 1 || b.Step > len(p.cuts) {
		return
	}
	c := &p.cuts[b.Step-1]
	if b.Kind == pieces.LandingFloor { // the way over a landing turns on it
		p.landingFloor(c, b, s)
		return
	}
	outline := p.knife.cut(b, c.at, c.way)
	if outline == nil {
		return
	}
	fill := drawing.Fill{Ink: drawing.WoodDark}
	bend := c.show - c.fall // what is shown of the fall beyond the true one
	if b.Kind == pieces.Riser {
		fill.Ink, bend = drawing.Painted, 0
	}
	if b.ID == p.o.Piece {
		fill.Ink = drawing.SelectWash
		s = drawing.Stroke{Ink: drawing.Select, Width: drawing.Thick}
	}
	p.room = p.room[:0]
	for _, q := range outline {
		p.room = append(p.room, pt(c.nose+q.X, q.Y+bend*q.X))
	}
	p.l.Polygon(p.room, fill, s)
}

// landingFloor draws what is laid on a landing, from its nosing to the next
// riser.
func (p *painter) landingFloor(c *cut, b *pieces.Piece, s drawing.Stroke) {
	fill := drawing.Fill{Ink: drawing.Wood}
	if b.ID == p.o.Piece {
		fill.Ink = drawing.SelectWash
		s = drawing.Stroke{Ink: drawing.Select, Width: drawing.Thick}
	}
	from := c.nose + float64(p.job.Overlay.LandingDepth)
	if from < c.back {
		p.slope(c, from, c.back, c.lift, c.lift-b.Thickness, fill, s)
	}
}

// chosen outlines the boards of the chosen step and points at it from below.
func (p *painter) chosen() {
	i := p.chosenStep()
	if i < 0 {
		return
	}
	for n := range p.a.Pieces {
		if p.a.Pieces[n].Step == i+1 {
			p.board(&p.a.Pieces[n], drawing.Stroke{Ink: drawing.Select, Width: drawing.Thick})
		}
	}
	tip := p.under(i)
	y := tip.Y - p.paper(0.8)
	p.shape(drawing.Fill{Ink: drawing.Select}, drawing.Stroke{},
		pt(tip.X, y), pt(tip.X-p.paper(1.5), y-p.paper(2.4)), pt(tip.X+p.paper(1.5), y-p.paper(2.4)))
}

// under returns the place below the middle of an old tread, clear of it.
func (p *painter) under(i int) drawing.Point {
	c := &p.cuts[i]
	x := (c.face + c.back) / 2
	deep := float64(p.job.Existing.Tread)
	if i == len(p.cuts)-1 {
		x, deep = c.back+floorBeyond*0.25, slabTop
	}
	return pt(x, c.old(x)-deep)
}

// ghost draws the sketched heights that differ from the estimated ones.
func (p *painter) ghost() {
	if !p.o.Ghost || p.a.Survey == nil {
		return
	}
	dots := drawing.Stroke{Ink: drawing.Hold, Width: drawing.Medium, Dash: []float64{0.5, 1.1}}
	steps := make([]survey.Step, len(p.steps))
	for i := range steps {
		if !handle.SketchStep(&steps[i], &p.job.Flight.Steps[i]) || len(steps[i].Corners) != len(p.steps[i].Corners) {
			return
		}
	}
	for i, s := range cutsOf(nil, p.job, steps, p.o) {
		c := &p.cuts[i]
		far := math.Max(math.Abs(s.top-c.top), math.Max(math.Abs(s.nose-c.nose), math.Abs(s.back-c.back)))
		if far < math.Max(1, p.paper(0.3)) {
			continue
		}
		p.room = append(p.room[:0], pt(s.face, s.old(s.face)), pt(s.back, s.old(s.back)))
		p.l.Polyline(p.room, false, dots)
		if i > 0 {
			p.l.Line(pt(s.face, p.cuts[i-1].top), pt(s.face, s.old(s.face)), dots)
		}
	}
}

// pitchLine draws the line over the new noses.
func (p *painter) pitchLine() {
	if len(p.cuts) < 2 {
		return
	}
	dashes := drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin, Dash: []float64{4, 0.9, 0.9, 0.9}}
	p.room = p.room[:0]
	for i := range p.cuts {
		p.room = append(p.room, p.newNose(i))
		if i == len(p.cuts)-1 || p.job.Flight.Steps[i].Landing { // each flight has its own
			if len(p.room) > 1 {
				p.l.Polyline(p.room, false, dashes)
			}
			p.room = p.room[:0]
		}
	}
}

// railTop returns the top of the handrail at rail height h, and the step it
// belongs to.
func (p *painter) railTop(h *model.Height) (drawing.Point, int) {
	i := p.job.StepIndex(h.Step)
	if i < 0 || !finite(float64(h.Value)) {
		return drawing.Point{}, -1
	}
	return p.oldNose(i).Add(pt(0, float64(h.Value))), i
}

// rail draws the handrail as it stands, and dashed where it would have to be
// to keep its height over the new noses.
func (p *painter) rail() {
	stands := drawing.Stroke{Ink: drawing.Line, Width: drawing.Heavy}
	keeps := drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin, Dash: []float64{2, 1}}
	for pass := range 2 {
		p.room = p.room[:0]
		one := -1
		for n := range p.job.Flight.Rail {
			h := &p.job.Flight.Rail[n]
			top, i := p.railTop(h)
			if i < 0 {
				continue
			}
			if pass == 0 {
				top = p.newNose(i).Add(pt(0, float64(h.Value)))
			}
			one = i
			p.room = append(p.room, top)
		}
		if len(p.room) == 0 {
			return
		}
		if len(p.room) == 1 { // a piece of rail along the pitch
			along := p.pitch(one).Mul(160)
			at := p.room[0]
			p.room = append(p.room[:0], at.Sub(along), at.Add(along))
		}
		sortAlong(p.room)
		if pass == 0 {
			p.l.Polyline(p.room, false, keeps)
		} else {
			p.l.Polyline(p.room, false, stands)
		}
	}
}

// sortAlong puts a few points in order along the flight.
func sortAlong(pts []drawing.Point) {
	for i := 1; i < len(pts); i++ {
		for k := i; k > 0 && pts[k].X < pts[k-1].X; k-- {
			pts[k], pts[k-1] = pts[k-1], pts[k]
		}
	}
}

// pitch returns the unit direction of the pitch line at step i.
func (p *painter) pitch(i int) drawing.Point {
	a, b := p.newNose(max(0, i-1)), p.newNose(min(len(p.cuts)-1, max(0, i-1)+1))
	d := b.Sub(a)
	if n := d.Len(); n > 0 {
		return d.Mul(1 / n)
	}
	return pt(1, 0)
}

// headroom draws what hangs over each headroom point and the clear height
// under it, from the new nose.
func (p *painter) headroom() {
	for n := range p.job.Flight.Headroom {
		h := &p.job.Flight.Headroom[n]
		top, i := p.railTop(h)
		if i < 0 {
			continue
		}
		p.box(top.X-roofShown/2, top.Y, top.X+roofShown/2, top.Y+55, slab, drawing.Stroke{})
		p.l.Line(pt(top.X-roofShown/2, top.Y), pt(top.X+roofShown/2, top.Y), floorLine)
		s := thinLine
		p.l.Arrow(pt(top.X, (top.Y+p.oldNose(i).Y)/2), top, s)
		p.l.Arrow(pt(top.X, (top.Y+p.oldNose(i).Y)/2), pt(top.X, p.lineOver(top.X, i)), s)
	}
}

// lineOver returns the height of the pitch line at x, near step i.
func (p *painter) lineOver(x float64, i int) float64 {
	a, d := p.newNose(i), p.pitch(i)
	if d.X < 1e-9 {
		return a.Y
	}
	return a.Y + (x-a.X)*d.Y/d.X
}

// handles draws those of the flight and of the chosen step, and the one under
// the pointer.
func (p *painter) handles() {
	if !p.o.Handles {
		return
	}
	hs := p.flightHandles(nil)
	chosen := p.chosenStep()
	if chosen >= 0 {
		hs = p.stepHandles(hs, chosen)
	}
	for _, id := range [2]handle.ID{p.o.Hover, p.o.Held} {
		if i := id.Step - 1; (id.Kind == handle.TreadHeight || id.Kind == handle.Overhang) && i >= 0 && i < len(p.cuts) && i != chosen {
			for _, h := range p.stepHandles(nil, i) {
				if h.ID == id {
					hs = append(hs, h)
				}
			}
		}
	}
	handle.DrawHandles(p.l, hs, p.o)
}

// flightHandles appends the handles of the floors and the rail.
func (p *painter) flightHandles(dst []handle.Handle) []handle.Handle {
	first, last := &p.cuts[0], &p.cuts[len(p.cuts)-1]
	add := func(id handle.ID, at drawing.Point) { dst = append(dst, p.make.Make(id, at)) }
	add(handle.ID{Kind: handle.FloorBottom}, pt(first.nose-hallShown*0.55, float64(p.job.Overlay.FloorBottom)))
	add(handle.ID{Kind: handle.FloorTop}, pt(last.back+floorBeyond*0.55, last.top+float64(p.job.Overlay.FloorTop)))
	for n := range p.job.Flight.Rail {
		h := &p.job.Flight.Rail[n]
		if top, i := p.railTop(h); i >= 0 {
			add(handle.ID{Kind: handle.Rail, Step: i + 1, Height: h.ID}, top)
		}
	}
	return dst
}

// stepHandles appends the handles of step i.
func (p *painter) stepHandles(dst []handle.Handle, i int) []handle.Handle {
	c := &p.cuts[i]
	x := (c.face + c.back) / 2
	y := c.old(x)
	dst = append(dst, p.make.Make(handle.ID{Kind: handle.TreadHeight, Step: i + 1}, pt(x, y)))
	half := float64(p.job.TreadThickness(i)) / 2
	return append(dst, p.make.Make(handle.ID{Kind: handle.Overhang, Step: i + 1}, pt(c.nose, c.new()-half)))
}
