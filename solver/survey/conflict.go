package survey

import (
	"math"
	"slices"
)

const (
	// maxConflicts bounds how many blunders are named in one flight. More
	// than that and the survey should be taken again.
	maxConflicts = 6
	// apart is how much more of the weighted sum of squares one suspect must
	// explain than another to be told from it: odds of e^(6/2), about 20 to 1.
	apart = 6.0
	// mirrorGain is how much more a card read looking down must explain than
	// the single worst reading does before the whole card is blamed.
	mirrorGain = 6.0
	// mirrorReadings is the fewest readings with a left and a right that can
	// show a card was mirrored.
	mirrorReadings = 3
	// mirrorTries is how many steps are tried; a mirrored card upsets its
	// neighbours, so the worst reading may lie on one of them.
	mirrorTries = 3
)

// conflicts looks for blunders: it takes the reading with the largest
// normalised residual, solves again without it, and goes on until what is left
// agrees. The sketch is loosened first, so that no reading is accused of
// disagreeing with a guess. It also returns the places of all readings it
// accuses.
func (p *problem) conflicts(base *solution, checked []Check) (out []Conflict, accused []int) {
	w := worst(checked)
	if w < 0 || math.Abs(checked[w].Normal) <= critical(countUsed(checked)) {
		return nil, nil
	}
	set := settings{looseSketch: true, start: base.x}
	sol := p.adjust(set)
	if sol.inverse == nil {
		return nil, nil
	}
	checked = p.checks(sol, set)
	for len(out) < maxConflicts {
		i := worst(checked)
		limit := critical(countUsed(checked))
		if i < 0 || math.Abs(checked[i].Normal) <= limit {
			break
		}
		set.start = sol.x
		if c, turned, ok := p.mirrored(sol, checked, set, i, limit); ok {
			// The card as a whole is to be turned; the rest is judged as if it were.
			set.mirrored = c.Suspects[0].Step + 1
			sol = turned
			checked = p.checks(sol, set)
			out = append(out, c)
			for k := range checked { // the whole card
				if checked[k].Step == c.Suspects[0].Step && checked[k].Used && checked[k].Kind.Mirrored() != checked[k].Kind {
					accused = append(accused, k)
				}
			}
			continue
		}
		suspects := []int{i}
		without := p.leaveOut(set, i)
		if without == nil {
			break
		}
		now := set
		now.without = append(append([]int(nil), set.without...), i)
		c := Conflict{Suspects: []Suspect{p.suspect(without, now, i, checked[i].Normal)}}
		after := p.checks(without, now)
		if k := rival(checked, after, i, limit); k >= 0 {
			if s := p.leaveOut(set, k); s != nil {
				suspects = append(suspects, k)
				trial := set
				trial.without = append(append([]int(nil), set.without...), k)
				c.Suspects = append(c.Suspects, p.suspect(s, trial, k, checked[k].Normal))
			}
		}
		accused = append(accused, suspects...)
		set.without = append(set.without, i)
		sol = without
		checked = after
		limit = critical(countUsed(checked))
		for k := range checked {
			if checked[k].Used && math.Abs(checked[k].Normal) > limit {
				c.Remaining++
			}
		}
		out = append(out, c)
	}
	slices.Sort(accused)
	return out, slices.Compact(accused)
}

// leaveOut solves again without reading i as well; nil when the shape is lost
// without it, so that it cannot be tried.
func (p *problem) leaveOut(set settings, i int) *solution {
	set.without = append(append([]int(nil), set.without...), i)
	s := p.adjust(set)
	if s.inverse == nil {
		return nil
	}
	return s
}

// rival returns the reading that explains the conflict almost as well as
// reading i, or -1. One that still conflicts with i left out, by the checks
// after, explains another conflict, however large: a slip of its own on some
// other card.
func rival(cs, after []Check, i int, limit float64) int {
	at, best := -1, cs[i].Normal*cs[i].Normal-apart
	for k := range cs {
		if k == i || !cs[k].Used || math.Abs(after[k].Normal) > limit {
			continue
		}
		if w2 := cs[k].Normal * cs[k].Normal; w2 > best {
			at, best = k, w2
		}
	}
	return at
}

// suspect describes reading i, given the solution without it.
func (p *problem) suspect(sol *solution, set settings, i int, normal float64) Suspect {
	t := &p.readings[i]
	s := Suspect{Reading: t.reading.ID, Step: t.step, Kind: t.reading.Kind, Normal: normal}
	var r row
	if observe(&r, p.sites, t.step, t.kindOf(set), sol.x) {
		s.Without = r.predicted
		if t.step >= 0 {
			s.Spread = math.Sqrt(math.Max(0, sol.covarianceOf(&r, &r)))
		} else {
			s.Spread = t.spread // the ends of the flight lie outside the band; the reading's own spread is of that size
		}
	}
	s.Mended = s.Without
	if why, mended, ok := explain(t.reading, p.job.Units, s.Without, math.Hypot(s.Spread, t.spread)); ok {
		s.Explanation, s.Mended = why, mended
	}
	return s
}

// mirrored tests whether a card was read looking down the flight: whether
// swapping the left and right of one step explains more than dropping the
// worst reading does. It tries the steps whose own readings conflict.
func (p *problem) mirrored(sol *solution, cs []Check, set settings, i int, limit float64) (Conflict, *solution, bool) {
	if set.mirrored != 0 {
		return Conflict{}, nil, false
	}
	var tried [mirrorTries]int
	var best *solution
	at := -1
	enough := sol.objective - (cs[i].Normal*cs[i].Normal + mirrorGain)
	for n := range tried {
		k := worstHanded(cs, limit, tried[:n])
		if k < 0 {
			break
		}
		tried[n] = cs[k].Step + 1
		trial := set
		trial.mirrored = cs[k].Step + 1
		if turned := p.adjust(trial); turned.inverse != nil && turned.objective <= enough {
			best, at, enough = turned, k, turned.objective
		}
	}
	if best == nil {
		return Conflict{}, nil, false
	}
	return Conflict{Suspects: []Suspect{p.turnedCard(best, cs, at)}}, best, true
}

// worstHanded returns the worst conflicting reading at a step that has enough
// readings with a left and a right and is not among the steps (from 1) tried.
func worstHanded(cs []Check, limit float64, tried []int) int {
	at, size := -1, limit
	for k := range cs {
		c := &cs[k]
		if !c.Used || c.Step < 0 || math.Abs(c.Normal) <= size || slices.Contains(tried, c.Step+1) {
			continue
		}
		handed := 0
		for o := range cs {
			if cs[o].Step == c.Step && cs[o].Used && cs[o].Kind.Mirrored() != cs[o].Kind {
				handed++
			}
		}
		if handed >= mirrorReadings {
			at, size = k, math.Abs(c.Normal)
		}
	}
	return at
}

// turnedCard describes reading k of a card that was read looking down, given
// the solution with the card turned.
func (p *problem) turnedCard(turned *solution, cs []Check, k int) Suspect {
	s := Suspect{
		Reading: cs[k].Reading, Step: cs[k].Step, Kind: cs[k].Kind, Normal: cs[k].Normal,
		Explanation: "the whole card fits if its left and right are swapped: it was read looking down the flight",
	}
	var r row
	if observe(&r, p.sites, s.Step, s.Kind, turned.x) {
		s.Without = r.predicted
		s.Spread = math.Sqrt(math.Max(0, turned.covarianceOf(&r, &r)))
	}
	s.Mended = s.Without
	for _, o := range cs { // mended: what its mirror image was read as
		if o.Step == s.Step && o.Used && o.Kind == s.Kind.Mirrored() {
			s.Mended = o.Value
		}
	}
	return s
}

func countUsed(cs []Check) int {
	n := 0
	for i := range cs {
		if cs[i].Used {
			n++
		}
	}
	return n
}
