package lux_test

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/lux"
)

// The closed forms of the view-factor catalogue, as twins of the polygon sum.
// Letters are the source's.

// elementParallel is B-3 (Siegel & Howell 4th ed. p. 842; electrical.md row
// 6.02, from memory): an element facing a rectangle a by b at distance c, its
// normal through a corner.
func elementParallel(a, b, c float64) float64 {
	x, y := a/c, b/c
	sx, sy := math.Sqrt(1+x*x), math.Sqrt(1+y*y)
	return (x/sx*math.Atan(y/sx) + y/sy*math.Atan(x/sy)) / (2 * math.Pi)
}

// elementPerpendicular is B-4 (same page; row 6.03, from memory): an element at
// distance c from the foot, at one corner, of a rectangle of height a and
// length b square to it.
func elementPerpendicular(a, b, c float64) float64 {
	x, y := a/b, c/b
	r := math.Hypot(x, y)
	return (math.Atan(1/y) - y/r*math.Atan(1/r)) / (2 * math.Pi)
}

// parallelRectangles is C-11 (Incropera table 13.2; row 6.04, seen).
func parallelRectangles(a, b, c float64) float64 {
	x, y := a/c, b/c
	sx, sy := math.Sqrt(1+x*x), math.Sqrt(1+y*y)
	return 2 / (math.Pi * x * y) * (math.Log(math.Sqrt((1+x*x)*(1+y*y)/(1+x*x+y*y))) +
		x*sy*math.Atan(x/sy) + y*sx*math.Atan(y/sx) - x*math.Atan(x) - y*math.Atan(y))
}

// perpendicularRectangles is C-14 (Howell 3rd ed.; row 6.05, seen): from a
// rectangle of width w to one of height h square to it, common edge l.
func perpendicularRectangles(w, h, l float64) float64 {
	W, H := w/l, h/l
	w2, h2 := W*W, H*H
	return (W*math.Atan(1/W) + H*math.Atan(1/H) - math.Sqrt(h2+w2)*math.Atan(1/math.Sqrt(h2+w2)) +
		0.25*math.Log((1+w2)*(1+h2)/(1+w2+h2)*
			math.Pow(w2*(1+w2+h2)/((1+w2)*(w2+h2)), w2)*
			math.Pow(h2*(1+h2+w2)/((1+h2)*(h2+w2)), h2))) / (math.Pi * W)
}

// line is row 6.13 (derived): the illuminance, in lx, of a thin Lambertian line
// of length L (m) and flux phi that faces down, at drop h and perpendicular
// offset y, with the line reaching from x0 to x1 along itself.
func line(phi, L, x0, x1, y, h float64) float64 {
	d := math.Hypot(y, h)
	half := func(l float64) float64 {
		u := l / d
		return (math.Atan(u) + u/(1+u*u)) / 2
	}
	return phi / (math.Pi * L) * h * h / (d * d * d) * (half(x1) - half(x0))
}

// gauss5 are the nodes and weights of Gauss and Legendre on 0 to 1, 5 points.
var gauss5 = func() (out [5][2]float64) {
	a, b := math.Sqrt(5-2*math.Sqrt(10.0/7))/3, math.Sqrt(5+2*math.Sqrt(10.0/7))/3
	wa, wb := (322+13*math.Sqrt(70))/900, (322-13*math.Sqrt(70))/900
	for i, p := range [5][2]float64{{-b, wb}, {-a, wa}, {0, 128.0 / 225}, {a, wa}, {b, wb}} {
		out[i] = [2]float64{(p[0] + 1) / 2, p[1] / 2}
	}
	return out
}()

// meanFactor returns the mean of lux.Factor to a polygon over the rectangle at
// corner with edges u and v, whose lit side is u × v. Panels shrink towards the
// edge v = 0, where a polygon may touch.
func meanFactor(corner, u, v mgl64.Vec3, polygon []mgl64.Vec3) float64 {
	n := u.Cross(v).Normalize()
	const panels = 6
	edges := make([]float64, 0, 20)
	edges = append(edges, 0)
	for k := 16; k >= 0; k-- {
		edges = append(edges, math.Pow(2, -float64(k)))
	}
	sum := 0.0
	for k := 1; k < len(edges); k++ {
		for _, gv := range gauss5 {
			at := edges[k-1] + (edges[k]-edges[k-1])*gv[0]
			for i := range panels {
				for _, gu := range gauss5 {
					p := corner.Add(v.Mul(at)).Add(u.Mul((float64(i) + gu[0]) / panels))
					sum += gv[1] * (edges[k] - edges[k-1]) * gu[1] / panels * lux.Factor(p, n, polygon)
				}
			}
		}
	}
	return sum
}

// rect returns a rectangle that shines towards u × v.
func rect(corner, u, v mgl64.Vec3) []mgl64.Vec3 {
	return []mgl64.Vec3{corner, corner.Add(u), corner.Add(u).Add(v), corner.Add(v)}
}
