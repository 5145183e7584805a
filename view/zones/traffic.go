package zones

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"risewright/model"
	"risewright/solver/sensing"
	"risewright/view/drawing"
	"risewright/view/handle"
)

// What moves and warms near the stair is counted together: the passers first,
// then the warm things.

// WholeThing is the Point of a grip that moves a thing as a whole.
const WholeThing = -1

const (
	thingRadius = 1.7 // paper mm, of the disc that moves a thing
	leastBox    = 10  // mm, what is left of a warm thing that is dragged shut
)

// planOf returns a place of the floor in the scene of a plan, and planned undoes
// it.
func planOf(h *handle.Options, c model.Corner) drawing.Point {
	return h.Turn([2]float64{float64(c.X), float64(c.Y)})
}

func planned(h *handle.Options, p drawing.Point) model.Corner {
	if h.Upright { // Turn takes x and y apart
		return model.Corner{X: model.Length(p.X), Y: model.Length(p.Y)}
	}
	return model.Corner{X: model.Length(-p.Y), Y: model.Length(p.X)}
}

// corners returns the corners of a warm thing in plan.
func corners(h *handle.Options, w *model.WarmThing) []drawing.Point {
	return []drawing.Point{planOf(h, model.Corner{X: w.Low.X, Y: w.Low.Y}), planOf(h, model.Corner{X: w.High.X, Y: w.Low.Y}),
		planOf(h, model.Corner{X: w.High.X, Y: w.High.Y}), planOf(h, model.Corner{X: w.Low.X, Y: w.High.Y})}
}

// halfway returns the middle of a path by its length, and the way it goes there.
func halfway(pts []drawing.Point) (at, way drawing.Point) {
	sum := 0.0
	for i := range len(pts) - 1 {
		sum += pts[i+1].Sub(pts[i]).Len()
	}
	rest := sum / 2
	for i := range len(pts) - 1 {
		d := pts[i+1].Sub(pts[i])
		if l := d.Len(); l > 0 && (rest <= l || i == len(pts)-2) {
			return pts[i].Add(d.Mul(rest / l)), d.Mul(1 / l)
		} else {
			rest -= l
		}
	}
	return pts[0], drawing.Point{X: 1}
}

// ThingGrips returns what moves the things near the stair on a plan: the ends of
// a way, the edges of a door, two corners of what warms, and a disc for each as a
// whole; that of a door is its hinge.
func ThingGrips(s *model.Sensing, h *handle.Options, o Options) []Grip {
	if !o.Grips {
		return nil
	}
	var out []Grip
	add := func(thing, point int, at drawing.Point) {
		out = append(out, Grip{Kind: ThingGrip, Sensor: -1, At: at, Thing: thing, Point: point})
	}
	for i := range s.Passers {
		p := &s.Passers[i]
		pts := path(h, p)
		if len(pts) == 0 {
			continue
		}
		for k := range pts {
			if p.Kind == model.DoorSwings && k == 0 {
				add(i, WholeThing, pts[0])
				continue
			}
			add(i, k, pts[k])
		}
		if p.Kind != model.DoorSwings {
			at, _ := halfway(pts)
			add(i, WholeThing, at)
		}
	}
	for i := range s.Warm {
		c := corners(h, &s.Warm[i])
		add(len(s.Passers)+i, 0, c[0])
		add(len(s.Passers)+i, 1, c[2])
		add(len(s.Passers)+i, WholeThing, c[0].Add(c[2]).Mul(0.5))
	}
	return out
}

func path(h *handle.Options, p *model.Passer) []drawing.Point {
	pts := make([]drawing.Point, len(p.Path))
	for k := range p.Path {
		pts[k] = planOf(h, p.Path[k])
	}
	return pts
}

// DrawThings adds what moves and warms near the stair to l, over a plan: a way as
// a dashed line with arrows at both ends, a door with its swing, what warms as a
// hatched box; each with its name, and which sensors see it.
func DrawThings(l *drawing.List, s *model.Sensing, r *sensing.Result, h *handle.Options, o Options) {
	if r.Stair == nil {
		return
	}
	mid := r.Stair.Middle(float64(r.Stair.Risers) / 2)
	stair := planOf(h, model.Corner{X: model.Length(mid[0]), Y: model.Length(mid[1])})
	for i := range s.Passers {
		p := &s.Passers[i]
		pts := path(h, p)
		if len(pts) < 2 {
			continue
		}
		ink, words := seenBy(r, p.ID, p.Name, string(p.Kind))
		at, way := halfway(pts)
		if p.Kind == model.DoorSwings {
			door(l, pts, ink)
			at = pts[0].Add(pts[1]).Mul(0.5)
			way = pts[1].Sub(pts[0])
		} else {
			stroke := drawing.Hidden(ink, drawing.Medium)
			l.Polyline(pts, false, stroke)
			whole := drawing.Stroke{Ink: ink, Width: drawing.Medium}
			n := len(pts)
			tip(l, pts[1], pts[0], o.scale(), whole)
			tip(l, pts[n-2], pts[n-1], o.scale(), whole)
		}
		name(l, at, way, stair, words, ink, o.scale())
	}
	for i := range s.Warm {
		w := &s.Warm[i]
		ink, words := seenBy(r, w.ID, w.Name, string(w.Kind))
		c := corners(h, w)
		l.Polygon(c, drawing.Fill{Hatch: drawing.Hatch{Pattern: drawing.CrossHatch, Spacing: 1.4, Ink: ink}}, drawing.Stroke{Ink: ink, Width: drawing.Medium})
		way := c[1].Sub(c[0])
		if d := c[3].Sub(c[0]); d.Len() > way.Len() {
			way = d
		}
		name(l, c[0].Add(c[2]).Mul(0.5), way, stair, words, ink, o.scale())
	}
	for _, g := range ThingGrips(s, h, o) {
		drawGrip(l, g, &o)
	}
}

// tip draws the arrow head at the end b of a way from a.
func tip(l *drawing.List, a, b drawing.Point, scale float64, s drawing.Stroke) {
	d := b.Sub(a)
	if d.Len() <= 0 {
		return
	}
	back := d.Mul(min(1, 6/scale/d.Len()))
	l.Arrow(b.Sub(back), b, s)
}

// door draws a leaf shut, its swing and where it stands open.
func door(l *drawing.List, pts []drawing.Point, ink drawing.Ink) {
	if len(pts) < 3 {
		return
	}
	l.Line(pts[0], pts[1], drawing.Stroke{Ink: ink, Width: drawing.Thick})
	l.Line(pts[0], pts[2], drawing.Hidden(ink, drawing.Medium))
	a, b := pts[1].Sub(pts[0]), pts[2].Sub(pts[0])
	from := math.Atan2(a.Y, a.X)
	turn := math.Remainder(math.Atan2(b.Y, b.X)-from, 2*math.Pi)
	swing := make([]drawing.Point, 0, 13)
	for i := range 13 {
		sin, cos := math.Sincos(from + turn*float64(i)/12)
		swing = append(swing, pts[0].Add(drawing.Point{X: cos, Y: sin}.Mul(a.Len())))
	}
	l.Polyline(swing, false, drawing.Hidden(ink, drawing.Thin))
}

// name writes a name beside a place, clear of what runs along way and on the side
// away from the stair.
func name(l *drawing.List, at, way, stair drawing.Point, words string, ink drawing.Ink, scale float64) {
	t := drawing.Text{At: at, String: words, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, Size: small, Ink: ink, Halo: true}
	gap := 4 / scale
	if math.Abs(way.Y) > math.Abs(way.X) { // it runs up the drawing: beside it
		t.At.X, t.Align = at.X+gap, drawing.AlignStart
		if at.X < stair.X {
			t.At.X, t.Align = at.X-gap, drawing.AlignEnd
		}
	} else if t.At.Y = at.Y - gap; at.Y > stair.Y {
		t.At.Y = at.Y + gap
	}
	l.Text(t)
}

// seenBy returns the ink of a thing, and its name with the numbers of the sensors
// that see it.
func seenBy(r *sensing.Result, id model.ID, name, kind string) (drawing.Ink, string) {
	name = called(name, kind)
	var by []string
	for _, t := range r.Triggers {
		if t.Thing == id {
			by = append(by, fmt.Sprint(t.Sensor+1))
		}
	}
	if len(by) == 0 {
		return drawing.Soft, name
	}
	if len(by) == 1 {
		return drawing.Caution, fmt.Sprintf("%s, seen by sensor %s", name, by[0])
	}
	return drawing.Caution, fmt.Sprintf("%s, seen by sensors %s", name, model.Listed(by))
}

// MoveThing returns the edit that brings a grip of a thing to a scene point of a
// plan. A door keeps the width of its leaf while its open edge is dragged.
func MoveThing(s *model.Sensing, g Grip, h *handle.Options, at drawing.Point) model.Edit {
	e := model.SetTraffic{Passers: slices.Clone(s.Passers), Warm: slices.Clone(s.Warm)}
	snap := func(v model.Length) model.Length {
		if h.Snap > 0 {
			return model.Length(math.Round(float64(v/h.Snap))) * h.Snap
		}
		return v
	}
	to, from := planned(h, at), planned(h, g.At)
	dx, dy := snap(to.X-from.X), snap(to.Y-from.Y)
	if g.Thing >= len(e.Passers) {
		i := g.Thing - len(e.Passers)
		if i >= len(e.Warm) {
			return e
		}
		w := &e.Warm[i]
		if g.Point != 1 {
			w.Low.X, w.Low.Y = w.Low.X+dx, w.Low.Y+dy
		}
		if g.Point != 0 {
			w.High.X, w.High.Y = w.High.X+dx, w.High.Y+dy
		}
		switch g.Point { // the corner in hand stops at the other
		case 0:
			w.Low.X, w.Low.Y = min(w.Low.X, w.High.X-leastBox), min(w.Low.Y, w.High.Y-leastBox)
		case 1:
			w.High.X, w.High.Y = max(w.High.X, w.Low.X+leastBox), max(w.High.Y, w.Low.Y+leastBox)
		}
		return e
	}
	p := &e.Passers[g.Thing]
	p.Path = slices.Clone(p.Path)
	if g.Point == WholeThing {
		for k := range p.Path {
			p.Path[k].X += dx
			p.Path[k].Y += dy
		}
		return e
	}
	if g.Point >= len(p.Path) {
		return e
	}
	p.Path[g.Point].X += dx
	p.Path[g.Point].Y += dy
	if p.Kind == model.DoorSwings && len(p.Path) == 3 {
		// either edge turns the leaf, and the shut one also sets its width
		hinge, open := p.Path[0], &p.Path[2]
		if l, leaf := apart(hinge, *open), apart(hinge, p.Path[1]); l > 1 && leaf > 1 {
			k := model.Length(leaf / l)
			open.X, open.Y = hinge.X+(open.X-hinge.X)*k, hinge.Y+(open.Y-hinge.Y)*k
		}
	}
	return e
}

func apart(a, b model.Corner) float64 { return math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y)) }

// ThingName returns what a thing is called, by its place among all of them.
func ThingName(s *model.Sensing, thing int) string {
	word, kind := "", ""
	switch k := thing - len(s.Passers); {
	case thing < 0 || k >= len(s.Warm):
	case k >= 0:
		word, kind = s.Warm[k].Name, string(s.Warm[k].Kind)
	default:
		word, kind = s.Passers[thing].Name, string(s.Passers[thing].Kind)
	}
	return called(word, kind)
}

// called is a name, or the kind of what has none.
func called(name, kind string) string {
	if strings.TrimSpace(name) == "" {
		return kind
	}
	return name
}
