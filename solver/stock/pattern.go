package stock

import "sort"

// pattern is one way to fill one board.
type pattern struct {
	bar   int // index in problem.bars
	items []item
}

// item is how often a kind of part is on a board.
type item struct{ kind, count int }

// fits says whether the pattern asks for no more parts than there are left.
func (q *pattern) fits(left []int) bool {
	for _, it := range q.items {
		if it.count > left[it.kind] {
			return false
		}
	}
	return true
}

// key returns a text that is equal for equal patterns only.
func (q *pattern) key() string {
	b := make([]byte, 0, 4+6*len(q.items))
	b = append(b, byte(q.bar), byte(q.bar>>8))
	for _, it := range q.items {
		b = append(b, byte(it.kind), byte(it.kind>>8), byte(it.kind>>16), byte(it.count), byte(it.count>>8), byte(it.count>>16))
	}
	return string(b)
}

// packing is boards being filled by a rule of thumb.
type packing struct {
	p    *problem
	used []int // how many of each board
	open []filled
	cost int64
}

// filled is a board with what is on it so far.
type filled struct {
	bar    int
	load   int64
	counts map[int]int
}

// decreasing fills boards with what is left, longest part first. opening says
// which board to open for a part, or -1; tight puts each part where it leaves
// least, else it goes on the first board with room. ok is false when a part
// finds no board.
func decreasing(p *problem, left, used []int, opening func(pk *packing, kind int) int, tight bool) (*packing, bool) {
	pk := &packing{p: p, used: append([]int(nil), used...)}
	for k := range p.types {
		for range left[k] {
			if !pk.put(k, opening, tight) {
				return nil, false
			}
		}
	}
	pk.shrink()
	return pk, true
}

func (pk *packing) put(k int, opening func(*packing, int) int, tight bool) bool {
	size := pk.p.types[k].size
	at, least := -1, int64(0)
	for i := range pk.open {
		rest := pk.p.bars[pk.open[i].bar].room - pk.open[i].load - size
		if rest < 0 {
			continue
		}
		if at < 0 || tight && rest < least {
			at, least = i, rest
		}
		if !tight {
			break
		}
	}
	if at < 0 {
		b := opening(pk, k)
		if b < 0 {
			return false
		}
		at = len(pk.open)
		pk.open = append(pk.open, filled{bar: b, counts: map[int]int{}})
		pk.used[b]++
		pk.cost += pk.p.bars[b].cost
	}
	pk.open[at].load += size
	pk.open[at].counts[k]++
	return true
}

// shrink swaps each board for the cheapest that holds what is on it.
func (pk *packing) shrink() {
	for i := range pk.open {
		f := &pk.open[i]
		for b, bar := range pk.p.bars {
			if bar.room >= f.load && bar.cost < pk.p.bars[f.bar].cost && pk.used[b] < bar.limit {
				pk.used[b]++
				pk.used[f.bar]--
				pk.cost += bar.cost - pk.p.bars[f.bar].cost
				f.bar = b
			}
		}
	}
}

// patterns returns the filled boards.
func (pk *packing) patterns() []pattern {
	out := make([]pattern, len(pk.open))
	for i, f := range pk.open {
		out[i].bar = f.bar
		for k, n := range f.counts {
			out[i].items = append(out[i].items, item{k, n})
		}
		sort.Slice(out[i].items, func(a, b int) bool { return out[i].items[a].kind < out[i].items[b].kind })
	}
	return out
}

// openings are the rules for opening a board: each board in turn where it
// fits, and the one that costs least for its room.
func openings(p *problem) []func(*packing, int) int {
	var out []func(*packing, int) int
	fits := func(pk *packing, b, k int) bool {
		return p.bars[b].room >= p.types[k].size && pk.used[b] < p.bars[b].limit
	}
	for first := range p.bars {
		out = append(out, func(pk *packing, k int) int {
			if fits(pk, first, k) {
				return first
			}
			for b := range p.bars {
				if fits(pk, b, k) {
					return b
				}
			}
			return -1
		})
	}
	rate := func(b int) float64 { return float64(p.bars[b].cost) / float64(p.bars[b].room) }
	out = append(out, func(pk *packing, k int) int {
		best := -1
		for b := range p.bars {
			if fits(pk, b, k) && (best < 0 || rate(b) < rate(best)) {
				best = b
			}
		}
		return best
	}, func(pk *packing, k int) int {
		best := -1
		for b := range p.bars {
			if fits(pk, b, k) && (best < 0 || p.bars[b].cost < p.bars[best].cost) {
				best = b
			}
		}
		return best
	})
	return out
}
