package buildup

import "math"

// flightPlan is one flight of a plan: a plan of its own, whose foot and head are the
// floors or landings it lies between. A code compares a rise with those of its
// own flight, so each has windows of its own; what couples them is the landing,
// which one build-up serves.
type flightPlan struct {
	*plan
	first int     // its lowest riser, from 1
	cost  []int64 // least cost to every move of its head, what lies below included
	moves [][]int // and the moves that lead there, from its foot to its head
}

// flights splits the plan at the landings.
func (p *plan) flights(runs []Run) []flightPlan {
	out := make([]flightPlan, len(runs))
	for i, r := range runs {
		a, b := r.First-1, r.Last
		q := &plan{n: b - a, grid: p.grid, limits: p.limits, fixed: p.fixed,
			left: p.left[a:b], right: p.right[a:b], low: p.low[a:b], high: p.high[a:b],
			from: p.from[a : b+1], to: p.to[a : b+1], price: append([][]int64(nil), p.price[a:b+1]...),
			layers: make([][]int64, b-a+1), step: make([][]int32, b-a+1)}
		for k := range q.layers {
			size := q.to[k] - q.from[k] + 1
			q.layers[k], q.step[k] = make([]int64, size), make([]int32, size)
		}
		out[i] = flightPlan{plan: q, first: r.First}
	}
	return out
}

// byFlights finds the least cost to every move of the top floor when each flight
// keeps the limits by itself, and keeps the best answers: a dynamic programme
// over the flights, and within each over its risers for every window.
func (p *plan) byFlights(runs []Run, bottom bool, permitted kinds, best map[kinds]answer) {
	fs := p.flights(runs)
	src := make([]int64, len(p.price[0]))
	for q := range src {
		src[q] = none
		if q == 0 || bottom {
			src[q] = p.price[0][q]
		}
	}
	limit := max(cutoff(best, permitted), cutoff(best, permitted|raiseTop))
	for i := range fs {
		fs[i].solve(src, limit)
		src = fs[i].cost
	}
	back := func(q int) []int {
		moves := make([]int, p.n+1)
		for i := len(fs) - 1; i >= 0; i-- {
			f := &fs[i]
			m := f.moves[q]
			copy(moves[f.first-1:], m)
			if i > 0 {
				q = m[0] - f.from[0]
			}
		}
		return moves
	}
	still, raised := cutoff(best, permitted), cutoff(best, permitted|raiseTop)
	t := trial{plan: p, permitted: permitted}
	t.keep(best, p.answers(still, raised, src, back))
}

// solve fills in cost and moves from the costs of the moves of its foot.
func (f *flightPlan) solve(src []int64, limit int64) {
	size := f.to[f.n] - f.from[f.n] + 1
	f.cost, f.moves = make([]int64, size), make([][]int, size)
	for q := range f.cost {
		f.cost[q] = none
	}
	f.price[0] = src // what the foot costs with all that lies below it
	keep := func(q int, cost int64, back func(int) []int) bool {
		if cost >= f.cost[q] || cost+f.fixed >= limit {
			return true
		}
		moves := back(q)
		if !f.neighbourly(moves) {
			return false
		}
		f.cost[q], f.moves[q] = cost, moves
		return true
	}
	for _, w := range f.windows() {
		if !f.relaxed(w, true, limit) {
			continue
		}
		good := true
		end := f.layers[f.n]
		for q := range end {
			good = keep(q, end[q], f.backRelaxed) && good
		}
		if good || math.IsInf(f.limits.Adjacent, 1) {
			continue
		}
		back := f.backDeep(w)
		for q, cost := range f.withNeighbours(w, true, limit) {
			keep(q, cost, back)
		}
	}
}
