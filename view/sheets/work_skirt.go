package sheets

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/fitting"
	"risewright/solver/pieces"
	"risewright/solver/skirt"
	"risewright/view/card"
	"risewright/view/drawing"
)

// skirts is the paper of the skirt boards that the order of fitting chose, each
// drawn with its cuts.
func (k *worker) skirts() {
	if !k.solved() {
		return
	}
	if k.unmeasured(k.job) {
		return
	}
	o := &k.w.Order
	if o.Status != fitting.Solved {
		k.missing("which boards are made is not decided: "+o.Why, "see the order of work for the piece that is trapped, and change a wish")
		return
	}
	for i, d := range []fitting.Decision{o.Left, o.Right} {
		side := pieces.Side(i)
		if i > 0 && len(k.pages) > 0 {
			k.y += gap
		}
		b, ok := k.w.Board(side)
		switch {
		case !ok && (d.Board == fitting.BareWall || d.Board == fitting.OpenSide):
			k.heading(strings.ToUpper(side.String()), 10)
			words := "bare wall: the boards butt against the wall, and no skirt board is made"
			if d.Board == fitting.OpenSide {
				words = "open side: its outer board is cut to the steps and mitred to the risers on site. It is not set out here; what carries the stair is for a builder or an engineer"
			}
			k.paragraph(model.Sentence(words), letter{size: 3.6})
		case !ok && d.Board == fitting.KeptSkirt:
			k.heading(strings.ToUpper(side.String())+": the old skirt stays", 20)
			k.paragraph("Risers and treads are scribed to its face. How much of it is left above the new noses is not worked out on a flight that turns: measure it on site.", letter{size: 3.5})
		case !ok:
			k.heading(strings.ToUpper(side.String()), 10)
			k.missing(fmt.Sprintf("the order of fitting asks for a %s on the %s, which was not set out", d.Board, side), "make a template on site")
		case b.Impossible != "":
			k.heading(strings.ToUpper(side.String()), 10)
			k.missing(fmt.Sprintf("the %s on the %s cannot be set out: %s", d.Board, side, b.Impossible), "make a template on site")
		case b.Treatment == skirt.Kept:
			k.kept(&b)
		default:
			k.cut(&b)
		}
	}
}

func (k *worker) skirtNotes(b *skirt.Board) {
	for _, n := range b.Notes {
		k.item("–", model.Sentence(n))
	}
}

// kept tells what is left of an old skirt above the new noses.
func (k *worker) kept(b *skirt.Board) {
	k.heading(strings.ToUpper(b.Side.String())+": the old skirt stays", 20)
	k.paragraph("Risers and treads are scribed to its face. Its top edge stays where it is while the noses rise and come forward, so less of it stands above them.", letter{size: 3.5})
	k.skirtNotes(b)
	if len(b.Margins) == 0 {
		k.missing("its margin above the noses is not known", "finish the survey of this side")
		return
	}
	if !slices.ContainsFunc(b.Margins, func(m skirt.Margin) bool { return m.Known }) {
		k.lessBy(b)
		return
	}
	k.y += 1.5
	g := k.grid(3.3, figures("step", 12), figures("above the old nose", 30), figures("above the new nose", 30), figures("less by", 30),
		column{title: "", width: 70})
	for _, m := range b.Margins {
		before, after, word := "not measured", "not known", ""
		if m.Known {
			before, after = k.length(m.Old), k.length(m.New)
			if m.New <= 0 {
				word = "THE NOSE RISES ABOVE THE SKIRT"
			}
		}
		g.cells(cell{s: fmt.Sprint(m.Step), bold: true}, cell{s: before}, cell{s: after, bold: m.Known && m.New <= 0}, cell{s: k.length(m.Shrinks)}, cell{s: word, bold: true})
	}
	k.paragraph("Square to the pitch.", letter{size: 3})
}

// lessBy says how much less of an old skirt stands above the noses where nobody
// has measured how much stands there, with room for what is measured.
func (k *worker) lessBy(b *skirt.Board) {
	least, most := math.Inf(1), math.Inf(-1)
	for _, m := range b.Margins {
		least, most = math.Min(least, m.Shrinks), math.Max(most, m.Shrinks)
	}
	words := fmt.Sprintf("Above every nose %s less of it will stand, square to the pitch.", k.length(most))
	if k.length(least) != k.length(most) {
		words = fmt.Sprintf("Above a nose %s to %s less of it will stand, square to the pitch.", k.length(least), k.length(most))
	}
	k.paragraph(words, letter{size: 3.5})
	k.toFill("measured above the first old nose", "measured above the last old nose")
}

// cutBoard is a board on paper: along runs up the flight from the low end of the
// smallest board that holds it, up from that board's lower edge, mm.
type cutBoard struct {
	*skirt.Board
	up     float64 // 1 when x of the board's frame runs up the flight, else -1
	foot   float64 // x of its low end
	lowest float64
}

func boardOf(b *skirt.Board) cutBoard {
	c := cutBoard{Board: b, up: 1, lowest: math.Inf(1)}
	if b.Top[1][0] < b.Top[0][0] {
		c.up = -1
	}
	c.foot = math.Inf(1)
	for _, p := range b.Outline {
		c.lowest = math.Min(c.lowest, p[1])
		c.foot = math.Min(c.foot, c.up*p[0])
	}
	c.foot *= c.up
	return c
}

func (c *cutBoard) along(p mgl64.Vec2) float64  { return c.up * (p[0] - c.foot) }
func (c *cutBoard) height(p mgl64.Vec2) float64 { return p[1] - c.lowest }

func (k *worker) cut(board *skirt.Board) {
	b := boardOf(board)
	k.heading(fmt.Sprintf("%s: %s board, cut %s", strings.ToUpper(b.Side.String()), b.Treatment, b.Lower), 60)
	k.paragraph(fmt.Sprintf("At least %s long and %s wide, %s thick. Top edge %s above the highest new nose, square to the pitch. Drawn as seen from the stair.",
		k.length(b.Length), k.length(b.Width), k.length(b.Thickness), k.length(b.Margin)), letter{size: 3.7, bold: true})
	k.skirtNotes(b.Board)
	k.stock(&b)
	k.y += 1
	k.whole(&b)
	k.stretches(&b)
	k.cuts(&b)
	k.rigid(&b)
}

// stock says which listed boards are wide and long enough.
func (k *worker) stock(b *cutBoard) {
	for _, w := range b.Widths {
		if w.Enough {
			k.item("–", fmt.Sprintf("Stock %s is wide enough, with %s to spare.", w.Stock.Name, k.length(w.Spare)))
		} else {
			k.item("–", fmt.Sprintf("Stock %s is NOT wide enough: %s is missing.", w.Stock.Name, k.length(-w.Spare)))
		}
	}
	if len(b.Widths) == 0 {
		k.item("–", k.bought())
	}
	for i := range k.w.Buy.Cuts {
		if c := &k.w.Buy.Cuts[i]; c.Use == model.UseSkirt && c.Width > 0 && c.Width < b.Width && len(c.Result.Layouts) > 0 {
			k.framed("TOO NARROW", fmt.Sprintf("The buying list has a skirt board %s wide, and this one needs %s. Buy a wider one, or glue a strip along it where steps hide the joint, before anything is cut.", k.length(c.Width), k.length(b.Width)))
		}
	}
	switch j := &b.Joints; {
	case j.Impossible != "":
		k.item("–", model.Sentence(j.Impossible))
	case len(j.At) > 0:
		var at []string
		for _, x := range j.At {
			at = append(at, k.length(b.along(mgl64.Vec2{x})))
		}
		k.item("–", fmt.Sprintf("%d boards, scarfed: middle of the scarf %s from the low end, %s long.", len(j.Boards), strings.Join(at, " and "), k.length(j.Scarf)))
	case len(j.Windows) > 0:
		k.item("–", fmt.Sprintf("If the board must be joined: a scarf, %s long, only where the drawing has a bar below the board.", k.length(j.Scarf)))
	}
}

// bought is the line of the buying list for skirt boards, in words.
func (k *worker) bought() string {
	for _, r := range k.w.Buy.Rows {
		if r.Use != model.UseSkirt {
			continue
		}
		if r.Missing {
			return "Buying list: " + card.SetFractions(model.Sentence(r.Why))
		}
		return fmt.Sprintf("Buying list: %d of %s.", r.Count, card.SetFractions(r.Name))
	}
	return "The buying list has no skirt board; hold the size above against the yard's."
}

// whole draws the board in one piece, with the marks and where a scarf may fall.
func (k *worker) whole(b *cutBoard) {
	s := k.inner() / b.Length
	tall := b.Width*s + 9
	k.room(tall)
	at := k.placer(b, 0, b.Length, s, k.y+4)
	l := k.list()
	pts := make([]drawing.Point, len(b.Outline))
	for i, p := range b.Outline {
		pts[i] = at(p)
	}
	l.Polygon(pts, drawing.Fill{Ink: drawing.Painted}, drawing.Stroke{Ink: drawing.Line, Width: drawing.Thin})
	for _, m := range b.Marks {
		p, q := at(m.Line[0]), at(m.Line[1])
		l.Line(p, q, drawing.Hidden(drawing.Line, drawing.Fine))
		l.Text(drawing.Text{At: drawing.Point{X: q.X, Y: q.Y + 0.8}, Size: 2.6, Align: drawing.AlignMiddle, String: fmt.Sprint(m.Step)})
	}
	base := k.y + 4 + b.Width*s + 1.2
	for _, w := range b.Joints.Windows {
		p, q := at(mgl64.Vec2{w.Lo, b.lowest}), at(mgl64.Vec2{w.Hi, b.lowest})
		l.Line(drawing.Point{X: p.X, Y: k.height - base}, drawing.Point{X: q.X, Y: k.height - base}, drawing.Stroke{Ink: drawing.Line, Width: drawing.Heavy})
	}
	for _, x := range b.Joints.At {
		p, q := at(mgl64.Vec2{x, b.lowest}), at(mgl64.Vec2{x, b.Top[0][1]})
		l.Line(p, q, drawing.Stroke{Ink: drawing.Line, Width: drawing.Heavy})
	}
	left, right := "low end of the flight", "top"
	if b.up < 0 {
		left, right = right, left
	}
	k.text(k.left(), base+3.6, 0, left, letter{size: 2.6, ink: drawing.LetterSoft})
	k.text(k.right(), base+3.6, 0, right, letter{size: 2.6, align: drawing.AlignEnd, ink: drawing.LetterSoft})
	k.text(k.left()+k.inner()/2, base+3.6, k.inner()-70, fmt.Sprintf("1:%.0f · dashed: register marks, plumb over the numbered noses · bars: where a scarf may fall", 1/s),
		letter{size: 2.6, align: drawing.AlignMiddle, ink: drawing.LetterSoft})
	k.y += tall
}

// placer maps the board's frame onto the page: the stretch from lo to hi along
// the board begins at the left margin, its top edge at y.
func (k *worker) placer(b *cutBoard, lo, hi, scale, y float64) func(mgl64.Vec2) drawing.Point {
	top := b.Top[0][1]
	return func(p mgl64.Vec2) drawing.Point {
		u := b.along(p) - lo
		if b.up < 0 {
			u = hi - b.along(p)
		}
		return k.at(k.left()+u*scale, y+(top-p[1])*scale)
	}
}

// stretch is how much of a board is drawn in one strip, mm: a step is then some
// 35 mm on paper, room for its dimensions.
const stretch = 1500.0

// stretches draws the board in strips with every cut dimensioned.
func (k *worker) stretches(b *cutBoard) {
	n := int(math.Ceil(b.Length / stretch))
	// A strip begins so far before the last one's end that every cut is whole in
	// one of them.
	overlap := 0.0
	for i := range b.Cuts {
		c := &b.Cuts[i]
		overlap = math.Max(overlap, math.Abs(b.along(c.Line[len(c.Line)-1])-b.along(c.Line[0])))
	}
	overlap = math.Min(overlap, stretch/2)
	long := (b.Length + float64(n-1)*overlap) / float64(n)
	s := k.inner() / long
	tall := b.Width*s + 7
	// The strips of a board are read from the low end of the flight; a board that
	// rises to the left begins at the right of its first strip.
	for i := range n {
		k.room(tall)
		lo := float64(i) * (long - overlap)
		hi := lo + long
		k.strip1(b, lo, hi, s, i == 0, i == n-1)
		k.y += tall
	}
	k.paragraph(fmt.Sprintf("1:%.0f. Beside each cut, on the waste side, stand the piece it follows and its length in %s; the thin line is the lower edge of the board before sawing.", 1/s, k.unit()), letter{size: 2.8, ink: drawing.LetterSoft})
	k.y += gap
}

func (k *worker) strip1(b *cutBoard, lo, hi, s float64, first, last bool) {
	at := k.placer(b, lo, hi, s, k.y+2)
	l := k.list()
	inside := func(x float64) bool { return x >= lo-1e-9 && x <= hi+1e-9 }
	// the board's face, and its own edges where the strip is cut off
	face := clipped(b, lo, hi)
	pts := make([]drawing.Point, len(face))
	for i, p := range face {
		pts[i] = at(p)
	}
	if len(pts) > 2 {
		l.Polygon(pts, drawing.Fill{Ink: drawing.Painted}, drawing.Stroke{})
	}
	edge := func(p, q mgl64.Vec2, st drawing.Stroke) {
		if p, q, ok := b.within(p, q, lo, hi); ok {
			l.Line(at(p), at(q), st)
		}
	}
	point := func(along float64) mgl64.Vec2 { return mgl64.Vec2{b.foot + b.up*along, b.lowest} }
	edge(point(lo), point(hi), drawing.Stroke{Ink: drawing.Soft, Width: drawing.Fine})
	for i, p := range b.Outline {
		edge(p, b.Outline[(i+1)%len(b.Outline)], drawing.Stroke{Ink: drawing.Line, Width: drawing.Medium})
	}
	top := b.Top[0][1]
	for _, x := range []struct {
		at   float64
		draw bool
	}{{lo, !first}, {hi, !last}} {
		if x.draw {
			p := point(x.at)
			l.Line(at(p), at(mgl64.Vec2{p[0], top}), drawing.Hidden(drawing.Soft, drawing.Fine))
		}
	}
	for _, m := range b.Marks {
		if inside(b.along(m.Line[0])) && inside(b.along(m.Line[1])) {
			l.Line(at(m.Line[0]), at(m.Line[1]), drawing.Hidden(drawing.Line, drawing.Fine))
		}
	}
	const shortest = 13.0 // mm on paper that a dimension takes
	for i := range b.Cuts {
		c := &b.Cuts[i]
		p, q := c.Line[0], c.Line[len(c.Line)-1]
		if !inside(b.along(p)) || !inside(b.along(q)) {
			continue
		}
		a, z := at(p), at(q)
		d := z.Sub(a)
		size := math.Hypot(d.X, d.Y)
		if c.Kind == skirt.Nose || c.Kind == skirt.End || size < shortest {
			continue
		}
		name := c.Meets
		if name == "" {
			name = "floor"
		}
		// The waste lies below, to the right of a cut that runs to the right. Name
		// and length are one text, for there is room for one line in a notch.
		label := name + "  " + k.number(q.Sub(p).Len())
		t := drawing.Text{String: label, Size: drawing.FitSize(label, size-2, 2.6, least, false, false)}
		l.DimensionText(a, z, -4*b.up, t, drawing.Stroke{Ink: drawing.Soft, Width: drawing.Fine})
	}
}

// within returns the part of a line that lies between lo and hi along the board.
func (c *cutBoard) within(p, q mgl64.Vec2, lo, hi float64) (mgl64.Vec2, mgl64.Vec2, bool) {
	a, z := c.along(p), c.along(q)
	if a > z {
		p, q, a, z = q, p, z, a
	}
	if z <= lo || a >= hi || z-a < 1e-12 {
		return p, q, z > lo && a < hi
	}
	cutAt := func(x float64) mgl64.Vec2 { return p.Add(q.Sub(p).Mul((x - a) / (z - a))) }
	from, to := p, q
	if a < lo {
		from = cutAt(lo)
	}
	if z > hi {
		to = cutAt(hi)
	}
	return from, to, true
}

// clipped returns the outline between lo and hi along the board: the half planes
// one after the other, as Sutherland and Hodgman cut polygons.
func clipped(c *cutBoard, lo, hi float64) []mgl64.Vec2 {
	half := func(in []mgl64.Vec2, side func(mgl64.Vec2) float64) []mgl64.Vec2 {
		var out []mgl64.Vec2
		for i, p := range in {
			q := in[(i+1)%len(in)]
			a, b := side(p), side(q)
			if a >= 0 {
				out = append(out, p)
			}
			if a > 0 && b < 0 || a < 0 && b > 0 {
				out = append(out, p.Add(q.Sub(p).Mul(a/(a-b))))
			}
		}
		return out
	}
	out := half(c.Outline, func(p mgl64.Vec2) float64 { return c.along(p) - lo })
	return half(out, func(p mgl64.Vec2) float64 { return hi - c.along(p) })
}

// cuts lists the lower edge cut by cut, to be set out with a tape and a square.
func (k *worker) cuts(b *cutBoard) {
	k.heading(model.Capital(b.Side.String())+" board: the lower edge from the low end up", 30)
	k.paragraph(fmt.Sprintf("Along is from the low end of a board %s long, up is from its lower edge, in %s; both say where a cut begins. A bevel leans the cut so that only the show edge touches.", k.length(b.Length), k.unit()), letter{size: 3})
	k.y += 1
	g := k.grid(3.2, figures("#", 11), column{title: "cut", width: 24, bold: true}, column{title: "follows", width: 22},
		figures("along", 26), figures("up", 24), figures("length", 26), figures("bevel", 18), column{title: "", width: 46})
	for i := range b.Cuts {
		c := &b.Cuts[i]
		p, q := c.Line[0], c.Line[len(c.Line)-1]
		meets := c.Meets
		if meets == "" {
			meets = "floor"
			if c.Kind == skirt.End {
				meets = "–"
			}
		}
		length := k.number(q.Sub(p).Len())
		note := ""
		if c.Kind == skirt.Nose {
			length, note = "profile", "the nose's own profile"
		}
		if c.Hidden {
			note = "hidden when all is fitted"
		}
		g.row(fmt.Sprint(i+1), string(c.Kind), meets, k.number(b.along(p)), k.number(b.height(p)), length, model.FormatDegrees(model.Angle(c.Bevel), 1), note)
	}
	if n := len(b.Cuts); n > 0 {
		line := b.Cuts[n-1].Line
		p := line[len(line)-1]
		g.row("", "ends", "", k.number(b.along(p)), k.number(b.height(p)), "", "", "the upper end, plumb")
	}
	k.y += gap
}

// rigid lists what a straight board leaves open at each step.
func (k *worker) rigid(b *cutBoard) {
	n := len(b.Noses.RestingGaps)
	if n == 0 {
		return
	}
	k.heading(model.Capital(b.Side.String())+" board: a straight board over all steps", 30)
	words := fmt.Sprintf("Laid on the noses it would rest on at least two and leave up to %s", k.f.Gap(model.Length(b.Noses.Worst)))
	if b.Noses.WorstAt >= 0 {
		words += fmt.Sprintf(", at step %d", b.Noses.WorstAt+1)
	}
	k.paragraph(model.Sentence(words)+" Behind it the wall falls back as listed; a thin board can be pulled into a little of that, a hollow or full wall wants the back scribed.", letter{size: 3.3})
	k.y += 1
	unit := ", " + k.fineUnit()
	g := k.grid(3.2, figures("step", 12), figures("nose below the straight line"+unit, 40), figures("margin above this nose, "+k.unit(), 40),
		figures("wall behind, at the nose"+unit, 40), figures("wall behind, at the back"+unit, 40))
	for i := range n {
		front, back := "not known", "not known"
		if w := b.Wall.RestingGaps; len(w) >= 2*n {
			front, back = k.fine(w[2*i]), k.fine(w[2*i+1])
		}
		// x of the frame is the least-squares line of the noses, so that a nose's
		// gap below that line is its height in the frame, turned round.
		margin := k.number(b.Top[0][1] + b.Noses.LeastGaps[i])
		g.cells(cell{s: fmt.Sprint(i + 1), bold: true}, cell{s: k.fine(b.Noses.RestingGaps[i])}, cell{s: margin}, cell{s: front}, cell{s: back})
	}
}
