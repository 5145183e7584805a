package drawing

import (
	"fmt"
	"math"
)

// TextFaults returns what is wrong with the lettering of a list whose scene is
// paper, for tests of layouts:
//
//   - lettering outside the box from min to max;
//   - lettering over other lettering;
//   - lettering under a fill or a picture that is painted later;
//   - lettering without a halo that a level or an upright line runs through;
//   - characters the font does not have.
//
// Letters are measured by their outlines, so accents and tails count. It
// returns nil when all is well.
func TextFaults(l *List, min, max Point) []string {
	c := collect(l)
	var faults []string
	fault := func(format string, args ...any) { faults = append(faults, fmt.Sprintf(format, args...)) }
	for i := range c.texts {
		t, q := &c.texts[i], &c.quads[i]
		s := t.String
		if m := MissingRunes(s, t.Bold, t.Mono); m != nil {
			fault("%q has characters the font cannot draw: %q", s, string(m))
		}
		if !c.inked[i] {
			continue
		}
		b := c.boxes[i]
		if b.min.X < min.X-touching || b.min.Y < min.Y-touching || b.max.X > max.X+touching || b.max.Y > max.Y+touching {
			fault("%q reaches outside: %.1f,%.1f to %.1f,%.1f", s, b.min.X, b.min.Y, b.max.X, b.max.Y)
		}
		for k := range i {
			if !c.inked[k] || !b.near(c.boxes[k]) {
				continue
			}
			if by := q.overlap(&c.quads[k]); by > touching {
				fault("%q lies over %q by %.2f mm", s, c.texts[k].String, by)
			}
		}
		for k := range c.fills {
			if f := &c.fills[k]; f.after > i && b.near(f.box) && f.covers(q) {
				fault("%q is painted over by a fill of %s at %.1f,%.1f", s, f.ink, b.min.X, b.min.Y)
			}
		}
		if t.Halo {
			continue
		}
		for k := range c.rules {
			r := &c.rules[k]
			if !b.near(r.box) {
				continue
			}
			if by := q.overlap(&r.quad); by > touching && !(r.after <= i && c.whitened(q, r.after, i)) {
				fault("%q is struck by a line from %.1f,%.1f to %.1f,%.1f", s, r.from.X, r.from.Y, r.to.X, r.to.Y)
			}
		}
	}
	return faults
}

// CellFaults returns the lettering without a halo that has its middle in an
// upright box or a disc and does not lie within it, for tests of forms and
// tables whose scene is paper.
func CellFaults(l *List) []string {
	c := collect(l)
	var faults []string
	for i := range c.texts {
		if c.texts[i].Halo || !c.inked[i] {
			continue
		}
		q := &c.quads[i]
		if cell, ok := c.cellOf(q); ok && !q.inside(cell) {
			b := c.boxes[i]
			faults = append(faults, fmt.Sprintf("%q runs out of its box %.1f,%.1f to %.1f,%.1f: it takes %.1f,%.1f to %.1f,%.1f", c.texts[i].String,
				cell.min.X, cell.min.Y, cell.max.X, cell.max.Y, b.min.X, b.min.Y, b.max.X, b.max.Y))
		}
	}
	return faults
}

func collect(l *List) *textCollector {
	c := &textCollector{glyphs: map[inkKey]box{}}
	var w Lowering
	w.Run(l, Identity(), c)
	return c
}

// touching is how far, in paper mm, two shapes may reach into each other:
// rounding, and the width of a line's own edge.
const touching = 0.05

// quad is a box that may be turned: its corners in turn.
type quad [4]Point

func (q *quad) box() box {
	b := emptyBox()
	for _, p := range q {
		b.add(p)
	}
	return b
}

// near says whether two boxes have a place in common.
func (b box) near(o box) bool {
	return b.min.X <= o.max.X && o.min.X <= b.max.X && b.min.Y <= o.max.Y && o.min.Y <= b.max.Y
}

func (q *quad) middle() Point { return q[0].Add(q[2]).Mul(0.5) }

func (q *quad) inside(b box) bool {
	o := q.box()
	return o.min.X >= b.min.X-touching && o.min.Y >= b.min.Y-touching && o.max.X <= b.max.X+touching && o.max.Y <= b.max.Y+touching
}

// overlap returns how far two boxes reach into each other in the direction in
// which they do so least, in mm; zero or less when they do not.
func (q *quad) overlap(o *quad) float64 {
	least := math.Inf(1)
	for _, r := range [2]*quad{q, o} {
		for e := range 2 {
			n := r[e+1].Sub(r[e])
			n = Point{-n.Y, n.X}
			if n.Len() == 0 {
				continue
			}
			n = n.Mul(1 / n.Len())
			a0, a1 := q.along(n)
			b0, b1 := o.along(n)
			least = math.Min(least, math.Min(a1, b1)-math.Max(a0, b0))
			if least <= 0 {
				return least
			}
		}
	}
	return least
}

// along returns the extent of q in the direction n.
func (q *quad) along(n Point) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range q {
		d := p.X*n.X + p.Y*n.Y
		lo, hi = math.Min(lo, d), math.Max(hi, d)
	}
	return lo, hi
}

// shrunk returns q without its outermost touching mm.
func (q *quad) shrunk() quad {
	c := q.middle()
	var out quad
	for i, p := range q {
		d := p.Sub(c)
		if l := d.Len(); l > 0 {
			d = d.Mul(math.Max(0, l-math.Sqrt2*touching) / l)
		}
		out[i] = c.Add(d)
	}
	return out
}

// painted is a filled area, and how many texts stood before it was painted.
type painted struct {
	outline []Point
	box     box
	ink     Ink
	after   int
}

// covers says whether any of q lies in the area.
func (f *painted) covers(q *quad) bool {
	s := q.shrunk()
	for _, p := range s {
		if Inside(f.outline, p) {
			return true
		}
	}
	if Inside(f.outline, s.middle()) {
		return true
	}
	for _, p := range f.outline {
		if Inside(s[:], p) {
			return true
		}
	}
	for i := range f.outline {
		a, b := f.outline[i], f.outline[(i+1)%len(f.outline)]
		for k := range s {
			if crosses(a, b, s[k], s[(k+1)%4]) {
				return true
			}
		}
	}
	return false
}

// crosses says whether two straight lines have a place in common that is an end
// of neither.
func crosses(a, b, c, d Point) bool {
	side := func(p, q, r Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// ruled is a level or upright line as broad as it is drawn.
type ruled struct {
	quad     quad
	box      box
	from, to Point
	after    int
}

// textCollector is a sink that keeps lettering with the box of its ink, and
// what can come in its way.
type textCollector struct {
	texts  []Text
	quads  []quad
	boxes  []box // round the quads
	inked  []bool
	fills  []painted
	rules  []ruled
	cells  []box
	glyphs map[inkKey]box
}

// fill keeps a filled area.
func (c *textCollector) fill(outline []Point, ink Ink) {
	b := emptyBox()
	for _, p := range outline {
		b.add(p)
	}
	c.fills = append(c.fills, painted{outline, b, ink, len(c.texts)})
}

var _ PictureSink = (*textCollector)(nil)

func (c *textCollector) Path(pts []Point, closed bool, fill Ink, s Stroke) {
	if closed && fill != None && len(pts) > 2 {
		c.fill(append([]Point(nil), pts...), fill)
	}
	if closed && len(pts) == 4 && (s.Ink != None || fill != None && fill != Paper) {
		if b, ok := upBox(pts); ok {
			c.cells = append(c.cells, b)
		}
	}
	if s.Ink == None || s.Ink == Faint {
		return
	}
	n := len(pts) - 1
	if closed {
		n = len(pts)
	}
	for i := range n {
		a, b := pts[i], pts[(i+1)%len(pts)]
		if a == b || a.X != b.X && a.Y != b.Y {
			continue
		}
		lo, hi := Point{math.Min(a.X, b.X), math.Min(a.Y, b.Y)}, Point{math.Max(a.X, b.X), math.Max(a.Y, b.Y)}
		w := s.Width / 2
		if a.X == b.X {
			lo.X, hi.X = lo.X-w, hi.X+w
		} else {
			lo.Y, hi.Y = lo.Y-w, hi.Y+w
		}
		c.rules = append(c.rules, ruled{quad{lo, {hi.X, lo.Y}, hi, {lo.X, hi.Y}}, box{lo, hi}, a, b, len(c.texts)})
	}
}

// upBox returns the box of an upright rectangle.
func upBox(pts []Point) (box, bool) {
	b := emptyBox()
	for i, p := range pts {
		q := pts[(i+1)%4]
		if p.X != q.X && p.Y != q.Y || p == q {
			return box{}, false
		}
		b.add(p)
	}
	return b, true
}

// discSides is of how many sides a disc is taken to be.
const discSides = 24

func (c *textCollector) Arc(at Point, r, from, to float64, fill Ink, _ Stroke) {
	if fill == None {
		return
	}
	pts := make([]Point, discSides)
	for i := range pts {
		s, k := math.Sincos(2 * math.Pi * float64(i) / discSides)
		pts[i] = Point{at.X + r*k, at.Y + r*s}
	}
	c.fill(pts, fill)
	c.cells = append(c.cells, box{Point{at.X - r, at.Y - r}, Point{at.X + r, at.Y + r}})
}

func (c *textCollector) Picture(min, max Point, _ *Picture) {
	c.fill([]Point{min, {max.X, min.Y}, max, {min.X, max.Y}}, Paper)
}

func (c *textCollector) Text(t Text) {
	lo, hi, ok := c.ink(&t)
	s, k := math.Sincos(t.Angle)
	var q quad
	for i, p := range [4]Point{lo, {hi.X, lo.Y}, hi, {lo.X, hi.Y}} {
		p = p.Mul(t.Size)
		q[i] = Point{t.At.X + p.X*k - p.Y*s, t.At.Y + p.X*s + p.Y*k}
	}
	c.texts, c.quads, c.boxes, c.inked = append(c.texts, t), append(c.quads, q), append(c.boxes, q.box()), append(c.inked, ok)
}

// cellOf returns the smallest upright box in which the middle of q lies and
// that is at least as tall as q. A line of lettering over a lower mark is not in
// the mark.
func (c *textCollector) cellOf(q *quad) (box, bool) {
	m, own := q.middle(), q.box()
	var best box
	found := false
	area := math.Inf(1)
	for _, b := range c.cells {
		w, h := b.max.X-b.min.X, b.max.Y-b.min.Y
		if m.X <= b.min.X || m.X >= b.max.X || m.Y <= b.min.Y || m.Y >= b.max.Y || h < own.max.Y-own.min.Y {
			continue
		}
		if w*h < area {
			best, area, found = b, w*h, true
		}
	}
	return best, found
}

// whitened says whether a fill painted after the texts number from and before
// text number to lies under all of q.
func (c *textCollector) whitened(q *quad, from, to int) bool {
	for i := range c.fills {
		f := &c.fills[i]
		if f.after < from || f.after > to {
			continue
		}
		all := true
		s := q.shrunk()
		for _, p := range s {
			all = all && Inside(f.outline, p)
		}
		if all {
			return true
		}
	}
	return false
}

// inkKey is a glyph of a face.
type inkKey struct {
	face  int
	glyph Glyph
}

// ink returns the box of the outlines of t, in parts of the font size from the
// start of the baseline; false when nothing of it is black.
func (c *textCollector) ink(t *Text) (lo, hi Point, ok bool) {
	face, b := FaceFor(t.Bold, t.Mono), emptyBox()
	face.Set(t.String, func(p Placed) {
		key := inkKey{FaceIndex(t.Bold, t.Mono), p.Glyph}
		g, known := c.glyphs[key]
		if !known {
			g = emptyBox()
			for _, seg := range face.Outline(p.Glyph, nil) {
				g.add(seg.P[0])
				if seg.Op == QuadTo {
					g.add(seg.P[1]) // a curve stays within its places
				}
			}
			c.glyphs[key] = g
		}
		if g.min.X <= g.max.X {
			b.add(Point{p.X + g.min.X*p.Scale, p.Y + g.min.Y*p.Scale})
			b.add(Point{p.X + g.max.X*p.Scale, p.Y + g.max.Y*p.Scale})
		}
	})
	lo, hi = b.corners()
	return lo, hi, b.min.X <= b.max.X
}
