package stock

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// The program's value, with patterns made as they are needed, against gonum's
// simplex on all patterns written out.
func TestProgramAgainstLibrary(t *testing.T) {
	fractions := 0
	for seed := range uint64(60) {
		rng := rand.New(rand.NewPCG(seed, 5))
		c := Cutting{}
		for range 1 + rng.IntN(3) {
			c.Boards = append(c.Boards, Board{Length: float64(90 + rng.IntN(60)), Price: float64(20 + rng.IntN(30))})
		}
		for range 2 + rng.IntN(5) {
			c.Parts = append(c.Parts, Part{Length: float64(20 + rng.IntN(65)), Count: 1 + rng.IntN(4)})
		}
		p, why := newProblem(c)
		if why != "" {
			t.Fatal(seed, why)
		}
		s := newSearch(p)
		left, lo, hi := make([]int, len(p.types)), make([]int, len(p.bars)), make([]int, len(p.bars))
		for k := range left {
			left[k] = p.types[k].count
		}
		for b := range hi {
			hi[b] = p.bars[b].limit
		}
		s.lp.set(left, lo, hi, 0, most, 100)
		sol := s.lp.solve(s, math.Inf(1), true)

		var costs []float64
		var cols [][]float64
		for b := range p.bars {
			col := make([]float64, len(left))
			var every func(k int, room int64)
			every = func(k int, room int64) {
				if k == len(left) {
					if slices.Max(col) == 0 {
						return
					}
					costs = append(costs, float64(p.bars[b].cost)*p.unit)
					cols = append(cols, append([]float64(nil), col...))
					return
				}
				for n := 0; n <= left[k] && int64(n)*p.types[k].size <= room; n++ {
					col[k] = float64(n)
					every(k+1, room-int64(n)*p.types[k].size)
				}
				col[k] = 0
			}
			every(0, p.bars[b].room)
		}
		rows, n := len(left), len(cols)
		a := mat.NewDense(rows, n+rows, nil)
		rhs := make([]float64, rows)
		for j, col := range cols {
			for k, v := range col {
				a.Set(k, j, v)
			}
		}
		for k := range rows {
			a.Set(k, n+k, -1)
			rhs[k] = float64(left[k])
		}
		want, _, err := lp.Simplex(append(costs, make([]float64, rows)...), a, rhs, 1e-10, nil)
		if err != nil {
			t.Fatalf("seed %d: gonum: %v", seed, err)
		}
		if got := sol.bound * p.unit; math.Abs(got-want) > 1e-6*want {
			t.Errorf("seed %d: bound %v, gonum %v", seed, got, want)
		}
		if sol.floats {
			fractions++
		}
	}
	if fractions < 10 {
		t.Errorf("only %d programs had fractions", fractions)
	}
}
