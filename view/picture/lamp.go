package picture

import (
	"math"
)

// lamp is a lamp as points see it.
type lamp struct {
	corner, u, v, front vec
	lu, lv              float32
	lumens              float32
}

// lampPatches makes the scene's lamps ready.
func (w *World) lampPatches() []lamp {
	var out []lamp
	for i := range w.scene.Lamps {
		l := &w.scene.Lamps[i]
		k := lamp{corner: vecOf(l.Corner), u: vecOf(l.U), v: vecOf(l.V), lumens: float32(l.Lumens)}
		k.lu, k.lv = length(k.u), length(k.v)
		k.front = unitOf(cross(k.u, k.v))
		out = append(out, k)
	}
	return out
}

// faint is the illuminance, lx, below which the light of a lamp at full power is
// left out, and enough that above which it is followed in parts for the soft
// edge of its shadow.
const (
	faint  = 0.02
	enough = 1.0
)

// aim returns what each lamp gives a point: lx for each lumen, with what stands
// in the way.
//
// A Lambertian face of flux Φ and area A has the luminance Φ/(πA), and a part dA
// of it gives cos θ cos φ dA/r² of that; so a lumen gives Σ cos θ cos φ dA/(π A r²).
func (w *World) aim(i int, lamps []lamp) []ray {
	p := &w.point[i]
	o := add(p.at, mul(p.normal, 0.35))
	var out []ray
	for k := range lamps {
		l := &lamps[k]
		if !(l.lumens > 0) || !(l.lu > 0 && l.lv > 0) {
			continue
		}
		// Behind the lamp, or the lamp behind the point.
		far := float32(math.MaxFloat32)
		above := false
		for _, c := range [4]vec{l.corner, add(l.corner, l.u), add(l.corner, l.v), add(add(l.corner, l.u), l.v)} {
			above = above || dot(sub(c, o), p.normal) > 0
			far = min(far, length(sub(c, o)))
		}
		if !above || dot(sub(o, l.corner), l.front) <= 0 {
			continue
		}
		mid := add(l.corner, mul(add(l.u, l.v), 0.5))
		whole := factorOf(o, p.normal, mid, l.front) * 1e6 * l.lumens // lx, all of it seen, from its middle
		d := length(sub(mid, o))
		near := min(d, max(far, toLine(o, l)))
		if whole < faint && near > 0.5*max(l.lu, l.lv) {
			continue
		}
		// Parts no larger than half of how far away they are; fewer where there is
		// little light.
		part := 0.45 * near
		if whole < enough {
			part = max(part, max(l.lu, l.lv)/2)
		}
		nu := int32(max(1, min(24, math.Ceil(float64(l.lu/max(part, 1))))))
		nv := int32(max(1, min(12, math.Ceil(float64(l.lv/max(part, 1))))))
		if whole >= enough && nu*nv < 4 && l.lu > 4*l.lv {
			nu = 4
		} else if whole >= enough && l.lv > 300 {
			nu, nv = max(nu, 4), max(nv, 5)
		}
		all, seen := float32(0), float32(0)
		for a := range nu {
			for b := range nv {
				at := add(l.corner, add(mul(l.u, (float32(a)+0.5)/float32(nu)), mul(l.v, (float32(b)+0.5)/float32(nv))))
				f := factorOf(o, p.normal, at, l.front)
				if f <= 0 {
					continue
				}
				all += f
				to := sub(at, o)
				r := length(to)
				if !w.tree.blocked(o, mul(to, 1/r), r-0.6) {
					seen += f
				}
			}
		}
		if seen > 0 {
			// The parts say how much of it is seen; how much that gives is exact.
			out = append(out, ray{int32(k), factor(o, p.normal, l) / (l.lu * l.lv * 1e-6) * seen / all})
		}
	}
	return out
}

// factor returns the configuration factor of a point to a whole lamp: Lambert's
// sum over the edges of what lies above the point's horizon (electrical.md row
// 6.14).
func factor(o, n vec, l *lamp) float32 {
	var q [8]vec
	m := 0
	quad := [4]vec{sub(l.corner, o), sub(add(l.corner, l.u), o), sub(add(add(l.corner, l.u), l.v), o), sub(add(l.corner, l.v), o)}
	for i := range quad {
		a, b := quad[i], quad[(i+1)%4]
		da, db := dot(a, n), dot(b, n)
		if da >= 0 {
			q[m] = a
			m++
		}
		if (da > 0) != (db > 0) && da != db {
			q[m] = add(a, mul(sub(b, a), da/(da-db)))
			m++
		}
	}
	var sum float64
	for i := range m {
		a, b := q[i], q[(i+1)%m]
		g := cross(a, b)
		gl := length(g)
		if gl < 1e-9 {
			continue
		}
		sum += math.Atan2(float64(gl), float64(dot(a, b))) * float64(dot(n, g)/gl)
	}
	return float32(math.Abs(sum) / (2 * math.Pi))
}

// toLine returns how far a point lies from the long middle line of a lamp.
func toLine(o vec, l *lamp) float32 {
	a, d := add(l.corner, mul(l.v, 0.5)), l.u
	if l.lv > l.lu {
		a, d = add(l.corner, mul(l.u, 0.5)), l.v
	}
	t := max(0, min(1, dot(sub(o, a), d)/dot(d, d)))
	return length(sub(o, add(a, mul(d, t))))
}

// factorOf returns cos θ cos φ/(π r²), 1/mm², of a small part of a lamp.
func factorOf(o, n, at, front vec) float32 {
	d := sub(at, o)
	r2 := dot(d, d)
	c, e := dot(d, n), -dot(d, front)
	if c <= 0 || e <= 0 {
		return 0
	}
	return c * e / (math.Pi * r2 * r2)
}
