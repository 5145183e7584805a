package lux

import "github.com/go-gl/mathgl/mgl64"

// touching is the distance, mm, within which things that are fixed to each
// other count as touching, so that a face neither shades what lies on it nor
// is shaded by it. Coordinates reach 1e5 mm, where float64 is spaced 1.5e-11; a
// millionth of a millimetre survives tens of thousands of roundings, and what
// it leaves unshaded of a face 10 mm wide is 1e-7 of its light.
const touching = 1e-6

// workspace keeps the polygons of one point, so that a solve allocates only
// until it has reached its size. One goroutine at a time.
type workspace struct {
	points []mgl64.Vec3
	live   [][]mgl64.Vec3 // what is seen of the source
	next   [][]mgl64.Vec3
}

// take returns an empty polygon with room for n points. Polygons taken before
// stay valid: when the storage is full a new one is begun.
func (w *workspace) take(n int) []mgl64.Vec3 {
	at := len(w.points)
	if at+n > cap(w.points) {
		w.points, at = make([]mgl64.Vec3, 0, max(256, 2*cap(w.points), n)), 0
	}
	w.points = w.points[:at+n]
	return w.points[at : at : at+n]
}

func (w *workspace) reset() { w.points = w.points[:0] }

// clip appends to dst the part of the convex polygon v with n·x >= d.
func clip(dst, v []mgl64.Vec3, n mgl64.Vec3, d float64) []mgl64.Vec3 {
	if len(v) == 0 {
		return dst
	}
	a := v[len(v)-1]
	ha := n.Dot(a) - d
	for _, b := range v {
		hb := n.Dot(b) - d
		if (ha < 0) != (hb < 0) {
			dst = append(dst, a.Add(b.Sub(a).Mul(ha/(ha-hb))))
		}
		if hb >= 0 {
			dst = append(dst, b)
		}
		a, ha = b, hb
	}
	return dst
}

// seen leaves in w.live what can be seen of the source v (from the point, at
// the origin) past the screens, whose corners are given from the same origin
// as at: exact, as convex pieces.
//
// The shadow of a convex screen is a cone of planes through the point, one for
// each edge, beyond the screen's own plane. What lies outside the first plane
// is seen; of the rest, what lies outside the second; and so on. What is left
// at the end is in shadow.
func (w *workspace) seen(v []mgl64.Vec3, screens []*screen, at mgl64.Vec3) {
	w.live = append(w.live[:0], v)
	for _, s := range screens {
		// How far the point lies in front.
		front := s.normal.Dot(at) - s.offset
		if front <= touching && !(s.both && front < -touching) {
			continue
		}
		w.next = w.next[:0]
		for _, piece := range w.live {
			w.shade(piece, s, at, front)
		}
		w.live, w.next = w.next, w.live
		if len(w.live) == 0 {
			return
		}
	}
}

// shade appends to w.next what is seen of the piece past the screen.
func (w *workspace) shade(piece []mgl64.Vec3, s *screen, at mgl64.Vec3, front float64) {
	began := len(w.next)
	sign := 1.0
	if front < 0 {
		sign = -1
	}
	rest := piece
	// Beyond the screen's plane first, then inside each edge's plane.
	for i := -1; i < len(s.corners); i++ {
		var n mgl64.Vec3
		var d float64
		if i < 0 {
			n, d = s.normal.Mul(-sign), sign*front+touching
		} else {
			a := s.corners[i].Sub(at)
			b := s.corners[(i+1)%len(s.corners)].Sub(at)
			n = b.Cross(a).Mul(sign)
		}
		in, out := false, false
		for _, p := range rest {
			if n.Dot(p) > d {
				in = true
			} else {
				out = true
			}
		}
		if !in { // nothing of it is in shadow
			w.next = append(w.next[:began], piece)
			return
		}
		if out {
			w.next = append(w.next, clip(w.take(len(rest)+1), rest, n.Mul(-1), -d))
			rest = clip(w.take(len(rest)+1), rest, n, d)
		}
	}
}
