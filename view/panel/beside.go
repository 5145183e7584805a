package panel

import (
	"fmt"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/fitting"
	"risewright/solver/pieces"
	"risewright/solver/skirt"
)

// besideOf returns the work of w with the order of its candidate i instead of
// the winner's. Package fitting lays out only the winner, so wishes and weights
// are sought under which the candidate wins; why says that none were found.
func besideOf(w *solver.Work, i int) (out *solver.Work, why string) {
	defer func() {
		if cause := recover(); cause != nil {
			out, why = nil, fmt.Sprintf("the program failed while laying it out: %v", cause)
		}
	}()
	if i < 0 || i >= len(w.Order.Candidates) {
		return nil, "there is no such order"
	}
	c := &w.Order.Candidates[i]
	job := w.Answer.Job
	p := fitting.Problem{Job: job, Survey: w.Answer.Survey, Buildup: &w.Answer.Buildup, Wishes: wishesFor(&job, c), Plain: true}
	for s, wish := range [2]model.SideWish{job.Wishes.Left, job.Wishes.Right} {
		p.Skirt.OldThickness[s] = float64(wish.OldThickness)
		p.Skirt.OldMargin[s] = [2]float64{float64(wish.MarginFirst), float64(wish.MarginLast)}
	}
	usual := w.Order.Weights
	steer(&usual, c)
	for _, turn := range []func(*fitting.Weights){
		func(*fitting.Weights) {},
		func(w *fitting.Weights) { w.Rough = steered },
		func(w *fitting.Weights) { w.Rough = -steered },
		func(w *fitting.Weights) { w.Rough, w.Edge, w.Line = -steered, 100, 0 },
	} {
		weights := usual
		turn(&weights)
		p.Weights = &weights
		r := fitting.Solve(p)
		if r.Status == fitting.Solved && r.Left == c.Left && r.Right == c.Right && r.Back == c.Back {
			other := *w
			other.Order = r
			return &other, ""
		}
	}
	return nil, "this order cannot be laid out by itself; wish for it above to see it"
}

// steered is a weight, in minutes, beyond anything a flight adds up to.
const steered = 1e6

// steer makes the ends of a candidate cheap and all others dear.
func steer(w *fitting.Weights, c *fitting.Candidate) {
	w.Applied, w.Seasonal, w.Housing = steered, steered, steered
	for _, d := range [2]fitting.Decision{c.Left, c.Right} {
		switch d.Ends {
		case fitting.Bead:
			w.Applied = -steered
		case fitting.Caulk:
			w.Seasonal = -steered
		case fitting.Housed:
			w.Housing = -steered
		}
		switch d.Board {
		case fitting.BareWall:
			w.Plaster = -steered
		case fitting.NewSkirt:
			w.NewSkirt = -steered
		}
	}
}

// wishesFor returns the job's wishes with those that only a candidate's boards
// meet.
func wishesFor(job *model.Job, c *fitting.Candidate) model.Wishes {
	w := job.Wishes
	w.SameSides, w.Back = false, c.Back
	w.Order = append([]model.OrderHint(nil), w.Order...)
	for s, d := range [2]fitting.Decision{c.Left, c.Right} {
		side := pieces.Side(s)
		wish := wishSide(&w, s)
		if skirt.KindOf(job, side) != model.Skirt {
			continue
		}
		name := "skirt " + side.String()
		switch d.Board {
		case fitting.KeptSkirt:
			wish.Keep, wish.NoFalse, wish.Battered = true, true, false
		case fitting.FalseBoard:
			wish.Keep, wish.NoFalse, wish.Battered = true, false, true
			name = "false " + name
		case fitting.NewSkirt:
			wish.Keep, wish.NoFalse, wish.Battered = false, true, true
		}
		wish.Wiring = wish.Wiring || d.Cap
		if d.Board == fitting.KeptSkirt {
			continue
		}
		for _, g := range []struct {
			group string
			past  bool
		}{{"risers", d.RiserPast}, {"treads", d.TreadPast}} {
			h := model.OrderHint{First: name, Then: g.group}
			if g.past {
				h.First, h.Then = h.Then, h.First
			}
			w.Order = append(w.Order, h)
		}
	}
	return w
}
