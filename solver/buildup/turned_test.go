package buildup_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/buildup"
)

func applied(t testing.TB, j model.Job, e model.Edit) model.Job {
	t.Helper()
	k, err := e.Apply(j)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

var turnFlight = flight{risers: 12, rise: 180, going: 254, tread: 20, riser: 12, landing: 20, overhang: 25, bottom: 20, top: 20}

// Two flights of different rises meet at a landing. Each is compared with
// itself: 6 risers of 180 and 6 of 190 are two uniform flights, not one with
// rises 10 mm apart.
func TestEachFlightIsJudgedByItself(t *testing.T) {
	j := turnFlight.job()
	for i := range j.Flight.Steps {
		if k := i - 5; k > 0 {
			j.Flight.Steps[i].TopLeft += model.Length(10 * k)
			j.Flight.Steps[i].TopRight += model.Length(10 * k)
		}
	}
	whole := compute(j)
	near(t, "as one flight", whole.RiseAfter.Spread.At, 10, rounding)
	for _, turn := range []model.Turn{model.QuarterTurn, model.HalfTurn} {
		k := applied(t, j, model.InsertLanding{At: j.Flight.Steps[5].ID, Turn: turn, Side: model.Left})
		r := compute(k)
		if len(r.Runs) != 2 || r.Runs[0].Last != 6 || r.Runs[1].First != 7 || r.Runs[1].Risers() != 6 || r.RunOf(6) != 0 || r.RunOf(7) != 1 {
			t.Fatalf("runs %+v", r.Runs)
		}
		near(t, "spread of the worse", r.RiseAfter.Spread.At, 0, rounding)
		near(t, "adjacent", r.RiseAfter.Adjacent.At, 0, rounding)
		near(t, "lower rise", r.Runs[0].Rise.At, 6*180, rounding)
		near(t, "upper rise", r.Runs[1].Rise.At, 6*190, rounding)
		near(t, "foot of the upper", r.Runs[1].Foot, 6*180+20, rounding)
		// each with its own N, Bb and Bt: nothing to pack but the boards
		for i := range r.Steps {
			near(t, "packing", r.Steps[i].Packing.Left.At, 20, rounding)
		}
		if r.Steps[6].HasGoing || !r.Steps[5].HasGoing || !r.Steps[7].HasGoing {
			t.Error("the step above the landing has a going, or another has none")
		}
		near(t, "goings alike", r.GoingAfter.Spread.At, 0, 1e-8)
		near(t, "goings alike before", r.GoingBefore.Spread.At, 0, 1e-8)
		near(t, "sum of goings", r.FlightGoing.At, 10*254, 1e-8)
		near(t, "pitch of the lower", r.Runs[0].Pitch.At, math.Atan2(180, 254), 1e-12)
		near(t, "pitch of the upper", r.Runs[1].Pitch.At, math.Atan2(190, 254), 1e-12)
		near(t, "pitch", r.Pitch.At, math.Atan2(5*180+5*190, 10*254), 1e-12)
		// 951 deep from its own nose line; from the next one, which stands 37 in
		// front of the riser it goes with, back to the side behind: 914 - 37
		near(t, "depth", r.Steps[5].Landing.Depth.At, 914-37, 1e-8)
		near(t, "twice the rise and the going, above the landing", r.Steps[6].TwoRisePlusGoing.At, 2*190+254, 1e-8)
	}
	// A landing laid 6 mm higher than its flights makes one end of both wrong,
	// and its own packing says where it lies, while theirs meet it.
	k := applied(t, j, model.InsertLanding{At: j.Flight.Steps[5].ID, Turn: model.QuarterTurn, Side: model.Right})
	k.Flight.Steps[5].Thickness = 26
	r := compute(k)
	near(t, "spread", r.RiseAfter.Spread.At, 6, rounding)
	near(t, "packing of step 3", r.Steps[2].Packing.Left.At, 20+6*3.0/6, rounding)
	near(t, "packing of step 9", r.Steps[8].Packing.Left.At, 20+6*3.0/6, rounding)
	near(t, "packing of the landing", r.Steps[5].Packing.Left.At, 26, rounding)
	limits := buildup.RiseLimits{Least: 0, Most: 200, Spread: 5.5, Adjacent: 100}
	if limits.Within(&r) {
		t.Error("a flight 6 mm out is within 5.5")
	}
	limits.Spread = 6.5
	if !limits.Within(&r) {
		t.Error("two flights, each within 6.5, are not")
	}
	limits.Most = 189
	if limits.Within(&r) {
		t.Error("rises of 190 are within 189")
	}
}

// A landing that is shallow one way is as deep as that, and one narrower than
// its flight says by how much.
func TestLandingDepth(t *testing.T) {
	j := turnFlight.job()
	k := applied(t, j, model.InsertLanding{At: j.Flight.Steps[5].ID, Turn: model.QuarterTurn, Side: model.Left, Depth: 800})
	l := compute(k).Steps[5].Landing
	near(t, "depth", l.Depth.At, 800, 1e-8)
	near(t, "served", l.Served, 914, 1e-8)
	near(t, "width for the upper flight", l.Width, 800, 1e-8) // its nose begins 37 behind that of the landing
}

// Going of a winder by hand: nose lines lie 37 mm in front of lines that point
// at the middle of the turn, so a place r from it along one has the radius
// hypot(r, 37), and two such are a chord apart.
func TestWalklineOfAQuarterTurn(t *testing.T) {
	j := turnFlight.job()
	const well, set = 120.0, 37.0
	for _, side := range []model.Edge{model.Left, model.Right} {
		r := compute(applied(t, j, model.TurnToWinders{From: j.Flight.Steps[4].ID, Count: 3, Angle: 90 * model.Degree, Side: side, Well: well}))
		for i := range r.Steps {
			if (r.Steps[i].Winder != nil) != (i >= 4 && i < 7) {
				t.Errorf("%s: step %d: winder is %v", side, i+1, r.Steps[i].Winder)
			}
		}
		chord := func(rad float64) float64 { return 2 * math.Hypot(rad, set) * math.Sin(15*math.Pi/180) }
		for i := 4; i < 7; i++ {
			w := r.Steps[i].Winder
			if (w.Inner == buildup.Left) != (side == model.Left) {
				t.Errorf("inner side %v of a turn to the %s", w.Inner, side)
			}
			near(t, "narrow", w.Narrow().At, chord(well), 1e-8)
			near(t, "12 in", w.Going(buildup.Walkline{Offset: 304.8}).At, chord(well+304.8), 1e-8)
		}
		if r.Steps[4].Winder.Width() < 913 {
			t.Errorf("width %g", r.Steps[4].Winder.Width())
		}
	}
}

// The spread of a walkline's going, against drawing it from moved corners.
func TestWalklineSpread(t *testing.T) {
	rng := seeded(t, 9)
	for range 40 {
		w := buildup.Winder{
			Nose: [2]mgl64.Vec2{{0, 0}, {900 * (0.9 + 0.2*rng.Float64()), 30 * rng.NormFloat64()}},
			Next: [2]mgl64.Vec2{{20 * rng.NormFloat64(), 60}, {800, 400 + 60*rng.NormFloat64()}},
		}
		var root [8][8]float64
		for i := range 8 {
			for k := range 8 {
				root[i][k] = rng.NormFloat64()
			}
		}
		for i := range 8 {
			for k := range 8 {
				for m := range 8 {
					w.Cov[8*i+k] += root[i][m] * root[k][m]
				}
			}
		}
		for _, l := range []buildup.Walkline{{}, {Offset: 300}, {Offset: 270, From: buildup.FromOuter}, {From: buildup.AtMiddle, Offset: 5}} {
			v := 0.0
			const h = 1e-4
			for m := range 8 { // one column of the root at a time
				moved := func(by float64) float64 {
					u := w
					for end := range 2 {
						for axis := range 2 {
							u.Nose[end][axis] += by * root[2*end+axis][m]
							u.Next[end][axis] += by * root[4+2*end+axis][m]
						}
					}
					return u.Going(l).At
				}
				d := (moved(h) - moved(-h)) / (2 * h)
				v += d * d
			}
			// a centred difference of step 1e-4 on 1e3 mm errs by about 1e-9
			near(t, "spread", w.Going(l).Spread, math.Sqrt(v), 1e-5)
		}
	}
}

// randomTurns makes a few turns in a flight whose every corner is out.
func randomTurns(t testing.TB, rng *rand.Rand) model.Job {
	j := turnFlight.job()
	side := func() model.Edge { return []model.Edge{model.Left, model.Right}[rng.IntN(2)] }
	j = applied(t, j, model.TurnToWinders{From: j.Flight.Steps[1].ID, Count: 3, Angle: 90 * model.Degree, Side: side()})
	j = applied(t, j, model.InsertLanding{At: j.Flight.Steps[6].ID, Turn: []model.Turn{model.QuarterTurn, model.HalfTurn}[rng.IntN(2)], Side: side()})
	for i := range j.Flight.Steps {
		s := &j.Flight.Steps[i]
		s.TopLeft += model.Length(3 * rng.NormFloat64())
		s.TopRight += model.Length(3 * rng.NormFloat64())
		for c := range s.Corners {
			s.Corners[c].X += model.Length(3 * rng.NormFloat64())
			s.Corners[c].Y += model.Length(3 * rng.NormFloat64())
		}
	}
	return j
}

// reversed swaps left and right of openings of any number of corners.
func reversed(j model.Job) model.Job {
	steps := append([]model.Step(nil), j.Flight.Steps...)
	for i, s := range steps {
		n := len(s.Corners)
		cs, es := make([]model.Corner, n), make([]model.Edge, n)
		for c, p := range s.Corners {
			cs[(n+1-c)%n] = model.Corner{X: -p.X, Y: p.Y}
			e := s.Edges[c]
			switch e {
			case model.Left:
				e = model.Right
			case model.Right:
				e = model.Left
			}
			es[(n-c)%n] = e
		}
		s.Corners, s.Edges, s.TopLeft, s.TopRight, s.Left, s.Right = cs, es, s.TopRight, s.TopLeft, s.Right, s.Left
		steps[i] = s
	}
	j.Flight.Steps = steps
	return j
}

func turnedJob(j model.Job, angle, dx, dy float64) model.Job {
	sin, cos := math.Sincos(angle)
	steps := append([]model.Step(nil), j.Flight.Steps...)
	for i := range steps {
		cs := append([]model.Corner(nil), steps[i].Corners...)
		for c, p := range cs {
			cs[c] = model.Corner{X: p.X*model.Length(cos) - p.Y*model.Length(sin) + model.Length(dx), Y: p.X*model.Length(sin) + p.Y*model.Length(cos) + model.Length(dy)}
		}
		steps[i].Corners = cs
	}
	j.Flight.Steps = steps
	return j
}

// Mirrored, a turning flight swaps left and right; moved and turned in plan it
// changes nothing.
func TestTurningFlightsKeepTheLaws(t *testing.T) {
	rng := seeded(t, 11)
	for range 30 {
		j := randomTurns(t, rng)
		a := buildup.Compute(j, exactly(j, 1.5))
		m := reversed(j)
		b := buildup.Compute(m, exactly(m, 1.5))
		v := turnedJob(j, 7*rng.Float64(), 5000*rng.NormFloat64(), 5000*rng.NormFloat64())
		c := buildup.Compute(v, exactly(v, 1.5))
		for i := range a.Steps {
			p, q, u := a.Steps[i], b.Steps[i], c.Steps[i]
			for what, s := range map[string][3]buildup.Sides{
				"rise": {p.RiseAfter, q.RiseAfter, u.RiseAfter}, "going": {p.GoingAfter, q.GoingAfter, u.GoingAfter},
				"going before": {p.GoingBefore, q.GoingBefore, u.GoingBefore}, "nosing": {p.Surveyed, q.Surveyed, u.Surveyed},
				"packing": {p.Packing, q.Packing, u.Packing},
			} {
				sameLoose(t, what+" mirrored", swapped(s[0]), s[1])
				sameLoose(t, what+" moved", s[0], s[2])
			}
			if (p.Winder == nil) != (q.Winder == nil) || (p.Winder == nil) != (u.Winder == nil) || (p.Landing == nil) != (u.Landing == nil) {
				t.Fatalf("step %d: a winder or landing comes and goes", i+1)
			}
			if p.Winder != nil {
				l := buildup.Walkline{Offset: 300}
				g := p.Winder.Going(l)
				for _, w := range []*buildup.Winder{q.Winder, u.Winder} {
					near(t, "walkline", w.Going(l).At, g.At, 1e-7)
					near(t, "walkline spread", w.Going(l).Spread, g.Spread, 1e-7)
				}
				if q.Winder.Inner != otherSide(p.Winder.Inner) {
					t.Errorf("step %d: the inner side did not change hands", i+1)
				}
			}
			if p.Landing != nil {
				near(t, "landing", q.Landing.Depth.At, p.Landing.Depth.At, 1e-7)
				near(t, "landing", u.Landing.Depth.At, p.Landing.Depth.At, 1e-7)
				near(t, "landing spread", u.Landing.Depth.Spread, p.Landing.Depth.Spread, 1e-7)
				near(t, "landing width", u.Landing.Width, p.Landing.Width, 1e-7)
			}
		}
		near(t, "flight going", c.FlightGoing.At, a.FlightGoing.At, 1e-7)
		near(t, "pitch", b.Pitch.At, a.Pitch.At, 1e-10)
	}
}

// sameLoose is sameSides for coordinates turned at 1e4 mm, spaced 2e-12, and
// divided by short edges.
func sameLoose(t *testing.T, what string, a, b buildup.Sides) {
	t.Helper()
	near(t, what+" left", b.Left.At, a.Left.At, 1e-7)
	near(t, what+" right", b.Right.At, a.Right.At, 1e-7)
	near(t, what+" left spread", b.Left.Spread, a.Left.Spread, 1e-7)
	near(t, what+" right spread", b.Right.Spread, a.Right.Spread, 1e-7)
}
