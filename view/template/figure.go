package template

import (
	"math"
	"strings"

	"risewright/view/drawing"
)

// The inks, which the DXF writer turns into layers: what is sawn, what is
// marked, and what is measured.
const (
	cutInk     = drawing.Line
	markInk    = drawing.Hold
	measureInk = drawing.Soft
)

var (
	cutStroke   = drawing.Stroke{Ink: cutInk, Width: drawing.Medium}
	underStroke = drawing.Stroke{Ink: markInk, Width: drawing.Thin, Dash: []float64{4, 2}}
	markStroke  = drawing.Stroke{Ink: markInk, Width: drawing.Thin}
)

// figure draws the part of a shape that the window shows, moved by shift: lines
// first, lettering after everything that it must keep off.
func (s *Shape) figure(p *placer, shift drawing.Point) figure {
	f := figure{Shape: s, placer: p, shift: shift}
	for _, q := range s.outline() {
		f.polygon = append(f.polygon, q.Add(shift))
	}
	return f
}

func (f *figure) lettering() {
	for _, r := range f.Registers {
		f.registerName(r.At.Add(f.shift), r.Name)
	}
	f.stamp()
	f.tags()
	f.labels()
}

type figure struct {
	*Shape
	*placer
	shift   drawing.Point
	polygon []drawing.Point // the outline on the page
}

func (f *figure) lines() {
	for i := range f.Lines {
		l := &f.Lines[i]
		if l.Use == Nose {
			l.segments(func(_ int, a, b drawing.Point) { f.noseBand(a.Add(f.shift), b.Add(f.shift)) })
			continue
		}
		stroke := cutStroke
		switch l.Use {
		case Under:
			stroke = underStroke
		case Mark:
			stroke = markStroke
		}
		runs, closed := l.clipped(f.shift, f.window)
		for _, run := range runs {
			f.list.Polyline(run, closed, stroke)
			f.keepOff(run, closed)
		}
	}
	for _, r := range f.Registers {
		at, x, y := r.At.Add(f.shift), drawing.Point{X: registerArm}, drawing.Point{Y: registerArm}
		f.straight(at.Sub(x), at.Add(x), markStroke)
		f.straight(at.Sub(y), at.Add(y), markStroke)
	}
}

// straight draws what the window shows of a→b.
func (f *figure) straight(a, b drawing.Point, s drawing.Stroke) {
	if from, to, ok := f.window.clip(a, b); ok && to > from {
		a, b = between(a, b, from), between(a, b, to)
		f.list.Line(a, b, s)
		f.off = append(f.off, [2]drawing.Point{a, b})
	}
}

// The band along a nose: slanting ticks inside the edge, in mm.
const (
	tickEvery = 6.0
	tickDeep  = 3.5
)

func (f *figure) noseBand(a, b drawing.Point) {
	u, n, length := f.along(a, b)
	for t := tickEvery; t <= length-tickEvery; t += tickEvery {
		from := a.Add(u.Mul(t))
		f.straight(from, from.Add(u.Mul(tickDeep*0.6)).Add(n.Mul(tickDeep)), markStroke)
	}
}

// along returns the direction of a→b, the direction square to it that goes
// into the shape, and its length.
func (f *figure) along(a, b drawing.Point) (u, n drawing.Point, length float64) {
	d := b.Sub(a)
	length = d.Len()
	if length == 0 {
		return drawing.Point{X: 1}, drawing.Point{Y: 1}, 0
	}
	u = d.Mul(1 / length)
	n = drawing.Point{X: -u.Y, Y: u.X}
	// 0.2 mm in: less than the width of any piece, more than any rounding.
	if f.polygon != nil && !inside(f.polygon, a.Add(b).Mul(0.5).Add(n.Mul(0.2))) {
		n = n.Mul(-1)
	}
	return u, n, length
}

// registerArm is half of a register's cross, mm.
const registerArm = 6.0

func (f *figure) registerName(at drawing.Point, name string) {
	w := drawing.TextWidth(name, tagSize, false, false)/2 + 2
	for _, d := range [4]drawing.Point{{X: w, Y: 3}, {X: w, Y: -3}, {X: -w, Y: 3}, {X: -w, Y: -3}} {
		if f.put(drawing.Text{At: at.Add(d), Size: tagSize, String: name}) {
			return
		}
	}
}

// stampLine is a line of the stamp in the middle of the shape.
type stampLine struct {
	text string
	size float64
	bold bool
}

// The stamp: sizes of its lettering and its leading; it is tried in these
// scales, largest first, at places stampStep apart.
var stampScales = [...]float64{1.5, 1, 0.75, 0.55, 0.4}

const (
	stampLead  = 1.35
	stampStep  = 12.0
	grainTall  = 7.0  // mm of the stamp for the arrow along the grain
	grainReach = 26.0 // of the arrow to each side
)

// stamp says in the middle of what is seen which piece it is and how it lies.
func (f *figure) stamp() {
	lines := []stampLine{{f.ID, drawing.FitSize(f.ID, 70, 13, 6, true, false), true}, {f.Title, 4.4, false}, {f.Across, 4, true}}
	if f.Held != "" {
		lines = append(lines, stampLine{notReleased, 5.4, true})
	}
	var wide, tall float64
	for _, l := range lines {
		if l.text != "" {
			wide = math.Max(wide, drawing.TextWidth(l.text, l.size, l.bold, false))
			tall += l.size * stampLead
		}
	}
	if f.Grain {
		tall += grainTall
		wide = math.Max(wide, 2*grainReach)
	}
	for _, k := range stampScales {
		q := quad{hx: wide*k/2 + 2, hy: tall*k/2 + 1, u: drawing.Point{X: 1}}
		at, ok := f.nearest(q)
		if !ok {
			continue
		}
		q.middle = at
		f.taken = append(f.taken, q)
		y := at.Y + tall*k/2
		for _, l := range lines {
			if l.text == "" {
				continue
			}
			y -= l.size * k * stampLead
			f.list.Text(drawing.Text{At: drawing.Point{X: at.X, Y: y + l.size*k*0.2}, Size: l.size * k, Bold: l.bold, Align: drawing.AlignMiddle, String: l.text})
		}
		if f.Grain {
			y -= grainTall * k * 0.55
			word, size := "grain", 4*k
			gap := drawing.TextWidth(word, size, false, false)/2 + 1.5*k
			f.list.Text(drawing.Text{At: drawing.Point{X: at.X, Y: y}, Size: size, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, String: word})
			for _, way := range [2]float64{-1, 1} {
				f.list.Arrow(drawing.Point{X: at.X + way*gap, Y: y}, drawing.Point{X: at.X + way*grainReach*k, Y: y}, markStroke)
			}
		}
		return
	}
}

const notReleased = "NOT RELEASED · DO NOT CUT"

// nearest returns the free place for q, inside the shape, that is nearest to
// the middle of what is seen.
func (f *figure) nearest(q quad) (drawing.Point, bool) {
	seen := f.room
	if f.polygon != nil {
		box := noRect()
		for _, p := range f.polygon {
			box.add(p)
		}
		seen.min.X, seen.min.Y = math.Max(seen.min.X, box.min.X), math.Max(seen.min.Y, box.min.Y)
		seen.max.X, seen.max.Y = math.Min(seen.max.X, box.max.X), math.Min(seen.max.Y, box.max.Y)
	}
	c := seen.centre()
	var best drawing.Point
	least := math.Inf(1)
	nx, ny := int(seen.width()/2/stampStep), int(seen.height()/2/stampStep)
	for iy := -ny; iy <= ny; iy++ {
		for ix := -nx; ix <= nx; ix++ {
			d := drawing.Point{X: float64(ix) * stampStep, Y: float64(iy) * stampStep}
			if d.Len() >= least {
				continue
			}
			q.middle = c.Add(d)
			if inside(f.polygon, q.middle) && f.free(q) {
				best, least = q.middle, d.Len()
			}
		}
	}
	return best, !math.IsInf(least, 1)
}

// What is tried for the lettering along an edge, in mm.
var (
	labelSizes   = [...]float64{4.2, 3.4, 2.8}
	labelOffsets = [...]float64{3.2, 5.5, 9, 14}
	labelPlaces  = [...]float64{0.5, 0.35, 0.65, 0.2, 0.8}
)

// labels letters every edge along what is seen of it: whole if there is room,
// else its first parts; inside the shape, else outside.
func (f *figure) labels() {
	for i := range f.Lines {
		l := &f.Lines[i]
		l.segments(func(j int, a, b drawing.Point) {
			if j >= len(l.Labels) || l.Labels[j] == "" {
				return
			}
			a, b = a.Add(f.shift), b.Add(f.shift)
			u, n, _ := f.along(a, b)
			from, to, ok := f.room.clip(a, b)
			if !ok {
				return
			}
			a, b = between(a, b, from), between(a, b, to)
			for words := l.Labels[j]; words != ""; words = shorter(words) {
				if f.label(words, a, b, u, n) || f.label(words, a, b, u, n.Mul(-1)) {
					return
				}
			}
		})
	}
}

// shorter drops the last part of a label.
func shorter(label string) string {
	if i := strings.LastIndex(label, " · "); i >= 0 {
		return label[:i]
	}
	return ""
}

func (f *figure) label(words string, a, b, u, n drawing.Point) bool {
	length := b.Sub(a).Len()
	for _, size := range labelSizes {
		if drawing.TextWidth(words, size, true, false) > length {
			continue
		}
		for _, offset := range labelOffsets {
			for _, t := range labelPlaces {
				at := a.Add(b.Sub(a).Mul(t)).Add(n.Mul(offset + drawing.CapHeight(size)/2))
				if f.put(drawing.Text{At: at, Size: size, Bold: true, Angle: readable(math.Atan2(u.Y, u.X)), String: words}) {
					return true
				}
			}
		}
	}
	return false
}

// readable turns an angle by half a turn where it would be read from above.
func readable(a float64) float64 {
	// Edges within 20° of plumb are all lettered from the bottom up.
	const plumb = 20 * math.Pi / 180
	a = math.Remainder(a, 2*math.Pi)
	if a > math.Pi/2+plumb || a <= -math.Pi/2+plumb {
		a = math.Remainder(a+math.Pi, 2*math.Pi)
	}
	return a
}

// tagSize is the font size of small lettering, mm.
const tagSize = 3.2

// tags letters the corners, as near to them as there is room.
func (f *figure) tags() {
	for _, t := range f.Tags {
		at := t.At.Add(f.shift)
		if !f.room.has(at) {
			continue
		}
		for d := 6.0; d <= 26; d += 2 {
			if f.put(drawing.Text{At: at.Add(t.Dir.Mul(d)), Size: tagSize, String: t.Text}) {
				break
			}
		}
	}
}
