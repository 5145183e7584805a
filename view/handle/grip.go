package handle

import (
	"fmt"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/survey"
)

// grip is what a handle takes hold of: unknowns of the survey that move
// together, and those whose mean is where the handle is. A grip of corners
// moves them along one or two axes; a grip of heights moves up and down.
type grip struct {
	steps   []survey.Step
	step    int // index
	corners []place
	anchors []place
	heights []int // indices of steps whose two heights move
	axes    [2]mgl64.Vec2
	n       int // of axes in use
}

// place is a corner of a step, both by index.
type place struct{ step, corner int }

func (g *grip) move(step, corner int) {
	p := place{step, corner}
	for _, q := range g.corners {
		if q == p {
			return
		}
	}
	g.corners = append(g.corners, p)
}

// moveRiser takes corner c of step i along with the corner of the neighbour
// that stands at the same riser, which is the same place on the wall. The
// landing nosing keeps its depth: its rear corner goes with its front one.
func (g *grip) moveRiser(i, c int) {
	s := &g.steps[i]
	g.move(i, c)
	if i > 0 {
		if c == s.FL {
			g.move(i-1, g.steps[i-1].BL)
		}
		if c == s.FR {
			g.move(i-1, g.steps[i-1].BR)
		}
	}
	if i == len(g.steps)-1 {
		if c == s.FL {
			g.move(i, s.BL)
		}
		if c == s.FR {
			g.move(i, s.BR)
		}
		return
	}
	if c == s.BL {
		g.move(i+1, g.steps[i+1].FL)
	}
	if c == s.BR {
		g.move(i+1, g.steps[i+1].FR)
	}
}

// eachOn calls use with the corners on one side of s, from the back to the
// front on the left, from the front to the back on the right.
func eachOn(s *survey.Step, side model.Edge, use func(c int)) {
	from, to := s.BL, s.FL
	if side == model.Right {
		from, to = s.FR, s.BR
	}
	for c := from; ; c = (c + 1) % len(s.Corners) {
		use(c)
		if c == to {
			return
		}
	}
}

// gripOf returns what handle id takes hold of, or an error when the flight has
// no such handle.
func gripOf(steps []survey.Step, id ID, whole bool) (*grip, error) {
	g := &grip{steps: steps, step: id.Step - 1}
	flight := id.Kind == Overhang
	if !flight && (g.step < 0 || g.step >= len(steps)) {
		return nil, fmt.Errorf("the flight has no step %d; it may have been removed by another edit", id.Step)
	}
	if flight {
		g.step = max(0, min(g.step, len(steps)-1))
	}
	if len(steps) == 0 {
		return nil, fmt.Errorf("the flight has no steps")
	}
	s := &steps[g.step]
	across, up := Axes(s)
	last := g.step == len(steps)-1
	switch id.Kind {
	case Corner:
		if id.Corner < 0 || id.Corner >= len(s.Corners) {
			return nil, fmt.Errorf("step %d has no corner %d", id.Step, id.Corner+1)
		}
		g.axes, g.n = [2]mgl64.Vec2{across, up}, 2
		if last && (id.Corner == s.BL || id.Corner == s.BR) {
			g.move(g.step, id.Corner) // its depth has a handle of its own
			g.n = 1
		} else {
			g.moveRiser(g.step, id.Corner)
		}
		g.anchors = []place{{g.step, id.Corner}}
	case SideLine:
		if id.Side != model.Left && id.Side != model.Right {
			return nil, fmt.Errorf("step %d has no side line %q", id.Step, id.Side)
		}
		g.axes[0], g.n = across, 1
		first, end := g.step, g.step
		if whole {
			first, end = 0, len(steps)-1
		}
		for i := first; i <= end; i++ {
			eachOn(&steps[i], id.Side, func(c int) { g.moveRiser(i, c) })
		}
		if id.Side == model.Left {
			g.anchors = []place{{g.step, s.FL}, {g.step, s.BL}}
		} else {
			g.anchors = []place{{g.step, s.FR}, {g.step, s.BR}}
		}
	case NosingLine:
		g.axes[0], g.n = up, 1
		g.moveRiser(g.step, s.FL)
		g.moveRiser(g.step, s.FR)
		g.anchors = []place{{g.step, s.FL}, {g.step, s.FR}}
	case LandingDepth:
		if !last {
			return nil, fmt.Errorf("step %d is not the landing", id.Step)
		}
		g.axes[0], g.n = up, 1
		g.move(g.step, s.BL)
		g.move(g.step, s.BR)
		g.anchors = []place{{g.step, s.BL}, {g.step, s.BR}}
	case Overhang:
		// Every nose line moves by the same, square to itself; only along the
		// axes of this step does it count.
		g.axes[0], g.n = up, 1
		for i := range steps {
			g.move(i, steps[i].FL)
			g.move(i, steps[i].FR)
		}
		g.move(len(steps)-1, steps[len(steps)-1].BL)
		g.move(len(steps)-1, steps[len(steps)-1].BR)
		g.anchors = []place{{g.step, s.FL}, {g.step, s.FR}}
	case TreadHeight:
		g.heights = []int{g.step}
	}
	return g, nil
}

// at returns where the handle is: the mean of its anchors.
func (g *grip) at() mgl64.Vec2 {
	var sum mgl64.Vec2
	for _, a := range g.anchors {
		sum = sum.Add(g.steps[a.step].Corners[a.corner])
	}
	return sum.Mul(1 / float64(max(1, len(g.anchors))))
}

// response returns how far the estimate's handle moves along axis a when the
// sketch of all that the grip holds moves by 1 along axis b. It follows from
// the covariance: a prior with spread σ pulls the estimate by Cov/σ² of its own
// move. known is false when the estimate does not tell, because it has no
// covariance or the grip reaches past the neighbours.
func (g *grip) response(spread float64) (r [2][2]float64, known bool) {
	if g.heights != nil {
		s := &g.steps[g.step]
		tl, tr, _, _, _, n := survey.Unknowns(len(s.Corners))
		if len(s.Cov) != n*n {
			return r, false
		}
		for _, p := range [2]int{tl, tr} {
			for _, q := range [2]int{tl, tr} {
				r[0][0] += s.Cov[p*n+q] / 2 / (spread * spread)
			}
		}
		return r, true
	}
	w := 1 / (float64(len(g.anchors)) * spread * spread)
	for _, a := range g.anchors {
		for _, m := range g.corners {
			for i := 0; i < g.n; i++ {
				for k := 0; k < g.n; k++ {
					v, ok := covariance(g.steps, a, m, g.axes[i], g.axes[k])
					if !ok {
						return r, false
					}
					r[i][k] += w * v
				}
			}
		}
	}
	return r, true
}

// covariance returns that of corner a along u with corner b along v, for
// corners of the same or of neighbouring steps.
func covariance(steps []survey.Step, a, b place, u, v mgl64.Vec2) (float64, bool) {
	if a.step < b.step {
		a, b, u, v = b, a, v, u
	}
	count := func(i int) int { _, _, _, _, _, n := survey.Unknowns(len(steps[i].Corners)); return n }
	s := &steps[a.step]
	n := count(a.step)
	m, cols := s.Cov, n
	switch a.step - b.step {
	case 0:
	case 1:
		m, cols = s.Cross, count(b.step)
	default:
		return 0, false
	}
	if len(m) != n*cols {
		return 0, false
	}
	sum := 0.0
	for i := 0; i < 2; i++ {
		for k := 0; k < 2; k++ {
			sum += u[i] * v[k] * m[(2*a.corner+i)*cols+2*b.corner+k]
		}
	}
	return sum, true
}
