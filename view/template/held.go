package template

import (
	"fmt"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

// knownBand is how many times the job's tolerance a length of a board that has
// no card may be uncertain by: as much as package pieces allows hidden edges.
const knownBand = 2

// Held returns why piece i of the answer must not be cut yet, or "". A board
// that is made by template never has a card released, so its step is asked.
func Held(a *solver.Answer, i int) string {
	p := &a.Pieces[i]
	switch {
	case p.Impossible != "":
		return p.Impossible
	case p.Released:
		return ""
	case p.Template == "" || p.Why != p.Template:
		if p.Why == "" {
			return "the board is not known well enough to cut"
		}
		return p.Why
	case a.Survey == nil || a.Survey.Status != survey.Converged:
		return "the estimate of the flight did not settle; look for a misread reading"
	}
	on := []int{p.Step - 1}
	if p.Kind == pieces.Riser {
		on = append(on, p.Step-2)
	}
	for _, k := range on {
		if k < 0 || k >= len(a.Survey.Steps) {
			continue
		}
		if s := &a.Survey.Steps[k]; s.Readiness != survey.ReadyCut {
			why := fmt.Sprintf("step %d is not ready for the saw", k+1)
			if s.Why != "" {
				why += ": " + s.Why
			}
			return why
		}
	}
	f := a.Job.Format()
	if most := float64(a.Job.Tolerance) * knownBand; p.Figures.Widest() > most {
		return fmt.Sprintf("one of its lengths is known to %s; a cut needs %s",
			f.PlusMinus(model.Length(p.Figures.Widest())), f.PlusMinus(model.Length(most)))
	}
	return ""
}

// HeldSkirt returns why no skirt board may be cut yet, or "": it meets every
// tread and riser, so the first that is held holds it.
func HeldSkirt(a *solver.Answer) string {
	for i := range a.Pieces {
		if why := Held(a, i); why != "" {
			return a.Pieces[i].ID + ": " + why
		}
	}
	return ""
}
