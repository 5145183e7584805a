package still

import (
	"math"
	"sync/atomic"
)

// lightMap holds how much light falls on patches of every surface, so that a path
// from the eye need not go on beyond the second surface: what arrives there by
// way of others is the same for all paths that come by. A patch is measured when
// it is first met, from places that depend on the patch alone, so it does not
// matter which path or goroutine comes first.
type lightMap struct {
	first   []int32 // of each triangle, its place in patches; both its sides
	nu, nv  []int32
	patches []atomic.Pointer[rgb]
}

const (
	// patchSide is the usual side of a patch, mm: what is farther away than some
	// of them sees no more detail in the light that comes from there.
	patchSide = 85
	// patchPaths measure a patch.
	patchPaths = 32
	// closeBy is how near, mm, a surface must be to be followed truly and not
	// looked up, so that corners keep their shadows.
	closeBy = 2 * patchSide
	// mostAcross bounds the patches along one edge of a triangle.
	mostAcross = 128
)

func (w *world) newMap() {
	m := &lightMap{
		first: make([]int32, len(w.scene.Triangles)),
		nu:    make([]int32, len(w.scene.Triangles)), nv: make([]int32, len(w.scene.Triangles)),
	}
	n := 0
	for i := range w.scene.Triangles {
		p := &w.scene.Triangles[i].P
		across := func(k int) int32 {
			l := p[k].Sub(p[0]).Len()
			if !(l < mostAcross*patchSide) {
				return mostAcross
			}
			return int32(math.Ceil(max(l/patchSide, 1)))
		}
		m.first[i], m.nu[i], m.nv[i] = int32(n), across(1), across(2)
		n += int(2 * m.nu[i] * m.nv[i])
	}
	m.patches = make([]atomic.Pointer[rgb], n)
	w.lights = m
}

// falls returns the light that falls on the patch about a place on a triangle,
// in lux over π: the luminance that a white matt surface would have there. back
// is for the triangle's back.
func (t *tracer) falls(h *hit, back bool) rgb {
	m := t.lights
	nu, nv := m.nu[h.id], m.nv[h.id]
	i, j := min(int32(h.u*float64(nu)), nu-1), min(int32(h.v*float64(nv)), nv-1)
	at := m.first[h.id] + 2*(j*nu+i)
	if back {
		at++
	}
	if found := m.patches[at].Load(); found != nil {
		return *found
	}
	tri := &t.scene.Triangles[h.id]
	p := vecOf(tri.P[0])
	e1, e2 := vecOf(tri.P[1]).sub(p), vecOf(tri.P[2]).sub(p)
	n := t.normal[h.id]
	if back {
		n = n.mul(-1)
	}
	keep := t.points // the path that asks goes on as if nothing had happened
	t.depth++
	s := spot{facing: n, frame: frameOf(n), o: vec{0, 0, 1}, finish: finish{body: rgb{1, 1, 1}}}
	var sum rgb
	good := 0.0
	for k := range patchPaths {
		t.points = pointsOf(uint64(at)<<20^0x51ed270b, int(at), k)
		a, b := t.points.next()
		u, v := (float64(i)+a)/float64(nu), (float64(j)+b)/float64(nv)
		if u+v > 1 {
			u, v = 1-v, 1-u // the patch hangs over the triangle's third edge
		}
		from := s
		from.p = p.along(e1, u).along(e2, v)
		var l look
		t.behind = false
		t.from(&from, &l)
		if t.behind {
			continue // within a board that covers this part of the patch
		}
		sum = sum.add(l.straight).add(l.around)
		good++
	}
	t.depth--
	t.points = keep
	if good > 0 {
		sum = sum.mul(1 / good)
	}
	m.patches[at].Store(&sum)
	return sum
}

// sent returns the light that s sends back of what falls on it, evenly from all
// sides: its coat's share, and of the rest its body's.
func (s *spot) sent(falls rgb) rgb {
	e := 0.0
	if s.finish.gloss > 0 {
		e = s.finish.gloss * s.finish.coat.takes(s.o.z)
	}
	return falls.times(s.finish.body.mul(1 - e).plus(e))
}
