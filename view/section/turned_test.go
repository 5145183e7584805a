package section_test

import (
	"fmt"
	"os"
	"testing"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver/buildup"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/section"
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
		o   section.Options
	}{
		"turning-quarter": {turning(t, model.QuarterTurn, model.Left), section.Options{Dimensions: true, Findings: true, Scale: 0.05}},
		"turning-half":    {turning(t, model.HalfTurn, model.Right), section.Options{Dimensions: true, Selected: 6, Handles: true, Scale: 0.05, Cut: buildup.Left}},
	} {
		t.Run(name, func(t *testing.T) {
			c.o.Format = c.job.Format()
			golden(t, name, drawn(answer(t, c.job), c.o).Dump())
		})
	}
}

// Along a flight that turns every nose lies in front of the next, every riser
// stands behind its nose by the set of the nose, and the steps are found under
// the pointer in their own places.
func TestATurningFlightIsUnrolled(t *testing.T) {
	for _, turn := range []model.Turn{model.QuarterTurn, model.HalfTurn} {
		j := turning(t, turn, model.Left)
		a := answer(t, j)
		o := section.Options{Format: j.Format()}
		at := -1e9
		for _, h := range section.Handles(nil, a, o) {
			if h.ID.Kind != handle.TreadHeight {
				continue
			}
			if h.At.X <= at {
				t.Errorf("%s: the tread of step %d lies behind the one below", turn, h.ID.Step)
			}
			at = h.At.X
			if got := section.StepAt(a, o, drawing.Point{X: h.At.X, Y: h.At.Y + 5}); got != h.ID.Step {
				t.Errorf("%s: step %d is found as %d", turn, h.ID.Step, got)
			}
		}
		if at == -1e9 {
			t.Fatal("no handle of a tread")
		}
	}
}

// TestLookTurning writes pictures for eyes when RISEWRIGHT_LOOK names a folder.
func TestLookTurning(t *testing.T) {
	if os.Getenv("RISEWRIGHT_LOOK") == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write pictures for eyes")
	}
	for _, turn := range []model.Turn{model.QuarterTurn, model.HalfTurn} {
		j := turning(t, turn, model.Left)
		a := answer(t, j)
		for kind, o := range map[string]section.Options{
			"flight": {Dimensions: true, Findings: true}, "landing": {Dimensions: true, Findings: true, Selected: 7, Handles: true},
		} {
			o.Format = j.Format()
			v := section.Fit(a, o, 1600, 900, drawing.PaperScale(1))
			o.Scale = v.Scale / v.Paper
			save(t, fmt.Sprintf("section-turning-%s-%s", turn, kind), drawn(a, o), 1600, 900, v, drawing.Light())
		}
	}
}
