package stock

import (
	"math"
	"sort"
)

// frontier fills all boards at once, exactly: it keeps every sum of sizes for
// which no smaller sum is worth as much (Nemhauser and Ullmann, Management
// Science 15 (1969) 494-505, from memory). Many parts of nearly one length,
// which make the depth-first search try every choice among equals, leave it
// few such sums.
type frontier struct {
	list, next []sum2
	trail      []link
	kinds      []int     // of each part, as index in the knapsack's order
	sizes      []int64   // of the first so many parts together
	worths     []float64 // of the same
	ends       []int
	work       int
}

// sum2 is a sum of sizes and of values, and the way to it.
type sum2 struct {
	size  int64
	value float64
	way   int32 // in trail, -1 for nothing
}

// link is one more part of a kind on top of an earlier sum.
type link struct {
	before int32
	kind   int32
}

const (
	// frontierLimit bounds the sums kept at a time.
	frontierLimit = 60_000
	// beam is how many sums are kept when any good filling will do.
	beam = 1_500
	// offers is how many fillings of one board are offered at a time.
	offers = 6
)

// fillAll returns for each room fillings worth more than its floor, the best
// first, and the value that none exceeds. The kinds come from k, which has them
// in order of value for size. Sums beyond limit are thinned out, and then exact
// is false and tops mean nothing.
func (f *frontier) fillAll(k *knapsack, rooms []int64, floors []float64, limit int) (items [][][]item, tops []float64, exact bool) {
	f.list = append(f.list[:0], sum2{way: -1})
	f.trail = f.trail[:0]
	widest := int64(0)
	for _, r := range rooms {
		widest = max(widest, r)
	}
	// Parts one by one, best value for size first, and what the first so many
	// take up and are worth.
	f.kinds, f.sizes, f.worths = f.kinds[:0], append(f.sizes[:0], 0), append(f.worths[:0], 0)
	for i := range k.size {
		for range min(int64(k.most[i]), widest/k.size[i]) {
			n := len(f.kinds)
			f.kinds = append(f.kinds, i)
			f.sizes = append(f.sizes, f.sizes[n]+k.size[i])
			f.worths = append(f.worths, f.worths[n]+k.value[i])
		}
	}
	f.ends = resize(f.ends, len(rooms))
	exact = true
	for n := range f.kinds {
		f.grow(k, n, widest, rooms, floors)
		if len(f.list) > limit {
			exact = false
			f.thin(limit)
		}
	}
	items, tops = make([][][]item, len(rooms)), append([]float64(nil), floors...)
	for b, room := range rooms {
		n := sort.Search(len(f.list), func(i int) bool { return f.list[i].size > room })
		for i := n - 1; i >= 0 && i >= n-offers && f.list[i].value > floors[b]; i-- {
			tops[b] = math.Max(tops[b], f.list[i].value)
			items[b] = append(items[b], f.items(i))
		}
	}
	return items, tops, exact
}

// items returns what sum i is made of.
func (f *frontier) items(i int) []item {
	counts := map[int]int{}
	for w := f.list[i].way; w >= 0; w = f.trail[w].before {
		counts[int(f.trail[w].kind)]++
	}
	var out []item
	for kind, n := range counts {
		out = append(out, item{kind, n})
	}
	sort.Slice(out, func(i, j int) bool { return out[i].kind < out[j].kind })
	return out
}

// thin leaves about half of limit sums, evenly, with the first and the last.
func (f *frontier) thin(limit int) {
	every := 2 * len(f.list) / limit
	kept := f.list[:0]
	for i, s := range f.list {
		if i%every == 0 || i == len(f.list)-1 {
			kept = append(kept, s)
		}
	}
	f.list = kept
}

// grow adds part n to every sum and drops what is dominated, and what can not
// come to more than any floor with the parts after n: those in order that fit
// and a slice of the next. Sums go up in size, so that where they stop only
// moves back.
func (f *frontier) grow(k *knapsack, n int, widest int64, rooms []int64, floors []float64) {
	size, value, kind := k.size[f.kinds[n]], k.value[f.kinds[n]], int32(k.order[f.kinds[n]])
	for b := range f.ends {
		f.ends[b] = len(f.kinds)
	}
	promising := func(s sum2) bool {
		for b, room := range rooms {
			rest := room - s.size
			if rest < 0 {
				continue
			}
			e := f.ends[b]
			for e > n+1 && f.sizes[e]-f.sizes[n+1] > rest {
				e--
			}
			f.ends[b] = e
			hope := s.value + f.worths[e] - f.worths[n+1]
			if e < len(f.kinds) {
				i := f.kinds[e]
				hope += k.value[i] * float64(rest-(f.sizes[e]-f.sizes[n+1])) / float64(k.size[i])
			}
			if hope > floors[b]*(1-1e-12) {
				return true
			}
		}
		return false
	}
	next := f.next[:0]
	top := -1.0
	put := func(s sum2, fresh bool) {
		if s.value <= top || !promising(s) {
			return
		}
		top = s.value
		if fresh {
			f.trail = append(f.trail, link{s.way, kind})
			s.way = int32(len(f.trail) - 1)
		}
		next = append(next, s)
	}
	i := 0
	for _, old := range f.list {
		s := sum2{old.size + size, old.value + value, old.way}
		if s.size > widest {
			break
		}
		for i < len(f.list) && (f.list[i].size < s.size || f.list[i].size == s.size && f.list[i].value >= s.value) {
			put(f.list[i], false)
			i++
		}
		put(s, true)
	}
	for ; i < len(f.list); i++ {
		put(f.list[i], false)
	}
	f.work += 2*len(f.list) + len(next)
	f.list, f.next = next, f.list
}
