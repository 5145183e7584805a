package saw_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/saw"
)

// Every card of every flight is proved, to far better than it must be: what is
// left over is rounding. Run 10,000 flights with RISEWRIGHT_FULL=1.
func TestEveryCardIsProved(t *testing.T) {
	flights := 300
	if os.Getenv("RISEWRIGHT_FULL") == "1" {
		flights = 10_000
	}
	const seed = 20
	const parts = 4 // run side by side where there are cores
	for part := range parts {
		t.Run(fmt.Sprint("part ", part), func(t *testing.T) {
			t.Parallel()
			rng := rand.New(rand.NewPCG(seed, uint64(part)))
			stock := yard()
			cards, worst, printed := 0, 0.0, 0.0
			for i := part; i < flights; i += parts {
				n := 2 + i%39
				f := randomFlight(rng, n)
				for _, c := range saw.Cards(f.job, stock, f.pieces()) {
					cards++
					// Rounding leaves 1e-9 mm; a twentieth of a micron would be a fault.
					if !c.Proof.OK || !(c.Proof.Worst <= 5e-5) {
						t.Fatalf("seed %d part %d flight %d of %d steps, card %s: ok %v, worst %g, %q", seed, part, i, n, c.Piece, c.Proof.OK, c.Proof.Worst, c.Proof.Reason)
					}
					// What printing may do: half a step each in the rip, the first and
					// the second length, and half of 0.1 degree over the depth at either
					// end, and that again where the first end carries the corner along.
					step := 0.5
					if f.job.Units == model.Imperial {
						step = 25.4 / 16
						if f.job.Fraction == 32 {
							step /= 2
						}
					}
					depth := math.Max(c.Checks[2].Value, c.Checks[3].Value)
					bound := 1.5*step + 2*math.Tan(0.05*degree)*(depth+c.Blank.Thickness)
					if c.Proof.PrintedWorst > bound {
						t.Errorf("seed %d flight %d, card %s: printed figures are %g off, over %g", seed, i, c.Piece, c.Proof.PrintedWorst, bound)
					}
					// The rip runs out at the blank's ends, not over its edge, as printed
					// too: half a sixteenth at either mark may be 1.6 mm there.
					a, b := c.Ops[0].Measures[0], c.Ops[0].Measures[1]
					rise := (b.Value - a.Value) / (c.Blank.Length - a.Along - b.Along)
					if l, r := a.Value-rise*a.Along, b.Value+rise*b.Along; math.Max(l, r) > c.Blank.Width-1.6 || math.Min(l, r) <= 0 {
						t.Errorf("seed %d flight %d, card %s: the rip leaves a blank %g wide, at %g and %g", seed, i, c.Piece, c.Blank.Width, l, r)
					}
					worst, printed = math.Max(worst, c.Proof.Worst), math.Max(printed, c.Proof.PrintedWorst)
				}
			}
			t.Logf("%d cards proved; worst %.1e mm as written, %.2f mm as printed", cards, worst, printed)
		})
	}
}

// crosscuts returns the op that makes an end.
func opOf(ops []saw.Op, end saw.Hand) saw.Op {
	for _, op := range ops {
		if op.End == end {
			return op
		}
	}
	return saw.Op{}
}

func swapped(h saw.Hand) saw.Hand {
	switch h {
	case saw.Left:
		return saw.Right
	case saw.Right:
		return saw.Left
	}
	return h
}

// A mirrored flight has mirrored cards: what was at the left end is at the
// right, with arm, head and hand swapped.
func TestMirroredFlight(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for range 20 {
		f := randomFlight(rng, 8)
		a := saw.Cards(f.job, yard(), f.pieces())
		b := saw.Cards(f.mirrored().job, yard(), f.mirrored().pieces())
		for i := range a {
			// How long the rough blank is may differ: what is over lies at the right.
			if x, y := a[i].Blank, b[i].Blank; x.Stock != y.Stock || x.Width != y.Width || x.Riser != y.Riser {
				t.Errorf("%s: blanks %v and %v", a[i].Piece, x, y)
			}
			for _, end := range []saw.Hand{saw.Left, saw.Right} {
				x, y := opOf(a[i].Ops, end), opOf(b[i].Ops, swapped(end))
				near(t, a[i].Piece+" saw", y.Saw, x.Saw, 1e-9)
				near(t, a[i].Piece+" bevel", y.Bevel, x.Bevel, 1e-9)
				if y.Arm != swapped(x.Arm) || y.Tilt != swapped(x.Tilt) || y.Hand != swapped(x.Hand) || y.Measures[0].Point != x.Measures[0].Point {
					t.Errorf("%s %s end: %+v mirrored is %+v", a[i].Piece, end, x, y)
				}
			}
			near(t, a[i].Piece+" length", opOf(b[i].Ops, saw.Right).Measures[0].Value, opOf(a[i].Ops, saw.Right).Measures[0].Value, 1e-7)
			near(t, a[i].Piece+" rip at one end", b[i].Ops[0].Measures[1].Value, a[i].Ops[0].Measures[0].Value, 1e-7)
			near(t, a[i].Piece+" rip at the other", b[i].Ops[0].Measures[0].Value, a[i].Ops[0].Measures[1].Value, 1e-7)
		}
	}
}

// Moving and turning the flight in plan changes no card; another system of
// units changes none of a card's exact figures.
func TestMovedFlightAndOtherUnits(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	for range 20 {
		f := randomFlight(rng, 8)
		f.job.Units, f.job.Fraction = model.Metric, 0
		a := saw.Cards(f.job, yard(), f.pieces())
		g := f.moved(2.2, mgl64.Vec2{-4000, 900})
		g.known(0.1)
		b := saw.Cards(g.job, yard(), g.pieces())
		h := f.clone()
		h.job.Units = model.Imperial
		c := saw.Cards(h.job, yard(), h.pieces())
		for i := range a {
			for k := range a[i].Ops {
				x, y, z := a[i].Ops[k], b[i].Ops[k], c[i].Ops[k]
				for m := range x.Measures {
					near(t, a[i].Piece+" measure, moved", y.Measures[m].Value, x.Measures[m].Value, 1e-7)
					near(t, a[i].Piece+" along, moved", y.Measures[m].Along, x.Measures[m].Along, 1e-7)
					if k != 1 { // the first cut's place is any round figure
						near(t, a[i].Piece+" measure, inches", z.Measures[m].Value, x.Measures[m].Value, 1e-9)
					}
				}
				for _, o := range []saw.Op{y, z} {
					near(t, a[i].Piece+" saw", o.Saw, x.Saw, 1e-10)
					near(t, a[i].Piece+" bevel", o.Bevel, x.Bevel, 1e-10)
					if o.Arm != x.Arm || o.Tilt != x.Tilt || o.Hand != x.Hand || o.Fence != x.Fence || o.Face != x.Face {
						t.Errorf("%s: %+v and %+v", a[i].Piece, x, o)
					}
				}
			}
			for k := range a[i].Checks {
				near(t, a[i].Piece+" check", b[i].Checks[k].Value, a[i].Checks[k].Value, 1e-7)
				near(t, a[i].Piece+" check", c[i].Checks[k].Value, a[i].Checks[k].Value, 1e-9)
			}
		}
	}
}

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.9g, want %.9g within %g", what, got, want, tol)
	}
}

func BenchmarkCards14(b *testing.B) {
	f := randomFlight(rand.New(rand.NewPCG(1, 1)), 14)
	ps, stock := f.pieces(), yard()
	b.ReportAllocs()
	for b.Loop() {
		saw.Cards(f.job, stock, ps)
	}
}

// Everything this stage of a solve does: 14 treads and 14 risers as solids,
// their cards, and the proofs of each card as written, turned both ways and as
// printed.
func BenchmarkPiecesAndCards14(b *testing.B) {
	f := randomFlight(rand.New(rand.NewPCG(1, 1)), 14)
	stock := yard()
	b.ReportAllocs()
	for b.Loop() {
		saw.Cards(f.job, stock, f.pieces())
	}
}
