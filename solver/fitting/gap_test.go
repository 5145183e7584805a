package fitting_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/mat"

	"risewright/model"
	"risewright/solver/fitting"
	"risewright/solver/pieces"
)

// plainGaps is the plain simulation: it draws true openings from the survey's
// covariance, cuts the board of the estimate with errors, lays it between the
// true sides in plan and measures with a ruler. It shares nothing with the
// package but the published spread of a cut, 0.25 mm.
func plainGaps(f *flight, i int, oneSided bool, rng *rand.Rand, samples int) (mean, spread float64) {
	const cut = 0.25
	ps := pieces.Make(f.job, &f.res)
	p := &ps[2*i+1]
	s := &f.res.Steps[i]
	n := len(s.Params(nil))
	sym := mat.NewSymDense(n, s.Cov)
	var eigen mat.EigenSym
	if !eigen.Factorize(sym, true) {
		panic("no eigenvalues")
	}
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	values := eigen.Values(nil)
	plan := func(k int) mgl64.Vec2 {
		return mgl64.TransformCoordinate(p.Face[k].Vec3(0), p.Frame).Vec2()
	}
	face := [4]mgl64.Vec2{plan(p.FrontLeft), plan(p.BackLeft), plan(p.FrontRight), plan(p.BackRight)}
	var sum, squares float64
	for range samples {
		x := s.Params(nil)
		for k, v := range values {
			z := rng.NormFloat64() * math.Sqrt(math.Max(0, v))
			for j := range x {
				x[j] += vectors.At(j, k) * z
			}
		}
		corner := func(c int) mgl64.Vec2 { return mgl64.Vec2{x[2*c], x[2*c+1]} }
		gap := func(q, a, b mgl64.Vec2, right bool) float64 { // from q out to the line ab
			d := b.Sub(a).Normalize()
			out := mgl64.Vec2{d[1], -d[0]}
			if right != (out[0] > 0) {
				out = out.Mul(-1)
			}
			return a.Sub(q).Dot(out)
		}
		var g [4]float64
		for k := range face {
			q := face[k]
			if k < 2 {
				q[0] += cut * rng.NormFloat64()
				g[k] = gap(q, corner(s.FL), corner(s.BL), false)
			} else {
				q[0] -= cut * rng.NormFloat64()
				g[k] = gap(q, corner(s.FR), corner(s.BR), true)
			}
		}
		v := 0.0
		if oneSided {
			v = math.Max(g[0], g[1]) - math.Min(g[0], g[1])
		} else {
			// slide it until the widest gap on either side is the same
			lo, hi := -20.0, 20.0
			for range 50 {
				m := (lo + hi) / 2
				if math.Max(g[0], g[1])+m < math.Max(g[2], g[3])-m {
					lo = m
				} else {
					hi = m
				}
			}
			v = math.Max(0, math.Max(g[0], g[1])+lo)
		}
		sum += v
		squares += v * v
	}
	mean = sum / float64(samples)
	return mean, math.Sqrt(squares/float64(samples) - mean*mean)
}

// TestGapsAgreeWithPlainSimulation compares the predicted gaps of treads with a
// separate plain simulation: the spread within 5 %, the mean within 5 % of it
// as well.
func TestGapsAgreeWithPlainSimulation(t *testing.T) {
	const seed = 7
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewPCG(seed, 1))
	for name, f := range map[string]*flight{
		"square":          straight(4).known(0.3),
		"tapered, wobbly": leaning(4, [2]float64{}, [2]float64{1 * degree, -0.6 * degree}, 0.7*degree).known(0.2),
		"leaning":         leaning(4, [2]float64{1.5 * degree, -1 * degree}, [2]float64{}, 0.3*degree).known(0.25),
		"poorly known":    straight(4).known(0.8),
		"well known":      straight(4).known(0.05),
	} {
		for _, one := range []bool{false, true} {
			w := model.Wishes{}
			if one { // the right skirt goes on last, so the tread is pushed to the left
				w.Right = model.SideWish{Wiring: true, NoFalse: true}
			}
			r := f.plain(w)
			if r.Status != fitting.Solved || one != (r.Right.Scheme() == "C") {
				t.Fatalf("%s: %s %s, %v", name, r.Status, r.Why, r.Right)
			}
			for _, i := range []int{0, 2} {
				var got fitting.Gap
				for _, j := range r.Joints {
					if j.A == pieces.Label(pieces.Tread, i+1) && j.B == "skirt left" {
						got = j.Gap
					}
				}
				mean, spread := plainGaps(f, i, one, rng, 25000)
				t.Logf("%s, tread %d, one side %v: predicted %.3f ± %.3f, simulated %.3f ± %.3f", name, i+1, one, got.Mean, got.Spread, mean, spread)
				if math.Abs(got.Spread/spread-1) > 0.05 || math.Abs(got.Mean-mean) > 0.05*mean+0.005 {
					t.Errorf("%s, tread %d, one side %v: predicted %.3f ± %.3f, simulated %.3f ± %.3f", name, i+1, one, got.Mean, got.Spread, mean, spread)
				}
			}
		}
	}
}

// TestRigidGap checks the gap of a board over n lines. When it rests on the
// proudest of n normal errors, the mean gap is σ times the expected largest of n
// standard normals, as tabulated: 0.5642 for n = 2, 0.8463 for 3, 1.5388 for 10,
// 1.7034 for 14 (tables of normal order statistics, from memory).
func TestRigidGap(t *testing.T) {
	for n, want := range map[int]float64{2: 0.5642, 3: 0.8463, 10: 1.5388, 14: 1.7034} {
		r := straight(n).known(0.2).plain(model.Wishes{Left: model.SideWish{Wiring: true, NoFalse: true}})
		found := false
		for _, j := range r.Joints {
			if j.RunsPast == "T01" && j.B == "skirt left" {
				found = true
				if math.Abs(j.Gap.Mean/(0.4*want)-1) > 0.03 || j.Scope != fitting.Rigid {
					t.Errorf("%d lines: mean gap %.3f, want %.3f", n, j.Gap.Mean, 0.4*want)
				}
			}
		}
		if !found {
			t.Errorf("%d lines: no joint", n)
		}
	}
}

// plainRiserGaps is the same for riser i (from 1), which meets the sides of the
// step below it, leaning, at its four corners; the sides' height follows from
// the drawn heights of the tread.
func plainRiserGaps(f *flight, i int, rng *rand.Rand, samples int) (mean, spread float64) {
	const cut = 0.25
	ps := pieces.Make(f.job, &f.res)
	p := &ps[2*i]
	s := f.res.Steps[i-1]
	n := len(s.Params(nil))
	var eigen mat.EigenSym
	eigen.Factorize(mat.NewSymDense(n, s.Cov), true)
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	values := eigen.Values(nil)
	var face [4]mgl64.Vec3
	for k, c := range []int{p.FrontLeft, p.BackLeft, p.FrontRight, p.BackRight} {
		face[k] = mgl64.TransformCoordinate(p.Face[c].Vec3(0), p.Frame)
	}
	var sum, squares float64
	for range samples {
		x := s.Params(nil)
		for k, v := range values {
			z := rng.NormFloat64() * math.Sqrt(math.Max(0, v))
			for j := range x {
				x[j] += vectors.At(j, k) * z
			}
		}
		gap := func(q mgl64.Vec3, front, back, lean int, sign float64) float64 {
			a, b := mgl64.Vec2{x[2*front], x[2*front+1]}, mgl64.Vec2{x[2*back], x[2*back+1]}
			top := x[8] + 20 // the flights of this test lie level, near enough, along a side
			if sign > 0 {
				top = x[9] + 20
			}
			d := b.Sub(a).Normalize()
			out := mgl64.Vec2{sign * d[1], -sign * d[0]}
			return a.Sub(q.Vec2()).Dot(out) + math.Tan(x[lean])*(q[2]-top)
		}
		g := [4]float64{
			gap(face[0], s.FL, s.BL, 11, -1), gap(face[1], s.FL, s.BL, 11, -1),
			gap(face[2], s.FR, s.BR, 12, 1), gap(face[3], s.FR, s.BR, 12, 1),
		}
		for k := range g {
			g[k] += cut * rng.NormFloat64()
		}
		v := math.Max(0, (math.Max(g[0], g[1])+math.Max(g[2], g[3]))/2)
		sum += v
		squares += v * v
	}
	mean = sum / float64(samples)
	return mean, math.Sqrt(squares/float64(samples) - mean*mean)
}

// TestRiserGapsAgreeWithPlainSimulation is the same for risers, whose gaps hang
// on the lean as well.
func TestRiserGapsAgreeWithPlainSimulation(t *testing.T) {
	const seed = 8
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewPCG(seed, 1))
	for name, f := range map[string]*flight{
		"square":  straight(4).known(0.3),
		"leaning": leaning(4, [2]float64{1 * degree, 0.5 * degree}, [2]float64{0.5 * degree, -0.4 * degree}, 0).known(0.4),
	} {
		r := f.plain(model.Wishes{})
		for _, i := range []int{1, 3} {
			var got fitting.Gap
			for _, j := range r.Joints {
				if j.A == pieces.Label(pieces.Riser, i+1) && j.B == "skirt left" {
					got = j.Gap
				}
			}
			mean, spread := plainRiserGaps(f, i, rng, 25000)
			t.Logf("%s, riser %d: predicted %.3f ± %.3f, simulated %.3f ± %.3f", name, i+1, got.Mean, got.Spread, mean, spread)
			if math.Abs(got.Spread/spread-1) > 0.05 || math.Abs(got.Mean-mean) > 0.05*mean+0.005 {
				t.Errorf("%s, riser %d: predicted %.3f ± %.3f, simulated %.3f ± %.3f", name, i+1, got.Mean, got.Spread, mean, spread)
			}
		}
	}
}
