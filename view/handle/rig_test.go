package handle_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/plan"
	"risewright/view/section"
)

type point = drawing.Point

// demo returns a job in testdata/jobs.
func demo(tb testing.TB, name string) model.Job {
	tb.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "jobs", name+".risewright.json"))
	if err != nil {
		tb.Fatal(err)
	}
	job, err := model.Decode(text)
	if err != nil {
		tb.Fatal(err)
	}
	return job
}

func solve(tb testing.TB, job model.Job) *solver.Answer {
	tb.Helper()
	t, err := tables.Published()
	if err != nil {
		tb.Fatal(err)
	}
	return solver.Solve(job, t)
}

// unread returns a job with a sketch and nothing read: n risers.
func unread(tb testing.TB, n int) model.Job {
	tb.Helper()
	base := demo(tb, "well-behaved")
	base.Flight = model.Flight{}
	j := model.Sketch(model.SketchSpec{
		Risers: n, Width: 914, Rise: 185, Going: 260, Base: base,
		IDs: func(i int) model.ID { return model.NamedID(base.ID, fmt.Sprint("sketch step ", i)) },
	})
	j.Flight.Rail = []model.Height{
		{ID: model.NamedID(base.ID, "rail low"), Step: j.Flight.Steps[0].ID, Value: 900},
		{ID: model.NamedID(base.ID, "rail high"), Step: j.Flight.Steps[n-1].ID, Value: 910},
	}
	return j
}

// all returns every handle of both drawings.
func all(a *solver.Answer, o handle.Options) []handle.Handle {
	return section.Handles(plan.Handles(nil, a, o), a, o)
}

// find returns the handle called id.
func find(tb testing.TB, a *solver.Answer, o handle.Options, id handle.ID) handle.Handle {
	tb.Helper()
	for _, h := range all(a, o) {
		if h.ID == id {
			return h
		}
	}
	tb.Fatalf("no handle %+v", id)
	return handle.Handle{}
}

// apply applies an edit and fails the test when it does not.
func apply(tb testing.TB, e model.Edit, job model.Job) model.Job {
	tb.Helper()
	if e == nil {
		return job
	}
	out, err := e.Apply(job)
	if err != nil {
		tb.Fatalf("%s: %v", e.Label(), err)
	}
	return out
}

// within returns the part of d along which h can go.
func within(h handle.Handle, d point) point {
	if h.Along == (point{}) {
		return d
	}
	return h.Along.Mul(d.X*h.Along.X + d.Y*h.Along.Y)
}

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }
