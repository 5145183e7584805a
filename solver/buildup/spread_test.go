package buildup_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"risewright/model"
	"risewright/solver/buildup"
	"risewright/solver/survey"
)

// chained gives s the covariances of a random chain: the inverse of a positive
// matrix that ties each step's unknowns to the next one's only. When
// heightsOnly, the other unknowns are independent of the two heights. It
// returns the whole covariance, which the slow twins below use.
func chained(rng *rand.Rand, s *survey.Result, heightsOnly bool) *mat.Dense {
	at := make([]int, len(s.Steps)+1)
	for i := range s.Steps {
		_, _, _, _, _, n := survey.Unknowns(len(s.Steps[i].Corners))
		at[i+1] = at[i] + n
	}
	n := at[len(s.Steps)]
	tied := func(i, k int) bool { // may unknowns i and k of neighbouring steps meet?
		if !heightsOnly || i == k {
			return true
		}
		height := func(g int) bool {
			step := 0
			for at[step+1] <= g {
				step++
			}
			l, r, _, _, _, _ := survey.Unknowns(len(s.Steps[step].Corners))
			return g-at[step] == l || g-at[step] == r
		}
		return height(i) && height(k)
	}
	// A sum of observations, each of two neighbours' unknowns, is such a matrix.
	p := mat.NewDense(n, n, nil)
	for i := 0; i < n; i++ {
		p.Set(i, i, 0.02+0.1*rng.Float64())
	}
	for step := range s.Steps {
		lo := at[max(0, step-1)]
		for range 40 {
			a := make([]float64, n)
			first := -1
			for i := lo; i < at[step+1]; i++ {
				if rng.IntN(6) == 0 && (first < 0 || tied(first, i)) {
					a[i] = rng.NormFloat64()
					if first < 0 {
						first = i
					}
				}
			}
			for i := lo; i < at[step+1]; i++ {
				for k := lo; k < at[step+1]; k++ {
					p.Set(i, k, p.At(i, k)+a[i]*a[k])
				}
			}
		}
	}
	var whole mat.Dense
	if err := whole.Inverse(p); err != nil {
		panic(err) // cannot happen: the matrix has a positive diagonal plus squares
	}
	block := func(i, k int) []float64 {
		var out []float64
		for r := at[i]; r < at[i+1]; r++ {
			for c := at[k]; c < at[k+1]; c++ {
				out = append(out, whole.At(r, c))
			}
		}
		return out
	}
	for i := range s.Steps {
		s.Steps[i].Cov = block(i, i)
		s.Steps[i].Cross = nil
		if i > 0 {
			s.Steps[i].Cross = block(i, i-1)
		}
	}
	return &whole
}

// slowSpread is the spread of a figure by finite differences over every
// unknown of the flight and the whole covariance.
func slowSpread(j model.Job, s *survey.Result, whole *mat.Dense, figure func(*buildup.Result) float64) float64 {
	// Central differences err by h² times the third derivative over six: with
	// lengths of 250 mm and more, 1e-3² / 250³ or 1e-13. Rounding of 1e-12 over
	// 2e-3 leaves 5e-10. A fall of 1 in 100 is stepped by a thousandth of that.
	const lengthStep, slopeStep = 1e-3, 1e-6
	n, _ := whole.Dims()
	g := mat.NewVecDense(n, nil)
	move := func(at int, times float64) (h float64) {
		for i := range s.Steps {
			t := &s.Steps[i]
			l, r, f, _, _, count := survey.Unknowns(len(t.Corners))
			if at >= count {
				at -= count
				continue
			}
			h = lengthStep
			if at >= f {
				h = slopeStep
			}
			by := times * h
			switch {
			case at < l:
				t.Corners[at/2][at%2] += by
			case at == l:
				t.TopLeft += by
			case at == r:
				t.TopRight += by
			case at == f:
				t.Fall += by
			default:
				t.Lean[at-f-1] += by
			}
			return h
		}
		panic("cannot happen: the unknown belongs to some step")
	}
	for i := 0; i < n; i++ {
		move(i, 1)
		a := buildup.Compute(j, s)
		h := move(i, -2)
		b := buildup.Compute(j, s)
		move(i, 1)
		g.SetVec(i, (figure(&a)-figure(&b))/(2*h))
	}
	return math.Sqrt(mat.Inner(g, whole, g))
}

// agreement is what finite differences leave of a spread.
const agreement = 1e-6

// Every spread that needs a step and its neighbour only is exact.
func TestSpreadsAgainstFiniteDifferences(t *testing.T) {
	rng := seeded(t, 6)
	j := uneven(rng, 4, 4)
	s := exactly(j, 1)
	whole := chained(rng, s, false)
	r := buildup.Compute(j, s)
	for k := range r.Steps {
		for name, of := range map[string]func(*buildup.Step) buildup.Value{
			"old top":     func(s *buildup.Step) buildup.Value { return s.OldTop.Left },
			"rise left":   func(s *buildup.Step) buildup.Value { return s.RiseAfter.Left },
			"rise right":  func(s *buildup.Step) buildup.Value { return s.RiseBefore.Right },
			"going left":  func(s *buildup.Step) buildup.Value { return s.GoingAfter.Left },
			"going right": func(s *buildup.Step) buildup.Value { return s.GoingAfter.Right },
			"old going":   func(s *buildup.Step) buildup.Value { return s.GoingBefore.Right },
			"across":      func(s *buildup.Step) buildup.Value { return s.Across },
			"fall":        func(s *buildup.Step) buildup.Value { return s.Fall },
			"slope":       func(s *buildup.Step) buildup.Value { return s.Slope },
			"width":       func(s *buildup.Step) buildup.Value { return s.Width },
		} {
			v := of(&r.Steps[k])
			tolerance := agreement * (1 + v.Spread)
			slow := slowSpread(j, s, whole, func(r *buildup.Result) float64 { return of(&r.Steps[k]).At })
			near(t, name, v.Spread, slow, tolerance)
		}
		// The back edge is followed to first order: its turning counts with the
		// few mm by which the corner misses the edge, over its length.
		v := r.Steps[k].Surveyed.Left
		near(t, "surveyed nosing", v.Spread, slowSpread(j, s, whole, func(r *buildup.Result) float64 { return r.Steps[k].Surveyed.Left.At }), 0.1*v.Spread+agreement)
	}
}

// Along a chain of heights tied to their neighbours only, spreads of figures
// far apart are exact too.
func TestChainOfHeightsIsExact(t *testing.T) {
	for seed := uint64(7); seed < 12; seed++ {
		rng := seeded(t, seed)
		j := uneven(rng, 6, 4)
		s := exactly(j, 1)
		whole := chained(rng, s, true)
		r := buildup.Compute(j, s)
		for name, v := range map[string]struct {
			fast buildup.Value
			of   func(*buildup.Result) float64
		}{
			"rise spread": {r.RiseAfter.Spread, func(r *buildup.Result) float64 { return r.RiseAfter.Spread.At }},
			"adjacent":    {r.RiseAfter.Adjacent, func(r *buildup.Result) float64 { return r.RiseAfter.Adjacent.At }},
			"flight rise": {r.FlightRise, func(r *buildup.Result) float64 { return r.FlightRise.At }},
		} {
			near(t, name, v.fast.Spread, slowSpread(j, s, whole, v.of), agreement*(1+v.fast.Spread))
		}
	}
}

func BenchmarkCompute14(b *testing.B) {
	j := uneven(rand.New(rand.NewPCG(1, 0)), 14, 3)
	s := exactly(j, 1)
	b.ReportAllocs()
	for b.Loop() {
		buildup.Compute(j, s)
	}
}
