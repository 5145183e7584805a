package stock

import "math/rand/v2"

const (
	// repackShare is the part of the work that may go into bettering the first
	// plan before the search begins in earnest.
	repackShare = 0.4
	// repackTries is after how many draws without gain it is given up.
	repackTries = 60
	// repackParts and up to repackMore more is about how many parts are taken
	// off the boards at a time: a cutting so small is solved to the end in a
	// few milliseconds.
	repackParts = 10
	repackMore  = 16
	// repackWork bounds one of these cuttings.
	repackWork = 12_000_000
	// repackSeed makes the draws the same every time.
	repackSeed = 0x5eed
)

// repack betters the best plan: it takes a few boards out of it, cuts their
// parts anew as well as can be, and puts the new boards in their place.
func (s *search) repack() {
	rng := rand.New(rand.NewPCG(repackSeed, uint64(len(s.p.types))))
	until := s.spent + int(repackShare*float64(s.p.work))
	for tries := 0; tries < repackTries && s.spent < until && s.value > s.lower; tries++ {
		if s.repackOnce(rng) {
			tries = -1
		}
	}
}

func (s *search) repackOnce(rng *rand.Rand) bool {
	p := s.p
	sub := &problem{types: append([]kind(nil), p.types...), bars: append([]barrel(nil), p.bars...), unit: p.unit, step: p.step, work: repackWork, inner: true}
	for k := range sub.types {
		sub.types[k].count = 0
	}
	order := rng.Perm(len(s.best))
	var out, stay []pattern
	parts, cost := 0, int64(0)
	aim := repackParts + rng.IntN(repackMore)
	for i, j := range order {
		q := s.best[j]
		if i >= 2 && parts >= aim {
			stay = append(stay, q)
			sub.bars[q.bar].limit--
			continue
		}
		out = append(out, q)
		cost += p.bars[q.bar].cost
		for _, it := range q.items {
			sub.types[it.kind].count += it.count
			parts += it.count
		}
	}
	if len(stay) == 0 {
		return false // that is the whole cutting, which the search does anyway
	}
	in := newSearch(sub)
	in.best, in.value = out, cost
	in.run()
	s.spent += in.spent
	if in.value >= cost {
		return false
	}
	s.value += in.value - cost
	s.best = append(stay, in.best...)
	return true
}
