// Package plan draws the flight from above and places its handles.
//
// The scene is stair millimetres, turned so that up the flight is to the right
// and the left side at the top: so it lies below a section with every nose
// under its own. Options.Upright leaves it unturned.
//
// What the lines mean:
//
//   - solid, medium: a new nose line;
//   - short dashes: the face of an existing riser, under the tread above;
//   - hatched band: a wall; double line: a skirt; single thin line: an open side;
//   - thin outline past an open side: the tread's end, its mitred return or its
//     round corner; small circle: a baluster;
//   - heavy outline, with a wedge outside the flight: the chosen step;
//   - dotted: the sketch, where it differs from the estimate;
//   - ellipses: where each corner lies with 95 % certainty, as part of its own
//     opening, drawn larger by the factor written beside them.
package plan

import (
	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/survey"
	"risewright/view/drawing"
	"risewright/view/handle"
)

// Options say how the plan is drawn.
type Options = handle.Options

// Draw adds the plan of a to l.
func Draw(l *drawing.List, a *solver.Answer, o Options) {
	p := newPainter(l, a, &o)
	if p == nil {
		return
	}
	p.floors()
	p.sides()
	p.beyond()
	p.treads()
	p.returns()
	p.risers()
	p.balusters()
	p.chosen()
	p.ghost()
	p.ellipses()
	p.walkingLine()
	p.handles()
	p.letter()
}

// Old adds what stands before the new boards: floors, sides and old risers.
func Old(l *drawing.List, a *solver.Answer, o Options) {
	p := newPainter(l, a, &o)
	if p == nil {
		return
	}
	p.floors()
	p.sides()
	p.beyond()
	p.risers()
}

// Handles appends the handles of the plan to dst, from the bottom up.
func Handles(dst []handle.Handle, a *solver.Answer, o Options) []handle.Handle {
	p := newPainter(nil, a, &o)
	if p == nil {
		return dst
	}
	for i := range p.steps {
		dst = p.stepHandles(dst, i)
	}
	return dst
}

// StepAt returns the number of the step whose tread is at p, counted from 1,
// or 0. Where treads lie over each other the upper one is meant.
func StepAt(a *solver.Answer, o Options, at drawing.Point) int {
	p := newPainter(nil, a, &o)
	if p == nil {
		return 0
	}
	for i := len(p.steps) - 1; i >= 0; i-- {
		if drawing.Inside(p.open[i], at) {
			return i + 1
		}
	}
	return 0
}

// Fit returns the viewport that shows the plan in width by height pixels with
// room for its lettering; paper is pixels per paper millimetre. Set o.Scale
// from it: v.Scale / v.Paper.
func Fit(a *solver.Answer, o Options, width, height, paper float64) drawing.Viewport {
	return handle.Fit(func(l *drawing.List, scale float64) {
		o.Scale = scale
		Draw(l, a, o)
	}, width, height, paper)
}

// painter draws one plan.
type painter struct {
	l     *drawing.List
	a     *solver.Answer
	job   *model.Job
	o     *Options
	k     float64 // paper mm per scene mm
	steps []survey.Step
	shown [][]mgl64.Vec2    // corners in stair axes, as shown
	open  [][]drawing.Point // the same in the scene
	make  *handle.Maker
	text  *handle.Lettering
	room  []drawing.Point
}

// newPainter returns a painter, or nil when there is no shape to draw.
func newPainter(l *drawing.List, a *solver.Answer, o *Options) *painter {
	steps := handle.Steps(a)
	if len(steps) == 0 {
		return nil
	}
	p := &painter{l: l, a: a, job: &a.Job, o: o, k: o.PaperScale(), steps: steps, make: handle.NewMaker(a, o)}
	n := 0
	for i := range steps {
		n += len(steps[i].Corners)
	}
	shown, open := make([]mgl64.Vec2, 0, n), make([]drawing.Point, 0, n)
	p.shown, p.open = make([][]mgl64.Vec2, len(steps)), make([][]drawing.Point, len(steps))
	for i := range steps {
		first := len(shown)
		shown = o.Shown(shown, &steps[i])
		for _, c := range shown[first:] {
			open = append(open, o.Turn(c))
		}
		p.shown[i], p.open[i] = shown[first:len(shown):len(shown)], open[first:len(open):len(open)]
	}
	return p
}

// paper returns the scene length of v paper millimetres.
func (p *painter) paper(v float64) float64 { return v / p.k }

// chosenStep returns the index of the chosen step, or -1.
func (p *painter) chosenStep() int {
	if p.o.Selected > len(p.steps) {
		return -1
	}
	return p.o.Selected - 1
}

// corner returns the scene place of a corner of step i.
func (p *painter) corner(i, c int) drawing.Point { return p.open[i][c] }

// across returns the place at fraction f of the way from the left to the right
// end of the nose line of step i.
func (p *painter) across(i int, f float64) drawing.Point {
	return lerp(p.corner(i, p.steps[i].FL), p.corner(i, p.steps[i].FR), f)
}

// middle returns the middle of the tread that is seen: between its own nose
// line and the next one's, at fraction f from left to right.
func (p *painter) middle(i int, f float64) drawing.Point {
	if p.job.Flight.Steps[i].Landing {
		return p.onLanding(i, f)
	}
	if i+1 < len(p.steps) {
		return lerp(p.across(i, f), p.across(i+1, f), 0.5)
	}
	s := &p.steps[i]
	return lerp(p.across(i, f), lerp(p.corner(i, s.BL), p.corner(i, s.BR), f), 0.5)
}

// up returns the unit scene direction up the flight at step i.
func (p *painter) up(i int) drawing.Point {
	_, up := handle.Axes(&p.steps[i])
	return p.o.Turn(up)
}

func lerp(a, b drawing.Point, f float64) drawing.Point { return a.Add(b.Sub(a).Mul(f)) }

func unit(d drawing.Point) drawing.Point {
	if n := d.Len(); n > 0 {
		return d.Mul(1 / n)
	}
	return drawing.Point{X: 1}
}

// leftOf returns d turned a quarter to the left.
func leftOf(d drawing.Point) drawing.Point { return drawing.Point{X: -d.Y, Y: d.X} }
