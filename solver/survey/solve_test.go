package survey

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
)

// Must show 2, first half: readings without noise and a sketch on the truth
// give every corner back.
func TestNoiseFreeReadingsGiveTheTruthBack(t *testing.T) {
	rng := newRand(t, 1)
	worst := 0.0
	count := sweep(300, 10_000)
	for f := 0; f < count; f++ {
		tr := randomTruth(rng, 2+rng.IntN(39))
		tr.read(rng, 0)
		res := Solve(tr.job)
		if res.Status != Converged {
			t.Fatalf("flight %d: %s", f, res.Status)
		}
		if len(res.Conflicts) != 0 {
			t.Fatalf("flight %d: conflicts without noise: %+v", f, res.Conflicts)
		}
		worst = math.Max(worst, tr.worstCorner(res))
	}
	t.Logf("%d flights: worst corner %.2g mm from the truth", count, worst)
	if worst > 1e-6 {
		t.Errorf("worst corner %g mm off, want 1e-6", worst)
	}
}

// Must show 2, second half: a sketch 15 mm wrong does not bend an opening that
// was read in full. Openings are compared after laying one on the other, since
// where the flight lies in plan is the sketch's to say.
func TestAWrongSketchDoesNotBendWhatWasRead(t *testing.T) {
	rng := newRand(t, 2)
	worst := 0.0
	count := sweep(300, 10_000)
	for f := 0; f < count; f++ {
		tr := randomTruth(rng, 2+rng.IntN(39))
		tr.read(rng, 0)
		tr.blur(rng, 15)
		res := Solve(tr.job)
		if res.Status != Converged {
			t.Fatalf("flight %d: %s", f, res.Status)
		}
		p := newProblem(&tr.job)
		for i, s := range p.sites {
			want := make([]mgl64.Vec2, s.corners)
			for c := range want {
				want[c] = mgl64.Vec2{tr.x[s.corner(c)], tr.x[s.corner(c)+1]}
			}
			worst = math.Max(worst, misfit(res.Steps[i].Corners, want))
		}
	}
	t.Logf("%d flights: worst bend %.3g mm", count, worst)
	if worst > 0.05 {
		t.Errorf("worst bend %g mm, want 0.05", worst)
	}
}

// misfit lays got on want by the best rigid motion in plan and returns the
// largest distance left between corners.
func misfit(got, want []mgl64.Vec2) float64 {
	var cg, cw mgl64.Vec2
	for i := range got {
		cg, cw = cg.Add(got[i]), cw.Add(want[i])
	}
	n := 1 / float64(len(got))
	cg, cw = cg.Mul(n), cw.Mul(n)
	sin, cos := 0.0, 0.0
	for i := range got {
		a, b := got[i].Sub(cg), want[i].Sub(cw)
		cos += a.Dot(b)
		sin += a[0]*b[1] - a[1]*b[0]
	}
	r := mgl64.Rotate2D(math.Atan2(sin, cos))
	w := 0.0
	for i := range got {
		w = math.Max(w, r.Mul2x1(got[i].Sub(cg)).Sub(want[i].Sub(cw)).Len())
	}
	return w
}
