package still

import (
	"math"
	"sort"

	"risewright/view/scene"
)

// This file finds what a ray meets: a tree of boxes over the triangles.

// triangle is a corner and two edges, for the test of Möller and Trumbore (1997).
type triangle struct {
	p, e1, e2 vec
	id        int32 // in Scene.Triangles
	lets      float32
}

// node holds the boxes of its two children side by side, so that both are tested
// with one look at memory. Boxes are low x, y, z and then high x, y, z; two
// places are left over so that an index needs no check.
type node struct {
	box   [2][8]float32
	child [2]int32 // a node; or of a leaf ^first, with count triangles
	count [2]int32 // 0 for a node
}

// tree is read-only once built.
type tree struct {
	nodes     []node
	triangles []triangle
}

const (
	// boxSlack widens every box, mm: a coordinate of 1e5 mm rounds to float32
	// with an error of 4e-3 mm, so do the origin of a ray and the products.
	boxSlack = 0.02
	// leastHit is how far a ray goes before it meets anything, mm: far above the
	// rounding of float64 at 1e5 mm, and far below any thickness.
	leastHit = 1e-3
	bins     = 16
	// largestLeaf is how many triangles a leaf may have when splitting it
	// further costs more than it saves; a test is taken to cost one box.
	largestLeaf = 8
	// deepest bounds the stack of a search. A split halves the count at worst
	// beyond deepest/2, so 2^32 triangles would fit.
	deepest = 64
)

type item struct {
	lo, hi, mid vec
	id          int32
}

func newTree(s *scene.Scene) *tree {
	items := make([]item, 0, len(s.Triangles))
	ready := make([]triangle, len(s.Triangles))
	for i := range s.Triangles {
		t := &s.Triangles[i]
		a, b, c := vecOf(t.P[0]), vecOf(t.P[1]), vecOf(t.P[2])
		ready[i] = triangle{p: a, e1: b.sub(a), e2: c.sub(a), id: int32(i), lets: float32(s.Materials[t.Material].Lets)}
		if s.Materials[t.Material].Pane {
			ready[i].lets = 1 // to lamps behind it
		}
		if !(ready[i].e1.cross(ready[i].e2).len2() > 0) {
			continue // no area: nothing meets it
		}
		lo, hi := least(least(a, b), c), most(most(a, b), c)
		items = append(items, item{lo, hi, lo.add(hi).mul(0.5), int32(i)})
	}
	tr := &tree{}
	b := builder{tree: tr, ready: ready}
	// The root is a node even over one leaf.
	tr.nodes = append(tr.nodes, node{})
	b.split(0, items, 0)
	return tr
}

type builder struct {
	tree  *tree
	ready []triangle
}

// split fills in node at with the two halves of items.
func (b *builder) split(at int, items []item, depth int) {
	left, right := b.halves(items, depth)
	for k, part := range [2][]item{left, right} {
		lo, hi := bounds(part)
		box := box32(lo, hi)
		child, count := int32(0), int32(0)
		if b.leaf(part, depth) {
			child, count = ^int32(len(b.tree.triangles)), int32(len(part))
			for _, it := range part {
				b.tree.triangles = append(b.tree.triangles, b.ready[it.id])
			}
		} else {
			child = int32(len(b.tree.nodes))
			b.tree.nodes = append(b.tree.nodes, node{})
			b.split(int(child), part, depth+1)
		}
		n := &b.tree.nodes[at]
		n.box[k], n.child[k], n.count[k] = box, child, count
	}
}

// leaf says whether items are better not split further.
func (b *builder) leaf(items []item, depth int) bool {
	if len(items) <= 2 {
		return true
	}
	if len(items) > largestLeaf {
		return false
	}
	_, _, cost := best(items)
	return cost >= float64(len(items))
}

// halves splits items where the surface area heuristic says, or at the middle of
// their order when it cannot.
func (b *builder) halves(items []item, depth int) (left, right []item) {
	if len(items) < 2 {
		return items, nil
	}
	if axis, place, cost := best(items); depth < deepest/2 && !math.IsInf(cost, 1) {
		// A stable parting keeps the order, and so the tree, the same.
		sort.SliceStable(items, func(i, j int) bool {
			return items[i].mid.axis(axis) < place && items[j].mid.axis(axis) >= place
		})
		n := 0
		for n < len(items) && items[n].mid.axis(axis) < place {
			n++
		}
		return items[:n], items[n:]
	}
	lo, hi := bounds(items)
	d := hi.sub(lo)
	axis := 0
	if d.y > d.axis(axis) {
		axis = 1
	}
	if d.z > d.axis(axis) {
		axis = 2
	}
	sort.SliceStable(items, func(i, j int) bool { return items[i].mid.axis(axis) < items[j].mid.axis(axis) })
	return items[:len(items)/2], items[len(items)/2:]
}

// best returns the cheapest plane that parts items by their middles, and its cost
// in tests of a triangle; infinite when all middles are one.
func best(items []item) (axis int, place, cost float64) {
	cost = math.Inf(1)
	whole := area(bounds(items))
	lo, hi := items[0].mid, items[0].mid
	for i := range items {
		lo, hi = least(lo, items[i].mid), most(hi, items[i].mid)
	}
	for k := range 3 {
		from, wide := lo.axis(k), hi.axis(k)-lo.axis(k)
		if !(wide > 1e-9) {
			continue
		}
		type bin struct {
			lo, hi vec
			n      int
		}
		var row [bins]bin
		for i := range row {
			row[i].lo, row[i].hi = nowhere()
		}
		for i := range items {
			at := min(int((items[i].mid.axis(k)-from)/wide*bins), bins-1)
			w := &row[at]
			w.lo, w.hi, w.n = least(w.lo, items[i].lo), most(w.hi, items[i].hi), w.n+1
		}
		var after [bins]float64
		l, h := nowhere()
		n := 0
		for i := bins - 1; i > 0; i-- {
			l, h, n = least(l, row[i].lo), most(h, row[i].hi), n+row[i].n
			after[i] = area(l, h) * float64(n)
		}
		l, h = nowhere()
		n = 0
		for i := 1; i < bins; i++ {
			l, h, n = least(l, row[i-1].lo), most(h, row[i-1].hi), n+row[i-1].n
			if n == 0 || n == len(items) {
				continue
			}
			if c := 1 + (area(l, h)*float64(n)+after[i])/whole; c < cost {
				axis, cost = k, c
				place = planeOf(items, k, from, wide, i)
			}
		}
	}
	return axis, place, cost
}

// planeOf returns the least middle that falls into bin i or after it, so that
// parting by "<" agrees with the bins whatever the rounding.
func planeOf(items []item, axis int, from, wide float64, i int) float64 {
	place := math.Inf(1)
	for j := range items {
		m := items[j].mid.axis(axis)
		if min(int((m-from)/wide*bins), bins-1) >= i {
			place = min(place, m)
		}
	}
	return place
}

func (a vec) axis(k int) float64 {
	switch k {
	case 0:
		return a.x
	case 1:
		return a.y
	}
	return a.z
}

func least(a, b vec) vec { return vec{min(a.x, b.x), min(a.y, b.y), min(a.z, b.z)} }
func most(a, b vec) vec  { return vec{max(a.x, b.x), max(a.y, b.y), max(a.z, b.z)} }

func nowhere() (lo, hi vec) {
	inf := math.Inf(1)
	return vec{inf, inf, inf}, vec{-inf, -inf, -inf}
}

func bounds(items []item) (lo, hi vec) {
	lo, hi = nowhere()
	for i := range items {
		lo, hi = least(lo, items[i].lo), most(hi, items[i].hi)
	}
	return lo, hi
}

// area returns half the surface of a box, and 0 of an empty one.
func area(lo, hi vec) float64 {
	d := hi.sub(lo)
	if !(d.x >= 0) {
		return 0
	}
	return d.x*d.y + d.y*d.z + d.z*d.x
}

// box32 returns the box with its slack. An empty box stays empty: no ray meets it.
func box32(lo, hi vec) [8]float32 {
	return [8]float32{
		float32(lo.x - boxSlack), float32(lo.y - boxSlack), float32(lo.z - boxSlack),
		float32(hi.x + boxSlack), float32(hi.y + boxSlack), float32(hi.z + boxSlack),
	}
}

// ray is where light is looked for: from o along the unit direction d.
type ray struct{ o, d vec }

// hit is what a ray meets: a triangle, how far, and where on it.
type hit struct {
	id   int32
	t    float64
	u, v float64 // the shares of the second and the third corner
}

// slabs is a ray made ready for boxes.
type slabs struct {
	ox, oy, oz float32
	ix, iy, iz float32
	nx, ny, nz int // the nearer plane of each axis
	fx, fy, fz int
}

func (r *ray) slabs() slabs {
	inverse := func(d float64) float32 {
		// An axis the ray runs along gets a slope so steep that its planes are
		// never met inside the scene; infinity would make NaN on a plane.
		if math.Abs(d) < 1e-12 {
			d = math.Copysign(1e-12, d)
		}
		return float32(1 / d)
	}
	s := slabs{
		ox: float32(r.o.x), oy: float32(r.o.y), oz: float32(r.o.z),
		ix: inverse(r.d.x), iy: inverse(r.d.y), iz: inverse(r.d.z),
	}
	s.nx, s.fx = 0, 3
	if s.ix < 0 {
		s.nx, s.fx = 3, 0
	}
	s.ny, s.fy = 1, 4
	if s.iy < 0 {
		s.ny, s.fy = 4, 1
	}
	s.nz, s.fz = 2, 5
	if s.iz < 0 {
		s.nz, s.fz = 5, 2
	}
	return s
}

// farSlack makes up for the rounding of three float32 operations on the far side
// of a box (Ize 2013).
const farSlack = 1 + 4e-7

// meets returns where the ray enters a box, and whether it does before far.
func (s *slabs) meets(b *[8]float32, far float32) (float32, bool) {
	near := max((b[s.nx&7]-s.ox)*s.ix, (b[s.ny&7]-s.oy)*s.iy, (b[s.nz&7]-s.oz)*s.iz, 0)
	last := min((b[s.fx&7]-s.ox)*s.ix, (b[s.fy&7]-s.oy)*s.iy, (b[s.fz&7]-s.oz)*s.iz)
	return near, near <= last*farSlack && near <= far
}

// meets returns the distance along the ray at which it crosses the triangle
// within (leastHit, far).
func (t *triangle) meets(r *ray, far float64) (d, u, v float64, ok bool) {
	p := r.d.cross(t.e2)
	det := t.e1.dot(p)
	if det == 0 {
		return 0, 0, 0, false
	}
	inv := 1 / det
	s := r.o.sub(t.p)
	u = s.dot(p) * inv
	if u < 0 || u > 1 {
		return 0, 0, 0, false
	}
	q := s.cross(t.e1)
	v = r.d.dot(q) * inv
	if v < 0 || u+v > 1 {
		return 0, 0, 0, false
	}
	d = t.e2.dot(q) * inv
	return d, u, v, d > leastHit && d < far
}

type waiting struct {
	at   int32
	near float32
}

// nearest returns the first thing that the ray meets within far.
func (tr *tree) nearest(r *ray, far float64) (h hit, ok bool) {
	s := r.slabs()
	h.t = far
	var stack [deepest]waiting
	n, at := 0, int32(0)
	for {
		nd := &tr.nodes[at]
		far32 := float32(h.t) * farSlack
		t0, ok0 := s.meets(&nd.box[0], far32)
		t1, ok1 := s.meets(&nd.box[1], far32)
		first, second := 0, 1
		if ok0 && ok1 && t1 < t0 {
			first, second = 1, 0
			t0, t1 = t1, t0
		} else if !ok0 {
			first, ok0, t0 = 1, ok1, t1
			ok1 = false
		}
		next := int32(-1)
		if ok0 {
			if nd.count[first] > 0 {
				if tr.leafNearest(nd.child[first], nd.count[first], r, &h) {
					ok = true
				}
			} else {
				next = nd.child[first]
			}
			if ok1 {
				if nd.count[second] > 0 {
					if float64(t1) <= h.t && tr.leafNearest(nd.child[second], nd.count[second], r, &h) {
						ok = true
					}
				} else if next < 0 {
					next = nd.child[second]
				} else {
					stack[n&(deepest-1)] = waiting{nd.child[second], t1}
					n++
				}
			}
		}
		for next < 0 {
			if n == 0 {
				return h, ok
			}
			n--
			if w := stack[n&(deepest-1)]; float64(w.near) <= h.t {
				next = w.at
			}
		}
		at = next
	}
}

func (tr *tree) leafNearest(first, count int32, r *ray, h *hit) bool {
	found := false
	from := ^first
	leaf := tr.triangles[from : from+count]
	for i := range leaf {
		if d, u, v, ok := leaf[i].meets(r, h.t); ok {
			*h = hit{leaf[i].id, d, u, v}
			found = true
		}
	}
	return found
}

// lets returns the share of light that passes along the ray up to far: 0 when
// anything stands in the way.
func (tr *tree) lets(r *ray, far float64) float64 {
	s := r.slabs()
	far32 := float32(far) * farSlack
	share := 1.0
	var stack [deepest]int32
	n, at := 0, int32(0)
	for {
		nd := &tr.nodes[at]
		next := int32(-1)
		for k := range 2 {
			if _, ok := s.meets(&nd.box[k], far32); !ok {
				continue
			}
			if c := nd.count[k]; c > 0 {
				from := ^nd.child[k]
				leaf := tr.triangles[from : from+c]
				for i := range leaf {
					if _, _, _, ok := leaf[i].meets(r, far); ok {
						if share *= float64(leaf[i].lets); share == 0 {
							return 0
						}
					}
				}
			} else if next < 0 {
				next = nd.child[k]
			} else {
				stack[n&(deepest-1)] = nd.child[k]
				n++
			}
		}
		if next < 0 {
			if n == 0 {
				return share
			}
			n--
			next = stack[n]
		}
		at = next
	}
}
