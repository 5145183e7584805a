package saw_test

import (
	"math"
	"math/rand/v2"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

const degree = math.Pi / 180

// flight is an estimate made up by the test, with the job it belongs to.
type flight struct {
	job model.Job
	res survey.Result
}

// randomFlight makes a flight of n steps whose every opening is out of true by
// itself: sides to 6 degrees, nose and back to 2, leans to 3, tilt across to 8
// mm and fore-and-aft to 1 in 30, over any usual overlay.
func randomFlight(rng *rand.Rand, n int) *flight {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	pick := func(ps ...float64) float64 { return ps[rng.IntN(len(ps))] }
	f := &flight{res: survey.Result{Status: survey.Converged, Steps: make([]survey.Step, n)}}
	j := &f.job
	j.Units, j.Fraction, j.Tolerance = model.Metric, 0, 0.8
	if rng.IntN(2) == 0 {
		j.Units, j.Fraction = model.Imperial, []int{0, 16, 32}[rng.IntN(3)]
	}
	j.Overlay = model.Overlay{
		Tread: model.Length(between(8, 27)), Riser: model.Length(between(6, 19)), Landing: model.Length(between(15, 27)),
		LandingDepth: model.Length(between(80, 130)), Overhang: model.Length(between(0, 32)),
		Fit: model.Length(pick(0, 0.25, 0.5)), Undercut: model.Angle(pick(0, 1, 2, 3) * degree),
		RiserGap: model.Length(pick(0, 1, 2)), Back: model.BackUnderRiser,
		FloorBottom: model.Length(between(0, 20)), FloorTop: model.Length(between(0, 20)),
	}
	if rng.IntN(2) == 0 {
		j.Overlay.Back = model.BackAgainstRiser
	}
	width, going, rise := between(750, 1150), between(220, 300), between(165, 205)
	forward := float64(model.NoseSetForward(*j))
	kinds := []model.SideKind{model.Wall, model.Skirt, model.Wall, model.Open}
	j.Flight.Steps = make([]model.Step, n)
	for k := range n {
		depth := going + forward
		if k == n-1 {
			depth = float64(j.Overlay.LandingDepth)
		}
		front := float64(k) * going
		left, right := math.Tan(between(-6, 6)*degree), math.Tan(between(-6, 6)*degree)
		nose, back := math.Tan(between(-2, 2)*degree), math.Tan(between(-2, 2)*degree)
		if k == n-1 {
			back = nose + between(-0.02, 0.02) // 80 mm of landing nosing leave room for no more
		}
		// The nose line y = front + nose x, the back y = front + depth + back x,
		// the sides x = left (y - front), x = width - right (y - front).
		meet := func(y0, slope, x0, run float64) mgl64.Vec2 {
			x := (x0 + run*(y0-front)) / (1 - run*slope)
			return mgl64.Vec2{x, y0 + slope*x}
		}
		y0, y1 := front-nose*width/2, front+depth-back*width/2
		f.res.Steps[k] = survey.Step{
			Corners: []mgl64.Vec2{meet(y0, nose, 0, left), meet(y0, nose, width, -right), meet(y1, back, width, -right), meet(y1, back, 0, left)},
			FL:      0, FR: 1, BR: 2, BL: 3,
			TopLeft: rise*float64(k+1) + between(-4, 4), TopRight: rise*float64(k+1) + between(-4, 4), Fall: between(-1, 1) / 30,
			Lean:      [2]float64{between(-3, 3) * degree, between(-3, 3) * degree},
			Readiness: survey.ReadyCut,
		}
		s := &j.Flight.Steps[k]
		s.Edges = model.StraightEdges()
		s.Left.Kind, s.Right.Kind = kinds[rng.IntN(4)], kinds[rng.IntN(4)]
		s.PackLeft, s.PackRight = model.Length(between(-3, 6)), model.Length(between(-3, 6))
	}
	f.known(0.1)
	return f
}

// straightFlight makes a flight without a fault: 914 wide, going 254, rise 190.
func straightFlight(n int) *flight {
	f := &flight{res: survey.Result{Status: survey.Converged}}
	f.job = model.Job{Units: model.Metric, Tolerance: 0.8, Overlay: model.Overlay{
		Tread: 20, Riser: 12, Landing: 20, LandingDepth: 90, Overhang: 25, Back: model.BackUnderRiser}}
	for k := range n {
		depth := 291.0
		if k == n-1 {
			depth = 90
		}
		y, z := 254*float64(k), 190*float64(k+1)
		f.job.Flight.Steps = append(f.job.Flight.Steps, model.Step{Edges: model.StraightEdges(),
			Left: model.Side{Kind: model.Wall}, Right: model.Side{Kind: model.Wall}})
		f.res.Steps = append(f.res.Steps, survey.Step{
			Corners: []mgl64.Vec2{{0, y}, {914, y}, {914, y + depth}, {0, y + depth}},
			FL:      0, FR: 1, BR: 2, BL: 3, TopLeft: z, TopRight: z, Readiness: survey.ReadyCut,
		})
	}
	f.known(0.1)
	return f
}

// known gives every unknown the same spread, 1/300 of it for slopes and leans.
func (f *flight) known(spread float64) {
	_, _, fall, _, _, n := survey.Unknowns(4)
	for k := range f.res.Steps {
		s := &f.res.Steps[k]
		s.Cov, s.Cross = make([]float64, n*n), make([]float64, n*n)
		for i := range n {
			v := spread
			if i >= fall {
				v /= 300
			}
			s.Cov[i*n+i] = v * v
		}
	}
}

func (f *flight) clone() *flight {
	g := &flight{job: f.job, res: f.res}
	g.job.Flight.Steps = append([]model.Step(nil), f.job.Flight.Steps...)
	g.res.Steps = append([]survey.Step(nil), f.res.Steps...)
	for k := range g.res.Steps {
		g.res.Steps[k].Corners = append([]mgl64.Vec2(nil), f.res.Steps[k].Corners...)
	}
	return g
}

func (f *flight) moved(a float64, d mgl64.Vec2) *flight {
	g := f.clone()
	r := mgl64.Rotate2D(a)
	for k := range g.res.Steps {
		for c, p := range g.res.Steps[k].Corners {
			g.res.Steps[k].Corners[c] = r.Mul2x1(p).Add(d)
		}
	}
	return g
}

func (f *flight) mirrored() *flight {
	g := f.clone()
	flip := func(p mgl64.Vec2) mgl64.Vec2 { return mgl64.Vec2{-p[0], p[1]} }
	for k := range g.res.Steps {
		s, c := &g.res.Steps[k], f.res.Steps[k].Corners
		s.Corners = []mgl64.Vec2{flip(c[1]), flip(c[0]), flip(c[3]), flip(c[2])}
		s.TopLeft, s.TopRight = s.TopRight, s.TopLeft
		s.Lean[0], s.Lean[1] = s.Lean[1], s.Lean[0]
		j := &g.job.Flight.Steps[k]
		j.Left, j.Right = j.Right, j.Left
		j.PackLeft, j.PackRight = j.PackRight, j.PackLeft
	}
	return g
}

func (f *flight) pieces() []pieces.Piece { return pieces.Make(f.job, &f.res) }

// yard is a list of stock for tests, in the shape of the real one.
func yard() model.Stock {
	size := func(mm float64, name string, u model.Units) model.StockSize {
		return model.StockSize{Size: model.Length(mm), Name: name, Units: u}
	}
	in, mm := model.Imperial, model.Metric
	return model.Stock{
		TreadLengths: []model.StockSize{size(914.4, "36 in", in), size(1066.8, "42 in", in), size(1219.2, "48 in", in),
			size(900, "900 mm", mm), size(1000, "1000 mm", mm), size(1200, "1200 mm", mm)},
		TreadDepths:   []model.StockSize{size(292.1, "11 1/2 in", in), size(300, "300 mm", mm), size(270, "270 mm", mm)},
		RiserLengths:  []model.StockSize{size(1219.2, "48 in", in), size(2440, "2440 mm sheet", mm)},
		RiserHeights:  []model.StockSize{size(203.2, "8 in", in), size(1220, "1220 mm sheet", mm)},
		LandingDepths: []model.StockSize{size(133.35, "5 1/4 in", in), size(140, "140 mm", mm)},
	}
}
