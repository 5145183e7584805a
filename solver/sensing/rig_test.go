package sensing_test

import (
	"testing"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/sensing"
)

// published returns the tables that ship with the program.
func published(tb testing.TB) model.Tables {
	tb.Helper()
	t, err := tables.Published()
	if err != nil {
		tb.Fatal(err)
	}
	return t
}

// straight returns a straight flight of n risers, 914 wide, rise 190, going 254:
// the reference flight of the trade reference.
func straight(tb testing.TB, n int) model.Job {
	tb.Helper()
	j, err := tables.NewJob(model.Metric, func(name string) model.ID { return model.NamedID(model.ID{}, name) })
	if err != nil {
		tb.Fatal(err)
	}
	j.ID = model.NamedID(model.ID{}, "job")
	return model.Sketch(model.SketchSpec{Risers: n, Width: 914, Rise: 190, Going: 254, Base: j,
		IDs: func(i int) model.ID { return model.NamedID(j.ID, string(rune('a'+i))) }})
}

// stairOf returns the stair of a job.
func stairOf(tb testing.TB, j model.Job, t model.Tables) *sensing.Stair {
	tb.Helper()
	a := solver.Solve(j, t)
	if a.Survey == nil {
		tb.Fatalf("not solved: %v", a.Findings)
	}
	st := sensing.From(&j, a.Survey, a.Pieces, a.Balusters, &t.Senses)
	if st == nil {
		tb.Fatal("no stair")
	}
	return st
}

// flights returns stairs of several shapes: closed, open at the right with
// balusters, with a quarter landing, and with winders.
func flights(tb testing.TB) []model.Job {
	tb.Helper()
	apply := func(j model.Job, edits ...model.Edit) model.Job {
		for _, e := range edits {
			var err error
			if j, err = e.Apply(j); err != nil {
				tb.Fatal(err)
			}
		}
		return j
	}
	j := straight(tb, 13)
	ids := func(k int) model.ID { return j.Flight.Steps[k-1].ID }
	return []model.Job{
		straight(tb, 14),
		apply(j, model.OpenSide{From: ids(1), To: ids(13), Side: model.Right, Balusters: 2}),
		apply(j, model.InsertLanding{At: ids(7), Turn: model.QuarterTurn, Side: model.Left}),
		apply(j, model.InsertLanding{At: ids(6), Turn: model.HalfTurn, Side: model.Right, Gap: 100}),
		apply(j, model.TurnToWinders{From: ids(6), Count: 3, Angle: 90 * model.Degree, Side: model.Left}),
	}
}
