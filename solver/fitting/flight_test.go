package fitting_test

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/buildup"
	"risewright/solver/fitting"
	"risewright/solver/survey"
)

const degree = math.Pi / 180

// flight is an estimate made by hand, with the job it belongs to.
type flight struct {
	job model.Job
	res survey.Result
}

// straight is the reference flight of the trade notes: n risers of 190, goings
// of 254, 914 wide, 20 mm overlay, square, plumb and level, between skirts.
func straight(n int) *flight { return leaning(n, [2]float64{}, [2]float64{}, 0) }

// leaning is a flight whose sides are planes that lean from plumb and turn in
// plan, both in radians, left and right, positive opening outwards going up (the
// flight); wobble turns risers and tilts treads by up to so many radians.
func leaning(n int, lean, turn [2]float64, wobble float64) *flight {
	f := &flight{res: survey.Result{Status: survey.Converged}}
	f.job = model.Job{
		Units: model.Metric, Tolerance: 0.8, SketchSpread: 25,
		Existing: model.Existing{Tread: 25, Riser: 19, Overhang: 25},
		Overlay:  model.Overlay{Tread: 20, Riser: 12, Landing: 20, LandingDepth: 90, Overhang: 25, Fit: 0.2, RiserGap: 1, Undercut: 1.5 * model.Degree, Back: model.BackUnderRiser, FloorTop: 20},
	}
	for k := range n {
		a := float64(k)
		depth := 254.0 + 37
		if k == n-1 {
			depth = 90
		}
		s := survey.Step{FL: 0, FR: 1, BR: 2, BL: 3, Lean: lean, Readiness: survey.ReadyCut}
		across, fall := wobble*math.Sin(1.7*a+1), wobble*math.Cos(2.3*a)/2
		front, back := wobble*math.Sin(2.1*a), wobble*math.Sin(2.1*(a+1))
		if k == n-1 {
			back = front
		}
		z := 190 * (a + 1)
		// The two ends of a line across, at y and turned by t, on the sides at
		// the height of the new tread (z plus the overlay). The height of the
		// tread at the corner follows from its tilt; two rounds are enough for
		// 1e-6 mm, for a lean of 3 degrees shrinks the error by 20 each time.
		corner := func(side int, y, t float64) mgl64.Vec2 {
			p := mgl64.Vec2{float64(side) * 914, y}
			sign := float64(2*side - 1)
			for range 8 {
				h := z + 20 + across*p[0] + fall*(p[1]-254*a)
				p[0] = float64(side)*914 + sign*(math.Tan(turn[side])*p[1]+math.Tan(lean[side])*h)
				p[1] = y + math.Tan(t)*(p[0]-457)
			}
			return p
		}
		y := 254 * a
		s.Corners = []mgl64.Vec2{corner(0, y, front), corner(1, y, front), corner(1, y+depth, back), corner(0, y+depth, back)}
		s.TopLeft = z + across*s.Corners[0][0] + fall*(s.Corners[0][1]-y)
		s.TopRight = z + across*s.Corners[1][0] + fall*(s.Corners[1][1]-y)
		e := s.Corners[1].Sub(s.Corners[0]).Normalize()
		// fore and aft is square to the nose line, not along y
		s.Fall = mgl64.Vec2{across, fall}.Dot(mgl64.Vec2{-e[1], e[0]})
		f.res.Steps = append(f.res.Steps, s)
		f.job.Flight.Steps = append(f.job.Flight.Steps, model.Step{
			ID: model.NamedID(model.ID{}, string(rune('a'+k))), Edges: model.StraightEdges(),
			Left: model.Side{Kind: model.Skirt}, Right: model.Side{Kind: model.Skirt}, Nosing: model.NosingCut,
		})
	}
	return f
}

// known gives every corner and height the spread, mm, and leans and slopes
// 1/300 of it, with a correlation between neighbouring unknowns of the same
// step so that nothing may take them for independent.
func (f *flight) known(spread float64) *flight {
	for k := range f.res.Steps {
		s := &f.res.Steps[k]
		_, _, fall, _, _, n := survey.Unknowns(len(s.Corners))
		s.Cov = make([]float64, n*n)
		size := func(i int) float64 {
			if i >= fall {
				return spread / 300
			}
			return spread
		}
		for i := range n {
			for j := range n {
				r := math.Pow(-0.4, math.Abs(float64(i-j)))
				s.Cov[i*n+j] = r * size(i) * size(j)
			}
		}
	}
	return f
}

func (f *flight) sides(left, right model.SideKind) *flight {
	for i := range f.job.Flight.Steps {
		f.job.Flight.Steps[i].Left.Kind, f.job.Flight.Steps[i].Right.Kind = left, right
	}
	return f
}

func (f *flight) solve(w model.Wishes) fitting.Result {
	bu := buildup.Compute(f.job, &f.res)
	return fitting.Solve(fitting.Problem{Job: f.job, Survey: &f.res, Buildup: &bu, Wishes: w})
}

// plain solves without asking what would change the choice.
func (f *flight) plain(w model.Wishes) fitting.Result {
	return fitting.Solve(fitting.Problem{Job: f.job, Survey: &f.res, Wishes: w, Plain: true})
}

// moved returns the flight turned about the origin by a and shifted by d.
func (f *flight) moved(a float64, d mgl64.Vec2) *flight {
	g := &flight{job: f.job, res: f.res}
	g.res.Steps = append([]survey.Step(nil), f.res.Steps...)
	r := mgl64.Rotate2D(a)
	for k := range g.res.Steps {
		s := &g.res.Steps[k]
		s.Corners = append([]mgl64.Vec2(nil), s.Corners...)
		for c := range s.Corners {
			s.Corners[c] = r.Mul2x1(s.Corners[c]).Add(d)
		}
	}
	return g
}

// mirrored returns the flight with left and right swapped.
func (f *flight) mirrored() *flight {
	g := f.moved(0, mgl64.Vec2{})
	for k := range g.res.Steps {
		s := &g.res.Steps[k]
		c := f.res.Steps[k].Corners
		for i, j := range []int{1, 0, 3, 2} {
			s.Corners[i] = mgl64.Vec2{-c[j][0], c[j][1]}
		}
		s.TopLeft, s.TopRight = s.TopRight, s.TopLeft
		s.Lean[0], s.Lean[1] = s.Lean[1], s.Lean[0]
	}
	return g
}
