package screen

import (
	"math"

	"risewright/view/drawing"
)

// mitreTurn is the cosine of the sharpest turn that is drawn to a full corner,
// 105°; sharper ones are rounded, because a mitre would run far past the point.
// Up to 90° the lengthened ends make the exact mitre; from there to 105° they
// poke out by at most sin 15° of half the width.
var mitreTurn = math.Cos(105 * math.Pi / 180)

// dashFloor is the shortest dash pattern, in pixels, that is drawn as dashes;
// below it a line would be a grey blur paid for by the pixel.
const dashFloor = 1

// stroke paints a line through pts, which are pixels.
func (r *Renderer) stroke(pts []drawing.Point, closed bool, width float64, s drawing.Stroke) {
	n := dedupe(pts)
	pts = pts[:n]
	if n > 2 && closed && pts[0] == pts[n-1] {
		n--
		pts = pts[:n]
	}
	if n < 2 {
		return
	}
	closed = closed && n > 2
	segments := n - 1
	if closed {
		segments = n
	}
	h := width / 2
	colour := r.ink(s.Ink)
	pattern := r.pattern(s)
	single := segments == 1

	travelled := 0.0
	var before drawing.Point // direction of the segment before, when there is one
	if closed {
		before = direction(pts[n-1], pts[0])
	}
	for i := range segments {
		a, b := pts[i], pts[(i+1)%n]
		d := b.Sub(a)
		length := d.Len()
		if length == 0 || length > math.MaxFloat64 {
			continue // no direction, or one too long to have a length
		}
		u := d.Mul(1 / length)
		var grow [2]float64 // lengthening at the joints, before and after
		joined := [2]bool{closed || i > 0, closed || i+1 < segments}
		if joined[0] {
			grow[0] = r.joint(a, before, u, h)
		}
		if joined[1] {
			grow[1] = r.joint(b, u, direction(b, pts[(i+2)%n]), h)
		}
		before = u
		seg := segment{a: a, u: u, h: h}
		if len(pattern) == 0 {
			seg.t0, seg.t1 = -grow[0], length+grow[1]
			r.paint(seg, single, colour)
		} else {
			r.dashes(seg, length, travelled, pattern, joined, grow, single, colour)
			travelled += length
		}
	}
	if !single {
		r.flush(colour)
	}
}

// dedupe drops points that repeat the one before, which have no direction, and
// returns how many are left.
func dedupe(pts []drawing.Point) int {
	n := 0
	for _, p := range pts {
		if n == 0 || p != pts[n-1] {
			pts[n] = p
			n++
		}
	}
	return n
}

func direction(a, b drawing.Point) drawing.Point {
	d := b.Sub(a)
	if l := d.Len(); l > 0 {
		return d.Mul(1 / l)
	}
	return drawing.Point{}
}

// joint returns by how much the two segments meeting at p reach past it, so
// that their ends make a corner. Half a pixel is the least: there the soft end
// of one lies wholly inside the other.
func (r *Renderer) joint(p, in, out drawing.Point, h float64) float64 {
	cos := in.X*out.X + in.Y*out.Y
	if cos < mitreTurn {
		r.maskDisc(p, h)
		return 0
	}
	sin := math.Abs(in.X*out.Y - in.Y*out.X)
	reach := h
	if cos > 0 {
		reach = h * sin / (1 + cos) // h·tan(turn/2)
	}
	return math.Max(reach, 0.5)
}

// pattern returns the dashes of s in pixels, an even number of them, or none.
func (r *Renderer) pattern(s drawing.Stroke) []float64 {
	r.dash = r.dash[:0]
	total := 0.0
	for _, d := range s.Dash {
		d = math.Max(0, d) * r.paper
		r.dash = append(r.dash, d)
		total += d
	}
	if len(r.dash)%2 == 1 {
		r.dash = append(r.dash, r.dash...)
		total *= 2
	}
	if total < dashFloor {
		return nil
	}
	return r.dash
}

// dashes paints the pieces of one segment that are on. The pattern began
// travelled pixels before the segment; only the part of it that can be seen is
// walked.
func (r *Renderer) dashes(seg segment, length, travelled float64, pattern []float64, joined [2]bool, grow [2]float64, single bool, colour ink) {
	from, to, seen := r.visible(seg, length)
	if !seen {
		return
	}
	// Rounding may make the visible part of an endless line look longer than
	// the picture; walking it must not take longer.
	to = math.Min(to, from+float64(r.clip.Dx()+r.clip.Dy())+4*(seg.h+2))
	total := 0.0
	for _, d := range pattern {
		total += d
	}
	// Distances here are from `from`, so that steps are never lost against it.
	for t := -math.Mod(travelled+from, total); t < to-from; {
		for i, d := range pattern {
			t0, t1 := from+t, from+t+d
			t += d
			if i%2 == 1 || t1 <= from || t0 >= to {
				continue
			}
			// At a joint a dash that is on runs round the corner.
			if t0 <= 0 {
				t0 = 0
				if joined[0] {
					t0 = -grow[0]
				}
			}
			if t1 >= length {
				t1 = length
				if joined[1] {
					t1 = length + grow[1]
				}
			}
			seg.t0, seg.t1 = t0, t1
			r.paint(seg, single, colour)
		}
	}
}

// visible returns the part of a segment, as distances from its start, that can
// touch the image, by the usual clipping of a line against four half-planes.
func (r *Renderer) visible(s segment, length float64) (from, to float64, ok bool) {
	from, to = 0, length
	margin := s.h + 2
	x0, x1 := float64(r.clip.Min.X)-margin, float64(r.clip.Max.X)+margin
	y0, y1 := float64(r.clip.Min.Y)-margin, float64(r.clip.Max.Y)+margin
	cut := func(p, u, lo, hi float64) {
		if u == 0 {
			if p < lo || p > hi {
				from, to = 1, 0
			}
			return
		}
		a, b := (lo-p)/u, (hi-p)/u
		from, to = math.Max(from, math.Min(a, b)), math.Min(to, math.Max(a, b))
	}
	cut(s.a.X, s.u.X, x0, x1)
	cut(s.a.Y, s.u.Y, y0, y1)
	return from, to, from < to
}

// segment is a straight piece of stroke: the points within h of the line from
// a along u, between the distances t0 and t1.
type segment struct {
	a, u   drawing.Point
	t0, t1 float64
	h      float64
}

// paint works out how far each pixel is covered and blends it, or when the
// stroke has several pieces (direct is false) notes it in the mask.
//
// Coverage is that of a one-pixel box turned to lie along the line: exact for
// level and upright lines, and for others as even as the eye can tell. Across
// the line at distance d it is min(h+½-|d|, 1, 2h); along it, the same for the
// two ends. Only pixels that are covered are visited, row by row.
func (r *Renderer) paint(s segment, direct bool, colour ink) {
	const flat = 1e-9
	reach := s.h + 0.5
	cap1 := math.Min(1, 2*s.h)
	capAlong := math.Min(1, s.t1-s.t0)
	if capAlong <= 0 {
		return
	}
	lo, hi := s.a.Y+s.u.Y*s.t0, s.a.Y+s.u.Y*s.t1
	if lo > hi {
		lo, hi = hi, lo
	}
	grow := reach*math.Abs(s.u.X) + 0.5*math.Abs(s.u.Y)
	y0 := clampInt(math.Floor(lo-grow), r.clip.Min.Y, r.clip.Max.Y)
	y1 := clampInt(math.Ceil(hi+grow), r.clip.Min.Y, r.clip.Max.Y)
	left, right := float64(r.clip.Min.X), float64(r.clip.Max.X)
	for y := y0; y < y1; y++ {
		dy := float64(y) + 0.5 - s.a.Y
		// The part of the row that is near the line, and between its ends.
		xa, xb := left, right
		if math.Abs(s.u.Y) > flat {
			c, w := s.a.X+dy*s.u.X/s.u.Y, reach/math.Abs(s.u.Y)
			xa, xb = math.Max(xa, c-w), math.Min(xb, c+w)
		} else if math.Abs(dy) >= reach {
			continue
		}
		if math.Abs(s.u.X) > flat {
			e0 := s.a.X + (s.t0-0.5-dy*s.u.Y)/s.u.X
			e1 := s.a.X + (s.t1+0.5-dy*s.u.Y)/s.u.X
			if e0 > e1 {
				e0, e1 = e1, e0
			}
			xa, xb = math.Max(xa, e0), math.Min(xb, e1)
		}
		if xa >= xb {
			continue
		}
		x0, x1 := int(math.Floor(xa)), int(math.Ceil(xb))
		x0, x1 = max(x0, r.clip.Min.X), min(x1, r.clip.Max.X)
		dx := float64(x0) + 0.5 - s.a.X
		t := dx*s.u.X + dy*s.u.Y - s.t0 // from the first end
		d := dy*s.u.X - dx*s.u.Y
		span := s.t1 - s.t0
		row := (y - r.clip.Min.Y)
		pix := r.dst.Pix[row*r.dst.Stride:]
		at := row*r.clip.Dx() - r.clip.Min.X
		for x := x0; x < x1; x++ {
			cov := min(reach-math.Abs(d), cap1)
			along := min(t+0.5, span-t+0.5, capAlong)
			t += s.u.X
			d -= s.u.Y
			if cov <= 0 || along <= 0 {
				continue
			}
			a := uint32(cov*along*255 + 0.5)
			if direct {
				i := 4 * (x - r.clip.Min.X)
				colour.blend(pix[i:i+4:i+4], a)
			} else {
				r.note(at+x, a)
			}
		}
	}
}

// note raises the mask at i to cover a.
func (r *Renderer) note(i int, a uint32) {
	old := r.mask[i]
	if uint32(old) >= a {
		return
	}
	if old == 0 {
		r.touched = append(r.touched, int32(i))
	}
	r.mask[i] = uint8(a)
}

// flush paints what the mask holds and empties it.
func (r *Renderer) flush(colour ink) {
	width := r.clip.Dx()
	for _, i := range r.touched {
		y, x := int(i)/width, int(i)%width
		at := y*r.dst.Stride + 4*x
		colour.blend(r.dst.Pix[at:at+4:at+4], uint32(r.mask[i]))
		r.mask[i] = 0
	}
	r.touched = r.touched[:0]
}

// clampInt returns v between lo and hi, and lo if v is not a number.
func clampInt(v float64, lo, hi int) int {
	if v != v {
		return lo
	}
	return int(math.Max(float64(lo), math.Min(float64(hi), v)))
}
