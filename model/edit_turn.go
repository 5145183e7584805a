package model

import (
	"errors"
	"fmt"
	"math"
)

// What a turn may be. Common practice, no source.
const (
	// UsualWell is how far beyond the inner side of a flight its turn has its
	// middle when nothing is said: half a newel and what is beside it.
	UsualWell Length = 100
	// maxWell bounds it; a wider well is a stair of another kind.
	maxWell Length = 3000
	// mostWinders is the most winders of one turn.
	mostWinders = 12
	// steepestWinder is the most that one winder may turn.
	steepestWinder = 60 * Degree
	// leastWinder is the least that is called a turn.
	leastWinder = 2 * Degree
	// straightWithin is how far the nose lines of a straight part may be turned
	// against each other: twice the degree or two that carpenters leave.
	straightWithin = 4 * Degree
)

// TurnToWinders makes Count treads, from the step From upwards, into tapered
// treads that turn the flight by Angle towards Side, and swings the flight
// above round with them. Their risers point at a spot beside the flight, Well
// beyond its inner side (0: UsualWell); the outer side keeps its distance from
// it and gets a corner at each quarter turn, so that the winder there is a
// kite. Heights stay. Readings of what has changed its shape are set aside.
//
// The treads must be a straight part of the flight.
type TurnToWinders struct {
	From  ID
	Count int
	Angle Angle
	Side  Edge // Left or Right
	Well  Length
}

// Apply implements Edit.
func (e TurnToWinders) Apply(j Job) (Job, error) {
	first, err := turnable(j, e.From, e.Side, e.Count)
	if err != nil {
		return j, err
	}
	well := e.Well
	if well == 0 {
		well = UsualWell
	}
	switch {
	case !(e.Angle > 0 && e.Angle <= 180*Degree+1e-9):
		return j, fmt.Errorf("a turn of %s; give more than 0 and up to 180°, and the side for its direction", FormatDegrees(e.Angle, 1))
	case e.Count < 1 || e.Count > mostWinders:
		return j, fmt.Errorf("a turn of %s; give 1 to %d", Plural(e.Count, "winder"), mostWinders)
	case e.Angle > steepestWinder*Angle(e.Count)+1e-9:
		return j, fmt.Errorf("%s for a turn of %s; each may turn by up to %s", Plural(e.Count, "winder"), FormatDegrees(e.Angle, 1), FormatDegrees(steepestWinder, 0))
	case e.Angle < leastWinder*Angle(e.Count):
		return j, fmt.Errorf("a turn of %s in %s is hardly any", FormatDegrees(e.Angle, 1), Plural(e.Count, "winder"))
	case !(well > 0 && well <= maxWell):
		return j, fmt.Errorf("a well of %s; give more than 0 and up to %s", told(j, well), told(j, maxWell))
	}
	steps := append([]Step(nil), j.Flight.Steps...)
	f := frameOf(&steps[first], e.Side)
	forward := float64(NoseSetForward(j))
	t := turning{middle: spot{-float64(well), forward}, inner: float64(well), outer: float64(well) + f.width, forward: forward}
	t.walls = int(math.Ceil(float64(e.Angle)/(math.Pi/2) - 1e-9))
	t.angle = float64(e.Angle)
	changed := false
	for k := range e.Count {
		s := steps[first+k].clone()
		low, high := t.angle*float64(k)/float64(e.Count), t.angle*float64(k+1)/float64(e.Count)
		s.Corners, s.Edges = f.opening(t.onNose(low, t.inner), t.onFace(high, t.inner), t.outerSide(low, high))
		if len(s.Corners) > MaxCorners {
			return j, fmt.Errorf("step %d would have %d corners; use more winders for this turn", first+k+1, len(s.Corners))
		}
		changed = s.forget(true, k > 0) || changed // the first nose line stays where it is
		steps[first+k] = s
	}
	above := first + e.Count
	g := frameOf(&steps[above], e.Side)
	from := f.spot(g.corner(spot{0, forward})) // where the riser above meets the inner side
	sin, cos := sincos(t.angle)
	changed = swingAbove(steps, above, &f, from, t.onFace(t.angle, t.inner), sin, cos) || changed
	return turned(j, steps, changed)
}

// Label implements Edit.
func (e TurnToWinders) Label() string { return "turn to winders" }

// turning is a turn of winders in its frame.
type turning struct {
	middle       spot    // where the risers point
	inner, outer float64 // distance of the two sides from it
	forward      float64 // nose lines in front of risers
	angle        float64 // of the whole turn
	walls        int     // quarter turns, begun ones counted whole
}

// onFace returns the place at distance r along the riser turned by a.
func (t *turning) onFace(a, r float64) spot {
	sin, cos := sincos(a)
	return t.middle.plus(spot{r, 0}.turned(sin, cos))
}

// onNose returns the place beside onFace on the nose line in front of it.
func (t *turning) onNose(a, r float64) spot {
	sin, cos := sincos(a)
	return t.middle.plus(spot{r, -t.forward}.turned(sin, cos))
}

// outerSide returns the outer side from the nose line at angle low to the riser
// face at angle high. It is made of straight walls, each square to a direction
// that turns by the same part of the angle from wall to wall.
func (t *turning) outerSide(low, high float64) []spot {
	sin, cos := sincos(low)
	front := t.meet(spot{0, -t.forward}.turned(sin, cos), spot{1, 0}.turned(sin, cos))
	sin, cos = sincos(high)
	back := t.meet(spot{}, spot{1, 0}.turned(sin, cos))
	out := []spot{front}
	for i := range t.walls {
		a := t.angle * (float64(i) + 0.5) / float64(t.walls)
		sin, cos := sincos(a)
		r := t.outer / math.Cos(t.angle/float64(t.walls)/2)
		c := spot{r, 0}.turned(sin, cos)
		// between the nose line and the face, and a board's width from both
		sl, cl := sincos(low)
		sh, ch := sincos(high)
		beyond := c.dot(spot{0, 1}.turned(sl, cl)) > -t.forward
		before := c.dot(spot{0, 1}.turned(sh, ch)) < 0
		corner := t.middle.plus(c)
		if beyond && before && apart(corner, front) && apart(corner, back) {
			out = append(out, corner)
		}
	}
	return append(out, back)
}

// apart says whether two corners are far enough apart to make an edge: ten
// times what is the least a board is cut to.
func apart(p, q spot) bool {
	return math.Hypot(p.a-q.a, p.b-q.b) > 10*float64(shortestEdge)
}

// meet returns where the ray from middle+p in direction d first meets the outer
// side.
func (t *turning) meet(p, d spot) spot {
	best := math.Inf(1)
	for i := range t.walls + 1 {
		a := 0.0
		if t.walls > 0 {
			a = t.angle * float64(i) / float64(t.walls)
		}
		sin, cos := sincos(a)
		n := spot{1, 0}.turned(sin, cos)
		if slope := d.dot(n); slope > 1e-9 {
			best = math.Min(best, (t.outer-p.dot(n))/slope)
		}
	}
	return t.middle.plus(p).plus(d.times(best))
}

// turnable returns the index of step from when count steps from there on are a
// straight part of the flight with another above it.
func turnable(j Job, from ID, side Edge, count int) (int, error) {
	first := j.StepIndex(from)
	n := len(j.Flight.Steps)
	switch {
	case first < 0:
		return 0, ErrNoSuchStep
	case side != Left && side != Right:
		return 0, fmt.Errorf(`a turn to %q; give "left" or "right"`, side)
	case count < 1 || first+count > n-1:
		return 0, fmt.Errorf("%d steps from step %d on are not all treads below the top floor", count, first+1)
	}
	at := frameOf(&j.Flight.Steps[first], Left)
	for i := first; i <= first+count; i++ {
		s := &j.Flight.Steps[i]
		fl, fr := s.FrontLeft(), s.FrontRight()
		if i < first+count && (!s.Plain() || s.Landing) || fl < 0 || s.Corners[fl].Distance(s.Corners[fr]) < shortestEdge {
			return 0, fmt.Errorf("step %d is no straight tread; choose a straight part of the flight", i+1)
		}
		g := frameOf(s, Left)
		if cos := float64(g.along.X*at.along.X + g.along.Y*at.along.Y); cos < math.Cos(float64(straightWithin)) {
			return 0, fmt.Errorf("the nose of step %d is turned against that of step %d; choose a straight part of the flight", i+1, first+1)
		}
	}
	return first, nil
}

// swingAbove swings the steps from index at on, which are cloned, and sets
// aside the goings read to the first of them. It says whether any was in use.
func swingAbove(steps []Step, at int, f *turnFrame, from, to spot, sin, cos float64) bool {
	changed := false
	for i := at; i < len(steps); i++ {
		s := steps[i].clone()
		s.swing(f, from, to, sin, cos)
		if i == at {
			changed = s.forget(false, true)
		}
		steps[i] = s
	}
	return changed
}

// turned returns the job with the steps of a turn in it.
func turned(j Job, steps []Step, changed bool) (Job, error) {
	out := j
	out.Flight.Steps = steps
	rs, had := forgetRun(j.Flight.Readings)
	if had {
		out.Flight.Readings = rs
	}
	if had || changed {
		out.Revision++
	}
	return kept(j, out)
}

// Turn is how far a landing turns the stair.
type Turn string

// The turns of a landing.
const (
	QuarterTurn Turn = "quarter"
	HalfTurn    Turn = "half"
)

// InsertLanding makes the tread At a landing between two flights and swings the
// flight above round it, towards Side. Depth is from its nose line to the wall
// beyond; 0 makes it as deep as the flight is wide, and the set of the nose
// besides. Gap is the width between the two flights of a half turn. Heights
// stay, and the tread's riser becomes the last of the lower flight. Readings of
// what has changed its shape are set aside.
type InsertLanding struct {
	At    ID
	Turn  Turn
	Side  Edge // Left or Right
	Depth Length
	Gap   Length
}

// Apply implements Edit.
func (e InsertLanding) Apply(j Job) (Job, error) {
	at, err := turnable(j, e.At, e.Side, 1)
	if err != nil {
		return j, err
	}
	if e.Turn != QuarterTurn && e.Turn != HalfTurn {
		return j, fmt.Errorf(`a landing with a turn of %q; give "quarter" or "half"`, e.Turn)
	}
	steps := append([]Step(nil), j.Flight.Steps...)
	s := steps[at].clone()
	f := frameOf(&s, e.Side)
	forward, w := float64(NoseSetForward(j)), f.width
	depth := float64(e.Depth)
	if depth == 0 {
		depth = w + forward
	}
	// room for the landing nosing and for a foot on either side of a turn
	if least := forward + float64(j.Overlay.LandingDepth); !(depth >= least && depth <= float64(MaxLength)) {
		return j, fmt.Errorf("a landing %s deep; it needs %s for its nosing and the riser behind, and codes ask for far more", told(j, Length(depth)), told(j, Length(least)))
	}
	if forward < 1 {
		return j, errors.New("the overlay has no riser and no overhang; the two flights would meet in one point")
	}
	gap := float64(e.Gap)
	if !(gap >= 0 && gap <= float64(maxWell)) {
		return j, fmt.Errorf("a gap of %s between the flights; give 0 to %s", told(j, Length(gap)), told(j, maxWell))
	}
	above := at + 1
	g := frameOf(&steps[above], e.Side)
	from := f.spot(g.corner(spot{0, forward}))
	var to spot
	var sin, cos float64
	if e.Turn == QuarterTurn {
		to = spot{0, forward}
		sin, cos = 1, 0
		s.Corners, s.Edges = f.opening(spot{0, 0}, to, []spot{{w, 0}, {w, depth}, {0, depth}})
	} else {
		to = spot{-gap, forward}
		sin, cos = 0, -1
		far := -gap - g.width
		s.Corners, s.Edges = f.opening(spot{0, 0}, to, []spot{{w, 0}, {w, depth}, {far, depth}, {far, forward}})
	}
	s.Landing = true
	changed := s.forget(true, false)
	steps[at] = s
	changed = swingAbove(steps, above, &f, from, to, sin, cos) || changed
	return turned(j, steps, changed)
}

// Label implements Edit.
func (e InsertLanding) Label() string { return "make a landing" }
