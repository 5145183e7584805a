package zones

import (
	"fmt"
	"strings"

	"risewright/solver/sensing"
	"risewright/view/drawing"
	"risewright/view/handle"
)

// Sizes of the band in scene millimetres.
const (
	Column = 100.0
	Row    = 64.0
)

// Sizes on paper, mm.
const (
	lettering  = 3.2
	small      = 2.6
	gripHalf   = 1.3
	labelApart = 2.5 // between the first column and the names
)

// Options say how zones are drawn.
type Options struct {
	Scale   float64 // paper mm per scene mm, as in package handle
	Section bool    // over a section, not a plan
	Chosen  int     // place of the chosen sensor in the job, from 0; -1 for none
	Hover   Grip
	Held    Grip
	Grips   bool // what can be dragged is shown so
	// At marks a place along the flight, such as of somebody who walks there; nil
	// for none.
	At *float64
}

func (o *Options) scale() float64 {
	h := handle.Options{Scale: o.Scale}
	return h.PaperScale()
}

// FitBand returns the viewport that shows the band in width by height pixels;
// paper is pixels per paper millimetre. Set o.Scale from it: v.Scale / v.Paper.
func FitBand(r *sensing.Result, o Options, width, height, paper float64) drawing.Viewport {
	return handle.Fit(func(l *drawing.List, scale float64) {
		o.Scale = scale
		Band(l, r, o)
	}, width, height, paper)
}

// rows returns the places of the zones from the bottom row up the flight: those
// that see somebody in their order, then the others.
func rows(r *sensing.Result) []int {
	out := append([]int(nil), r.Order...)
	has := map[int]bool{}
	for _, i := range out {
		has[i] = true
	}
	for i := range r.Zones {
		if !has[i] {
			out = append(out, i)
		}
	}
	return out
}

// X returns where a place along the flight lies in the band, and Along the
// place at x.
func X(along float64) float64 { return along * Column }

// AlongAt is the inverse of X.
func AlongAt(x float64) float64 { return x / Column }

// band draws one band.
type band struct {
	l    *drawing.List
	r    *sensing.Result
	o    *Options
	k    float64 // paper mm per scene mm
	rows []int
	n    int // risers
}

// Band adds the band of r to l. A result without a stair adds nothing.
func Band(l *drawing.List, r *sensing.Result, o Options) {
	if r.Stair == nil {
		return
	}
	b := &band{l: l, r: r, o: &o, k: o.scale(), rows: rows(r), n: r.Stair.Risers}
	b.grid()
	b.blind()
	for row, i := range b.rows {
		b.zone(row, i)
	}
	b.shared()
	b.states()
	if o.At != nil {
		x := X(*o.At)
		b.l.Line(drawing.Point{X: x, Y: 0}, drawing.Point{X: x, Y: b.top(len(b.rows))}, drawing.Stroke{Ink: drawing.Select, Width: drawing.Medium})
	}
	for _, g := range BandGrips(r, o) {
		drawGrip(b.l, g, b.o)
	}
}

// top returns the upper edge of a row, counted from the top: rows go downwards,
// so that the first sensor of the flight is the lowest, as the flight climbs.
func (b *band) top(row int) float64 { return -Row * float64(row) }

// rowAt returns the row of the sensor at place k from the bottom of the flight.
func (b *band) rowAt(k int) int { return len(b.rows) - 1 - k }

func (b *band) box(x0, x1, y0, y1 float64, f drawing.Fill, s drawing.Stroke) {
	b.l.Polygon([]drawing.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}, f, s)
}

func (b *band) text(x, y float64, s string, align drawing.Align, size float64, ink drawing.Ink) {
	b.l.Text(drawing.Text{At: drawing.Point{X: x, Y: y}, String: s, Align: align, Baseline: drawing.BaseMiddle, Size: size, Ink: ink, Halo: true})
}

// fits says whether a text has room in a width of scene mm.
func (b *band) fits(s string, size, width float64) bool {
	return drawing.TextWidth(s, size, false, false) <= width*b.k
}

// grid draws the columns with their numbers above and below.
func (b *band) grid() {
	low := b.top(len(b.rows))
	line := drawing.Stroke{Ink: drawing.Faint, Width: drawing.Thin}
	for k := -1; k <= b.n; k++ {
		b.l.Line(drawing.Point{X: X(float64(k)), Y: 0}, drawing.Point{X: X(float64(k)), Y: low}, line)
	}
	for row := range len(b.rows) + 1 {
		b.l.Line(drawing.Point{X: X(-1), Y: b.top(row)}, drawing.Point{X: X(float64(b.n)), Y: b.top(row)}, line)
	}
	every := 1
	for !b.fits("99", small, Column*float64(every)*0.8) {
		every++
	}
	y := 0.4 * Row
	for k := 1; k < b.n; k++ {
		if k%every == 0 {
			b.text(X(sensing.Along(k)), y, fmt.Sprint(k), drawing.AlignMiddle, small, drawing.LetterSoft)
		}
	}
	b.text(X(-1)-labelApart/b.k, y, "step", drawing.AlignEnd, small, drawing.LetterSoft)
	low0, high := "floor", "top"
	if !b.fits(low0, small, Column) {
		low0, high = "0", fmt.Sprint(b.n)
	}
	b.text(X(sensing.Along(0)), y, low0, drawing.AlignMiddle, small, drawing.LetterSoft)
	b.text(X(sensing.Along(b.n)), y, high, drawing.AlignMiddle, small, drawing.LetterSoft)
}

// blind marks the positions that no sensor is sure of.
func (b *band) blind() {
	for i := 0; i < len(b.r.Blind); {
		first := b.r.Blind[i]
		last := first
		for i++; i < len(b.r.Blind) && b.r.Blind[i] == last+1; i++ {
			last++
		}
		x0, x1 := X(float64(first-1)), X(float64(last))
		b.box(x0, x1, b.top(len(b.rows)), 0, drawing.Fill{Ink: drawing.BadWash, Hatch: drawing.Hatch{Pattern: drawing.CrossHatch, Spacing: 2.4, Ink: drawing.Bad}},
			drawing.Stroke{Ink: drawing.Bad, Width: drawing.Thin})
		word := "blind"
		y := b.top(len(b.rows)) - 0.45*Row
		b.text((x0+x1)/2, y, word, drawing.AlignMiddle, small, drawing.Bad)
	}
}

// label returns what a zone's row is called.
func label(z *sensing.Zone) string { return fmt.Sprintf("%d %s", z.Sensor+1, z.Name) }

// zone draws the row of one sensor.
func (b *band) zone(k, i int) {
	z := &b.r.Zones[i]
	row := b.rowAt(k)
	y0, y1 := b.top(row+1), b.top(row)
	mid := (y0 + y1) / 2
	ink := drawing.Letter
	if !z.Settled() {
		ink = drawing.LetterSoft
	}
	b.l.Text(drawing.Text{At: drawing.Point{X: X(-1) - labelApart/b.k, Y: mid}, String: label(z), Align: drawing.AlignEnd, Baseline: drawing.BaseMiddle, Size: lettering, Bold: i == b.o.Chosen, Ink: ink})
	switch {
	case z.Err != "":
		b.text(X(-1)+0.15*Column, mid, "sees nothing: "+z.Err, drawing.AlignStart, small, drawing.Bad)
		return
	case z.Removed:
		b.text(X(-1)+0.15*Column, mid, "taken away", drawing.AlignStart, small, drawing.LetterSoft)
		return
	}
	from, to := X(-1), X(float64(b.n))
	clip := func(x float64) float64 { return min(to, max(from, x)) }
	if m := z.MayAt; m.Len() > 0 {
		b.box(clip(X(m.From)), clip(X(m.To)), y0+0.18*Row, y1-0.18*Row, drawing.Fill{}, drawing.Hidden(drawing.Soft, drawing.Thin))
	}
	s := z.SureAt
	if s.Len() <= 0 {
		b.text(X(-1)+0.15*Column, mid, "sure of no step", drawing.AlignStart, small, drawing.Bad)
		return
	}
	fill, edge := drawing.Fill{Ink: drawing.GoodWash}, drawing.Stroke{Ink: drawing.Good, Width: drawing.Medium}
	if i == b.o.Chosen {
		fill, edge = drawing.Fill{Ink: drawing.SelectWash}, drawing.Stroke{Ink: drawing.Select, Width: drawing.Thick}
	}
	b.box(clip(X(s.From)), clip(X(s.To)), y0+0.18*Row, y1-0.18*Row, fill, edge)
	word := stepsWord(b.r.Stair, z.Sure)
	if width := clip(X(s.To)) - clip(X(s.From)); b.fits(word, small, 0.8*width) {
		b.text((clip(X(s.From))+clip(X(s.To)))/2, mid, word, drawing.AlignMiddle, small, drawing.Letter)
	}
}

// stepsWord names a run of positions shortly: "3–6", "floor–2".
func stepsWord(st *sensing.Stair, s sensing.Span) string {
	name := func(k int) string {
		switch {
		case k <= 0:
			return "floor"
		case k >= st.Risers:
			return "top"
		}
		return fmt.Sprint(k)
	}
	if s.Len() == 1 {
		return name(s.First)
	}
	return name(s.First) + "–" + name(s.Last)
}

// shared hatches where neighbours overlap, between their rows.
func (b *band) shared() {
	at := map[int]int{}
	for k, i := range b.rows {
		at[i] = k
	}
	for _, o := range b.r.Overlaps {
		if o.At.Len() <= 0 {
			continue
		}
		x0, x1 := max(X(-1), X(o.At.From)), min(X(float64(b.n)), X(o.At.To))
		y := b.top(b.rowAt(at[o.Low]))
		f := drawing.Fill{Hatch: drawing.Hatch{Pattern: drawing.Diagonal, Spacing: 1.2, Ink: drawing.Good}}
		b.box(x0, x1, y-0.82*Row, y+0.82*Row, f, drawing.Stroke{})
		// the rows' own words stand half a row above and below
		if n := o.Positions.Len(); n > 0 && 0.5*Row*b.k > drawing.CapHeight(small)+0.4 {
			b.text((x0+x1)/2, y, fmt.Sprint(n), drawing.AlignMiddle, small, drawing.Letter)
		}
	}
}

// states draws the last row: which sensors are on together.
func (b *band) states() {
	y1 := b.top(len(b.rows)) - 0.9*Row
	y0 := y1 - 0.75*Row
	mid := (y0 + y1) / 2
	b.text(X(-1)-labelApart/b.k, mid, "on together", drawing.AlignEnd, small, drawing.LetterSoft)
	for i := range b.r.States {
		s := &b.r.States[i]
		for _, a := range s.At {
			x0, x1 := X(a.From), X(a.To)
			f := drawing.Fill{}
			if len(s.On) == 0 {
				f = drawing.Fill{Hatch: drawing.Hatch{Pattern: drawing.CrossHatch, Spacing: 2.4, Ink: drawing.Bad}}
			}
			b.box(x0, x1, y0, y1, f, drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin})
			if w := stateWord(s); b.fits(w, small, 0.9*(x1-x0)) {
				b.text((x0+x1)/2, mid, w, drawing.AlignMiddle, small, drawing.Letter)
			}
		}
	}
	told := 0
	for i := range b.r.States {
		if len(b.r.States[i].On) > 0 {
			told++
		}
	}
	b.text(X(-1), y0-0.45*Row, fmt.Sprintf("%d states can be told apart", told), drawing.AlignStart, small, drawing.LetterSoft)
}

// stateWord names a state by the numbers of the sensors that are on: "2+3", or
// "none".
func stateWord(s *sensing.State) string {
	if len(s.On) == 0 {
		return "none"
	}
	var parts []string
	for _, i := range s.On {
		parts = append(parts, fmt.Sprint(i+1))
	}
	return strings.Join(parts, "+")
}
