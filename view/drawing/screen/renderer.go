package screen

import (
	"image"
	"image/color"
	"math"

	"golang.org/x/image/draw"

	"risewright/view/drawing"
)

// Renderer paints lists. It keeps its buffers between paintings; the zero
// value is ready. One goroutine at a time.
type Renderer struct {
	// Exact leaves level and upright lines where they are instead of moving
	// them to whole pixels.
	Exact bool

	lower   drawing.Lowering
	palette drawing.Palette

	dst   *image.RGBA
	clip  image.Rectangle
	paper float64 // pixels per paper millimetre

	pts     []drawing.Point // the current path, in pixels
	cutA    []drawing.Point // scratch of the polygon clipper
	cutB    []drawing.Point
	filler  filler
	mask    []uint8 // coverage of the current stroke, one byte a pixel of dst
	touched []int32 // the pixels of mask that are not zero
	dash    []float64
	letters lettering
}

// Draw paints the paper and then l over the whole of dst. The viewport's
// pixels are the coordinates of dst, so a sub-image shows the part of the
// picture that falls on it.
func (r *Renderer) Draw(dst *image.RGBA, l *drawing.List, v drawing.Viewport, p drawing.Palette) {
	r.begin(dst, v, p)
	r.clear(p[drawing.Paper])
	r.lower.Run(l, v.Transform(), (*sink)(r))
	r.dst = nil
}

// DrawOver paints l over what dst already shows.
func (r *Renderer) DrawOver(dst *image.RGBA, l *drawing.List, v drawing.Viewport, p drawing.Palette) {
	r.begin(dst, v, p)
	r.lower.Run(l, v.Transform(), (*sink)(r))
	r.dst = nil
}

func (r *Renderer) begin(dst *image.RGBA, v drawing.Viewport, p drawing.Palette) {
	r.dst, r.clip, r.paper = dst, dst.Rect, v.Paper
	r.palette = p
	if n := r.clip.Dx() * r.clip.Dy(); len(r.mask) < n {
		r.mask = make([]uint8, n)
	}
	k := 1 / r.paper
	r.lower.Min = drawing.Point{X: float64(r.clip.Min.X) * k, Y: -float64(r.clip.Max.Y) * k}
	r.lower.Max = drawing.Point{X: float64(r.clip.Max.X) * k, Y: -float64(r.clip.Min.Y) * k}
}

// clear fills dst with c, the first row by pixels and the others by copying.
func (r *Renderer) clear(c color.NRGBA) {
	if r.clip.Empty() {
		return
	}
	width := 4 * r.clip.Dx()
	first := r.dst.Pix[:width]
	for i := 0; i < width; i += 4 {
		first[i], first[i+1], first[i+2], first[i+3] = c.R, c.G, c.B, 255
	}
	for y := 1; y < r.clip.Dy(); y++ {
		copy(r.dst.Pix[y*r.dst.Stride:y*r.dst.Stride+width], first)
	}
}

// sink is the Renderer as a writer sees it; the methods stay out of the
// Renderer's own.
type sink Renderer

var _ drawing.PictureSink = (*sink)(nil)

// Path implements drawing.Sink.
func (k *sink) Path(pts []drawing.Point, closed bool, fill drawing.Ink, s drawing.Stroke) {
	r := (*Renderer)(k)
	if fill == drawing.None && s.Ink == drawing.None {
		return
	}
	r.pts = r.pts[:0]
	for _, p := range pts {
		p = r.pixel(p)
		if (p.X-p.X)+(p.Y-p.Y) != 0 {
			return // infinite: a number that the scale carried out of range
		}
		r.pts = append(r.pts, p)
	}
	width := r.strokeWidth(s)
	if !r.Exact {
		snap(r.pts, closed, width)
	}
	if closed && fill != drawing.None {
		r.fill(r.pts, fill)
	}
	if s.Ink != drawing.None {
		r.stroke(r.pts, closed, width, s)
	}
}

// smallCircle is the radius in pixels up to which circles are painted pixel by
// pixel from their distance; larger ones become polygons, which are cheaper.
const smallCircle = 48

// Arc implements drawing.Sink.
func (k *sink) Arc(c drawing.Point, radius, from, to float64, fill drawing.Ink, s drawing.Stroke) {
	r := (*Renderer)(k)
	if fill == drawing.None && s.Ink == drawing.None {
		return
	}
	c, radius = r.pixel(c), radius*r.paper
	if (c.X-c.X)+(c.Y-c.Y)+(radius-radius) != 0 {
		return // infinite, as above
	}
	whole := math.Abs(to-from) >= 2*math.Pi-1e-9
	if whole && radius <= smallCircle && len(s.Dash) == 0 {
		r.disc(c, radius, fill)
		if s.Ink != drawing.None {
			r.ring(c, radius, r.strokeWidth(s)/2, s.Ink)
		}
		return
	}
	r.pts = r.pts[:0]
	r.flatten(c, radius, -from, -to, r.strokeWidth(s))
	if whole {
		r.pts = r.pts[:len(r.pts)-1]
		if fill != drawing.None {
			r.fill(r.pts, fill)
		}
	}
	if s.Ink != drawing.None {
		r.stroke(r.pts, whole, r.strokeWidth(s), s)
	}
}

// Picture implements drawing.PictureSink.
func (k *sink) Picture(min, max drawing.Point, p *drawing.Picture) {
	r := (*Renderer)(k)
	a, b := r.pixel(drawing.Point{X: min.X, Y: max.Y}), r.pixel(drawing.Point{X: max.X, Y: min.Y})
	box := image.Rect(int(math.Round(a.X)), int(math.Round(a.Y)), int(math.Round(b.X)), int(math.Round(b.Y)))
	draw.ApproxBiLinear.Scale(r.dst, box, p.Image, p.Image.Bounds(), draw.Over, nil)
}

// Text implements drawing.Sink.
func (k *sink) Text(t drawing.Text) { (*Renderer)(k).text(t) }

func (r *Renderer) pixel(p drawing.Point) drawing.Point {
	return drawing.Point{X: p.X * r.paper, Y: -p.Y * r.paper}
}

// leastWidth is the thinnest a line is painted, in pixels; thinner ones fade
// from sight on a bright screen. mostWidth is the broadest: without a limit one
// wrong width would make everything near enough to be worth painting.
const (
	leastWidth = 0.6
	mostWidth  = 400
)

func (r *Renderer) strokeWidth(s drawing.Stroke) float64 {
	if s.Ink == drawing.None {
		return 0
	}
	return math.Min(math.Max(s.Width*r.paper, leastWidth), mostWidth)
}

// levelWithin is how far, in pixels, a line may rise from end to end and still
// count as level: less than the eye can see.
const levelWithin = 0.05

// snap moves level and upright lines so that a stroke of the given width fills
// whole pixels: to pixel centres for odd widths, to pixel edges for even ones
// and for fills without an outline. Both ends move, so corners stay closed.
func snap(pts []drawing.Point, closed bool, width float64) {
	n := len(pts) - 1
	if closed {
		n = len(pts)
	}
	shift := 0.0
	if int(math.Round(math.Max(width, 1)))%2 == 1 && width > 0 {
		shift = 0.5
	}
	to := func(v float64) float64 { return math.Round(v-shift) + shift }
	for i := range n {
		p, q := &pts[i], &pts[(i+1)%len(pts)]
		if math.Abs(p.Y-q.Y) < levelWithin {
			p.Y = to(p.Y)
			q.Y = p.Y
		}
		if math.Abs(p.X-q.X) < levelWithin {
			p.X = to(p.X)
			q.X = p.X
		}
	}
}

// ink is a colour ready to be blended: 0 to 255 each, not premultiplied.
type ink struct{ r, g, b, a uint32 }

func (r *Renderer) ink(i drawing.Ink) ink {
	c := r.palette[i]
	return ink{uint32(c.R), uint32(c.G), uint32(c.B), uint32(c.A)}
}

// blend paints one pixel of pix with coverage cov, 0 to 255.
func (c ink) blend(pix []uint8, cov uint32) {
	a := cov * c.a // 0 to 65025
	a += a >> 7    // 0 to 65533, so that full coverage is all but 65536
	if a >= 65500 {
		a = 65536
	}
	pix = pix[:4:4]
	pix[0] = mix(pix[0], c.r, a)
	pix[1] = mix(pix[1], c.g, a)
	pix[2] = mix(pix[2], c.b, a)
	pix[3] = mix(pix[3], 255, a)
}

// mix returns d moved towards c by a/65536, rounded.
func mix(d uint8, c, a uint32) uint8 {
	return uint8((uint32(d)*(65536-a) + c*a + 32768) >> 16)
}
