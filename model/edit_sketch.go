package model

import (
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
	PackLeft  Length
	PackRight Length
	Thickness Length
}

// StepOf returns the edit that would leave s as it is; change what you want.
func StepOf(s Step) SetStep {
	return SetStep{Step: s.ID, Left: s.Left, Right: s.Right, Nosing: s.Nosing, PackLeft: s.PackLeft, PackRight: s.PackRight, Thickness: s.Thickness}
}

// Apply implements Edit.
func (e SetStep) Apply(j Job) (Job, error) {
	out, err := withStep(j, e.Step, func(s *Step) error {
		s.Left, s.Right, s.Nosing, s.Thickness = e.Left, e.Right, e.Nosing, e.Thickness
		s.PackLeft, s.PackRight = e.PackLeft, e.PackRight
		return nil
	})
	if err != nil {
		return j, err
	}
	return kept(j, out)
}

// Label implements Edit.
func (e SetStep) Label() string { return "change step" }

func bad(l Length) bool {
	return math.IsNaN(float64(l)) || math.IsInf(float64(l), 0) || math.Abs(float64(l)) > float64(MaxLength)
}
