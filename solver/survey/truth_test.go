package survey

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"risewright/model"
)

// truth is a stair whose real shape is known, for tests: the job carries the
// sketch and the readings, x the real unknowns in the order of problem.
type truth struct {
	job model.Job
	x   []float64
}

// testInstruments are one instrument for each quantity of the survey. Spreads
// are the trade's usual ones (common practice, no source).
func testInstruments() []model.Instrument {
	deg := float64(model.Degree)
	return []model.Instrument{
		{ID: "rods", Name: "pinch rods", Measures: model.QuantityLength, Spread: 0.35,
			Default: []model.Kind{model.FrontWidth, model.MiddleWidth, model.BackWidth}},
		{ID: "rule", Name: "steel rule", Measures: model.QuantityLength, Spread: 0.5,
			Default: []model.Kind{model.LeftDepth, model.RightDepth}},
		{ID: "long rods", Name: "rods on the diagonal", Measures: model.QuantityLength, Spread: 0.7,
			Default: []model.Kind{model.DiagonalLeft, model.DiagonalRight}},
		{ID: "level", Name: "long level and rule", Measures: model.QuantityLength, Spread: 1,
			Default: []model.Kind{model.RiseLeft, model.RiseRight, model.GoingLeft, model.GoingRight}},
		{ID: "laser", Name: "laser", Measures: model.QuantityLength, Spread: 1.5, Default: model.FlightKinds()},
		{ID: "gauge", Name: "digital gauge", Measures: model.QuantityAngle, Spread: 0.2 * deg},
		{ID: "feeler", Name: "square and feelers", Measures: model.QuantityLean, Spread: 0.086 * deg},
		{ID: "spirit", Name: "spirit level", Measures: model.QuantitySlope, Spread: 0.0005},
	}
}

func testStates() []model.StateRow {
	return []model.StateRow{
		{State: model.Guessed, Length: 10, Angle: 0.035, Slope: 0.01},
		{State: model.OverCarpet, Length: 4, Angle: 0.017, Slope: 0.004},
		{State: model.Bare}, {State: model.Checked},
	}
}

// baseJob is a job with an overlay and instruments, and no flight yet.
func baseJob() model.Job {
	return model.Job{
		ID: model.NamedID(model.ID{}, "survey test"), Name: "test", Units: model.Metric, Code: "irc",
		Tolerance: 0.8, SketchSpread: 25,
		Instruments: testInstruments(), States: testStates(),
		Existing: model.Existing{Tread: 25, Riser: 19, Overhang: 25},
		Overlay: model.Overlay{Tread: 20, Riser: 12, Landing: 20, LandingDepth: 90, Overhang: 25, Fit: 0.2,
			Undercut: 1.5 * model.Degree, RiserGap: 1, Back: model.BackUnderRiser},
	}
}

// randomTruth builds a flight of n risers with straight sides that taper by up
// to 6 degrees, risers out of square, leans to 3 degrees and treads out of level.
func randomTruth(rng *rand.Rand, n int) truth {
	j := baseJob()
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	width, going, rise := between(800, 1100), between(220, 300), between(165, 205)
	limit := 6 * math.Pi / 180
	if length := float64(n) * going; math.Tan(limit)*length > width/4 {
		limit = math.Atan(width / 4 / length) // so that a long flight does not close up
	}
	left, right := between(-limit, limit), between(-limit, limit)
	forward := float64(model.NoseSetForward(j))
	lean := 3 * math.Pi / 180
	if height := float64(n) * rise; math.Tan(lean)*height > width/8 {
		lean = math.Atan(width / 8 / height)
	}
	leanLeft, leanRight := between(-lean, lean), between(-lean, lean)
	// a line across: through (0, y) with slope t. The sides are planes:
	// at height h they have moved outwards, square to themselves, by h times the tangent of the lean
	type line struct{ y, t float64 }
	meet := func(l line, x0, tan float64) model.Corner {
		y := (l.y + l.t*x0) / (1 - l.t*tan)
		return model.Corner{X: model.Length(x0 + y*tan), Y: model.Length(y)}
	}
	face := make([]line, n)
	for k := range face {
		face[k] = line{forward + float64(k)*going + between(-3, 3), math.Tan(between(-1, 1) * math.Pi / 180)}
	}
	shift := func(l line, d float64) line { return line{l.y + d*math.Hypot(1, l.t), l.t} }
	tl, tr := math.Tan(left), math.Tan(right)
	j.Flight.Steps = make([]model.Step, n)
	for k := range j.Flight.Steps {
		front := shift(face[k], -forward)
		back := shift(front, float64(j.Overlay.LandingDepth))
		if k+1 < n {
			back = face[k+1]
		}
		h := float64(k+1)*rise + between(-4, 4)
		tilt := between(-3, 3)
		xl := -h * math.Tan(leanLeft) / math.Cos(left) // a lean is square to its side
		xr := width + (h+tilt)*math.Tan(leanRight)/math.Cos(right)
		j.Flight.Steps[k] = model.Step{
			ID:      model.NamedID(j.ID, fmt.Sprint("step", k)),
			Corners: []model.Corner{meet(front, xl, tl), meet(front, xr, tr), meet(back, xr, tr), meet(back, xl, tl)},
			Edges:   model.StraightEdges(),
			TopLeft: model.Length(h), TopRight: model.Length(h + tilt), Fall: model.Angle(between(-0.005, 0.005)),
			Left:   model.Side{Kind: model.Skirt, Lean: model.Angle(leanLeft)},
			Right:  model.Side{Kind: model.Wall, Lean: model.Angle(leanRight)},
			Nosing: model.NosingCut,
		}
	}
	return truth{job: j, x: newProblem(&j).prior}
}

// read takes every reading the truth can give, with noise of so many spreads.
func (tr *truth) read(rng *rand.Rand, noise float64, kinds ...model.Kind) {
	if kinds == nil {
		kinds = append(model.StepKinds(), model.FlightKinds()...)
	}
	p := newProblem(&tr.job)
	var r row
	take := func(step int, k model.Kind) (model.Reading, bool) {
		if k.WholeFlight() != (step < 0) || !observe(&r, p.sites, step, k, tr.x) {
			return model.Reading{}, false
		}
		in, ok := tr.job.DefaultInstrument(k)
		if !ok {
			panic("no instrument for " + k)
		}
		return model.Reading{
			ID: model.NamedID(tr.job.ID, fmt.Sprint(step, k)), Kind: k, Instrument: in.ID, State: model.Bare,
			Value: r.predicted + noise*in.Spread*rng.NormFloat64(),
		}, true
	}
	for _, k := range kinds {
		if v, ok := take(-1, k); ok {
			tr.job.Flight.Readings = append(tr.job.Flight.Readings, v)
		}
		for i := range tr.job.Flight.Steps {
			if v, ok := take(i, k); ok {
				tr.job.Flight.Steps[i].Readings = append(tr.job.Flight.Steps[i].Readings, v)
			}
		}
	}
}

// blur moves every sketched corner and height by up to d mm each way.
func (tr *truth) blur(rng *rand.Rand, d float64) {
	off := func() model.Length { return model.Length(d * (2*rng.Float64() - 1)) }
	for i := range tr.job.Flight.Steps {
		s := &tr.job.Flight.Steps[i]
		s.Corners = append([]model.Corner(nil), s.Corners...)
		for c := range s.Corners {
			s.Corners[c].X += off()
			s.Corners[c].Y += off()
		}
		s.TopLeft += off()
		s.TopRight += off()
		s.Fall, s.Left.Lean, s.Right.Lean = 0, 0, 0
	}
}

// worstCorner returns the largest distance of an estimated corner from the truth.
func (tr *truth) worstCorner(res *Result) float64 {
	p := newProblem(&tr.job)
	w := 0.0
	for i, s := range p.sites {
		for c, q := range res.Steps[i].Corners {
			w = math.Max(w, math.Hypot(q[0]-tr.x[s.corner(c)], q[1]-tr.x[s.corner(c)+1]))
		}
	}
	return w
}

// full says whether the long sweeps are wanted, as CI does.
func full() bool { return os.Getenv("RISEWRIGHT_FULL") != "" }

// sweep returns the number of random flights for a test.
func sweep(quick, whole int) int {
	if full() {
		return whole
	}
	return quick
}

// newRand returns a generator and prints its seed when the test fails.
func newRand(t testing.TB, seed uint64) *rand.Rand {
	t.Helper()
	t.Cleanup(func() {
		if t.Failed() {
			t.Logf("seed %d; run again with go test -run '^%s$' ./solver/survey", seed, t.Name())
		}
	})
	return rand.New(rand.NewPCG(seed, 0x5742))
}
