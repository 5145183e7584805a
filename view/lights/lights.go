// Package lights draws the light bars and their wires over a plan or a section,
// and says where they can be taken hold of.
//
// It draws in the scene of the drawing it lies over; a Place takes it there.
//
// What the lines mean:
//
//   - thick bar, filled: a light bar; with a hatched fan below it: one that is lit;
//   - medium line: the bus, or home runs, along the cavity;
//   - short dashes: a feeder from the box, and leads into the bars;
//   - small square: a way out through the riser;
//   - square with a cross: the box with supply and controller;
//   - disc: where a feeder joins the bus;
//   - lozenge, in the plan: the cavity, to be dragged to another side;
//   - coloured line in the plan, coloured disc in the section: the colour of a
//     bar's light, where it is asked for.
//
// # What is always true
//
//  1. A job without lighting draws nothing and has no grips.
//  2. Bars and wires are true to shape: over a drawing that exaggerates they
//     would stand in the wrong place, so nothing is drawn there.
package lights

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/bars"
	"risewright/solver/pieces"
	"risewright/solver/power"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/section"
)

// Place takes a point of the stair that belongs to a step (from 1; 0 is before
// the first) to a scene.
type Place func(step int, p mgl64.Vec3) drawing.Point

// Plan returns the place of things in a plan.
func Plan(o handle.Options) Place {
	return func(_ int, p mgl64.Vec3) drawing.Point { return o.Turn(mgl64.Vec2{p[0], p[1]}) }
}

// Section returns the place of things in a section of a, or nil when there is
// none.
func Section(a *solver.Answer, o handle.Options) Place {
	st := section.Stations(a, o)
	if len(st) == 0 {
		return nil
	}
	return func(step int, p mgl64.Vec3) drawing.Point {
		s := &st[max(0, min(step-1, len(st)-1))]
		return drawing.Point{X: s.Nose + mgl64.Vec2{p[0], p[1]}.Sub(s.At).Dot(s.Way), Y: p[2]}
	}
}

// GripKind says what a grip moves. The zero value is none.
type GripKind uint8

// The kinds of grip.
const (
	NoGrip GripKind = iota
	BoxGrip
	EnterGrip  // where a feeder joins the bus
	CavityGrip // the side that the wires climb at; in the plan
)

// Grip is something that can be dragged.
type Grip struct {
	Kind GripKind
	Step int // where an EnterGrip joins the bus
	At   drawing.Point
}

// Is says whether two grips move the same.
func (g Grip) Is(other Grip) bool { return g.Kind == other.Kind && g.Step == other.Step }

// Options say how the lights are drawn.
type Options struct {
	Scale      float64 // paper mm per scene mm, as in package handle
	Exaggerate float64 // of the drawing below
	Section    bool
	Chosen     int
	Lit        func(step int) bool // nil: none
	Hover      Grip
	Held       Grip
	Grips      bool // what can be dragged is shown so
	// Feeds shows where feeders join the bus, and Names the name of every bar in
	// a plan: for paper.
	Feeds, Names bool
	// Colour is the ink of a bar's light, None for a dark bar. Nil shows none.
	Colour func(step int) drawing.Ink
}

func (o *Options) scale() float64 {
	h := handle.Options{Scale: o.Scale}
	return h.PaperScale()
}

func shown(a *solver.Answer, place Place, o *Options) bool {
	return a != nil && a.Power != nil && a.Job.Lighting.On() && place != nil && (o.Exaggerate == 0 || o.Exaggerate == 1)
}

// Grips returns what can be dragged: the cavity, where the feeders join the bus,
// and the box, which lies on top.
func Grips(a *solver.Answer, place Place, o Options) []Grip {
	if !o.Grips || !shown(a, place, &o) {
		return nil
	}
	return grips(a, place, o.Section)
}

func grips(a *solver.Answer, place Place, inSection bool) []Grip {
	var out []Grip
	if g, ok := cavityGrip(a, place); ok && !inSection { // a section shows no sides
		out = append(out, g)
	}
	for i := range a.Power.Cables {
		c := &a.Power.Cables[i]
		if c.Kind == power.Feeder && c.Step > 0 && len(c.Path) > 0 {
			out = append(out, Grip{Kind: EnterGrip, Step: c.Step, At: place(c.Step, c.Path[len(c.Path)-1])})
		}
	}
	return append(out, Grip{Kind: BoxGrip, At: place(0, BoxOf(a))})
}

// BoxOf returns where the box of a job stands.
func BoxOf(a *solver.Answer) mgl64.Vec3 {
	b := a.Job.Lighting.Box
	return mgl64.Vec3{float64(b.X), float64(b.Y), float64(b.Z)}
}

// BoxAt returns the box's place after it is dragged in a drawing to the scene
// point at; what the drawing does not show stays.
func BoxAt(a *solver.Answer, o handle.Options, inSection bool, at drawing.Point) model.Point {
	b := a.Job.Lighting.Box
	if !inSection {
		// Turn takes x and y apart; it has no other content.
		if o.Upright {
			b.X, b.Y = model.Length(at.X), model.Length(at.Y)
		} else {
			b.X, b.Y = model.Length(-at.Y), model.Length(at.X)
		}
		return b
	}
	st := section.Stations(a, o)
	if len(st) == 0 {
		return b
	}
	s := &st[0]
	was := mgl64.Vec2{float64(b.X), float64(b.Y)}.Sub(s.At).Dot(s.Way)
	move := s.Way.Mul(at.X - s.Nose - was)
	b.X, b.Y, b.Z = b.X+model.Length(move[0]), b.Y+model.Length(move[1]), model.Length(at.Y)
	return b
}

// TapAt returns the step of the bar whose end at the cavity lies nearest to a
// scene point, or 0.
func TapAt(a *solver.Answer, place Place, at drawing.Point) int {
	best, step := math.Inf(1), 0
	for i := range a.Bars.Bars {
		b := &a.Bars.Bars[i]
		if b.Pixels == 0 {
			continue
		}
		end := b.Left
		if a.Job.Lighting.Cavity == model.CavityRight {
			end = b.Right
		}
		if d := place(b.Step, end).Sub(at).Len(); d < best {
			best, step = d, b.Step
		}
	}
	return step
}

// cavityGrip returns the grip of the cavity, half way up the flight.
func cavityGrip(a *solver.Answer, place Place) (Grip, bool) {
	var with []*bars.Bar
	for i := range a.Bars.Bars {
		if b := &a.Bars.Bars[i]; b.Way.Piece != "" {
			with = append(with, b)
		}
	}
	if len(with) == 0 {
		return Grip{}, false
	}
	b := with[len(with)/2]
	at := b.Way.At
	if a.Job.Lighting.Cavity == model.CavityUnder {
		at = b.Centre()
	} else if len(with)/2 > 0 {
		// Between two ways out, clear of them and of a feed point.
		below := with[len(with)/2-1]
		if at = below.Way.At.Add(at).Mul(0.5); len(below.Climb) > 0 {
			at = below.Climb[len(below.Climb)/2]
		}
	}
	return Grip{Kind: CavityGrip, At: place(b.Step, at)}, true
}

// CavityAt returns where the wires climb when the cavity is dragged to a scene
// point of the plan: the third of the width that it lies in, at the nearest bar.
func CavityAt(a *solver.Answer, place Place, at drawing.Point) model.Cavity {
	best, share := math.Inf(1), 0.0
	for i := range a.Bars.Bars {
		b := &a.Bars.Bars[i]
		l, r := place(b.Step, b.Left), place(b.Step, b.Right)
		if d := distance(at, l, r); b.Length > 0 && d < best {
			along := r.Sub(l)
			best, share = d, (at.Sub(l).X*along.X+at.Sub(l).Y*along.Y)/(along.X*along.X+along.Y*along.Y)
		}
	}
	switch {
	case math.IsInf(best, 1):
		return a.Job.Lighting.Cavity
	case share < 1.0/3:
		return model.CavityLeft
	case share > 2.0/3:
		return model.CavityRight
	}
	return model.CavityUnder
}

// BarAt returns the step of the bar within reach of a scene point, or 0.
func BarAt(a *solver.Answer, place Place, o Options, at drawing.Point, reach float64) int {
	if !shown(a, place, &o) {
		return 0
	}
	best, step := reach, 0
	for i := range a.Bars.Bars {
		b := &a.Bars.Bars[i]
		if b.Pixels == 0 {
			continue
		}
		d := distance(at, place(b.Step, b.Left), place(b.Step, b.Right))
		if d <= best {
			best, step = d, b.Step
		}
	}
	return step
}

// distance returns how far p lies from the line from a to b.
func distance(p, a, b drawing.Point) float64 {
	d := b.Sub(a)
	if n := d.X*d.X + d.Y*d.Y; n > 0 {
		f := math.Max(0, math.Min(1, ((p.X-a.X)*d.X+(p.Y-a.Y)*d.Y)/n))
		a = a.Add(d.Mul(f))
	}
	return p.Sub(a).Len()
}

// Draw adds the light bars of a to l.
func Draw(l *drawing.List, a *solver.Answer, place Place, o Options) {
	if !shown(a, place, &o) {
		return
	}
	d := &painter{l: l, a: a, place: place, o: &o, k: o.scale()}
	for i := range a.Bars.Bars {
		d.glow(&a.Bars.Bars[i])
	}
	for i := range a.Power.Cables {
		d.cable(&a.Power.Cables[i])
	}
	for i := range a.Bars.Bars {
		d.bar(&a.Bars.Bars[i])
	}
	if o.Names && !o.Section {
		for i := range a.Bars.Bars {
			d.name(&a.Bars.Bars[i])
		}
	}
	d.grips()
}

// painter draws the lights of one drawing.
type painter struct {
	l     *drawing.List
	a     *solver.Answer
	place Place
	o     *Options
	k     float64
}

// wireInk is of low volts, which no other line of plan or section has.
const wireInk = drawing.Caution

func (d *painter) cable(c *power.Cable) {
	if len(c.Path) < 2 {
		return
	}
	stroke := drawing.Stroke{Ink: wireInk, Width: drawing.Medium}
	if c.Kind == power.Feeder || c.Kind == power.Lead {
		stroke = drawing.Hidden(wireInk, drawing.Thin)
	}
	pts := make([]drawing.Point, len(c.Path))
	for i, p := range c.Path {
		step := c.Step
		// A run begins where the one before it ends, in the drawing too, and
		// bends along the side of the tread that it leaves.
		if i < len(c.Path)-1 && c.Kind == power.BusRun {
			step = max(1, c.Step-1)
		} else if i == 0 && c.From == "box" {
			step = 0
		}
		pts[i] = d.place(step, p)
	}
	d.l.Polyline(pts, false, stroke)
}

func (d *painter) lit(b *bars.Bar) bool {
	return d.o.Lit != nil && b.Pixels > 0 && d.o.Lit(b.Step)
}

// glow is the light of a lit bar: in the section a fan below it down to what it
// lights, hatched so that lettering can be read through it; in the plan nothing,
// since the bar lies under the nose.
func (d *painter) glow(b *bars.Bar) {
	if !d.lit(b) || !d.o.Section {
		return
	}
	at := d.place(b.Step, b.Centre().Sub(mgl64.Vec3{0, 0, b.Hang}))
	down := d.drop(b)
	if down <= 0 {
		return
	}
	// Half of the light of a Lambertian face falls within 45°; forward only as
	// far, since the riser stands behind.
	d.l.Polygon([]drawing.Point{at, at.Add(drawing.Point{X: -down, Y: -down}), at.Add(drawing.Point{X: 0.15 * down, Y: -down})}, drawing.Fill{Hatch: drawing.Hatch{Pattern: drawing.BackDiagonal, Spacing: 1.1, Ink: drawing.Caution}}, drawing.Stroke{})
}

// drop returns how far below a bar lies what it lights.
func (d *painter) drop(b *bars.Bar) float64 {
	floor := float64(d.a.Job.Overlay.FloorBottom)
	for i := range d.a.Bars.Bars {
		if n := &d.a.Bars.Bars[i]; n.Step == b.Step-1 {
			floor = n.Centre()[2] + float64(d.a.Job.Overlay.Tread)
		}
	}
	return b.Centre()[2] - b.Hang - floor
}

func (d *painter) bar(b *bars.Bar) {
	if b.Pixels == 0 {
		return
	}
	ink, fill := drawing.Line, drawing.Painted
	if d.lit(b) {
		ink, fill = drawing.Caution, drawing.CautionWash
	}
	width := drawing.Thin
	if b.Step == d.o.Chosen {
		ink, width = drawing.Select, drawing.Medium
	}
	stroke := drawing.Stroke{Ink: ink, Width: width}
	if d.o.Section {
		// its end, as it hangs
		at := d.place(b.Step, b.Centre())
		wide, high := float64(d.a.Job.Lighting.BarWidth), math.Max(b.Hang, 2)
		d.l.Polygon([]drawing.Point{{X: at.X - wide/2, Y: at.Y - high}, {X: at.X + wide/2, Y: at.Y - high}, {X: at.X + wide/2, Y: at.Y}, {X: at.X - wide/2, Y: at.Y}}, drawing.Fill{Ink: fill}, stroke)
	} else {
		wide := float64(d.a.Job.Lighting.BarWidth)
		side := mgl64.Vec3{b.Back[0], b.Back[1], 0}.Mul(wide / 2)
		d.l.Polygon([]drawing.Point{d.place(b.Step, b.Left.Sub(side)), d.place(b.Step, b.Right.Sub(side)), d.place(b.Step, b.Right.Add(side)), d.place(b.Step, b.Left.Add(side))}, drawing.Fill{Ink: fill}, stroke)
	}
	d.colour(b)
	if b.Way.Piece != "" {
		d.l.Square(d.place(b.Step, b.Way.At), 0.5, drawing.Fill{Ink: wireInk}, drawing.Stroke{})
	}
}

// name writes the name of a bar behind it, near where the wires leave it, clear
// of the step's number in the middle.
func (d *painter) name(b *bars.Bar) {
	if b.Pixels == 0 {
		return
	}
	share := 0.12
	if b.Way.Side == pieces.Right {
		share = 0.88
	}
	at := b.Left.Add(b.Right.Sub(b.Left).Mul(share)).Add(mgl64.Vec3{b.Back[0], b.Back[1], 0}.Mul(4.2 / d.k))
	d.l.Text(drawing.Text{At: d.place(b.Step, at), Size: 2.5, Bold: true, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, Halo: true, String: b.Name()})
}

// colour shows the colour of a bar's light, on a dark line or in a dark ring, so
// that a pale one is seen on any ground.
func (d *painter) colour(b *bars.Bar) {
	if d.o.Colour == nil {
		return
	}
	ink := d.o.Colour(b.Step)
	if ink == drawing.None {
		return
	}
	if d.o.Section {
		at := d.place(b.Step, b.Centre()).Add(drawing.Point{Y: -math.Max(b.Hang, 2)})
		d.l.Dot(at, 0.8, drawing.Fill{Ink: ink}, drawing.Stroke{Ink: drawing.Line, Width: drawing.Thin})
		return
	}
	l, r := d.place(b.Step, b.Left), d.place(b.Step, b.Right)
	d.l.Line(l, r, drawing.Stroke{Ink: drawing.Line, Width: 0.9})
	d.l.Line(l, r, drawing.Stroke{Ink: ink, Width: 0.5})
}

// grips draws the box and where the feeders join the bus.
func (d *painter) grips() {
	for _, g := range grips(d.a, d.place, d.o.Section) {
		hot := g.Is(d.o.Hover) && d.o.Hover.Kind != NoGrip || g.Is(d.o.Held) && d.o.Held.Kind != NoGrip
		stroke, fill, more := drawing.Stroke{Ink: wireInk, Width: drawing.Medium}, drawing.Fill{Ink: drawing.CautionWash}, 0.0
		if hot {
			stroke.Width, more = drawing.Thick, 0.4
		}
		if g.Kind != BoxGrip && !d.o.Grips && !(g.Kind == EnterGrip && d.o.Feeds) {
			continue
		}
		switch g.Kind {
		case EnterGrip:
			d.l.Dot(g.At, 1+more, fill, stroke)
			continue
		case CavityGrip:
			r := (1.5 + more) / d.k
			d.l.Polygon([]drawing.Point{g.At.Add(drawing.Point{X: -r}), g.At.Add(drawing.Point{Y: -r}), g.At.Add(drawing.Point{X: r}), g.At.Add(drawing.Point{Y: r})}, fill, stroke)
			continue
		}
		half := 1.9 + more
		d.l.Square(g.At, half, fill, stroke)
		r := half / d.k
		d.l.Line(g.At.Add(drawing.Point{X: -r, Y: -r}), g.At.Add(drawing.Point{X: r, Y: r}), stroke)
		d.l.Line(g.At.Add(drawing.Point{X: -r, Y: r}), g.At.Add(drawing.Point{X: r, Y: -r}), stroke)
		// In a section the rises are written below, in front of the flight.
		word := drawing.Text{At: g.At.Add(drawing.Point{Y: -(half + 0.6) / d.k}), Size: 2.6, Align: drawing.AlignMiddle, Baseline: drawing.BaseTop, Halo: true, Bold: true, String: "box"}
		if d.o.Section {
			word.At, word.Baseline = g.At.Add(drawing.Point{Y: (half + 0.6) / d.k}), drawing.BaseLine
		}
		d.l.Text(word)
	}
}
