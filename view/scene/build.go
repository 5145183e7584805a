package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// builder collects the surfaces of a scene.
type builder struct {
	s     Scene
	named map[string]int // materials by name
}

// up is the way up.
var up = mgl64.Vec3{0, 0, 1}

// material returns the place of a material, which is made once.
func (b *builder) material(name string, make func() Material) int {
	if i, ok := b.named[name]; ok {
		return i
	}
	m := make()
	m.Name = name
	b.s.Materials = append(b.s.Materials, m)
	b.named[name] = len(b.s.Materials) - 1
	return len(b.s.Materials) - 1
}

// skin says what surface is being made: of which part, in what material, and
// where a place in the stair lies in the board's own axes (nil: there itself).
type skin struct {
	part     string
	material int
	board    func(mgl64.Vec3) mgl64.Vec3
	lamp     int
}

func (b *builder) triangle(k skin, p, n [3]mgl64.Vec3) {
	area := p[1].Sub(p[0]).Cross(p[2].Sub(p[0]))
	if !(area.Len() > 1e-6) {
		return // a point or a line shows nothing
	}
	t := Triangle{P: p, N: n, Board: p, Material: k.material, Lamp: k.lamp, Part: k.part}
	if k.board != nil {
		for i := range p {
			t.Board[i] = k.board(p[i])
		}
	}
	b.s.Triangles = append(b.s.Triangles, t)
}

// quad adds a flat or slightly twisted quadrilateral, anticlockwise seen from
// its front, with normals at its corners; without them its own.
func (b *builder) quad(k skin, p [4]mgl64.Vec3, n *[4]mgl64.Vec3) {
	flat := p[2].Sub(p[0]).Cross(p[3].Sub(p[1]))
	if !(flat.Len() > 1e-9) {
		return
	}
	flat = flat.Normalize()
	ns := [4]mgl64.Vec3{flat, flat, flat, flat}
	if n != nil {
		for i, v := range n {
			if v.Dot(flat) > 0.2 { // else the edge is too sharp to look round
				ns[i] = v
			}
		}
	}
	b.triangle(k, [3]mgl64.Vec3{p[0], p[1], p[2]}, [3]mgl64.Vec3{ns[0], ns[1], ns[2]})
	b.triangle(k, [3]mgl64.Vec3{p[0], p[2], p[3]}, [3]mgl64.Vec3{ns[0], ns[2], ns[3]})
}

// polygon adds a flat polygon, anticlockwise about its normal, which may have
// corners that point inwards. What runs over itself is left out.
func (b *builder) polygon(k skin, v []mgl64.Vec3, normal mgl64.Vec3) {
	v = append([]mgl64.Vec3(nil), v...)
	ns := [3]mgl64.Vec3{normal, normal, normal}
	turn := func(i int) float64 {
		n := len(v)
		a, c, d := v[(i+n-1)%n], v[i], v[(i+1)%n]
		return c.Sub(a).Cross(d.Sub(c)).Dot(normal)
	}
	for len(v) > 3 {
		ear, best := -1, 0.0
		for i := range v {
			n := len(v)
			a, c, d := v[(i+n-1)%n], v[i], v[(i+1)%n]
			t := turn(i)
			if !(t > 1e-9) || holdsAnother(v, i, normal) {
				continue
			}
			// The fattest ear: slivers light badly.
			long := math.Max(c.Sub(a).LenSqr(), math.Max(d.Sub(c).LenSqr(), a.Sub(d).LenSqr()))
			if f := t / long; f > best {
				ear, best = i, f
			}
		}
		if ear < 0 {
			// A corner on a straight line is no ear, and nothing is lost with it.
			for i := range v {
				if math.Abs(turn(i)) <= 1e-9 {
					ear = i
					break
				}
			}
			if ear < 0 {
				return
			}
		} else {
			n := len(v)
			b.triangle(k, [3]mgl64.Vec3{v[(ear+n-1)%n], v[ear], v[(ear+1)%n]}, ns)
		}
		v = append(v[:ear], v[ear+1:]...)
	}
	if len(v) == 3 && turn(1) > 0 {
		b.triangle(k, [3]mgl64.Vec3{v[0], v[1], v[2]}, ns)
	}
}

// holdsAnother says whether the triangle at corner i has another corner in it.
func holdsAnother(v []mgl64.Vec3, i int, normal mgl64.Vec3) bool {
	n := len(v)
	t := [3]int{(i + n - 1) % n, i, (i + 1) % n}
	for k := range v {
		if k == t[0] || k == t[1] || k == t[2] {
			continue
		}
		in := true
		for e := range 3 {
			a, c := v[t[e]], v[t[(e+1)%3]]
			in = in && c.Sub(a).Cross(v[k].Sub(a)).Dot(normal) >= 0
		}
		if in && v[k].Sub(v[t[0]]).Len() > 1e-9 && v[k].Sub(v[t[1]]).Len() > 1e-9 && v[k].Sub(v[t[2]]).Len() > 1e-9 {
			return true
		}
	}
	return false
}

// box adds a closed box: one corner and three edges.
func (b *builder) box(k skin, at, x, y, z mgl64.Vec3) {
	if x.Cross(y).Dot(z) < 0 {
		x, y = y, x
	}
	p := func(i, j, l float64) mgl64.Vec3 { return at.Add(x.Mul(i)).Add(y.Mul(j)).Add(z.Mul(l)) }
	for _, f := range [6][4]mgl64.Vec3{
		{p(0, 0, 0), p(0, 1, 0), p(1, 1, 0), p(1, 0, 0)},
		{p(0, 0, 1), p(1, 0, 1), p(1, 1, 1), p(0, 1, 1)},
		{p(0, 0, 0), p(1, 0, 0), p(1, 0, 1), p(0, 0, 1)},
		{p(1, 0, 0), p(1, 1, 0), p(1, 1, 1), p(1, 0, 1)},
		{p(1, 1, 0), p(0, 1, 0), p(0, 1, 1), p(1, 1, 1)},
		{p(0, 1, 0), p(0, 0, 0), p(0, 0, 1), p(0, 1, 1)},
	} {
		b.quad(k, f, nil)
	}
}

// tube adds a closed tube along a path: sections give its outline about each
// point, all with as many corners and to the same hand; smooth says whether its
// sides are round.
func (b *builder) tube(k skin, sections [][]mgl64.Vec3, smooth bool) {
	m := len(sections)
	if m < 2 {
		return
	}
	n := len(sections[0])
	if newell(sections[m/2]).Dot(sections[m-1][0].Sub(sections[0][0])) < 0 {
		turnedOver := make([][]mgl64.Vec3, m)
		for i, s := range sections {
			for j := range s {
				turnedOver[i] = append(turnedOver[i], s[n-1-j])
			}
		}
		sections = turnedOver
	}
	centre := make([]mgl64.Vec3, m)
	for i, s := range sections {
		for _, p := range s {
			centre[i] = centre[i].Add(p.Mul(1 / float64(n)))
		}
	}
	for i := range m - 1 {
		for j := range n {
			l := (j + 1) % n
			q := [4]mgl64.Vec3{sections[i][j], sections[i][l], sections[i+1][l], sections[i+1][j]}
			if !smooth {
				b.quad(k, q, nil)
				continue
			}
			out := func(i, j int) mgl64.Vec3 {
				d := sections[i][j].Sub(centre[i])
				if d.Len() < 1e-9 {
					d = centre[i].Sub(centre[max(0, i-1)])
					if i == 0 {
						d = centre[0].Sub(centre[1])
					}
				}
				return d.Normalize()
			}
			b.quad(k, q, &[4]mgl64.Vec3{out(i, j), out(i, l), out(i+1, l), out(i+1, j)})
		}
	}
	ends := [2][]mgl64.Vec3{nil, append([]mgl64.Vec3(nil), sections[m-1]...)}
	for j := range n {
		ends[0] = append(ends[0], sections[0][n-1-j])
	}
	for _, e := range ends {
		if normal := newell(e); normal.Len() > 1e-6 {
			b.polygon(k, e, normal.Normalize())
		}
	}
}

// newell returns the area vector of a polygon, twice over.
func newell(v []mgl64.Vec3) (n mgl64.Vec3) {
	for i := range v {
		n = n.Add(v[i].Cross(v[(i+1)%len(v)]))
	}
	return n
}

// ring returns n points of an ellipse about a centre, from x towards y.
func ring(at, x, y mgl64.Vec3, n int) []mgl64.Vec3 {
	out := make([]mgl64.Vec3, n)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = at.Add(x.Mul(c)).Add(y.Mul(s))
	}
	return out
}

// bounds fills in the least and the greatest corner.
func (s *Scene) bounds() {
	for i := range 3 {
		s.Low[i], s.Top[i] = math.Inf(1), math.Inf(-1)
	}
	for i := range s.Triangles {
		for _, p := range s.Triangles[i].P {
			for c := range 3 {
				s.Low[c], s.Top[c] = math.Min(s.Low[c], p[c]), math.Max(s.Top[c], p[c])
			}
		}
	}
}
