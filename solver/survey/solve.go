package survey

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// Solve estimates the flight. The job must have passed Validate without a
// Block finding. It is pure: the same job gives the same result to the bit.
func Solve(job model.Job) *Result {
	p := newProblem(&job)
	sol := p.adjust(settings{})
	res := &Result{Status: sol.status, Iterations: sol.iterations, Objective: sol.objective}
	if sol.inverse == nil {
		p.tellSketch(res, sol)
		return res
	}
	res.Checks = p.checks(sol, settings{})
	res.Critical = critical(countUsed(res.Checks))
	var accused []int
	if res.Conflicts, accused = p.conflicts(sol, res.Checks); len(accused) > 0 {
		// What is wrong must not bend its neighbours while it waits to be retaken.
		set := settings{without: accused, start: sol.x}
		if rest := p.adjust(set); rest.inverse != nil {
			res.Checks = p.withoutAccused(res.Checks, rest, set)
			res.Status, res.Objective, sol = rest.status, rest.objective, rest
		}
	}
	p.tell(res, sol)
	p.judge(res, sol)
	return res
}

// tell puts the numbers of a solution into the result.
func (p *problem) tell(res *Result, sol *solution) {
	res.Steps = make([]Step, len(p.sites))
	room := 0
	for i, s := range p.sites {
		n := s.count()
		room += n * n
		if i > 0 {
			room += n * p.sites[i-1].count()
		}
	}
	store := make([]float64, room)
	figures := make([]Figure, 0, len(p.sites)*len(stepKinds))
	var r row
	for i, s := range p.sites {
		out := &res.Steps[i]
		p.shape(out, s, sol.x)
		n := s.count()
		out.Cov, store = store[:n*n:n*n], store[n*n:]
		for a := 0; a < n; a++ {
			for b := 0; b < n; b++ {
				out.Cov[a*n+b] = sol.inverse.at(s.at+a, s.at+b)
			}
		}
		if i > 0 {
			q := p.sites[i-1]
			m := q.count()
			out.Cross, store = store[:n*m:n*m], store[n*m:]
			for a := 0; a < n; a++ {
				for b := 0; b < m; b++ {
					out.Cross[a*m+b] = sol.inverse.at(s.at+a, q.at+b)
				}
			}
		}
		first := len(figures)
		for _, k := range stepKinds {
			if observe(&r, p.sites, i, k, sol.x) {
				v := sol.covarianceOf(&r, &r)
				figures = append(figures, Figure{Kind: k, Value: r.predicted, Spread: math.Sqrt(math.Max(0, v))})
			}
		}
		out.Figures = figures[first:len(figures):len(figures)]
	}
}

// shape fills in where the corners and heights of one step are.
func (p *problem) shape(out *Step, s site, x []float64) {
	out.Corners = make([]mgl64.Vec2, s.corners)
	for c := range out.Corners {
		out.Corners[c] = mgl64.Vec2{x[s.corner(c)], x[s.corner(c)+1]}
	}
	out.FL, out.FR, out.BR, out.BL = s.fl, s.fr, s.br, s.bl
	out.TopLeft, out.TopRight, out.Fall = x[s.topLeft()], x[s.topRight()], x[s.fall()]
	out.Lean = [2]float64{x[s.lean(0)], x[s.lean(1)]}
}

// tellSketch gives the shape alone when the estimate broke down, so that
// there is still something to draw.
func (p *problem) tellSketch(res *Result, sol *solution) {
	res.Status = Stalled
	res.Steps = make([]Step, len(p.sites))
	for i, s := range p.sites {
		p.shape(&res.Steps[i], s, sol.x)
		n := s.count()
		res.Steps[i].Cov = make([]float64, n*n)
		for a := 0; a < n; a++ {
			res.Steps[i].Cov[a*n+a] = p.spread[s.at+a] * p.spread[s.at+a]
		}
		if i > 0 {
			res.Steps[i].Cross = make([]float64, n*p.sites[i-1].count())
		}
		res.Steps[i].Readiness, res.Steps[i].Why = ReadySketch, "the estimate did not settle; look for a reading far from the sketch"
	}
}
