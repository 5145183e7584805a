package card

import (
	"risewright/view/drawing"
)

// pen draws in the card's own units: those in which a card of the nominal size
// is laid out, y down from the top. k paper millimetres make one unit.
type pen struct {
	l      *drawing.List
	k      float64
	height float64 // of the card, in units
}

// box is a rectangle in the card's units, from its top left corner.
type box struct{ x, y, w, h float64 }

// inset returns b less d on every side.
func (b box) inset(d float64) box { return box{b.x + d, b.y + d, b.w - 2*d, b.h - 2*d} }

func (p pen) at(x, y float64) drawing.Point {
	return drawing.Point{X: x * p.k, Y: (p.height - y) * p.k}
}

func (p pen) stroke(ink drawing.Ink, width float64) drawing.Stroke {
	return drawing.Stroke{Ink: ink, Width: width * p.k}
}

func (p pen) dashed(ink drawing.Ink, width float64) drawing.Stroke {
	return drawing.Stroke{Ink: ink, Width: width * p.k, Dash: []float64{1.4 * p.k, 0.9 * p.k}}
}

func (p pen) line(x0, y0, x1, y1 float64, s drawing.Stroke) {
	p.l.Line(p.at(x0, y0), p.at(x1, y1), s)
}

func (p pen) rect(b box, f drawing.Fill, s drawing.Stroke) {
	p.l.Polygon([]drawing.Point{p.at(b.x, b.y+b.h), p.at(b.x+b.w, b.y+b.h), p.at(b.x+b.w, b.y), p.at(b.x, b.y)}, f, s)
}

// letter is how a text is set.
type letter struct {
	size  float64 // font size, in the card's units
	bold  bool
	align drawing.Align
	ink   drawing.Ink
	halo  bool // clear of the lines it may lie over
}

// text writes s with its baseline at y, shrunk to fit width if that is above 0.
func (p pen) text(x, y, width float64, s string, t letter) {
	if width > 0 {
		t.size = drawing.FitSize(s, width, t.size, leastSize, t.bold, false)
	}
	p.l.Text(drawing.Text{At: p.at(x, y), Size: t.size * p.k, Align: t.align, Bold: t.bold, Ink: t.ink, Halo: t.halo, String: s})
}

// leastSize is the smallest font size of a card, in its units: 7 points at the
// nominal size, below which print is not read without glasses.
const leastSize = 2.4

// para is a paragraph of a block.
type para struct {
	text   string
	size   float64 // font size, in the card's units
	bold   bool
	indent float64
	above  float64 // free space above it, unless it is the first
	mark   string  // stands in the indent of the first line
}

// leading is the distance of baselines as a part of the font size.
const leading = 1.22

// block sets paragraphs in b from the top down, all shrunk alike until they
// fit. It returns the y at which the next block may begin. What does not fit
// even at the smallest size is left out after a line that says so.
func (p pen) block(b box, paras []para, ink drawing.Ink) float64 {
	k := 1.0
	for k > 0.45 && blockHeight(b.w, paras, k) > b.h {
		k *= 0.97
	}
	y := b.y
	for i, q := range paras {
		size := q.size * k
		if i > 0 {
			y += q.above * k
		}
		lines := drawing.Wrap(q.text, b.w-q.indent, size, q.bold, false)
		for n, line := range lines {
			if y+size > b.y+b.h+0.01 {
				return y
			}
			last := y+size*(leading+1) > b.y+b.h+0.01
			if last && (n+1 < len(lines) || i+1 < len(paras)) {
				line = more
			}
			base := y + size*0.86
			if n == 0 && q.mark != "" {
				p.text(b.x, base, 0, q.mark, letter{size: size, bold: true, ink: ink})
			}
			p.text(b.x+q.indent, base, 0, line, letter{size: size, bold: q.bold, ink: ink})
			y += size * leading
		}
	}
	return y
}

// more stands where text had to be left out.
const more = "(more on the screen)"

func blockHeight(width float64, paras []para, k float64) float64 {
	h := 0.0
	for i, q := range paras {
		if i > 0 {
			h += q.above * k
		}
		size := q.size * k
		h += float64(len(drawing.Wrap(q.text, width-q.indent, size, q.bold, false))) * size * leading
	}
	return h
}
