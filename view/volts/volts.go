// Package volts draws the volts along the light bars: bar after bar from the
// bottom of the flight up, each from its left end to its right.
//
// The scene is paper millimetres from the lower left corner, so that lettering
// keeps its size.
//
// What the lines mean:
//
//   - solid, thick: the lowest volts at each pixel of a bar in any scene that
//     the supply is to carry; the chosen bar stands on a wash;
//   - long and short dashes: the volts of the supply;
//   - short dashes: what the chosen drop leaves, and where the colour shifts;
//   - ring with a figure: the worst pixel.
//
// # What is always true
//
//  1. Every bar with pixels has its line, none is drawn outside the frame.
//  2. The same result gives the same list.
package volts

import (
	"fmt"
	"math"
	"strconv"

	"risewright/solver/bars"
	"risewright/solver/power"
	"risewright/view/drawing"
)

// Options say how the chart is drawn.
type Options struct {
	Width, Height float64 // of the scene, mm
	Chosen        int     // step whose bar is chosen; 0 for none
}

// Room round the plot, and the sizes of lettering, mm.
const (
	roomLeft   = 10.5
	roomRight  = 3.0
	roomTop    = 4.5
	roomBottom = 6.0
	small      = 2.5
	figure     = 2.9
	named      = small + 1.2 // a level's name and what keeps it clear
)

// Draw adds the chart of r to l. A result without bars, or a scene without
// room, gets a word.
func Draw(l *drawing.List, r *power.Result, o Options) {
	c, ok := chartOf(l, r, o)
	if !ok {
		l.Text(drawing.Text{At: drawing.Point{X: o.Width / 2, Y: o.Height / 2}, Size: figure, Align: drawing.AlignMiddle, Ink: drawing.LetterSoft, String: "no bars, no volts"})
		return
	}
	c.ground()
	c.levels()
	c.bars()
	c.worst()
}

// At returns the step of the bar drawn at a place of the scene, or 0.
func At(r *power.Result, o Options, at drawing.Point) int {
	c, ok := chartOf(nil, r, o)
	if !ok || at.X < c.x0 || at.X >= c.x1 {
		return 0
	}
	return c.r.Bars[min(len(c.r.Bars)-1, int((at.X-c.x0)/c.slot))].Step
}

// chart draws one chart.
type chart struct {
	l              *drawing.List
	r              *power.Result
	o              Options
	x0, x1, y0, y1 float64 // the plot
	lo, hi         float64 // volts at its foot and its top
	slot           float64 // width of a bar's place
	ends           float64 // free at each side of it
}

func chartOf(l *drawing.List, r *power.Result, o Options) (*chart, bool) {
	if r == nil || len(r.Bars) == 0 {
		return nil, false
	}
	c := &chart{l: l, r: r, o: o, x0: roomLeft, x1: o.Width - roomRight, y0: roomBottom, y1: o.Height - roomTop}
	if c.x1-c.x0 < 5 || c.y1-c.y0 < 5 {
		return nil, false
	}
	c.slot = (c.x1 - c.x0) / float64(len(r.Bars))
	c.ends = math.Min(1, c.slot/8)
	c.hi = r.Supply.Volts.Value
	c.lo = c.hi - r.Limit
	any := false
	for i := range r.Bars {
		for _, v := range r.Bars[i].Volts {
			c.lo, c.hi = math.Min(c.lo, v), math.Max(c.hi, v)
			any = true
		}
	}
	if !any || math.IsNaN(c.lo) || math.IsInf(c.hi-c.lo, 0) {
		return nil, false
	}
	span := math.Max(c.hi-c.lo, 0.1)
	// The colour's limit is worth showing when the volts come near it.
	if v := r.Strip.ColourVolts.Value; v < c.lo && c.lo-v < span/2 {
		c.lo = v
	}
	span = math.Max(c.hi-c.lo, 0.1)
	c.lo -= span * 0.1
	// The supply's name stands above its line, clear of the volts below it.
	tall := c.y1 - c.y0
	c.hi += max(span*0.06, span*1.1*named/max(1, tall-named))
	return c, true
}

func (c *chart) y(v float64) float64 { return c.y0 + (v-c.lo)/(c.hi-c.lo)*(c.y1-c.y0) }

// x returns the place of pixel i of n of the bar in slot k.
func (c *chart) x(k, i, n int) float64 {
	f := 0.5
	if n > 1 {
		f = float64(i) / float64(n-1)
	}
	return c.x0 + float64(k)*c.slot + c.ends + f*(c.slot-2*c.ends)
}

// step returns the round distance of grid lines that gives three to seven.
func step(span float64) float64 {
	s := math.Pow(10, math.Floor(math.Log10(span)))
	for _, k := range []float64{2, 1, 0.5, 0.2, 0.1} {
		if span/(s*k) >= 3 {
			return s * k
		}
	}
	return s * 0.1
}

// ground draws the grid, its figures and the bars' names.
func (c *chart) ground() {
	grid := drawing.Stroke{Ink: drawing.Faint, Width: drawing.Thin}
	by := step(c.hi - c.lo)
	decimals := max(0, int(math.Ceil(-math.Log10(by)-1e-9)))
	for v := math.Ceil(c.lo/by) * by; v <= c.hi; v += by {
		c.l.Line(drawing.Point{X: c.x0, Y: c.y(v)}, drawing.Point{X: c.x1, Y: c.y(v)}, grid)
		c.l.Text(drawing.Text{At: drawing.Point{X: c.x0 - 1, Y: c.y(v)}, Size: small, Align: drawing.AlignEnd, Baseline: drawing.BaseMiddle, Ink: drawing.LetterSoft, String: strconv.FormatFloat(v, 'f', decimals, 64)})
	}
	c.l.Text(drawing.Text{At: drawing.Point{X: 1, Y: c.o.Height - 1}, Size: small, Baseline: drawing.BaseTop, Bold: true, String: "V"})
	every := 1
	for float64(every)*c.slot < drawing.TextWidth("B00", small, false, false)+1 {
		every++
	}
	for k := range c.r.Bars {
		x := c.x0 + float64(k)*c.slot
		s := c.r.Bars[k].Step
		if s == c.o.Chosen {
			c.l.Polygon([]drawing.Point{{X: x, Y: c.y0}, {X: x + c.slot, Y: c.y0}, {X: x + c.slot, Y: c.y1}, {X: x, Y: c.y1}}, drawing.Fill{Ink: drawing.SelectWash}, drawing.Stroke{})
		}
		if k > 0 {
			c.l.Line(drawing.Point{X: x, Y: c.y0}, drawing.Point{X: x, Y: c.y1}, grid)
		}
		if k%every == 0 {
			c.l.Text(drawing.Text{At: drawing.Point{X: x + c.slot/2, Y: c.y0 - 1}, Size: small, Align: drawing.AlignMiddle, Baseline: drawing.BaseTop, Bold: s == c.o.Chosen, String: bars.Name(s)})
		}
	}
	c.l.Polyline([]drawing.Point{{X: c.x0, Y: c.y1}, {X: c.x0, Y: c.y0}, {X: c.x1, Y: c.y0}}, false, drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin})
}

// levels draws what the volts are held against. Names that would lie over each
// other are left out from the top down; two levels at one place share a line.
func (c *chart) levels() {
	supply, colour := c.r.Supply.Volts.Value, c.r.Strip.ColourVolts.Value
	least, name := supply-c.r.Limit, "what the drop leaves"
	if least == colour {
		name = "what the drop leaves; below it the colour shifts"
	}
	line := func(at float64, s drawing.Stroke) (y float64, shown bool) {
		y = c.y(at)
		if shown = at >= c.lo && at <= c.hi; shown {
			c.l.Line(drawing.Point{X: c.x0, Y: y}, drawing.Point{X: c.x1, Y: y}, s)
		}
		return y, shown
	}
	label := drawing.Text{Size: small, Ink: drawing.LetterSoft, Halo: true}
	if y, shown := line(supply, drawing.Centre(drawing.Soft, drawing.Thin)); shown {
		label.At, label.String = drawing.Point{X: c.x0 + 1, Y: y + 0.7}, "supply"
		c.l.Text(label)
	}
	label.Baseline = drawing.BaseTop
	free := math.Inf(1)
	for _, v := range []struct {
		at     float64
		name   string
		stroke drawing.Stroke
	}{
		{least, name, drawing.Hidden(drawing.Caution, drawing.Medium)},
		{colour, "below this the colour shifts", drawing.Hidden(drawing.Bad, drawing.Medium)},
	} {
		if y, shown := line(v.at, v.stroke); shown && free-y > small*1.3 {
			label.At, label.String = drawing.Point{X: c.x0 + 1, Y: y - 0.5}, v.name
			c.l.Text(label)
			free = y
		}
	}
}

// bars draws the volts along every bar.
func (c *chart) bars() {
	least := c.r.Supply.Volts.Value - c.r.Limit
	for k := range c.r.Bars {
		b := &c.r.Bars[k]
		n := len(b.Volts)
		if n == 0 {
			continue
		}
		stroke := drawing.Stroke{Ink: drawing.Good, Width: drawing.Thick}
		if b.Lowest < least {
			stroke.Ink = drawing.Bad
		}
		pts := make([]drawing.Point, 0, n)
		for i, v := range b.Volts {
			pts = append(pts, drawing.Point{X: c.x(k, i, n), Y: c.y(v)})
		}
		if n == 1 {
			pts = append(pts, pts[0].Add(drawing.Point{X: 0.5}))
		}
		c.l.Polyline(pts, false, stroke)
	}
}

// worst marks the lowest pixel of all and says how many volts it has.
func (c *chart) worst() {
	bar, pixel := -1, 0
	for k := range c.r.Bars {
		for i, v := range c.r.Bars[k].Volts {
			if bar < 0 || v < c.r.Bars[bar].Volts[pixel] {
				bar, pixel = k, i
			}
		}
	}
	b := &c.r.Bars[bar]
	at := drawing.Point{X: c.x(bar, pixel, len(b.Volts)), Y: c.y(b.Volts[pixel])}
	c.l.Dot(at, 1.1, drawing.Fill{}, drawing.Stroke{Ink: drawing.Line, Width: drawing.Medium})
	// Below the ring, where no bar's volts are; at the chart's foot above it.
	t := drawing.Text{At: at.Add(drawing.Point{Y: -1.6}), Size: figure, Bold: true, Halo: true, Align: drawing.AlignMiddle, Baseline: drawing.BaseTop,
		String: fmt.Sprintf("%.2f V", b.Volts[pixel])}
	if at.Y-1.6-figure < c.y0 {
		t.At, t.Baseline = at.Add(drawing.Point{Y: 1.6}), drawing.BaseLine
	}
	half := drawing.TextWidth(t.String, figure, true, false)/2 + 0.5
	t.At.X = max(c.x0+half, min(c.x1+roomRight-half, t.At.X))
	c.l.Text(t)
}
