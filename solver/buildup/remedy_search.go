package buildup

import (
	"math"
	"sort"

	"risewright/model"
)

// kinds is a set of kinds of change.
type kinds int

const (
	raiseBottom kinds = 1 << iota
	raiseTop
	movePacking
	changeBoard
	allKinds kinds = 1<<iota - 1
)

// costUnit is the size of one unit of cost. Costs are whole numbers of a
// millionth, in which both grids are whole (0.5 and 0.396875 mm), so that sums
// compare exactly.
const costUnit = 1e-6

// none is a cost beyond any: 1,000 treads moved 500 m cost 5e14.
const none = int64(math.MaxInt64 / 4)

// gridSlack lets a rise that meets the edge of a window but for rounding pass,
// in grid steps: 1e-7 of 0.5 mm is below limitSlack.
const gridSlack = 1e-7

// search returns the least work for every set of kinds of change that brings
// the rises within the limits and beats its own subsets, cheapest first.
//
// The unknowns are whole grid steps m(0) … m(N): the bottom floor up, each
// tread packed, the top floor up. Riser k becomes base(k) + grid·(m(k)-m(k-1)).
// For a window [w, w+spread] every riser's step d(k) = m(k)-m(k-1) has bounds
// of its own, and the least work is a shortest path along the flight.
// Only windows that begin at a rise some riser can have need be tried.
func search(job *model.Job, now *Result, limits RiseLimits, boards []board, far reach) []answer {
	best := map[kinds]answer{}
	var open []trial
	for _, packing := range [2]kinds{0, movePacking} {
		for i, b := range boards {
			chosen := kinds(0)
			if i > 0 {
				chosen = changeBoard
			}
			p := newPlan(job, now, limits, b, far, packing != 0)
			if len(now.Runs) > 1 {
				for _, bottom := range [2]kinds{0, raiseBottom} {
					p.byFlights(now.Runs, bottom != 0, packing|chosen|bottom, best)
				}
				continue
			}
			for _, w := range p.windows() {
				for _, bottom := range [2]kinds{0, raiseBottom} {
					t := trial{plan: p, window: w, bottom: bottom != 0, permitted: packing | chosen | bottom}
					if t.quick(best) {
						open = append(open, t)
					}
				}
			}
		}
	}
	// Cheapest first, so that the dear ones are cut off unseen.
	sort.SliceStable(open, func(i, k int) bool { return open[i].bound < open[k].bound })
	for _, t := range open {
		t.thorough(best)
	}
	return least(best)
}

// trial is one window of one choice of board and floors.
type trial struct {
	plan      *plan
	window    window
	bottom    bool
	permitted kinds
	bound     int64 // no path costs less
}

// keep records the answers that are the best of their kinds so far.
func (t *trial) keep(best map[kinds]answer, found []answer) {
	for _, a := range found {
		a.board = t.plan.board
		a.kinds |= t.permitted & changeBoard
		if old, ok := best[a.kinds]; !ok || a.cost < old.cost {
			best[a.kinds] = a
		}
	}
}

// quick tries the window without the limit on neighbours. A path that happens
// to keep that limit is kept; if one does not, quick says that the window has
// to be tried thoroughly, since the true path may cost more but not less.
func (t *trial) quick(best map[kinds]answer) bool {
	p := t.plan
	still, raised := cutoff(best, t.permitted), cutoff(best, t.permitted|raiseTop)
	if !p.relaxed(t.window, t.bottom, max(still, raised)) {
		return false
	}
	found := p.answers(still, raised, p.layers[p.n], p.backRelaxed)
	good := found[:0]
	t.bound = none
	for _, a := range found {
		if p.neighbourly(a.moves) {
			good = append(good, a)
		} else {
			t.bound = min(t.bound, a.cost)
		}
	}
	t.keep(best, good)
	return t.bound < none
}

// thorough tries the window with the limit on neighbours.
func (t *trial) thorough(best map[kinds]answer) {
	p := t.plan
	still, raised := cutoff(best, t.permitted), cutoff(best, t.permitted|raiseTop)
	limit := max(still, raised)
	if t.bound >= limit || !p.relaxed(t.window, t.bottom, limit) {
		return
	}
	end := p.withNeighbours(t.window, t.bottom, limit)
	t.keep(best, p.answers(still, raised, end, p.backDeep(t.window)))
}

// cutoff returns the least cost found with some of the permitted kinds.
func cutoff(best map[kinds]answer, permitted kinds) int64 {
	out := none
	for k, a := range best {
		if k&permitted == k && a.cost < out {
			out = a.cost
		}
	}
	return out
}

// plan is the search for one choice of board.
type plan struct {
	n      int // risers
	grid   float64
	limits RiseLimits
	board  board
	fixed  int64 // cost of the board
	// Of riser k = 1 … n, at index k-1: as it would be with nothing moved.
	left, right, low, high []float64
	from, to               []int     // grid steps that m(k) may take, k = 0 … n
	packed                 []float64 // packing in the job under tread k where it is lowest, at index k
	price                  [][]int64 // cost of every m(k)

	layers [][]int64 // shortest cost to every m(k)
	step   [][]int32 // the d(k) that led there
	queue  []int32
	rest   [][]int64 // shortest cost from every m(k) to the top, m(k) itself not counted
	deep   [][]int64 // as layers, by m(k) and d(k), for limits on neighbours
	came   [][]int32
}

func newPlan(job *model.Job, now *Result, limits RiseLimits, b board, far reach, packing bool) *plan {
	n := len(now.Steps)
	p := &plan{n: n, grid: gridMetric, limits: limits, board: b}
	if job.Units == model.Imperial {
		p.grid = gridImperial
	}
	if b.other {
		p.fixed = int64(math.Round(costThickness / costUnit))
	}
	plane := far.plane
	if t := float64(job.Existing.Tread); t > 0 {
		plane = math.Min(plane, t*planeShare)
	}
	p.from, p.to = make([]int, n+1), make([]int, n+1)
	floors := int(math.Floor(far.floor/p.grid + gridSlack))
	p.to[0], p.to[n] = floors, floors
	p.packed = make([]float64, n+1)
	below := 0.0
	for k := 1; k <= n; k++ {
		o := &now.Steps[k-1]
		up := 0.0
		if s := &job.Flight.Steps[k-1]; k < n {
			if s.Thickness <= 0 && !s.Landing { // which has a board of its own
				up = b.by
			}
			p.packed[k] = lowest(s)
			if packing {
				p.from[k] = min(0, int(math.Ceil((-plane-lowest(s))/p.grid-gridSlack)))
				p.to[k] = max(0, int(math.Floor((far.pack-float64(max(s.PackLeft, s.PackRight)))/p.grid+gridSlack)))
			}
		}
		l, r := o.RiseAfter.Left.At+up-below, o.RiseAfter.Right.At+up-below
		p.left, p.right = append(p.left, l), append(p.right, r)
		p.low, p.high = append(p.low, math.Min(l, r)), append(p.high, math.Max(l, r))
		below = up
	}
	widest := 0
	p.layers, p.step = make([][]int64, n+1), make([][]int32, n+1)
	p.price = make([][]int64, n+1)
	for k := range p.layers {
		size := p.to[k] - p.from[k] + 1
		p.price[k] = make([]int64, size)
		for i := range p.price[k] {
			p.price[k][i] = p.cost(k, p.from[k]+i)
		}
		p.layers[k], p.step[k] = make([]int64, size), make([]int32, size)
		widest = max(widest, size)
	}
	p.queue = make([]int32, 0, widest)
	return p
}

// cost returns what moving m(k) by q grid steps costs.
func (p *plan) cost(k, q int) int64 {
	if q == 0 {
		return 0
	}
	by := math.Abs(float64(q)) * p.grid
	if k == 0 || k == p.n {
		return int64(math.Round((costFloor + costFloorMM*by) / costUnit))
	}
	plane := planed(p.packed[k], p.packed[k]+float64(q)*p.grid)
	return int64(math.Round((costTread + by - plane + costPlane*plane) / costUnit))
}

// window is what every d(k) may be, at index k-1.
type window struct{ lo, hi []int }

// windows returns the windows of rises that need be tried.
func (p *plan) windows() []window {
	spread := p.limits.Spread
	if math.IsInf(spread, 1) {
		if w, ok := p.window(math.Inf(-1)); ok {
			return []window{w}
		}
		return nil
	}
	// The mean of the rises lies in every window; floors move it.
	lo, hi := float64(p.from[p.n]-p.to[0])*p.grid, float64(p.to[p.n]-p.from[0])*p.grid
	for i := range p.low {
		lo += p.low[i]
		hi += p.high[i]
	}
	first := math.Max(lo/float64(p.n)-spread-p.grid, p.limits.Least)
	last := hi/float64(p.n) + p.grid
	starts := []float64{first}
	for _, a := range p.low {
		for z := math.Ceil((first - a) / p.grid); a+z*p.grid <= last; z++ {
			starts = append(starts, a+z*p.grid)
		}
	}
	sort.Float64s(starts)
	var out []window
	previous := math.Inf(-1)
	for _, w := range starts {
		if w-previous < gridSlack*p.grid {
			continue
		}
		previous = w
		x, ok := p.window(w)
		if !ok {
			continue
		}
		// A later window asks more of the low end; unless it gives more at the
		// high end it holds nothing new.
		if n := len(out); n > 0 && equal(out[n-1].hi, x.hi) {
			continue
		}
		out = append(out, x)
	}
	return out
}

func equal(a, b []int) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// window returns the bounds of every d(k) for rises from w to w+spread, and
// false when some riser cannot be within them.
func (p *plan) window(w float64) (window, bool) {
	least, most := math.Max(w, p.limits.Least), math.Min(w+p.limits.Spread, p.limits.Most)
	if math.IsInf(w, -1) {
		most = p.limits.Most
	}
	ends := make([]int, 2*p.n)
	x := window{lo: ends[:p.n], hi: ends[p.n:]}
	for i := range p.low {
		// No step of a riser can exceed what its two ends may move.
		x.lo[i], x.hi[i] = p.from[i+1]-p.to[i], p.to[i+1]-p.from[i]
		if v := (least - p.low[i]) / p.grid; !math.IsInf(v, -1) {
			x.lo[i] = max(x.lo[i], int(math.Ceil(v-gridSlack)))
		}
		if v := (most - p.high[i]) / p.grid; !math.IsInf(v, 1) {
			x.hi[i] = min(x.hi[i], int(math.Floor(v+gridSlack)))
		}
		if x.lo[i] > x.hi[i] {
			return window{}, false
		}
	}
	return x, true
}

// answers reads the best ends off the last layer.
func (p *plan) answers(still, raised int64, end []int64, back func(q int) []int) []answer {
	var out []answer
	add := func(q int) {
		moves := back(q)
		a := answer{cost: end[q] + p.fixed, grid: p.grid, moves: moves}
		if moves[0] != 0 {
			a.kinds |= raiseBottom
		}
		if q != 0 {
			a.kinds |= raiseTop
		}
		for _, m := range moves[1:p.n] {
			if m != 0 {
				a.kinds |= movePacking
			}
		}
		out = append(out, a)
	}
	if end[0]+p.fixed < still {
		add(0)
		raised = min(raised, end[0]+p.fixed)
	}
	least, at := none, -1
	for q := 1; q < len(end); q++ {
		if end[q] < least {
			least, at = end[q], q
		}
	}
	if at > 0 && least+p.fixed < raised {
		add(at)
	}
	return out
}

// start fills the first layer.
func (p *plan) start(bottom bool) {
	for q := range p.layers[0] {
		p.layers[0][q] = none
		if q == 0 || bottom {
			p.layers[0][q] = p.price[0][q]
		}
	}
}

// relaxed finds the shortest path without the limit on neighbours. It returns
// false as soon as every path costs at least limit.
func (p *plan) relaxed(w window, bottom bool, limit int64) bool {
	p.start(bottom)
	for k := 1; k <= p.n; k++ {
		src, dst, step := p.layers[k-1], p.layers[k], p.step[k]
		lo, hi := w.lo[k-1], w.hi[k-1]
		least := none
		// For the moves m = from[k]+j of this layer, the moves of the layer
		// below lie in [m-hi, m-lo]: a window that slides up. The queue holds
		// places in it of rising cost.
		queue, head, next := p.queue[:0], 0, 0
		for j := range dst {
			m := p.from[k] + j
			for end := min(m-lo-p.from[k-1], len(src)-1); next <= end; next++ {
				for len(queue) > head && src[queue[len(queue)-1]] >= src[next] {
					queue = queue[:len(queue)-1]
				}
				queue = append(queue, int32(next))
			}
			for head < len(queue) && int(queue[head]) < m-hi-p.from[k-1] {
				head++
			}
			dst[j] = none
			if head < len(queue) && src[queue[head]] < none {
				from := int(queue[head])
				dst[j] = src[from] + p.price[k][j]
				step[j] = int32(m - (p.from[k-1] + from))
				least = min(least, dst[j])
			}
		}
		if least >= none || least+p.fixed >= limit {
			return false
		}
	}
	return true
}

// backRelaxed returns the moves that lead to the q-th move of the top.
func (p *plan) backRelaxed(q int) []int {
	moves := make([]int, p.n+1)
	m := p.from[p.n] + q
	for k := p.n; k > 0; k-- {
		moves[k] = m
		m -= int(p.step[k][m-p.from[k]])
	}
	moves[0] = m
	return moves
}

// backward fills rest for window w, without the limit on neighbours.
func (p *plan) backward(w window) {
	if p.rest == nil {
		p.rest = make([][]int64, p.n+1)
		for k := range p.rest {
			p.rest[k] = make([]int64, len(p.layers[k]))
		}
	}
	for q := range p.rest[p.n] {
		p.rest[p.n][q] = 0
	}
	for k := p.n; k > 0; k-- {
		src, dst := p.rest[k], p.rest[k-1]
		lo, hi := w.lo[k-1], w.hi[k-1]
		queue, head, next := p.queue[:0], 0, 0
		value := func(i int) int64 {
			if src[i] >= none {
				return none
			}
			return src[i] + p.price[k][i]
		}
		for j := range dst {
			m := p.from[k-1] + j
			for end := min(m+hi-p.from[k], len(src)-1); next <= end; next++ {
				for len(queue) > head && value(int(queue[len(queue)-1])) >= value(next) {
					queue = queue[:len(queue)-1]
				}
				queue = append(queue, int32(next))
			}
			for head < len(queue) && int(queue[head]) < m+lo-p.from[k] {
				head++
			}
			dst[j] = none
			if head < len(queue) {
				dst[j] = value(int(queue[head]))
			}
		}
	}
}

// neighbourly says whether moves keep the limit on neighbouring risers.
func (p *plan) neighbourly(moves []int) bool {
	d := func(k int) float64 { return float64(moves[k]-moves[k-1]) * p.grid }
	for k := 2; k <= p.n; k++ {
		by := d(k) - d(k-1)
		if math.Abs(p.left[k-1]-p.left[k-2]+by) > p.limits.Adjacent+limitSlack ||
			math.Abs(p.right[k-1]-p.right[k-2]+by) > p.limits.Adjacent+limitSlack {
			return false
		}
	}
	return true
}

// withNeighbours finds the shortest path with the limit on neighbours: its
// state is m(k) and d(k). It returns the cost of every end that costs less than
// limit. Call it after relaxed, whose layers and rest bound the cost of every
// path through m(k) from below, so that most of them are never looked at.
func (p *plan) withNeighbours(w window, bottom bool, limit int64) []int64 {
	p.backward(w)
	if p.deep == nil {
		p.deep, p.came = make([][]int64, p.n+1), make([][]int32, p.n+1)
	}
	hopeless := func(k, m int) bool {
		at := m - p.from[k]
		return p.layers[k][at]+p.rest[k][at]+p.fixed >= limit
	}
	for k := 1; k <= p.n; k++ {
		lo, hi := w.lo[k-1], w.hi[k-1]
		width := hi - lo + 1
		size := p.to[k] - p.from[k] + 1
		if cap(p.deep[k]) < size*width {
			p.deep[k], p.came[k] = make([]int64, size*width), make([]int32, size*width)
		}
		dst, came := p.deep[k][:size*width], p.came[k][:size*width]
		p.deep[k], p.came[k] = dst, came
		for i := range dst {
			dst[i] = none
		}
		put := func(m, d int, cost int64, from int) {
			if m < p.from[k] || m > p.to[k] || cost >= none || hopeless(k, m) {
				return
			}
			at := (m-p.from[k])*width + d - lo
			dst[at], came[at] = cost+p.price[k][m-p.from[k]], int32(from)
		}
		if k == 1 {
			for q, c := range p.layers[0] {
				for d := lo; d <= hi; d++ {
					put(p.from[0]+q+d, d, c, 0)
				}
			}
			continue
		}
		src, base, below := p.deep[k-1], w.lo[k-2], w.hi[k-2]-w.lo[k-2]+1
		// d(k-1) may lie in [d+first, d+final] on both sides of the flight
		l, r := p.left[k-1]-p.left[k-2], p.right[k-1]-p.right[k-2]
		first := int(math.Ceil((math.Max(l, r)-p.limits.Adjacent)/p.grid - gridSlack))
		final := int(math.Floor((math.Min(l, r)+p.limits.Adjacent)/p.grid + gridSlack))
		for q := 0; q <= p.to[k-1]-p.from[k-1]; q++ {
			if hopeless(k-1, p.from[k-1]+q) {
				continue
			}
			row := src[q*below : (q+1)*below]
			queue, head, next := p.queue[:0], 0, max(0, lo+first-base)
			for d := lo; d <= hi; d++ {
				for end := min(d+final-base, below-1); next <= end; next++ {
					for len(queue) > head && row[queue[len(queue)-1]] >= row[next] {
						queue = queue[:len(queue)-1]
					}
					queue = append(queue, int32(next))
				}
				for head < len(queue) && int(queue[head]) < d+first-base {
					head++
				}
				if head < len(queue) {
					put(p.from[k-1]+q+d, d, row[queue[head]], base+int(queue[head]))
				}
			}
		}
	}
	width := w.hi[p.n-1] - w.lo[p.n-1] + 1
	end := make([]int64, p.to[p.n]-p.from[p.n]+1)
	for q := range end {
		end[q] = none
		for d := 0; d < width; d++ {
			end[q] = min(end[q], p.deep[p.n][q*width+d])
		}
	}
	return end
}

// backDeep returns what backRelaxed does, after withNeighbours.
func (p *plan) backDeep(w window) func(q int) []int {
	return func(q int) []int {
		moves := make([]int, p.n+1)
		width := w.hi[p.n-1] - w.lo[p.n-1] + 1
		d := w.lo[p.n-1]
		for i, least := 0, none; i < width; i++ {
			if c := p.deep[p.n][q*width+i]; c < least {
				least, d = c, w.lo[p.n-1]+i
			}
		}
		m := p.from[p.n] + q
		for k := p.n; k > 0; k-- {
			moves[k] = m
			width := w.hi[k-1] - w.lo[k-1] + 1
			next := int(p.came[k][(m-p.from[k])*width+d-w.lo[k-1]])
			m -= d
			d = next
		}
		moves[0] = m
		return moves
	}
}
