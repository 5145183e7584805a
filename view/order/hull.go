package order

import (
	"cmp"
	"slices"

	"risewright/view/drawing"
)

// hull finds convex outlines. It keeps its arrays from call to call.
type hull struct {
	sorted, loop []drawing.Point
}

// flat is how far, in mm, a corner may stand out of an outline and still be
// taken for a rounding: solids are metres at most and worked in float64.
const flat = 1e-6

// of returns the convex outline of points, anticlockwise from the leftmost, the
// lower of two; two points when they lie on a line. They are lent until the
// next call.
func (h *hull) of(pts []drawing.Point) []drawing.Point {
	h.sorted = append(h.sorted[:0], pts...)
	slices.SortFunc(h.sorted, func(a, b drawing.Point) int {
		if c := cmp.Compare(a.X, b.X); c != 0 {
			return c
		}
		return cmp.Compare(a.Y, b.Y)
	})
	h.loop = h.loop[:0]
	for pass := range 2 {
		first := len(h.loop)
		for i := range h.sorted {
			q := h.sorted[i]
			if pass == 1 {
				q = h.sorted[len(h.sorted)-1-i]
			}
			for len(h.loop) >= first+2 && !turnsLeft(h.loop[len(h.loop)-2], h.loop[len(h.loop)-1], q) {
				h.loop = h.loop[:len(h.loop)-1]
			}
			h.loop = append(h.loop, q)
		}
		if len(h.loop) > 0 {
			h.loop = h.loop[:len(h.loop)-1] // it begins the other half
		}
	}
	return h.loop
}

// turnsLeft says whether q lies left of the line from a to b by more than a
// rounding.
func turnsLeft(a, b, q drawing.Point) bool {
	d, e := b.Sub(a), q.Sub(a)
	return d.X*e.Y-d.Y*e.X > flat*max(d.Len(), e.Len())
}
