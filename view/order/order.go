// Package order draws an order of fitting being played: the pieces that are
// in place solid, the one that is being placed emphasised, and the rest faint.
//
// The scenes are those of packages plan and section, so that drawings of both
// lie over each other.
//
// What the lines mean:
//
//   - filled and outlined: a piece in its place;
//   - thin dashes, no fill: a piece still to come; long dashes: a skirt that
//     stands before the section;
//   - heavy outline on a wash, with its name: the piece that is being placed;
//   - arrow to it: the way in. A circle with a cross is the tail of an arrow
//     that points away, so the piece is dropped; a dot beside it is the end that
//     goes in first when it is tilted;
//   - heaviest line, named: the edge that is scribed;
//   - line across a step or along a side, small square: what has no solid of
//     its own, such as a light bar, wires and their notches;
//   - dimension: the reveal.
//
// It refuses to know how the order was found: that is solver/fitting.
package order

import (
	"cmp"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver"
	"risewright/solver/fitting"
	"risewright/solver/pieces"
	"risewright/solver/skirt"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/plan"
	"risewright/view/section"
)

// Options say how the order is drawn. Selected, Hover, Handles and the like do
// not count.
type Options = handle.Options

// Play is an order at one moment.
type Play struct {
	Answer *solver.Answer
	Order  *fitting.Result
	// At is the index of the task that is being done; len(Order.Order) is the
	// finished stair.
	At int
	// Boards are the skirts of either side as package skirt draws them; nil
	// where there is none, or only an old one.
	Boards [2]*skirt.Board
	// Title is written over the drawing, empty for none; over a section only
	// what stands before a colon, because there two drawings share the width.
	Title string
}

// PlayOf returns the order of a plan of work, at a task.
func PlayOf(w *solver.Work, at int) Play {
	p := Play{Answer: w.Answer, Order: &w.Order, At: at}
	for s := range p.Boards {
		if b, ok := w.Board(pieces.Side(s)); ok && len(b.Outline) > 2 {
			p.Boards[s] = &b
		}
	}
	return p
}

// task returns the one that is being done, or nil.
func (p *Play) task() *fitting.Task {
	if p.At < 0 || p.At >= len(p.Order.Order) {
		return nil
	}
	return &p.Order.Order[p.At]
}

// between is the room between two orders beside each other, in paper mm.
const between = 9.0

// Plan adds the plan of each play, the first at the top.
func Plan(l *drawing.List, ps []Play, o Options) {
	each(l, ps, &o, func(l *drawing.List, p *Play) {
		plan.Old(l, p.Answer, o)
		newPlanPainter(l, p, &o).draw()
	}, func(lo, hi drawing.Point) drawing.Point { return drawing.Point{Y: -(hi.Y - lo.Y)} })
}

// Section adds the section of each play, the first at the left.
func Section(l *drawing.List, ps []Play, o Options) {
	each(l, ps, &o, func(l *drawing.List, p *Play) {
		section.Old(l, p.Answer, o)
		newSectionPainter(l, p, &o).draw()
	}, func(lo, hi drawing.Point) drawing.Point { return drawing.Point{X: hi.X - lo.X} })
}

// each draws the plays beside each other; step is the way from one to the next
// that has a drawing of the given size, without the room between them.
func each(l *drawing.List, ps []Play, o *Options, draw func(*drawing.List, *Play), step func(lo, hi drawing.Point) drawing.Point) {
	if len(ps) == 1 {
		draw(l, &ps[0])
		return
	}
	at := drawing.Point{}
	for i := range ps {
		var one drawing.List
		draw(&one, &ps[i])
		l.Append(&one, drawing.Shift(at.X, at.Y))
		d := step(one.Bounds())
		if n := d.Len(); n > 0 {
			at = at.Add(d.Mul((n + between/o.PaperScale()) / n))
		}
	}
}

// FitPlan returns the viewport that shows the plans in width by height pixels,
// the same for every task; paper is pixels per paper millimetre.
func FitPlan(ps []Play, o Options, width, height, paper float64) drawing.Viewport {
	return fit(Plan, ps, o, width, height, paper)
}

// FitSection is FitPlan for sections.
func FitSection(ps []Play, o Options, width, height, paper float64) drawing.Viewport {
	return fit(Section, ps, o, width, height, paper)
}

func fit(draw func(*drawing.List, []Play, Options), ps []Play, o Options, width, height, paper float64) drawing.Viewport {
	return handle.Fit(func(l *drawing.List, scale float64) {
		o.Scale = scale
		for _, moment := range moments(ps) {
			draw(l, moment, o)
		}
	}, width, height, paper)
}

// moments returns the plays finished, and at the first and at the last piece:
// what reaches farthest out, lettering and all, is shown by one of them.
func moments(ps []Play) [3][]Play {
	var out [3][]Play
	for k := range out {
		out[k] = append([]Play(nil), ps...)
	}
	for i := range ps {
		tasks := ps[i].Order.Order
		out[0][i].At = len(tasks)
		first, last := len(tasks), len(tasks)
		for n := range tasks {
			if len(tasks[n].Shape) > 0 && !tasks[n].InPlace {
				first, last = min(first, n), n
			}
		}
		out[1][i].At, out[2][i].At = first, last
	}
	return out
}

// painter draws one play.
type painter struct {
	l    *drawing.List
	play *Play
	o    *Options
	k    float64 // paper mm per scene mm
	text *handle.Lettering
	room []drawing.Point
	hull hull

	// outlines returns the parts of a piece in the scene; none for a piece that
	// is not drawn.
	outlines func(t *fitting.Task) [][]drawing.Point
	// place takes a point near a step (from 1; 0: the nearest) to the scene,
	// and turn a direction there.
	place func(step int, p mgl64.Vec3) drawing.Point
	turn  func(step int, at, d mgl64.Vec3) drawing.Point
	// level is what lies over what: less is drawn first.
	level func(t *fitting.Task) float64
	// open says that a piece is only outlined, because it stands before what is
	// drawn.
	open func(t *fitting.Task) bool
	// edges returns the scribed edges that can be shown.
	edges func(t *fitting.Task) []drawnEdge
	// extra draws what only this drawing shows of the task that is being done.
	extra func(t *fitting.Task)
	// stand is where a task without a solid is drawn: a line across its step.
	stand func(t *fitting.Task) (a, b drawing.Point)
	note  drawing.Point // where the title stands
}

func (p *painter) paper(v float64) float64 { return v / p.k }

// Lines of the order.
var (
	comingLine = drawing.Stroke{Ink: drawing.Soft, Width: drawing.Fine, Dash: []float64{1.4, 1}}
	beforeLine = drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin, Dash: []float64{4, 1.2}}
	placedLine = drawing.Stroke{Ink: drawing.Line, Width: drawing.Thin}
	nowLine    = drawing.Stroke{Ink: drawing.Select, Width: drawing.Thick}
	wayLine    = drawing.Stroke{Ink: drawing.Select, Width: drawing.Heavy}
	scribeLine = drawing.Stroke{Ink: drawing.Bad, Width: 1.0}
	revealLine = drawing.Stroke{Ink: drawing.Letter, Width: drawing.Fine}
)

// Font sizes in paper mm.
const (
	nameSize  = 3.4
	wordSize  = 2.9
	titleSize = 3.4
)

func (p *painter) draw() {
	p.text = handle.NewLettering(p.k)
	tasks := p.play.Order.Order
	now := p.play.task()
	for i := p.play.At; i < len(tasks); i++ {
		if t := &tasks[i]; !t.InPlace && t != now {
			p.coming(t)
		}
	}
	var placed []*fitting.Task
	for i := range tasks {
		if t := &tasks[i]; t != now && (i < p.play.At || t.InPlace) {
			placed = append(placed, t)
		}
	}
	sortBy(placed, p.level)
	for _, t := range placed {
		p.placed(t)
	}
	if now != nil {
		p.now(now)
	}
	if p.play.Title != "" {
		p.text.Put(drawing.Text{At: p.note, Size: titleSize, Bold: true, Halo: true, String: p.play.Title})
	}
	p.text.Flush(p.l)
}

// sortBy sorts tasks by level and keeps the order of equals.
func sortBy(ts []*fitting.Task, level func(*fitting.Task) float64) {
	at := make(map[*fitting.Task]float64, len(ts)) // each is worked out once
	for _, t := range ts {
		at[t] = level(t)
	}
	slices.SortStableFunc(ts, func(a, b *fitting.Task) int { return cmp.Compare(at[a], at[b]) })
}

// shape fills and outlines a piece of several parts as one: each is outlined
// first and then filled, so that the lines between them go.
func (p *painter) shape(parts [][]drawing.Point, f drawing.Fill, s drawing.Stroke) {
	if len(parts) == 1 {
		p.l.Polygon(parts[0], f, s)
		return
	}
	wide := s
	wide.Width *= 2 // the fill covers its inner half
	for _, pts := range parts {
		p.l.Polyline(pts, true, wide)
	}
	for _, pts := range parts {
		p.l.Polygon(pts, f, drawing.Stroke{})
	}
}

// fill is what a piece is made of.
func fill(t *fitting.Task) drawing.Fill {
	switch t.Kind {
	case fitting.Riser:
		return drawing.Fill{Ink: drawing.Painted}
	case fitting.Skirt:
		if t.InPlace {
			return drawing.Fill{Ink: drawing.Existing}
		}
		return drawing.Fill{Ink: drawing.Painted}
	}
	return drawing.Fill{Ink: drawing.Wood}
}

func (p *painter) coming(t *fitting.Task) {
	for _, pts := range p.outlines(t) {
		p.l.Polyline(pts, true, comingLine)
	}
}

func (p *painter) placed(t *fitting.Task) {
	if len(t.Shape) == 0 {
		p.mark(t, drawing.Stroke{Ink: drawing.Caution, Width: drawing.Medium})
		return
	}
	if p.open(t) {
		for _, pts := range p.outlines(t) {
			p.l.Polyline(pts, true, beforeLine)
		}
		return
	}
	p.shape(p.outlines(t), fill(t), placedLine)
}

// now draws the task that is being done.
func (p *painter) now(t *fitting.Task) {
	if len(t.Shape) == 0 {
		p.mark(t, wayLine)
		a, b := p.stand(t)
		p.text.Put(drawing.Text{At: a.Add(b).Mul(0.5).Add(drawing.Point{Y: p.paper(3)}), Size: nameSize, Bold: true, Halo: true,
			Align: drawing.AlignMiddle, Ink: drawing.Select, String: t.ID})
		return
	}
	f := drawing.Fill{Ink: drawing.SelectWash}
	if p.open(t) { // what stands behind it is seen through
		f = drawing.Fill{Hatch: drawing.Hatch{Pattern: drawing.Diagonal, Ink: drawing.Select}}
	}
	p.shape(p.outlines(t), f, nowLine)
	p.scribes(t)
	if p.extra != nil {
		p.extra(t)
	}
	p.way(t)
}

// middle returns the middle of a piece in the stair.
func middle(t *fitting.Task) mgl64.Vec3 {
	var sum mgl64.Vec3
	n := 0.0
	for i := range t.Shape {
		for _, v := range t.Shape[i].Verts {
			sum, n = sum.Add(v), n+1
		}
	}
	if n == 0 {
		return sum
	}
	return sum.Mul(1 / n)
}

// lengths of the arrow of the way in, in paper mm, and the part of a way that
// must lie in the drawing for it to be drawn as an arrow.
const (
	wayLong = 15.0
	wayFrom = 3.0
	wayFlat = 0.35
	tailR   = 1.8
	// besideSkirt is how far beside a skirt its way is drawn.
	besideSkirt = 5.0
)

// way draws how the piece comes in, and its name.
func (p *painter) way(t *fitting.Task) {
	mid := middle(t)
	at := p.place(t.Step, mid)
	if d := p.turn(t.Step, mid, t.Way.Out); t.Kind == fitting.Skirt && math.Abs(d.X) > math.Abs(d.Y) {
		// along the board: beside it, or the board would hide it
		off := p.paper(besideSkirt)
		if t.Side == pieces.Left {
			off = -off
		}
		at.Y += off
	}
	name := drawing.Text{At: at, Size: nameSize, Bold: true, Halo: true, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, Ink: drawing.Select, String: t.ID}
	if t.Way.Words == "" || t.InPlace {
		p.text.Put(name)
		return
	}
	words := drawing.Text{Size: wordSize, Halo: true, Ink: drawing.Select, String: t.Way.Words}
	d := p.turn(t.Step, mid, t.Way.Out)
	if t.Way.Tilted {
		p.tilt(t, &words)
	} else if n := d.Len(); n > wayFlat {
		u := d.Mul(1 / n)
		from, to := at.Add(u.Mul(p.paper(wayLong))), at.Add(u.Mul(p.paper(wayFrom)))
		p.l.Arrow(from, to, wayLine)
		words.At, words.Baseline = from.Add(u.Mul(p.paper(1.5))), drawing.BaseMiddle
		switch {
		case u.X < -0.5:
			words.Align = drawing.AlignEnd
		case u.X < 0.5:
			words.Align = drawing.AlignMiddle
			if u.Y < 0 {
				words.Baseline = drawing.BaseTop
			} else {
				words.Baseline = drawing.BaseLine
			}
		}
		name.At = at.Sub(u.Mul(p.paper(2.5)))
	} else {
		half := drawing.TextWidth(t.ID, nameSize, true, false)/2 + 3.5
		p.tail(at.Add(drawing.Point{X: p.paper(-half)}))
		words.At = at.Add(drawing.Point{X: p.paper(half)})
		words.Baseline = drawing.BaseMiddle
	}
	tries := []drawing.Text{name}
	off := p.paper(drawing.TextWidth(t.ID, nameSize, true, false) + 2)
	for _, d := range []drawing.Point{{X: off}, {X: -off}, {Y: p.paper(-5)}, {Y: p.paper(5)}, {X: off, Y: p.paper(-5)}, {Y: p.paper(-10)}} {
		moved := name
		moved.At = name.At.Add(d)
		tries = append(tries, moved)
	}
	p.text.PutFirst(tries...)
	p.text.Put(words)
}

// tail draws an arrow that points away from the eye.
func (p *painter) tail(at drawing.Point) {
	s := wayLine
	s.Width = drawing.Thick
	p.l.Dot(at, tailR, drawing.Fill{Ink: drawing.Paper}, s)
	r := p.paper(tailR * math.Sqrt2 / 2)
	p.l.Line(at.Add(drawing.Point{X: -r, Y: -r}), at.Add(drawing.Point{X: r, Y: r}), s)
	p.l.Line(at.Add(drawing.Point{X: -r, Y: r}), at.Add(drawing.Point{X: r, Y: -r}), s)
}

// tilt marks the end that goes in first and the one that is pressed down after.
func (p *painter) tilt(t *fitting.Task, words *drawing.Text) {
	first, last := ends(t)
	a, b := p.place(t.Step, first), p.place(t.Step, last)
	mid := a.Add(b).Mul(0.5)
	if a.Sub(b).Len() < p.paper(12) { // seen along the tilt: it comes from above
		to := mid.Add(drawing.Point{Y: p.paper(wayFrom)})
		p.l.Arrow(to.Add(drawing.Point{Y: p.paper(wayLong - wayFrom)}), to, wayLine)
		words.At, words.Align = to.Add(drawing.Point{Y: p.paper(wayLong - 1)}), drawing.AlignMiddle
		return
	}
	in := func(end drawing.Point) drawing.Point { return end.Add(mid.Sub(end).Mul(0.16)) }
	p.l.Dot(in(a), tailR, drawing.Fill{Ink: drawing.Select}, wayLine)
	p.tail(in(b))
	words.At, words.Align, words.Baseline = mid.Add(drawing.Point{X: p.paper(5)}), drawing.AlignStart, drawing.BaseMiddle
}

// ends returns the middle of the end of a board that goes in first when it is
// tilted, and of the other.
func ends(t *fitting.Task) (first, last mgl64.Vec3) {
	left, right := middle(t), middle(t)
	for i := range t.Shape {
		s := &t.Shape[i]
		for n := range s.Faces {
			f := &s.Faces[n]
			switch f.Part {
			case pieces.LeftEnd:
				left = centre(s, f)
			case pieces.RightEnd:
				right = centre(s, f)
			}
		}
	}
	if t.Way.Pivot == pieces.Right {
		return right, left
	}
	return left, right
}

func centre(s *pieces.Solid, f *pieces.Facet) mgl64.Vec3 {
	var c mgl64.Vec3
	for _, v := range f.Loop {
		c = c.Add(s.Verts[v])
	}
	return c.Mul(1 / float64(len(f.Loop)))
}

// mark draws a task that has no solid: a line where it is done.
func (p *painter) mark(t *fitting.Task, s drawing.Stroke) {
	a, b := p.stand(t)
	switch t.Kind {
	case fitting.Hold:
		return
	case fitting.Notch:
		p.l.Square(b, 0.8, drawing.Fill{Ink: drawing.Paper}, s)
		return
	}
	p.l.Line(a, b, s)
	if t.Kind == fitting.Baluster {
		p.l.Dot(a.Add(b).Mul(0.5), 0.9, drawing.Fill{Ink: s.Ink}, drawing.Stroke{})
	}
}

// scribes draws the edges of a piece that are scribed.
func (p *painter) scribes(t *fitting.Task) {
	mid := p.place(t.Step, middle(t))
	for _, e := range p.edges(t) {
		p.l.Polyline(e.line, e.closed, scribeLine)
		if e.other == "" {
			continue
		}
		var at drawing.Point
		for _, q := range e.line {
			at = at.Add(q.Mul(1 / float64(len(e.line))))
		}
		word := drawing.Text{At: at, Size: wordSize, Bold: true, Halo: true, Ink: drawing.Bad, String: "scribe to " + e.other, Align: drawing.AlignMiddle}
		if at.Y < mid.Y {
			word.At.Y -= p.paper(1.4)
			word.Baseline = drawing.BaseTop
		} else {
			word.At.Y += p.paper(1.4)
		}
		p.text.Put(word)
	}
}

// drawnEdge is a scribed edge in the scene; other is empty when it is not
// named.
type drawnEdge struct {
	line   []drawing.Point
	closed bool
	other  string
}

// facets returns scribed facets as they are seen.
func (p *painter) facets(es []edge, step int) []drawnEdge {
	var out []drawnEdge
	for _, e := range es {
		p.room = p.room[:0]
		for _, v := range e.face.Loop {
			p.room = append(p.room, p.place(step, e.solid.Verts[v]))
		}
		pts := append([]drawing.Point(nil), p.hull.of(p.room)...)
		if len(pts) >= 2 {
			out = append(out, drawnEdge{pts, len(pts) > 2, e.other})
		}
	}
	return out
}
