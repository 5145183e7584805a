package stock_test

import (
	"math"
	"testing"

	"risewright/solver/stock"
)

// verify holds a result against what its doc comment promises, by arithmetic
// of its own.
func verify(t testing.TB, c stock.Cutting, r stock.Result) {
	t.Helper()
	if r.Status == stock.Impossible {
		if r.Why == "" || len(r.Layouts) > 0 {
			t.Errorf("impossible without a reason, or with layouts: %+v", r)
		}
		return
	}
	if r.Status == stock.Bounded && len(r.Layouts) == 0 && r.Why != "" {
		return // it may be impossible, and says so
	}
	cut := make([]int, len(c.Parts))
	taken := make([]int, len(c.Boards))
	value := 0.0
	for i, l := range r.Layouts {
		b := c.Boards[l.Board]
		taken[l.Board]++
		value += b.Price
		if c.Goal == stock.LeastLength {
			value += b.Length - b.Price
		}
		at := c.Trim + c.Kerf
		for _, q := range l.Cuts {
			cut[q.Part]++
			if math.Abs(q.At-at) > 1e-6 || q.Length != c.Parts[q.Part].Length {
				t.Errorf("board %d: part %d lies at %v and is %v long, want %v and %v", i, q.Part, q.At, q.Length, at, c.Parts[q.Part].Length)
			}
			at += q.Length + c.Kerf
		}
		if rest := b.Length - c.Trim - at; rest < -1e-6 || math.Abs(rest+c.Trim-l.Offcut) > 1e-6 {
			t.Errorf("board %d of %v: cut up to %v, offcut %v", i, b.Length, at, l.Offcut)
		}
		if len(l.Cuts) == 0 {
			t.Errorf("board %d is bought for nothing", i)
		}
	}
	for i, n := range cut {
		if want := max(1, c.Parts[i].Count); n != want {
			t.Errorf("part %d is cut %d times, want %d", i, n, want)
		}
	}
	for i, n := range taken {
		if l := c.Boards[i].Limit; l > 0 && n > l {
			t.Errorf("board %d is taken %d times of %d", i, n, l)
		}
	}
	if math.Abs(value-r.Value) > 1e-4*float64(len(r.Layouts)+1) {
		t.Errorf("the boards come to %v, not %v", value, r.Value)
	}
	if r.Lower > r.Value || r.Status == stock.Optimal && r.Lower != r.Value {
		t.Errorf("%s with value %v and lower %v", r.Status, r.Value, r.Lower)
	}
	if r.FFD > 0 && r.FFD < r.Lower-1e-9 {
		t.Errorf("first-fit decreasing, %v, is below the bound %v", r.FFD, r.Lower)
	}
	if r.Worth != nil {
		verifyWorth(t, c, r)
	}
}

// verifyWorth checks the proof by prices of parts: a plain table over tenths
// of a millimetre finds the most valuable filling of every board.
func verifyWorth(t testing.TB, c stock.Cutting, r stock.Result) {
	t.Helper()
	const fine = 10
	total := 0.0
	for i, p := range c.Parts {
		total += r.Worth[i] * float64(max(1, p.Count))
	}
	for i, b := range c.Boards {
		room := int(math.Floor((b.Length-2*c.Trim-c.Kerf)*fine + 1e-6))
		if room <= 0 {
			continue
		}
		best := make([]float64, room+1)
		for k, p := range c.Parts {
			size := int(math.Ceil((p.Length+c.Kerf)*fine - 1e-6))
			for range min(max(1, p.Count), room/size) {
				for v := room; v >= size; v-- {
					best[v] = math.Max(best[v], best[v-size]+r.Worth[k])
				}
			}
		}
		price := b.Price
		if c.Goal == stock.LeastLength {
			price = b.Length
		}
		if best[room] > price*(1+1e-9)+1e-9 {
			t.Errorf("board %d costs %v but holds parts worth %v", i, price, best[room])
		}
	}
	// Lower is the parts' worth rounded up to a sum that boards can have; the
	// worth may not be above it.
	if total > r.Lower+1e-6 {
		t.Errorf("parts are worth %v, more than the bound %v", total, r.Lower)
	}
}
