package bars_test

import (
	"math"
	"sync"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver/bars"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

var shipped = sync.OnceValues(tables.Lighting)

// table returns the shipped tables, with lists of the caller's own.
func table(t testing.TB) model.LightTables {
	t.Helper()
	l, err := shipped()
	if err != nil {
		t.Fatal(err)
	}
	l.Wires = append([]model.WireSize(nil), l.Wires...)
	return l
}

// flight is a job with its estimate made by hand.
type flight struct {
	job model.Job
	res survey.Result
}

// straight makes n steps, square and level, 910 wide, going 254, rise 190, with
// 20 mm treads on 12 mm risers and an overhang of 30.
func straight(n int) *flight {
	f := &flight{job: model.Job{Units: model.Metric, Tolerance: 0.8, SketchSpread: 25,
		Overlay: model.Overlay{Tread: 20, Riser: 12, Landing: 20, LandingDepth: 90, Overhang: 30, Back: model.BackUnderRiser, FloorTop: 20}},
		res: survey.Result{Status: survey.Converged}}
	for k := range n {
		depth := 254 + float64(model.NoseSetForward(f.job))
		if k == n-1 {
			depth = 90
		}
		y, z := 254*float64(k), 190*float64(k+1)-20
		f.job.Flight.Steps = append(f.job.Flight.Steps, model.Step{
			ID: model.NamedID(model.ID{}, string(rune('a'+k))), Edges: model.StraightEdges(),
			Left: model.Side{Kind: model.Wall}, Right: model.Side{Kind: model.Wall},
		})
		f.res.Steps = append(f.res.Steps, survey.Step{
			Corners: []mgl64.Vec2{{0, y}, {910, y}, {910, y + depth}, {0, y + depth}},
			FL:      0, FR: 1, BR: 2, BL: 3, TopLeft: z, TopRight: z, Readiness: survey.ReadyCut,
		})
	}
	return f
}

func (f *flight) light(t testing.TB) model.Lighting {
	l := model.FirstLighting(f.job, table(t))
	l.EyeDistance = 1500
	return l
}

func (f *flight) bars(t testing.TB, l model.Lighting) bars.Result {
	return bars.Make(f.job, l, table(t), pieces.Make(f.job, &f.res))
}

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.9g, want %.9g within %g", what, got, want, tol)
	}
}

func rules(fs []model.Finding) map[string]model.Finding {
	out := map[string]model.Finding{}
	for _, f := range fs {
		out[f.Rule] = f
	}
	return out
}
