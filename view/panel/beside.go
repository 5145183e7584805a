package panel

import (
	"fmt"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/fitting"
)

// besideOf returns the work of w with the order of its candidate i instead of
// the winner's.
func besideOf(w *solver.Work, i int) (out *solver.Work, why string) {
	defer func() {
		if cause := recover(); cause != nil {
			out, why = nil, fmt.Sprintf("the program failed while laying it out: %v", cause)
		}
	}()
	if i < 0 || i >= len(w.Order.Candidates) {
		return nil, "there is no such order"
	}
	job := w.Answer.Job
	p := fitting.Problem{Job: job, Survey: w.Answer.Survey, Buildup: &w.Answer.Buildup, Wishes: job.Wishes}
	for s, wish := range [2]model.SideWish{job.Wishes.Left, job.Wishes.Right} {
		p.Skirt.OldThickness[s] = float64(wish.OldThickness)
		p.Skirt.OldMargin[s] = [2]float64{float64(wish.MarginFirst), float64(wish.MarginLast)}
	}
	other := *w
	other.Order = fitting.Lay(p, w.Order.Candidates[i])
	return &other, ""
}
