package saw_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/saw"
	"risewright/solver/survey"
)

// turnedFlight makes a flight of n steps that turns, with open sides, returns
// and a starting step, as the edits make them, and pushes every corner and
// height a little out of true.
func turnedFlight(t testing.TB, rng *rand.Rand, n int) *flight {
	t.Helper()
	f := randomFlight(rng, 2)
	between := func(lo, hi float64) model.Length { return model.Length(lo + (hi-lo)*rng.Float64()) }
	either := func() model.Edge { return []model.Edge{model.Left, model.Right}[rng.IntN(2)] }
	base := f.job
	base.Instruments = []model.Instrument{{ID: "rods", Name: "Rods", Measures: model.QuantityLength, Spread: 0.4, Standing: model.Yours}}
	base.SketchSpread, base.Overlay.Return = 25, []model.Length{0, between(12, 40)}[rng.IntN(2)]
	base.Overlay.Overhang = between(10, 32)
	j := model.Sketch(model.SketchSpec{Risers: n, Width: between(800, 1100), Rise: between(165, 205), Going: between(220, 300), Base: base,
		IDs: func(i int) model.ID { return model.NamedID(model.ID{}, fmt.Sprint("saw ", i)) }})
	do := func(e model.Edit) {
		k, err := e.Apply(j)
		if err != nil {
			t.Fatalf("%s: %v", e.Label(), err)
		}
		j = k
	}
	id := func(i int) model.ID { return j.Flight.Steps[i].ID }
	if rng.IntN(2) == 0 {
		do(model.OpenSide{From: id(0), To: id(n - 1), Side: model.Left, Returned: true, Balusters: 2})
	}
	if rng.IntN(3) > 0 {
		do(model.OpenSide{From: id(0), To: id(3), Side: model.Right, Returned: true, Balusters: 3, Length: 900})
		if rng.IntN(2) == 0 {
			do(model.StartingStep{Width: 1150 + between(0, 300), Radius: between(60, 150)})
		}
	}
	for at := 2; at+5 < n; at += 6 {
		switch rng.IntN(4) {
		case 0:
			do(model.InsertLanding{At: id(at), Turn: model.QuarterTurn, Side: either()})
		case 1:
			do(model.InsertLanding{At: id(at), Turn: model.HalfTurn, Side: either(), Gap: between(0, 150)})
		case 2:
			do(model.TurnToWinders{From: id(at), Count: 3, Angle: 90 * model.Degree, Side: either(), Well: between(60, 200)})
		default:
			do(model.TurnToWinders{From: id(at), Count: 4, Angle: model.Angle(between(60, 180)) * model.Degree, Side: either()})
		}
	}
	out := &flight{job: j, res: survey.Result{Status: survey.Converged}}
	for i := range j.Flight.Steps {
		s := &j.Flight.Steps[i]
		u := survey.Step{FL: s.FrontLeft(), FR: s.FrontRight(), BR: s.BackRight(), BL: s.BackLeft(), Readiness: survey.ReadyCut,
			TopLeft: float64(s.TopLeft + between(-3, 3)), TopRight: float64(s.TopRight + between(-3, 3)), Fall: float64(between(-0.02, 0.02)),
			Lean: [2]float64{float64(between(-0.03, 0.03)), float64(between(-0.03, 0.03))}}
		for _, c := range s.Corners {
			u.Corners = append(u.Corners, mgl64.Vec2{float64(c.X + between(-3, 3)), float64(c.Y + between(-3, 3))})
		}
		_, _, fall, _, _, m := survey.Unknowns(len(u.Corners))
		u.Cov = make([]float64, m*m)
		for k := range m {
			v := 0.01
			if k >= fall {
				v = 1e-7
			}
			u.Cov[k*m+k] = v
		}
		if i > 0 {
			_, _, _, _, _, w := survey.Unknowns(len(out.res.Steps[i-1].Corners))
			u.Cross = make([]float64, m*w)
		}
		out.res.Steps = append(out.res.Steps, u)
	}
	return out
}

// Every board of a turning flight that straight cuts can make has a card that
// is proved; every other has a reason why it is made from a template.
func TestTurnedFlightsAreCutOrHaveATemplate(t *testing.T) {
	flights := 120
	if os.Getenv("RISEWRIGHT_FULL") == "1" {
		flights = 3000
	}
	const seed = 31
	rng := rand.New(rand.NewPCG(seed, 0))
	stock := yard()
	count := map[string]int{}
	worst := 0.0
	for i := range flights {
		f := turnedFlight(t, rng, 8+rng.IntN(14))
		ps := f.pieces()
		ids := map[string]bool{}
		for k, c := range saw.Cards(f.job, stock, ps) {
			p := &ps[k]
			if ids[p.ID] {
				t.Errorf("seed %d flight %d: two boards are called %s", seed, i, p.ID)
			}
			ids[p.ID] = true
			switch {
			case p.Kind == pieces.ReturnNosing && strings.Contains(p.Impossible, "does not fit the end of this tread"):
				count["no room "+string(p.Kind)]++ // at the narrow end of a winder
				if c.Proof.OK || c.Released {
					t.Errorf("seed %d flight %d: %s has no room, and has a card", seed, i, p.ID)
				}
			case p.Impossible != "":
				t.Errorf("seed %d flight %d: %s: %s", seed, i, p.ID, p.Impossible)
			case p.Template != "":
				count["template "+string(p.Kind)]++
				if c.Proof.OK || c.Proof.Reason == "" || c.Released {
					t.Errorf("seed %d flight %d: %s is made from a template, and has a card", seed, i, p.ID)
				}
			default:
				count["card "+string(p.Kind)]++
				worst = math.Max(worst, c.Proof.Worst)
				if !c.Proof.OK || !(c.Proof.Worst <= 5e-5) {
					t.Errorf("seed %d flight %d: %s: %q, off by %g", seed, i, p.ID, c.Proof.Reason, c.Proof.Worst)
				}
			}
		}
	}
	t.Logf("%v; worst %.1e mm", count, worst)
	for _, kind := range []pieces.Kind{pieces.Tread, pieces.Riser, pieces.LandingNosing, pieces.ReturnNosing} {
		if count["card "+string(kind)] == 0 {
			t.Errorf("no %s was cut from a card", kind)
		}
	}
	for _, kind := range []pieces.Kind{pieces.Tread, pieces.Riser, pieces.LandingFloor} {
		if count["template "+string(kind)] == 0 {
			t.Errorf("no %s was made from a template", kind)
		}
	}
}

// The mitre of a return on a square tread is 45 degrees, and its card says so.
func TestReturnIsMitredAtHalfTheCorner(t *testing.T) {
	f := straightFlight(4)
	f.job.Overlay.Return = 32
	f.job.Flight.Steps[1].Right = model.Side{Kind: model.Open, Returned: true}
	f.job.Flight.Steps[2].Left = model.Side{Kind: model.Open, Returned: true}
	ps := f.pieces()
	cards := saw.Cards(f.job, yard(), ps)
	for _, c := range []struct {
		id  string
		end int // of the mitre, at the nose
	}{{"N02", 0}, {"N03", 1}} {
		for k := range ps {
			if ps[k].ID != c.id {
				continue
			}
			card := &cards[k]
			if !card.Proof.OK || !card.Released {
				t.Fatalf("%s: %s %s", c.id, card.Proof.Reason, card.Why)
			}
			for end := range 2 {
				want := 0.0
				if end == c.end {
					want = 45 * degree
				}
				if got := card.Ops[1+end].Saw; math.Abs(got-want) > 1e-9 {
					t.Errorf("%s end %d: saw at %.3f°, want %.0f°", c.id, end, got/degree, want/degree)
				}
			}
			// from the nose to the face of the riser behind, 291 - 12, and past it
			// by the overhang of 25; the inner edge is shorter by the mitre
			if l := ps[k].Figures.Front.Value; math.Abs(l-304) > 1e-9 {
				t.Errorf("%s is %.3f mm long, want 304", c.id, l)
			}
			if l := ps[k].Figures.Back.Value; math.Abs(l-272) > 1e-9 {
				t.Errorf("%s is %.3f mm along its inner edge, want 272", c.id, l)
			}
		}
	}
}
