package survey

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

const (
	// maxIterations is far beyond need: sketches within 100 mm take five.
	maxIterations = 60
	// settled is the largest change of an unknown, in mm (or radians, where it
	// is stricter still), at which the iteration ends. The changes shrink a
	// hundredfold each time, so what is left is below 1e-10 mm.
	settled = 1e-8
	// fresh is the change below which the factor of the step before may serve
	// again: a shape moved by 0.3 mm turns a gradient by
	// about a thousandth where it turns fastest, at a depth of 280 mm. It does
	// so only while each change is below a tenth of the one before.
	fresh, brisk = 0.3, 0.1
)

// system is a least-squares problem as numbers. Every observation is a row
// whose gradient touches at most maxTerms unknowns; the rows of near have
// their unknowns within the band of each other.
type system struct {
	n, width int       // unknowns, and half width of the band
	prior    []float64 // what each unknown is believed to be
	spread   []float64 // one standard deviation of each prior; +Inf: no belief
	// near calls put for every local observation, having filled r at shape x.
	near func(x []float64, r *row, put func(want, spread float64))
	// far holds the observations that would fill the band.
	far []farRow
}

// farRow is an observation of the whole flight.
type farRow struct {
	want, spread float64
	observe      func(r *row, x []float64) bool
}

// solution is an estimate as numbers, before it is told in words.
type solution struct {
	status     Status
	iterations int
	x          []float64
	objective  float64
	inverse    *inverseBand // the covariance inside the band, at x
	// The far observations enter by a low-rank update: v holds the columns of
	// B⁻¹Gᵀ, core the inverse of W⁻¹ + G B⁻¹ Gᵀ.
	far  int
	v    [][]float64
	core *mat.SymDense
}

// adjustment is the workspace of one estimate.
type adjustment struct {
	sys *system
	sol *solution
	b   *band
	rhs []float64
	g   []row // far observations at the present shape
}

// adjust estimates the unknowns by Gauss-Newton steps from start, halving a
// step that makes things worse, and mixing steps that converge slowly.
func (sys *system) adjust(start []float64) *solution {
	m := len(sys.far)
	sol := &solution{x: append([]float64(nil), start...), far: m, v: make([][]float64, m)}
	for c := range sol.v {
		sol.v[c] = make([]float64, sys.n)
	}
	a := &adjustment{sys: sys, sol: sol, b: newBand(sys.n, sys.width), rhs: make([]float64, sys.n), g: make([]row, m)}
	last := math.Inf(1)            // objective at the step before
	change := math.Inf(1)          // largest change of the step before
	before := math.Inf(1)          // and of the one before that
	step := make([]float64, sys.n) // the step before, for going back half way
	var mix *mixing
	factored := false
	for sol.iterations = 1; sol.iterations <= maxIterations; sol.iterations++ {
		refactor := !factored || change > fresh || change > brisk*before
		objective := a.assemble(refactor)
		// Gauss-Newton can overshoot from a poor start: go back half way. The
		// allowance is the rounding of a sum of a few hundred squares.
		if !(objective <= last*(1+1e-9)+1e-9) && change > settled {
			for i := range step {
				step[i] /= 2
				sol.x[i] -= step[i]
			}
			change /= 2
			factored, mix = false, nil
			continue
		}
		last, before = objective, change
		if refactor {
			if factored = a.factor(); !factored {
				sol.status, sol.objective = Stalled, objective
				return sol
			}
		}
		copy(step, a.rhs)
		a.solve(step)
		change = largest(step)
		if change < settled {
			for i, d := range step {
				sol.x[i] += d
			}
			sol.status = Converged
			break
		}
		if sol.iterations > mixAfter && small(step, sys.spread) {
			if mix == nil {
				mix = newMixing(sys.spread)
			}
			mix.improve(sol.x, step)
			change = largest(step)
		}
		for i, d := range step {
			sol.x[i] += d
		}
	}
	if sol.status == "" {
		sol.status, sol.iterations = Stalled, maxIterations
	}
	// The covariance belongs to the gradients at the solution.
	sol.objective = a.assemble(true)
	if !a.factor() {
		sol.status = Stalled
		return sol
	}
	sol.inverse = a.b.inverse()
	sol.foldIn()
	return sol
}

// largest returns the largest magnitude in v.
func largest(v []float64) float64 {
	out := 0.0
	for _, d := range v {
		out = math.Max(out, math.Abs(d))
	}
	return out
}

// assemble computes the objective and the right-hand side at the present
// shape, and the banded normal matrix when matrix is set.
func (a *adjustment) assemble(matrix bool) float64 {
	sys, x, rhs := a.sys, a.sol.x, a.rhs
	objective := 0.0
	if matrix {
		a.b.clear()
	}
	for i := range x {
		w := 1 / sys.spread[i]
		w *= w
		d := sys.prior[i] - x[i]
		rhs[i] = w * d
		objective += w * d * d
		if matrix {
			a.b.add(i, i, w)
		}
	}
	var r row
	push := func(r *row, want, spread float64) (weight float64) {
		weight = 1 / (spread * spread)
		d := want - r.predicted
		objective += weight * d * d
		for t := 0; t < r.n; t++ {
			rhs[r.at[t]] += weight * d * r.gradient[t]
		}
		return weight
	}
	sys.near(x, &r, func(want, spread float64) {
		w := push(&r, want, spread)
		if matrix {
			a.b.addRow(&r, w)
		}
	})
	for c := range a.g {
		f := &sys.far[c]
		a.g[c].reset()
		if !f.observe(&a.g[c], x) {
			a.g[c].reset()
			a.g[c].predicted = f.want
		}
		push(&a.g[c], f.want, f.spread)
	}
	return objective
}

// factor factors the banded matrix and prepares the low-rank update for the
// far observations. It returns false when the matrix is not positive definite.
func (a *adjustment) factor() bool {
	if !a.b.factor() {
		return false
	}
	m, sol := a.sol.far, a.sol
	if m == 0 {
		return true
	}
	for c := range a.g {
		clear(sol.v[c])
		for t := 0; t < a.g[c].n; t++ {
			sol.v[c][a.g[c].at[t]] += a.g[c].gradient[t]
		}
		a.b.solve(sol.v[c])
	}
	s := mat.NewSymDense(m, nil)
	for i := 0; i < m; i++ {
		for k := i; k < m; k++ {
			sum := 0.0
			for t := 0; t < a.g[i].n; t++ {
				sum += a.g[i].gradient[t] * sol.v[k][a.g[i].at[t]]
			}
			s.SetSym(i, k, sum)
		}
		sp := a.sys.far[i].spread
		s.SetSym(i, i, s.At(i, i)+sp*sp)
	}
	var chol mat.Cholesky
	sol.core = mat.NewSymDense(m, nil)
	// cannot fail but for overflow: a covariance plus a positive diagonal
	return chol.Factorize(s) && chol.InverseTo(sol.core) == nil
}

// solve replaces rhs by the solution of the whole normal equations.
func (a *adjustment) solve(rhs []float64) {
	a.b.solve(rhs)
	m, sol := a.sol.far, a.sol
	if m == 0 {
		return
	}
	gy := make([]float64, m)
	for c := range a.g {
		for t := 0; t < a.g[c].n; t++ {
			gy[c] += a.g[c].gradient[t] * rhs[a.g[c].at[t]]
		}
	}
	k := make([]float64, m)
	for i := range k {
		for c := range gy {
			k[i] += sol.core.At(i, c) * gy[c]
		}
	}
	for c, f := range k {
		for i, v := range sol.v[c] {
			rhs[i] -= v * f
		}
	}
}

// foldIn takes off the inverse what the far observations take off the
// covariance that the banded part alone would give: V S⁻¹ Vᵀ inside the band.
func (sol *solution) foldIn() {
	m := sol.far
	if m == 0 {
		return
	}
	n, w := sol.inverse.n, sol.inverse.width
	vc := make([]float64, m) // row i of V S⁻¹
	for i := 0; i < n; i++ {
		for a := range vc {
			vc[a] = 0
			for c := range vc {
				vc[a] += sol.v[c][i] * sol.core.At(c, a)
			}
		}
		lo, hi := max(0, i-w), min(n-1, i+w)
		line := sol.inverse.data[i*(2*w+1)+lo-i+w:]
		for a, f := range vc {
			for k, v := range sol.v[a][lo : hi+1] {
				line[k] -= f * v
			}
		}
	}
}

// covarianceOf returns the covariance of two observations whose unknowns lie
// within the band of each other.
func (sol *solution) covarianceOf(r, q *row) float64 {
	sum := 0.0
	for a := 0; a < r.n; a++ {
		for b := 0; b < q.n; b++ {
			sum += r.gradient[a] * q.gradient[b] * sol.inverse.at(int(r.at[a]), int(q.at[b]))
		}
	}
	return sum
}

// farVariance returns the variance of far observation c, whose unknowns lie at
// both ends of the band. With S = W⁻¹ + GB⁻¹Gᵀ, the variance of G x after the
// update is W⁻¹ − W⁻¹ S⁻¹ W⁻¹ on the diagonal, which needs no element outside
// the band.
func (sol *solution) farVariance(c int, spread float64) float64 {
	w := spread * spread
	return w - w*sol.core.At(c, c)*w
}
