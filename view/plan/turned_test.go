package plan_test

import (
	"fmt"
	"os"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/app/tables"
	"risewright/model"
	"risewright/view/drawing"
	"risewright/view/plan"
)

// turning returns a job with nothing read and everything that a flight can do
// but run straight: a round starting step, an open side with returns and
// balusters, winders, and a landing with the given turn.
func turning(tb testing.TB, turn model.Turn, side model.Edge) model.Job {
	tb.Helper()
	base, err := tables.NewJob(model.Metric, func(name string) model.ID { return model.NamedID(model.ID{}, name) })
	if err != nil {
		tb.Fatal(err)
	}
	j := model.Sketch(model.SketchSpec{Risers: 15, Width: 900, Rise: 185, Going: 260, Base: base,
		IDs: func(i int) model.ID { return model.NamedID(base.ID, fmt.Sprint("turning ", i)) }})
	id := func(i int) model.ID { return j.Flight.Steps[i].ID }
	other := map[model.Edge]model.Edge{model.Left: model.Right, model.Right: model.Left}
	for _, e := range []model.Edit{
		model.OpenSide{From: id(0), To: id(4), Side: side, Returned: true, Balusters: 2, Length: 850},
		model.StartingStep{Width: 1060, Radius: 120},
		model.InsertLanding{At: id(5), Turn: turn, Side: side, Gap: 200},
		model.TurnToWinders{From: id(9), Count: 3, Angle: 90 * model.Degree, Side: other[side]},
	} {
		k, err := e.Apply(j)
		if err != nil {
			tb.Fatalf("%s: %v", e.Label(), err)
		}
		j = k
	}
	return j
}

func TestGoldenTurning(t *testing.T) {
	for name, c := range map[string]struct {
		job model.Job
		o   plan.Options
	}{
		"turning-quarter": {turning(t, model.QuarterTurn, model.Left), plan.Options{Dimensions: true, Findings: true, Scale: 0.05}},
		"turning-half":    {turning(t, model.HalfTurn, model.Right), plan.Options{Dimensions: true, Selected: 6, Handles: true, Upright: true, Scale: 0.05, Piece: "N03"}},
	} {
		t.Run(name, func(t *testing.T) {
			c.o.Format = c.job.Format()
			golden(t, name, drawn(answer(t, c.job), c.o).Dump())
		})
	}
}

// Every step of a flight that turns is found under the pointer, in the middle
// of its tread.
func TestStepAtInATurn(t *testing.T) {
	for _, turn := range []model.Turn{model.QuarterTurn, model.HalfTurn} {
		j := turning(t, turn, model.Left)
		a := answer(t, j)
		o := plan.Options{Format: j.Format(), Upright: true}
		for i := range a.Survey.Steps[:len(a.Survey.Steps)-1] {
			s, u := &a.Survey.Steps[i], &a.Survey.Steps[i+1]
			// between its nose and the next, where no other tread lies over it
			at := s.Corners[s.FL].Add(s.Corners[s.FR]).Add(u.Corners[u.FL]).Add(u.Corners[u.FR]).Mul(0.25)
			if j.Flight.Steps[i].Landing { // behind its nose line, before the wall
				at = s.Corners[s.FL].Add(s.Corners[s.FR]).Mul(0.5).Add(mgl64.Vec2{0, 400})
			}
			if got := plan.StepAt(a, o, drawing.Point{X: at[0], Y: at[1]}); got != i+1 {
				t.Errorf("%s: step %d is found as %d", turn, i+1, got)
			}
		}
	}
}

// Returns and bars are not drawn where openings are shown out of true.
func TestExaggeratedPlansHaveNoReturns(t *testing.T) {
	j := turning(t, model.QuarterTurn, model.Left)
	a := answer(t, j)
	if n := len(a.Balusters); n != 8 { // two on each of steps 2 to 5; a round step has none
		t.Fatalf("%d balusters", n)
	}
	plainly := drawn(a, plan.Options{Format: j.Format()}).Len()
	if got := drawn(a, plan.Options{Format: j.Format(), Exaggerate: 5}).Len(); got >= plainly {
		t.Errorf("%d things drawn exaggerated, %d plainly", got, plainly)
	}
}

// TestLookTurning writes pictures for eyes when RISEWRIGHT_LOOK names a folder.
func TestLookTurning(t *testing.T) {
	if os.Getenv("RISEWRIGHT_LOOK") == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write pictures for eyes")
	}
	for _, turn := range []model.Turn{model.QuarterTurn, model.HalfTurn} {
		for _, side := range []model.Edge{model.Left, model.Right} {
			j := turning(t, turn, side)
			a := answer(t, j)
			for kind, o := range map[string]plan.Options{
				"flight": {Dimensions: true, Findings: true}, "landing": {Dimensions: true, Findings: true, Selected: 6, Handles: true},
				"kite": {Dimensions: true, Findings: true, Selected: 11, Handles: true, Upright: true},
			} {
				o.Format = j.Format()
				v := plan.Fit(a, o, 1200, 900, drawing.PaperScale(1))
				o.Scale = v.Scale / v.Paper
				save(t, fmt.Sprintf("plan-turning-%s-%s-%s", turn, side, kind), drawn(a, o), 1200, 900, v, drawing.Light())
			}
		}
	}
}
