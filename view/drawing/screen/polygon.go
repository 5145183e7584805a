package screen

import (
	"math"

	"risewright/view/drawing"
)

// filler finds how much of each pixel a shape covers, row by row. Its answer
// is exact but for rounding, also on the nearly level edges that a tread a
// little out of square is made of; golang.org/x/image/vector, tried first, was
// out by up to 70 levels of 255 there, because it counts slopes in 1/512.
//
// An edge that passes through a cell adds its height to the cover of all cells
// to the right, less the part of that cell to its left. So a row is summed
// from left to right, and where no edge passes the cover does not change and
// is painted as one run. The cost is that of the edges and the runs.
type filler struct {
	acc   []float64 // what each cell of the row adds to the sum
	spans []span    // the cells of the row that edges touch, by their start
}

// span is the cells from x0 up to and without x1.
type span struct{ x0, x1 int }

// fill paints the inside of the closed shape pts, in pixels. The shape is
// first cut to the image, so its cost is that of what can be seen.
func (r *Renderer) fill(pts []drawing.Point, ink drawing.Ink) {
	if len(pts) < 3 {
		return
	}
	pts = r.cut(pts)
	if len(pts) < 3 {
		return
	}
	top, bottom := math.Inf(1), math.Inf(-1)
	for _, p := range pts {
		if (p.X-p.X)+(p.Y-p.Y) != 0 {
			return // infinite, as in Path
		}
		top, bottom = math.Min(top, p.Y), math.Max(bottom, p.Y)
	}
	if n := r.clip.Dx() + 2; len(r.filler.acc) < n {
		r.filler.acc = make([]float64, n)
	}
	colour := r.ink(ink)
	left := float64(r.clip.Min.X)
	for y := clampInt(math.Floor(top), r.clip.Min.Y, r.clip.Max.Y); y < clampInt(math.Ceil(bottom), r.clip.Min.Y, r.clip.Max.Y); y++ {
		r.filler.spans = r.filler.spans[:0]
		for i, a := range pts {
			b := pts[(i+1)%len(pts)]
			r.filler.edge(a.X-left, a.Y-float64(y), b.X-left, b.Y-float64(y))
		}
		at := r.dst.PixOffset(r.clip.Min.X, y)
		r.filler.row(r.dst.Pix[at:at+4*r.clip.Dx()], colour)
	}
}

// edge adds the part of an edge that lies in the row 0 <= y < 1.
func (f *filler) edge(ax, ay, bx, by float64) {
	sign := 1.0
	if ay > by {
		ax, ay, bx, by, sign = bx, by, ax, ay, -1
	}
	if by <= 0 || ay >= 1 || ay == by {
		return
	}
	slope := (bx - ax) / (by - ay)
	if by > 1 {
		bx, by = ax+(1-ay)*slope, 1
	}
	if ay < 0 {
		ax, ay = ax-ay*slope, 0
	}
	// Rounding may carry an end out of the row of cells by a hair.
	width := float64(len(f.acc) - 2)
	ax, bx = math.Min(math.Max(ax, 0), width), math.Min(math.Max(bx, 0), width)
	height := sign * (by - ay)
	lo, hi := math.Min(ax, bx), math.Max(ax, bx)
	x0, x1 := int(lo), int(hi)
	if x0 == x1 {
		m := (lo+hi)/2 - float64(x0)
		f.acc[x0] += height * (1 - m)
		f.acc[x0+1] += height * m
	} else {
		steep := height / (hi - lo)
		for x := x0; x <= x1; x++ {
			from, to := math.Max(lo, float64(x)), math.Min(hi, float64(x+1))
			h, m := steep*(to-from), (from+to)/2-float64(x)
			f.acc[x] += h * (1 - m)
			f.acc[x+1] += h * m
		}
	}
	// Keep the spans in order of their starts; there are few.
	s := span{x0, x1 + 2}
	i := len(f.spans)
	f.spans = append(f.spans, s)
	for ; i > 0 && f.spans[i-1].x0 > x0; i-- {
		f.spans[i] = f.spans[i-1]
	}
	f.spans[i] = s
}

// row paints the row from what edges left in acc, and clears acc.
func (f *filler) row(pix []uint8, colour ink) {
	sum := 0.0
	x := 0
	for _, s := range f.spans {
		if s.x0 > x {
			colour.run(pix, x, s.x0, level(sum))
			x = s.x0
		}
		for ; x < s.x1; x++ {
			sum += f.acc[x]
			f.acc[x] = 0
			if 4*x < len(pix) {
				if a := level(sum); a != 0 {
					colour.blend(pix[4*x:4*x+4:4*x+4], a)
				}
			}
		}
	}
}

// level turns a sum of turns into coverage, 0 to 255. Going round twice, or
// the other way about, is inside too.
func level(sum float64) uint32 {
	return uint32(math.Min(math.Abs(sum), 1)*255 + 0.5)
}

// run blends the pixels from x0 up to x1 with one coverage.
func (c ink) run(pix []uint8, x0, x1 int, cov uint32) {
	if cov == 0 {
		return
	}
	x1 = min(x1, len(pix)/4)
	if cov == 255 && c.a == 255 {
		for i := 4 * x0; i < 4*x1; i += 4 {
			p := pix[i : i+4 : i+4]
			p[0], p[1], p[2], p[3] = uint8(c.r), uint8(c.g), uint8(c.b), 255
		}
		return
	}
	for i := 4 * x0; i < 4*x1; i += 4 {
		c.blend(pix[i:i+4:i+4], cov)
	}
}

// cut returns the part of the closed shape pts that lies on the image, one
// edge of the image after another. Where the shape leaves and returns, the
// result runs along the edge, which paints nothing.
func (r *Renderer) cut(pts []drawing.Point) []drawing.Point {
	x0, y0 := float64(r.clip.Min.X), float64(r.clip.Min.Y)
	x1, y1 := float64(r.clip.Max.X), float64(r.clip.Max.Y)
	inside := true
	for _, p := range pts {
		inside = inside && p.X >= x0 && p.X <= x1 && p.Y >= y0 && p.Y <= y1
	}
	if inside {
		return pts
	}
	r.cutA = cutHalf(r.cutA[:0], pts, 1, 0, x0)
	r.cutB = cutHalf(r.cutB[:0], r.cutA, -1, 0, -x1)
	r.cutA = cutHalf(r.cutA[:0], r.cutB, 0, 1, y0)
	r.cutB = cutHalf(r.cutB[:0], r.cutA, 0, -1, -y1)
	return r.cutB
}

// cutHalf appends to dst the part of pts where nx·x + ny·y >= c.
func cutHalf(dst, pts []drawing.Point, nx, ny, c float64) []drawing.Point {
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		dp, dq := nx*p.X+ny*p.Y-c, nx*q.X+ny*q.Y-c
		if dp >= 0 {
			dst = append(dst, p)
		}
		if (dp >= 0) != (dq >= 0) {
			// Weighted so that neither product overflows before the sum.
			t := dp / (dp - dq)
			x := drawing.Point{X: p.X*(1-t) + q.X*t, Y: p.Y*(1-t) + q.Y*t}
			if nx != 0 {
				x.X = c * nx
			} else {
				x.Y = c * ny
			}
			dst = append(dst, x)
		}
	}
	return dst
}
