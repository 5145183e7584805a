package power_test

import (
	"strings"
	"sync"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver/bars"
	"risewright/solver/pieces"
	"risewright/solver/power"
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

// rig is a straight flight with bars under its noses.
type rig struct {
	job    model.Job
	pieces []pieces.Piece
	light  model.Lighting
	table  model.LightTables
}

// newRig makes n steps of the given width, going 254, rise 190. Its lighting is
// the first one given, with 5 V strip of four channels.
func newRig(t testing.TB, n int, width float64) *rig {
	r := &rig{table: table(t), job: model.Job{Units: model.Metric, Tolerance: 0.8, SketchSpread: 25,
		Overlay: model.Overlay{Tread: 20, Riser: 12, Landing: 20, LandingDepth: 90, Overhang: 30, Back: model.BackUnderRiser, FloorTop: 20}}}
	res := survey.Result{Status: survey.Converged}
	for k := range n {
		depth := 254 + float64(model.NoseSetForward(r.job))
		if k == n-1 {
			depth = 90
		}
		y, z := 254*float64(k), 190*float64(k+1)-20
		corners := []mgl64.Vec2{{0, y}, {width, y}, {width, y + depth}, {0, y + depth}}
		step := model.Step{ID: model.NamedID(model.ID{}, string(rune('a'+k))), Edges: model.StraightEdges(),
			Left: model.Side{Kind: model.Wall}, Right: model.Side{Kind: model.Wall}}
		for _, c := range corners {
			step.Corners = append(step.Corners, model.Corner{X: model.Length(c[0]), Y: model.Length(c[1])})
		}
		r.job.Flight.Steps = append(r.job.Flight.Steps, step)
		res.Steps = append(res.Steps, survey.Step{Corners: corners, FL: 0, FR: 1, BR: 2, BL: 3, TopLeft: z, TopRight: z, Readiness: survey.ReadyCut})
	}
	r.pieces = pieces.Make(r.job, &res)
	r.light = model.FirstLighting(r.job, r.table)
	return r
}

func (r *rig) id(step int) model.ID { return r.job.Flight.Steps[step-1].ID }

func (r *rig) bars() bars.Result { return bars.Make(r.job, r.light, r.table, r.pieces) }

func (r *rig) solve() *power.Result {
	in := r.bars()
	return power.Solve(r.job, r.light, r.table, &in)
}

// rule returns the finding of a rule, or fails.
func rule(t testing.TB, fs []model.Finding, id string) model.Finding {
	t.Helper()
	for _, f := range fs {
		if f.Rule == id {
			return f
		}
	}
	t.Errorf("no finding %s among %s", id, list(fs))
	return model.Finding{}
}

func without(t testing.TB, fs []model.Finding, id string) {
	t.Helper()
	for _, f := range fs {
		if f.Rule == id {
			t.Errorf("finding %s: %s (%s)", id, f.Title, f.Detail)
		}
	}
}

func list(fs []model.Finding) string {
	var b strings.Builder
	for _, f := range fs {
		b.WriteString("\n  " + f.Rule + ": " + f.Title + " | " + f.Detail + " | " + f.Remedy)
	}
	return b.String()
}

func says(t testing.TB, text string, want ...string) {
	t.Helper()
	for _, w := range want {
		if !strings.Contains(text, w) {
			t.Errorf("%q does not say %q", text, w)
		}
	}
}
