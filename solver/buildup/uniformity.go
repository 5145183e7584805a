package buildup

import "math"

// member returns what is compared at a step, and false when the step takes no
// part.
type member func(*Step) (Sides, bool)

func riseBefore(s *Step) (Sides, bool)     { return s.RiseBefore, true }
func riseAfter(s *Step) (Sides, bool)      { return s.RiseAfter, true }
func goingBefore(s *Step) (Sides, bool)    { return s.GoingBefore, s.HasGoing && !s.Tapered }
func goingAfter(s *Step) (Sides, bool)     { return s.GoingAfter, s.HasGoing && !s.Tapered }
func surveyedNosing(s *Step) (Sides, bool) { return s.Surveyed, true }

// uniformity compares the members of the steps with indices from up to to. Winders take no part in
// comparing goings: the codes read compare them with each other, at a walking
// line.
//
// With a chain whose differences from step to step the members are, spreads
// are exact as far as the chain is; without one members count as independent.
func uniformity(steps []Step, from, to int, c *chain, of member) Uniformity {
	var u Uniformity
	previous := -2
	var last Sides
	for i := from; i < to; i++ {
		m, ok := of(&steps[i])
		if !ok {
			continue
		}
		for _, e := range [2]Extreme{{i + 1, Left, m.Left}, {i + 1, Right, m.Right}} {
			if u.Count == 0 && e.Side == Left || e.Value.At > u.Largest.Value.At {
				u.Largest = e
			}
			if u.Count == 0 && e.Side == Left || e.Value.At < u.Smallest.Value.At {
				u.Smallest = e
			}
		}
		if previous == i-1 {
			for _, d := range [2]struct {
				side Side
				by   float64
			}{{Left, m.Left.At - last.Left.At}, {Right, m.Right.At - last.Right.At}} {
				if by := math.Abs(d.by); by > u.Adjacent.At || u.AdjacentStep == 0 {
					u.Adjacent.At, u.AdjacentStep, u.AdjacentSide = by, i+1, d.side
				}
			}
		}
		previous, last = i, m
		u.Count++
	}
	if u.Count == 0 {
		return u
	}
	u.Spread = Value{u.Largest.Value.At - u.Smallest.Value.At, difference(c, u.Largest, u.Smallest)}
	if k := u.AdjacentStep; k > 0 {
		hi, _ := of(&steps[k-1])
		lo, _ := of(&steps[k-2])
		u.Adjacent.Spread = difference(c,
			Extreme{k, u.AdjacentSide, hi.On(u.AdjacentSide)},
			Extreme{k - 1, u.AdjacentSide, lo.On(u.AdjacentSide)})
	}
	return u
}

// difference returns one standard deviation of a minus b.
func difference(c *chain, a, b Extreme) float64 {
	if a.Step == b.Step && a.Side == b.Side {
		return 0
	}
	if c == nil {
		return math.Hypot(a.Value.Spread, b.Value.Spread)
	}
	i, k := a.Step-1, b.Step-1
	return c.spread(term{i, a.Side, 1}, term{i - 1, a.Side, -1}, term{k, b.Side, -1}, term{k - 1, b.Side, 1})
}
