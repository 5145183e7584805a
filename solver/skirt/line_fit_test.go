package skirt_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/skirt"
)

// TestFitLineAgainstTwins compares the fitted lines with slow twins: minimax and
// resting by trying the line through every two points, least squares by its
// normal equations being met.
func TestFitLineAgainstTwins(t *testing.T) {
	const seed = 41
	rng := rand.New(rand.NewPCG(seed, 1))
	for trial := range 400 {
		n := 2 + rng.IntN(15)
		ps := make([]mgl64.Vec2, n)
		for i := range ps {
			ps[i] = mgl64.Vec2{rng.Float64()*4000 - 500, rng.NormFloat64() * 4}
			if trial%3 == 0 { // rounded, so that some lie on one line
				ps[i] = mgl64.Vec2{math.Round(ps[i][0] / 300), math.Round(ps[i][1])}
			}
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, p := range ps {
			lo, hi = math.Min(lo, p[0]), math.Max(hi, p[0])
		}
		if hi == lo {
			continue
		}
		f := skirt.FitLine(ps)
		best, rest := math.Inf(1), math.Inf(1)
		for i := range ps {
			for k := range ps {
				if ps[k][0] <= ps[i][0] {
					continue
				}
				s := (ps[k][1] - ps[i][1]) / (ps[k][0] - ps[i][0])
				up, down, mid := math.Inf(-1), math.Inf(1), ps[i][1]+s*((lo+hi)/2-ps[i][0])
				for _, p := range ps {
					r := p[1] - (ps[i][1] + s*(p[0]-ps[i][0]))
					up, down = math.Max(up, r), math.Min(down, r)
				}
				best = math.Min(best, (up-down)/2)
				if up < 1e-9 { // nothing above: a line the board can rest on
					rest = math.Min(rest, mid)
				}
			}
		}
		worst := 0.0
		for _, g := range f.MinimaxGaps {
			worst = math.Max(worst, math.Abs(g))
		}
		if math.Abs(worst-best) > 1e-9 || math.Abs(f.Strip-2*best) > 1e-9 {
			t.Fatalf("seed %d, trial %d: minimax leaves %g (strip %g), the best is %g: %v", seed, trial, worst, f.Strip, best, ps)
		}
		touching := 0
		for _, g := range f.RestingGaps {
			if g < -1e-9 {
				t.Fatalf("seed %d, trial %d: the resting line passes %g through a point", seed, trial, -g)
			}
			if g < 1e-9 {
				touching++
			}
		}
		if got := f.Resting.Y((lo + hi) / 2); touching < 2 || math.Abs(got-rest) > 1e-9 {
			t.Fatalf("seed %d, trial %d: rests at %g on %d points, want %g", seed, trial, got, touching, rest)
		}
		sum, moment := 0.0, 0.0
		for i, g := range f.LeastGaps {
			sum += g
			moment += g * ps[i][0]
		}
		if math.Abs(sum) > 1e-8 || math.Abs(moment) > 1e-5 {
			t.Fatalf("seed %d, trial %d: least squares leaves %g and %g", seed, trial, sum, moment)
		}
	}
}

func TestFitLineOfFewPoints(t *testing.T) {
	if f := skirt.FitLine(nil); f.WorstAt != -1 || f.Worst != 0 {
		t.Errorf("no points: %+v", f)
	}
	if f := skirt.FitLine([]mgl64.Vec2{{3, 7}}); f.Worst != 0 || f.Minimax.Y(100) != 7 {
		t.Errorf("one point: %+v", f)
	}
	// two on one plumb line: level, half way for minimax, on the upper for resting
	f := skirt.FitLine([]mgl64.Vec2{{3, 7}, {3, 9}})
	if f.Minimax.Y(3) != 8 || f.Resting.Y(3) != 9 || f.Worst != 2 || f.WorstAt != 0 {
		t.Errorf("one above the other: %+v", f)
	}
}

// TestWallFit puts one corner of a straight side 3 mm proud into the stair: the
// resting board touches it, and the bow is what a straightedge shows.
func TestWallFit(t *testing.T) {
	f := straight(14)
	f.res.Steps[6].Corners[0][0] += 3
	b := f.board(skirt.Spec{}, 0, skirt.New, skirt.OverFinished)
	if b.Wall.Bow < 2 || b.Wall.Bow > 3 {
		t.Errorf("the bow is %.2f", b.Wall.Bow)
	}
	if len(b.Notes) < 2 {
		t.Errorf("no note on the bow: %q", b.Notes)
	}
	if got := len(b.Wall.RestingGaps); got != 28 || b.Wall.RestingGaps[12] > 1e-6 {
		t.Errorf("%d gaps; at the proud corner %g", got, b.Wall.RestingGaps[12])
	}
	if r := f.board(skirt.Spec{}, 1, skirt.New, skirt.OverFinished); r.Wall.Worst > 1e-6 || r.Wall.Bow > 1e-6 {
		t.Errorf("the straight side: %+v", r.Wall.Worst)
	}
}
