package model

import (
	"errors"
	"fmt"
)

// InsertStep puts a step into the flight so that it has index At (0 at the
// bottom), and moves the steps above it to make room.
type InsertStep struct {
	At   int
	Step Step
	// Forward and Up are how far the steps above move in plan and in height.
	Forward Corner
	Up      Length
}

// NewTread returns the edit that inserts a tread below the step at index at: a
// copy of its neighbour without its readings, with the flight above moved up
// by one rise and one going.
func NewTread(j Job, at int, id ID) (InsertStep, error) {
	n := len(j.Flight.Steps)
	if at < 0 || at >= n || n < MinSteps {
		return InsertStep{}, fmt.Errorf("a flight of %d steps has no step %d to insert a tread below", n, at+1)
	}
	lower := max(at-1, 0)              // the pair of neighbours whose rise and going are taken
	if j.Flight.Steps[lower].Landing { // whose going is no tread's
		switch {
		case lower+2 < n:
			lower++
		case lower > 0:
			lower--
		}
	}
	a, b := j.Flight.Steps[lower], j.Flight.Steps[lower+1]
	fa, fb := a.FrontLeft(), b.FrontLeft()
	if fa < 0 || fb < 0 {
		return InsertStep{}, fmt.Errorf("steps %d and %d have no front edge", lower+1, lower+2)
	}
	e := InsertStep{
		At:      at,
		Forward: Corner{X: b.Corners[fb].X - a.Corners[fa].X, Y: b.Corners[fb].Y - a.Corners[fa].Y},
		Up:      b.TopLeft - a.TopLeft,
	}
	// The landing nosing is no model for a tread; the tread below it is.
	like := at
	if at == n-1 {
		like = at - 1
	}
	if j.Flight.Steps[like].Landing { // nor is one between flights
		return InsertStep{}, fmt.Errorf("step %d is a landing; put the tread in farther from it", like+1)
	}
	e.Step = j.Flight.Steps[like].clone()
	e.Step.ID, e.Step.Readings, e.Step.Pack = id, nil, 0
	e.Step.RoundLeft, e.Step.RoundRight, e.Step.Balusters = 0, 0, nil
	if like != at {
		e.Step.move(e.Forward, e.Up)
	}
	return e, nil
}

// move shifts the sketch of a cloned step.
func (s *Step) move(by Corner, up Length) {
	for c := range s.Corners {
		s.Corners[c].X += by.X
		s.Corners[c].Y += by.Y
	}
	s.TopLeft += up
	s.TopRight += up
}

// Apply implements Edit.
func (e InsertStep) Apply(j Job) (Job, error) {
	n := len(j.Flight.Steps)
	if e.At < 0 || e.At > n {
		return j, fmt.Errorf("a flight of %d steps has no place %d to insert at", n, e.At+1)
	}
	if n >= MaxSteps {
		return j, fmt.Errorf("a flight may have at most %d risers", MaxSteps)
	}
	if j.StepIndex(e.Step.ID) >= 0 {
		return j, errors.New("the job already has this step")
	}
	steps := make([]Step, 0, n+1)
	steps = append(steps, j.Flight.Steps[:e.At]...)
	steps = append(steps, e.Step.clone())
	changed := len(e.Step.Readings) > 0
	for i, s := range j.Flight.Steps[e.At:] {
		s = s.clone()
		s.move(e.Forward, e.Up)
		if i == 0 {
			changed = s.forgetBelow() || changed
		}
		steps = append(steps, s)
	}
	out := j
	out.Flight.Steps = steps
	if changed {
		out.Revision++
	}
	return kept(j, out)
}

// forgetBelow sets aside the readings of a cloned step that were taken from
// the step below it, which is no longer the same, and says whether it had any.
func (s *Step) forgetBelow() bool {
	had := false
	for i := range s.Readings {
		switch r := &s.Readings[i]; r.Kind {
		case RiseLeft, RiseRight, GoingLeft, GoingRight:
			if !r.Aside {
				r.Aside, had = true, true
			}
		}
	}
	return had
}

// Label implements Edit.
func (e InsertStep) Label() string { return "insert step" }

// RemoveStep takes a step out of the flight, with its readings, and closes the
// gap: the steps above move down by its rise and back by its going. Rises and
// goings read from it at the step above are set aside. The landing nosing
// cannot be removed.
type RemoveStep struct{ Step ID }

// Apply implements Edit.
func (e RemoveStep) Apply(j Job) (Job, error) {
	i := j.StepIndex(e.Step)
	if i < 0 {
		return j, ErrNoSuchStep
	}
	n := len(j.Flight.Steps)
	if n <= MinSteps {
		return j, fmt.Errorf("a flight needs at least %d risers", MinSteps)
	}
	if i == n-1 {
		return j, errors.New("the landing nosing stays; remove a tread below it instead")
	}
	steps := make([]Step, 0, n-1)
	steps = append(steps, j.Flight.Steps[:i]...)
	gone, next := j.Flight.Steps[i], j.Flight.Steps[i+1]
	down := Corner{}
	if a, b := gone.FrontLeft(), next.FrontLeft(); a >= 0 && b >= 0 {
		down = Corner{X: gone.Corners[a].X - next.Corners[b].X, Y: gone.Corners[a].Y - next.Corners[b].Y}
	}
	changed := len(gone.Readings) > 0
	for k, s := range j.Flight.Steps[i+1:] {
		s = s.clone()
		s.move(down, gone.TopLeft-next.TopLeft)
		if k == 0 {
			changed = s.forgetBelow() || changed
		}
		steps = append(steps, s)
	}
	out := j
	out.Flight.Steps = steps
	out.Flight.Rail = heightsWithout(j.Flight.Rail, e.Step)
	out.Flight.Headroom = heightsWithout(j.Flight.Headroom, e.Step)
	if changed {
		out.Revision++
	}
	return out, nil
}

// Label implements Edit.
func (e RemoveStep) Label() string { return "remove step" }

func heightsWithout(hs []Height, step ID) []Height {
	out := make([]Height, 0, len(hs))
	for _, h := range hs {
		if h.Step != step {
			out = append(out, h)
		}
	}
	return out
}
