package survey

import (
	"math"

	"risewright/model"
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
)

// conflicts looks for blunders: it takes the reading with the largest
// normalised residual, solves again without it, and goes on until what is left
// agrees. The sketch is loosened first, so that no reading is accused of
// disagreeing with a guess.
func (p *problem) conflicts(base *solution, checked []Check) []Conflict {
	w := worst(checked)
	if w < 0 || math.Abs(checked[w].Normal) <= critical(countUsed(checked)) {
		return nil
	}
	set := settings{looseSketch: true, start: base.x}
	sol := p.adjust(set)
	checked = p.checks(sol, set)
	var out []Conflict
	for len(out) < maxConflicts {
		i := worst(checked)
		limit := critical(countUsed(checked))
		if i < 0 || math.Abs(checked[i].Normal) <= limit {
			break
		}
		set.start = sol.x
		if c, ok := p.mirrored(sol, checked, set, i); ok {
			// The card as a whole is to be turned; the rest is judged as if it were.
			set.mirrored = checked[i].Step + 1
			sol = p.adjust(set)
			checked = p.checks(sol, set)
			out = append(out, c)
			continue
		}
		suspects := []int{i}
		if k := rival(checked, i); k >= 0 {
			suspects = append(suspects, k)
		}
		c := Conflict{}
		var without *solution
		for n, k := range suspects {
			trial := set
			trial.without = append(append([]int(nil), set.without...), k)
			s := p.adjust(trial)
			c.Suspects = append(c.Suspects, p.suspect(s, trial, k, checked[k].Normal))
			if n == 0 {
				without = s
			}
		}
		set.without = append(set.without, i)
		sol = without
		checked = p.checks(sol, set)
		limit = critical(countUsed(checked))
		for k := range checked {
			if checked[k].Used && math.Abs(checked[k].Normal) > limit {
				c.Remaining++
			}
		}
		out = append(out, c)
	}
	return out
}

// rival returns the reading that explains the conflict almost as well as
// reading i, or -1.
func rival(cs []Check, i int) int {
	at, best := -1, cs[i].Normal*cs[i].Normal-apart
	for k := range cs {
		if k == i || !cs[k].Used {
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

// mirrored tests whether the card of the suspect's step was read looking down
// the flight: whether swapping its left and right explains more than dropping
// the suspect does.
func (p *problem) mirrored(sol *solution, cs []Check, set settings, i int) (Conflict, bool) {
	step := cs[i].Step
	if step < 0 || set.mirrored != 0 {
		return Conflict{}, false
	}
	handed := 0
	for k := range cs {
		if cs[k].Step == step && cs[k].Used && cs[k].Kind.Mirrored() != cs[k].Kind {
			handed++
		}
	}
	if handed < mirrorReadings {
		return Conflict{}, false
	}
	trial := set
	trial.mirrored = step + 1
	turned := p.adjust(trial)
	if sol.objective-turned.objective < cs[i].Normal*cs[i].Normal+mirrorGain {
		return Conflict{}, false
	}
	s := Suspect{
		Reading: cs[i].Reading, Step: step, Kind: cs[i].Kind, Normal: cs[i].Normal,
		Explanation: "the whole card fits if its left and right are swapped: it was read looking down the flight",
	}
	var r row
	if observe(&r, p.sites, step, cs[i].Kind, turned.x) {
		s.Without = r.predicted
		s.Spread = math.Sqrt(math.Max(0, turned.covarianceOf(&r, &r)))
	}
	s.Mended = s.Without
	for _, o := range cs { // mended: what its mirror image was read as
		if o.Step == step && o.Used && o.Kind == model.Kind(cs[i].Kind).Mirrored() {
			s.Mended = o.Value
		}
	}
	return Conflict{Suspects: []Suspect{s}}, true
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
