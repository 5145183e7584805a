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

// NewTread returns the edit that puts a tread into the flight at index at: a
// copy of the tread at index like, without what was read, packed or set out on
// it, standing where the step at that index stood. The flight above moves up by
// the rise and on by the going from like to the step above it. The landing
// nosing stays the last, so at and like lie below the number of steps and one
// less than it.
func NewTread(j Job, at, like int, id ID) (InsertStep, error) {
	n := len(j.Flight.Steps)
	if at < 0 || at >= n || n < MinSteps {
		return InsertStep{}, fmt.Errorf("a flight of %d steps has no step %d to insert a tread below", n, at+1)
	}
	if like < 0 || like >= n-1 {
		return InsertStep{}, fmt.Errorf("a flight of %d steps has no tread %d to copy", n, like+1)
	}
	old, a, b := j.Flight.Steps[at], j.Flight.Steps[like], j.Flight.Steps[like+1]
	if a.Landing {
		return InsertStep{}, fmt.Errorf("step %d is a landing; put the tread in farther from it", like+1)
	}
	fo, fa, fb := old.FrontLeft(), a.FrontLeft(), b.FrontLeft()
	if fo < 0 || fa < 0 || fb < 0 {
		return InsertStep{}, fmt.Errorf("one of steps %d, %d and %d has no front edge to go by", at+1, like+1, like+2)
	}
	from := func(p, q Corner) Corner { return Corner{X: q.X - p.X, Y: q.Y - p.Y} }
	e := InsertStep{
		At:      at,
		Forward: from(a.Corners[fa], b.Corners[fb]),
		Up:      b.TopLeft - a.TopLeft,
	}
	e.Step = a.clone()
	e.Step.ID, e.Step.Readings, e.Step.PackLeft, e.Step.PackRight = id, nil, 0, 0
	e.Step.RoundLeft, e.Step.RoundRight, e.Step.Balusters = 0, 0, nil
	e.Step.move(from(a.Corners[fa], old.Corners[fo]), old.TopLeft-a.TopLeft)
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
