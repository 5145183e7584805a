package pieces

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// rim is a corner of a board's face with the edge that begins there, while the
// outline of a finished piece is changed. Under is the corner of the other face
// below it.
type rim struct {
	top, under mgl64.Vec2
	part       Part
	was        int // index of the corner in the face it comes from, -1 for a new one
}

// rims returns the outline of a piece.
func (p *Piece) rims() []rim {
	m := len(p.Face)
	out := make([]rim, m)
	for j := range out {
		out[j] = rim{top: p.Face[j], under: p.Solid.Verts[m+j].Vec2(), part: p.Solid.Faces[2+j].Part, was: j}
	}
	return out
}

// plumb returns a new corner with a square edge below it.
func plumb(q mgl64.Vec2, part Part) rim { return rim{top: q, under: q, part: part, was: -1} }

// setRims gives a piece another outline in its own frame. The four named
// corners must be among the old ones. The frame stays, so that the back left
// corner must.
func (p *Piece) setRims(rs []rim) {
	m := len(rs)
	names := [4]*int{&p.BackLeft, &p.BackRight, &p.FrontRight, &p.FrontLeft}
	old := [4]int{p.BackLeft, p.BackRight, p.FrontRight, p.FrontLeft}
	p.Face = make([]mgl64.Vec2, m)
	for j, r := range rs {
		p.Face[j] = r.top
		for k, at := range old {
			if r.was == at {
				*names[k] = j
			}
		}
	}
	into := p.Into()
	s := Solid{Verts: make([]mgl64.Vec3, 2*m), Faces: make([]Facet, 0, m+2), Convex: true}
	face, under := make([]int, m), make([]int, m)
	for j, r := range rs {
		s.Verts[j], s.Verts[m+j] = r.top.Vec3(0), r.under.Vec3(into*p.Thickness)
		if into < 0 {
			face[j], under[j] = j, 2*m-1-j
		} else {
			face[j], under[j] = m-1-j, m+j
		}
	}
	s.Faces = append(s.Faces,
		Facet{Normal: mgl64.Vec3{0, 0, -into}, Loop: face, Part: ShowFace},
		Facet{Normal: mgl64.Vec3{0, 0, into}, Offset: p.Thickness, Loop: under, Part: Underside})
	for j := range rs {
		k := (j + 1) % m
		loop := []int{j, k, m + k, m + j}
		if into < 0 {
			loop = []int{k, j, m + j, m + k}
		}
		a, b, c := s.Verts[loop[0]], s.Verts[loop[1]], s.Verts[loop[2]]
		n := b.Sub(a).Cross(c.Sub(a)).Normalize()
		s.Faces = append(s.Faces, Facet{Normal: n, Offset: n.Dot(a), Loop: loop, Part: rs[j].part})
		e, f := rs[k].top.Sub(rs[j].top), rs[(k+1)%m].top.Sub(rs[k].top)
		if e[0]*f[1]-e[1]*f[0] < -parallel*e.Len()*f.Len() {
			s.Convex = false
		}
	}
	p.Solid = s
}

// prism makes a piece of straight square edges. The face runs anticlockwise in
// a flat frame at origin with the axes ex, ey; its first edge goes to the fence
// and becomes the x axis. parts names its edges. It returns why it is no board,
// or "".
func (p *Piece) prism(origin, ex, ey mgl64.Vec3, face []mgl64.Vec2, parts []Part) string {
	x2 := face[1].Sub(face[0])
	if !(x2.Len() > 0) {
		return "the figures leave no board here; check the widths and depths of this step"
	}
	x2 = x2.Normalize()
	y2 := mgl64.Vec2{-x2[1], x2[0]}
	x3, y3 := ex.Mul(x2[0]).Add(ey.Mul(x2[1])), ex.Mul(y2[0]).Add(ey.Mul(y2[1]))
	at := origin.Add(ex.Mul(face[0][0])).Add(ey.Mul(face[0][1]))
	p.Frame = mgl64.Mat4FromCols(x3.Vec4(0), y3.Vec4(0), x3.Cross(y3).Vec4(0), at.Vec4(1))
	rs := make([]rim, len(face))
	for j, q := range face {
		d := q.Sub(face[0])
		rs[j] = plumb(mgl64.Vec2{x2.Dot(d), y2.Dot(d)}, parts[j])
	}
	p.setRims(rs)
	for j, q := range p.Face {
		if r := p.Face[(j+1)%len(face)]; !(r.Sub(q).Len() > 0) {
			return "the figures leave no board here; check the widths and depths of this step"
		}
	}
	return ""
}

// crossing returns where the line through a in direction u meets that through b
// in direction v, and false when they are as good as parallel.
func crossing(a, u, b, v mgl64.Vec2) (mgl64.Vec2, bool) {
	cross := u[0]*v[1] - u[1]*v[0]
	if math.Abs(cross) < parallel*u.Len()*v.Len() {
		return mgl64.Vec2{}, false
	}
	d := b.Sub(a)
	t := (d[0]*v[1] - d[1]*v[0]) / cross
	return a.Add(u.Mul(t)), true
}
