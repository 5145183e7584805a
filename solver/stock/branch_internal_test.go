package stock

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// The fillings that a node branches on, against all fillings written out and
// sieved by what they must be: with the longest part, worth enough, with no
// room for a further part, and with no part that could be changed for a longer
// one.
func TestFillingsAgainstSieve(t *testing.T) {
	kept, worthless := 0, 0
	for seed := range uint64(300) {
		rng := rand.New(rand.NewPCG(seed, 6))
		p := &problem{bars: []barrel{{room: int64(60 + rng.IntN(140)), cost: 100, limit: 99}}}
		size := int64(10 + rng.IntN(60))
		for range 2 + rng.IntN(6) {
			p.types = append(p.types, kind{size: size, count: 1 + rng.IntN(3)})
			if size -= int64(1 + rng.IntN(15)); size < 4 {
				break
			}
		}
		left, value := make([]int, len(p.types)), make([]float64, len(p.types))
		first := len(p.types)
		for k := range left {
			left[k] = rng.IntN(p.types[k].count + 1)
			value[k] = float64(p.types[k].size) / 100 * (0.7 + 0.6*rng.Float64())
			if left[k] > 0 && first == len(p.types) {
				first = k
			}
		}
		if first == len(p.types) || p.types[first].size > p.bars[0].room {
			continue
		}
		e := enumeration{s: &search{p: p}, left: left, value: value, first: first, counts: make([]int, len(left)), budget: fillingsWork}
		e.needed = (0.6 + 0.6*rng.Float64()) * float64(p.bars[0].room) / 100
		e.dive(first, p.bars[0].room, 0, -1, math.MaxInt64)
		var got []string
		for _, f := range e.out {
			got = append(got, fmt.Sprint(f.pattern.items))
		}

		var want []string
		counts := make([]int, len(left))
		var every func(k int, room int64, worth float64)
		every = func(k int, room int64, worth float64) {
			if k < len(left) {
				for n := 0; n <= left[k] && int64(n)*p.types[k].size <= room; n++ {
					counts[k] = n
					every(k+1, room-int64(n)*p.types[k].size, worth+float64(n)*value[k])
				}
				counts[k] = 0
				return
			}
			if counts[first] == 0 {
				return
			}
			if worth < e.needed {
				worthless++
				return
			}
			for j := range left {
				if counts[j] == left[j] {
					continue
				}
				if p.types[j].size <= room {
					return // j fits as well
				}
				for i := range left {
					if counts[i] > 0 && p.types[i].size < p.types[j].size && p.types[j].size-p.types[i].size <= room {
						return // j instead of i
					}
				}
			}
			var items []item
			for i, n := range counts {
				if n > 0 {
					items = append(items, item{i, n})
				}
			}
			want = append(want, fmt.Sprint(items))
		}
		every(0, p.bars[0].room, 0)
		slices.Sort(got)
		slices.Sort(want)
		kept += len(want)
		if !slices.Equal(got, want) {
			t.Errorf("seed %d: fillings %v, want %v", seed, got, want)
		}
	}
	if kept < 80 || worthless < 200 {
		t.Errorf("%d fillings kept and %d too poor: the draw shows nothing", kept, worthless)
	}
}

// Both ways of filling a board, against every filling.
func TestFillingABoard(t *testing.T) {
	for seed := range uint64(300) {
		rng := rand.New(rand.NewPCG(seed, 8))
		p := &problem{}
		size := int64(20 + rng.IntN(80))
		for range 1 + rng.IntN(7) {
			p.types = append(p.types, kind{size: size})
			size -= int64(1 + rng.IntN(12))
			if size < 3 {
				break
			}
		}
		left, value := make([]int, len(p.types)), make([]float64, len(p.types))
		for k := range left {
			left[k], value[k] = rng.IntN(4), float64(p.types[k].size)*(0.5+rng.Float64())
		}
		rooms := []int64{int64(30 + rng.IntN(200)), int64(30 + rng.IntN(200))}
		var knap knapsack
		var sums frontier
		knap.load(p, left, value)
		floors := []float64{40 * rng.Float64(), 40 * rng.Float64()}
		all, tops, exact := sums.fillAll(&knap, rooms, floors, frontierLimit)
		for b, room := range rooms {
			best := 0.0
			var every func(k int, room int64, worth float64)
			every = func(k int, room int64, worth float64) {
				if k == len(left) {
					best = math.Max(best, worth)
					return
				}
				for n := 0; n <= left[k] && int64(n)*p.types[k].size <= room; n++ {
					every(k+1, room-int64(n)*p.types[k].size, worth+float64(n)*value[k])
				}
			}
			every(0, room, 0)
			want := math.Max(best, floors[b])
			if !exact || math.Abs(tops[b]-want) > 1e-9 || (best > floors[b]+1e-9) != (len(all[b]) > 0) {
				t.Errorf("seed %d: sums give %v, want %v", seed, tops[b], want)
			}
			items, top, bound := knap.fill(room, floors[b])
			if math.Abs(top-want) > 1e-9 || math.Abs(bound-want) > 1e-9 || (items != nil) != (best > floors[b]) {
				t.Errorf("seed %d: search gives %v and %v, want %v", seed, top, bound, want)
			}
			for _, found := range append(all[b], items) {
				load := int64(0)
				for _, it := range found {
					load += int64(it.count) * p.types[it.kind].size
					if it.count > left[it.kind] {
						t.Errorf("seed %d: %v of %v left", seed, found, left)
					}
				}
				if load > room {
					t.Errorf("seed %d: %v in a room of %d", seed, found, room)
				}
			}
		}
	}
}
