package stock_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
	"time"

	"risewright/solver/stock"
)

// flight returns a random cutting such as a stair gives: treads and risers of
// nearly one width, strips and trims of all lengths, from one to six lengths
// of board whose prices a yard might ask. Kinds of flight take turns.
func flight(rng *rand.Rand, kind int) stock.Cutting {
	c := stock.Cutting{Kerf: []float64{2.4, 2.8, 3, 3.2}[rng.IntN(4)], Trim: float64(rng.IntN(3)) * 5}
	lengths := []float64{900, 1000, 1200, 1500, 1800, 2100, 2440, 2700, 3050, 3660, 4270, 4880}
	rng.Shuffle(len(lengths), func(i, k int) { lengths[i], lengths[k] = lengths[k], lengths[i] })
	n := 1 + rng.IntN(6)
	lengths = lengths[:n]
	slices.Sort(lengths)
	rate := 8 + 12*rng.Float64()
	for _, l := range lengths {
		p := rate * l / 1000 * (0.85 + 0.3*rng.Float64())
		switch kind % 3 {
		case 0: // to the cent
			p = float64(int(p*100)) / 100
		case 1: // to the half
			p = float64(int(p*2)) / 2
		case 2: // by the metre
			p = float64(int(rate*l/100)) / 10
		}
		c.Boards = append(c.Boards, stock.Board{Name: fmt.Sprint(l), Length: l, Price: p})
	}
	longest := lengths[n-1] - 2*c.Trim - 2*c.Kerf
	width := 750 + 450*rng.Float64()
	count := 5 + rng.IntN(41)
	for i := range count {
		var l float64
		switch {
		case kind%4 == 0: // treads and risers alone, read to a millimetre
			l = width + float64(rng.IntN(41)) - 20
		case kind%4 == 1: // and strips, coves, returns
			switch rng.IntN(4) {
			case 0, 1:
				l = width + 25*rng.NormFloat64()
			case 2:
				l = width - 30 + 5*rng.NormFloat64()
			default:
				l = 250 + 150*rng.Float64()
			}
		case kind%4 == 2: // anything
			l = 150 + (longest-150)*rng.Float64()
		default: // rounded up to 5 mm, as rough blanks are
			l = 5 * float64(int(width/5)+rng.IntN(12))
			if rng.IntN(3) == 0 {
				l = 5 * float64(30+rng.IntN(160))
			}
		}
		if l > longest {
			l = longest*(0.3+0.7*rng.Float64()) - 1
		}
		l = math.Ceil(2*l) / 2 // to the half millimetre, as a tape is read
		c.Parts = append(c.Parts, stock.Part{Name: fmt.Sprint(i), Length: l})
	}
	return c
}

// TestFlights cuts random flights, 500 of them with RISEWRIGHT_FULL=1, and
// wants at least 99 in a hundred proven. Seed i is PCG(i, 7).
func TestFlights(t *testing.T) {
	count := 40
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		count = 500
	}
	optimal, largest := 0, 0
	var ratio, worst float64
	var slowest, all time.Duration
	for i := range count {
		c := flight(rand.New(rand.NewPCG(uint64(i), 7)), i)
		largest = max(largest, len(c.Parts))
		began := time.Now()
		r := c.Cut()
		took := time.Since(began)
		all += took
		slowest = max(slowest, took)
		verify(t, c, r)
		if r.Status == stock.Optimal {
			optimal++
		} else {
			t.Logf("flight %d: %v of at least %v, %.2f %% apart; %d parts, %d lengths of board, %d programs", i, r.Value, r.Lower, 100*(r.Value/r.Lower-1), len(c.Parts), len(c.Boards), r.Nodes)
		}
		ratio += r.FFD / r.Value
		worst = math.Max(worst, r.FFD/r.Value)
	}
	t.Logf("%d of %d flights of up to %d parts proven; %v in all, %v at most; first-fit decreasing takes %.4f as much on average, %.4f at worst",
		optimal, count, largest, all.Round(time.Millisecond), slowest.Round(time.Millisecond), ratio/float64(count), worst)
	if 100*optimal < 99*count {
		t.Errorf("%d of %d flights proven", optimal, count)
	}
}

// BenchmarkFlights cuts ordinary flights, and one that takes all of
// DefaultWork.
func BenchmarkFlights(b *testing.B) {
	for _, row := range []struct {
		name  string
		seeds []int
	}{{"ordinary", []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9}}, {"not proven", []int{422}}} {
		b.Run(row.name, func(b *testing.B) {
			if testing.Short() && len(row.seeds) == 1 {
				b.Skip("it takes all of the work allowed")
			}
			for range b.N {
				for _, i := range row.seeds {
					flight(rand.New(rand.NewPCG(uint64(i), 7)), i).Cut()
				}
			}
		})
	}
}
