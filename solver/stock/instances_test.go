package stock_test

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"risewright/solver/stock"
)

//go:embed testdata/binpacking.tsv
var binPacking string

// instance is one published bin packing with its known optimum. A count of -1
// is not published.
type instance struct {
	name, source string
	capacity     int
	optimum      int
	l1, l2       int
	ffd, bfd     int
	sizes        []int
}

func (in instance) cutting() stock.Cutting {
	c := stock.Cutting{Boards: []stock.Board{{Name: "stock", Length: float64(in.capacity), Price: 1}}}
	for i, s := range in.sizes {
		c.Parts = append(c.Parts, stock.Part{Name: fmt.Sprint(i + 1), Length: float64(s)})
	}
	return c
}

func published(t testing.TB) []instance {
	t.Helper()
	var out []instance
	for line := range strings.Lines(binPacking) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		f := strings.Split(strings.TrimSpace(line), "\t")
		if len(f) != 9 {
			t.Fatalf("testdata: %d fields in %q", len(f), line)
		}
		whole := func(s string) int {
			if s == "-" {
				return -1
			}
			n, err := strconv.Atoi(s)
			if err != nil {
				t.Fatal(err)
			}
			return n
		}
		in := instance{name: f[0], capacity: whole(f[1]), optimum: whole(f[2]), l1: whole(f[3]), l2: whole(f[4]), ffd: whole(f[5]), bfd: whole(f[6]), source: f[7]}
		for _, s := range strings.Fields(f[8]) {
			in.sizes = append(in.sizes, whole(s))
		}
		out = append(out, in)
	}
	return out
}

// The sources stand in testdata/binpacking.tsv, beside each.
func TestPublishedBinPacking(t *testing.T) {
	all := published(t)
	if len(all) < 32 {
		t.Errorf("only %d instances", len(all))
	}
	for _, in := range all {
		t.Run(in.name, func(t *testing.T) {
			c := in.cutting()
			r := c.Cut()
			if r.Status != stock.Optimal || r.Value != float64(in.optimum) {
				t.Errorf("%s: %s, %v of at least %v; the optimum is %d", in.source, r.Status, r.Value, r.Lower, in.optimum)
			}
			verify(t, c, r)
			// The heuristics and bounds printed beside the published optimum.
			if in.ffd >= 0 && r.FFD != float64(in.ffd) {
				t.Errorf("first-fit decreasing takes %v, published %d", r.FFD, in.ffd)
			}
			if l1, l2 := sizeBounds(in.sizes, in.capacity); in.l1 >= 0 && l1 != in.l1 || in.l2 >= 0 && l2 != in.l2 {
				t.Errorf("L1 %d and L2 %d, published %d and %d", l1, l2, in.l1, in.l2)
			} else if l2 > in.optimum {
				t.Errorf("L2 %d is above the optimum %d", l2, in.optimum)
			}
			t.Logf("%d of them, %d programs, %.1f million steps", len(in.sizes), r.Nodes, float64(r.Work)/1e6)
		})
	}
}

// sizeBounds are the bounds L1 and L2 of Martello and Toth, Discrete Applied
// Mathematics 28 (1990) 59-70 (from memory).
func sizeBounds(sizes []int, capacity int) (l1, l2 int) {
	total := 0
	for _, s := range sizes {
		total += s
	}
	l1 = (total + capacity - 1) / capacity
	for k := 0; k <= capacity/2; k++ {
		big, half, halfSum, small := 0, 0, 0, 0
		for _, s := range sizes {
			switch {
			case s > capacity-k:
				big++
			case 2*s > capacity:
				half++
				halfSum += s
			case s >= k:
				small += s
			}
		}
		rest := small - (half*capacity - halfSum)
		l2 = max(l2, big+half+max(0, (rest+capacity-1)/capacity))
	}
	return l1, l2
}

// Cutting stock with demands. Numbers from memory; bounds and optima were
// recomputed by other means when the list was made.
func TestPublishedCuttingStock(t *testing.T) {
	rows := []struct {
		source  string
		length  float64
		parts   [][2]float64 // length, count
		lp      float64
		optimum float64
	}{
		{"Chvatal, Linear Programming (1983), ch. 13, paper 100 in wide", 100,
			[][2]float64{{45, 97}, {36, 610}, {31, 395}, {14, 211}}, 452.25, 453},
		{"Winston, Operations Research, boards of 17 ft", 17,
			[][2]float64{{9, 15}, {5, 20}, {3, 25}}, 55.0 / 3, 19},
		{"paper rolls, the encyclopedia article on cutting stock", 5600,
			[][2]float64{{2200, 20}, {2150, 18}, {2140, 16}, {2100, 14}, {2050, 12}, {2000, 10}, {1930, 20}, {1880, 18}, {1820, 18}, {1710, 14}, {1560, 12}, {1520, 25}, {1380, 22}}, 72.91666667, 73},
	}
	for _, row := range rows {
		t.Run(row.source, func(t *testing.T) {
			c := stock.Cutting{Boards: []stock.Board{{Name: "roll", Length: row.length, Price: 1}}}
			for _, p := range row.parts {
				c.Parts = append(c.Parts, stock.Part{Length: p[0], Count: int(p[1])})
			}
			r := c.Cut()
			if r.Status != stock.Optimal || r.Value != row.optimum {
				t.Errorf("%s, %v of at least %v, want %v", r.Status, r.Value, r.Lower, row.optimum)
			}
			verify(t, c, r)
			// The proof is the program's dual: its value is the published one,
			// but for the last hundredth that is not worth the search.
			if r.Worth == nil {
				t.Fatal("no proof by prices")
			}
			worth := 0.0
			for i, p := range c.Parts {
				worth += r.Worth[i] * float64(p.Count)
			}
			if worth > row.lp+1e-6 || worth < row.lp-0.3 {
				t.Errorf("the parts are worth %v, the program %v", worth, row.lp)
			}
		})
	}
}
