package plan

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/survey"
	"risewright/view/drawing"
	"risewright/view/handle"
)

const (
	// ghostFrom is how far, in mm and in paper mm, a sketched corner must lie
	// from the estimated one for the sketch to be shown: less is not seen.
	ghostFrom      = 1.0
	ghostFromPaper = 0.3
)

// ghost draws the sketch of every step that differs from the estimate.
func (p *painter) ghost() {
	if !p.o.Ghost || p.a.Survey == nil {
		return
	}
	var s survey.Step
	var shown []mgl64.Vec2
	dots := drawing.Stroke{Ink: drawing.Hold, Width: drawing.Medium, Dash: []float64{0.5, 1.1}}
	for i := range p.steps {
		if !handle.SketchStep(&s, &p.job.Flight.Steps[i]) || len(s.Corners) != len(p.steps[i].Corners) {
			continue
		}
		far := 0.0
		for c, q := range s.Corners {
			far = math.Max(far, q.Sub(p.steps[i].Corners[c]).Len())
		}
		if far < math.Max(ghostFrom, p.paper(ghostFromPaper)) {
			continue
		}
		shown = p.o.Shown(shown[:0], &s)
		p.room = p.room[:0]
		for _, q := range shown {
			p.room = append(p.room, p.o.Turn(q))
		}
		p.l.Polyline(p.room, true, dots)
	}
}

const (
	// ellipseLargest is the half axis, in stair mm, to which the largest
	// ellipse may be magnified: well inside a going, so that none meets its
	// neighbour's.
	ellipseLargest = 36.0
	// ellipseAlone is the same for the chosen step, which has no neighbour.
	ellipseAlone = 70.0
	// ellipseSides are those of the polygon an ellipse is drawn as. A half
	// axis of 36 mm strays by 36·(1-cos(π/20)) = 0.4 mm.
	ellipseSides = 20
	// ellipse95 is the half axis of the ellipse that holds a point with 95 %
	// certainty, in standard deviations: √(-2 ln 0.05).
	ellipse95 = 2.447746831
)

// magnifications an ellipse may be drawn at.
var magnifications = [...]float64{1, 2, 5, 10, 20, 50, 100}

// ellipses draws how sure each corner is within its opening: those of the
// chosen step, or of all when none is.
func (p *painter) ellipses() {
	if !p.o.Uncertainty || p.a.Survey == nil {
		return
	}
	m := p.magnification()
	var cov [12 * 12]float64
	for i := range p.steps {
		s := &p.steps[i]
		if k := p.chosenStep(); k >= 0 && k != i {
			continue
		}
		if !cornerCov(&cov, s) {
			continue
		}
		for c := range s.Corners {
			p.ellipse(i, c, &cov, m)
		}
	}
}

// magnification returns the factor at which the least sure corner of the chosen
// step, or of the flight, is still drawn small.
func (p *painter) magnification() float64 {
	var cov [12 * 12]float64
	largest := 0.0
	for i := range p.steps {
		if k := p.chosenStep(); k >= 0 && k != i {
			continue
		}
		if !cornerCov(&cov, &p.steps[i]) {
			continue
		}
		for c := range p.steps[i].Corners {
			n := 2 * len(p.steps[i].Corners)
			a, _, _ := axesOf(cov[2*c*n+2*c], cov[2*c*n+2*c+1], cov[(2*c+1)*n+2*c+1])
			largest = math.Max(largest, a)
		}
	}
	limit := ellipseLargest
	if p.chosenStep() >= 0 {
		limit = ellipseAlone
	}
	m := 1.0
	for _, f := range magnifications {
		if f*largest*ellipse95 <= limit {
			m = f
		}
	}
	return m
}

// ellipse draws the ellipse of corner c of step i.
func (p *painter) ellipse(i, c int, cov *[12 * 12]float64, m float64) {
	n := 2 * len(p.steps[i].Corners)
	a, b, angle := axesOf(cov[2*c*n+2*c], cov[2*c*n+2*c+1], cov[(2*c+1)*n+2*c+1])
	a, b = math.Min(a*ellipse95*m, 4*ellipseLargest), math.Min(b*ellipse95*m, 4*ellipseLargest)
	if a*p.k < 0.25 { // smaller than a line is wide
		return
	}
	sin, cos := math.Sincos(angle)
	p.room = p.room[:0]
	for t := range ellipseSides {
		st, ct := math.Sincos(2 * math.Pi * float64(t) / ellipseSides)
		d := mgl64.Vec2{a*ct*cos - b*st*sin, a*ct*sin + b*st*cos}
		p.room = append(p.room, p.corner(i, c).Add(p.o.Turn(d)))
	}
	p.l.Polyline(p.room, true, drawing.Stroke{Ink: drawing.Hold, Width: drawing.Thin})
}

// axesOf returns the half axes, greater first, of one standard deviation and
// the angle of the greater, of a covariance xx, xy, yy.
func axesOf(xx, xy, yy float64) (a, b, angle float64) {
	mean, diff := (xx+yy)/2, (xx-yy)/2
	r := math.Hypot(diff, xy)
	return math.Sqrt(math.Max(0, mean+r)), math.Sqrt(math.Max(0, mean-r)), math.Atan2(xy, diff) / 2
}

// cornerCov fills cov, row by row, with the covariance of the corners of s
// within their own opening: moving and turning of the opening as a whole, which
// changes no board, is taken out. That is the S-transformation of geodesy
// (W. Baarda, S-transformations and criterion matrices, 1973; from memory):
// C' = P C Pᵀ with P = I - G(GᵀG)⁻¹Gᵀ, where the columns of G move and turn the
// opening. It returns false when there is no covariance.
func cornerCov(cov *[12 * 12]float64, s *survey.Step) bool {
	corners := len(s.Corners)
	n := 2 * corners
	_, _, _, _, _, all := survey.Unknowns(corners)
	if len(s.Cov) != all*all || n > 12 {
		return false
	}
	var mid mgl64.Vec2
	for _, c := range s.Corners {
		mid = mid.Add(c.Mul(1 / float64(corners)))
	}
	// About the middle the three columns are square to each other.
	var g [3][12]float64
	turn := 0.0
	for c, q := range s.Corners {
		d := q.Sub(mid)
		g[0][2*c], g[1][2*c+1] = 1/math.Sqrt(float64(corners)), 1/math.Sqrt(float64(corners))
		g[2][2*c], g[2][2*c+1] = -d[1], d[0]
		turn += d.Dot(d)
	}
	if turn == 0 {
		return false
	}
	for i := range n {
		g[2][i] /= math.Sqrt(turn)
	}
	for i := range n {
		for k := range n {
			cov[i*n+k] = s.Cov[i*all+k]
		}
	}
	for i := range n { // rows: P C
		for _, v := range &g {
			sum := 0.0
			for k := range n {
				sum += cov[i*n+k] * v[k]
			}
			for k := range n {
				cov[i*n+k] -= sum * v[k]
			}
		}
	}
	for k := range n { // and columns: P C Pᵀ
		for _, v := range &g {
			sum := 0.0
			for i := range n {
				sum += cov[i*n+k] * v[i]
			}
			for i := range n {
				cov[i*n+k] -= sum * v[i]
			}
		}
	}
	return true
}

// certaintyNote says how the ellipses are drawn.
func (p *painter) certaintyNote() string {
	return fmt.Sprintf("95 %% ellipses ×%g", p.magnification())
}
