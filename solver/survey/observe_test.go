package survey

import (
	"math"
	"testing"

	"risewright/model"
)

// Every derivative against a central finite difference.
func TestGradientsMeetDifferences(t *testing.T) {
	rng := newRand(t, 11)
	for f := 0; f < 20; f++ {
		tr := randomTruth(rng, 2+rng.IntN(4))
		if f%2 == 1 {
			makeWinder(&tr.job, rng.IntN(len(tr.job.Flight.Steps)))
			tr.x = newProblem(&tr.job).prior
		}
		p := newProblem(&tr.job)
		x := append([]float64(nil), p.prior...)
		tested := 0
		check := func(what string, r row, predict func() float64) {
			tested++
			dense := map[int]float64{}
			for k := 0; k < r.n; k++ {
				dense[int(r.at[k])] += r.gradient[k]
			}
			for u := range x {
				// Coordinates reach 1e4 mm and h is 1e-3: the rounding of the
				// difference is about 1e4·1e-16/1e-3 = 1e-9, its truncation
				// h²/d² = 1e-10 of a gradient of order 1 at d = 100 mm.
				// Slopes and leans turn whole rises, so their step is smaller.
				h, tolerance := 1e-3, 1e-6
				if p.spread[u] < 1 {
					h = 1e-5
				}
				keep := x[u]
				x[u] = keep + h
				hi := predict()
				x[u] = keep - h
				lo := predict()
				x[u] = keep
				if d := (hi - lo) / (2 * h); math.Abs(d-dense[u]) > tolerance {
					t.Fatalf("flight %d, %s: by unknown %d the gradient is %g, the difference %g", f, what, u, dense[u], d)
				}
			}
		}
		for i := -1; i < len(p.sites); i++ {
			for _, k := range append(model.StepKinds(), model.FlightKinds()...) {
				var r row
				if k.WholeFlight() != (i < 0) || !observe(&r, p.sites, i, k, x) {
					continue
				}
				check(string(k), r, func() float64 {
					var q row
					observe(&q, p.sites, i, k, x)
					return q.predicted
				})
			}
		}
		links := 0
		var r row
		p.eachLink(&r, x, settings{}, func(_, _ float64) { links++ })
		for l := 0; l < links; l++ {
			get := func() (out row) {
				var q row
				n := 0
				p.eachLink(&q, x, settings{}, func(_, _ float64) {
					if n == l {
						out = q
					}
					n++
				})
				return out
			}
			check("link", get(), func() float64 { return get().predicted })
		}
		if tested < 40 {
			t.Fatalf("only %d gradients tested", tested)
		}
	}
}

// makeWinder turns the opening of a step into one of three or five corners.
func makeWinder(j *model.Job, i int) {
	s := &j.Flight.Steps[i]
	c := s.Corners
	if i%2 == 0 { // comes to a point at the left
		s.Corners = []model.Corner{c[0], c[1], c[2]}
		s.Edges = []model.Edge{model.Front, model.Right, model.Back}
		return
	}
	mid := model.Corner{X: (c[1].X+c[2].X)/2 + 40, Y: (c[1].Y + c[2].Y) / 2}
	s.Corners = []model.Corner{c[0], c[1], mid, c[2], c[3]}
	s.Edges = []model.Edge{model.Front, model.Right, model.Right, model.Back, model.Left}
}

// A hand-worked opening, so that each kind's meaning is held by numbers a
// reader can check: a right trapezium 900 wide at the back, 930 at the front,
// 300 deep, its right side square to the riser.
func TestKindsByHand(t *testing.T) {
	j := baseJob()
	step := func(y, h float64, n string) model.Step {
		l := model.Length(y)
		return model.Step{ID: model.NamedID(j.ID, n), Edges: model.StraightEdges(),
			Corners: []model.Corner{{X: -30, Y: l}, {X: 900, Y: l}, {X: 900, Y: l + 300}, {X: 0, Y: l + 300}},
			TopLeft: model.Length(h), TopRight: model.Length(h + 2), Fall: model.Angle(math.Atan(0.01)),
			Left: model.Side{Kind: model.Wall, Lean: 0.02}, Right: model.Side{Kind: model.Wall, Lean: -0.01}}
	}
	j.Flight.Steps = []model.Step{step(0, 180, "a"), step(260, 361, "b")}
	p := newProblem(&j)
	deg := 180 / math.Pi
	for _, row := range []struct {
		step int
		kind model.Kind
		want float64
		unit float64
	}{
		{0, model.FrontWidth, 930, 1},
		{0, model.BackWidth, 900, 1},
		{0, model.MiddleWidth, 915, 1},
		{0, model.LeftDepth, math.Hypot(30, 300), 1},
		{0, model.RightDepth, 300, 1},
		{0, model.DiagonalLeft, math.Hypot(900, 300), 1},
		{0, model.DiagonalRight, math.Hypot(930, 300), 1},
		{0, model.GaugeBackRight, 90, deg},
		{0, model.GaugeFrontRight, 90, deg},
		{0, model.GaugeBackLeft, 90 + math.Atan(0.1)*deg, deg}, // the side opens towards the nose
		{0, model.GaugeFrontLeft, 90 - math.Atan(0.1)*deg, deg},
		{0, model.LeanLeft, 0.02, 1},
		{0, model.LeanRight, -0.01, 1},
		{0, model.RiseLeft, 180, 1},
		{0, model.RiseRight, 182, 1},
		{1, model.RiseLeft, 181, 1},
		{1, model.GoingLeft, 260, 1},
		{1, model.GoingRight, 260, 1},
		{0, model.TiltAcross, math.Atan(2.0 / 930), 1},
		{0, model.TiltFore, math.Atan(0.01), 1},
		{-1, model.TotalRise, 362, 1},
		{-1, model.TotalGoing, 260, 1},
		{-1, model.LongDiagonalLeft, math.Hypot(930, 260), 1},
		{-1, model.LongDiagonalRight, math.Hypot(930, 260), 1},
	} {
		var r obs
		if !observe(&r, p.sites, row.step, row.kind, p.prior) {
			t.Errorf("%s at step %d: not observed", row.kind, row.step+1)
			continue
		}
		if got := r.predicted * row.unit; math.Abs(got-row.want) > 1e-9 {
			t.Errorf("%s at step %d: got %.9g, by hand %.9g", row.kind, row.step+1, got, row.want)
		}
	}
	var r obs
	if observe(&r, p.sites, 0, model.GoingLeft, p.prior) {
		t.Error("step 1 has a going, but there is no nose below it")
	}
}

// obs is row, under a name the table above does not hide.
type obs = row
