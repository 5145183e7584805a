package stock_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"risewright/solver/stock"
)

// plain is the slow twin: it tries every board for every part.
func plain(c stock.Cutting) (best float64, ok bool) {
	var parts []float64
	for _, p := range c.Parts {
		for range max(1, p.Count) {
			parts = append(parts, p.Length+c.Kerf)
		}
	}
	best = math.Inf(1)
	type open struct {
		board int
		rest  float64
	}
	used := make([]int, len(c.Boards))
	var boards []open
	var try func(i int, cost float64)
	try = func(i int, cost float64) {
		if cost >= best {
			return
		}
		if i == len(parts) {
			best = cost
			return
		}
		for k := range boards {
			if boards[k].rest >= parts[i]-1e-9 {
				boards[k].rest -= parts[i]
				try(i+1, cost)
				boards[k].rest += parts[i]
			}
		}
		for b, board := range c.Boards {
			room := board.Length - 2*c.Trim - c.Kerf
			if room < parts[i]-1e-9 || board.Limit > 0 && used[b] == board.Limit {
				continue
			}
			used[b]++
			boards = append(boards, open{b, room - parts[i]})
			price := board.Price
			if c.Goal == stock.LeastLength {
				price = board.Length
			}
			try(i+1, cost+price)
			boards = boards[:len(boards)-1]
			used[b]--
		}
	}
	try(0, 0)
	return best, !math.IsInf(best, 1)
}

// tiny draws a cutting small enough for the slow twin.
func tiny(rng *rand.Rand) stock.Cutting {
	c := stock.Cutting{Kerf: float64(rng.IntN(4)), Trim: float64(rng.IntN(3) * 4)}
	if rng.IntN(2) == 0 {
		c.Goal = stock.LeastLength
	}
	for i := range 1 + rng.IntN(3) {
		b := stock.Board{Name: fmt.Sprint("b", i), Length: float64(300 + 10*rng.IntN(80)), Price: float64(rng.IntN(40)) / 2}
		if rng.IntN(3) == 0 {
			b.Limit = 1 + rng.IntN(3)
		}
		c.Boards = append(c.Boards, b)
	}
	for range 1 + rng.IntN(7) {
		c.Parts = append(c.Parts, stock.Part{Length: float64(60 + rng.IntN(420))})
	}
	return c
}

func TestAgainstEveryChoice(t *testing.T) {
	impossible, limited := 0, 0
	for seed := range uint64(400) {
		c := tiny(rand.New(rand.NewPCG(seed, 1)))
		want, ok := plain(c)
		r := c.Cut()
		verify(t, c, r)
		switch {
		case !ok:
			impossible++
			if r.Status != stock.Impossible {
				t.Errorf("seed %d: %s, but there is no way of cutting %+v", seed, r.Status, c)
			}
		case r.Status != stock.Optimal || math.Abs(r.Value-want) > 1e-6:
			t.Errorf("seed %d: %s %v of at least %v, want %v: %+v", seed, r.Status, r.Value, r.Lower, want, c)
		}
		for _, b := range c.Boards {
			if b.Limit > 0 {
				limited++
			}
		}
	}
	if impossible < 20 || impossible > 300 || limited < 100 {
		t.Errorf("%d of 400 were impossible, %d boards limited: the draw shows nothing", impossible, limited)
	}
}

// The order of parts and boards, the unit of length and of money, and a board
// nobody would take change nothing.
func TestCuttingLaws(t *testing.T) {
	for seed := range uint64(24) {
		rng := rand.New(rand.NewPCG(seed, 2))
		c := flight(rng, int(seed))
		c.Parts = c.Parts[:min(len(c.Parts), 22)]
		first := c.Cut()
		if first.Status != stock.Optimal {
			t.Logf("seed %d: %s", seed, first.Status)
			continue
		}
		same := func(name string, d stock.Cutting, factor float64) {
			r := d.Cut()
			verify(t, d, r)
			// prices are counted in 1/10,000, so a scaled one may round
			if r.Status != stock.Optimal || math.Abs(r.Value-factor*first.Value) > 1e-3*(1+factor) {
				t.Errorf("seed %d, %s: %s %v, want %v", seed, name, r.Status, r.Value, factor*first.Value)
			}
		}
		d := c
		d.Parts = append([]stock.Part(nil), c.Parts...)
		d.Boards = append([]stock.Board(nil), c.Boards...)
		rng.Shuffle(len(d.Parts), func(i, k int) { d.Parts[i], d.Parts[k] = d.Parts[k], d.Parts[i] })
		rng.Shuffle(len(d.Boards), func(i, k int) { d.Boards[i], d.Boards[k] = d.Boards[k], d.Boards[i] })
		same("reordered", d, 1)

		d = c
		d.Kerf, d.Trim = 2*c.Kerf, 2*c.Trim
		d.Parts, d.Boards = nil, nil
		for _, p := range c.Parts {
			p.Length *= 2
			d.Parts = append(d.Parts, p)
		}
		for _, b := range c.Boards {
			b.Length *= 2
			d.Boards = append(d.Boards, b)
		}
		same("twice as long", d, 1)

		d = c
		d.Boards = nil
		for _, b := range c.Boards {
			b.Price *= 3
			d.Boards = append(d.Boards, b)
		}
		same("three times as dear", d, 3)

		d = c
		longest := c.Boards[len(c.Boards)-1]
		d.Boards = append(append([]stock.Board(nil), c.Boards...), stock.Board{Length: longest.Length, Price: longest.Price + 5})
		same("a worse board more", d, 1)

		// The same again gives the same to the last cut.
		if again := c.Cut(); fmt.Sprint(again) != fmt.Sprint(first) {
			t.Errorf("seed %d: a second run differs", seed)
		}
	}
}

func TestCuttingRefusals(t *testing.T) {
	rows := []struct {
		name string
		c    stock.Cutting
		want string
	}{
		{"too long", stock.Cutting{Parts: []stock.Part{{Name: "T07", Length: 995}}, Boards: []stock.Board{{Length: 1000}}, Kerf: 3}, "T07"},
		{"no board", stock.Cutting{Parts: []stock.Part{{Name: "T07", Length: 995}}}, "T07"},
		{"not a length", stock.Cutting{Parts: []stock.Part{{Name: "T07", Length: math.NaN()}}, Boards: []stock.Board{{Length: 1000}}}, "T07"},
		{"endless board", stock.Cutting{Parts: []stock.Part{{Length: 5}}, Boards: []stock.Board{{Name: "pine", Length: math.Inf(1)}}}, "pine"},
		{"kerf", stock.Cutting{Kerf: -1}, "kerf"},
		{"too few", stock.Cutting{Parts: []stock.Part{{Length: 600, Count: 3}}, Boards: []stock.Board{{Length: 1000, Limit: 2}}}, "add a board"},
		{"too many", stock.Cutting{Parts: []stock.Part{{Length: 6, Count: 200_000}}, Boards: []stock.Board{{Length: 1000}}}, "5000"},
	}
	for _, row := range rows {
		r := row.c.Cut()
		if r.Status != stock.Impossible || !strings.Contains(r.Why, row.want) {
			t.Errorf("%s: %s %q, want a refusal that names %s", row.name, r.Status, r.Why, row.want)
		}
	}
	if r := (stock.Cutting{}).Cut(); r.Status != stock.Optimal || r.Value != 0 || len(r.Layouts) != 0 {
		t.Errorf("nothing to cut: %+v", r)
	}
}

// With few of each board the plan keeps to them, also where it was bettered by
// taking boards out of it and cutting them anew.
func TestFewOfEach(t *testing.T) {
	limits := 0
	for seed := range uint64(30) {
		rng := rand.New(rand.NewPCG(seed, 9))
		c := flight(rng, int(seed))
		free := c.Cut()
		used := make([]int, len(c.Boards))
		for _, l := range free.Layouts {
			used[l.Board]++
		}
		for i := range c.Boards {
			if used[i] > 1 { // one less than is liked best
				c.Boards[i].Limit = used[i] - 1
				limits++
			}
		}
		c.Work = 60_000_000
		r := c.Cut()
		verify(t, c, r)
		if r.Status != stock.Impossible && len(r.Layouts) > 0 && free.Status == stock.Optimal && r.Value < free.Value-1e-9 {
			t.Errorf("seed %d: with fewer boards it costs %v, without limits %v", seed, r.Value, free.Value)
		}
	}
	if limits < 20 {
		t.Errorf("only %d limits", limits)
	}
}

// A cutting far beyond a flight is still cut, with an honest bound.
func TestManyLengths(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 4))
	c := stock.Cutting{Kerf: 3, Boards: []stock.Board{{Length: 2440, Price: 24}, {Length: 3050, Price: 31}}}
	for range 1500 {
		c.Parts = append(c.Parts, stock.Part{Length: 200 + 1500*rng.Float64()})
	}
	r := c.Cut()
	verify(t, c, r)
	if r.Status != stock.Bounded || r.Value > 1.2*r.Lower {
		t.Errorf("%s: %v of at least %v", r.Status, r.Value, r.Lower)
	}
}

// Every part pays for a cut, and the first end for one more: worked by hand.
func TestKerfAndTrim(t *testing.T) {
	// 3 × 800 and 4 cuts of 3 make 2412, and two trims of 14 make 2440.
	c := stock.Cutting{Parts: []stock.Part{{Length: 800, Count: 3}}, Boards: []stock.Board{{Length: 2440, Price: 7}}, Kerf: 3, Trim: 14}
	r := c.Cut()
	verify(t, c, r)
	if len(r.Layouts) != 1 || r.Layouts[0].Offcut != 14 || r.Layouts[0].Cuts[2].At != 14+3+803+803 {
		t.Errorf("%+v", r.Layouts)
	}
	c.Kerf = 3.01
	if r = c.Cut(); len(r.Layouts) != 2 {
		t.Errorf("with a kerf of 3.01 they still fit on %d", len(r.Layouts))
	}
	// 1/32 in kerf: inch fractions add up exactly.
	const in = 25.4
	c = stock.Cutting{Parts: []stock.Part{{Length: (12 - 1.0/32) * in, Count: 7}}, Boards: []stock.Board{{Length: (84 + 1.0/32) * in, Price: 1}}, Kerf: in / 32}
	if r = c.Cut(); len(r.Layouts) != 1 || r.Layouts[0].Offcut > 1e-6 {
		t.Errorf("seven feet from a board of seven feet and a kerf: %+v", r.Layouts)
	}
}

// Little work gives a bound, not a claim.
func TestLittleWork(t *testing.T) {
	bounded := 0
	for seed := range uint64(12) {
		c := flight(rand.New(rand.NewPCG(seed, 3)), int(seed))
		full := c.Cut()
		c.Work = 100_000
		r := c.Cut()
		verify(t, c, r)
		if r.Status == stock.Bounded {
			bounded++
		}
		if r.Lower > full.Value+1e-9 || r.Value < full.Lower-1e-9 {
			t.Errorf("seed %d: between %v and %v after little work, between %v and %v after more", seed, r.Lower, r.Value, full.Lower, full.Value)
		}
	}
	if bounded == 0 {
		t.Error("no cutting was left open: the test shows nothing")
	}
}
