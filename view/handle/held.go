package handle

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/survey"
)

// probe is the move, in mm, by which the change of a reading is found. It is
// far above rounding (coordinates reach 1e5 mm, float64 there is spaced
// 1.5e-11) and so small that no reading bends over it: a width of 900 mm by
// 1e-6 of the move.
const probe = 1e-3

// HeldBy returns the ids of the readings that hold handle id.
// Moving the handle by the sketch's spread would change what each of them reads
// by more than its own spread. Floors and rails are held by none.
func HeldBy(a *solver.Answer, id ID) []model.ID {
	return heldBy(a, id, false)
}

func heldBy(a *solver.Answer, id ID, whole bool) []model.ID {
	if id.Kind.free() {
		return nil
	}
	g, err := gripOf(Steps(a), id, whole)
	if err != nil {
		return nil
	}
	return g.held(a, nil)
}

// free says whether handles of kind k are held by no reading, because they
// change what is to be laid and not what is there.
func (k Kind) free() bool {
	switch k {
	case Rail, FloorBottom, FloorTop, "":
		return true
	}
	return false
}

// held appends the readings that hold g to dst.
func (g *grip) held(a *solver.Answer, dst []model.ID) []model.ID {
	var p prober
	return p.held(g, a, dst)
}

// prober finds what holds grips. It works on a copy of the shape, which it
// keeps from grip to grip and always leaves as it was. The zero value is ready.
type prober struct {
	of    []survey.Step // whose copy steps is
	steps []survey.Step
	there []probed
}

// probed is what a reading would show with the grip moved one way.
type probed struct {
	value float64
	ok    bool
}

// take copies the shape of g unless it has been copied already.
func (p *prober) take(of []survey.Step) {
	if len(p.of) == len(of) && &p.of[0] == &of[0] {
		return
	}
	p.of = of
	p.steps = append(p.steps[:0], of...)
	for i := range p.steps {
		p.steps[i].Corners = append([]mgl64.Vec2(nil), of[i].Corners...)
	}
}

// shift moves the grip on the copy by d along axis i; 0 puts it back.
func (p *prober) shift(g *grip, i int, d float64) {
	for _, k := range g.heights {
		p.steps[k].TopLeft = p.of[k].TopLeft + d
		p.steps[k].TopRight = p.of[k].TopRight + d
	}
	for _, q := range g.corners {
		p.steps[q.step].Corners[q.corner] = p.of[q.step].Corners[q.corner].Add(g.axes[i].Mul(d))
	}
}

func (p *prober) held(g *grip, a *solver.Answer, dst []model.ID) []model.ID {
	if a.Survey == nil {
		return dst
	}
	p.take(g.steps)
	checks := a.Survey.Checks
	p.there = append(p.there[:0], make([]probed, len(checks))...)
	first := len(dst)
	for i := range max(1, g.n) {
		p.shift(g, i, probe)
		for k := range checks {
			if c := &checks[k]; c.Used && c.Spread > 0 && g.near(c) {
				p.there[k].value, p.there[k].ok = predict(p.steps, c.Step, c.Kind)
			}
		}
		p.shift(g, i, -probe)
		for k := range checks {
			c := &checks[k]
			if !p.there[k].ok {
				continue
			}
			back, ok := predict(p.steps, c.Step, c.Kind)
			d := p.there[k].value - back
			if c.Kind.Quantity() == model.QuantityAngle {
				d = math.Remainder(d, 2*math.Pi)
			}
			if ok && math.Abs(d)/(2*probe)*float64(a.Job.SketchSpread) > c.Spread && !slices.Contains(dst[first:], c.Reading) {
				dst = append(dst, c.Reading)
			}
		}
		p.shift(g, i, 0)
	}
	return dst
}

// displaced returns the shape with the grip moved by d along axis i.
func (g *grip) displaced(i int, d float64) []survey.Step {
	var p prober
	p.take(g.steps)
	p.shift(g, i, d)
	return p.steps
}

// near says whether a reading can depend on the grip at all.
func (g *grip) near(c *survey.Check) bool {
	if c.Step < 0 {
		return true
	}
	for _, q := range g.corners {
		if q.step == c.Step || q.step == c.Step-1 {
			return true
		}
	}
	for _, k := range g.heights {
		if k == c.Step || k == c.Step-1 {
			return true
		}
	}
	return false
}
