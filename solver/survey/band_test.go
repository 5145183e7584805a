package survey

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The band routines against gonum's dense ones.
func TestBandMeetsDense(t *testing.T) {
	rng := newRand(t, 12)
	for trial := 0; trial < 50; trial++ {
		n, w := 1+rng.IntN(40), rng.IntN(12)
		b := newBand(n, w)
		dense := mat.NewSymDense(n, nil)
		for i := 0; i < n; i++ {
			for k := i; k <= min(i+b.width, n-1); k++ {
				v := rng.NormFloat64()
				if i == k {
					v = float64(2*w) + 3 + rng.Float64() // diagonally dominant
				}
				b.add(i, k, v)
				dense.SetSym(i, k, v)
			}
		}
		var chol mat.Cholesky
		if !chol.Factorize(dense) || !b.factor() {
			t.Fatal("not positive definite")
		}
		var inv mat.SymDense
		if err := chol.InverseTo(&inv); err != nil {
			t.Fatal(err)
		}
		z := b.inverse()
		for i := 0; i < n; i++ {
			for k := max(0, i-b.width); k <= min(i+b.width, n-1); k++ {
				if d := math.Abs(z.at(i, k) - inv.At(i, k)); d > 1e-12 {
					t.Fatalf("n %d, width %d: inverse (%d, %d) differs by %g", n, w, i, k, d)
				}
			}
		}
		rhs := make([]float64, n)
		for i := range rhs {
			rhs[i] = rng.NormFloat64()
		}
		var want mat.VecDense
		if err := chol.SolveVecTo(&want, mat.NewVecDense(n, append([]float64(nil), rhs...))); err != nil {
			t.Fatal(err)
		}
		b.solve(rhs)
		for i := range rhs {
			if d := math.Abs(rhs[i] - want.AtVec(i)); d > 1e-12 {
				t.Fatalf("n %d, width %d: solution %d differs by %g", n, w, i, d)
			}
		}
	}
}

func TestFactorRefusesAnIndefiniteMatrix(t *testing.T) {
	b := newBand(2, 1)
	b.add(0, 0, 1)
	b.add(0, 1, 2)
	b.add(1, 1, 1)
	if b.factor() {
		t.Error("factored a matrix with eigenvalues 3 and -1")
	}
}
