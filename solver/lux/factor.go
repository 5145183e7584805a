package lux

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// Factor returns the configuration factor F from a small surface at p with unit
// normal n to the flat convex polygon: the illuminance at p is the polygon's
// exitance times F. The polygon shines to the side from which it is seen
// anticlockwise; from behind F is 0. What lies below the horizon of p is cut
// off.
//
//	F = 1/(2π) Σ θ(i) n·g(i)/|g(i)|
//
// Lambert 1760 and graphics texts (electrical.md row 6.14, from memory; it
// reproduces the published values of rows 6.06 to 6.12).
func Factor(p, n mgl64.Vec3, polygon []mgl64.Vec3) float64 {
	if len(polygon) < 3 {
		return 0
	}
	var w workspace
	v := w.take(len(polygon))
	for _, q := range polygon {
		v = append(v, q.Sub(p))
	}
	if !(newell(v).Dot(v[0]) < 0) {
		return 0 // p lies behind, or in its plane
	}
	return w.factor(n, v)
}

// newell returns twice the area of the polygon times its normal, on the side
// from which it is anticlockwise.
func newell(v []mgl64.Vec3) mgl64.Vec3 {
	var n mgl64.Vec3
	for i := 1; i+1 < len(v); i++ {
		n = n.Add(v[i].Sub(v[0]).Cross(v[i+1].Sub(v[0])))
	}
	return n
}

// factor returns F of the polygon v, given as seen from the point, which lies
// in front of it. It may cut v at the horizon into its own storage.
func (w *workspace) factor(n mgl64.Vec3, v []mgl64.Vec3) float64 {
	for i := range v {
		if v[i].Dot(n) < 0 {
			v = clip(w.take(len(v)+1), v, n, 0)
			break
		}
	}
	if len(v) < 3 {
		return 0
	}
	return lambert(n, v)
}

// grazing is the sine of the angle, squared, below which an edge seen from the
// point has no plane with it: at 1e-14 rad the edge's share of F is below
// rounding.
const grazing = 1e-28

// lambert returns Lambert's sum. Going round anticlockwise as seen from the lit
// side is clockwise from p, hence the sign.
func lambert(n mgl64.Vec3, v []mgl64.Vec3) float64 {
	sum := 0.0
	a := v[len(v)-1]
	for _, b := range v {
		gx, gy, gz := b[1]*a[2]-b[2]*a[1], b[2]*a[0]-b[0]*a[2], b[0]*a[1]-b[1]*a[0]
		g2 := gx*gx + gy*gy + gz*gz
		dot := a[0]*b[0] + a[1]*b[1] + a[2]*b[2]
		if g2 > grazing*dot*dot {
			g := math.Sqrt(g2)
			sum += math.Atan2(g, dot) / g * (gx*n[0] + gy*n[1] + gz*n[2])
		}
		a = b
	}
	return math.Max(0, sum/(2*math.Pi))
}
