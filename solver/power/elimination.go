package power

// elimination is an order in which to eliminate the unknowns of a symmetric
// positive definite matrix, fewest neighbours first, with every place that is
// filled on the way. In a wiring almost every node has two neighbours, so the
// fill and the cost grow in proportion to the nodes.
type elimination struct {
	count int
	edges int   // off-diagonal places, the fill included
	place []int // by pair given: its place; parallel pairs share one
	steps []elimStep
}

// elimStep eliminates one unknown.
type elimStep struct {
	node  int
	next  []int // its neighbours then left
	edge  []int // the place of the entry between node and each
	pairs []int // the places of the entries between neighbours i < k, row by row
}

func newElimination(count int, pairs [][2]int) *elimination {
	e := &elimination{count: count, place: make([]int, len(pairs))}
	type link struct{ to, edge int }
	near := make([][]link, count)
	// Room for each node's own neighbours, cut from one piece.
	degree := make([]int, count)
	for _, p := range pairs {
		degree[p[0]]++
		degree[p[1]]++
	}
	room := make([]link, 2*len(pairs))
	for v, d := range degree {
		near[v], room = room[:0:d], room[d:]
	}
	join := func(a, b int) int {
		for _, l := range near[a] {
			if l.to == b {
				return l.edge
			}
		}
		near[a] = append(near[a], link{b, e.edges})
		near[b] = append(near[b], link{a, e.edges})
		e.edges++
		return e.edges - 1
	}
	for i, p := range pairs {
		e.place[i] = join(p[0], p[1])
	}
	// Buckets by number of neighbours; an entry is stale when the node has
	// another number by now.
	var buckets [][]int
	file := func(v int) {
		d := len(near[v])
		for len(buckets) <= d {
			buckets = append(buckets, nil)
		}
		buckets[d] = append(buckets[d], v)
	}
	done := make([]bool, count)
	for v := count - 1; v >= 0; v-- {
		file(v)
	}
	e.steps = make([]elimStep, 0, count)
	for least := 0; len(e.steps) < count; {
		for least < len(buckets) && len(buckets[least]) == 0 {
			least++
		}
		b := buckets[least]
		v := b[len(b)-1]
		buckets[least] = b[:len(b)-1]
		if done[v] || len(near[v]) != least {
			continue
		}
		done[v] = true
		st := elimStep{node: v}
		if n := len(near[v]); n > 0 {
			both := make([]int, 2*n)
			st.next, st.edge = both[:0:n], both[n:n]
		}
		for _, l := range near[v] {
			st.next = append(st.next, l.to)
			st.edge = append(st.edge, l.edge)
			back := near[l.to]
			for i := range back {
				if back[i].to == v {
					back[i] = back[len(back)-1]
					near[l.to] = back[:len(back)-1]
					break
				}
			}
		}
		for i := range st.next {
			for k := i + 1; k < len(st.next); k++ {
				st.pairs = append(st.pairs, join(st.next[i], st.next[k]))
			}
		}
		for _, u := range st.next {
			file(u)
			least = min(least, len(near[u]))
		}
		e.steps = append(e.steps, st)
	}
	return e
}

// solve solves the system with the given diagonal and off-diagonal entries for
// b, and puts the answer in b. All three are used up. It returns false where a
// pivot is not above nil, which cannot occur while every unknown is joined to a
// supply by runs of finite resistance.
func (e *elimination) solve(diag, off, b []float64) bool {
	return e.reduce(diag, off) && (&eliminated{e, diag, off, true}).solve(b)
}

// eliminated is a matrix with its unknowns eliminated, ready for one right-hand
// side after another.
type eliminated struct {
	e         *elimination
	diag, off []float64
	ok        bool // every pivot is above nil
}

// eliminate returns the matrix with the given entries, eliminated. They are
// copied.
func (e *elimination) eliminate(diag, off []float64) *eliminated {
	m := &eliminated{e: e, diag: append([]float64(nil), diag...), off: append([]float64(nil), off...)}
	m.ok = e.reduce(m.diag, m.off)
	return m
}

// reduce eliminates the unknowns in place.
func (e *elimination) reduce(diag, off []float64) bool {
	for i := range e.steps {
		st := &e.steps[i]
		d := diag[st.node]
		if !(d > 0) {
			return false
		}
		k := 0
		for x, u := range st.next {
			f := off[st.edge[x]] / d
			diag[u] -= f * off[st.edge[x]]
			for y := x + 1; y < len(st.next); y++ {
				off[st.pairs[k]] -= f * off[st.edge[y]]
				k++
			}
		}
	}
	return true
}

// solve solves for b and puts the answer in b. It returns false where the
// matrix has no answer.
func (m *eliminated) solve(b []float64) bool {
	if !m.ok {
		return false
	}
	for i := range m.e.steps {
		st := &m.e.steps[i]
		f := b[st.node] / m.diag[st.node]
		for x, u := range st.next {
			b[u] -= m.off[st.edge[x]] * f
		}
	}
	for i := len(m.e.steps) - 1; i >= 0; i-- {
		st := &m.e.steps[i]
		v := b[st.node]
		for x, u := range st.next {
			v -= m.off[st.edge[x]] * b[u]
		}
		b[st.node] = v / m.diag[st.node]
	}
	return true
}
