package lux_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/lux"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

// boards returns the pieces of a straight flight of n risers, 914 wide, going
// 254, rise 185, 20 mm treads on 12 mm risers, 25 mm overhang. rough is how
// far, mm, corners and heights stray from it at random; walls lean with it.
func boards(tb testing.TB, n int, rough float64, rng *rand.Rand) []pieces.Piece {
	tb.Helper()
	stray := func() float64 {
		if rng == nil {
			return 0
		}
		return rough * (2*rng.Float64() - 1)
	}
	job := model.Job{
		Units: model.Metric, Tolerance: 0.8, SketchSpread: 25,
		Overlay: model.Overlay{Tread: 20, Riser: 12, Landing: 20, LandingDepth: 90, Overhang: 25, Back: model.BackUnderRiser},
	}
	res := survey.Result{Status: survey.Converged}
	for k := range n {
		depth := 254 + float64(model.NoseSetForward(job))
		if k == n-1 {
			depth = 90
		}
		y, z := 254*float64(k), 185*float64(k+1)
		job.Flight.Steps = append(job.Flight.Steps, model.Step{
			ID: model.NamedID(model.ID{}, string(rune('a'+k))), Edges: model.StraightEdges(),
			Left: model.Side{Kind: model.Wall}, Right: model.Side{Kind: model.Skirt},
		})
		res.Steps = append(res.Steps, survey.Step{
			Corners: []mgl64.Vec2{{stray(), y + stray()}, {914 + stray(), y + stray()}, {914 + stray(), y + depth + stray()}, {stray(), y + depth + stray()}},
			FL:      0, FR: 1, BR: 2, BL: 3, TopLeft: z + stray(), TopRight: z + stray(), Fall: stray() / 1000,
			Readiness: survey.ReadyCut,
		})
	}
	out := pieces.Make(job, &res)
	for i := range out {
		if out[i].Impossible != "" {
			tb.Fatalf("%s: %s", out[i].ID, out[i].Impossible)
		}
	}
	return out
}

var finish = lux.Finish{Tread: 0.3, Riser: 0.8, Floor: 0.2}

// lit returns the stair of the boards with the bars of the given steps.
func lit(ps []pieces.Piece, m lux.Mount, steps ...int) lux.Problem {
	p := lux.Problem{Stair: lux.FromPieces(ps, finish)}
	for i := range ps {
		for _, k := range steps {
			if ps[i].Kind != pieces.Riser && ps[i].Step == k {
				p.Bars = append(p.Bars, lux.Under(&ps[i], m))
			}
		}
	}
	return p
}

// surface returns the surface of a step.
func surface(tb testing.TB, r *lux.Result, step int) *lux.Lit {
	tb.Helper()
	for i := range r.Surfaces {
		if r.Surfaces[i].Step == step {
			return &r.Surfaces[i]
		}
	}
	tb.Fatalf("no surface %d among %d", step, len(r.Surfaces))
	return nil
}

// place is a point of a surface and its normal.
func normalOf(s *lux.Lit) vec {
	o := s.Outline
	return o[1].Sub(o[0]).Cross(o[2].Sub(o[0])).Normalize()
}

func relative(a, b float64) float64 {
	return math.Abs(a-b) / math.Max(1e-12, math.Max(math.Abs(a), math.Abs(b)))
}
