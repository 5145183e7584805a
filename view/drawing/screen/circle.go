package screen

import (
	"math"

	"risewright/view/drawing"
)

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
