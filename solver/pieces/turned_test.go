package pieces_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

// edited makes a straight flight of n steps, applies the edits to its sketch,
// and takes the sketch for the estimate.
func edited(t testing.TB, n int, change func(*model.Job), edits ...func(*model.Job) model.Edit) *flight {
	t.Helper()
	base := plainJob()
	base.Instruments = []model.Instrument{{ID: "rods", Name: "Rods", Measures: model.QuantityLength, Spread: 0.4, Standing: model.Yours}}
	base.ID = model.NamedID(model.ID{}, "pieces")
	j := model.Sketch(model.SketchSpec{Risers: n, Width: 914, Rise: 190, Going: 254, Base: base,
		IDs: func(i int) model.ID { return model.NamedID(model.ID{}, fmt.Sprint("piece ", i)) }})
	if change != nil {
		change(&j)
	}
	for _, make := range edits {
		e := make(&j)
		k, err := e.Apply(j)
		if err != nil {
			t.Fatalf("%s: %v", e.Label(), err)
		}
		j = k
	}
	f := &flight{job: j, res: survey.Result{Status: survey.Converged}}
	for _, s := range j.Flight.Steps {
		u := survey.Step{FL: s.FrontLeft(), FR: s.FrontRight(), BR: s.BackRight(), BL: s.BackLeft(), Readiness: survey.ReadyCut,
			TopLeft: float64(s.TopLeft), TopRight: float64(s.TopRight)}
		for _, c := range s.Corners {
			u.Corners = append(u.Corners, mgl64.Vec2{float64(c.X), float64(c.Y)})
		}
		f.res.Steps = append(f.res.Steps, u)
	}
	f.known(0.1)
	return f
}

func openFrom(i, k int, side model.Edge) func(*model.Job) model.Edit {
	return func(j *model.Job) model.Edit {
		return model.OpenSide{From: j.Flight.Steps[i].ID, To: j.Flight.Steps[k].ID, Side: side, Returned: true, Balusters: 2, Length: 900}
	}
}

func landing(i int, turn model.Turn, side model.Edge, gap model.Length) func(*model.Job) model.Edit {
	return func(j *model.Job) model.Edit {
		return model.InsertLanding{At: j.Flight.Steps[i].ID, Turn: turn, Side: side, Gap: gap}
	}
}

func wind(i, count int, side model.Edge) func(*model.Job) model.Edit {
	return func(j *model.Job) model.Edit {
		return model.TurnToWinders{From: j.Flight.Steps[i].ID, Count: count, Angle: 90 * model.Degree, Side: side}
	}
}

func start(width, radius model.Length) func(*model.Job) model.Edit {
	return func(*model.Job) model.Edit { return model.StartingStep{Width: width, Radius: radius} }
}

// A quarter landing: its nosing is a straight board from wall to well, its
// floor the rest of it, and the two together with the room for the riser are
// the landing.
func TestLandingIsNosingAndFloor(t *testing.T) {
	for _, side := range []model.Edge{model.Left, model.Right} {
		f := edited(t, 8, func(j *model.Job) { j.Overlay.Fit = 0 }, landing(3, model.QuarterTurn, side, 0))
		nosing, floor := f.named(t, "L04"), f.named(t, "F04")
		near(t, "width", nosing.Figures.Front.Value, 914, 1e-9)
		near(t, "depth", nosing.Figures.LeftDepth.Value, 90, 1e-9)
		if nosing.Template != "" || !nosing.Released || floor.Template == "" || floor.Released {
			t.Errorf("nosing %q %q, floor %q", nosing.Template, nosing.Why, floor.Template)
		}
		// 951 deep and 914 wide, less the nosing
		near(t, "area", area(floor.Face), 914*(951-90), 1e-6)
		checkSolid(t, "nosing", nosing.Solid)
		checkSolid(t, "floor", floor.Solid)
		// the riser above stands between the sides of the upper flight, on the floor
		riser := f.named(t, "R05")
		near(t, "riser", riser.Figures.Back.Value, 914, 1e-9)
		near(t, "riser's height", riser.Figures.LeftDepth.Value, 190-20, 1e-9)
	}
	// A half turn: the floor runs on beside the nosing to the riser of the upper
	// flight.
	f := edited(t, 8, nil, landing(3, model.HalfTurn, model.Left, 100))
	floor := f.named(t, "F04")
	whole := 951.0*914 + 100*(951-37) + (951-37)*914 + 100*37/2
	// less the nosing, and what lies before the line from its rear corner to that
	// of the riser beyond the well
	near(t, "area of the floor", area(floor.Face), whole-90*914-100*90/2, 1e-6)
	checkSolid(t, "floor", floor.Solid)
}

func area(face []mgl64.Vec2) float64 {
	a := 0.0
	for i, p := range face {
		q := face[(i+1)%len(face)]
		a += p[0]*q[1] - p[1]*q[0]
	}
	return a / 2
}

// An open side with a mitred return: tread and return together are the board
// that runs past the side by the overhang, less nothing; what the return has
// besides runs past the riser.
func TestTreadAndReturnAreOneBoard(t *testing.T) {
	for _, c := range []struct {
		side model.Edge
		ids  []string
	}{{model.Left, []string{"N03"}}, {model.Right, []string{"N03"}}, {"both", []string{"N03L", "N03R"}}} {
		edits := []func(*model.Job) model.Edit{openFrom(2, 2, model.Left), openFrom(2, 2, model.Right)}
		switch c.side {
		case model.Left:
			edits = edits[:1]
		case model.Right:
			edits = edits[1:]
		}
		f := edited(t, 6, func(j *model.Job) { j.Overlay.Return = 32 }, edits...)
		tread := f.named(t, "T03")
		whole := (914 + 25*float64(len(c.ids))) * 291
		got := area(tread.Face)
		for _, id := range c.ids {
			n := f.named(t, id)
			checkSolid(t, id, n.Solid)
			checkSolid(t, id+" placed", n.Placed())
			near(t, "determinant", n.Frame.Mat3().Det(), 1, 1e-12)
			near(t, "length", n.Figures.Front.Value, 291-12+25, 1e-9)
			near(t, "width", n.Figures.RightDepth.Value*n.Figures.LeftDepth.Value, 32*32*math.Sqrt2, 1e-6)
			got += area(n.Face) - 32*(25-12) // past the tread's back by the overhang less the riser
			if n.Template != "" || !n.Released {
				t.Errorf("%s: %q %q", id, n.Template, n.Why)
			}
			// it lies in the plane of the tread's face
			for _, v := range n.Face {
				near(t, "height", mgl64.TransformCoordinate(v.Vec3(0), n.Frame)[2], 590, 1e-9)
			}
		}
		near(t, "area", got, whole, 1e-6)
		checkSolid(t, "tread", tread.Solid)
		if tread.Template == "" || tread.Released {
			t.Errorf("the tread has no template: %q", tread.Why)
		}
		if tread.Face[tread.BackLeft] != (mgl64.Vec2{}) {
			t.Errorf("its frame begins at %v", tread.Face[tread.BackLeft])
		}
		// the riser on it is mitred to the outer skirt at half the corner
		riser := f.named(t, "R04")
		for side, open := range [2]bool{c.side != model.Right, c.side != model.Left} {
			want := 0.0
			if open {
				want = 45
			}
			near(t, "bevel", riser.Ends[side].Bevel/degree, want, 1e-9)
		}
		near(t, "riser", riser.Figures.Back.Value, 914, 1e-9)
	}
}

// A starting step runs round in circles about one middle: the nose at the old
// radius with the riser and the overhang.
func TestStartingStepRunsRound(t *testing.T) {
	for _, side := range []model.Edge{model.Left, model.Right} {
		f := edited(t, 5, nil, openFrom(0, 0, side), start(1100, 150))
		p := f.named(t, "T01")
		checkSolid(t, "tread", p.Solid)
		const r = 150 + 12 + 25
		// the whole board, past the side by the riser's skin and the overhang,
		// less what the corner loses; the arc is drawn in chords a little inside
		want := (1100+37)*291 - r*r*(1-math.Pi/4)
		if got := area(p.Face); got > want || got < want-arcLoss(r) {
			t.Errorf("area %.2f, want %.2f to %.2f", got, want-arcLoss(r), want)
		}
		if !strings.Contains(p.Template, "187.0 mm") || p.Released {
			t.Errorf("template %q", p.Template)
		}
		riser := f.named(t, "R01")
		near(t, "straight part", riser.Figures.Back.Value, 1100-150, 1e-9)
		if !strings.Contains(riser.Template, "162.0 mm") || !strings.Contains(strings.Join(riser.Notes, " "), "254.5 mm") {
			t.Errorf("riser: %q %v", riser.Template, riser.Notes) // 162·π/2
		}
		// the riser above is as wide as the flight
		near(t, "next riser", f.named(t, "R02").Figures.Back.Value, 914, 1e-9)
	}
}

// arcLoss is what chords with a sag of 0.05 mm leave out of a quarter circle.
func arcLoss(r float64) float64 { return r * math.Pi / 2 * 0.05 }

func TestBalusters(t *testing.T) {
	f := edited(t, 6, func(j *model.Job) { j.Flight.Steps[2].PackLeft, j.Flight.Steps[2].PackRight = 3, 3 }, openFrom(1, 3, model.Right), openFrom(2, 2, model.Left))
	bars := pieces.Balusters(f.job, &f.res, func(step int) float64 { return 0.1 * float64(step) })
	if len(bars) != 8 {
		t.Fatalf("%d balusters", len(bars))
	}
	last := map[model.Edge]int{}
	for _, b := range bars {
		if b.Number != last[b.Side]+1 {
			t.Errorf("number %d follows %d", b.Number, last[b.Side])
		}
		last[b.Side] = b.Number
		cut, x := 20.0, 914.0
		if b.Step == 3 {
			cut = 23
		}
		if b.Side == model.Left {
			x = 0
		}
		near(t, "cut", b.Cut, cut, 1e-9)
		near(t, "new length", b.New, 900-cut, 1e-9)
		near(t, "x", b.Foot[0], x, 1e-9)
		near(t, "y", b.Foot[1], 254*float64(b.Step-1)+b.Behind, 1e-9)
		near(t, "z", b.Foot[2], 190*float64(b.Step)+cut, 1e-9)
		near(t, "rake", b.Rake, 0.1*float64(b.Step), 0)
	}
	// on a kite the foot stands on the side, as far behind the nose
	g := edited(t, 8, nil, openFrom(0, 6, model.Left), wind(2, 3, model.Right))
	for _, b := range pieces.Balusters(g.job, &g.res, func(int) float64 { return 0 }) {
		s := g.res.Steps[b.Step-1]
		e := s.Corners[s.FR].Sub(s.Corners[s.FL]).Normalize()
		d := mgl64.Vec2{b.Foot[0], b.Foot[1]}.Sub(s.Corners[s.FL])
		if got := e[0]*d[1] - e[1]*d[0]; math.Abs(got-b.Behind) > 1e-9 {
			t.Errorf("step %d: %.3f mm behind the nose, want %.3f", b.Step, got, b.Behind)
		}
	}
}

// everyTurn is a flight with all of it.
func everyTurn(t testing.TB, rng *rand.Rand) *flight {
	side := func() model.Edge { return []model.Edge{model.Left, model.Right}[rng.IntN(2)] }
	open := side()
	f := edited(t, 17, func(j *model.Job) {
		j.Overlay.Fit, j.Overlay.Undercut, j.Overlay.RiserGap = 0.25, 1.5*model.Degree, 1
		if rng.IntN(2) == 0 {
			j.Overlay.Back = model.BackAgainstRiser
		}
	}, openFrom(0, 16, open), start(1050+model.Length(100*rng.Float64()), 120), wind(2, 3, side()),
		landing(7, model.QuarterTurn, side(), 0), landing(11, model.HalfTurn, side(), model.Length(80*rng.Float64())))
	for k := range f.res.Steps {
		s := &f.res.Steps[k]
		for c := range s.Corners {
			s.Corners[c][0] += 2 * rng.NormFloat64()
			s.Corners[c][1] += 2 * rng.NormFloat64()
		}
		s.TopLeft += 3 * rng.NormFloat64()
		s.Fall = 0.01 * rng.NormFloat64()
		s.Lean = [2]float64{0.02 * rng.NormFloat64(), 0.02 * rng.NormFloat64()}
	}
	return f
}

// mirrorAny returns the flight with left and right swapped, whatever the
// openings.
func (f *flight) mirrorAny() *flight {
	g := f.clone()
	for k := range g.res.Steps {
		s, j := &g.res.Steps[k], &g.job.Flight.Steps[k]
		n := len(s.Corners)
		cs := make([]mgl64.Vec2, n)
		for c, p := range f.res.Steps[k].Corners {
			cs[(n+1-c)%n] = mgl64.Vec2{-p[0], p[1]}
		}
		to := func(c int) int { return (n + 1 - c) % n }
		s.Corners, s.FL, s.FR, s.BR, s.BL = cs, to(s.FR), to(s.FL), to(s.BL), to(s.BR)
		s.TopLeft, s.TopRight = s.TopRight, s.TopLeft
		s.Lean[0], s.Lean[1] = s.Lean[1], s.Lean[0]
		j.Left, j.Right, j.RoundLeft, j.RoundRight = j.Right, j.Left, j.RoundRight, j.RoundLeft
	}
	g.known(0.1)
	return g
}

// Boards of a turning flight are solids; mirrored they have the same volume,
// area and figures with left and right swapped, and moved they are the same.
func TestTurnedBoardsKeepTheLaws(t *testing.T) {
	const seed = 41
	rng := rand.New(rand.NewPCG(seed, 0))
	for n := range 25 {
		f := everyTurn(t, rng)
		f.known(0.1)
		ps, ms := f.make(), f.mirrorAny().make()
		vs := f.moved(7*rng.Float64(), mgl64.Vec2{3000 * rng.NormFloat64(), 3000 * rng.NormFloat64()}).make()
		if len(ps) != len(ms) || len(ps) != len(vs) || len(ps) != 2*17+2+countReturns(ps) {
			t.Fatalf("seed %d, %d: %d boards, mirrored %d, moved %d", seed, n, len(ps), len(ms), len(vs))
		}
		for k := range ps {
			p, m, v := ps[k], ms[k], vs[k]
			name := fmt.Sprintf("seed %d, %d: %s", seed, n, p.ID)
			if p.Impossible != "" {
				t.Fatalf("%s: %s", name, p.Impossible)
			}
			checkSolid(t, name, p.Solid)
			checkSolid(t, name+" mirrored", m.Solid)
			near(t, name+" mirrored volume", volume(m.Solid), volume(p.Solid), 1e-3)
			near(t, name+" moved volume", volume(v.Placed()), volume(p.Solid), 1e-2)
			if !(volume(p.Solid) > 0) || (p.Template == "") != (m.Template == "") || p.Template != v.Template {
				t.Fatalf("%s: volume %g, template %q, mirrored %q, moved %q", name, volume(p.Solid), p.Template, m.Template, v.Template)
			}
			near(t, name+" depth", m.Figures.RightDepth.Value, p.Figures.LeftDepth.Value, 1e-6)
			near(t, name+" band", m.Figures.RightDepth.PlusMinus, p.Figures.LeftDepth.PlusMinus, 1e-6)
			near(t, name+" front", m.Figures.Front.Value, p.Figures.Front.Value, 1e-6)
			near(t, name+" bevel", m.Ends[1].Bevel, p.Ends[0].Bevel, 1e-9)
			near(t, name+" gauge", m.Ends[1].Gauge.Value, p.Ends[0].Gauge.Value, 1e-9)
			for c := range p.Face {
				if d := v.Face[c].Sub(p.Face[c]).Len(); d > 1e-6 {
					t.Errorf("%s: moved, corner %d is %g off", name, c, d)
				}
			}
		}
	}
}

func countReturns(ps []pieces.Piece) int {
	n := 0
	for _, p := range ps {
		if p.Kind == pieces.ReturnNosing {
			n++
		}
	}
	return n
}

// The band of a landing nosing's figures against moving every unknown in turn.
func TestLandingNosingBands(t *testing.T) {
	rng := rand.New(rand.NewPCG(43, 0))
	f := everyTurn(t, rng)
	f.known(0.1)
	at := func(g *flight) pieces.Piece { return g.named(t, "L08") }
	p := at(f)
	s := &f.res.Steps[7]
	want := [6]float64{}
	const h = 1e-3
	unknowns := 2*len(s.Corners) + 5
	for u := range unknowns {
		move := func(by float64) [6]pieces.NamedFigure {
			g := f.clone()
			q := &g.res.Steps[7]
			switch c := u - 2*len(s.Corners); {
			case c < 0:
				q.Corners[u/2][u%2] += by
			case c == 0:
				q.TopLeft += by
			case c == 1:
				q.TopRight += by
			case c == 2:
				q.Fall += by / 300
			default:
				q.Lean[c-3] += by / 300
			}
			b := at(g)
			return b.Named()
		}
		up, down := move(h), move(-h)
		for k := range want {
			d := (up[k].Value.Value - down[k].Value.Value) / (2 * h) * 0.1 // one spread
			want[k] += d * d
		}
	}
	for k, fig := range p.Named() {
		// a centred difference over 1e-3 mm on 1e3 mm errs by 1e-7
		near(t, fig.Name, fig.PlusMinus, 1.959963984540054*math.Sqrt(want[k]), 2e-4)
	}
}
