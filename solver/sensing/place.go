package sensing

import (
	"cmp"
	"fmt"
	"slices"

	"risewright/model"
)

// Placement is where the search puts sensors for a wish.
type Placement struct {
	Sensors []model.Sensor // from the bottom up
	Found   bool           // they do all that is wished
	Need    int            // the least number that does, on the grid; 0: none does
	Blind   []int          // positions not seen with Sensors
	// Tried is how many placings were looked at, and Proven says in words what is
	// certain about the answer.
	Tried   int
	Proven  string
	Overlap int // that neighbours share at least; less than wished when not Found
	// Fewer are the positions left blind by the best that one sensor fewer can do,
	// and FewerOverlap what its neighbours still share.
	Fewer        []int
	FewerOverlap int
	// Failed[i] are the positions left blind when sensor i fails.
	Failed [][]int
	Why    string // what cannot be met, when not Found
}

// candidate is one placing of the grid with a run of positions it is sure of.
type candidate struct {
	sensor model.Sensor
	run    Span
	cost   float64 // the less the better among as many sensors
}

// The grid of the search, common practice, no source.
const (
	placesPerStep = 2
)

// Place searches positions, aims, hoods and tape for what the job wishes of its
// sensors: every position seen, neighbours sharing Overlap, no traffic of hall
// and landing seen, at most Most sensors. The same job gives the same places.
//
// The grid has two places to a step at each mount, three tilts, with a bore three
// depths of hood, and, where a sensor is to be sure of few positions, three widths
// of tape at both sides: what it glimpses besides lights steps that are far from
// who walks. On it the answer is exact: runs of positions in a chain
// are a shortest path, so that no fewer sensors do, and of as few those are
// chosen whose glimpses reach least beyond what they are sure of.
func (st *Stair) Place(job *model.Job) Placement {
	wish := job.Sensing.Wish
	cs, tried, why := st.candidates(job)
	p := Placement{Tried: tried, Why: why}
	if len(cs) == 0 {
		for k := range st.Risers + 1 {
			p.Blind = append(p.Blind, k)
		}
		if p.Why == "" {
			p.Why = "no placing of the grid is sure of any step"
		}
		p.Proven = fmt.Sprintf("none of %d placings can be used", tried)
		return p
	}
	whole := Span{0, st.Risers}
	most := wish.Most
	if most <= 0 {
		most = model.MaxSensors
	}
	chain, ok := shortest(cs, whole, wish.Overlap)
	if ok {
		p.Need = len(chain)
		p.Proven = fmt.Sprintf("on a grid of %d placings, no fewer than %d sensors do", tried, p.Need)
	} else {
		p.Proven = fmt.Sprintf("no number of sensors on a grid of %d placings does", tried)
		p.Why = "no chain of placings sees every position with that overlap"
	}
	p.Found = ok && len(chain) <= most
	p.Overlap = wish.Overlap
	if !p.Found {
		if ok {
			p.Why = fmt.Sprintf("it takes %d sensors; at most %d are wished for", len(chain), most)
		}
		chain, p.Overlap = bestOf(cs, whole, wish.Overlap, min(most, len(cs)))
	}
	p.Blind = uncovered(chain, whole, -1)
	for i := range chain {
		s := chain[i].sensor
		s.Name = fmt.Sprintf("S%d", i+1)
		s.ID = model.NamedID(job.ID, "placed sensor "+s.Name)
		p.Sensors = append(p.Sensors, s)
		p.Failed = append(p.Failed, uncovered(chain, whole, i))
	}
	if n := len(chain); n > 1 {
		var fewer []candidate
		fewer, p.FewerOverlap = bestOf(cs, whole, wish.Overlap, n-1)
		p.Fewer = uncovered(fewer, whole, -1)
	}
	return p
}

// bestOf returns the best that n sensors can do, from the bottom up, and what
// neighbours share: a chain with the most overlap up to what is wished, else the
// most positions.
func bestOf(cs []candidate, whole Span, overlap, n int) ([]candidate, int) {
	for ; overlap >= 0; overlap-- {
		if chain, ok := shortest(cs, whole, overlap); ok && len(chain) <= n {
			return chain, overlap
		}
	}
	out := widest(cs, whole, n)
	slices.SortStableFunc(out, func(a, b candidate) int {
		return cmp.Compare(a.run.First+a.run.Last, b.run.First+b.run.Last)
	})
	return out, 0
}

// uncovered returns the positions of whole in no run, leaving out one of them.
func uncovered(cs []candidate, whole Span, without int) []int {
	var out []int
	for k := whole.First; k <= whole.Last; k++ {
		has := false
		for i := range cs {
			has = has || i != without && cs[i].run.Has(k)
		}
		if !has {
			out = append(out, k)
		}
	}
	return out
}

// shortest returns the fewest runs, and of as few the cheapest, in a chain from
// end to end of whole, each sharing at least overlap positions with the one
// before and reaching further.
func shortest(cs []candidate, whole Span, overlap int) ([]candidate, bool) {
	type best struct {
		n    int
		cost float64
		from int
	}
	order := make([]int, len(cs))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(cs[a].run.Last, cs[b].run.Last) })
	at := make([]best, len(cs))
	end := -1
	better := func(a, b best) bool { return a.n < b.n || a.n == b.n && a.cost < b.cost }
	for x, i := range order {
		c := &cs[i]
		at[i] = best{n: len(cs) + 1, from: -1}
		if c.run.First <= whole.First {
			at[i] = best{1, c.cost, -1}
		}
		for _, j := range order[:x] {
			d := &cs[j]
			if at[j].n > len(cs) || d.run.Last >= c.run.Last || c.run.First > d.run.Last-overlap+1 || d.run.First >= c.run.First {
				continue
			}
			if b := (best{at[j].n + 1, at[j].cost + c.cost, j}); better(b, at[i]) {
				at[i] = b
			}
		}
		if c.run.Last >= whole.Last && at[i].n <= len(cs) && (end < 0 || better(at[i], at[end])) {
			end = i
		}
	}
	if end < 0 {
		return nil, false
	}
	var out []candidate
	for i := end; i >= 0; i = at[i].from {
		out = append(out, cs[i])
	}
	slices.Reverse(out)
	return out, true
}

// widest returns at most n runs that together have the most positions of whole,
// and of as many the cheapest. It goes through the positions from the bottom:
// after each, either it is left out, or a run that has it is taken to its end.
func widest(cs []candidate, whole Span, n int) []candidate {
	type best struct {
		seen int
		cost float64
		take int // -1: the position is left out
		next int
	}
	last := whole.Last - whole.First + 1
	// at[m][k]: the best of m runs for the positions from k on
	at := make([][]best, n+1)
	for m := range at {
		at[m] = make([]best, last+1)
		for k := last - 1; k >= 0; k-- {
			b := at[m][k+1]
			b.take, b.next = -1, k+1
			for i := range cs {
				r := cs[i].run
				if m == 0 || !r.Has(k+whole.First) {
					continue
				}
				next := min(last, r.Last-whole.First+1)
				rest := at[m-1][next]
				seen, cost := rest.seen+next-k, rest.cost+cs[i].cost
				if seen > b.seen || seen == b.seen && cost < b.cost {
					b = best{seen, cost, i, next}
				}
			}
			at[m][k] = b
		}
	}
	var out []candidate
	for m, k := n, 0; k < last; {
		b := at[m][k]
		if b.take >= 0 {
			out = append(out, cs[b.take])
			m--
		}
		k = b.next
	}
	return out
}
