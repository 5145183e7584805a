package sensing_test

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"risewright/model"
	"risewright/solver/sensing"
)

// TestSearchesAreExact holds both searches against trying every set of runs, on
// 3,000 small random instances.
func TestSearchesAreExact(t *testing.T) {
	const seed = 77
	trials := 600
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		trials = 20_000
	}
	rng := rand.New(rand.NewPCG(seed, 1))
	solved, short := 0, 0
	for trial := range trials {
		last := 2 + rng.IntN(6)
		whole := sensing.Span{First: 0, Last: last}
		runs := make([]sensing.Run, 1+rng.IntN(8))
		for i := range runs {
			a := rng.IntN(last + 1)
			runs[i] = sensing.Run{Span: sensing.Span{First: a, Last: min(last, a+rng.IntN(4))}, Cost: float64(rng.IntN(50)) / 8}
		}
		overlap := rng.IntN(3)
		n := 1 + rng.IntN(3)
		// every set, sorted by its ends: a chain when each shares enough with the
		// one before and reaches further at both ends
		fewest, cheapest := math.MaxInt, math.Inf(1)
		most, mostCost := -1, math.Inf(1)
		for set := range 1 << len(runs) {
			var in []sensing.Run
			cost := 0.0
			seen := map[int]bool{}
			for i, r := range runs {
				if set>>i&1 == 1 {
					in = append(in, r)
					cost += r.Cost
					for k := r.First; k <= r.Last; k++ {
						seen[k] = true
					}
				}
			}
			if len(in) <= n && (len(seen) > most || len(seen) == most && cost < mostCost-1e-12) {
				most, mostCost = len(seen), cost
			}
			for i := range in { // insertion sort by first, then last
				for k := i; k > 0 && (in[k].First < in[k-1].First || in[k].First == in[k-1].First && in[k].Last < in[k-1].Last); k-- {
					in[k], in[k-1] = in[k-1], in[k]
				}
			}
			ok := len(in) > 0 && in[0].First == 0 && in[len(in)-1].Last == last
			for i := 1; i < len(in); i++ {
				ok = ok && in[i].First > in[i-1].First && in[i].Last > in[i-1].Last && in[i-1].Last-in[i].First+1 >= overlap
			}
			if ok && (len(in) < fewest || len(in) == fewest && cost < cheapest) {
				fewest, cheapest = len(in), cost
			}
		}
		sum := func(rs []sensing.Run) (cost float64, seen int) {
			has := map[int]bool{}
			for _, r := range rs {
				cost += r.Cost
				for k := r.First; k <= r.Last; k++ {
					has[k] = true
				}
			}
			return cost, len(has)
		}
		got, ok := sensing.Shortest(runs, whole, overlap)
		if cost, _ := sum(got); ok != (fewest < math.MaxInt) || ok && (len(got) != fewest || math.Abs(cost-cheapest) > 1e-9) {
			t.Fatalf("trial %d (seed %d): %v overlap %d: %v, want %d for %g", trial, seed, runs, overlap, got, fewest, cheapest)
		}
		if ok {
			solved++
		} else {
			short++
		}
		wide := sensing.Widest(runs, whole, n)
		if cost, seen := sum(wide); seen != most || len(wide) > n || cost > mostCost+1e-9 {
			t.Fatalf("trial %d (seed %d): %v with %d: %v sees %d for %g, want %d for %g", trial, seed, runs, n, wide, seen, cost, most, mostCost)
		}
	}
	if solved < trials/10 || short < trials/10 {
		t.Errorf("%d solved, %d not: too one-sided", solved, short)
	}
}

// TestPlace finds places on a short flight, looks at them as if they had been
// typed, and asks again with one sensor fewer.
func TestPlace(t *testing.T) {
	tb := published(t)
	j := straight(t, 6)
	j.Sensing.Wish = model.SensorWish{Every: true, Overlap: 1, Longest: 4, NoHall: true, Mounts: []model.Mount{model.RailLeft}}
	st := stairOf(t, j, tb)
	p := st.Place(&j)
	if !p.Found || len(p.Sensors) != p.Need || p.Need < 2 || len(p.Blind) > 0 || len(p.Failed) != p.Need || p.Tried < 50 {
		t.Fatalf("%+v", p)
	}
	j.Sensing.Sensors = p.Sensors
	r := sensing.Solve(&j, stairOf(t, j, tb), nil)
	if len(r.Blind) > 0 {
		t.Errorf("blind at %v", r.Blind)
	}
	for i := range r.Zones {
		z := &r.Zones[i]
		if z.Sure.Len() > 4 {
			t.Errorf("%s is sure of %v", z.Name, z.Sure)
		}
		// nobody three steps out over the floors is glimpsed
		if z.MayAt.From < -3.01 || z.MayAt.To > float64(st.Risers-1)+3.01 {
			t.Errorf("%s glimpses %v", z.Name, z.MayAt)
		}
		left := r.Without(i)
		if d := cmp.Diff(left.Blind, p.Failed[i]); d != "" {
			t.Errorf("without %s: %s", z.Name, d)
		}
	}
	for _, o := range r.Overlaps {
		if o.Positions.Len() < 1 {
			t.Errorf("neighbours %d and %d share %v", o.Low, o.High, o.Positions)
		}
	}
	if d := cmp.Diff(p, st.Place(&j)); d != "" {
		t.Errorf("asked twice: %s", d)
	}
	j.Sensing.Wish.Most = p.Need - 1
	q := st.Place(&j)
	if q.Found || q.Need != p.Need || q.Why == "" || len(q.Sensors) >= p.Need {
		t.Errorf("with one fewer: %+v", q)
	}
	if d := cmp.Diff(q.Blind, p.Fewer); d != "" || q.Overlap != p.FewerOverlap {
		t.Errorf("what one fewer loses: %s, overlap %d and %d", d, q.Overlap, p.FewerOverlap)
	}
	if len(q.Blind) == 0 && q.Overlap >= 1 {
		t.Errorf("one fewer loses nothing: %+v", q)
	}
	j.Sensing.Wish.Class = "none"
	if q := st.Place(&j); q.Found || q.Why == "" {
		t.Errorf("a class that is not there: %+v", q)
	}
}
