package drawing

import (
	"fmt"
	"math"

	"risewright/view/words"
)

// Kind says what an [Item] is.
type Kind uint8

// The kinds, and which fields of Item each uses.
const (
	KindLine      Kind = iota // Points[0..1], Stroke
	KindPolyline              // Points, Closed, Stroke
	KindPolygon               // Points, Fill, Stroke
	KindCircle                // Points[0], R in scene mm, Fill, Stroke
	KindDot                   // Points[0], R in paper mm, Fill, Stroke
	KindSquare                // Points[0], R half a side in paper mm, Fill, Stroke
	KindArc                   // Points[0], R in scene mm, From, To, Stroke
	KindText                  // Text
	KindDimension             // Points[0..1], R the offset in paper mm, Text (At unused), Stroke
	KindArrow                 // Points[0..1], Stroke
	KindPicture               // Points[0..1] its least and greatest corner, Picture
)

var kindNames = [...]string{"line", "polyline", "polygon", "circle", "dot", "square", "arc", "text", "dimension", "arrow", "picture"}

// String returns the kind as Dump writes it.
func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return "kind?"
}

// Item is one thing in a list: a union told apart by Kind.
type Item struct {
	Kind   Kind
	Closed bool
	Points []Point
	R      float64
	From   float64 // radians
	To     float64 // radians
	Fill   Fill
	Stroke Stroke
	Text   Text
	// Picture is what KindPicture shows.
	Picture *Picture
}

// List is a drawing: items in painting order, later over earlier. The zero
// value is empty and ready. A list is not safe for writing from two goroutines;
// any number may read it.
type List struct {
	items  []Item
	points []Point
	dashes []float64
}

// Reset empties l and keeps its storage. Items taken from it before are no
// longer valid.
func (l *List) Reset() {
	clear(l.items)
	l.items, l.points, l.dashes = l.items[:0], l.points[:0], l.dashes[:0]
}

// Len returns the number of items.
func (l *List) Len() int { return len(l.items) }

// Truncate takes the items from place n on off again. Items taken from it before
// are no longer valid.
func (l *List) Truncate(n int) {
	clear(l.items[n:])
	l.items = l.items[:n]
}

// Items returns the items in painting order. They belong to the list: read
// them before it is written again.
func (l *List) Items() []Item { return l.items }

// keep copies points into the list's own storage. A slice handed out before
// the storage grows keeps its old array, which is never written again.
func (l *List) keep(pts ...Point) []Point {
	n := len(l.points)
	l.points = append(l.points, pts...)
	return l.points[n:len(l.points):len(l.points)]
}

// keepStroke does the same for dashes. It builds a new Stroke, so that the
// compiler sees that the caller's dashes are not kept and leaves them on the
// stack.
func (l *List) keepStroke(s Stroke) Stroke {
	kept := Stroke{Ink: s.Ink, Width: s.Width}
	if len(s.Dash) > 0 {
		n := len(l.dashes)
		l.dashes = append(l.dashes, s.Dash...)
		kept.Dash = l.dashes[n:len(l.dashes):len(l.dashes)]
	}
	return kept
}

func (l *List) add(i Item) { l.items = append(l.items, i) }

// Add adds an item of another list as it is there.
func (l *List) Add(it Item) {
	it.Points, it.Stroke = l.keep(it.Points...), l.keepStroke(it.Stroke)
	l.add(it)
}

// Line draws a straight line from a to b.
func (l *List) Line(a, b Point, s Stroke) {
	l.add(Item{Kind: KindLine, Points: l.keep(a, b), Stroke: l.keepStroke(s)})
}

// Polyline draws straight lines from point to point, and back to the first if
// closed. The points are copied.
func (l *List) Polyline(pts []Point, closed bool, s Stroke) {
	l.add(Item{Kind: KindPolyline, Points: l.keep(pts...), Closed: closed, Stroke: l.keepStroke(s)})
}

// Polygon fills and outlines the closed shape through pts. The points are
// copied.
func (l *List) Polygon(pts []Point, f Fill, s Stroke) {
	l.add(Item{Kind: KindPolygon, Points: l.keep(pts...), Closed: true, Fill: f, Stroke: l.keepStroke(s)})
}

// Circle draws a circle of r scene millimetres about c.
func (l *List) Circle(c Point, r float64, f Fill, s Stroke) {
	l.add(Item{Kind: KindCircle, Points: l.keep(c), R: r, Fill: f, Stroke: l.keepStroke(s)})
}

// Dot draws a circle of r paper millimetres about c: a mark that stays the
// same size at every zoom.
func (l *List) Dot(c Point, r float64, f Fill, s Stroke) {
	l.add(Item{Kind: KindDot, Points: l.keep(c), R: r, Fill: f, Stroke: l.keepStroke(s)})
}

// Square draws an upright square with half side r in paper millimetres about
// c: a handle that stays the same size, and upright, at every zoom and turn.
func (l *List) Square(c Point, r float64, f Fill, s Stroke) {
	l.add(Item{Kind: KindSquare, Points: l.keep(c), R: r, Fill: f, Stroke: l.keepStroke(s)})
}

// Arc draws part of a circle of r scene millimetres about c, from one angle to
// the other: anticlockwise when to is the greater.
func (l *List) Arc(c Point, r, from, to float64, s Stroke) {
	l.add(Item{Kind: KindArc, Points: l.keep(c), R: r, From: from, To: to, Stroke: l.keepStroke(s)})
}

// Text writes one line of lettering, in the language spoken (package words).
func (l *List) Text(t Text) {
	t.String = words.Say(t.String)
	l.add(Item{Kind: KindText, Text: t})
}

// Dimension draws a dimension from a to b: a line offset paper millimetres to
// the left of a→b (to the right if negative) with extension lines, ticks, and
// the label above it, readable from below or from the right.
func (l *List) Dimension(a, b Point, offset float64, label string, s Stroke) {
	l.DimensionText(a, b, offset, Text{String: label}, s)
}

// DimensionText is Dimension with the label's size, weight and ink taken from
// t; its place, angle and halo are the dimension's own.
func (l *List) DimensionText(a, b Point, offset float64, t Text, s Stroke) {
	t.String = words.Say(t.String)
	l.add(Item{Kind: KindDimension, Points: l.keep(a, b), R: offset, Text: t, Stroke: l.keepStroke(s)})
}

// Arrow draws a line from a to b with a filled head at b.
func (l *List) Arrow(a, b Point, s Stroke) {
	l.add(Item{Kind: KindArrow, Points: l.keep(a, b), Stroke: l.keepStroke(s)})
}

// appendFacets is the number of sides a circle gets when a map that does not
// keep shapes turns it into a polygon; the sides then stray from the true
// curve by 1-cos(π/96), one part in 1,800 of its radius.
const appendFacets = 96

// Append adds every item of other to l, its places mapped by m.
//
//  1. Paper sizes (widths, dashes, text, dots, offsets) stay as they are.
//  2. Text turns with m but is never mirrored.
//  3. A map that does not keep shapes turns circles into polygons.
func (l *List) Append(other *List, m Transform) {
	k, similar := m.similar()
	for n := range len(other.items) {
		it := other.items[n]
		curved := it.Kind == KindCircle || it.Kind == KindArc
		if curved && !similar {
			l.appendFaceted(it, m)
			continue
		}
		start := len(l.points)
		for _, p := range it.Points {
			l.points = append(l.points, m.Apply(p))
		}
		it.Points = l.points[start:len(l.points):len(l.points)]
		it.Stroke = l.keepStroke(it.Stroke)
		switch it.Kind {
		case KindCircle:
			it.R *= k
		case KindArc:
			it.R *= k
			sweep := it.To - it.From
			if m.mirrored() {
				sweep = -sweep
			}
			it.From = m.angle(it.From)
			it.To = it.From + sweep
		case KindText:
			it.Text.At = m.Apply(it.Text.At)
			it.Text.Angle = m.angle(it.Text.Angle)
			if m.mirrored() {
				it.Text.Angle = upright(it.Text.Angle)
			}
		case KindDimension:
			if m.mirrored() {
				it.R = -it.R
			}
		}
		l.items = append(l.items, it)
	}
}

func (l *List) appendFaceted(it Item, m Transform) {
	from, to := it.From, it.To
	if it.Kind == KindCircle {
		from, to = 0, 2*math.Pi
	}
	n := int(math.Ceil(appendFacets * math.Min(1, math.Abs(to-from)/(2*math.Pi))))
	n = max(n, 1)
	start := len(l.points)
	last := n
	if it.Kind == KindCircle {
		last = n - 1 // the polygon closes itself
	}
	for i := 0; i <= last; i++ {
		s, c := math.Sincos(from + (to-from)*float64(i)/float64(n))
		l.points = append(l.points, m.Apply(Point{it.Points[0].X + it.R*c, it.Points[0].Y + it.R*s}))
	}
	pts := l.points[start:len(l.points):len(l.points)]
	kind := KindPolyline
	if it.Kind == KindCircle {
		kind = KindPolygon
	}
	l.add(Item{Kind: kind, Points: pts, Closed: kind == KindPolygon, Fill: it.Fill, Stroke: l.keepStroke(it.Stroke)})
}

// Bounds returns the smallest upright box, in scene millimetres, that holds
// every place in the list: points, whole circles, arcs, and the anchors of
// text. Paper sizes are left out, because they depend on the scale; see
// Extent. An empty list gives two zero points.
func (l *List) Bounds() (min, max Point) {
	b := emptyBox()
	for i := range l.items {
		it := &l.items[i]
		switch it.Kind {
		case KindText:
			b.add(it.Text.At)
		case KindCircle:
			b.addDisc(it.Points[0], it.R)
		case KindArc:
			b.addArc(it.Points[0], it.R, it.From, it.To)
		default:
			for _, p := range it.Points {
				b.add(p)
			}
		}
	}
	return b.corners()
}

// Check returns an error naming the first item that holds something that is
// not a number, and nil when a writer can write the whole list.
func (l *List) Check() error {
	for i := range l.items {
		if it := &l.items[i]; !it.finite() {
			return fmt.Errorf("drawing: item %d (%s %q) holds a coordinate or size that is not a number", i, it.Kind, it.Text.String)
		}
	}
	return nil
}

func (it *Item) finite() bool {
	for _, p := range it.Points {
		if !p.finite() {
			return false
		}
	}
	ok := finite(it.R) && finite(it.From) && finite(it.To) && finite(it.Stroke.Width) &&
		it.Text.At.finite() && finite(it.Text.Size) && finite(it.Text.Angle) &&
		finite(it.Fill.Hatch.Spacing) && finite(it.Fill.Hatch.Width)
	for _, d := range it.Stroke.Dash {
		ok = ok && finite(d)
	}
	return ok
}
