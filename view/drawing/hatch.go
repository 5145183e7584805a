package drawing

import (
	"cmp"
	"math"
	"slices"
)

// hatchSpacing is the distance, in paper millimetres, between the lines of a
// hatch that names none, and hatchLeast the closest it may be: nearer lines
// run together on any printer.
const (
	hatchSpacing = 1.6
	hatchLeast   = 0.3
)

// crossing is where a hatch line meets the outline, and which way the outline
// runs there.
type crossing struct {
	at   float64
	turn int
}

// hatch draws the lines of h inside the closed path in w.pts, between Min and
// Max. Lines are counted from origin, so they stay put on a shape as it is
// panned.
func (w *Lowering) hatch(h Hatch, origin Point) {
	if w.Min == w.Max {
		return
	}
	s := Stroke{Ink: h.Ink, Width: h.Width}
	if s.Ink == None {
		s.Ink = Soft
	}
	if s.Width <= 0 {
		s.Width = Fine
	}
	gap := h.Spacing
	if gap <= 0 {
		gap = hatchSpacing
	}
	gap = math.Max(gap, hatchLeast)
	switch h.Pattern {
	case Diagonal:
		w.hatchAlong(math.Pi/4, gap, origin, s)
	case BackDiagonal:
		w.hatchAlong(-math.Pi/4, gap, origin, s)
	case CrossHatch:
		w.hatchAlong(math.Pi/4, gap, origin, s)
		w.hatchAlong(-math.Pi/4, gap, origin, s)
	case Level:
		w.hatchAlong(0, gap, origin, s)
	}
}

// hatchAlong draws the parallel lines at one angle. In the frame (along,
// across) of that angle a line is across = k·gap; walking along it, each crossing of the
// outline adds or takes a turn, and wherever turns are left over is inside.
func (w *Lowering) hatchAlong(angle, gap float64, origin Point, s Stroke) {
	sin, cos := math.Sincos(angle)
	along := func(p Point) float64 { return (p.X-origin.X)*cos + (p.Y-origin.Y)*sin }
	across := func(p Point) float64 { return (p.Y-origin.Y)*cos - (p.X-origin.X)*sin }

	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range w.pts {
		v := across(p)
		lo, hi = math.Min(lo, v), math.Max(hi, v)
	}
	seenLo, seenHi := math.Inf(1), math.Inf(-1)
	leftmost, rightmost := math.Inf(1), math.Inf(-1)
	for _, c := range [4]Point{w.Min, {w.Max.X, w.Min.Y}, w.Max, {w.Min.X, w.Max.Y}} {
		v, u := across(c), along(c)
		seenLo, seenHi = math.Min(seenLo, v), math.Max(seenHi, v)
		leftmost, rightmost = math.Min(leftmost, u), math.Max(rightmost, u)
	}
	lo, hi = math.Max(lo, seenLo), math.Min(hi, seenHi)

	for k := math.Ceil(lo / gap); k*gap <= hi; k++ {
		v := k * gap
		w.cross = w.cross[:0]
		for i, p := range w.pts {
			q := w.pts[(i+1)%len(w.pts)]
			vp, vq := across(p), across(q)
			if (vp <= v) == (vq <= v) {
				continue
			}
			t := (v - vp) / (vq - vp)
			turn := 1
			if vp > v {
				turn = -1
			}
			w.cross = append(w.cross, crossing{along(p) + t*(along(q)-along(p)), turn})
		}
		slices.SortFunc(w.cross, func(a, b crossing) int { return cmp.Compare(a.at, b.at) })
		turns, began := 0, 0.0
		for _, c := range w.cross {
			if turns == 0 {
				began = c.at
			}
			turns += c.turn
			if turns != 0 {
				continue
			}
			u0, u1 := math.Max(began, leftmost), math.Min(c.at, rightmost)
			if u0 >= u1 {
				continue
			}
			w.line(
				Point{origin.X + u0*cos - v*sin, origin.Y + u0*sin + v*cos},
				Point{origin.X + u1*cos - v*sin, origin.Y + u1*sin + v*cos}, s)
		}
	}
}
