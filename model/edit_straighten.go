package model

import (
	"errors"
	"fmt"
	"math"
)

// TurnAt returns the first and the last index of the turn to which the step at
// index i belongs: a landing by itself, or the winders that follow each other.
// It returns false for a step that does not turn.
func TurnAt(j Job, i int) (first, last int, ok bool) {
	steps := j.Flight.Steps
	if i < 0 || i >= len(steps)-1 {
		return 0, 0, false
	}
	if steps[i].Landing {
		return i, i, true
	}
	winds := func(k int) bool { return k >= 0 && k < len(steps)-1 && !steps[k].Landing && steps[k].tapered() }
	if !winds(i) {
		return 0, 0, false
	}
	for first = i; winds(first - 1); first-- {
	}
	for last = i; winds(last + 1); last++ {
	}
	return first, last, true
}

// tapered says whether the sketched back edge is turned against the nose line.
func (s *Step) tapered() bool {
	fl, fr, br, bl := s.FrontLeft(), s.FrontRight(), s.BackRight(), s.BackLeft()
	if fl < 0 || br < 0 {
		return false
	}
	return math.Abs(turnedBy(s.Corners[fl], s.Corners[fr], s.Corners[bl], s.Corners[br])) > float64(straightWithin)
}

// turnedBy returns the angle from the direction a to b to that from c to d,
// anticlockwise, rad.
func turnedBy(a, b, c, d Corner) float64 {
	x, y := float64(b.X-a.X), float64(b.Y-a.Y)
	u, v := float64(d.X-c.X), float64(d.Y-c.Y)
	return math.Atan2(x*v-y*u, x*u+y*v)
}

// Straighten makes plain treads of the turn to which the step At belongs, and
// swings the flight above back. Going is that of the new treads; 0 takes that of
// a straight step of the flight. Heights stay. Readings of what has changed its
// shape are set aside.
type Straighten struct {
	At    ID
	Going Length
}

// Apply implements Edit.
func (e Straighten) Apply(j Job) (Job, error) {
	i := j.StepIndex(e.At)
	if i < 0 {
		return j, ErrNoSuchStep
	}
	first, last, ok := TurnAt(j, i)
	if !ok {
		return j, fmt.Errorf("step %d is no winder and no landing; choose one that turns", i+1)
	}
	going := float64(e.Going)
	if e.Going == 0 {
		going = straightGoing(j)
	}
	if !(going > 0) || bad(e.Going) {
		return j, fmt.Errorf("a going of %s; give more than 0", told(j, e.Going))
	}
	steps := append([]Step(nil), j.Flight.Steps...)
	f := frameOf(&steps[first], Left)
	forward := float64(NoseSetForward(j))
	changed := false
	for k := first; k <= last; k++ {
		s := steps[k].clone()
		near, far := going*float64(k-first), going*float64(k-first+1)+forward
		s.Corners, s.Edges = f.opening(spot{0, near}, spot{0, far}, []spot{{f.width, near}, {f.width, far}})
		s.Landing = false
		changed = s.forget(true, k > first) || changed
		steps[k] = s
	}
	above := last + 1
	g := frameOf(&steps[above], Left)
	from := f.spot(g.corner(spot{0, forward}))
	sin, cos := sincos(-turnedBy(Corner{}, f.along, Corner{}, g.along))
	changed = swingAbove(steps, above, &f, from, spot{0, going*float64(last-first+1) + forward}, sin, cos) || changed
	return turned(j, steps, changed)
}

// Label implements Edit.
func (e Straighten) Label() string { return "make a turn straight" }

// straightGoing returns the mean going of the steps that do not turn, mm; 0 when
// there is none.
func straightGoing(j Job) float64 {
	sum, n := 0.0, 0
	for i := range j.Flight.Steps[:len(j.Flight.Steps)-1] {
		s := &j.Flight.Steps[i]
		if _, _, turns := TurnAt(j, i); turns || !s.Plain() {
			continue
		}
		f := frameOf(s, Left)
		if depth := (f.spot(s.Corners[3]).b + f.spot(s.Corners[2]).b) / 2; depth > float64(NoseSetForward(j)) {
			sum, n = sum+depth-float64(NoseSetForward(j)), n+1
		}
	}
	if n == 0 {
		return 0
	}
	return sum / float64(n)
}

// CloseSide closes one side of the steps From to To with a wall or a skirt
// board, and takes away the balusters that stand there.
type CloseSide struct {
	From, To ID
	Side     Edge     // Left or Right
	Kind     SideKind // Wall or Skirt
}

// Apply implements Edit.
func (e CloseSide) Apply(j Job) (Job, error) {
	a, b, err := span(j, e.From, e.To, e.Side)
	if err != nil {
		return j, err
	}
	if e.Kind != Wall && e.Kind != Skirt {
		return j, fmt.Errorf(`a side closed by %q; give "wall" or "skirt"`, e.Kind)
	}
	steps := append([]Step(nil), j.Flight.Steps...)
	open := false
	for i := a; i <= b; i++ {
		s := steps[i].clone()
		side, round := &s.Left, s.RoundLeft
		if e.Side == Right {
			side, round = &s.Right, s.RoundRight
		}
		if side.Kind != Open {
			continue
		}
		if round > 0 {
			return j, fmt.Errorf("step %d runs round at its %s; make it a plain step first", i+1, e.Side)
		}
		open = true
		side.Kind, side.Returned = e.Kind, false
		s.without(e.Side)
		steps[i] = s
	}
	if !open {
		return j, fmt.Errorf("the %s side is not open from step %d to step %d", e.Side, a+1, b+1)
	}
	out := j
	out.Flight.Steps = steps
	return kept(j, out)
}

// Label implements Edit.
func (e CloseSide) Label() string { return "close a side" }

// span returns the indices of two steps of which the first is the lower, for an
// edit at one side.
func span(j Job, from, to ID, side Edge) (a, b int, err error) {
	a, b = j.StepIndex(from), j.StepIndex(to)
	switch {
	case a < 0 || b < 0:
		return 0, 0, ErrNoSuchStep
	case a > b:
		return 0, 0, fmt.Errorf("step %d lies above step %d; name the lower one first", a+1, b+1)
	case side != Left && side != Right:
		return 0, 0, fmt.Errorf(`the %q side; give "left" or "right"`, side)
	}
	return a, b, nil
}

// without takes the balusters of one side off a cloned step.
func (s *Step) without(side Edge) {
	bars := s.Balusters[:0]
	for _, b := range s.Balusters {
		if b.Side != side {
			bars = append(bars, b)
		}
	}
	if s.Balusters = bars; len(bars) == 0 {
		s.Balusters = nil
	}
}

// PlainFirstStep takes a starting step away: its corners are square again, and
// it is as wide as the flight above it at the sides where it ran round. Readings
// of its shape are set aside.
type PlainFirstStep struct{}

// Apply implements Edit.
func (e PlainFirstStep) Apply(j Job) (Job, error) {
	if len(j.Flight.Steps) < 2 {
		return j, ErrNoSuchStep
	}
	s := j.Flight.Steps[0].clone()
	if s.RoundLeft == 0 && s.RoundRight == 0 {
		return j, errors.New("the first step does not run round; there is no starting step to take away")
	}
	if !s.Plain() {
		return j, fmt.Errorf("the first step has %d corners; only one of four can be made plain", len(s.Corners))
	}
	up := &j.Flight.Steps[1]
	f := frameOf(&s, Left)
	in := func(at Corner, front, back *Corner) {
		a := f.spot(at).a
		*front, *back = f.corner(spot{a, f.spot(*front).b}), f.corner(spot{a, f.spot(*back).b})
	}
	if s.RoundLeft > 0 {
		in(up.Corners[up.FrontLeft()], &s.Corners[0], &s.Corners[3])
	}
	if s.RoundRight > 0 {
		in(up.Corners[up.FrontRight()], &s.Corners[1], &s.Corners[2])
	}
	s.RoundLeft, s.RoundRight = 0, 0
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
func (e PlainFirstStep) Label() string { return "make the first step plain" }
