package drawing

import "math"

// Extent returns the smallest upright box, in paper millimetres, round what l
// shows when mapped to paper by m: line widths, dots, dimensions and lettering
// included. Hatches lie inside their shapes. An empty list gives two zero
// points.
func (l *List) Extent(m Transform) (min, max Point) {
	e := extent{box: emptyBox()}
	var w Lowering
	w.Run(l, m, &e)
	return e.box.corners()
}

// extent is a sink that only measures.
type extent struct{ box box }

var _ Sink = (*extent)(nil)

func (e *extent) grow(p Point, by float64) {
	e.box.addDisc(p, by)
}

func half(s Stroke) float64 {
	if s.Ink == None {
		return 0
	}
	return s.Width / 2
}

func (e *extent) Path(pts []Point, _ bool, fill Ink, s Stroke) {
	if fill == None && s.Ink == None {
		return
	}
	for _, p := range pts {
		e.grow(p, half(s))
	}
}

func (e *extent) Arc(c Point, r, from, to float64, fill Ink, s Stroke) {
	if fill == None && s.Ink == None {
		return
	}
	b := emptyBox()
	b.addArc(c, r, from, to)
	e.grow(b.min, half(s))
	e.grow(b.max, half(s))
}

// descent is how far letters reach below the baseline, as a part of the font
// size: 0.236 for DejaVu (hhea table, descender 483 of 2048).
const descent = 483.0 / 2048

func (e *extent) Text(t Text) {
	width := t.Width()
	s, c := math.Sincos(t.Angle)
	for _, q := range [4]Point{{0, -descent * t.Size}, {width, -descent * t.Size}, {width, CapHeight(t.Size)}, {0, CapHeight(t.Size)}} {
		e.box.add(Point{t.At.X + q.X*c - q.Y*s, t.At.Y + q.X*s + q.Y*c})
	}
}
