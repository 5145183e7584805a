package picture

import "math"

// tree finds what a ray meets first: boxes within boxes, split where the sum of
// area times content is least (Goldsmith and Salmon 1987; from memory).
type tree struct {
	nodes []branch
	tris  []flatTri
}

// branch is a box. A leaf has count triangles from first; another has its two
// halves at first and first+1.
type branch struct {
	low, top     vec
	first, count int32
}

// flatTri is a triangle made ready for rays.
type flatTri struct {
	p, e1, e2 vec
	id        int32
	pane      bool // lets light through to what asks whether anything is in the way
}

// met is where a ray met a triangle: how far along, and the shares of its
// second and third corner.
type met struct {
	id   int32
	far  float32
	u, v float32
	back bool // from behind
}

const leafMost = 4

func newTree(tris []flatTri) *tree {
	t := &tree{tris: tris}
	if len(tris) == 0 {
		return t
	}
	t.nodes = append(t.nodes, branch{first: 0, count: int32(len(tris))})
	centres := make([]vec, len(tris))
	for i := range tris {
		f := &tris[i]
		centres[i] = add(f.p, mul(add(f.e1, f.e2), 1.0/3))
	}
	t.split(0, centres)
	return t
}

func (t *tree) bound(n *branch) {
	n.low, n.top = vec{math.MaxFloat32, math.MaxFloat32, math.MaxFloat32}, vec{-math.MaxFloat32, -math.MaxFloat32, -math.MaxFloat32}
	for i := n.first; i < n.first+n.count; i++ {
		f := &t.tris[i]
		for _, p := range [3]vec{f.p, add(f.p, f.e1), add(f.p, f.e2)} {
			for c := range 3 {
				n.low[c], n.top[c] = min(n.low[c], p[c]), max(n.top[c], p[c])
			}
		}
	}
	for c := range 3 { // so that flat boxes are met
		n.low[c] -= 0.01
		n.top[c] += 0.01
	}
}

func areaOf(low, top vec) float32 {
	d := sub(top, low)
	return d[0]*d[1] + d[1]*d[2] + d[2]*d[0]
}

func (t *tree) split(at int, centres []vec) {
	n := &t.nodes[at]
	t.bound(n)
	if n.count <= leafMost {
		return
	}
	lo, hi := vec{math.MaxFloat32, math.MaxFloat32, math.MaxFloat32}, vec{-math.MaxFloat32, -math.MaxFloat32, -math.MaxFloat32}
	for i := n.first; i < n.first+n.count; i++ {
		for c := range 3 {
			lo[c], hi[c] = min(lo[c], centres[i][c]), max(hi[c], centres[i][c])
		}
	}
	const bins = 16
	bestAxis, bestBin, best := -1, 0, float32(math.MaxFloat32)
	for axis := range 3 {
		wide := hi[axis] - lo[axis]
		if !(wide > 1e-3) {
			continue
		}
		var count [bins]int32
		var low, top [bins]vec
		for b := range bins {
			low[b], top[b] = vec{math.MaxFloat32, math.MaxFloat32, math.MaxFloat32}, vec{-math.MaxFloat32, -math.MaxFloat32, -math.MaxFloat32}
		}
		for i := n.first; i < n.first+n.count; i++ {
			b := min(bins-1, int((centres[i][axis]-lo[axis])/wide*bins))
			count[b]++
			f := &t.tris[i]
			for _, p := range [3]vec{f.p, add(f.p, f.e1), add(f.p, f.e2)} {
				for c := range 3 {
					low[b][c], top[b][c] = min(low[b][c], p[c]), max(top[b][c], p[c])
				}
			}
		}
		var right [bins]float32
		l, h := vec{math.MaxFloat32, math.MaxFloat32, math.MaxFloat32}, vec{-math.MaxFloat32, -math.MaxFloat32, -math.MaxFloat32}
		var c int32
		for b := bins - 1; b > 0; b-- {
			for k := range 3 {
				l[k], h[k] = min(l[k], low[b][k]), max(h[k], top[b][k])
			}
			c += count[b]
			right[b] = areaOf(l, h) * float32(c)
		}
		l, h = vec{math.MaxFloat32, math.MaxFloat32, math.MaxFloat32}, vec{-math.MaxFloat32, -math.MaxFloat32, -math.MaxFloat32}
		c = 0
		for b := range bins - 1 {
			for k := range 3 {
				l[k], h[k] = min(l[k], low[b][k]), max(h[k], top[b][k])
			}
			c += count[b]
			if c == 0 || c == n.count {
				continue
			}
			if cost := areaOf(l, h)*float32(c) + right[b+1]; cost < best {
				bestAxis, bestBin, best = axis, b, cost
			}
		}
	}
	if bestAxis < 0 || best >= areaOf(n.low, n.top)*float32(n.count) && n.count <= 4*leafMost {
		return
	}
	wide := hi[bestAxis] - lo[bestAxis]
	i, j := n.first, n.first+n.count-1
	for i <= j {
		if min(bins-1, int((centres[i][bestAxis]-lo[bestAxis])/wide*bins)) <= bestBin {
			i++
			continue
		}
		t.tris[i], t.tris[j] = t.tris[j], t.tris[i]
		centres[i], centres[j] = centres[j], centres[i]
		j--
	}
	first, count, mid := n.first, n.count, i
	if mid == first || mid == first+count {
		return
	}
	left := int32(len(t.nodes))
	t.nodes = append(t.nodes, branch{first: first, count: mid - first}, branch{first: mid, count: first + count - mid})
	t.nodes[at].first, t.nodes[at].count = left, 0
	t.split(int(left), centres)
	t.split(int(left)+1, centres)
}

// near is how far from its start a ray begins to see, mm.
const near = 0.05

// cast returns what a ray from o along d meets first within far.
func (t *tree) cast(o, d vec, far float32) (met, bool) {
	m := met{id: -1, far: far}
	t.walk(o, d, &m, false)
	return m, m.id >= 0
}

// blocked says whether anything lies on the way from o along d within far.
func (t *tree) blocked(o, d vec, far float32) bool {
	m := met{id: -1, far: far}
	t.walk(o, d, &m, true)
	return m.id >= 0
}

func (t *tree) walk(o, d vec, m *met, any bool) {
	if len(t.nodes) == 0 {
		return
	}
	inv := vec{1 / d[0], 1 / d[1], 1 / d[2]}
	var stack [64]int32
	depth := 1
	for depth > 0 {
		depth--
		n := &t.nodes[stack[depth]]
		if n.count > 0 {
			for i := n.first; i < n.first+n.count; i++ {
				f := &t.tris[i]
				if any && f.pane {
					continue
				}
				// Möller and Trumbore 1997.
				px, py, pz := d[1]*f.e2[2]-d[2]*f.e2[1], d[2]*f.e2[0]-d[0]*f.e2[2], d[0]*f.e2[1]-d[1]*f.e2[0]
				det := f.e1[0]*px + f.e1[1]*py + f.e1[2]*pz
				if det > -1e-7 && det < 1e-7 {
					continue
				}
				id := 1 / det
				sx, sy, sz := o[0]-f.p[0], o[1]-f.p[1], o[2]-f.p[2]
				u := (sx*px + sy*py + sz*pz) * id
				if u < 0 || u > 1 {
					continue
				}
				qx, qy, qz := sy*f.e1[2]-sz*f.e1[1], sz*f.e1[0]-sx*f.e1[2], sx*f.e1[1]-sy*f.e1[0]
				v := (d[0]*qx + d[1]*qy + d[2]*qz) * id
				if v < 0 || u+v > 1 {
					continue
				}
				if far := (f.e2[0]*qx + f.e2[1]*qy + f.e2[2]*qz) * id; far > near && far < m.far {
					*m = met{f.id, far, u, v, det < 0}
					if any {
						return
					}
				}
			}
			continue
		}
		a, b := n.first, n.first+1
		fa, fb := t.nodes[a].enter(o, inv, m.far), t.nodes[b].enter(o, inv, m.far)
		if fa > fb {
			a, b, fa, fb = b, a, fb, fa
		}
		if fb < math.MaxFloat32 && depth < len(stack)-2 {
			stack[depth] = b
			depth++
		}
		if fa < math.MaxFloat32 {
			stack[depth] = a
			depth++
		}
	}
}

// enter returns how far along a ray enters the box, or the greatest number.
func (n *branch) enter(o, inv vec, far float32) float32 {
	x0, x1 := (n.low[0]-o[0])*inv[0], (n.top[0]-o[0])*inv[0]
	if x0 > x1 {
		x0, x1 = x1, x0
	}
	y0, y1 := (n.low[1]-o[1])*inv[1], (n.top[1]-o[1])*inv[1]
	if y0 > y1 {
		y0, y1 = y1, y0
	}
	z0, z1 := (n.low[2]-o[2])*inv[2], (n.top[2]-o[2])*inv[2]
	if z0 > z1 {
		z0, z1 = z1, z0
	}
	in, out := max(x0, y0, z0, 0), min(x1, y1, z1, far)
	if in <= out {
		return in
	}
	return math.MaxFloat32
}
