package drawing

import (
	"fmt"
	"math"
)

// TextFaults returns what is wrong with the lettering of a list whose scene is
// paper, for tests of layouts: lettering outside the box from min to max,
// lettering over other lettering, and characters the font does not have. It
// returns nil when all is well.
func TextFaults(l *List, min, max Point) []string {
	var c textCollector
	var w Lowering
	w.Run(l, Identity(), &c)
	var faults []string
	for i, t := range c.texts {
		b := c.boxes[i]
		if b.min.X < min.X-touching || b.min.Y < min.Y-touching || b.max.X > max.X+touching || b.max.Y > max.Y+touching {
			faults = append(faults, fmt.Sprintf("%q reaches outside: %.1f,%.1f to %.1f,%.1f", t.String, b.min.X, b.min.Y, b.max.X, b.max.Y))
		}
		if m := MissingRunes(t.String, t.Bold, t.Mono); m != nil {
			faults = append(faults, fmt.Sprintf("%q has characters the font cannot draw: %q", t.String, string(m)))
		}
		for k := range i {
			o := c.boxes[k]
			dx := math.Min(b.max.X, o.max.X) - math.Max(b.min.X, o.min.X)
			dy := math.Min(b.max.Y, o.max.Y) - math.Max(b.min.Y, o.min.Y)
			if dx > touching && dy > touching {
				faults = append(faults, fmt.Sprintf("%q lies over %q by %.2f by %.2f mm", t.String, c.texts[k].String, dx, dy))
			}
		}
	}
	return faults
}

// touching is how far, in paper mm, two boxes of lettering may overlap: the
// boxes are those of capitals and figures, and side bearings are inside them.
const touching = 0.05

// textCollector is a sink that keeps lettering and its boxes.
type textCollector struct {
	texts []Text
	boxes []box
}

var _ Sink = (*textCollector)(nil)

func (c *textCollector) Path([]Point, bool, Ink, Stroke)                   {}
func (c *textCollector) Arc(Point, float64, float64, float64, Ink, Stroke) {}

func (c *textCollector) Text(t Text) {
	width := TextWidth(t.String, t.Size, t.Bold, t.Mono)
	s, k := math.Sincos(t.Angle)
	b := emptyBox()
	for _, q := range [4]Point{{0, 0}, {width, 0}, {width, CapHeight(t.Size)}, {0, CapHeight(t.Size)}} {
		b.add(Point{t.At.X + q.X*k - q.Y*s, t.At.Y + q.X*s + q.Y*k})
	}
	c.texts, c.boxes = append(c.texts, t), append(c.boxes, b)
}
