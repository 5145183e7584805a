package power

import (
	"fmt"
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/mat"
)

// BenchmarkAgainstGeneralSolver times one solve of the equations of a wiring,
// with its order of elimination, against gonum's Cholesky factors of the same
// matrix held whole, and reports how many times longer those take. Every bar is
// a chain of pixels that hangs on a bus along the flight, all of them lit.
func BenchmarkAgainstGeneralSolver(b *testing.B) {
	for _, bars := range []int{14, 50} {
		b.Run(fmt.Sprint(bars), func(b *testing.B) {
			const pixels = 20
			count := bars * pixels
			var pairs [][2]int
			var conduct []float64 // 1/ohm, by pair
			diag, amps := make([]float64, count), make([]float64, count)
			join := func(a, c int, siemens float64) {
				pairs, conduct = append(pairs, [2]int{a, c}), append(conduct, siemens)
				diag[a] += siemens
				diag[c] += siemens
			}
			for bar := range bars {
				first := bar * pixels
				if bar > 0 {
					join(first-pixels, first, 30)
				}
				for p := 1; p < pixels; p++ {
					join(first+p-1, first+p, 12)
				}
				for p := range pixels {
					amps[first+p] = -0.01 * float64(1+(bar+p)%5)
				}
			}
			diag[0] += 50 // to the supply, whose volts are counted from
			dense := mat.NewSymDense(count, nil)
			for i, d := range diag {
				dense.SetSym(i, i, d)
			}
			for i, p := range pairs {
				dense.SetSym(p[0], p[1], -conduct[i])
			}
			var ours, general time.Duration
			for b.Loop() {
				start := time.Now()
				e := newElimination(count, pairs)
				off := make([]float64, e.edges)
				for i, at := range e.place {
					off[at] -= conduct[i]
				}
				got := append([]float64(nil), amps...)
				ok := e.solve(append([]float64(nil), diag...), off, got)
				ours += time.Since(start)

				start = time.Now()
				var factors mat.Cholesky
				var want mat.VecDense
				okToo := factors.Factorize(dense) && factors.SolveVecTo(&want, mat.NewVecDense(count, amps)) == nil
				general += time.Since(start)

				if !ok || !okToo {
					b.Fatal(ok, okToo)
				}
				for i, v := range got {
					if math.Abs(v-want.AtVec(i)) > 1e-9 {
						b.Fatalf("unknown %d: %g and %g V", i, v, want.AtVec(i))
					}
				}
			}
			b.ReportMetric(float64(ours.Nanoseconds())/float64(b.N), "ns/ours")
			b.ReportMetric(float64(general.Nanoseconds())/float64(b.N), "ns/gonum")
			b.ReportMetric(float64(general)/float64(ours), "gonum/ours")
		})
	}
}
