package pieces_test

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

const degree = math.Pi / 180

// plainJob is a job without a flight: 20 mm treads on 12 mm risers, 25 mm
// overhang, everything else nil unless a test sets it.
func plainJob() model.Job {
	return model.Job{
		Units: model.Metric, Tolerance: 0.8, SketchSpread: 25,
		Overlay: model.Overlay{Tread: 20, Riser: 12, Landing: 20, LandingDepth: 90, Overhang: 25, Back: model.BackUnderRiser},
	}
}

// flight is an estimate made by hand, with the job it belongs to.
type flight struct {
	job model.Job
	res survey.Result
}

// straight makes a flight of n steps, square and level, 914 wide, going 254,
// rise 190. Every step is ready for the saw and known to 0.1 mm.
func straight(n int) *flight {
	f := &flight{job: plainJob(), res: survey.Result{Status: survey.Converged}}
	for k := range n {
		depth := 254 + float64(model.NoseSetForward(f.job))
		if k == n-1 {
			depth = 90
		}
		y, z := 254*float64(k), 190*float64(k+1)
		f.job.Flight.Steps = append(f.job.Flight.Steps, model.Step{
			ID:    model.NamedID(model.ID{}, string(rune('a'+k))),
			Edges: model.StraightEdges(),
			Left:  model.Side{Kind: model.Wall}, Right: model.Side{Kind: model.Skirt},
		})
		f.res.Steps = append(f.res.Steps, survey.Step{
			Corners: []mgl64.Vec2{{0, y}, {914, y}, {914, y + depth}, {0, y + depth}},
			FL:      0, FR: 1, BR: 2, BL: 3, TopLeft: z, TopRight: z,
			Readiness: survey.ReadyCut,
		})
	}
	f.known(0.1)
	return f
}

// crooked makes a flight in which nothing is square, level, plumb or parallel.
func crooked(n int) *flight {
	f := straight(n)
	o := &f.job.Overlay
	o.Fit, o.Undercut, o.RiserGap, o.FloorBottom, o.FloorTop = 0.25, 1.5*model.Degree, 1, 15, 18
	for k := range f.res.Steps {
		s := &f.res.Steps[k]
		a := float64(k)
		for c := range s.Corners {
			s.Corners[c][0] += 12 * math.Sin(2.1*a+1.3*float64(c))
			s.Corners[c][1] += 9 * math.Sin(1.7*a+2.9*float64(c)+1)
		}
		s.TopLeft += 6 * math.Sin(3*a)
		s.TopRight += 6 * math.Cos(2*a)
		s.Fall = 0.02 * math.Sin(5*a+1)
		s.Lean = [2]float64{3 * degree * math.Sin(1.1*a+0.4), 3 * degree * math.Cos(1.9*a)}
		j := &f.job.Flight.Steps[k]
		j.PackLeft, j.PackRight = model.Length(2*math.Sin(a)), model.Length(2*math.Sin(1.3*a+0.2))
		if k%3 == 1 {
			j.Thickness = 22
		}
	}
	return f
}

// known gives every unknown the same spread, mm or 1/300 of it for slopes and
// leans, and no correlation.
func (f *flight) known(spread float64) {
	for k := range f.res.Steps {
		s := &f.res.Steps[k]
		_, _, fall, _, _, n := survey.Unknowns(len(s.Corners))
		s.Cov = make([]float64, n*n)
		for i := range n {
			v := spread
			if i >= fall {
				v /= 300
			}
			s.Cov[i*n+i] = v * v
		}
		if k > 0 {
			s.Cross = make([]float64, n*countOf(&f.res.Steps[k-1]))
		}
	}
}

func countOf(s *survey.Step) int {
	_, _, _, _, _, n := survey.Unknowns(len(s.Corners))
	return n
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

func (f *flight) make() []pieces.Piece { return pieces.Make(f.job, &f.res) }

// named returns the piece called id.
func (f *flight) named(t testing.TB, id string) pieces.Piece {
	t.Helper()
	ps := f.make()
	for i := range ps {
		if ps[i].ID == id {
			return ps[i]
		}
	}
	t.Fatalf("no piece %s", id)
	return pieces.Piece{}
}

// moved returns the flight turned about the origin by a and shifted by d.
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

// mirrored returns the flight with left and right swapped. Only for openings
// of four corners.
func (f *flight) mirrored() *flight {
	g := f.clone()
	flip := func(p mgl64.Vec2) mgl64.Vec2 { return mgl64.Vec2{-p[0], p[1]} }
	for k := range g.res.Steps {
		s := &g.res.Steps[k]
		c := f.res.Steps[k].Corners
		s.Corners = []mgl64.Vec2{flip(c[1]), flip(c[0]), flip(c[3]), flip(c[2])}
		s.TopLeft, s.TopRight = s.TopRight, s.TopLeft
		s.Lean[0], s.Lean[1] = s.Lean[1], s.Lean[0]
		j := &g.job.Flight.Steps[k]
		j.Left, j.Right = j.Right, j.Left
		j.PackLeft, j.PackRight = j.PackRight, j.PackLeft
	}
	return g
}

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.9g, want %.9g within %g", what, got, want, tol)
	}
}
