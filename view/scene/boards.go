package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/pieces"
	"risewright/solver/skirt"
)

// nosing is the profile that front edges are shown with: the pieces are square,
// and what shape is planed on them is not in the job. A bullnose is common
// practice, no source.
var nosing = skirt.Profile{Shape: skirt.Bullnose}

// arcs is in how many flats a quarter circle is shown.
const arcs = 5

// boards adds every board of the overlay.
func (m *maker) boards() {
	for i := range m.a.Pieces {
		p := &m.a.Pieces[i]
		if p.Impossible != "" || len(p.Face) < 3 {
			continue
		}
		m.board(p)
	}
}

// board adds one board, its front edge rounded.
func (m *maker) board(p *pieces.Piece) {
	k := skin{part: p.ID, board: m.boardAxes(p.Frame)}
	switch {
	case p.Kind == pieces.Riser && !m.woodRisers():
		k.material = m.paint("riser paint", m.o.Look.Riser, "riser")
	case p.Kind == pieces.LandingFloor:
		k.material = m.stripFloor(p.ID)
	default:
		k.material = m.wood(p.ID)
	}
	solid := p.Placed()
	if p.Kind == pieces.Riser || p.Kind == pieces.LandingFloor {
		m.b.solid(k, &solid)
		return
	}
	m.b.rounded(k, &solid, p.Thickness)
}

// boardAxes returns what takes a place in the stair to a board's own axes.
func (m *maker) boardAxes(frame mgl64.Mat4) func(mgl64.Vec3) mgl64.Vec3 {
	inv := frame.Inv()
	return func(p mgl64.Vec3) mgl64.Vec3 { return mgl64.TransformCoordinate(p, inv) }
}

// solid adds the flat faces of a solid.
func (b *builder) solid(k skin, s *pieces.Solid) {
	for i := range s.Faces {
		f := &s.Faces[i]
		b.polygon(k, outlineOf(s, f), f.Normal)
	}
}

func outlineOf(s *pieces.Solid, f *pieces.Facet) []mgl64.Vec3 {
	out := make([]mgl64.Vec3, len(f.Loop))
	for i, v := range f.Loop {
		out[i] = s.Verts[v]
	}
	return out
}

// rounded adds a solid whose only nose facet is rounded; with none, or more
// than one, as round a starting step, the edges stay square.
func (b *builder) rounded(k skin, s *pieces.Solid, thickness float64) {
	nose, n := -1, 0
	for i := range s.Faces {
		if s.Faces[i].Part == pieces.Nose {
			nose, n = i, n+1
		}
	}
	if n != 1 || len(s.Faces[nose].Loop) != 4 || len(s.Verts)%2 != 0 {
		b.solid(k, s)
		return
	}
	// Corners of the show face come first, those of the underside after them.
	half := len(s.Verts) / 2
	var tops []int
	for _, v := range s.Faces[nose].Loop {
		if v < half {
			tops = append(tops, v)
		}
	}
	if len(tops) != 2 {
		b.solid(k, s)
		return
	}
	// With the corners in order, the edge runs from a to z.
	a, z := tops[0], tops[1]
	if (a+1)%half != z {
		a, z = z, a
	}
	if (a+1)%half != z {
		b.solid(k, s)
		return
	}
	before, after := (a+half-1)%half, (z+1)%half
	inward := s.Faces[nose].Normal.Mul(-1)
	curveA, okA := b.curve(s, a, before, half, inward, thickness)
	curveZ, okZ := b.curve(s, z, after, half, inward, thickness)
	if !okA || !okZ {
		b.solid(k, s)
		return
	}
	for i := range s.Faces {
		f := &s.Faces[i]
		if i == nose {
			continue
		}
		var v []mgl64.Vec3
		for at, c := range f.Loop {
			next, last := f.Loop[(at+1)%len(f.Loop)], f.Loop[(at+len(f.Loop)-1)%len(f.Loop)]
			switch {
			case c == a || c == z:
				curve := curveA
				if c == z {
					curve = curveZ
				}
				switch {
				case next == c+half:
					v = append(v, curve...)
				case last == c+half: // they have been put in already, upwards
				default:
					v = append(v, curve[0])
				}
			case c == a+half || c == z+half:
				curve := curveA
				if c == z+half {
					curve = curveZ
				}
				switch {
				case next == c-half:
					for q := len(curve) - 1; q >= 0; q-- {
						v = append(v, curve[q])
					}
				case last == c-half:
				default:
					v = append(v, curve[len(curve)-1])
				}
			default:
				v = append(v, s.Verts[c])
			}
		}
		b.polygon(k, v, f.Normal)
	}
	// The rounded edge itself, with its normals across the curve.
	normals := curveNormals(curveA, curveZ, s.Faces[nose].Normal)
	for i := range len(curveA) - 1 {
		q := [4]mgl64.Vec3{curveA[i], curveZ[i], curveZ[i+1], curveA[i+1]}
		ns := [4]mgl64.Vec3{normals[i], normals[i], normals[i+1], normals[i+1]}
		if q[1].Sub(q[0]).Cross(q[3].Sub(q[0])).Dot(normals[i].Add(normals[i+1])) < 0 {
			q = [4]mgl64.Vec3{q[1], q[0], q[3], q[2]}
		}
		b.quad(k, q, &ns)
	}
}

// curve returns the nosing's profile at a corner of the show face, from the
// face down to the underside, in the plane of the end that runs from there to
// the corner called to.
func (b *builder) curve(s *pieces.Solid, at, to, half int, inward mgl64.Vec3, thickness float64) ([]mgl64.Vec3, bool) {
	top, low := s.Verts[at], s.Verts[at+half]
	back := func(from, to mgl64.Vec3) (mgl64.Vec3, float64) {
		d := to.Sub(from)
		deep := d.Dot(inward)
		if !(deep > 1e-6) {
			return mgl64.Vec3{}, 0
		}
		return d.Mul(1 / deep), deep
	}
	dTop, reach := back(top, s.Verts[to])
	dLow, reachLow := back(low, s.Verts[to+half])
	outline := thinned(nosing.Outline(thickness))
	for _, q := range outline {
		if q[0] > 0.9*min(reach, reachLow) {
			return nil, false
		}
	}
	out := make([]mgl64.Vec3, len(outline))
	for i, q := range outline { // from the underside to the face
		f := q[1] / thickness
		p := top.Add(dTop.Mul(q[0])).Mul(1 - f).Add(low.Add(dLow.Mul(q[0])).Mul(f))
		out[len(out)-1-i] = p
	}
	return out, true
}

// thinned leaves of a profile as many points as a picture needs.
func thinned(v []mgl64.Vec2) []mgl64.Vec2 {
	const most = 2*arcs + 2
	if len(v) <= most {
		return v
	}
	out := make([]mgl64.Vec2, 0, most)
	for i := range most {
		out = append(out, v[i*(len(v)-1)/(most-1)])
	}
	return out
}

// curveNormals returns the normals along a rounded edge, which begins and ends
// square to the face and the underside.
func curveNormals(a, z []mgl64.Vec3, front mgl64.Vec3) []mgl64.Vec3 {
	out := make([]mgl64.Vec3, len(a))
	side := func(i int) mgl64.Vec3 {
		n := z[i].Sub(a[i]).Cross(a[i+1].Sub(a[i]))
		if n.Dot(front) < 0 {
			n = n.Mul(-1)
		}
		return n.Normalize()
	}
	for i := range a {
		switch {
		case i == 0:
			out[i] = side(0)
		case i == len(a)-1:
			out[i] = side(i - 1)
		default:
			out[i] = side(i - 1).Add(side(i)).Normalize()
		}
	}
	return out
}

// woodRisers says whether the risers are of the treads' wood.
func (m *maker) woodRisers() bool { return m.o.Look.Riser == "wood" }

// seed is a number of a board's own, the same in every run.
func seed(name string) uint64 {
	h := uint64(14695981039346656037) // FNV-1a, by its authors' page
	for i := range len(name) {
		h = (h ^ uint64(name[i])) * 1099511628211
	}
	return h
}

// finite says whether a point is one.
func finite(p mgl64.Vec3) bool {
	for _, v := range p {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
