package drawing

import "math"

// Sink is what a writer provides: three plain shapes on paper. Coordinates,
// radii and sizes are all paper millimetres with y up; widths and sizes that
// were zero have been filled in; points are lent for the call only.
type Sink interface {
	// Path draws straight lines through pts. Only closed paths have a fill.
	Path(pts []Point, closed bool, fill Ink, s Stroke)
	// Arc draws part of a circle; a full circle has to = from+2π and may have
	// a fill.
	Arc(c Point, r, from, to float64, fill Ink, s Stroke)
	// Text writes lettering with At at the start of the baseline; Align and
	// Baseline have been worked out and are zero.
	Text(t Text)
}

// Lowering turns lists into paths, arcs and text on paper. It keeps scratch
// space between runs; the zero value is ready. One goroutine at a time.
type Lowering struct {
	// Min and Max are the part of the paper that will be seen. Hatching is
	// only made there; other shapes may reach outside and the writer clips
	// them. Both zero means no hatching limit is known, and hatches are left
	// out, because an unbounded shape would need unbounded lines.
	Min, Max Point

	pts   []Point
	pair  [2]Point
	cross []crossing
	sink  Sink
}

// Run sends every item of l to sink, mapped from scene to paper by m. Items
// that hold something that is not a number are skipped; see List.Check.
func (w *Lowering) Run(l *List, m Transform, sink Sink) {
	w.sink = sink
	for i := range l.items {
		if it := &l.items[i]; it.finite() {
			w.item(it, m)
		}
	}
	w.sink = nil
}

func (w *Lowering) item(it *Item, m Transform) {
	stroke := it.Stroke
	if stroke.Width <= 0 {
		stroke.Width = Thin
	}
	switch it.Kind {
	case KindLine:
		w.line(m.Apply(it.Points[0]), m.Apply(it.Points[1]), stroke)
	case KindPolyline:
		w.place(it.Points, m)
		w.sink.Path(w.pts, it.Closed, None, stroke)
	case KindPolygon:
		w.place(it.Points, m)
		w.shape(it.Fill, stroke, m)
	case KindCircle:
		w.circle(it, stroke, m)
	case KindArc:
		w.arc(it, stroke, m)
	case KindDot:
		w.sink.Arc(m.Apply(it.Points[0]), math.Abs(it.R), 0, 2*math.Pi, it.Fill.Ink, stroke)
	case KindSquare:
		c, r := m.Apply(it.Points[0]), math.Abs(it.R)
		w.pts = append(w.pts[:0], Point{c.X - r, c.Y - r}, Point{c.X + r, c.Y - r}, Point{c.X + r, c.Y + r}, Point{c.X - r, c.Y + r})
		w.shape(it.Fill, stroke, m)
	case KindText:
		t := it.Text
		t.At = m.Apply(t.At)
		if !(m.B == 0 && m.C == 0 && m.A > 0) {
			t.Angle = m.angle(t.Angle)
		}
		w.text(t)
	case KindDimension:
		offset := it.R
		if m.mirrored() {
			offset = -offset
		}
		w.dimension(m.Apply(it.Points[0]), m.Apply(it.Points[1]), offset, it.Text, stroke)
	case KindPicture:
		w.picture(it, m)
	case KindArrow:
		w.arrow(m.Apply(it.Points[0]), m.Apply(it.Points[1]), stroke)
	}
}

func (w *Lowering) place(pts []Point, m Transform) {
	w.pts = w.pts[:0]
	for _, p := range pts {
		w.pts = append(w.pts, m.Apply(p))
	}
}

// shape fills, hatches and outlines the closed path in w.pts.
func (w *Lowering) shape(f Fill, s Stroke, m Transform) {
	if f.Hatch.Pattern == Plain {
		w.sink.Path(w.pts, true, f.Ink, s)
		return
	}
	if f.Ink != None {
		w.sink.Path(w.pts, true, f.Ink, Stroke{})
	}
	w.hatch(f.Hatch, Point{m.E, m.F})
	if s.Ink != None {
		w.sink.Path(w.pts, true, None, s)
	}
}

func (w *Lowering) circle(it *Item, s Stroke, m Transform) {
	k, similar := m.similar()
	c, r := it.Points[0], math.Abs(it.R)
	if similar && it.Fill.Hatch.Pattern == Plain {
		w.sink.Arc(m.Apply(c), r*k, 0, 2*math.Pi, it.Fill.Ink, s)
		return
	}
	w.facets(c, r, 0, 2*math.Pi, m)
	w.pts = w.pts[:len(w.pts)-1]
	w.shape(it.Fill, s, m)
}

func (w *Lowering) arc(it *Item, s Stroke, m Transform) {
	k, similar := m.similar()
	if !similar {
		w.facets(it.Points[0], it.R, it.From, it.To, m)
		w.sink.Path(w.pts, false, None, s)
		return
	}
	sweep := it.To - it.From
	if m.mirrored() {
		sweep = -sweep
	}
	from := m.angle(it.From)
	if it.R < 0 {
		from += math.Pi
	}
	// More than one turn draws the same circle again.
	sweep = math.Max(-2*math.Pi, math.Min(2*math.Pi, sweep))
	w.sink.Arc(m.Apply(it.Points[0]), math.Abs(it.R)*k, from, from+sweep, None, s)
}

func (w *Lowering) facets(c Point, r, from, to float64, m Transform) {
	w.pts = w.pts[:0]
	n := max(1, int(math.Ceil(appendFacets*math.Min(1, math.Abs(to-from)/(2*math.Pi)))))
	for i := range n + 1 {
		sin, cos := math.Sincos(from + (to-from)*float64(i)/float64(n))
		w.pts = append(w.pts, m.Apply(Point{c.X + r*cos, c.Y + r*sin}))
	}
}

func (w *Lowering) line(a, b Point, s Stroke) {
	w.pair = [2]Point{a, b}
	w.sink.Path(w.pair[:], false, None, s)
}

func (w *Lowering) text(t Text) {
	if t.String == "" {
		return
	}
	if t.Size <= 0 {
		t.Size = LetterSize
	}
	if t.Ink == None {
		t.Ink = Letter
	}
	var along, up float64
	switch t.Align {
	case AlignMiddle:
		along = t.Width() / 2
	case AlignEnd:
		along = t.Width()
	}
	switch t.Baseline {
	case BaseMiddle:
		up = CapHeight(t.Size) / 2
	case BaseTop:
		up = CapHeight(t.Size)
	}
	s, c := math.Sincos(t.Angle)
	t.At.X += -along*c + up*s
	t.At.Y += -along*s - up*c
	t.Align, t.Baseline = AlignStart, BaseLine
	w.sink.Text(t)
}

// The parts of an arrow, in paper millimetres.
const (
	arrowLength = 2.6 // of the head
	arrowHalf   = 0.8 // half the width of the head
)

func (w *Lowering) arrow(a, b Point, s Stroke) {
	d := b.Sub(a)
	length := d.Len()
	if length == 0 {
		return
	}
	u := d.Mul(1 / length)
	k := math.Min(1, length/arrowLength) // a short arrow is all head
	grow := math.Max(1, s.Width/Medium)  // a thick one has a larger head
	head := math.Min(arrowLength*grow, length)
	half := arrowHalf * grow * k
	base := b.Sub(u.Mul(head))
	if length > head {
		w.line(a, b.Sub(u.Mul(head*0.9)), s)
	}
	n := Point{-u.Y, u.X}.Mul(half)
	w.pts = append(w.pts[:0], b, base.Add(n), base.Sub(n))
	w.sink.Path(w.pts, true, s.Ink, Stroke{})
}

// readsFromRight is how far from upright a line may lean and still be lettered
// from bottom to top. Treads are a few degrees out of square, and labels on
// their two sides should be read with the same turn of the head.
const readsFromRight = 20 * math.Pi / 180

// upright returns angle a, or a turned by half a turn, whichever reads from
// below or from the right.
func upright(a float64) float64 {
	a = math.Remainder(a, 2*math.Pi)
	if a > math.Pi/2+readsFromRight {
		return a - math.Pi
	}
	if a <= -math.Pi/2+readsFromRight {
		return a + math.Pi
	}
	return a
}
