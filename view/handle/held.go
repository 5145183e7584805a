package handle

import (
	"math"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/survey"
)

// probe is the move, in mm, by which the change of a reading is found. It is
// far above rounding (coordinates reach 1e5 mm, float64 there is spaced
// 1.5e-11) and so small that no reading bends over it: a width of 900 mm by
// 1e-6 of the move.
const probe = 1e-3

// HeldBy returns the ids of the readings that hold handle id, in job order.
// Moving the handle by the sketch's spread would change what each of them reads
// by more than its own spread. Floors and rails are held by none.
func HeldBy(a *solver.Answer, id ID) []model.ID {
	return heldBy(a, id, false)
}

func heldBy(a *solver.Answer, id ID, whole bool) []model.ID {
	switch id.Kind {
	case Rail, FloorBottom, FloorTop, "":
		return nil
	}
	steps := Steps(a)
	g, err := gripOf(steps, id, whole)
	if err != nil {
		return nil
	}
	return g.held(a, nil)
}

// held appends the readings that hold g to dst.
func (g *grip) held(a *solver.Answer, dst []model.ID) []model.ID {
	if a.Survey == nil {
		return dst
	}
	moved := g.shifted()
	for k := range a.Survey.Checks {
		c := &a.Survey.Checks[k]
		if !c.Used || !(c.Spread > 0) {
			continue
		}
		if moved.holds(c, float64(a.Job.SketchSpread)) {
			dst = append(dst, c.Reading)
		}
	}
	return dst
}

// shifts are the shapes with a grip moved a little each way along each axis.
type shifts struct {
	g           *grip
	there, back [2][]survey.Step
	n           int
}

func (g *grip) shifted() *shifts {
	f := &shifts{g: g, n: max(1, g.n)}
	for i := 0; i < f.n; i++ {
		f.there[i], f.back[i] = g.displaced(i, probe), g.displaced(i, -probe)
	}
	return f
}

// displaced returns the shape with the grip moved by d along axis i.
func (g *grip) displaced(i int, d float64) []survey.Step {
	out := append([]survey.Step(nil), g.steps...)
	for _, k := range g.heights {
		out[k].TopLeft += d
		out[k].TopRight += d
	}
	for _, p := range g.corners {
		s := &out[p.step]
		if &s.Corners[0] == &g.steps[p.step].Corners[0] {
			s.Corners = append(s.Corners[:0:0], s.Corners...)
		}
		s.Corners[p.corner] = s.Corners[p.corner].Add(g.axes[i].Mul(d))
	}
	return out
}

// holds says whether reading c holds the grip of a sketch with the given spread.
func (f *shifts) holds(c *survey.Check, spread float64) bool {
	if !f.near(c) {
		return false
	}
	for i := 0; i < f.n; i++ {
		p, ok := predict(f.there[i], c.Step, c.Kind)
		q, ok2 := predict(f.back[i], c.Step, c.Kind)
		if !ok || !ok2 {
			continue
		}
		d := p - q
		if c.Kind.Quantity() == model.QuantityAngle {
			d = math.Remainder(d, 2*math.Pi)
		}
		if math.Abs(d)/(2*probe)*spread > c.Spread {
			return true
		}
	}
	return false
}

// near says whether a reading can depend on the grip at all.
func (f *shifts) near(c *survey.Check) bool {
	if c.Step < 0 {
		return true
	}
	for _, p := range f.g.corners {
		if p.step == c.Step || p.step == c.Step-1 {
			return true
		}
	}
	for _, s := range f.g.heights {
		if s == c.Step || s == c.Step-1 {
			return true
		}
	}
	return false
}
