package walk

import (
	"cmp"
	"slices"

	"risewright/model"
)

func sortWalkers(ws []Walker) {
	slices.SortStableFunc(ws, func(a, b Walker) int { return cmp.Compare(a.Start, b.Start) })
}

// Outcome is what came of one of several setups.
type Outcome struct {
	Setup Setup
	Score Score
	Err   error // the tables cannot be made
}

// Compare lets the same people walk over each setup. The seed is that of the
// sensors; seed and walkers together give the same figures again.
func Compare(setups []Setup, walkers []Walker, seed uint64) []Outcome {
	out := make([]Outcome, len(setups))
	for i := range setups {
		out[i].Setup = setups[i]
		sim, err := NewSim(setups[i], seed)
		if err != nil {
			out[i].Err = err
			continue
		}
		out[i].Score = sim.Run(walkers)
	}
	return out
}

// Better says whether a score is better than another: fewer feet in the dark,
// then fewer that land while one of the next three steps is dark, then fewer on
// dim steps, then less light that nobody needs.
func (sc *Score) Better(o *Score) bool {
	return cmp.Or(cmp.Compare(sc.Dark, o.Dark), cmp.Compare(sc.Unlit, o.Unlit), cmp.Compare(sc.LookDark, o.LookDark),
		cmp.Compare(sc.Dimly, o.Dimly), cmp.Compare(sc.BarHours, o.BarHours)) < 0
}

// Found is what a search came to.
type Found struct {
	First, Best Outcome
	Changes     []Change // in the order they were made
	Tried       int
}

// Change is one setting that was changed because it made the score better.
type Change struct {
	ID       string // of a model.ControlFact
	Title    string
	From, To float64
	Score    Score
}

// searched are the settings that a search turns, and by how much. The others say
// what sensors and people do, not what is wished.
func searched() map[string][]float64 {
	return map[string][]float64{
		"ahead_up": {-1, 1, 2}, "ahead_down": {-1, 1, 2}, "behind": {-1, 1}, "end_first": {-1, 1, 2}, "far_end": {-1, 1},
		"hold": {-1, 1, 3}, "still": {-10, -5, 5, 10}, "fall": {-0.4, 0.4}, "dim": {-0.01, 0.01},
	}
}

// Search looks for settings of the controller with fewer feet in the dark, by
// turning one setting at a time for as long as any makes the score better, at
// most so many times through all of them. The same walkers and seed find the
// same settings.
func Search(setup Setup, walkers []Walker, seed uint64, rounds int) Found {
	if setup.Control == (model.Control{}) {
		setup.Control = model.FirstControl()
	}
	var f Found
	run := func(c model.Control) Outcome {
		s := setup
		s.Control = c
		f.Tried++
		return Compare([]Setup{s}, walkers, seed)[0]
	}
	f.First = run(setup.Control)
	f.Best = f.First
	steps := searched()
	for range rounds {
		before := len(f.Changes)
		for _, fact := range model.ControlFacts() {
			for _, by := range steps[fact.ID] {
				c := f.Best.Setup.Control
				from := fact.Get(&c)
				to := from + by
				if to < fact.Least || to > fact.Most {
					continue
				}
				fact.Set(&c, to)
				o := run(c)
				if o.Err == nil && (f.Best.Err != nil || o.Score.Better(&f.Best.Score)) {
					f.Best = o
					f.Changes = append(f.Changes, Change{fact.ID, fact.Title, from, to, o.Score})
				}
			}
		}
		if len(f.Changes) == before {
			break
		}
	}
	return f
}
