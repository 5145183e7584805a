// Package section draws the flight cut along its length and places its handles.
//
// The section is seen from the right side, so up the flight is to the right of
// the drawing. The scene is stair millimetres: X is the stair's y, Y is z,
// above the old bottom floor. A flight that turns is unrolled along the middle
// of its treads: each step is cut from its nose towards the next one, and set
// where its nose lies along that line. A landing is as long as the way over it is, straight
// from the middle of its nose to the middle of the next riser.
//
// What the lines mean:
//
//   - light, hatched: the existing treads and risers, and the floors;
//   - short dashes: an old nose that has been cut off;
//   - strong: the new boards, as the solids they will be cut to;
//   - crossed hatch: packing;
//   - long and short dashes: the pitch line, over the new noses;
//   - heavy line: the handrail as it stands; dashed: where it would have to be
//     to keep its height over the new noses;
//   - hatched edge above: what limits the headroom.
package section

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
	"risewright/solver/survey"
	"risewright/view/drawing"
	"risewright/view/handle"
)

// Options say how the section is drawn.
type Options = handle.Options

// Draw adds the section of a to l.
func Draw(l *drawing.List, a *solver.Answer, o Options) {
	p := newPainter(l, a, &o)
	if p == nil {
		return
	}
	p.floors()
	p.existing()
	p.packing()
	p.boards()
	p.ghost()
	p.pitchLine()
	p.rail()
	p.headroom()
	p.chosen()
	p.handles()
	p.letter()
}

// Old adds what stands before the new boards: floors, old steps and packing.
func Old(l *drawing.List, a *solver.Answer, o Options) {
	p := newPainter(l, a, &o)
	if p == nil {
		return
	}
	p.floors()
	p.existing()
	p.packing()
}

// Station is where a step stands in the drawing: what lies d along Way from At
// in plan is drawn at X = Nose + d.
type Station struct {
	At, Way mgl64.Vec2
	Nose    float64
}

// Stations returns where each step stands, from the bottom up, for those who
// draw more into a section; nil when there is no shape to draw.
func Stations(a *solver.Answer, o Options) []Station {
	p := newPainter(nil, a, &o)
	if p == nil {
		return nil
	}
	out := make([]Station, len(p.cuts))
	for i := range p.cuts {
		out[i] = Station{At: p.cuts[i].at, Way: p.cuts[i].way, Nose: p.cuts[i].nose}
	}
	return out
}

// Handles appends the handles of the section to dst, from the bottom up.
func Handles(dst []handle.Handle, a *solver.Answer, o Options) []handle.Handle {
	p := newPainter(nil, a, &o)
	if p == nil {
		return dst
	}
	dst = p.flightHandles(dst)
	for i := range p.cuts {
		dst = p.stepHandles(dst, i)
	}
	return dst
}

// Reach of a step for the pointer, in mm below and above its tread.
const (
	reachBelow = 330
	reachAbove = 220
)

// StepAt returns the number of the step whose riser or tread is at p, counted
// from 1, or 0.
func StepAt(a *solver.Answer, o Options, at drawing.Point) int {
	p := newPainter(nil, a, &o)
	if p == nil {
		return 0
	}
	for i := len(p.cuts) - 1; i >= 0; i-- {
		c := &p.cuts[i]
		if at.X >= c.nose && at.X <= c.back && at.Y >= c.top-reachBelow && at.Y <= c.top+reachAbove {
			return i + 1
		}
	}
	return 0
}

// Fit returns the viewport that shows the section in width by height pixels
// with room for its lettering; paper is pixels per paper millimetre. Set
// o.Scale from it: v.Scale / v.Paper.
func Fit(a *solver.Answer, o Options, width, height, paper float64) drawing.Viewport {
	return handle.Fit(func(l *drawing.List, scale float64) {
		o.Scale = scale
		Draw(l, a, o)
	}, width, height, paper)
}

// cut is where one step is cut. Places along the flight are scene X, heights
// scene Y.
type cut struct {
	at   mgl64.Vec2 // the nose in plan
	way  mgl64.Vec2 // up the flight in plan
	nose float64    // new nose line
	back float64    // where the opening ends
	face float64    // face of the existing riser below this tread
	tip  float64    // tip of the old nose, cut off or not
	top  float64    // existing tread at the nose
	fall float64    // of the tread, rise over run
	show float64    // the same as shown
	pack float64    // packing under the board, at the nose
	lift float64    // from the existing to the new tread top
}

// old returns the height of the existing tread top at x, as shown.
func (c *cut) old(x float64) float64 { return c.top + c.show*(x-c.nose) }

// new returns the height of the new tread top at the nose.
func (c *cut) new() float64 { return c.top + c.lift }

// painter draws one section.
type painter struct {
	l     *drawing.List
	a     *solver.Answer
	job   *model.Job
	o     *Options
	k     float64 // paper mm per scene mm
	steps []survey.Step
	cuts  []cut
	make  *handle.Maker
	text  *handle.Lettering
	room  []drawing.Point
	knife knife
}

// newPainter returns a painter, or nil when there is no shape to draw.
func newPainter(l *drawing.List, a *solver.Answer, o *Options) *painter {
	steps := handle.Steps(a)
	if len(steps) == 0 {
		return nil
	}
	p := &painter{l: l, a: a, job: &a.Job, o: o, k: o.PaperScale(), steps: steps, make: handle.NewMaker(a, o)}
	p.cuts = cutsOf(p.cuts, &a.Job, steps, o)
	return p
}

// nearSide is how far in from a side, as a part of the width, the section at
// that side is cut: past the fit and the undercut of the boards' ends, and of
// ends a few degrees out of square.
const nearSide = 0.04

// share is where across the flight it is cut: 0 at the left, 1 at the right.
func share(d buildup.Side) float64 {
	switch d {
	case buildup.Left:
		return nearSide
	case buildup.Right:
		return 1 - nearSide
	}
	return 0.5
}

// cutsOf appends where each step is cut to dst.
func cutsOf(dst []cut, job *model.Job, steps []survey.Step, o *Options) []cut {
	f := share(o.Cut)
	between := func(a, b mgl64.Vec2) mgl64.Vec2 { return a.Add(b.Sub(a).Mul(f)) }
	n := len(steps)
	straight := true
	for i := range steps {
		if _, up := handle.Axes(&steps[i]); up != (mgl64.Vec2{0, 1}) {
			straight = false
		}
	}
	over, forward := float64(job.Existing.Overhang), float64(model.NoseSetForward(*job))
	for i := range steps {
		s := &steps[i]
		c := cut{at: between(s.Corners[s.FL], s.Corners[s.FR])}
		behind := between(s.Corners[s.BL], s.Corners[s.BR])
		_, c.way = handle.Axes(s)
		c.nose, c.back = c.at[1], behind[1]
		if !straight {
			switch {
			case i == 0:
				c.nose = c.at[1]
			case job.Flight.Steps[i-1].Landing:
				c.nose = dst[i-1].back - forward
			default:
				b := &dst[i-1]
				c.nose = b.nose + c.at.Sub(b.at).Len()
			}
			if t := i + 1; t < n && !job.Flight.Steps[i].Landing {
				c.way = between(steps[t].Corners[steps[t].FL], steps[t].Corners[steps[t].FR]).Sub(c.at).Normalize()
			}
			c.back = c.nose + reach(c.at, c.way, s.Corners[s.BL], s.Corners[s.BR])
			if job.Flight.Steps[i].Landing { // straight to where the next flight begins
				c.back = c.nose + behind.Sub(c.at).Len()
			}
		}
		c.top = s.HeightAt(c.at)
		c.fall = s.HeightAt(c.at.Add(c.way)) - c.top
		c.show = c.fall * o.Factor()
		c.pack = packAt(&job.Flight.Steps[i], f)
		c.lift = c.pack + float64(job.TreadThickness(i))
		if i == n-1 {
			c.lift = float64(job.Overlay.FloorTop)
		}
		c.face = c.nose + forward
		if i > 0 {
			c.face = dst[i-1].back
		}
		c.tip = c.face - over
		if job.Flight.Steps[i].Nosing == model.NosingPacked {
			c.tip = c.face // the face surveyed stands where the old nose was
		}
		dst = append(dst, c)
	}
	return dst
}

// packAt returns the packing of a step at a part of its nose line from the left.
func packAt(s *model.Step, share float64) float64 {
	return float64(s.PackLeft) + share*float64(s.PackRight-s.PackLeft)
}

// reach returns how far from at in direction way the line through a and b lies;
// to the middle of the two when it runs the same way.
func reach(at, way, a, b mgl64.Vec2) float64 {
	e, d := b.Sub(a), a.Sub(at)
	const same = 0.1 // as a sine: no riser is met so askew
	if cross := way[0]*e[1] - way[1]*e[0]; math.Abs(cross) > same*e.Len() {
		return (d[0]*e[1] - d[1]*e[0]) / cross
	}
	return d.Add(e.Mul(0.5)).Dot(way)
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

// below returns the height of the new tread or floor below riser i.
func (p *painter) below(i int) float64 {
	if i == 0 {
		return float64(p.job.Overlay.FloorBottom)
	}
	return p.cuts[i-1].new()
}

// built returns the build-up of step i, or nil when it was not computed.
func (p *painter) built(i int) *buildup.Step {
	if len(p.a.Buildup.Steps) != len(p.steps) {
		return nil
	}
	return &p.a.Buildup.Steps[i]
}

// oldNose returns the tip of the old nose of step i, from which rails and
// headroom are measured.
func (p *painter) oldNose(i int) drawing.Point {
	c := &p.cuts[i]
	return drawing.Point{X: c.tip, Y: c.old(c.tip)}
}

// newNose returns the new nose of step i.
func (p *painter) newNose(i int) drawing.Point {
	return drawing.Point{X: p.cuts[i].nose, Y: p.cuts[i].new()}
}

func pt(x, y float64) drawing.Point { return drawing.Point{X: x, Y: y} }

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
