package lightmap

import (
	"math"
	"strconv"

	"risewright/model"
	"risewright/solver/lux"
	"risewright/view/drawing"
	"risewright/view/handle"
)

// Options say how the map is drawn. The zero value draws it at 1:20, up the
// flight to the right, without bars.
type Options struct {
	// Scale is paper millimetres per stair millimetre, as in package handle;
	// zero means 1:20.
	Scale float64
	// Upright turns the map so that up the flight is up the drawing.
	Upright bool
	Bars    []lux.Bar
	// Colours are the names of the colours of the light, which the bars take in
	// turn from the bottom; their inks are drawing.Lamp and those after it. None:
	// not shown.
	Colours []string
}

// usualScale is the scale of a map that names none.
const usualScale = 1.0 / 20

// Draw adds the map of r to l. Paint it with Palette.
func Draw(l *drawing.List, r *lux.Result, o Options) {
	m := painter{l: l, r: r, o: &o, k: o.Scale}
	if !(m.k > 0) {
		m.k = usualScale
	}
	if len(r.Surfaces) == 0 {
		return
	}
	for i := range r.Surfaces {
		m.surface(&r.Surfaces[i])
	}
	for _, b := range o.Bars {
		m.bar(b)
	}
	for i := range r.Surfaces {
		m.figures(&r.Surfaces[i], m.fields[i])
	}
	for _, n := range m.numbers {
		m.number(n)
	}
	m.legend()
}

// Fit returns the viewport that shows the map in width by height pixels; paper
// is pixels per paper millimetre. Set o.Scale from it: v.Scale / v.Paper.
func Fit(r *lux.Result, o Options, width, height, paper float64) drawing.Viewport {
	return handle.Fit(func(l *drawing.List, scale float64) {
		o.Scale = scale
		Draw(l, r, o)
	}, width, height, paper)
}

// painter draws one map.
type painter struct {
	l       *drawing.List
	r       *lux.Result
	o       *Options
	k       float64 // paper mm per scene mm
	fields  []*field
	numbers []label // of contours, drawn last
	taken   []box   // by lettering, in the scene
}

// paper returns the scene length of v paper millimetres.
func (m *painter) paper(v float64) float64 { return v / m.k }

// turn takes stair axes to the scene.
func (m *painter) turn(x, y float64) point {
	if m.o.Upright {
		return point{X: x, Y: y}
	}
	return point{X: y, Y: -x}
}

// Sizes, paper mm.
const (
	seam       = 0.15 // of the outline of a piece; the thinnest contour is wider
	figureSize = 3.2
	smallSize  = 2.4
	lineStep   = 1.35 // baseline to baseline, in font sizes
)

// surface draws the bands, contours and edges of one surface.
func (m *painter) surface(s *lux.Lit) {
	f := fieldOf(s, m.turn)
	m.fields = append(m.fields, f)
	// Each band is painted over the one below it. The pieces are outlined in
	// their own ink so that no seam shows; contours cover what that adds.
	m.l.Polygon(f.outline, drawing.Fill{Ink: inks[0]}, drawing.Stroke{})
	for b, level := range levels {
		f.above(level, func(v []point) {
			m.l.Polygon(v, drawing.Fill{Ink: inks[b+1]}, drawing.Stroke{Ink: inks[b+1], Width: seam})
		})
	}
	for _, level := range levels {
		stroke := drawing.Stroke{Ink: drawing.Line, Width: drawing.Fine}
		if major(level) {
			stroke.Width = drawing.Medium
		}
		for _, line := range f.contours(level) {
			m.l.Polyline(line, false, stroke)
			m.mark(s, f, line, level)
		}
	}
	edge := drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin}
	m.l.Polyline(f.outline, true, edge)
	m.l.Line(f.outline[0], f.outline[1], drawing.Stroke{Ink: drawing.Line, Width: drawing.Medium})
}

// bar draws where a bar lies.
func (m *painter) bar(b lux.Bar) {
	mid := b.Corner.Add(b.Across.Mul(0.5))
	far := mid.Add(b.Along)
	stroke := drawing.Stroke{Ink: drawing.Select, Width: drawing.Thick, Dash: []float64{4, 1}}
	if b.Exitance <= 0 {
		stroke = drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin, Dash: []float64{4, 1}}
	}
	from, to := m.turn(far[0], far[1]), m.turn(mid[0], mid[1])
	if n := min(len(m.o.Colours), drawing.Lamps); n > 0 && b.Exitance > 0 {
		m.l.Line(from, to, drawing.Stroke{Ink: drawing.Line, Width: 0.9})
		m.l.Line(from, to, drawing.Stroke{Ink: drawing.Lamp + drawing.Ink(max(0, b.Step-1)%n), Width: 0.5})
		return
	}
	m.l.Line(from, to, stroke)
}

// label is a number to write on a contour.
type label struct {
	at   point
	text string
	bold bool
}

const (
	// shortest is the length, paper mm, of a contour that gets a number.
	shortest = 14
	// seenPart is how much of a tread's depth is not under the next nose.
	seenPart = 0.86
)

// mark chooses where the number of a contour stands: near the right-hand end of
// the nose, each level a little further in, so that neighbours do not meet.
func (m *painter) mark(s *lux.Lit, f *field, line []point, level float64) {
	length := 0.0
	for i := 0; i+1 < len(line); i++ {
		length += line[i+1].Sub(line[i]).Len()
	}
	if length*m.k < shortest {
		return
	}
	u := f.outline[1].Sub(f.outline[0])
	wide := u.Len()
	u = u.Mul(1 / wide)
	v := point{X: -u.Y, Y: u.X}
	deep := float64(s.Grid.Deep) * s.Grid.V.Len()
	index := 0
	for i, l := range levels {
		if l == level {
			index = i
		}
	}
	want := wide * (0.93 - 0.035*float64(index))
	best, at := math.Inf(1), point{}
	for _, p := range line {
		d := p.Sub(f.outline[0])
		up := math.Abs(d.X*v.X + d.Y*v.Y)
		if s.Kind == lux.Tread && up > seenPart*deep || up < m.paper(smallSize) {
			continue
		}
		if off := math.Abs(d.X*u.X + d.Y*u.Y - want); off < best {
			best, at = off, p
		}
	}
	if !math.IsInf(best, 1) {
		m.numbers = append(m.numbers, label{at, strconv.FormatFloat(level, 'g', -1, 64), major(level)})
	}
}

// number writes the number of a contour unless something stands there.
func (m *painter) number(n label) {
	m.write(drawing.Text{At: n.at, Size: smallSize, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, Bold: n.bold, String: n.text}, true)
}

// box is an upright rectangle in the scene.
type box struct{ lo, hi point }

// write adds lettering, centred on its place, on a plate of paper; with yield it
// gives way to what was written before.
func (m *painter) write(t drawing.Text, yield bool) {
	w, h := m.paper(drawing.TextWidth(t.String, t.Size, t.Bold, false)), m.paper(drawing.CapHeight(t.Size))
	pad := m.paper(0.5)
	w, h = w/2+pad, h/2+pad
	sin, cos := math.Sincos(t.Angle)
	across, up := point{X: cos * w, Y: sin * w}, point{X: -sin * h, Y: cos * h}
	plate := []point{t.At.Sub(across).Sub(up), t.At.Add(across).Sub(up), t.At.Add(across).Add(up), t.At.Sub(across).Add(up)}
	b := box{plate[0], plate[0]}
	for _, p := range plate {
		b.lo.X, b.lo.Y = math.Min(b.lo.X, p.X), math.Min(b.lo.Y, p.Y)
		b.hi.X, b.hi.Y = math.Max(b.hi.X, p.X), math.Max(b.hi.Y, p.Y)
	}
	if yield {
		for _, o := range m.taken {
			if b.lo.X < o.hi.X && o.lo.X < b.hi.X && b.lo.Y < o.hi.Y && o.lo.Y < b.hi.Y {
				return
			}
		}
	}
	m.taken = append(m.taken, b)
	m.l.Polygon(plate, drawing.Fill{Ink: drawing.Paper}, drawing.Stroke{})
	m.l.Text(t)
}

// figures writes the figures of one surface in its middle: step and centre, and
// below them mean and least where there is room.
func (m *painter) figures(s *lux.Lit, f *field) {
	a, b := f.outline[0], f.outline[1]
	u := b.Sub(a).Mul(1 / b.Sub(a).Len())
	v := point{X: -u.Y, Y: u.X} // towards the back
	deep := float64(s.Grid.Deep) * s.Grid.V.Len()
	part := 0.5
	if s.Kind == lux.Tread {
		part *= seenPart
	}
	middle := a.Add(b).Mul(0.5).Add(v.Mul(deep * part))
	angle := 0.0
	if !m.o.Upright {
		angle = math.Pi / 2
	}
	// Down the page as the lettering is read.
	down := point{X: math.Sin(angle), Y: -math.Cos(angle)}
	name := strconv.Itoa(s.Step)
	switch s.Kind {
	case lux.Floor:
		name = "floor"
	case lux.Landing:
		name += " nosing"
	case lux.LandingFloor:
		name += " landing"
	}
	lines := []drawing.Text{
		{Size: figureSize, Bold: true, String: name + ": " + lux.Print(s.Centre) + " lx"},
		{Size: smallSize, String: "mean " + lux.Print(s.Mean) + ", least " + lux.Print(s.Min) + ", most " + lux.Print(s.Max)},
	}
	room := deep * m.k
	if s.Kind == lux.Tread {
		room *= seenPart
	}
	if room < (figureSize+smallSize)*lineStep || s.Max <= 0 {
		lines = lines[:1]
	}
	if room < figureSize {
		lines[0].Size = math.Max(room*0.9, 1.6)
	}
	offset := -float64(len(lines)-1) / 2 * figureSize * lineStep
	for _, t := range lines {
		t.At = middle.Add(down.Mul(m.paper(offset)))
		t.Align, t.Baseline, t.Angle = drawing.AlignMiddle, drawing.BaseMiddle, angle
		m.write(t, false)
		offset += figureSize * lineStep
	}
}

// legend draws the bands and says what the figures are, below the map.
func (m *painter) legend() {
	lo, _ := m.l.Bounds()
	x, y := lo.X, lo.Y-m.paper(6)
	wide, high := m.paper(15), m.paper(5)
	letter := func(dx, dy float64, t drawing.Text) {
		t.At = point{X: x + m.paper(dx), Y: y + m.paper(dy)}
		m.l.Text(t)
	}
	letter(0, 1.5, drawing.Text{Size: figureSize, Bold: true, String: "Light from the bars, lux"})
	for i := range bands {
		a := point{X: x + wide*float64(i), Y: y - high}
		v := []point{a, {X: a.X + wide, Y: a.Y}, {X: a.X + wide, Y: y}, {X: a.X, Y: y}}
		m.l.Polygon(v, drawing.Fill{Ink: inks[i]}, drawing.Stroke{Ink: drawing.Line, Width: drawing.Fine})
		letter(15*(float64(i)+0.5), -7, drawing.Text{Size: smallSize, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, String: bandName(i)})
	}
	step, top := smallSize*lineStep, -11.0
	if n := min(len(m.o.Colours), drawing.Lamps); n > 0 {
		letter(0, top, drawing.Text{Size: smallSize, String: "Colour of the bars, in turn from the bottom:"})
		dx := drawing.TextWidth("Colour of the bars, in turn from the bottom:", smallSize, false, false) + 2
		for i, name := range m.o.Colours[:n] {
			at := point{X: x + m.paper(dx), Y: y + m.paper(top)}
			w, h := m.paper(4), m.paper(2.4)
			m.l.Polygon([]point{at, {X: at.X + w, Y: at.Y}, {X: at.X + w, Y: at.Y + h}, {X: at.X, Y: at.Y + h}},
				drawing.Fill{Ink: drawing.Lamp + drawing.Ink(i)}, drawing.Stroke{Ink: drawing.Line, Width: drawing.Fine})
			letter(dx+5, top, drawing.Text{Size: smallSize, String: name})
			dx += 5 + drawing.TextWidth(name, smallSize, false, false) + 3
		}
		top -= step
	}
	for i, line := range m.notes() {
		letter(0, top-step*float64(i), drawing.Text{Size: smallSize, Ink: drawing.LetterSoft, String: line})
	}
}

// notes returns the lines under the legend.
func (m *painter) notes() []string {
	light := "Direct light of "
	if m.r.Reflected {
		light = "Direct light, and light reflected once by the boards, of "
	}
	return []string{
		"Bold: step, and lux at the centre of the tread. Thicker contours: 10 and 100 lx. 1 foot-candle is 10.8 lx.",
		light + model.Plural(m.r.LitBars, "lit bar") + " only; walls, ceiling and daylight are left out.",
		lux.Supplement,
	}
}
