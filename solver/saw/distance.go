package saw

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// negligible is the distance, in mm, below which the largest distance past a
// face stands for the distance to the board. At an edge or corner it is less
// than the true one by a factor of at most a few, which below 10⁻⁶ mm matters
// to nobody.
const negligible = 1e-6

// apart returns the Hausdorff distance of two boards: how far the farthest
// point of either lies from the other. For convex bodies this is reached at a
// corner, and it is the same for the bodies and for their surfaces.
func apart(a, b *board) float64 {
	return math.Max(sticksOut(a, b), sticksOut(b, a))
}

// sticksOut returns how far the farthest corner of a lies outside b.
func sticksOut(a, b *board) float64 {
	far := 0.0
	for i := range a.nv {
		d := b.distance(a.verts[i])
		if !(d <= far) { // a distance that is no number counts as the farthest
			far = d
		}
	}
	return far
}

// distance returns how far p lies outside the board; 0 on or in it.
func (b *board) distance(p mgl64.Vec3) float64 {
	past := 0.0
	for i := range b.nf {
		f := &b.faces[i]
		if d := f.normal.Dot(p) - f.offset; !(d <= past) {
			past = d
		}
	}
	if !(past > negligible) {
		return past
	}
	near := math.Inf(1)
	for i := range b.nf {
		f := &b.faces[i]
		if d := f.normal.Dot(p) - f.offset; d > 0 {
			near = math.Min(near, b.facetDistance(f, p, d))
		}
	}
	if math.IsInf(near, 1) { // only when p is not a number
		return past
	}
	return near
}

// facetDistance returns the distance of p from a facet, d above its plane.
func (b *board) facetDistance(f *facet, p mgl64.Vec3, d float64) float64 {
	inside := true
	edges := math.Inf(1)
	for k := range f.n {
		u, v := b.verts[f.loop[k]], b.verts[f.loop[(k+1)%f.n]]
		e, r := v.Sub(u), p.Sub(u)
		if f.normal.Dot(e.Cross(r)) < 0 {
			inside = false
		}
		t := mgl64.Clamp(r.Dot(e)/e.Dot(e), 0, 1)
		edges = math.Min(edges, r.Sub(e.Mul(t)).Len())
	}
	if inside {
		return d
	}
	return edges
}
