package stock_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"risewright/solver/stock"
)

func verifySheets(t testing.TB, c stock.SheetCutting, r stock.SheetResult) {
	t.Helper()
	cut := make([]int, len(c.Panels))
	value := 0.0
	for i, l := range r.Layouts {
		h := c.Sheets[l.Sheet]
		value += h.Price
		y := c.Trim + c.Kerf
		for _, s := range l.Strips {
			if math.Abs(s.At-y) > 1e-6 {
				t.Errorf("sheet %d: a strip lies at %v, want %v", i, s.At, y)
			}
			y += s.Width + c.Kerf
			x := c.Trim + c.Kerf
			for _, q := range s.Cuts {
				p := c.Panels[q.Part]
				if p.Width > s.Width+1e-9 || math.Abs(q.At-x) > 1e-6 || q.Length != p.Length {
					t.Errorf("sheet %d: panel %+v in a strip %v wide, cut %+v", i, p, s.Width, q)
				}
				x += q.Length + c.Kerf
				cut[q.Part]++
			}
			if x > h.Length-c.Trim+1e-6 || math.Abs(h.Length-x-s.Offcut) > 1e-6 {
				t.Errorf("sheet %d: a strip is cut up to %v of %v, offcut %v", i, x, h.Length, s.Offcut)
			}
		}
		if y > h.Width-c.Trim+1e-6 {
			t.Errorf("sheet %d: strips come to %v of %v", i, y, h.Width)
		}
	}
	for i, n := range cut {
		if n != max(1, c.Panels[i].Count) {
			t.Errorf("panel %d is cut %d times", i, n)
		}
	}
	if math.Abs(value-r.Value) > 1e-9*(1+value) || r.Lower > r.Value {
		t.Errorf("sheets come to %v; value %v, lower %v", value, r.Value, r.Lower)
	}
}

// plainSheets is the slow twin: every way of dealing panels to strips, and
// strips to sheets.
func plainSheets(c stock.SheetCutting) float64 {
	n := len(c.Panels)
	strip := make([]int, n)
	best := math.Inf(1)
	var deal func(i, strips int)
	deal = func(i, strips int) {
		if i < n {
			for k := 0; k <= strips; k++ {
				strip[i] = k
				deal(i+1, max(strips, k+1))
			}
			return
		}
		long, wide := make([]float64, strips), make([]float64, strips)
		for p, k := range strip {
			long[k] += c.Panels[p].Length + c.Kerf
			wide[k] = math.Max(wide[k], c.Panels[p].Width+c.Kerf)
		}
		on := make([]int, strips)
		var load func(k, sheets int)
		load = func(k, sheets int) {
			if k < strips {
				for h := 0; h <= sheets; h++ {
					on[k] = h
					load(k+1, max(sheets, h+1))
				}
				return
			}
			total := 0.0
			for h := range sheets {
				l, w := 0.0, 0.0
				for k := range strips {
					if on[k] == h {
						l, w = math.Max(l, long[k]), w+wide[k]
					}
				}
				price := math.Inf(1)
				for _, s := range c.Sheets {
					if s.Length-2*c.Trim-c.Kerf >= l-1e-9 && s.Width-2*c.Trim-c.Kerf >= w-1e-9 {
						price = math.Min(price, s.Price)
					}
				}
				total += price
			}
			best = math.Min(best, total)
		}
		load(0, 0)
	}
	deal(0, 0)
	return best
}

func TestSheetsAgainstEveryChoice(t *testing.T) {
	several := 0
	for seed := range uint64(150) {
		rng := rand.New(rand.NewPCG(seed, 11))
		c := stock.SheetCutting{Kerf: float64(rng.IntN(4)), Trim: float64(rng.IntN(2) * 5)}
		for range 1 + rng.IntN(2) {
			c.Sheets = append(c.Sheets, stock.Sheet{Length: float64(150 + rng.IntN(60)), Width: float64(70 + rng.IntN(40)), Price: float64(10 + rng.IntN(20))})
		}
		for range 1 + rng.IntN(6) {
			c.Panels = append(c.Panels, stock.Panel{Length: float64(40 + rng.IntN(90)), Width: float64(15 + rng.IntN(40))})
		}
		r := c.Cut()
		verifySheets(t, c, r)
		if want := plainSheets(c); r.Status != stock.Optimal || math.Abs(r.Value-want) > 1e-9 {
			t.Errorf("seed %d: %s %v of at least %v, want %v", seed, r.Status, r.Value, r.Lower, want)
		}
		if len(r.Layouts) > 1 {
			several++
		}
	}
	if several < 30 {
		t.Errorf("only %d needed more than one sheet", several)
	}
}

// Risers of a flight from sheets 2440 × 1220: two to a strip and six strips to
// a sheet make twelve, so fourteen take two. Worked by hand.
func TestRisersFromSheets(t *testing.T) {
	c := stock.SheetCutting{Kerf: 3, Trim: 5, Sheets: []stock.Sheet{{Name: "2440 × 1220", Length: 2440, Width: 1220, Price: 30}}}
	for i := range 14 {
		c.Panels = append(c.Panels, stock.Panel{Length: 935 + float64(i%5), Width: 176 + float64(i%4)})
	}
	r := c.Cut()
	verifySheets(t, c, r)
	if r.Status != stock.Optimal || r.Value != 60 {
		t.Errorf("%s %v of at least %v, want two sheets", r.Status, r.Value, r.Lower)
	}
	c.Panels = c.Panels[:12]
	if r = c.Cut(); r.Status != stock.Optimal || r.Value != 30 {
		t.Errorf("twelve: %s %v of at least %v, want one sheet", r.Status, r.Value, r.Lower)
	}
	c.Panels = append(c.Panels, stock.Panel{Name: "R99", Length: 2440, Width: 10})
	if r = c.Cut(); r.Status != stock.Impossible || !strings.Contains(r.Why, "R99") {
		t.Errorf("a panel as long as the sheet: %s %q", r.Status, r.Why)
	}
}

// Many panels of all sizes: the bound is honest.
func TestSheetBoundIsHonest(t *testing.T) {
	bounded := 0
	for seed := range uint64(12) {
		rng := rand.New(rand.NewPCG(seed, 12))
		c := stock.SheetCutting{Kerf: 3, Sheets: []stock.Sheet{{Length: 2440, Width: 1220, Price: 1}}, Work: 20_000}
		for range 40 {
			c.Panels = append(c.Panels, stock.Panel{Length: 200 + 1200*rng.Float64(), Width: 60 + 300*rng.Float64()})
		}
		little := c.Cut()
		verifySheets(t, c, little)
		c.Work = 300_000
		more := c.Cut()
		verifySheets(t, c, more)
		if little.Lower > more.Value || more.Lower > little.Value {
			t.Errorf("seed %d: %v to %v, then %v to %v", seed, little.Lower, little.Value, more.Lower, more.Value)
		}
		if little.Status == stock.Bounded {
			bounded++
		}
	}
	if bounded == 0 {
		t.Error("none was left open: the test shows nothing")
	}
}
