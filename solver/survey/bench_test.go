package survey

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// BenchmarkSolve times one estimate of a flight read in full.
func BenchmarkSolve(b *testing.B) {
	for _, n := range []int{14, 100, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			rng := rand.New(rand.NewPCG(7, 7))
			tr := randomTruth(rng, n)
			tr.read(rng, 1)
			tr.blur(rng, 15)
			b.ReportAllocs()
			for b.Loop() {
				Solve(tr.job)
			}
		})
	}
}
