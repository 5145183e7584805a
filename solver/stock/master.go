package stock

import "math"

// master is the linear program behind a bound: patterns may be taken in
// fractions, so that each kind of part is covered as often as it is still
// wanted. Patterns are made when their price says that they would help
// (Gilmore and Gomory, Operations Research 9 (1961) 849-859, from memory). The
// simplex is our own because the library's gives no dual prices and cannot go
// on from where it was when a pattern is added; a test holds its values to the
// library's.
type master struct {
	p      *problem
	scale  float64 // one unit of cost in the program, in coins
	knap   knapsack
	sums   frontier
	rooms  []int64
	floors []float64
	bars   []int

	left   []int // how many of each kind are wanted
	lo, hi []int // how many more of each board may and must be taken
	totLo  int   // how many more boards in all
	totHi  int

	rows  int
	row   []int // of each kind, or -1
	barLo []int // row that holds a board's least number, or -1
	barHi []int
	allLo int
	allHi int
	rhs   []float64
	sense []int8 // +1: at least rhs, -1: at most

	inv    []float64 // inverse of the basis, row by row
	x      []float64
	basis  []int // columns: see column
	inside []bool
	y      []float64
	cols   []column
	pivots int

	hopeful []int // columns worth entering
	hopes   []float64

	value []float64 // dual price of each kind
	work  int
}

// column is a column of the program: a pattern, or a slack (pattern -1).
type column struct {
	pattern int
	cost    float64
	at      []int
	val     []float64
}

const (
	// lpZero is how far from 0 a reduced cost, in units of the dearest board,
	// must be to count. Rounding in a basis of 100 rows stays near 10⁻¹³.
	lpZero = 1e-9
	// pivotZero is the smallest pivot: dividing by less would lose the digits
	// that lpZero relies on.
	pivotZero = 1e-8
	// nudge spreads the right-hand sides so that the simplex does not turn in
	// circles; the bound is worked out from the true ones.
	nudge = 1e-7
	// whole is how near a count must be to a whole number to be taken for it,
	// far above nudge and far below the smallest fraction that matters, 1/60 or
	// so for as many parts on a board.
	whole = 1e-4
	// refresh is after how many pivots the inverse is worked out afresh.
	refresh = 120
	// hopefuls is how many columns one scan picks out.
	hopefuls = 12
	// nearly is how near the answer must be to the bound, in parts of what is
	// missing to the best plan known, for a node's program to be left: the last
	// hundredths take most of the rounds. nearlyRoot is the same for the first
	// program, whose bound is printed.
	nearly     = 0.1
	nearlyRoot = 0.01
)

func newMaster(p *problem) *master {
	m := &master{p: p, row: make([]int, len(p.types)), value: make([]float64, len(p.types))}
	for _, b := range p.bars {
		m.scale = math.Max(m.scale, float64(b.cost))
	}
	if m.scale == 0 {
		m.scale = 1
	}
	m.barLo, m.barHi = make([]int, len(p.bars)), make([]int, len(p.bars))
	return m
}

// set begins a new program.
func (m *master) set(left, lo, hi []int, totLo, totHi int, penalty float64) {
	m.left, m.lo, m.hi, m.totLo, m.totHi = left, lo, hi, totLo, totHi
	m.rhs, m.sense = m.rhs[:0], m.sense[:0]
	add := func(n int, sense int8) int {
		r := len(m.rhs)
		m.rhs = append(m.rhs, float64(n))
		m.sense = append(m.sense, sense)
		return r
	}
	wanted := 0
	for k, n := range left {
		m.row[k] = -1
		if n > 0 {
			m.row[k] = add(n, 1)
			wanted += n
		}
	}
	for b := range m.p.bars {
		m.barLo[b], m.barHi[b] = -1, -1
		if lo[b] > 0 {
			m.barLo[b] = add(lo[b], 1)
		}
		if hi[b] < wanted {
			m.barHi[b] = add(hi[b], -1)
		}
	}
	m.allLo, m.allHi = -1, -1
	if totLo > 0 {
		m.allLo = add(totLo, 1)
	}
	if totHi < wanted {
		m.allHi = add(totHi, -1)
	}
	n := len(m.rhs)
	m.rows = n
	m.inv, m.x, m.y = resize(m.inv, n*n), resize(m.x, n), resize(m.y, n)
	m.basis = resize(m.basis, n)
	clear(m.inv)
	m.cols, m.inside, m.pivots = m.cols[:0], m.inside[:0], 0
	// Rows of "at least" start on an artificial column that costs more than any
	// answer worth having; "at most" on their slack.
	for r := range n {
		m.inv[r*n+r] = 1
		m.basis[r] = r
		c := column{pattern: -1, at: []int{r}, val: []float64{1}}
		if m.sense[r] > 0 {
			c.cost = penalty
		}
		m.add(c, true)
	}
	for r := range n {
		if m.sense[r] > 0 {
			m.add(column{pattern: -1, at: []int{r}, val: []float64{-1}}, false)
		}
	}
	m.restore()
}

func (m *master) add(c column, inside bool) int {
	m.cols = append(m.cols, c)
	m.inside = append(m.inside, inside)
	return len(m.cols) - 1
}

// nudged is the right-hand side that the simplex works with.
func (m *master) nudged(r int) float64 {
	return m.rhs[r] + float64(m.sense[r])*nudge*(1+float64((r*37+11)%101)/101)
}

// restore works x and y out from the inverse.
func (m *master) restore() {
	n := m.rows
	for r := range n {
		sum := 0.0
		for k := range n {
			sum += m.inv[r*n+k] * m.nudged(k)
		}
		m.x[r] = math.Max(0, sum)
	}
	clear(m.y)
	for r := range n {
		if c := m.cols[m.basis[r]].cost; c != 0 {
			for k := range n {
				m.y[k] += c * m.inv[r*n+k]
			}
		}
	}
	m.work += 2 * n * n
}

// reduced returns the reduced cost of column j.
func (m *master) reduced(j int) float64 {
	c := &m.cols[j]
	v := c.cost
	for i, r := range c.at {
		v -= m.y[r] * c.val[i]
	}
	return v
}

// enter brings column j, of reduced cost rc, into the basis.
func (m *master) enter(j int, rc float64) bool {
	n := m.rows
	d := make([]float64, n)
	c := &m.cols[j]
	for i, r := range c.at {
		v := c.val[i]
		for k := range n {
			d[k] += v * m.inv[k*n+r]
		}
	}
	out, step := -1, math.Inf(1)
	for k := range n {
		if d[k] <= pivotZero {
			continue
		}
		if t := m.x[k] / d[k]; t < step-1e-12 || t <= step && d[k] > d[out] {
			out, step = k, t
		}
	}
	if out < 0 {
		return false // cannot be but for rounding: costs are not negative
	}
	pr := m.inv[out*n : out*n+n]
	f := rc / d[out]
	for k := range n {
		m.y[k] += f * pr[k]
	}
	for k := range n {
		pr[k] /= d[out]
	}
	for r := range n {
		if r == out || d[r] == 0 {
			continue
		}
		row := m.inv[r*n : r*n+n]
		for k, v := range pr {
			row[k] -= d[r] * v
		}
		m.x[r] = math.Max(0, m.x[r]-d[r]*step)
	}
	m.x[out] = step
	m.inside[m.basis[out]] = false
	m.inside[j] = true
	m.basis[out] = j
	m.work += n*n + 4*n
	if m.pivots++; m.pivots%refresh == 0 {
		m.refactor()
	}
	return true
}

// refactor works the inverse out from the basis columns by Gauss-Jordan with
// row pivoting.
func (m *master) refactor() {
	n := m.rows
	a := make([]float64, n*n)
	for k, j := range m.basis {
		c := &m.cols[j]
		for i, r := range c.at {
			a[r*n+k] = c.val[i]
		}
	}
	inv := make([]float64, n*n)
	for i := range n {
		inv[i*n+i] = 1
	}
	for k := range n {
		best := k
		for r := k + 1; r < n; r++ {
			if math.Abs(a[r*n+k]) > math.Abs(a[best*n+k]) {
				best = r
			}
		}
		if math.Abs(a[best*n+k]) < pivotZero {
			return // keep the inverse there is; the bound does not depend on it
		}
		if best != k {
			for i := range n {
				a[k*n+i], a[best*n+i] = a[best*n+i], a[k*n+i]
				inv[k*n+i], inv[best*n+i] = inv[best*n+i], inv[k*n+i]
			}
		}
		f := 1 / a[k*n+k]
		for i := range n {
			a[k*n+i] *= f
			inv[k*n+i] *= f
		}
		for r := range n {
			if g := a[r*n+k]; r != k && g != 0 {
				for i := range n {
					a[r*n+i] -= g * a[k*n+i]
					inv[r*n+i] -= g * inv[k*n+i]
				}
			}
		}
	}
	copy(m.inv, inv)
	m.restore()
	m.work += 2 * n * n * n
}

// columnOf makes the column of a pattern.
func (m *master) columnOf(pool []pattern, i int) column {
	q := &pool[i]
	c := column{pattern: i, cost: float64(m.p.bars[q.bar].cost) / m.scale}
	c.at = make([]int, 0, len(q.items)+2)
	c.val = make([]float64, 0, len(q.items)+2)
	for _, it := range q.items {
		c.at, c.val = append(c.at, m.row[it.kind]), append(c.val, float64(it.count))
	}
	for _, r := range [...]int{m.barLo[q.bar], m.barHi[q.bar], m.allLo, m.allHi} {
		if r >= 0 {
			c.at, c.val = append(c.at, r), append(c.val, 1)
		}
	}
	return c
}

// solution is the outcome of a program.
type solution struct {
	bound float64 // no cover costs less, in coins
	cut   bool    // stopped because bound reached the cutoff
	spent bool    // stopped because work ran out
	// proved is the bound that the prices value and base prove. It may be a
	// little below bound, which is the best of all rounds.
	proved float64
	value  []float64 // price of each kind
	base   []float64 // per board: what the parts on it must be worth to pay for it
	taken  []share
	real   bool // no artificial column is left
	floats bool // some pattern is taken in a fraction
}

// share is how often a pattern is taken.
type share struct {
	pattern int
	times   float64
}

// solve solves the program, adding to the pool what it makes. It stops early
// when the bound is above cutoff, in coins.
func (m *master) solve(s *search, cutoff float64, first bool) solution {
	for i := range s.pool {
		if s.pool[i].fits(m.left) {
			m.add(m.columnOf(s.pool, i), false)
		}
	}
	best := math.Inf(-1)
	var last solution
	for {
		m.simplex()
		m.restore()
		z := m.objective()
		enough := nearly * (cutoff - z)
		if first {
			enough *= nearlyRoot / nearly
		}
		if math.IsInf(cutoff, 1) {
			enough = 0 // no plan to be near to
		}
		sol, grown := m.price(s, math.Max(enough, (z-cutoff)/2))
		if sol.bound > best {
			best = sol.bound
		}
		last = sol
		if best > cutoff {
			return solution{bound: best, cut: true, value: append([]float64(nil), m.value...)}
		}
		if s.spent+m.work > s.p.work+s.p.work/10 {
			return solution{bound: best, spent: true}
		}
		if !grown || z-sol.bound <= enough {
			break
		}
	}
	out := solution{bound: best, proved: last.bound, base: last.base, value: append([]float64(nil), m.value...), real: true}
	for r, j := range m.basis {
		if m.x[r] < whole {
			continue
		}
		if c := &m.cols[j]; c.pattern >= 0 {
			out.taken = append(out.taken, share{c.pattern, m.x[r]})
			if math.Abs(m.x[r]-math.Round(m.x[r])) > whole {
				out.floats = true
			}
		} else if j < m.rows && m.sense[j] > 0 {
			out.real = false
		}
	}
	return out
}

// simplex pivots until no column there is would help. A scan of all columns
// picks out the most promising few, which then are used up before the next.
func (m *master) simplex() {
	for stuck := 0; stuck < 50*(m.rows+10); {
		m.scan()
		if len(m.hopeful) == 0 {
			return
		}
		for {
			j, least := -1, -lpZero
			for _, k := range m.hopeful {
				if !m.inside[k] {
					if rc := m.reduced(k); rc < least {
						j, least = k, rc
					}
				}
			}
			m.work += 6 * len(m.hopeful)
			if j < 0 {
				break
			}
			// The nudges keep steps above 0; should rounding make them turn in
			// circles all the same, the bound stays true and the search goes on.
			if stuck++; !m.enter(j, least) || stuck >= 50*(m.rows+10) {
				return
			}
		}
	}
}

// scan puts the columns with the least reduced costs below 0 into hopeful.
func (m *master) scan() {
	m.hopeful, m.hopes = m.hopeful[:0], m.hopes[:0]
	try := func(k int) {
		if m.inside[k] {
			return
		}
		rc := m.reduced(k)
		if rc >= -lpZero {
			return
		}
		n := len(m.hopeful)
		if n == hopefuls {
			if rc >= m.hopes[n-1] {
				return
			}
			n--
			m.hopeful, m.hopes = m.hopeful[:n], m.hopes[:n]
		}
		m.hopeful, m.hopes = append(m.hopeful, k), append(m.hopes, rc)
		for ; n > 0 && m.hopes[n-1] > rc; n-- {
			m.hopes[n], m.hopeful[n] = m.hopes[n-1], m.hopeful[n-1]
		}
		m.hopes[n], m.hopeful[n] = rc, k
	}
	for k := m.rows; k < len(m.cols); k++ { // an artificial never comes back
		try(k)
	}
	for r := range m.rows { // but a slack of "at most" may
		if m.sense[r] < 0 {
			try(r)
		}
	}
	m.work += 5 * len(m.cols)
}

// price works out the bound that the present prices prove, and adds the best
// new pattern for each board.
//
// For prices v ≥ 0 of parts, u ≥ 0 of "at least" rows and w ≤ 0 of "at most"
// rows, every cover costs at least
//
//	v·left + u·lo + w·hi - Σ_b hi_b · max(0, best_b - base_b)
//
// where base_b is the board's cost less its rows' prices and best_b the
// most valuable filling of it: the last term pays for boards whose filling is
// worth more than they cost. So the bound is true whatever the simplex did.
//
// The bound is worth working out exactly when the fillings found are worth no
// more than enough, in coins, beyond their boards.
func (m *master) price(s *search, enough float64) (solution, bool) {
	total := 0.0
	clear(m.value)
	for k, r := range m.row {
		if r >= 0 {
			m.value[k] = math.Max(0, m.y[r])
			total += m.value[k] * m.rhs[r]
		}
	}
	dual := func(r int) float64 {
		if r < 0 {
			return 0
		}
		if m.sense[r] > 0 {
			return math.Max(0, m.y[r])
		}
		return math.Min(0, m.y[r])
	}
	all := dual(m.allLo) + dual(m.allHi)
	for r := range m.rhs {
		if m.isBranch(r) {
			total += dual(r) * m.rhs[r]
		}
	}
	sol := solution{base: make([]float64, len(m.p.bars))}
	m.knap.load(m.p, m.left, m.value)
	wanted := sum(m.left)
	rooms, floors, bars := m.rooms[:0], m.floors[:0], m.bars[:0]
	for b, bar := range m.p.bars {
		sol.base[b] = float64(bar.cost)/m.scale - dual(m.barLo[b]) - dual(m.barHi[b]) - all
		if min(m.hi[b], wanted, m.totHi) > 0 {
			rooms, floors, bars = append(rooms, bar.room), append(floors, math.Max(0, sol.base[b])+lpZero), append(bars, b)
		}
	}
	m.rooms, m.floors, m.bars = rooms, floors, bars
	found := make([][][]item, len(rooms))
	tops := make([]float64, len(rooms))
	any, exact := false, true
	for i := range rooms {
		items, top, bound := m.knap.fill(rooms[i], floors[i])
		tops[i] = bound
		if items != nil {
			any, found[i] = true, append(found[i], items)
		}
		exact = exact && bound <= top
	}
	// What the quick search could not settle, the sums do: first a few of them,
	// and all only when those show nothing.
	for _, limit := range [...]int{beam, frontierLimit} {
		if exact || any && m.surplus(found, bars, sol.base, wanted) > enough {
			break
		}
		var t []float64
		found, t, exact = m.sums.fillAll(&m.knap, rooms, floors, limit)
		if exact {
			tops = t
		}
		for i := range found {
			any = any || found[i] != nil
		}
	}
	grown := false
	for i, b := range bars {
		total -= float64(min(m.hi[b], wanted, m.totHi)) * math.Max(0, tops[i]-sol.base[b])
		for _, items := range found[i] {
			if j, fresh := s.keep(pattern{bar: b, items: items}); fresh {
				m.add(m.columnOf(s.pool, j), false)
				grown = true
			}
		}
	}
	m.work += 5*m.knap.work + 8*m.sums.work
	m.knap.work, m.sums.work = 0, 0
	sol.bound = total * m.scale
	return sol, grown
}

// surplus returns, in coins, how far the bound falls short for the fillings
// found.
func (m *master) surplus(found [][][]item, bars []int, base []float64, wanted int) float64 {
	total := 0.0
	for i, b := range bars {
		over := 0.0
		for _, items := range found[i] {
			v := -base[b]
			for _, it := range items {
				v += m.value[it.kind] * float64(it.count)
			}
			over = math.Max(over, v)
		}
		total += float64(min(m.hi[b], wanted, m.totHi)) * over
	}
	return total * m.scale
}

// objective returns what the program's present answer costs, in coins.
func (m *master) objective() float64 {
	z := 0.0
	for r, j := range m.basis {
		z += m.x[r] * m.cols[j].cost
	}
	return z * m.scale
}

func (m *master) isBranch(r int) bool {
	if r == m.allLo || r == m.allHi {
		return true
	}
	for b := range m.p.bars {
		if r == m.barLo[b] || r == m.barHi[b] {
			return true
		}
	}
	return false
}
