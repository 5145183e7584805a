package model

import (
	"errors"
	"fmt"
	"math"
)

// OpenSide opens one side of the steps From to To and stands Balusters bars on
// each of them, spread evenly over its going; 0 leaves what stands there.
// Returned has their nosings returned and their risers mitred (Side.Returned).
type OpenSide struct {
	From, To  ID
	Side      Edge // Left or Right
	Returned  bool
	Balusters int
	Length    Length // of the balusters as they stand; 0 when not measured
}

// mostOnTread is the most balusters that OpenSide puts on one tread.
const mostOnTread = 10

// Apply implements Edit.
func (e OpenSide) Apply(j Job) (Job, error) {
	a, b, err := span(j, e.From, e.To, e.Side)
	switch {
	case err != nil:
		return j, err
	case e.Balusters < 0 || e.Balusters > mostOnTread:
		return j, fmt.Errorf("%d balusters on each tread; give 0 to %d", e.Balusters, mostOnTread)
	case !(e.Length >= 0) || bad(e.Length):
		return j, fmt.Errorf("balusters %s long; give 0 or more", told(j, e.Length))
	}
	steps := append([]Step(nil), j.Flight.Steps...)
	for i := a; i <= b; i++ {
		s := steps[i].clone()
		side := &s.Left
		if e.Side == Right {
			side = &s.Right
		}
		side.Kind, side.Returned = Open, e.Returned
		if e.Balusters > 0 {
			s.stand(j, e, i == len(steps)-1)
		}
		steps[i] = s
	}
	out := j
	out.Flight.Steps = steps
	return kept(j, out)
}

// told is a length as the job's people write it; one that is no number as it
// stands.
func told(j Job, l Length) string {
	if bad(l) {
		return fmt.Sprintf("%g mm", float64(l))
	}
	return j.Format().Length(l)
}

// stand puts the balusters of e on a cloned step in place of those at its side.
// The top floor carries none: what stands there belongs to the floor.
func (s *Step) stand(j Job, e OpenSide, top bool) {
	s.without(e.Side)
	if top || s.FrontLeft() < 0 {
		return
	}
	front, back := s.FrontLeft(), s.BackLeft()
	if e.Side == Right {
		front, back = s.FrontRight(), s.BackRight()
	}
	going := math.Max(0, float64(s.Corners[front].Distance(s.Corners[back])-NoseSetForward(j)))
	for k := range e.Balusters {
		s.Balusters = append(s.Balusters, Baluster{
			ID: NamedID(s.ID, fmt.Sprintf("baluster %s %d", e.Side, k+1)), Side: e.Side,
			Behind: Length(going * (float64(k) + 0.5) / float64(e.Balusters)), Length: e.Length,
		})
	}
}

// Label implements Edit.
func (e OpenSide) Label() string { return "open a side" }

// StartingStep makes the first step wider than the flight, with its existing
// riser run round in a quarter circle of Radius at each open side. Width is
// along its nose line; what it has more than the flight is spread over its open
// sides, and the balusters there are taken out: they have to be set out anew.
// Readings of its shape are set aside.
type StartingStep struct {
	Width, Radius Length
}

// Apply implements Edit.
func (e StartingStep) Apply(j Job) (Job, error) {
	if len(j.Flight.Steps) == 0 {
		return j, ErrNoSuchStep
	}
	s := j.Flight.Steps[0].clone()
	if !s.Plain() || s.Landing {
		return j, fmt.Errorf("the first step has %d corners; only one of four can be made a starting step", len(s.Corners))
	}
	left, right := s.Left.Kind == Open, s.Right.Kind == Open
	if !left && !right {
		return j, errors.New("the first step is closed at both sides; open the side at which it is to run round")
	}
	fl, fr, br, bl := &s.Corners[0], &s.Corners[1], &s.Corners[2], &s.Corners[3]
	more := e.Width - fl.Distance(*fr)
	// the new nose runs round farther out than the old riser
	nose := e.Radius + NoseSetForward(j)
	depth := min(fl.Distance(*bl), fr.Distance(*br))
	switch {
	case bad(e.Width) || !(more >= 0):
		return j, fmt.Errorf("a starting step %s wide; the flight is %s wide", told(j, e.Width), told(j, fl.Distance(*fr)))
	case bad(e.Radius) || !(e.Radius > 0):
		return j, fmt.Errorf("a quarter circle of radius %s; give more than 0", told(j, e.Radius))
	case nose > depth || left && right && 2*nose > e.Width:
		return j, fmt.Errorf("a quarter circle of radius %s: the new nose would run round at %s, and the step is %s deep and %s wide; give a smaller radius",
			told(j, e.Radius), told(j, nose), told(j, depth), told(j, e.Width))
	}
	if left && right {
		more /= 2
	}
	widen := func(in, out *Corner) { // moves out away from in
		d := in.Distance(*out)
		out.X += (out.X - in.X) * more / d
		out.Y += (out.Y - in.Y) * more / d
	}
	oldFL, oldBL := *fl, *bl
	// what stood at a side that runs round has to be set out anew
	if left {
		s.without(Left)
		widen(fr, fl)
		widen(br, bl)
		s.RoundLeft = e.Radius
	}
	if right {
		s.without(Right)
		widen(&oldFL, fr)
		widen(&oldBL, br)
		s.RoundRight = e.Radius
	}
	changed := s.forget(true, false)
	steps := append([]Step(nil), j.Flight.Steps...)
	steps[0] = s
	out := j
	out.Flight.Steps = steps
	if changed {
		out.Revision++
	}
	return kept(j, out)
}

// Label implements Edit.
func (e StartingStep) Label() string { return "make a starting step" }
