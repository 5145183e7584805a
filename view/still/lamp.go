package still

import (
	"math"

	"risewright/view/scene"
)

// lamp is a lamp made ready for sampling.
type lamp struct {
	corner, u, v vec     // edges in mm
	x, y, z      vec     // their directions, and the front
	lu, lv       float64 // their lengths
	radiance     rgb     // cd/m²
	lumens       float64
	// faced says that triangles of the scene are its face, so that a ray may hit
	// it; one without a face gives its light unseen.
	faced bool
}

// faceSlack is how far, as a share, the triangles of a lamp may be from its area
// before it counts as one without a face. Corners are rounded to some 1e-9 mm;
// a face that is drawn differs by far more.
const faceSlack = 1e-3

func newLamp(l scene.Lamp) lamp {
	r := lamp{corner: vecOf(l.Corner), u: vecOf(l.U), v: vecOf(l.V), radiance: rgbOf(l.Radiance()), lumens: l.Lumens * l.Level}
	r.lu, r.lv = r.u.len(), r.v.len()
	r.x, r.y = r.u.unit(), r.v.unit()
	r.z = r.x.cross(r.y).unit()
	// Colours without luminance, and lamps without area, give nothing.
	if !(r.lu > 0 && r.lv > 0) || r.radiance.dark() {
		r.radiance, r.lumens = rgb{}, 0
	}
	return r
}

// lampsOf returns the lamps of a scene, and says which have a face.
func lampsOf(s *scene.Scene) []lamp {
	out := make([]lamp, len(s.Lamps))
	faces := make([]float64, len(s.Lamps))
	for i := range s.Lamps {
		out[i] = newLamp(s.Lamps[i])
	}
	for i := range s.Triangles {
		t := &s.Triangles[i]
		if t.Lamp > 0 {
			k := t.Lamp - 1
			a := vecOf(t.P[0])
			n := vecOf(t.P[1]).sub(a).cross(vecOf(t.P[2]).sub(a))
			faces[k] += n.dot(out[k].z) / 2 // a face turned the wrong way does not count
		}
	}
	for i := range out {
		whole := out[i].lu * out[i].lv
		out[i].faced = whole > 0 && math.Abs(faces[i]-whole) <= faceSlack*whole
	}
	return out
}

// front says whether p lies before the lamp.
func (l *lamp) front(p vec) bool { return p.sub(l.corner).dot(l.z) > 0 }

// hope returns how much light the lamp may give a surface at p that faces n: 0
// only where it gives none. It takes the rectangle's nearest point for all of
// it, which is right within a small factor, and that is enough to choose by.
func (l *lamp) hope(p, n vec) float64 {
	if l.lumens <= 0 {
		return 0
	}
	c := p.sub(l.corner)
	h := c.dot(l.z)
	if h <= 0 {
		return 0
	}
	a, b := c.dot(l.x), c.dot(l.y)
	// The highest corner above the surface's horizon.
	up := -c.dot(n)
	du, dv := l.u.dot(n), l.v.dot(n)
	top := up + max(0, du) + max(0, dv)
	if top <= 0 {
		return 0
	}
	qa, qb := min(max(a, 0), l.lu), min(max(b, 0), l.lv)
	da, db := a-qa, b-qb
	d2 := da*da + db*db + h*h
	d := math.Sqrt(d2)
	near := up + du*(qa/l.lu) + dv*(qb/l.lv)
	// The cosines at the surface and at the lamp. A sliver above the horizon
	// still gets its turn.
	cs := max(near/d, 0.05*top/(d+top))
	cl := max(h/d, 0.05)
	// Long bars close by give as a line does, not as a point.
	wide := min(l.lu, 2*d) * min(l.lv, 2*d)
	return l.lumens / (l.lu * l.lv) * wide * cs * cl / d2
}

// unseen is the weight of a lamp that no try has seen from a place: it may still
// be seen from a part of it.
const unseen = 0.04

// leastSolid is the solid angle, sr, below which a lamp is sampled evenly over
// its area. An angle near 0 comes out of its cosine with an error of 1e-8, so
// above this the solid angle is right within some 1e-4.
const leastSolid = 1e-4

// seen is a lamp as seen from a point: a spherical rectangle (Ureña, Fajardo and
// King 2013, "An area-preserving parametrization for spherical rectangles").
type seen struct {
	l            *lamp
	o            vec
	x0, y0, z0   float64
	x1, y1       float64
	b0, b1, k, s float64
	small        bool
}

// from prepares to look at the lamp from o, which lies before it.
func (l *lamp) from(o vec) (q seen) {
	d := l.corner.sub(o)
	q.l, q.o = l, o
	q.z0 = d.dot(l.z)
	q.x0, q.y0 = d.dot(l.x), d.dot(l.y)
	q.x1, q.y1 = q.x0+l.lu, q.y0+l.lv
	// The planes through o and each edge have normals with one of x and y, and a
	// z; those of neighbours are square to each other but for their z.
	zz := q.z0 * q.z0
	z0, z1 := -q.y0/math.Sqrt(zz+q.y0*q.y0), q.x1/math.Sqrt(zz+q.x1*q.x1)
	z2, z3 := q.y1/math.Sqrt(zz+q.y1*q.y1), -q.x0/math.Sqrt(zz+q.x0*q.x0)
	g0 := math.Acos(clampOne(-z0 * z1))
	g1 := math.Acos(clampOne(-z1 * z2))
	g2 := math.Acos(clampOne(-z2 * z3))
	g3 := math.Acos(clampOne(-z3 * z0))
	q.b0, q.b1 = z0, z2
	q.k = 2*math.Pi - g2 - g3
	q.s = g0 + g1 - q.k
	q.small = !(q.s > leastSolid)
	return q
}

func clampOne(v float64) float64 { return min(max(v, -1), 1) }

// point returns a place on the lamp for two numbers in [0, 1), and its density
// over solid angle.
func (q *seen) point(a, b float64) (at vec, density float64) {
	l := q.l
	if q.small {
		at = l.corner.along(l.u, a).along(l.v, b)
		return at, q.densityAt(at)
	}
	au := a*q.s + q.k
	fu := (math.Cos(au)*q.b0 - q.b1) / math.Sin(au)
	cu := math.Copysign(1/math.Sqrt(fu*fu+q.b0*q.b0), fu)
	cu = clampOne(cu)
	xu := -(cu * q.z0) / max(math.Sqrt(1-cu*cu), 1e-12)
	xu = min(max(xu, q.x0), q.x1)
	d := math.Sqrt(xu*xu + q.z0*q.z0)
	h0, h1 := q.y0/math.Sqrt(d*d+q.y0*q.y0), q.y1/math.Sqrt(d*d+q.y1*q.y1)
	hv := h0 + b*(h1-h0)
	yv := q.y1
	if hv2 := hv * hv; hv2 < 1-1e-12 {
		yv = hv * d / math.Sqrt(1-hv2)
	}
	yv = min(max(yv, q.y0), q.y1)
	at = l.corner.along(l.x, xu-q.x0).along(l.y, yv-q.y0)
	return at, 1 / q.s
}

// densityAt returns the density over solid angle at a place on the lamp.
func (q *seen) densityAt(at vec) float64 {
	if !q.small {
		return 1 / q.s
	}
	d := at.sub(q.o)
	d2 := d.len2()
	cos := -d.dot(q.l.z) / math.Sqrt(d2)
	if !(cos > 0) {
		return 0
	}
	return d2 / (cos * q.l.lu * q.l.lv)
}
