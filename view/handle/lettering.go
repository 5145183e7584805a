package handle

import (
	"math"

	"risewright/view/drawing"
	"risewright/view/words"
)

// Lettering places the lettering of one drawing so that no two labels lie over
// each other: those put first stay, later ones that have no room are left out.
// So put what matters most first. Nothing is drawn before Flush, so labels lie
// over all lines.
type Lettering struct {
	scale float64
	boxes []quad
	round []span // the upright box round each
	late  drawing.List
	probe drawing.List
	lower drawing.Lowering
	seen  catch
}

// NewLettering returns a Lettering for a drawing of so many paper millimetres
// per scene millimetre.
func NewLettering(scale float64) *Lettering {
	return &Lettering{scale: scale, boxes: make([]quad, 0, 128)}
}

// apart is the least room between two labels, in paper mm; half of it is added
// round each.
const apart = 0.8

// Put places t, at its place in the scene, unless it would lie over a label
// already there; it says whether it did.
func (w *Lettering) Put(t drawing.Text) bool {
	w.probe.Reset()
	w.probe.Text(t)
	return w.place()
}

// PutFirst places the first of several wordings or places that has room.
func (w *Lettering) PutFirst(ts ...drawing.Text) bool {
	for _, t := range ts {
		if w.Put(t) {
			return true
		}
	}
	return false
}

// Dimension places a dimension unless its label would lie over another.
func (w *Lettering) Dimension(a, b drawing.Point, offset float64, t drawing.Text, s drawing.Stroke) bool {
	w.probe.Reset()
	w.probe.DimensionText(a, b, offset, t, s)
	return w.place()
}

// Keep keeps lettering off a box of paper size, half sides hx by hy about p.
func (w *Lettering) Keep(p drawing.Point, hx, hy float64) {
	c := p.Mul(w.scale)
	w.take(quad{
		{X: c.X - hx, Y: c.Y - hy}, {X: c.X + hx, Y: c.Y - hy}, {X: c.X + hx, Y: c.Y + hy}, {X: c.X - hx, Y: c.Y + hy}})
}

// place takes over what is in probe if its lettering has room.
func (w *Lettering) place() bool {
	w.seen.boxes = w.seen.boxes[:0]
	w.lower.Run(&w.probe, drawing.Scale(w.scale, w.scale), &w.seen)
	for i := range w.seen.boxes {
		b := &w.seen.boxes[i]
		r := b.round()
		for k := range w.round {
			if r.meets(&w.round[k]) && b.meets(&w.boxes[k]) {
				return false
			}
		}
	}
	for _, b := range w.seen.boxes {
		w.take(b)
	}
	w.late.Append(&w.probe, drawing.Identity())
	return true
}

// take keeps lettering off a box.
func (w *Lettering) take(q quad) {
	w.boxes, w.round = append(w.boxes, q), append(w.round, q.round())
}

// Flush draws what was placed and forgets it; the places stay taken.
func (w *Lettering) Flush(l *drawing.List) {
	l.Append(&w.late, drawing.Identity())
	w.late.Reset()
}

// quad is the box of a label on paper, turned with it.
type quad [4]drawing.Point

// span is an upright box.
type span struct{ lo, hi drawing.Point }

// round returns the upright box round q.
func (q *quad) round() span {
	s := span{q[0], q[0]}
	for _, p := range q[1:] {
		s.lo.X, s.lo.Y, s.hi.X, s.hi.Y = min(s.lo.X, p.X), min(s.lo.Y, p.Y), max(s.hi.X, p.X), max(s.hi.Y, p.Y)
	}
	return s
}

// meets says whether two upright boxes touch: boxes that do not lie apart.
func (s *span) meets(o *span) bool {
	return s.lo.X <= o.hi.X && o.lo.X <= s.hi.X && s.lo.Y <= o.hi.Y && o.lo.Y <= s.hi.Y
}

// catch is a sink that keeps the boxes of lettering.
type catch struct{ boxes []quad }

var _ drawing.Sink = (*catch)(nil)

// Path implements drawing.Sink.
func (c *catch) Path([]drawing.Point, bool, drawing.Ink, drawing.Stroke) {}

// Arc implements drawing.Sink.
func (c *catch) Arc(drawing.Point, float64, float64, float64, drawing.Ink, drawing.Stroke) {}

// Text implements drawing.Sink.
func (c *catch) Text(t drawing.Text) {
	t.String = words.Done(t.String) // as all that a list holds
	c.boxes = append(c.boxes, boxOf(t, apart/2))
}

// descent is how far letters reach below the baseline, as a part of the font
// size: 483 of 2048 for DejaVu (hhea table).
const descent = 483.0 / 2048

// boxOf returns the box round a lowered text, wider by margin on every side.
func boxOf(t drawing.Text, margin float64) quad {
	width := drawing.TextWidth(t.String, t.Size, t.Bold, t.Mono)
	lo, hi := -descent*t.Size-margin, drawing.CapHeight(t.Size)+margin
	sin, cos := math.Sincos(t.Angle)
	var q quad
	for i, p := range [4]drawing.Point{{X: -margin, Y: lo}, {X: width + margin, Y: lo}, {X: width + margin, Y: hi}, {X: -margin, Y: hi}} {
		q[i] = drawing.Point{X: t.At.X + p.X*cos - p.Y*sin, Y: t.At.Y + p.X*sin + p.Y*cos}
	}
	return q
}

// meets says whether two boxes overlap: no line along a side of either parts
// them.
func (q *quad) meets(o *quad) bool {
	for _, b := range [2]*quad{q, o} {
		for i := range 2 {
			e := b[i+1].Sub(b[i])
			lo, hi := q.reach(e)
			lo2, hi2 := o.reach(e)
			if hi <= lo2 || hi2 <= lo {
				return false
			}
		}
	}
	return true
}

// reach returns the least and greatest place of the box along e.
func (q *quad) reach(e drawing.Point) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range q {
		v := p.X*e.X + p.Y*e.Y
		lo, hi = math.Min(lo, v), math.Max(hi, v)
	}
	return lo, hi
}
