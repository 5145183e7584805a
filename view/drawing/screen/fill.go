package screen

import (
	"image"
	"math"

	"risewright/view/drawing"
)

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
	lo, hi := pts[0], pts[0]
	for _, p := range pts {
		lo.X, lo.Y = math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)
		hi.X, hi.Y = math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)
	}
	box := image.Rect(int(math.Floor(lo.X)), int(math.Floor(lo.Y)), int(math.Ceil(hi.X)), int(math.Ceil(hi.Y)))
	box = box.Intersect(r.clip)
	if box.Empty() {
		return
	}
	r.raster.Reset(box.Dx(), box.Dy())
	ox, oy := float64(box.Min.X), float64(box.Min.Y)
	r.raster.MoveTo(float32(pts[0].X-ox), float32(pts[0].Y-oy))
	for _, p := range pts[1:] {
		r.raster.LineTo(float32(p.X-ox), float32(p.Y-oy))
	}
	r.raster.ClosePath()
	r.raster.Draw(r.dst, box, &r.sources[ink], image.Point{})
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

// disc paints a small filled circle.
func (r *Renderer) disc(c drawing.Point, radius float64, ink drawing.Ink) {
	if ink == drawing.None {
		return
	}
	colour := r.ink(ink)
	r.near(c, radius, func(i, at int, dist float64) {
		if cov := min(radius+0.5-dist, 1); cov > 0 {
			colour.blend(r.dst.Pix[at:at+4:at+4], uint32(cov*255+0.5))
		}
	})
}

// ring paints the outline of a small circle, h to each side of it.
func (r *Renderer) ring(c drawing.Point, radius, h float64, ink drawing.Ink) {
	colour := r.ink(ink)
	r.near(c, radius+h, func(i, at int, dist float64) {
		if cov := min(h+0.5-math.Abs(dist-radius), 1, 2*h); cov > 0 {
			colour.blend(r.dst.Pix[at:at+4:at+4], uint32(cov*255+0.5))
		}
	})
}

// maskDisc notes a disc in the stroke mask: a rounded corner.
func (r *Renderer) maskDisc(c drawing.Point, radius float64) {
	r.near(c, radius, func(i, at int, dist float64) {
		if cov := min(radius+0.5-dist, 1, 2*radius); cov > 0 {
			r.note(i, uint32(cov*255+0.5))
		}
	})
}

// near calls do for each pixel of the image within radius (and a half) of c,
// with its place in the mask, in Pix, and its distance from c.
func (r *Renderer) near(c drawing.Point, radius float64, do func(i, at int, dist float64)) {
	x0 := clampInt(math.Floor(c.X-radius-0.5), r.clip.Min.X, r.clip.Max.X)
	x1 := clampInt(math.Ceil(c.X+radius+0.5), r.clip.Min.X, r.clip.Max.X)
	y0 := clampInt(math.Floor(c.Y-radius-0.5), r.clip.Min.Y, r.clip.Max.Y)
	y1 := clampInt(math.Ceil(c.Y+radius+0.5), r.clip.Min.Y, r.clip.Max.Y)
	for y := y0; y < y1; y++ {
		dy := float64(y) + 0.5 - c.Y
		row := y - r.clip.Min.Y
		for x := x0; x < x1; x++ {
			dx := float64(x) + 0.5 - c.X
			col := x - r.clip.Min.X
			do(row*r.clip.Dx()+col, row*r.dst.Stride+4*col, math.Sqrt(dx*dx+dy*dy))
		}
	}
}

// flatWithin is how far, in pixels, the sides of a flattened arc may stray
// from it: a tenth of what anti-aliasing shows.
const flatWithin = 0.05

// flatten appends the arc about c to pts, with sides short enough where it can
// be seen and as long as an eighth of a turn where it cannot. Its cost grows
// with the logarithm of the radius.
func (r *Renderer) flatten(c drawing.Point, radius, from, to, width float64) {
	sin, cos := math.Sincos(from)
	r.pts = append(r.pts, drawing.Point{X: c.X + radius*cos, Y: c.Y + radius*sin})
	const parts = 8
	for i := range parts {
		a := from + (to-from)*float64(i)/parts
		b := from + (to-from)*float64(i+1)/parts
		r.flattenPart(c, radius, a, b, width+2)
	}
}

func (r *Renderer) flattenPart(c drawing.Point, radius, from, to, margin float64) {
	half := math.Abs(to-from) / 2
	sag := radius * (1 - math.Cos(half))
	if sag > flatWithin && half > 1e-12 {
		// The part lies in the disc on its chord, which a sag smaller than
		// half the chord cannot leave.
		sin, cos := math.Sincos((from + to) / 2)
		mid := drawing.Point{X: c.X + radius*math.Cos(half)*cos, Y: c.Y + radius*math.Cos(half)*sin}
		reach := radius*math.Sin(half) + margin
		if mid.X+reach > float64(r.clip.Min.X) && mid.X-reach < float64(r.clip.Max.X) &&
			mid.Y+reach > float64(r.clip.Min.Y) && mid.Y-reach < float64(r.clip.Max.Y) {
			r.flattenPart(c, radius, from, (from+to)/2, margin)
			r.flattenPart(c, radius, (from+to)/2, to, margin)
			return
		}
	}
	sin, cos := math.Sincos(to)
	r.pts = append(r.pts, drawing.Point{X: c.X + radius*cos, Y: c.Y + radius*sin})
}
