package survey

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

const (
	// mixAfter is the iteration after which steps are mixed: a flight read in
	// full has settled by then.
	mixAfter = 5
	// mixDepth is how many earlier steps are mixed in.
	mixDepth = 5
	// mixWithin is the largest step mixed, in spreads of the prior: a longer one
	// is still on its way.
	mixWithin = 0.5
)

// small says whether every part of step is within mixWithin spreads, or within
// mixWithin where there is no prior.
func small(step, spread []float64) bool {
	for i, d := range step {
		limit := mixWithin
		if !math.IsInf(spread[i], 0) {
			limit *= spread[i]
		}
		if math.Abs(d) > limit {
			return false
		}
	}
	return true
}

// mixing speeds up steps that converge slowly (Anderson's mixing, 1965, from
// memory). Where an opening's depth was not read, a gauge's residual bends the
// problem by its residual over its variance times 1/depth², as much as the
// sketch itself holds it, and plain Gauss-Newton swings from side to side. A
// few such directions are learnt from the steps before.
type mixing struct {
	weight  []float64 // of each unknown in the norm of a step
	x, step []float64 // of the iteration before
	dx, ds  [][]float64
}

func newMixing(spread []float64) *mixing {
	m := &mixing{weight: make([]float64, len(spread))}
	for i, s := range spread {
		m.weight[i] = 1
		if !math.IsInf(s, 0) {
			m.weight[i] = 1 / (s * s)
		}
	}
	return m
}

// improve replaces step, taken at x, by one that the steps before suggest.
func (m *mixing) improve(x, step []float64) {
	plain := append([]float64(nil), step...)
	if m.x != nil {
		m.dx = append(m.dx, minus(x, m.x))
		m.ds = append(m.ds, minus(step, m.step))
		if len(m.dx) > mixDepth {
			m.dx, m.ds = m.dx[1:], m.ds[1:]
		}
		if g, ok := m.coefficients(step); ok {
			for c, f := range g {
				for i := range step {
					step[i] -= f * (m.dx[c][i] + m.ds[c][i])
				}
			}
		}
	}
	m.x, m.step = append(m.x[:0], x...), plain
}

// coefficients returns the least-squares combination of the changes of step
// that cancels step.
func (m *mixing) coefficients(step []float64) ([]float64, bool) {
	n := len(m.ds)
	normal := mat.NewSymDense(n, nil)
	rhs := mat.NewVecDense(n, nil)
	for a := 0; a < n; a++ {
		for b := a; b < n; b++ {
			normal.SetSym(a, b, m.dot(m.ds[a], m.ds[b]))
		}
		rhs.SetVec(a, m.dot(m.ds[a], step))
	}
	// The changes become alike as the steps converge; a little of each
	// diagonal keeps the system solvable, and only the speed depends on it.
	for a := 0; a < n; a++ {
		normal.SetSym(a, a, normal.At(a, a)*(1+1e-10))
	}
	var chol mat.Cholesky
	var g mat.VecDense
	if !chol.Factorize(normal) || chol.SolveVecTo(&g, rhs) != nil {
		return nil, false
	}
	return g.RawVector().Data, true
}

func (m *mixing) dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += m.weight[i] * a[i] * b[i]
	}
	return sum
}

func minus(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] - b[i]
	}
	return out
}
