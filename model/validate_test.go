package model_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"risewright/model"
)

// blocks lists the rules of the stop findings of j, in order.
func blocks(j model.Job) []string {
	var out []string
	for _, f := range j.Validate() {
		if f.Severity == model.Block {
			out = append(out, f.Rule)
		}
	}
	return out
}

func TestValidatePlain(t *testing.T) {
	if got := plainJob(14).Validate(); len(got) != 0 {
		t.Errorf("a plain job has findings: %v", got)
	}
	long := plainJob(41).Validate()
	if len(long) != 1 || long[0].Severity != model.Note || !strings.Contains(long[0].Title, "41 risers") {
		t.Errorf("41 risers: %v, want one note", long)
	}
}

// TestValidateRules breaks a plain job in one way at a time. Each must give
// exactly the one stop finding, with its place in words or numbers.
func TestValidateRules(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(*model.Job)
		rule  string
		where model.Place
	}{
		{"one riser", func(j *model.Job) { j.Flight.Steps, j.Flight.Headroom = j.Flight.Steps[:1], nil }, "job.steps", model.Place{Field: "flight.steps"}},
		{"units", func(j *model.Job) { j.Units = "" }, "job.units", model.Place{Field: "units"}},
		{"revision", func(j *model.Job) { j.Revision = -1 }, "job.revision", model.Place{Field: "revision"}},
		{"tolerance", func(j *model.Job) { j.Tolerance = -1 }, "job.size", model.Place{Field: "tolerance"}},
		{"tolerance NaN", func(j *model.Job) { j.Tolerance = model.Length(nan) }, "job.size", model.Place{Field: "tolerance"}},
		{"landing", func(j *model.Job) { j.Overlay.LandingDepth = 0 }, "job.size", model.Place{Field: "overlay.landing_depth"}},
		{"floor", func(j *model.Job) { j.Overlay.FloorTop = -1 }, "job.size", model.Place{Field: "overlay.floor_top"}},
		{"floor too high", func(j *model.Job) { j.Overlay.FloorTop = 1e6 }, "job.size", model.Place{Field: "overlay.floor_top"}},
		{"undercut", func(j *model.Job) { j.Overlay.Undercut = -0.01 }, "job.undercut", model.Place{Field: "overlay.undercut"}},
		{"no step id", func(j *model.Job) { j.Flight.Steps[2].ID = model.ID{} }, "job.id", model.Place{Step: 3}},
		{"two corners", func(j *model.Job) { j.Flight.Steps[2].Corners = j.Flight.Steps[2].Corners[:2] }, "job.corners", model.Place{Step: 3}},
		{"edges and corners", func(j *model.Job) { j.Flight.Steps[2].Edges = j.Flight.Steps[2].Edges[:3] }, "job.edges", model.Place{Step: 3}},
		{"edges out of order", func(j *model.Job) {
			j.Flight.Steps[2].Edges = []model.Edge{model.Front, model.Back, model.Right, model.Left}
		}, "job.edges", model.Place{Step: 3}},
		{"two fronts", func(j *model.Job) {
			j.Flight.Steps[2].Edges = []model.Edge{model.Front, model.Front, model.Back, model.Left}
		}, "job.edges", model.Place{Step: 3}},
		{"no front first", func(j *model.Job) {
			j.Flight.Steps[2].Edges = []model.Edge{model.Right, model.Right, model.Back, model.Left}
		}, "job.edges", model.Place{Step: 3}},
		{"unknown edge", func(j *model.Job) {
			j.Flight.Steps[2].Edges = []model.Edge{model.Front, "middle", model.Back, model.Left}
		}, "job.edges", model.Place{Step: 3}},
		{"clockwise", func(j *model.Job) { c := j.Flight.Steps[2].Corners; c[1], c[3] = c[3], c[1] }, "job.polygon", model.Place{Step: 3}},
		{"no area", func(j *model.Job) {
			for i := range j.Flight.Steps[2].Corners {
				j.Flight.Steps[2].Corners[i].Y = 0
			}
		}, "job.polygon", model.Place{Step: 3}},
		{"corner on an edge", func(j *model.Job) {
			j.Flight.Steps[2].Corners = []model.Corner{{X: 0, Y: 0}, {X: 900, Y: 0}, {X: 900, Y: 300}, {X: 400, Y: 0}, {X: 0, Y: 300}}
			j.Flight.Steps[2].Edges = []model.Edge{model.Front, model.Right, model.Back, model.Left, model.Left}
		}, "job.polygon", model.Place{Step: 3}},
		{"edge of no length", func(j *model.Job) { c := j.Flight.Steps[2].Corners; c[3] = c[2] }, "job.polygon", model.Place{Step: 3}},
		{"corner NaN", func(j *model.Job) { j.Flight.Steps[2].Corners[0].X = model.Length(nan) }, "job.corner", model.Place{Step: 3}},
		{"height", func(j *model.Job) { j.Flight.Steps[2].TopRight = model.Length(inf) }, "job.height", model.Place{Step: 3}},
		{"fall", func(j *model.Job) { j.Flight.Steps[2].Fall = 1 }, "job.height", model.Place{Step: 3}},
		{"side", func(j *model.Job) { j.Flight.Steps[2].Right.Kind = "" }, "job.side", model.Place{Step: 3}},
		{"lean", func(j *model.Job) { j.Flight.Steps[2].Right.Lean = -1 }, "job.lean", model.Place{Step: 3}},
		{"nosing", func(j *model.Job) { j.Flight.Steps[2].Nosing = "gone" }, "job.nosing", model.Place{Step: 3}},
		{"many readings", func(j *model.Job) {
			for i := range model.MaxReadings + 1 {
				j.Flight.Steps[2].Readings = append(j.Flight.Steps[2].Readings, backWidth(fmt.Sprint("many ", i)))
			}
		}, "job.readings", model.Place{Step: 3}},
		{"state without a row", func(j *model.Job) {
			j.Flight.Steps[0].Readings[0].State = model.Guessed
			j.States = j.States[1:]
		}, "job.reading.state", model.Place{Step: 1, Kind: model.BackWidth, Reading: id("reading a")}},
		{"instrument's text", func(j *model.Job) { j.Instruments[1].Note = strings.Repeat("x", model.MaxText) }, "job.text", model.Place{Field: "instruments.1"}},
		{"many defaults", func(j *model.Job) {
			j.Instruments[0].Default = slices.Repeat([]model.Kind{model.BackWidth}, 101)
		}, "job.reading.kind", model.Place{Field: "instruments.0"}},
		{"default kind", func(j *model.Job) { j.Instruments[0].Default[0] = "girth" }, "job.reading.kind", model.Place{Field: "instruments.0"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := plainJob(4)
			c.spoil(&j)
			var got []model.Finding
			for _, f := range j.Validate() {
				if f.Severity == model.Block {
					got = append(got, f)
				}
			}
			if len(got) != 1 || got[0].Rule != c.rule || got[0].Where != c.where {
				t.Fatalf("got %+v, want one %s at %+v", got, c.rule, c.where)
			}
			if got[0].Title == "" || got[0].Remedy == "" {
				t.Errorf("title %q, remedy %q: both are needed", got[0].Title, got[0].Remedy)
			}
		})
	}
}

// TestValidateBareWithoutARow: a state on bare wood adds nothing, so it needs
// no row.
func TestValidateBareWithoutARow(t *testing.T) {
	j := plainJob(4)
	j.States = nil
	if got := blocks(j); len(got) != 0 {
		t.Errorf("bare readings without a table of states: %v", got)
	}
}

// TestValidateFollowsNoPlace moves and turns a flight: what is valid stays so,
// and what crosses still crosses.
func TestValidateFollowsNoPlace(t *testing.T) {
	for _, spoil := range []bool{false, true} {
		for _, shift := range []model.Corner{{}, {X: 1e4, Y: -3e4}, {X: -4e5, Y: 4e5}} {
			j := plainJob(4)
			for i := range j.Flight.Steps {
				cs := j.Flight.Steps[i].Corners
				if spoil && i == 1 {
					cs[2], cs[3] = cs[3], cs[2]
				}
				for k, c := range cs { // a quarter turn anticlockwise
					cs[k] = model.Corner{X: -c.Y + shift.X, Y: c.X + shift.Y}
				}
			}
			if got := blocks(j); (len(got) > 0) != spoil {
				t.Errorf("crossed %v, moved by %v: %v", spoil, shift, got)
			}
		}
	}
}
