package template_test

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/buildup"
	"risewright/solver/pieces"
	"risewright/solver/skirt"
	"risewright/solver/survey"
	"risewright/view/template"
)

const degree = math.Pi / 180

// flight makes the boards of n steps between skirts that lean 2° and 1° and
// turn in plan, so that nothing is square. Step 3 of more than three is a
// winder of five corners.
func flight(n int) (model.Job, *survey.Result, []pieces.Piece) {
	job := model.Job{
		Units: model.Metric, Tolerance: 0.8, SketchSpread: 25,
		Existing: model.Existing{Tread: 25, Riser: 19, Overhang: 25},
		Overlay: model.Overlay{Tread: 20, Riser: 12, Landing: 20, LandingDepth: 90, Overhang: 25, Fit: 0.2, RiserGap: 1,
			Undercut: 1.5 * model.Degree, Back: model.BackUnderRiser, FloorTop: 20},
	}
	res := &survey.Result{Status: survey.Converged}
	for k := range n {
		depth := 291.0
		if k == n-1 {
			depth = 90
		}
		y, z := 254*float64(k), 190*float64(k+1)
		left := func(y float64) float64 { return -0.02*y - math.Tan(2*degree)*z }
		right := func(y float64) float64 { return 914 + 0.01*y + math.Tan(1*degree)*z }
		s := survey.Step{
			Corners: []mgl64.Vec2{{left(y), y + 3}, {right(y), y}, {right(y + depth), y + depth}, {left(y + depth), y + depth - 2}},
			FL:      0, FR: 1, BR: 2, BL: 3, TopLeft: z, TopRight: z + 2, Lean: [2]float64{2 * degree, 1 * degree}, Readiness: survey.ReadyCut,
		}
		j := model.Step{ID: model.NamedID(model.ID{}, string(rune('a'+k))), Edges: model.StraightEdges(),
			Left: model.Side{Kind: model.Skirt}, Right: model.Side{Kind: model.Skirt}, Nosing: model.NosingCut}
		if k == 2 && n > 3 {
			s.Corners = []mgl64.Vec2{{left(y), y}, {right(y), y}, {right(y + 190), y + 190}, {600, y + 470}, {left(y + 380), y + 380}}
			s.BR, s.BL = 3, 4
			j.Edges = []model.Edge{model.Front, model.Right, model.Right, model.Back, model.Left}
		}
		res.Steps = append(res.Steps, s)
		job.Flight.Steps = append(job.Flight.Steps, j)
	}
	for k := range res.Steps {
		s := &res.Steps[k]
		count := func(s *survey.Step) (int, int) {
			_, _, fall, _, _, n := survey.Unknowns(len(s.Corners))
			return fall, n
		}
		fall, n := count(s)
		s.Cov = make([]float64, n*n)
		for i := range n {
			v := 0.1
			if i >= fall {
				v /= 300
			}
			s.Cov[i*n+i] = v * v
		}
		if k > 0 {
			_, before := count(&res.Steps[k-1])
			s.Cross = make([]float64, n*before)
		}
	}
	return job, res, pieces.Make(job, res)
}

// board returns the piece called id of a flight of five steps.
func board(t testing.TB, id string) *pieces.Piece {
	t.Helper()
	_, _, ps := flight(5)
	for i := range ps {
		if ps[i].ID == id {
			if ps[i].Impossible != "" {
				t.Fatal(ps[i].Impossible)
			}
			return &ps[i]
		}
	}
	t.Fatalf("no piece %s", id)
	return nil
}

// shapeOf returns the template of a piece of that flight.
func shapeOf(t testing.TB, id string) template.Shape {
	t.Helper()
	s, err := template.Piece(board(t, id), model.Format{Units: model.Metric, Step: 0.1}, "")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// skirts returns the templates of all new boards of a flight of n steps.
func skirts(t testing.TB, n int) []template.Shape {
	t.Helper()
	job, res, _ := flight(3)
	if n != 3 {
		job, res, _ = straightFlight(n)
	}
	ps := pieces.Make(job, res)
	var out []template.Shape
	for _, b := range skirt.Make(job, res, &buildup.Result{}, ps, skirt.Spec{Profile: skirt.Profile{Shape: skirt.Bullnose}}) {
		if b.Treatment == skirt.Kept {
			continue
		}
		s, err := template.Skirt(&b, model.Format{Units: model.Metric, Step: 0.1}, "")
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, s)
	}
	if len(out) == 0 {
		t.Fatal("no skirt boards")
	}
	return out
}

// straightFlight is flight without the winder, its sides plane.
func straightFlight(n int) (model.Job, *survey.Result, []pieces.Piece) {
	job, res, _ := flight(3)
	job.Flight.Steps, res.Steps = nil, nil
	for k := range n {
		depth := 291.0
		if k == n-1 {
			depth = 90
		}
		y, z := 254*float64(k), 190*float64(k+1)
		lean := [2]float64{2 * degree, 1 * degree}
		x := func(side int, y float64) float64 {
			sign := float64(2*side - 1)
			return 914*float64(side) + sign*(0.01*y+math.Tan(lean[side])*(z+20))
		}
		res.Steps = append(res.Steps, survey.Step{
			Corners: []mgl64.Vec2{{x(0, y), y}, {x(1, y), y}, {x(1, y+depth), y + depth}, {x(0, y+depth), y + depth}},
			FL:      0, FR: 1, BR: 2, BL: 3, TopLeft: z, TopRight: z, Lean: lean, Readiness: survey.ReadyCut,
		})
		job.Flight.Steps = append(job.Flight.Steps, model.Step{ID: model.NamedID(model.ID{}, string(rune('a'+k))), Edges: model.StraightEdges(),
			Left: model.Side{Kind: model.Skirt}, Right: model.Side{Kind: model.Skirt}, Nosing: model.NosingCut})
	}
	return job, res, nil
}
