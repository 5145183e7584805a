package stock

import "math"

// branch writes out what can follow from a node.
func (s *search) branch(n *node, st *state, sol solution) bool {
	counts := make([]float64, len(s.p.bars))
	total := 0.0
	for _, t := range sol.taken {
		counts[s.pool[t.pattern].bar] += t.times
		total += t.times
	}
	used := sum(st.used)
	child := func() *node {
		return &node{parent: n, lo: n.lo, hi: n.hi, totLo: n.totLo, totHi: n.totHi, depth: n.depth + 1, bound: n.bound}
	}
	if sol.real && fractional(total) {
		f := int(math.Floor(total))
		up, down := child(), child()
		up.totLo, down.totHi = used+f+1, used+f
		up.tie, down.tie = 1-(total-float64(f)), total-float64(f)
		s.push(up)
		s.push(down)
		return true
	}
	at, mid := -1, 0.5-whole
	for b, c := range counts {
		f := c - math.Floor(c)
		if d := math.Abs(f - 0.5); sol.real && d < mid {
			at, mid = b, d
		}
	}
	if at >= 0 {
		f := int(math.Floor(counts[at]))
		up, down := child(), child()
		up.lo, down.hi = append([]int(nil), n.lo...), append([]int(nil), n.hi...)
		up.lo[at], down.hi[at] = st.used[at]+f+1, st.used[at]+f
		up.tie, down.tie = 1-(counts[at]-float64(f)), counts[at]-float64(f)
		s.push(up)
		s.push(down)
		return true
	}
	return s.fillings(n, st, sol, child)
}

func fractional(v float64) bool { return math.Abs(v-math.Round(v)) > whole }

// fillings makes a child for every filling with the longest part left that no
// further part fits on and that could better the best plan.
func (s *search) fillings(n *node, st *state, sol solution, child func() *node) bool {
	first := 0
	for st.left[first] == 0 {
		first++
	}
	times := map[string]float64{}
	for _, t := range sol.taken {
		times[s.pool[t.pattern].key()] += t.times
	}
	e := enumeration{s: s, left: st.left, value: sol.value, first: first, budget: fillingsWork}
	e.counts = make([]int, len(st.left))
	for b, bar := range s.p.bars {
		if st.hi[b] <= 0 {
			continue
		}
		spare := (float64(s.value-s.p.step-st.cost) - sol.proved + 0.5) / s.lp.scale
		if s.best == nil {
			spare = math.Inf(1)
		}
		e.bar, e.needed = b, sol.base[b]-spare-lpZero
		e.dive(first, bar.room, 0, -1, math.MaxInt64)
	}
	s.spent += 5 * (fillingsWork - e.budget)
	if e.budget <= 0 || len(e.out) > fillingsLimit {
		return false
	}
	for i := range e.out {
		c := child()
		c.fixed = &e.out[i].pattern
		rc := math.Max(0, sol.base[c.fixed.bar]-e.out[i].worth)
		c.bound = max(n.bound, s.roundUp(sol.proved+rc*s.lp.scale+float64(st.cost)))
		c.tie = rc - times[c.fixed.key()]
		if c.bound < s.value {
			s.push(c)
		}
	}
	return true
}

// enumeration writes out the fillings of one board that hold the kind first.
type enumeration struct {
	s      *search
	left   []int
	value  []float64
	first  int
	bar    int
	needed float64 // what a filling must be worth
	counts []int
	out    []filling
	budget int
}

type filling struct {
	pattern pattern
	worth   float64
}

// dive goes on with kind k. room is what is left; passed is the shortest kind
// longer than k that could have been taken once more (-1 for none); slack is
// what the finished filling must leave less of, or a part on it could be
// changed for a longer one.
func (e *enumeration) dive(k int, room int64, worth float64, passed int, slack int64) {
	if e.budget--; e.budget <= 0 || len(e.out) > fillingsLimit {
		return
	}
	p := e.s.p
	for k < len(p.types) && (e.left[k] == 0 || p.types[k].size > room) {
		if e.left[k] > 0 {
			passed = k
		}
		k++
	}
	if k == len(p.types) {
		if worth < e.needed || room >= slack {
			return
		}
		if passed >= 0 && e.fitsMore(room) {
			return
		}
		q := pattern{bar: e.bar}
		for i, c := range e.counts {
			if c > 0 {
				q.items = append(q.items, item{i, c})
			}
		}
		e.out = append(e.out, filling{q, worth})
		return
	}
	// What is left is worth at most the best rate of what still fits, and fills
	// at most as many of the longest as there is room for of the shortest.
	rate, least := 0.0, p.types[k].size
	for i := k; i < len(p.types); i++ {
		if e.left[i] > 0 {
			if p.types[i].size <= room {
				rate = math.Max(rate, e.value[i]/float64(p.types[i].size))
			}
			least = p.types[i].size
		}
	}
	e.budget -= (len(p.types) - k) / 4
	if worth+rate*float64(room) < e.needed {
		return
	}
	if room-(room/least)*p.types[k].size >= slack {
		return
	}
	fewest := 0
	if k == e.first {
		fewest = 1
	}
	for c := min(e.left[k], int(room/p.types[k].size)); c >= fewest; c-- {
		e.counts[k] = c
		s, pass := slack, passed
		if c > 0 && passed >= 0 && k != e.first {
			s = min(s, p.types[passed].size-p.types[k].size)
		}
		if c < e.left[k] {
			pass = k
		}
		e.dive(k+1, room-int64(c)*p.types[k].size, worth+float64(c)*e.value[k], pass, s)
	}
	e.counts[k] = 0
}

// fitsMore says whether one more part fits in room.
func (e *enumeration) fitsMore(room int64) bool {
	for i := len(e.left) - 1; i >= e.first; i-- {
		if e.left[i] > e.counts[i] && e.s.p.types[i].size <= room {
			return true
		}
	}
	return false
}

func sum(v []int) int {
	t := 0
	for _, x := range v {
		t += x
	}
	return t
}
