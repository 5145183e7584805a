package saw

import (
	"errors"
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

const (
	// maxVerts, maxFaces and maxLoop bound a board under the saw. A blank has 8
	// corners and 6 faces; a cut adds a face and at most one corner for each
	// side of it, less those it takes off. Cards have three cuts.
	maxVerts = 32
	maxFaces = 12
	maxLoop  = 12

	// onPlane is how near a corner must be to a cut, in mm, to count as lying
	// on it. Coordinates reach 10⁴ mm, where float64 spacing is 2·10⁻¹² mm;
	// three turns on the saw add some tens of roundings, and 10⁻⁹ mm stays far
	// below the 0.05 mm that a card must prove.
	onPlane = 1e-9
)

// tag names a face of a board while it is sawn.
type tag uint8

// The faces of a board.
const (
	tagFace tag = iota
	tagUnder
	tagBack
	tagNose
	tagLeft
	tagRight
	tagCount
)

// board is a convex polyhedron: the wood that is left. It holds no pointers, so
// a copy is another board.
type board struct {
	verts  [maxVerts]mgl64.Vec3
	faces  [maxFaces]facet
	nv, nf int
}

// facet is one flat face: the points p with normal·p = offset. Its loop runs
// anticlockwise seen from outside.
type facet struct {
	normal mgl64.Vec3 // unit, outward
	offset float64
	loop   [maxLoop]uint8
	n      uint8
	tag    tag
}

var (
	errMissed = errors.New("the cut misses the board")
	errGone   = errors.New("the cut leaves nothing of the board")
	errTooBig = errors.New("the board has more faces than a card's cuts can make")
)

// box makes the board a block lying face up with its back at the fence (y = 0),
// seen from the saw's user: x to the right, y away, z up. The end at x = 0 gets
// tag atZero, the other atLength.
func (b *board) box(length, width, thickness float64, atZero, atLength tag) {
	*b = board{nv: 8, nf: 6}
	for i := range 8 {
		v := mgl64.Vec3{0, -width, 0}
		if i&1 != 0 {
			v[0] = length
		}
		if i&2 != 0 {
			v[1] = 0
		}
		if i&4 != 0 {
			v[2] = thickness
		}
		b.verts[i] = v
	}
	set := func(k int, t tag, n mgl64.Vec3, loop [4]uint8) {
		f := facet{normal: n, offset: n.Dot(b.verts[loop[0]]), n: 4, tag: t}
		copy(f.loop[:], loop[:])
		b.faces[k] = f
	}
	set(0, tagFace, mgl64.Vec3{0, 0, 1}, [4]uint8{4, 5, 7, 6})
	set(1, tagUnder, mgl64.Vec3{0, 0, -1}, [4]uint8{0, 2, 3, 1})
	set(2, tagBack, mgl64.Vec3{0, 1, 0}, [4]uint8{2, 6, 7, 3})
	set(3, tagNose, mgl64.Vec3{0, -1, 0}, [4]uint8{0, 1, 5, 4})
	set(4, atZero, mgl64.Vec3{-1, 0, 0}, [4]uint8{0, 4, 6, 2})
	set(5, atLength, mgl64.Vec3{1, 0, 0}, [4]uint8{1, 3, 7, 5})
}

// face returns the face with tag t, or nil when it was sawn away.
func (b *board) face(t tag) *facet {
	for i := range b.nf {
		if b.faces[i].tag == t {
			return &b.faces[i]
		}
	}
	return nil
}

// turn moves the board: a point p goes to (x·p, y·p, z·p) + shift. The axes
// are the new ones, unit and right-handed.
func (b *board) turn(x, y, z, shift mgl64.Vec3) {
	for i := range b.nv {
		v := b.verts[i]
		b.verts[i] = mgl64.Vec3{x.Dot(v) + shift[0], y.Dot(v) + shift[1], z.Dot(v) + shift[2]}
	}
	for i := range b.nf {
		f := &b.faces[i]
		n := f.normal
		f.normal = mgl64.Vec3{x.Dot(n), y.Dot(n), z.Dot(n)}
		f.offset += f.normal.Dot(shift)
	}
}

// clip takes off everything with normal·p > offset and gives the new face tag
// t. A face that is cut keeps its tag; a face that had tag t and is not taken
// off whole keeps it as well, and then the board has two of them.
func (b *board) clip(normal mgl64.Vec3, offset float64, t tag) error {
	var dist [maxVerts]float64
	out, in := false, false
	for i := range b.nv {
		d := normal.Dot(b.verts[i]) - offset
		if math.Abs(d) <= onPlane {
			d = 0
		}
		dist[i] = d
		out = out || d > 0
		in = in || d < 0
	}
	if !in {
		return errGone
	}
	if !out {
		return errMissed
	}

	// next leads from corner to corner round the new face. cuts remembers the
	// corner made on an edge, which two faces share.
	var next [maxVerts]uint8
	var cuts [maxLoop][3]uint8
	nc, start := 0, -1
	cut := func(u, v uint8) (uint8, bool) {
		if u > v {
			u, v = v, u
		}
		for _, c := range cuts[:nc] {
			if c[0] == u && c[1] == v {
				return c[2], true
			}
		}
		if nc == maxLoop || b.nv == maxVerts {
			return 0, false
		}
		k := dist[u] / (dist[u] - dist[v])
		p, q := b.verts[u], b.verts[v]
		b.verts[b.nv] = mgl64.Vec3{p[0] + k*(q[0]-p[0]), p[1] + k*(q[1]-p[1]), p[2] + k*(q[2]-p[2])}
		cuts[nc] = [3]uint8{u, v, uint8(b.nv)}
		nc++
		b.nv++
		return uint8(b.nv - 1), true
	}

	kept := 0
	for i := range b.nf {
		f := b.faces[i]
		var loop [maxLoop]uint8
		n := 0
		for k := range f.n {
			u := f.loop[k]
			v := f.loop[0]
			if k+1 < f.n {
				v = f.loop[k+1]
			}
			if n+2 > maxLoop {
				return errTooBig
			}
			if dist[u] <= 0 {
				loop[n] = u
				n++
			}
			if dist[u]*dist[v] < 0 {
				c, ok := cut(u, v)
				if !ok {
					return errTooBig
				}
				loop[n] = c
				n++
			}
		}
		if n < 3 {
			continue
		}
		for k := range n {
			u, v := loop[k], loop[(k+1)%n]
			if dist[u] == 0 && dist[v] == 0 { // corners just cut have distance 0
				next[v], start = u, int(v)
			}
		}
		f.loop, f.n = loop, uint8(n)
		b.faces[kept] = f
		kept++
	}
	if start < 0 || kept == maxFaces {
		return errTooBig
	}
	f := facet{normal: normal, offset: offset, tag: t}
	for at := uint8(start); ; {
		if f.n == maxLoop {
			return errTooBig
		}
		f.loop[f.n] = at
		f.n++
		if at = next[at]; int(at) == start {
			break
		}
	}
	b.faces[kept] = f
	b.nf = kept + 1
	b.compact()
	return nil
}

// compact drops the corners that no face uses.
func (b *board) compact() {
	var to [maxVerts]uint8
	var used [maxVerts]bool
	for i := range b.nf {
		f := &b.faces[i]
		for _, v := range f.loop[:f.n] {
			used[v] = true
		}
	}
	n := 0
	for i := range b.nv {
		if used[i] {
			b.verts[n] = b.verts[i]
			to[i] = uint8(n)
			n++
		}
	}
	b.nv = n
	for i := range b.nf {
		f := &b.faces[i]
		for k := range f.n {
			f.loop[k] = to[f.loop[k]]
		}
	}
}

// corner returns the point where three faces meet.
func corner(a, b, c *facet) (mgl64.Vec3, bool) {
	bc := b.normal.Cross(c.normal)
	det := a.normal.Dot(bc)
	if math.Abs(det) < 1e-6 { // under a quarter of a second of arc they do not meet anywhere useful
		return mgl64.Vec3{}, false
	}
	p := bc.Mul(a.offset).Add(c.normal.Cross(a.normal).Mul(b.offset)).Add(a.normal.Cross(b.normal).Mul(c.offset))
	return p.Mul(1 / det), true
}
