package solver_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

// turnedJob is a stair with a round starting step, an open side with returns, a
// landing and winders, read in full on bare wood without an error.
func turnedJob(t testing.TB, turn model.Turn) model.Job {
	t.Helper()
	base, err := tables.NewJob(model.Metric, func(name string) model.ID { return model.NamedID(model.ID{}, name) })
	if err != nil {
		t.Fatal(err)
	}
	base.Code, base.CodeClass = "irc", ""
	base.Overlay.FloorBottom, base.Overlay.FloorTop = base.Overlay.Tread, base.Overlay.Tread
	base.Overlay.Landing = base.Overlay.Tread
	j := model.Sketch(model.SketchSpec{Risers: 15, Width: 960, Rise: 185, Going: 260, Base: base,
		IDs: func(i int) model.ID { return model.NamedID(base.ID, fmt.Sprint("turned ", i)) }})
	id := func(i int) model.ID { return j.Flight.Steps[i].ID }
	do := func(e model.Edit) {
		k, err := e.Apply(j)
		if err != nil {
			t.Fatalf("%s: %v", e.Label(), err)
		}
		j = k
	}
	do(model.OpenSide{From: id(0), To: id(4), Side: model.Left, Returned: true, Balusters: 2, Length: 850})
	do(model.StartingStep{Width: 1100, Radius: 120})
	do(model.InsertLanding{At: id(5), Turn: turn, Side: model.Left, Gap: 200, Depth: 1050})
	do(model.TurnToWinders{From: id(9), Count: 3, Angle: 90 * model.Degree, Side: model.Right, Well: 300})
	// What a perfect reading would show is what the sketch has.
	est := survey.Solve(j)
	for i := range est.Steps {
		for _, f := range est.Steps[i].Figures {
			in, ok := j.DefaultInstrument(f.Kind)
			if !ok || f.Kind.Quantity() == model.QuantityLength && f.Value <= 0 {
				continue
			}
			times := 1
			if f.Kind.Quantity() == model.QuantityAngle {
				times = 2 // one gauge is not enough beside a kite and on a landing
			}
			for n := range times {
				do(model.SetReading{Step: id(i), Reading: model.Reading{ID: model.NamedID(id(i), fmt.Sprint(f.Kind, n)), Kind: f.Kind,
					Value: f.Value, Instrument: in.ID, State: model.Checked}})
			}
		}
	}
	return j
}

// A stair that turns, read in full, goes the whole way: no finding stops it,
// every board is released to its card or has a template, and nothing about a
// turn is taken for a fault of the readings.
func TestATurningStairGoesTheWholeWay(t *testing.T) {
	tab, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	for _, turn := range []model.Turn{model.QuarterTurn, model.HalfTurn} {
		t.Run(string(turn), func(t *testing.T) {
			a := solver.Solve(turnedJob(t, turn), tab)
			if a.Survey.Status != survey.Converged || len(a.Survey.Conflicts) > 0 {
				t.Fatalf("%s, conflicts %+v", a.Survey.Status, a.Survey.Conflicts)
			}
			for _, f := range a.Findings {
				if f.Severity == model.Block {
					t.Errorf("stopped: %s: %s", f.Title, f.Detail)
				}
			}
			cards, templates := map[pieces.Kind]int{}, map[pieces.Kind]int{}
			for k := range a.Pieces {
				p, c := &a.Pieces[k], &a.Cards[k]
				switch {
				case p.Template != "":
					templates[p.Kind]++
				case c.Proof.OK && c.Released:
					cards[p.Kind]++
				case p.ID == "R11" && c.Proof.OK && strings.Contains(c.Why, "top width is known to ±2.1 mm"):
					// It crosses from tread 10 into the kite askew, so that goings read
					// to 1 mm tell in its width. A tenth more than may be: it is held.
					cards[p.Kind]++
				default:
					t.Errorf("%s is neither released nor a template: %s", p.ID, c.Why)
				}
			}
			// 15 risers, of which the first runs round
			if cards[pieces.Riser] != 14 || templates[pieces.Riser] != 1 {
				t.Errorf("risers: %d cards, %d templates", cards[pieces.Riser], templates[pieces.Riser])
			}
			// the top floor's nosing and the landing's; four returns; one floor
			if cards[pieces.LandingNosing] != 2 || cards[pieces.ReturnNosing] != 4 || templates[pieces.LandingFloor] != 1 {
				t.Errorf("cards %v, templates %v", cards, templates)
			}
			// 13 treads: one round, four returned, one kite; the other two winders
			// have four corners, and straight cuts do
			if cards[pieces.Tread] != 7 || templates[pieces.Tread] != 6 {
				t.Errorf("treads: %d cards, %d templates", cards[pieces.Tread], templates[pieces.Tread])
			}
			if len(a.Balusters) != 8 || a.Balusters[0].New != a.Balusters[0].Old-float64(a.Job.Overlay.Tread) {
				t.Errorf("balusters %+v", a.Balusters)
			}
			if s := a.Buildup.RiseAfter.Spread.At; s > 1e-6 {
				t.Errorf("rises differ by %g", s)
			}
		})
	}
}

// Winders that come to a point have three sides, or four with the corner of the
// walls: each has a template, and its narrow end is found wanting.
func TestWindersThatComeToAPoint(t *testing.T) {
	tab, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	j := squareFlight(t, 7)
	j.Code, j.CodeClass = "irc", ""
	j.Flight.Readings = nil
	for i := range j.Flight.Steps {
		j.Flight.Steps[i].Readings = nil
	}
	// Treads 3 to 5 turn to the left about the end of nose 3, between a wall at
	// the right and one beyond. Each back edge starts where the nose does, and
	// the next nose lies in front of it by its set.
	set := float64(model.NoseSetForward(j))
	first := j.Flight.Steps[2].Corners
	p, right := first[0], first[1].X
	beyond := p.Y + right - p.X
	hit := func(p model.Corner, sin, cos float64) model.Corner {
		far := math.Inf(1)
		if cos > 1e-9 {
			far = float64(right-p.X) / cos
		}
		if sin > 1e-9 {
			far = math.Min(far, float64(beyond-p.Y)/sin)
		}
		return model.Corner{X: p.X + model.Length(far*cos), Y: p.Y + model.Length(far*sin)}
	}
	direction := func(k int) (sin, cos float64) { return math.Sincos(float64(k) * math.Pi / 6) }
	for k := range 3 {
		s := &j.Flight.Steps[2+k]
		sin, cos := direction(k)
		s.Corners, s.Edges = []model.Corner{p, hit(p, sin, cos)}, []model.Edge{model.Front, model.Right}
		sin, cos = direction(k + 1)
		back := hit(p, sin, cos)
		if k == 1 { // the corner of the walls
			s.Corners, s.Edges = append(s.Corners, model.Corner{X: right, Y: beyond}), append(s.Edges, model.Right)
		}
		s.Corners, s.Edges = append(s.Corners, back), append(s.Edges, model.Back)
		p = model.Corner{X: p.X + model.Length(set*sin), Y: p.Y - model.Length(set*cos)}
	}
	for k, depth := range []float64{254 + set, float64(j.Overlay.LandingDepth)} {
		x := p.X - model.Length(254*k)
		end := x - model.Length(depth)
		j.Flight.Steps[5+k].Corners = []model.Corner{{X: x, Y: p.Y}, {X: x, Y: beyond}, {X: end, Y: beyond}, {X: end, Y: p.Y}}
	}
	a := solver.Solve(j, tab)
	if a.Survey == nil || a.Survey.Status != survey.Converged {
		t.Fatalf("not solved: %v", a.Findings)
	}
	narrow := map[int]bool{}
	for _, f := range a.Findings {
		if f.Rule == "irc.winder.narrow.min" && f.Severity == model.Outside {
			narrow[f.Where.Step] = true
		}
	}
	for i, corners := range map[int]int{2: 3, 3: 4, 4: 3} {
		if got := len(j.Flight.Steps[i].Corners); got != corners {
			t.Errorf("step %d has %d corners, want %d", i+1, got, corners)
		}
		piece := &a.Pieces[2*i+1]
		if piece.Template == "" || piece.Impossible != "" {
			t.Errorf("%s: template %q, %s", piece.ID, piece.Template, piece.Impossible)
		}
		if w := a.Buildup.Steps[i].Winder; w == nil || math.Abs(w.Narrow().At-set) > 1e-6 || !narrow[i+1] {
			t.Errorf("winder %d: %+v, found: %v; its point is %g wide", i+1, w, narrow[i+1], set)
		}
	}
}
