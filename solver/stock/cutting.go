package stock

import (
	"fmt"
	"math"
	"sort"
)

// Cutting is a list of parts to be cut from boards: which boards to take, and
// what to cut from each, at the least cost. Lengths are millimetres. The zero
// value needs nothing and is solved by nothing.
type Cutting struct {
	Parts  []Part
	Boards []Board
	// Kerf is what one saw cut turns to dust; it is charged for every part, and
	// once more for squaring the board's first end.
	Kerf float64
	// Trim is lost at each end of a board beside the kerf: checks, paint and a
	// factory end that is not square.
	Trim float64
	Goal Goal
	// Work bounds the search, in small steps of arithmetic; 0 means
	// DefaultWork. It counts steps and not time, so that the same cutting gives
	// the same answer on any machine.
	Work int
}

// Part is something to be cut, Count times over (0 means once).
type Part struct {
	Name   string
	Length float64
	Count  int
}

// Board is a length that can be had. A usable span between defects that were
// set aside by hand is a board of its own with Limit 1.
type Board struct {
	Name   string
	Length float64
	Price  float64
	Limit  int // how many there are; 0 means any number
	// Owned says that it is there already: it costs nothing, also where length
	// is made least.
	Owned bool
}

// Goal says what is made least.
type Goal string

// The goals. The empty goal is LeastCost.
const (
	LeastCost   Goal = "cost"
	LeastLength Goal = "length"
)

// DefaultWork is the search allowed when Work is 0: somewhat under a second on
// one core of a machine of 2020, measured by BenchmarkFlights.
const DefaultWork = 700_000_000

// Status says how sure a plan is. Running out of work is a status, not an
// error.
type Status string

// The statuses.
const (
	// Optimal means that nothing can be better: Lower equals Value.
	Optimal Status = "optimal"
	// Bounded means that nothing can be better than Lower.
	Bounded Status = "bounded"
	// Impossible means that the parts cannot be cut from these boards.
	Impossible Status = "impossible"
)

// Result is how the boards are cut.
//
//  1. Every part is cut as often as it was asked for, and no board is used
//     more often than its limit.
//  2. On each board trims, kerfs and parts together are no longer than the
//     board.
//  3. Lower never exceeds the value of any way of cutting; Optimal means that
//     it equals Value.
//  4. The order in which parts or boards are given changes neither Value nor
//     Lower when Status is Optimal.
type Result struct {
	Status  Status
	Why     string  // Impossible: what cannot be cut, and what would do
	Value   float64 // price, or length in mm, of the boards taken
	Lower   float64 // no way of cutting has less
	FFD     float64 // what first-fit decreasing comes to; 0 when it found none
	Layouts []Layout
	// Worth is a proof of Lower that can be checked by hand: a price for each
	// part such that no board holds parts worth more than its own price. The
	// parts together are then worth no more than any boards that hold them, and
	// rounding that up to a sum that boards can have gives Lower. It is nil when
	// the proof needed more than one such list.
	Worth []float64
	Nodes int // linear programs solved
	Work  int // steps of arithmetic spent
}

// Layout is one board as it is cut, from its squared end.
type Layout struct {
	Board  int // index in Cutting.Boards
	Cuts   []Cut
	Offcut float64 // what is left over at the far end after the last cut, mm
}

// Cut is one part on a board. At is where it begins, measured from the board's
// end before squaring.
type Cut struct {
	Part   int // index in Cutting.Parts
	At     float64
	Length float64
}

const (
	// grain is the unit, in mm, in which lengths are counted. 1/128 in is
	// 0.1984375 mm, a whole number of it; float64 holds 10⁵ mm to 1.5·10⁻¹¹, far
	// finer, so that rounding to the grain recovers what was typed.
	grain = 1e-7
	// coin is the unit in which prices, and lengths bought, are counted: a
	// hundredth of a cent, and fine enough for 1/16 in (1.5875 mm).
	coin = 1e-4
	// longest bounds lengths, in mm, and dearest prices: beyond them counting
	// would overflow.
	longest = 1e6
	dearest = 1e7
	// most bounds the number of parts: a hundred flights.
	most = 5_000
)

// Cut returns the cheapest way to cut the parts that it can find, with what it
// can prove about it.
func (c Cutting) Cut() Result {
	p, why := newProblem(c)
	if why != "" {
		return Result{Status: Impossible, Why: why}
	}
	if len(p.types) == 0 {
		return Result{Status: Optimal}
	}
	s := newSearch(p)
	s.run()
	return s.result(c)
}

// problem is a cutting in whole numbers, with equal lengths taken together.
type problem struct {
	types []kind   // longest first
	bars  []barrel // cheapest of their capacity only; longest first
	unit  float64  // value of one count of cost
	// step divides every cost, so that sums of costs are multiples of it.
	step int64
	work int
	// inner says that this is a few boards of a larger cutting.
	inner bool
}

// kind is all parts of one length.
type kind struct {
	size  int64 // with its kerf, in grains
	count int
	parts []int // index in Cutting.Parts, once for each copy
}

// barrel is one kind of board.
type barrel struct {
	board int   // index in Cutting.Boards
	room  int64 // in grains, what is left after squaring
	cost  int64 // in coins
	limit int   // never 0: the number of parts when there is no other
}

// newProblem counts a cutting in whole numbers, or says why it cannot be cut.
func newProblem(c Cutting) (*problem, string) {
	p := &problem{unit: coin, work: c.Work}
	if p.work <= 0 {
		p.work = DefaultWork
	}
	if !(c.Kerf >= 0 && c.Kerf < longest) || !(c.Trim >= 0 && c.Trim < longest) {
		return nil, "the kerf and the trim must be lengths of 0 or more"
	}
	kerf, trim := grains(c.Kerf), grains(c.Trim)
	total := 0
	bySize := map[int64]int{}
	for i, q := range c.Parts {
		if !(q.Length > 0 && q.Length < longest) || q.Count < 0 {
			return nil, fmt.Sprintf("part %s has a length of %v mm; it must be above 0 and below %.0f", name(q.Name, i), q.Length, longest)
		}
		n := max(1, q.Count)
		if total += n; total > most {
			return nil, fmt.Sprintf("there are more than %d parts", most)
		}
		size := grains(q.Length) + kerf
		at, ok := bySize[size]
		if !ok {
			at = len(p.types)
			bySize[size] = at
			p.types = append(p.types, kind{size: size})
		}
		p.types[at].count += n
		for range n {
			p.types[at].parts = append(p.types[at].parts, i)
		}
	}
	sort.Slice(p.types, func(i, k int) bool { return p.types[i].size > p.types[k].size })
	for i, b := range c.Boards {
		if !(b.Length > 0 && b.Length < longest) || !(b.Price >= 0 && b.Price < dearest) || b.Limit < 0 {
			return nil, fmt.Sprintf("board %s has length %v mm and price %v; both must be numbers in bounds", name(b.Name, i), b.Length, b.Price)
		}
		cost := int64(math.Round(b.Price / coin))
		if c.Goal == LeastLength && !b.Owned {
			cost = int64(math.Round(b.Length / coin))
		}
		limit := total
		if b.Limit > 0 {
			limit = min(limit, b.Limit)
		}
		room := grains(b.Length) - 2*trim - kerf
		if len(p.types) == 0 || room < p.types[len(p.types)-1].size {
			continue // too short for any part
		}
		p.bars = append(p.bars, barrel{board: i, room: room, cost: cost, limit: limit})
	}
	// Longest first; of the same length the cheapest, of the same price the
	// one listed first.
	sort.SliceStable(p.bars, func(i, k int) bool {
		a, b := p.bars[i], p.bars[k]
		if a.room != b.room {
			return a.room > b.room
		}
		return a.cost < b.cost
	})
	p.dropDominated(total)
	for _, b := range p.bars {
		p.step = gcd(p.step, b.cost)
	}
	if len(p.types) > 0 && (len(p.bars) == 0 || p.bars[0].room < p.types[0].size) {
		t := p.types[0]
		need := float64(t.size)*grain + 2*c.Trim + c.Kerf
		return nil, fmt.Sprintf("no board is long enough for %s: with kerfs and trims it needs %.1f mm", name(c.Parts[t.parts[0]].Name, t.parts[0]), need)
	}
	return p, ""
}

// dropDominated leaves out boards that are no longer and no cheaper than
// another of which there are enough.
func (p *problem) dropDominated(total int) {
	kept := p.bars[:0]
	for _, b := range p.bars {
		dominated := false
		for _, a := range kept { // no shorter
			if a.cost <= b.cost && a.limit >= total {
				dominated = true
			}
		}
		if !dominated {
			kept = append(kept, b)
		}
	}
	p.bars = kept
}

func grains(mm float64) int64 { return int64(math.Round(mm / grain)) }

func name(s string, i int) string {
	if s != "" {
		return s
	}
	return fmt.Sprintf("number %d", i+1)
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// result lays the best packing out in the caller's terms.
func (s *search) result(c Cutting) Result {
	p := s.p
	r := Result{Nodes: s.nodes, Work: s.spent, FFD: float64(s.ffd) * p.unit}
	r.Lower = float64(s.lower) * p.unit
	if s.best == nil {
		r.Status = Bounded
		r.Why = "the boards there are may not be enough; no way of cutting was found"
		if s.done {
			r.Status, r.Lower = Impossible, 0
			r.Why = "the boards there are cannot hold all the parts; add a board"
		}
		return r
	}
	r.Value = float64(s.value) * p.unit
	r.Status = Bounded
	if s.lower >= s.value {
		r.Status, r.Lower = Optimal, r.Value
	}
	r.Worth = s.worth(c)
	next := make([]int, len(p.types))
	kerf, trim := c.Kerf, c.Trim
	for _, q := range s.best {
		bar := p.bars[q.bar]
		l := Layout{Board: bar.board}
		at := trim + kerf
		used := int64(0)
		for _, it := range q.items {
			for range it.count {
				part := p.types[it.kind].parts[next[it.kind]]
				next[it.kind]++
				l.Cuts = append(l.Cuts, Cut{Part: part, At: at, Length: c.Parts[part].Length})
				at += c.Parts[part].Length + kerf
				used += p.types[it.kind].size
			}
		}
		l.Offcut = math.Max(0, float64(bar.room-used)*grain+trim)
		r.Layouts = append(r.Layouts, l)
	}
	return r
}

// worth returns the certificate, one value for each part.
func (s *search) worth(c Cutting) []float64 {
	if s.duals == nil || s.certified < s.lower {
		return nil
	}
	out := make([]float64, len(c.Parts))
	for k, t := range s.p.types {
		for _, i := range t.parts {
			out[i] = s.duals[k] * s.p.unit
		}
	}
	return out
}
