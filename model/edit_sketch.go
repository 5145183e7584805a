package model

import (
	"errors"
	"fmt"
	"math"
)

// MoveCorners moves sketched corners to new places. A drag of a corner, a side
// line or a nosing is one of these.
type MoveCorners struct {
	Name  string // what was dragged, such as "left side"
	Moves []CornerMove
}

// CornerMove puts one corner of one step somewhere else.
type CornerMove struct {
	Step   ID
	Corner int
	To     Corner
}

// Apply implements Edit. It refuses a move that would leave an opening crossed
// or turned inside out.
func (e MoveCorners) Apply(j Job) (Job, error) {
	steps := append([]Step(nil), j.Flight.Steps...)
	out := j
	out.Flight.Steps = steps
	touched := map[int]bool{}
	for _, m := range e.Moves {
		i := j.StepIndex(m.Step)
		if i < 0 {
			return j, ErrNoSuchStep
		}
		if m.Corner < 0 || m.Corner >= len(steps[i].Corners) {
			return j, fmt.Errorf("step %d has no corner %d", i+1, m.Corner+1)
		}
		if bad(m.To.X) || bad(m.To.Y) {
			return j, fmt.Errorf("step %d: the corner's new place is not a number", i+1)
		}
		if !touched[i] {
			steps[i].Corners = append([]Corner(nil), steps[i].Corners...)
			touched[i] = true
		}
		steps[i].Corners[m.Corner] = m.To
	}
	for i := range steps { // in order, so that the same move gives the same message
		if touched[i] && !simplePolygon(steps[i].Corners) {
			return j, fmt.Errorf("step %d: the opening would cross or touch itself; move the corner less far", i+1)
		}
	}
	return out, nil
}

// Label implements Edit.
func (e MoveCorners) Label() string { return "move " + e.Name }

// MoveHeights moves the sketched heights of existing treads.
type MoveHeights struct {
	Name  string
	Moves []HeightMove
}

// HeightMove gives one step new sketched heights.
type HeightMove struct {
	Step        ID
	Left, Right Length
}

// Apply implements Edit.
func (e MoveHeights) Apply(j Job) (Job, error) {
	steps := append([]Step(nil), j.Flight.Steps...)
	out := j
	out.Flight.Steps = steps
	for _, m := range e.Moves {
		i := j.StepIndex(m.Step)
		if i < 0 {
			return j, ErrNoSuchStep
		}
		if bad(m.Left) || bad(m.Right) {
			return j, fmt.Errorf("step %d: the new height is not a number", i+1)
		}
		steps[i].TopLeft, steps[i].TopRight = m.Left, m.Right
	}
	return out, nil
}

// Label implements Edit.
func (e MoveHeights) Label() string { return "move " + e.Name }

// SetStep replaces what stands at one step and what is planned for it, but
// neither its corners nor its readings.
type SetStep struct {
	Step      ID
	Left      Side
	Right     Side
	Nosing    NosingState
	Pack      Length
	Thickness Length
}

// StepOf returns the edit that would leave s as it is; change what you want.
func StepOf(s Step) SetStep {
	return SetStep{Step: s.ID, Left: s.Left, Right: s.Right, Nosing: s.Nosing, Pack: s.Pack, Thickness: s.Thickness}
}

// Apply implements Edit.
func (e SetStep) Apply(j Job) (Job, error) {
	out, err := withStep(j, e.Step, func(s *Step) error {
		s.Left, s.Right, s.Nosing, s.Pack, s.Thickness = e.Left, e.Right, e.Nosing, e.Pack, e.Thickness
		return nil
	})
	if err != nil {
		return j, err
	}
	return kept(j, out)
}

// Label implements Edit.
func (e SetStep) Label() string { return "change step" }

// InsertStep puts a step into the flight so that it has index At (0 at the
// bottom).
type InsertStep struct {
	At   int
	Step Step
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
	steps = append(steps, j.Flight.Steps[e.At:]...)
	out := j
	out.Flight.Steps = steps
	if len(e.Step.Readings) > 0 {
		out.Revision++
	}
	return kept(j, out)
}

// Label implements Edit.
func (e InsertStep) Label() string { return "insert step" }

// RemoveStep takes a step out of the flight, with its readings, and closes the
// gap: the steps above move down by its rise and back by its going.
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
	steps := make([]Step, 0, n-1)
	steps = append(steps, j.Flight.Steps[:i]...)
	if i+1 < n {
		gone, next := j.Flight.Steps[i], j.Flight.Steps[i+1]
		down := Corner{}
		if a, b := gone.FrontLeft(), next.FrontLeft(); a >= 0 && b >= 0 {
			down = Corner{X: next.Corners[b].X - gone.Corners[a].X, Y: next.Corners[b].Y - gone.Corners[a].Y}
		}
		drop := next.TopLeft - gone.TopLeft
		for _, s := range j.Flight.Steps[i+1:] {
			s = s.clone()
			for c := range s.Corners {
				s.Corners[c].X -= down.X
				s.Corners[c].Y -= down.Y
			}
			s.TopLeft -= drop
			s.TopRight -= drop
			steps = append(steps, s)
		}
	}
	out := j
	out.Flight.Steps = steps
	out.Flight.Rail = heightsWithout(j.Flight.Rail, e.Step)
	out.Flight.Headroom = heightsWithout(j.Flight.Headroom, e.Step)
	if len(j.Flight.Steps[i].Readings) > 0 {
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

func bad(l Length) bool {
	return math.IsNaN(float64(l)) || math.IsInf(float64(l), 0) || math.Abs(float64(l)) > float64(MaxLength)
}
