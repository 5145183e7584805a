package fitting

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/skirt"
	"risewright/solver/survey"
)

// stage says when the board of a side comes, as far as geometry goes.
type stage int

const (
	noBoard     stage = iota // nothing but the wall, or an open side
	boardFirst               // before risers and treads, which butt it
	boardMiddle              // after the risers, before the treads
	boardLast                // after both, over them
)

// sideShape is a side as far as geometry goes. All distances are mm inside the
// surveyed side, negative beyond it.
type sideShape struct {
	open      bool
	stage     stage
	face      float64 // of the board
	back      float64 // of the board
	wall      float64 // what is behind it
	riserEnds float64 // where the ends of the risers are
	treadEnds float64
	grooved   bool // the treads' ends lie in grooves of the board
	fixed     bool // the board is there from the start
}

// grooveDepth is how deep ends are housed: about 10 mm (3/8 in), as the trade
// notes have it from a published photograph.
const grooveDepth = 10.0

func shapeOf(kind model.SideKind, d Decision, spec skirt.Spec, side pieces.Side) sideShape {
	var s sideShape
	old := spec.OldThickness[side]
	switch d.Board {
	case OpenSide:
		return sideShape{open: true}
	case BareWall:
		return s
	case KeptSkirt:
		s.back, s.wall, s.fixed = -old, -old, true
	case FalseBoard:
		s.face = skirt.Stand(kind, skirt.False, spec, side)
	case NewSkirt:
		s.face = skirt.Stand(kind, skirt.New, spec, side)
		s.back = s.face - spec.NewThickness
		s.wall = s.back
	}
	s.stage = boardFirst
	s.riserEnds, s.treadEnds = s.face, s.face
	if d.RiserPast {
		s.stage, s.riserEnds = boardMiddle, s.back
	}
	if d.TreadPast {
		s.stage, s.treadEnds = boardLast, s.back
	}
	// The ends under a board that goes on last need not reach the wall; half
	// of the board's thickness covers them.
	if d.RiserPast {
		s.riserEnds = (s.face + s.back) / 2
	}
	if d.TreadPast {
		s.treadEnds = (s.face + s.back) / 2
	}
	if d.Ends == Housed {
		s.grooved = true
		s.treadEnds = s.face - grooveDepth
	}
	return s
}

// site is one step of the stair with the planes that the layout needs.
type site struct {
	tread, riser *pieces.Piece
	side         [2]half // W·p = d on the surveyed side, W into the stair
	nose         half    // its normal points forward
	face         half    // of the riser below: points forward
	rough        half    // the back of that riser, the old riser's face: points forward
	top, under   half    // of the tread: point up and down
	centre       mgl64.Vec3
	along, back  mgl64.Vec3 // level: right, and up the flight square to the nose
	width        float64
}

func facetOf(p *pieces.Piece, part pieces.Part) (half, bool) {
	for _, f := range p.Solid.Faces {
		if f.Part == part {
			n := mgl64.TransformNormal(f.Normal, p.Frame).Normalize()
			return half{n, n.Dot(mgl64.TransformCoordinate(p.Solid.Verts[f.Loop[0]], p.Frame)), part}, true
		}
	}
	return half{}, false
}

func (h half) flipped() half         { return half{h.n.Mul(-1), -h.d, h.part} }
func (h half) grown(by float64) half { h.d += by; return h }

// sitesOf returns the steps, or false when a board cannot be.
func sitesOf(res *survey.Result, ps []pieces.Piece) ([]site, bool) {
	out := make([]site, len(res.Steps))
	for i := range out {
		s, t := &res.Steps[i], &out[i]
		t.riser, t.tread = &ps[2*i], &ps[2*i+1]
		if t.riser.Impossible != "" || t.tread.Impossible != "" {
			return nil, false
		}
		var ok [6]bool
		t.nose, ok[0] = facetOf(t.tread, pieces.Nose)
		t.top, ok[1] = facetOf(t.tread, pieces.ShowFace)
		t.under, ok[2] = facetOf(t.tread, pieces.Underside)
		t.face, ok[3] = facetOf(t.riser, pieces.ShowFace)
		t.rough, ok[4] = facetOf(t.riser, pieces.Underside)
		t.rough, ok[5] = t.rough.flipped(), true
		for _, x := range ok {
			if !x {
				return nil, false
			}
		}
		for _, v := range t.tread.Solid.Verts {
			t.centre = t.centre.Add(mgl64.TransformCoordinate(v, t.tread.Frame).Mul(1 / float64(len(t.tread.Solid.Verts))))
		}
		e := s.Corners[s.FR].Sub(s.Corners[s.FL])
		t.width = e.Len()
		e = e.Mul(1 / t.width)
		t.along, t.back = e.Vec3(0), mgl64.Vec3{-e[1], e[0], 0}
		n := len(s.Corners)
		t.side[0] = t.sidePlane(s, s.BL, (s.BL+1)%n, s.Lean[0], t.along)
		t.side[1] = t.sidePlane(s, (s.BR+n-1)%n, s.BR, s.Lean[1], t.along.Mul(-1))
		if t.tread.Kind == pieces.LandingNosing { // it lies at the front
			t.side[0] = t.sidePlane(s, (s.FL+n-1)%n, s.FL, s.Lean[0], t.along)
			t.side[1] = t.sidePlane(s, s.FR, (s.FR+1)%n, s.Lean[1], t.along.Mul(-1))
		}
		if s.BL == s.FL {
			t.side[0] = t.sidePlane(s, s.FL, s.FL, 0, t.along)
		}
		if s.BR == s.FR {
			t.side[1] = t.sidePlane(s, s.FR, s.FR, 0, t.along.Mul(-1))
		}
	}
	return out, true
}

// sidePlane returns the plane of a side through two corners at the height of the
// tread's face, leaning; in points into the stair.
func (t *site) sidePlane(s *survey.Step, a, b int, lean float64, in mgl64.Vec3) half {
	at := func(c int) mgl64.Vec3 {
		p := s.Corners[c]
		z := (t.top.d - t.top.n[0]*p[0] - t.top.n[1]*p[1]) / t.top.n[2]
		return mgl64.Vec3{p[0], p[1], z}
	}
	p, q := at(a), at(b)
	if a == b {
		return half{n: in, d: in.Dot(p)}
	}
	d := q.Sub(p)
	l := math.Hypot(d[0], d[1])
	along := mgl64.Vec3{d[0] / l, d[1] / l, 0}
	out := mgl64.Vec3{along[1], -along[0], 0}
	if out.Dot(in) > 0 {
		out = out.Mul(-1)
	}
	n := out.Add(along.Mul(math.Tan(lean) * d[2] / l)).Sub(mgl64.Vec3{0, 0, math.Tan(lean)}).Normalize().Mul(-1)
	return half{n: n, d: n.Dot(p)}
}

const (
	skirtRise = 300.0  // how far a skirt stands above a tread, mm: beyond any that is bought
	wallRise  = 1000.0 // how far a wall is looked at above a tread
	wallDepth = 40.0   // how thick it is drawn
	frontRun  = 100.0  // how far the first step's side runs in front of its nose
	overRun   = 60.0   // how far old work is drawn beyond the sides
	// bedGap keeps the drawn side off the neighbouring steps' boards, which go
	// by their own readings, mm.
	bedGap = 0.5
)

// board returns a tread or riser as it is for the two sides: the solid of
// package pieces with its ends moved.
func (t *site) board(p *pieces.Piece, sides [2]sideShape) (block, bool) {
	if !p.Solid.Convex {
		return block{}, false
	}
	var hs []half
	centre := mgl64.Vec3{}
	for _, v := range p.Solid.Verts {
		centre = centre.Add(mgl64.TransformCoordinate(v, p.Frame).Mul(1 / float64(len(p.Solid.Verts))))
	}
	for _, f := range p.Solid.Faces {
		n := mgl64.TransformNormal(f.Normal, p.Frame).Normalize()
		h := half{n, n.Dot(mgl64.TransformCoordinate(p.Solid.Verts[f.Loop[0]], p.Frame)), f.Part}
		for s, part := range [2]pieces.Part{pieces.LeftEnd, pieces.RightEnd} {
			if f.Part == part && !sides[s].open {
				ends := sides[s].treadEnds
				if p.Kind == pieces.Riser {
					ends = sides[s].riserEnds
				}
				// the ends stay parallel to the side; the level distance
				h.d -= ends
			}
		}
		hs = append(hs, h)
	}
	return blockOf(centre, hs)
}

// between returns the layer of a side from one distance inside the surveyed
// side to another.
func (t *site) between(side int, from, to float64) []half {
	w := t.side[side]
	return []half{w.grown(to), w.flipped().grown(-from)}
}

func level(z float64, up bool) half {
	if up {
		return half{n: mgl64.Vec3{0, 0, 1}, d: z}
	}
	return half{n: mgl64.Vec3{0, 0, -1}, d: -z}
}

// layer returns a layer of a side along step i as blocks that touch no board of
// another step: over the tread from its nose to the next, and under the next
// tread back to the old riser. next is nil for the last step.
func (t *site) layer(side int, first bool, next *site, from, to, rise float64) []block {
	var out []block
	add := func(hs ...half) {
		if b, ok := blockOf(t.centre, append(hs, t.between(side, from, to)...)); ok {
			out = append(out, b)
		}
	}
	top := level(t.centre[2]+rise, true)
	bed := t.under.grown(bedGap)
	back := half{n: t.back, d: t.back.Dot(t.centre) + t.width}
	if next != nil {
		back = next.nose.flipped()
		add(next.nose, next.rough.flipped().grown(2), t.under.grown(bedGap), next.under.flipped().grown(-bedGap))
	}
	add(t.nose, back, bed, top)
	if first {
		run := t.nose.grown(frontRun)
		add(run, t.rough.flipped().grown(2), t.under.flipped().grown(-bedGap), level(t.centre[2]-2*skirtRise, false))
	}
	return out
}

// skirtBlocks returns the board of a side along step i, its lower edge leaning
// by the undercut.
func (t *site) skirtBlocks(side int, s *sideShape, first bool, next *site, undercut float64) []block {
	switch s.stage {
	case noBoard:
		return nil
	case boardFirst:
		if s.grooved {
			return t.groovedBlocks(side, s, first, next)
		}
		return t.layer(side, first, next, s.back, s.face, skirtRise)
	}
	w := t.side[side]
	// A facet of a board that meets an obstacle (whose outward normal is n)
	// recedes from it by t tan(undercut) at the depth t behind the show face.
	recede := func(h half) half {
		k := math.Tan(undercut)
		n := h.n.Add(w.n.Mul(k))
		d := h.d + k*(w.d+s.face)
		l := n.Len()
		return half{n.Mul(-1 / l), -d / l, h.part}
	}
	var out []block
	add := func(hs ...half) {
		if b, ok := blockOf(t.centre, append(hs, t.between(side, s.back, s.face)...)); ok {
			out = append(out, b)
		}
	}
	rest := t.top
	if s.stage == boardMiddle { // on the old tread, where the new one's underside will be
		rest = t.under.flipped()
	}
	top := level(t.centre[2]+skirtRise, true)
	back := half{n: t.back, d: t.back.Dot(t.centre) + t.width}
	front := t.nose
	if s.stage == boardMiddle {
		front = t.face
	}
	if next != nil {
		if s.stage == boardMiddle {
			back = recede(next.face)
		} else {
			back = recede(next.nose)
			add(next.nose, recede(next.face), recede(rest), recede(next.under))
		}
	}
	add(front, back, recede(rest), top)
	if first { // in front of the first riser, on the floor
		floor := level(0, false)
		add(t.nose.grown(frontRun), recede(t.face), floor, recede(t.under))
	}
	return out
}

// groovedBlocks returns a board with a groove for the tread: whole behind it,
// and in the depth of the groove all round it.
func (t *site) groovedBlocks(side int, s *sideShape, first bool, next *site) []block {
	floor := s.face - grooveDepth
	out := t.layer(side, first, next, s.back, floor, skirtRise)
	for _, b := range t.layer(side, first, next, floor, s.face, skirtRise) {
		// above, below, in front of and behind the tread
		for _, cut := range []half{t.top.flipped(), t.under.flipped(), t.nose.flipped()} {
			hs := []half{cut}
			for i, n := range b.normals {
				hs = append(hs, half{n: n, d: n.Dot(b.verts[b.facets[i][0]])})
			}
			if c, ok := blockOf(t.centre, hs); ok {
				out = append(out, c)
			}
		}
	}
	// the stopped end of the groove, in front of the nose
	if b, ok := blockOf(t.centre, append([]half{t.nose.flipped(), t.nose.grown(frontRun), t.top.grown(skirtRise / 2), t.under.grown(skirtRise / 2)}, t.between(side, floor, s.face)...)); ok {
		out = append(out, b)
	}
	return out
}

// oldWork returns the old step under the tread and behind the riser.
func (t *site) oldWork(next *site) []block {
	along := t.along
	mid := along.Dot(t.centre)
	hs := []half{
		t.under.flipped(), t.rough, level(t.centre[2]-2*skirtRise, false),
		{n: along, d: mid + t.width/2 + overRun}, {n: along.Mul(-1), d: -mid + t.width/2 + overRun},
	}
	if next != nil {
		hs = append(hs, next.rough.flipped())
	} else {
		hs = append(hs, half{n: t.back, d: t.back.Dot(t.centre) + t.width})
	}
	// behind the old riser's face: where rough, which points forward, is negative
	if b, ok := blockOf(t.centre, hs); ok {
		return []block{b}
	}
	return nil
}
