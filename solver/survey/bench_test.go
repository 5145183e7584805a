package survey

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"gonum.org/v1/gonum/optimize"
)

// benchTruth is a flight of n steps read in full, with its sketch dragged
// somewhat out of place.
func benchTruth(n int) truth {
	rng := rand.New(rand.NewPCG(7, 7))
	tr := randomTruth(rng, n)
	tr.read(rng, 1)
	tr.blur(rng, 15)
	return tr
}

// BenchmarkSolve times the estimate of a flight read in full, with its checks.
func BenchmarkSolve(b *testing.B) {
	for _, n := range []int{14, 100, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			tr := benchTruth(n)
			b.ReportAllocs()
			for b.Loop() {
				Solve(tr.job)
			}
		})
	}
}

// BenchmarkAgainstGeneralOptimiser times the estimate of 14 steps, without its
// checks, against gonum's general-purpose BFGS on the same objective and
// gradient from the same start, and reports how many times longer that takes.
func BenchmarkAgainstGeneralOptimiser(b *testing.B) {
	tr := benchTruth(14)
	p := newProblem(&tr.job)
	var mine, general time.Duration
	for b.Loop() {
		start := time.Now()
		sol := p.adjust(settings{})
		mine += time.Since(start)

		start = time.Now()
		res, err := minimise(p)
		general += time.Since(start)
		if res == nil {
			b.Fatal(err)
		}
		// BFGS stops at its own tolerance; the answers must still be the same.
		if d := apart2(sol.x, res.X); d > 0.01 {
			b.Fatalf("the two answers differ by %g mm (%v)", d, res.Status)
		}
	}
	b.ReportMetric(float64(mine.Nanoseconds())/float64(b.N), "ns/ours")
	b.ReportMetric(float64(general.Nanoseconds())/float64(b.N), "ns/gonum")
	b.ReportMetric(float64(general)/float64(mine), "gonum/ours")
}

// minimise solves the problem with gonum's BFGS, unknowns in units of their
// prior spread.
func minimise(p *problem) (*optimize.Result, error) {
	sys := p.system(settings{})
	x := make([]float64, p.n)
	a := &adjustment{sys: sys, sol: &solution{x: x, far: len(sys.far)}, rhs: make([]float64, p.n), g: make([]row, len(sys.far))}
	set := func(u []float64) {
		for i := range u {
			x[i] = p.prior[i] + u[i]*p.spread[i]
		}
	}
	res, err := optimize.Minimize(optimize.Problem{
		Func: func(u []float64) float64 {
			set(u)
			return a.assemble(false) / 2
		},
		Grad: func(g, u []float64) {
			set(u)
			a.assemble(false)
			for i := range g {
				g[i] = -a.rhs[i] * p.spread[i]
			}
		},
	}, make([]float64, p.n), &optimize.Settings{GradientThreshold: 1e-4, MajorIterations: 5000}, &optimize.BFGS{})
	if res != nil {
		set(res.X)
		res.X = x
	}
	return res, err
}

func apart2(a, b []float64) float64 {
	d := 0.0
	for i := range a {
		d = math.Max(d, math.Abs(a[i]-b[i]))
	}
	return d
}
