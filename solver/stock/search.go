package stock

import (
	"container/heap"
	"math"
	"sort"
)

// search is a branch and bound over whole boards. Each node is a cutting of
// its own: what is left once some boards have been filled, with bounds on how
// many boards of each length are still to be taken. So the bound of a node is
// the same program as the root's, and nothing has to be forbidden in it.
//
// A node branches on the first of these that its program leaves in fractions:
// the number of boards in all, the number of one length, and last which
// filling the longest part left is on. The fillings that can better the best
// known plan are all written out: one whose reduced cost exceeds what is
// missing to the best known cannot.
type search struct {
	p    *problem
	lp   *master
	pool []pattern
	have map[string]int

	best  []pattern
	value int64 // of best, in coins
	ffd   int64
	lower int64
	done  bool // every node was looked at
	sums  []bool

	duals     []float64 // of the root, by kind, in coins
	certified int64     // the bound that duals prove

	queue      queue
	nextPlunge int
	seq        int
	nodes      int
	spent      int
}

// node is what has been decided.
type node struct {
	parent *node
	fixed  *pattern // board filled here; nil when only bounds were set
	lo, hi []int    // numbers of each board in all, shared with the parent when unchanged
	totLo  int
	totHi  int
	depth  int
	bound  int64
	tie    float64 // smaller first among equals
	seq    int
}

type queue []*node

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, k int) bool {
	a, b := q[i], q[k]
	switch {
	case a.bound != b.bound:
		return a.bound < b.bound
	case a.depth != b.depth:
		return a.depth > b.depth
	case a.tie != b.tie:
		return a.tie < b.tie
	}
	return a.seq < b.seq
}
func (q queue) Swap(i, k int) { q[i], q[k] = q[k], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(*node)) }
func (q *queue) Pop() any {
	old := *q
	n := old[len(old)-1]
	old[len(old)-1] = nil
	*q = old[:len(old)-1]
	return n
}

const (
	// slip is what a bound may be too large by through rounding, in parts of
	// itself: sums of a few hundred float64 terms stay below 10⁻¹³.
	slip = 1e-10
	// sumsLimit bounds the table of sums that boards can have.
	sumsLimit = 2_000_000
	// kindsLimit bounds the lengths told apart in a cutting that is searched: the
	// program's basis has a row for each, and a pivot takes their square. Above
	// it the rules of thumb stand, with the bound by size.
	kindsLimit = 300
	// fillingsLimit bounds the fillings written out at one node.
	fillingsLimit = 60_000
	// plungeEvery is after how many programs the search goes down once more for
	// a better plan.
	plungeEvery = 40
	// fillingsWork bounds the steps of writing them out.
	fillingsWork = 8_000_000
)

func newSearch(p *problem) *search {
	if p.step == 0 {
		p.step = 1 // every board is free
	}
	return &search{p: p, lp: newMaster(p), have: map[string]int{}, value: math.MaxInt64 / 4}
}

// keep puts a pattern into the pool, once.
func (s *search) keep(q pattern) (int, bool) {
	k := q.key()
	if i, ok := s.have[k]; ok {
		return i, false
	}
	s.have[k] = len(s.pool)
	s.pool = append(s.pool, q)
	return len(s.pool) - 1, true
}

func (s *search) run() {
	p := s.p
	left := make([]int, len(p.types))
	for k, t := range p.types {
		left[k] = t.count
	}
	s.rules(left, make([]int, len(p.bars)), nil, 0, true)
	s.ffd = 0
	if s.best != nil {
		s.ffd = s.firstFit(left)
	}
	root := &node{lo: make([]int, len(p.bars)), hi: make([]int, len(p.bars)), totHi: most}
	for b, bar := range p.bars {
		root.hi[b] = bar.limit
	}
	s.makeSums()
	s.lower = s.sizeBound()
	if len(p.types) > kindsLimit {
		s.lower = min(s.lower, s.value)
		return
	}
	root.bound = s.lower
	s.push(root)
	open := int64(math.MaxInt64)
	for len(s.queue) > 0 {
		n := heap.Pop(&s.queue).(*node)
		if n.bound >= s.value {
			continue
		}
		if s.spent >= p.work {
			open = min(open, n.bound)
			break
		}
		if !s.expand(n) {
			open = min(open, n.bound)
		}
	}
	s.done = open == math.MaxInt64
	s.lower = min(open, s.value)
}

// sizeBound returns what the parts' sizes alone cost on the board that costs
// least for its room, and keeps the prices that prove it.
func (s *search) sizeBound() int64 {
	rate, size := math.Inf(1), 0.0
	for _, b := range s.p.bars {
		rate = math.Min(rate, float64(b.cost)/float64(b.room))
	}
	for _, t := range s.p.types {
		size += float64(t.size) * float64(t.count)
	}
	// By its size a part is worth what its share of that board costs.
	s.duals = make([]float64, len(s.p.types))
	for k, t := range s.p.types {
		s.duals[k] = rate * float64(t.size) * (1 - slip)
	}
	s.certified = s.roundUp(rate * size)
	return s.certified
}

// firstFit returns the least cost that first-fit decreasing reaches with any
// rule for opening boards.
func (s *search) firstFit(left []int) int64 {
	least := int64(math.MaxInt64)
	for _, opening := range openings(s.p) {
		if pk, ok := decreasing(s.p, left, make([]int, len(s.p.bars)), opening, false); ok {
			least = min(least, pk.cost)
		}
	}
	if least == math.MaxInt64 {
		return 0
	}
	return least
}

// rules tries the rules of thumb on what is left, and keeps what betters the
// best plan. With learn their patterns go into the pool.
func (s *search) rules(left, used []int, fixed []pattern, cost int64, learn bool) {
	for _, opening := range openings(s.p) {
		for _, tight := range [...]bool{false, true} {
			pk, ok := decreasing(s.p, left, used, opening, tight)
			s.spent += 40 * len(s.p.types)
			if !ok {
				continue
			}
			qs := pk.patterns()
			if learn {
				for _, q := range qs {
					s.keep(q)
				}
			}
			if cost+pk.cost < s.value {
				s.value = cost + pk.cost
				s.best = append(append([]pattern(nil), fixed...), qs...)
			}
		}
	}
}

// makeSums tabulates which multiples of step are the cost of some boards, so
// that a bound can be rounded up to the next.
func (s *search) makeSums() {
	n := s.value / s.p.step
	if s.best == nil || n > sumsLimit {
		return
	}
	s.sums = make([]bool, n+1)
	s.sums[0] = true
	for _, b := range s.p.bars {
		c := b.cost / s.p.step
		for v := c; v <= n; v++ {
			s.sums[v] = s.sums[v] || s.sums[v-c]
		}
	}
}

// roundUp returns the least cost that boards can have from a bound on.
func (s *search) roundUp(bound float64) int64 {
	bound -= slip * math.Max(1, math.Abs(bound))
	if bound <= 0 {
		return 0
	}
	if bound > 1e17 {
		return math.MaxInt64 / 4
	}
	n := int64(math.Ceil(bound / float64(s.p.step)))
	for s.sums != nil && n < int64(len(s.sums)) && !s.sums[n] {
		n++
	}
	return n * s.p.step
}

func (s *search) push(n *node) {
	s.seq++
	n.seq = s.seq
	heap.Push(&s.queue, n)
}

// state is a node written out.
type state struct {
	left, used []int
	fixed      []pattern
	cost       int64
	lo, hi     []int // what is still to be taken of each board
}

func (s *search) stateOf(n *node) state {
	p := s.p
	st := state{left: make([]int, len(p.types)), used: make([]int, len(p.bars)),
		lo: make([]int, len(p.bars)), hi: make([]int, len(p.bars))}
	for k, t := range p.types {
		st.left[k] = t.count
	}
	for a := n; a != nil; a = a.parent {
		if a.fixed == nil {
			continue
		}
		st.fixed = append(st.fixed, *a.fixed)
		st.used[a.fixed.bar]++
		st.cost += p.bars[a.fixed.bar].cost
		for _, it := range a.fixed.items {
			st.left[it.kind] = max(0, st.left[it.kind]-it.count)
		}
	}
	for b := range p.bars {
		st.lo[b] = max(0, n.lo[b]-st.used[b])
		st.hi[b] = n.hi[b] - st.used[b]
	}
	return st
}

// expand looks at one node. It returns false when work ran out before all that
// follows from the node was written out.
func (s *search) expand(n *node) bool {
	st := s.stateOf(n)
	if sum(st.left) == 0 {
		if st.cost < s.value {
			s.value, s.best = st.cost, st.fixed
		}
		return true
	}
	for _, h := range st.hi {
		if h < 0 {
			return true
		}
	}
	sol := s.program(n, &st)
	bound := s.roundUp(sol.bound + float64(st.cost))
	if n.parent == nil && !sol.spent {
		s.certify(sol, bound)
	}
	if sol.cut {
		return true
	}
	n.bound = max(n.bound, bound)
	if sol.spent {
		return n.bound >= s.value
	}
	s.round(&st, sol)
	if n.parent == nil || s.nodes >= s.nextPlunge {
		s.nextPlunge = s.nodes + plungeEvery
		s.plunge(n, &st, sol)
	}
	if n.parent == nil {
		s.lower = n.bound
		if !s.p.inner && s.best != nil {
			s.repack()
		}
	}
	if n.bound >= s.value {
		return true
	}
	return s.branch(n, &st, sol)
}

// program solves the linear program of a node.
func (s *search) program(n *node, st *state) solution {
	s.nodes++
	used := sum(st.used)
	penalty := 10.0
	if s.best != nil {
		penalty += 2 * float64(s.value) / s.lp.scale
	} else {
		penalty += 2 * float64(sum(st.left))
	}
	s.lp.set(st.left, st.lo, st.hi, max(0, n.totLo-used), n.totHi-used, penalty)
	cutoff := math.Inf(1)
	if s.best != nil {
		cutoff = float64(s.value-s.p.step-st.cost)*(1+slip) + slip*float64(s.value) + 0.5
	}
	sol := s.lp.solve(s, cutoff, n.parent == nil && s.nodes == 1)
	s.spent += s.lp.work
	s.lp.work = 0
	return sol
}

// certify keeps the root's prices as a proof of its bound, lowered so that no
// filling is worth more than its board.
func (s *search) certify(sol solution, bound int64) {
	over := 1.0
	for b, bar := range s.p.bars {
		if s.lp.barHi[b] >= 0 {
			return // a limited board may be worth more than its price
		}
		_, _, top := s.lp.knap.fill(bar.room, float64(bar.cost)/s.lp.scale)
		if bar.cost > 0 {
			over = math.Max(over, top/(float64(bar.cost)/s.lp.scale))
		} else if top > 0 {
			return
		}
	}
	duals := make([]float64, len(s.p.types))
	total := 0.0
	for k, v := range sol.value {
		duals[k] = v * s.lp.scale / over
		total += duals[k] * float64(s.p.types[k].count)
	}
	if n := min(bound, s.roundUp(total)); n > s.certified {
		s.duals, s.certified = duals, n
	}
}

// round takes the whole part of a program's answer and fills the rest by the
// rules of thumb.
func (s *search) round(st *state, sol solution) {
	left, used := append([]int(nil), st.left...), append([]int(nil), st.used...)
	fixed, cost := append([]pattern(nil), st.fixed...), st.cost
	for _, t := range sol.taken {
		for range int(t.times + whole) {
			if !s.take(t.pattern, left, used, &fixed, &cost) {
				break
			}
		}
	}
	s.rules(left, used, fixed, cost, false)
}

// take fills one board by a pattern of the pool, leaving out parts that are
// not wanted any more. It returns false when there is no such board or nothing
// on the pattern is wanted.
func (s *search) take(pat int, left, used []int, fixed *[]pattern, cost *int64) bool {
	q := &s.pool[pat]
	if used[q.bar] >= s.p.bars[q.bar].limit {
		return false
	}
	cutDown := pattern{bar: q.bar}
	for _, it := range q.items {
		if n := min(it.count, left[it.kind]); n > 0 {
			cutDown.items = append(cutDown.items, item{it.kind, n})
			left[it.kind] -= n
		}
	}
	if len(cutDown.items) == 0 {
		return false
	}
	used[q.bar]++
	*cost += s.p.bars[q.bar].cost
	*fixed = append(*fixed, cutDown)
	return true
}

// plunge goes down from the root, each time filling the boards that the
// program is surest of, to a good first plan.
func (s *search) plunge(root *node, st *state, sol solution) {
	at := *st
	at.left, at.used = append([]int(nil), st.left...), append([]int(nil), st.used...)
	at.fixed = append([]pattern(nil), st.fixed...)
	at.lo, at.hi = make([]int, len(st.lo)), make([]int, len(st.hi)) // a better plan may lie outside the node
	for range most {
		if len(sol.taken) == 0 {
			return
		}
		sort.SliceStable(sol.taken, func(i, k int) bool { return sol.taken[i].times > sol.taken[k].times })
		done := 0
		for _, t := range sol.taken {
			n := int(t.times + whole)
			if n == 0 && done == 0 {
				n = 1
			}
			for range n {
				if s.take(t.pattern, at.left, at.used, &at.fixed, &at.cost) {
					done++
				}
			}
		}
		if done == 0 {
			return
		}
		for b, bar := range s.p.bars {
			at.hi[b] = bar.limit - at.used[b]
		}
		if sum(at.left) == 0 {
			if at.cost < s.value {
				s.value, s.best = at.cost, at.fixed
			}
			return
		}
		sol = s.program(&node{totHi: most}, &at)
		if sol.cut || sol.spent {
			return
		}
		s.round(&at, sol)
	}
}
