package fitting

import (
	"math"
	"sort"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/pieces"
)

// half is a half-space: the points p with n·p <= d, n of unit length.
type half struct {
	n    mgl64.Vec3
	d    float64
	part pieces.Part
}

// block is a convex solid with what the search for free directions needs.
type block struct {
	normals []mgl64.Vec3 // of its facets, outward
	edges   []mgl64.Vec3 // directions of its edges, each once
	verts   []mgl64.Vec3
	facets  [][]int // loops in verts, anticlockwise seen from outside
	parts   []pieces.Part
	lo, hi  mgl64.Vec3
}

const (
	// worldReach bounds a block whose half-spaces leave it open, mm from their
	// common centre; larger than any board.
	worldReach = 2e4
	// weld is the distance, mm, below which two corners are one: coordinates
	// reach 1e5 mm with a spacing of 1.5e-11, so it survives the rounding of
	// some thousand operations and lies far below any saw.
	weld = 1e-6
	// alike is the sine below which two directions are one.
	alike = 1e-7
)

// blockOf returns the block inside all of the half-spaces, near the centre, and
// false when there is nothing.
func blockOf(centre mgl64.Vec3, halves []half) (block, bool) {
	type facet struct {
		half
		loop []mgl64.Vec3
	}
	var fs []facet
	for axis := range 3 {
		for _, s := range []float64{-1, 1} {
			var n, u mgl64.Vec3
			n[axis], u[(axis+1)%3] = s, worldReach
			v := n.Cross(u)
			at := centre.Add(n.Mul(worldReach))
			loop := []mgl64.Vec3{at.Sub(u).Sub(v), at.Add(u).Sub(v), at.Add(u).Add(v), at.Sub(u).Add(v)}
			fs = append(fs, facet{half{n: n, d: n.Dot(at)}, loop})
		}
	}
	for _, h := range halves {
		var kept []facet
		var rim []mgl64.Vec3
		for _, f := range fs {
			var loop []mgl64.Vec3
			for i, p := range f.loop {
				q := f.loop[(i+1)%len(f.loop)]
				dp, dq := h.n.Dot(p)-h.d, h.n.Dot(q)-h.d
				if dp <= weld {
					loop = append(loop, p)
				}
				if math.Abs(dp) <= weld {
					rim = append(rim, p)
				}
				if dp < -weld && dq > weld || dp > weld && dq < -weld {
					x := p.Add(q.Sub(p).Mul(dp / (dp - dq)))
					loop, rim = append(loop, x), append(rim, x)
				}
			}
			if len(loop) >= 3 {
				f.loop = loop
				kept = append(kept, f)
			}
		}
		fs = kept
		if loop := around(rim, h.n); len(loop) >= 3 {
			same := false // a facet that lies in h already
			for _, f := range fs {
				same = same || f.n.Dot(h.n) > 1-alike && math.Abs(f.d-h.d) < weld*10
			}
			if !same {
				fs = append(fs, facet{h, loop})
			}
		}
		if len(fs) < 4 {
			return block{}, false
		}
	}
	var b block
	at := func(p mgl64.Vec3) int {
		for i, v := range b.verts {
			if v.Sub(p).Len() <= weld*10 {
				return i
			}
		}
		b.verts = append(b.verts, p)
		return len(b.verts) - 1
	}
	for _, f := range fs {
		var loop []int
		for _, p := range f.loop {
			if i := at(p); len(loop) == 0 || loop[len(loop)-1] != i && loop[0] != i {
				loop = append(loop, i)
			}
		}
		if len(loop) < 3 {
			continue
		}
		b.normals = append(b.normals, f.n)
		b.facets = append(b.facets, loop)
		b.parts = append(b.parts, f.part)
		for i, p := range loop {
			e := b.verts[loop[(i+1)%len(loop)]].Sub(b.verts[p]).Normalize()
			b.edges = direction(b.edges, e)
		}
	}
	if len(b.facets) < 4 {
		return block{}, false
	}
	b.lo, b.hi = b.verts[0], b.verts[0]
	for _, v := range b.verts {
		for i := range 3 {
			b.lo[i], b.hi[i] = math.Min(b.lo[i], v[i]), math.Max(b.hi[i], v[i])
		}
	}
	return b, true
}

// direction appends e unless it or its opposite is there.
func direction(es []mgl64.Vec3, e mgl64.Vec3) []mgl64.Vec3 {
	for _, x := range es {
		if x.Cross(e).Len() < alike {
			return es
		}
	}
	return append(es, e)
}

// around orders points of a plane anticlockwise seen against n, each once.
func around(ps []mgl64.Vec3, n mgl64.Vec3) []mgl64.Vec3 {
	if len(ps) < 3 {
		return nil
	}
	var c mgl64.Vec3
	for _, p := range ps {
		c = c.Add(p.Mul(1 / float64(len(ps))))
	}
	u := ps[0].Sub(c)
	for _, p := range ps {
		if p.Sub(c).Len() > u.Len() {
			u = p.Sub(c)
		}
	}
	if u.Len() < weld {
		return nil
	}
	u = u.Normalize()
	v := n.Cross(u)
	turn := func(p mgl64.Vec3) float64 { return math.Atan2(p.Sub(c).Dot(v), p.Sub(c).Dot(u)) }
	sort.Slice(ps, func(i, k int) bool { return turn(ps[i]) < turn(ps[k]) })
	var out []mgl64.Vec3
	for _, p := range ps {
		if len(out) == 0 || out[len(out)-1].Sub(p).Len() > weld && out[0].Sub(p).Len() > weld {
			out = append(out, p)
		}
	}
	return out
}

// solid returns the block as package pieces has its solids.
func (b *block) solid() pieces.Solid {
	s := pieces.Solid{Verts: b.verts, Convex: true}
	for i, l := range b.facets {
		s.Faces = append(s.Faces, pieces.Facet{Normal: b.normals[i], Offset: b.normals[i].Dot(b.verts[l[0]]), Loop: l, Part: b.parts[i]})
	}
	return s
}

// rub is how deep, in mm, two boards may seem to overlap and still count as
// touching: a shaving off either.
const rub = 0.05

// overlap returns how deep b lies in o: the least shift that would part them;
// negative when there is a gap.
func (b *block) overlap(o *block) float64 {
	least := math.Inf(1)
	axes(b, o, nil, func(m mgl64.Vec3) bool {
		least = math.Min(least, gapAlong(b, o, m)*-1)
		return false
	})
	return least
}

// overlapWithin returns overlap, and 0 where there is none or where it is more
// than the limit; it stops where it knows.
func (b *block) overlapWithin(o *block, limit float64) float64 {
	least := math.Inf(1)
	if axes(b, o, nil, func(m mgl64.Vec3) bool {
		least = math.Min(least, gapAlong(b, o, m)*-1)
		return least <= 0
	}) || least > limit {
		return 0
	}
	return least
}

// gapAlong returns how far o lies beyond b in the direction m.
func gapAlong(b, o *block, m mgl64.Vec3) float64 {
	most, least := math.Inf(-1), math.Inf(1)
	for i := range b.verts {
		if x := m.Dot(b.verts[i]); x > most {
			most = x
		}
	}
	for i := range o.verts {
		if x := m.Dot(o.verts[i]); x < least {
			least = x
		}
	}
	return least - most
}

// axes calls try with the directions among which a plane between b and o must
// have its normal, if b is swept along dir as well (nil: it is not), until try
// returns true; then it returns true. The normals point from b to o.
func axes(b, o *block, dir *mgl64.Vec3, try func(mgl64.Vec3) bool) bool {
	for _, n := range b.normals {
		if try(n) {
			return true
		}
	}
	for _, n := range o.normals {
		if try(n.Mul(-1)) {
			return true
		}
	}
	both := func(e, f mgl64.Vec3) bool {
		m := e.Cross(f)
		l := m.Len()
		if l < alike {
			return false
		}
		m = m.Mul(1 / l)
		return try(m) || try(m.Mul(-1))
	}
	for _, e := range b.edges {
		if dir != nil && both(e, *dir) {
			return true
		}
		for _, f := range o.edges {
			if both(e, f) {
				return true
			}
		}
	}
	if dir != nil {
		for _, f := range o.edges {
			if both(f, *dir) {
				return true
			}
		}
	}
	return false
}

// clear says whether b can be moved along dir (unit) by reach without entering
// o by more than slack. Exactly: the block swept out by b is convex, so it
// keeps clear of o when a plane parts the two, and the normal of one such plane
// is among those of the facets of either, or square to an edge of each, where
// the sweep has edges along dir as well.
func (b *block) clear(dir mgl64.Vec3, reach, slack float64, o *block) bool {
	if !b.near(dir, reach, slack, o) {
		return true
	}
	return axes(b, o, &dir, func(m mgl64.Vec3) bool {
		return gapAlong(b, o, m)-math.Max(0, reach*m.Dot(dir)) >= -slack
	})
}

// near says whether the box round b, swept along dir, meets the box round o.
func (b *block) near(dir mgl64.Vec3, reach, slack float64, o *block) bool {
	for i := range 3 {
		move := dir[i] * reach
		if b.hi[i]+math.Max(0, move) < o.lo[i]+slack || b.lo[i]+math.Min(0, move) > o.hi[i]-slack {
			return false
		}
	}
	return true
}
