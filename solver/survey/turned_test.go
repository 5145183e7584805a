package survey

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// turnedTruth builds a flight that turns: a straight one of n risers, in which
// one to three turns are made as the edits make them, to either side.
func turnedTruth(t testing.TB, rng *rand.Rand, n int) truth {
	t.Helper()
	between := func(lo, hi float64) model.Length { return model.Length(lo + (hi-lo)*rng.Float64()) }
	ids := 0
	j := model.Sketch(model.SketchSpec{Risers: n, Width: between(800, 1100), Rise: between(165, 205), Going: between(220, 300), Base: baseJob(),
		IDs: func(int) model.ID { ids++; return model.NamedID(model.ID{}, fmt.Sprint("turned ", ids)) }})
	for i := range j.Flight.Steps {
		s := &j.Flight.Steps[i]
		s.TopRight += between(-3, 3)
		s.Fall = model.Angle(between(-0.005, 0.005))
	}
	for at := 1; at+4 < n; at += 5 {
		side := []model.Edge{model.Left, model.Right}[rng.IntN(2)]
		id := j.Flight.Steps[at+rng.IntN(2)].ID
		var e model.Edit
		switch rng.IntN(4) {
		case 0:
			e = model.InsertLanding{At: id, Turn: model.QuarterTurn, Side: side, Depth: between(0, 1) * (900 + between(0, 400))}
		case 1:
			e = model.InsertLanding{At: id, Turn: model.HalfTurn, Side: side, Gap: between(0, 200)}
		case 2:
			e = model.TurnToWinders{From: id, Count: 3, Angle: model.Angle(between(45, 150)) * model.Degree, Side: side, Well: between(60, 300)}
		default:
			e = model.TurnToWinders{From: id, Count: 2, Angle: 90 * model.Degree, Side: side}
		}
		if q, ok := e.(model.InsertLanding); ok {
			// A small jog in the far wall is taken for a wander of it, which is
			// right and bends the estimate; here the truth has none.
			level := j.Flight.Steps[0].Corners[0].Distance(j.Flight.Steps[0].Corners[1]) + model.NoseSetForward(j)
			if q.Depth < 250 || math.Abs(float64(q.Depth-level)) < stepped+1 {
				q.Depth = 0
			}
			e = q
		}
		k, err := e.Apply(j)
		if err != nil {
			t.Fatal(err)
		}
		j = k
	}
	return truth{job: j, x: newProblem(&j).prior}
}

// Noise-free readings of a flight that turns, and a sketch on the truth, give
// every corner back: no belief about neighbours is at odds with a turn.
func TestATurnedFlightIsGivenBack(t *testing.T) {
	rng := newRand(t, 71)
	worst, count := 0.0, sweep(80, 3000)
	for f := range count {
		tr := turnedTruth(t, rng, 6+rng.IntN(14))
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

// A sketch 15 mm wrong at every corner does not bend what was read in full. The
// far corners of a landing with a half turn are fixed by no kind of reading, so
// only its nose line and the riser face behind it are held to this; nor is the
// corner of a kite by more than two gauges.
func TestAWrongSketchDoesNotBendATurn(t *testing.T) {
	rng := newRand(t, 72)
	worst, kite, count, half := 0.0, 0.0, sweep(80, 3000), 0
	for f := range count {
		tr := turnedTruth(t, rng, 6+rng.IntN(14))
		tr.read(rng, 0)
		tr.blur(rng, 15)
		res := Solve(tr.job)
		if res.Status != Converged {
			t.Fatalf("flight %d: %s", f, res.Status)
		}
		p := newProblem(&tr.job)
		for i, s := range p.sites {
			named := [4]int{s.fl, s.fr, s.br, s.bl}
			if s.corners == 6 {
				half++
			}
			got, want := make([]mgl64.Vec2, 0, 6), make([]mgl64.Vec2, 0, 6)
			at := func(c int) mgl64.Vec2 { return mgl64.Vec2{tr.x[s.corner(c)], tr.x[s.corner(c)+1]} }
			for _, c := range named {
				got, want = append(got, res.Steps[i].Corners[c]), append(want, at(c))
			}
			worst = math.Max(worst, misfit(got, want))
			if s.corners == 5 {
				for c := range s.corners {
					if c != s.fl && c != s.fr && c != s.br && c != s.bl {
						got, want = append(got, res.Steps[i].Corners[c]), append(want, at(c))
					}
				}
				kite = math.Max(kite, misfit(got, want))
			}
		}
	}
	t.Logf("%d flights, %d half landings: worst bend %.3g mm, with the corner of a kite %.3g mm", count, half, worst, kite)
	// A named corner is read by rods and gauges to 0.5 mm and pulled by a sketch
	// of 25 mm: 15·(0.5/25)² = 0.006; a few such add up. Behind a landing a long
	// diagonal is all there is of some corners.
	if worst > 0.15 {
		t.Errorf("worst bend %g mm, want 0.15", worst)
	}
	// Two gauges of 0.2 degrees at 1100 mm fix a kite's corner to 4 mm and more.
	if kite > 1.5 {
		t.Errorf("worst corner of a kite %g mm off, want 1.5", kite)
	}
	if half == 0 {
		t.Error("no half landing was tried")
	}
}

// A misread width on a turned flight is found, and named.
func TestABlunderOnATurnIsNamed(t *testing.T) {
	rng := newRand(t, 73)
	found, count := 0, sweep(40, 600)
	for range count {
		tr := turnedTruth(t, rng, 8)
		tr.read(rng, 0.5)
		at := 1 + rng.IntN(4)
		rs := tr.job.Flight.Steps[at].Readings
		var id model.ID
		for k := range rs {
			if rs[k].Kind == model.FrontWidth {
				rs[k].Value += 25
				id = rs[k].ID
			}
		}
		tr.blur(rng, 15)
		res := Solve(tr.job)
		if len(res.Conflicts) > 0 {
			for _, s := range res.Conflicts[0].Suspects {
				if s.Reading == id {
					found++
				}
			}
		}
	}
	t.Logf("%d of %d named", found, count)
	if found < count*95/100 {
		t.Errorf("only %d of %d misread widths were named", found, count)
	}
}

// Sides that turn are not believed to run on, and those of a straight flight
// always are, however badly it was sketched.
func TestWhichSidesRunOn(t *testing.T) {
	j := baseJob()
	j = model.Sketch(model.SketchSpec{Risers: 8, Width: 900, Rise: 185, Going: 250, Base: j,
		IDs: func(i int) model.ID { return model.NamedID(j.ID, fmt.Sprint(i)) }})
	straight := newProblem(&j)
	for i, r := range straight.runsOn[:7] {
		if r != [2]bool{true, true} {
			t.Errorf("straight: step %d runs on %v", i+1, r)
		}
	}
	k, err := model.InsertLanding{At: j.Flight.Steps[3].ID, Turn: model.QuarterTurn, Side: model.Left}.Apply(j)
	if err != nil {
		t.Fatal(err)
	}
	p := newProblem(&k)
	// Onto the landing both walls run straight, but the left is short behind the
	// nose; off it the far wall becomes the right side of the upper flight.
	if p.runsOn[2] != [2]bool{false, true} || p.runsOn[3] != [2]bool{false, true} {
		t.Errorf("landing: %v", p.runsOn)
	}
	// A deeper landing has a jog where the upper flight begins.
	k, err = model.InsertLanding{At: j.Flight.Steps[3].ID, Turn: model.QuarterTurn, Side: model.Left, Depth: 1300}.Apply(j)
	if err != nil {
		t.Fatal(err)
	}
	if p := newProblem(&k); p.runsOn[3] != [2]bool{false, false} {
		t.Errorf("deep landing: %v", p.runsOn)
	}
}
