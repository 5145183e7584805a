package stock

import "sort"

// knapsack finds the most valuable way to fill a board. It is used afresh for
// each set of values; the arrays stay.
type knapsack struct {
	order  []int // kinds with a value, best value for their size first
	size   []int64
	value  []float64
	most   []int
	least  []int64 // least[i] is the smallest size from i on
	counts []int
	best   []int
	top    float64 // value of best; a way is only kept when it is better
	ceil   float64 // nothing is worth more than the larger of top and ceil
	budget int
	work   int
}

// knapsackBudget bounds one filling, in steps. When it runs out the bound is
// what the steps not taken could still have given.
const knapsackBudget = 4_000

// load sets the values of the kinds; those without value or none left are
// passed over.
func (k *knapsack) load(p *problem, left []int, value []float64) {
	k.order = k.order[:0]
	for i := range p.types {
		if left[i] > 0 && value[i] > 0 {
			k.order = append(k.order, i)
		}
	}
	sort.SliceStable(k.order, func(a, b int) bool {
		i, j := k.order[a], k.order[b]
		return value[i]*float64(p.types[j].size) > value[j]*float64(p.types[i].size)
	})
	n := len(k.order)
	k.size, k.value, k.most = resize(k.size, n), resize(k.value, n), resize(k.most, n)
	k.counts, k.best, k.least = resize(k.counts, n), resize(k.best, n), resize(k.least, n+1)
	for i, t := range k.order {
		k.size[i], k.value[i], k.most[i] = p.types[t].size, value[t], left[t]
	}
	k.least[n] = 1 << 62
	for i := n - 1; i >= 0; i-- {
		k.least[i] = min(k.least[i+1], k.size[i])
	}
}

// fill looks for a filling of room worth more than floor. It returns the best
// one found (nil if none) and a bound that no filling exceeds.
func (k *knapsack) fill(room int64, floor float64) (items []item, value, bound float64) {
	k.top, k.ceil, k.budget = floor, floor, knapsackBudget
	clear(k.counts)
	found := false
	k.dive(0, room, 0, &found)
	k.work += knapsackBudget - max(0, k.budget)
	if !found {
		return nil, floor, max(k.top, k.ceil)
	}
	for i, n := range k.best {
		if n > 0 {
			items = append(items, item{k.order[i], n})
		}
	}
	sort.Slice(items, func(a, b int) bool { return items[a].kind < items[b].kind })
	return items, k.top, max(k.top, k.ceil)
}

// reach bounds what kinds from i on can add in the room left: whole parts in
// order of value for size, and a slice of the next.
func (k *knapsack) reach(i int, room int64) float64 {
	v := 0.0
	for ; i < len(k.size) && room > 0; i++ {
		k.budget--
		n := k.most[i]
		if take := int64(n) * k.size[i]; take <= room {
			room -= take
			v += float64(n) * k.value[i]
			continue
		}
		return v + k.value[i]*float64(room)/float64(k.size[i])
	}
	return v
}

func (k *knapsack) dive(i int, room int64, value float64, found *bool) {
	if value > k.top {
		k.top = value
		copy(k.best, k.counts)
		*found = true
	}
	for i < len(k.size) && k.size[i] > room {
		i++
	}
	if i == len(k.size) || room < k.least[i] {
		return
	}
	bound := value + k.reach(i, room)
	if bound <= k.top {
		return
	}
	if k.budget <= 0 {
		k.ceil = max(k.ceil, bound)
		return
	}
	for n := min(k.most[i], int(room/k.size[i])); n >= 0; n-- {
		k.budget--
		k.counts[i] = n
		k.dive(i+1, room-int64(n)*k.size[i], value+float64(n)*k.value[i], found)
	}
	k.counts[i] = 0
}

// resize returns s with length n; its contents mean nothing.
func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}
