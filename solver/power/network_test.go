package power_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"risewright/solver/power"
)

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.9g, want %.9g within %g", what, got, want, tol)
	}
}

// chain is a strip of n equal pixels and n equal segments of ohm in all, fed
// at 5 V at each of the given places, counted in segments from its start.
func chain(n int, amps, ohm float64, feeds ...int) *power.Network {
	w := &power.Network{Nodes: n + 1}
	for i := range n {
		w.Runs = append(w.Runs, power.Run{A: i, B: i + 1, Ohm: ohm / float64(n)})
		w.Loads = append(w.Loads, power.Load{Node: i + 1, Amps: amps, Full: 3, Dark: 2})
	}
	for _, f := range feeds {
		w.Sources = append(w.Sources, power.Source{Node: f, Volts: 5})
	}
	return w
}

func lowest(s *power.Solution) float64 {
	v := math.Inf(1)
	for _, x := range s.Volts {
		v = math.Min(v, x)
	}
	return v
}

// TestStripDrops holds the solve against the closed forms of a strip of equal
// pixels. One end fed: I R (N+1)/(2N), vector T07; in the limit I R / 2,
// vector T05 (distribution textbooks, secondary). Both ends or middle: the
// discrete forms below, in the limit I R / 8, vector T06 (derived).
func TestStripDrops(t *testing.T) {
	const amps, ohm = 3.6, 0.15
	drop := func(n int, feeds ...int) float64 {
		return 5 - lowest(chain(n, amps/float64(n), ohm, feeds...).Solve())
	}
	near(t, "T07, 60 pixels, one end", drop(60, 0), 0.2745, 0.2745e-6)
	near(t, "T05, many pixels, one end", drop(20000, 0), 0.27, 0.27*1e-4)
	near(t, "T06, many pixels, both ends", drop(20000, 0, 20000), 0.0675, 0.0675*2e-4)
	near(t, "T06, many pixels, middle", drop(20000, 10000), 0.0675, 0.0675*2e-4)
	for _, n := range []int{1, 2, 3, 7, 54, 60} {
		d := amps * ohm * float64(n+1) / float64(2*n)
		near(t, fmt.Sprintf("%d pixels, one end", n), drop(n, 0), d, 1e-12*5)
		// Both ends of n segments, the last pixel being at a feed: n-1 loads lie
		// between; the one at m of n drops (I/n)(R/n) m(n-m)/2.
		m := n / 2
		near(t, fmt.Sprintf("%d pixels, both ends", n), drop(n, 0, n), amps/float64(n)*ohm/float64(n)*float64(m*(n-m))/2, 1e-12*5)
	}
	// The worked case of both ends with 60 loads: 0.0675 V.
	near(t, "60 pixels, both ends", drop(60, 0, 60), 0.0675, 1e-9)
	// A bar of 0.8 m, 48 pixels of 4 x 20 mA, 0.15 ohm/m (derived): 0.2304 V in
	// the limit, 0.2304·49/48 as it is.
	near(t, "worked bar", 5-lowest(chain(48, 0.08, 0.12, 0).Solve()), 0.2304*49/48, 1e-9)
}

// TestConservation: what the supplies give, the loads draw, at every node.
func TestConservation(t *testing.T) {
	for seed := range uint64(40) {
		n := randomNetwork(rand.New(rand.NewPCG(seed, 7)))
		s := n.Solve()
		given, drawn := 0.0, 0.0
		for _, a := range s.Supplied {
			given += a
		}
		for i, a := range s.Drawn {
			drawn += a
			if a < 0 || a > n.Loads[i].Amps {
				t.Errorf("seed %d: load %d draws %g of %g", seed, i, a, n.Loads[i].Amps)
			}
		}
		near(t, fmt.Sprintf("seed %d: current given", seed), given, drawn, 1e-6)
		for _, p := range s.Problems {
			if p.Kind == power.Unsettled {
				t.Errorf("seed %d did not settle in %d rounds", seed, s.Rounds)
			}
		}
	}
}

// randomNetwork makes a bus with bars on it, sometimes ringed, sometimes
// overloaded until pixels fall below their full volts, with one to three
// supplies of which each feeds a part of its own.
func randomNetwork(r *rand.Rand) *power.Network {
	n := &power.Network{}
	node := func() int { n.Nodes++; return n.Nodes - 1 }
	wire := func(a, b int, ohm float64) { n.Runs = append(n.Runs, power.Run{A: a, B: b, Ohm: ohm}) }
	volts := []float64{5, 12, 24}[r.IntN(3)]
	full, dark := 0.75*volts, 0.5*volts
	heavy := []float64{0.2, 1, 6}[r.IntN(3)] // light, usual, far too much
	for range 1 + r.IntN(3) {
		box := node()
		n.Sources = append(n.Sources, power.Source{Node: box, Volts: volts * (1 + 0.02*r.Float64())})
		tap := node()
		wire(box, tap, 0.01+0.1*r.Float64())
		first := tap
		for range 1 + r.IntN(5) {
			at := tap
			pixels := 1 + r.IntN(30)
			start := node()
			wire(at, start, 0.01+0.05*r.Float64())
			p := start
			for range pixels {
				q := node()
				wire(p, q, 0.001+0.003*r.Float64())
				n.Loads = append(n.Loads, power.Load{Node: q, Amps: heavy * (0.01 + 0.07*r.Float64()), Full: full, Dark: dark})
				p = q
			}
			if r.IntN(3) == 0 { // fed at its far end as well
				wire(at, p, 0.02+0.05*r.Float64())
			}
			next := node()
			wire(tap, next, 0.005+0.02*r.Float64())
			tap = next
		}
		if r.IntN(3) == 0 { // the bus closed to a ring
			wire(first, tap, 0.05)
		}
	}
	return n
}

// TestSlowTwin compares with an obvious solver: each node in turn is set, by
// bisection, to where its own currents balance, over and over.
func TestSlowTwin(t *testing.T) {
	for seed := range uint64(6) {
		r := rand.New(rand.NewPCG(seed, 21))
		n := randomNetwork(r)
		for n.Nodes > 12 { // the twin is slow
			n = randomNetwork(r)
		}
		got := n.Solve()
		want := balanced(n)
		for i := range want {
			if math.Abs(got.Volts[i]-want[i]) > 1e-5 {
				t.Fatalf("seed %d: node %d of %d: %.7f V, the slow twin has %.7f", seed, i, n.Nodes, got.Volts[i], want[i])
			}
		}
	}
}

func balanced(n *power.Network) []float64 {
	v := make([]float64, n.Nodes)
	fixed := make([]bool, n.Nodes)
	for _, s := range n.Sources {
		v[s.Node], fixed[s.Node] = s.Volts, true
	}
	for range 60000 {
		moved := 0.0
		for i := range v {
			if fixed[i] {
				continue
			}
			missing := func(x float64) float64 {
				sum := 0.0
				for _, r := range n.Runs {
					if r.A == i {
						sum += (v[r.B] - x) / r.Ohm
					} else if r.B == i {
						sum += (v[r.A] - x) / r.Ohm
					}
				}
				for _, l := range n.Loads {
					if l.Node == i {
						sum -= l.Amps * min(1, max(0, (x-l.Dark)/(l.Full-l.Dark)))
					}
				}
				return sum
			}
			lo, hi := 0.0, 100.0
			for range 60 {
				if mid := (lo + hi) / 2; missing(mid) > 0 {
					lo = mid
				} else {
					hi = mid
				}
			}
			moved = max(moved, math.Abs(lo-v[i]))
			v[i] = lo
		}
		if moved < 1e-11 {
			break
		}
	}
	return v
}

// TestSickNetworks: what is wrong is a problem with a name, never a panic.
func TestSickNetworks(t *testing.T) {
	nan := math.NaN()
	run := func(a, b int, ohm float64) power.Run { return power.Run{A: a, B: b, Ohm: ohm, Name: "x"} }
	load := power.Load{Node: 1, Amps: 1, Full: 3, Dark: 2}
	five := power.Source{Node: 0, Volts: 5}
	rows := []struct {
		name string
		n    power.Network
		want power.ProblemKind
		v    float64 // of node 1
	}{
		{"empty", power.Network{}, "", nan},
		{"run of no length", power.Network{Nodes: 2, Runs: []power.Run{run(0, 1, 0)}, Sources: []power.Source{five}, Loads: []power.Load{load}}, power.ZeroRun, 5},
		{"no supply", power.Network{Nodes: 2, Runs: []power.Run{run(0, 1, 0.1)}, Loads: []power.Load{load}}, power.NoSupply, 0},
		{"cut off", power.Network{Nodes: 2, Sources: []power.Source{five}, Loads: []power.Load{load}}, power.NoSupply, 0},
		{"a loop", power.Network{Nodes: 3, Runs: []power.Run{run(0, 1, 1), run(1, 2, 1), run(2, 0, 1)}, Sources: []power.Source{five}}, power.Loop, 5},
		{"two runs side by side", power.Network{Nodes: 2, Runs: []power.Run{run(0, 1, 1), run(0, 1, 1)}, Sources: []power.Source{five}, Loads: []power.Load{load}}, power.Loop, 4.5},
		{"a run to itself", power.Network{Nodes: 2, Runs: []power.Run{run(0, 0, 1), run(0, 1, 1)}, Sources: []power.Source{five}, Loads: []power.Load{load}}, power.SelfRun, 4},
		{"negative ohm", power.Network{Nodes: 2, Runs: []power.Run{run(0, 1, -1)}, Sources: []power.Source{five}, Loads: []power.Load{load}}, power.BadNumber, 0},
		{"ohm no number", power.Network{Nodes: 2, Runs: []power.Run{run(0, 1, nan)}, Sources: []power.Source{five}}, power.BadNumber, 0},
		{"no such node", power.Network{Nodes: 2, Runs: []power.Run{run(0, 7, 1), run(0, 1, 1)}, Sources: []power.Source{five}}, power.BadNode, 5},
		{"load nowhere", power.Network{Nodes: 2, Loads: []power.Load{{Node: -1, Amps: 1}}}, power.BadNode, 0},
		{"load of nan", power.Network{Nodes: 2, Loads: []power.Load{{Node: 1, Amps: nan}}}, power.BadNumber, 0},
		{"source of nan", power.Network{Nodes: 2, Sources: []power.Source{{Node: 1, Volts: nan}}}, power.BadNumber, 0},
		{"two voltages at one node", power.Network{Nodes: 2, Runs: []power.Run{run(0, 1, 0)}, Sources: []power.Source{five, {Node: 1, Volts: 12}}}, power.Clash, 5},
		{"two supplies joined", power.Network{Nodes: 3, Runs: []power.Run{run(0, 1, 1), run(1, 2, 1)}, Sources: []power.Source{five, {Node: 2, Volts: 6}}}, power.Joined, 5.5},
		{"far too much load", power.Network{Nodes: 2, Runs: []power.Run{run(0, 1, 100)}, Sources: []power.Source{five}, Loads: []power.Load{load}}, "", 5 - 3*100.0/101},
		{"dark above full", power.Network{Nodes: 2, Runs: []power.Run{run(0, 1, 10)}, Sources: []power.Source{five}, Loads: []power.Load{{Node: 1, Amps: 1, Full: 2, Dark: 3}}}, "", 3.0002},
		{"negative count of nodes", power.Network{Nodes: -3}, "", nan},
	}
	for _, c := range rows {
		t.Run(c.name, func(t *testing.T) {
			s := c.n.Solve()
			var got []power.ProblemKind
			found := c.want == ""
			for _, p := range s.Problems {
				got = append(got, p.Kind)
				found = found || p.Kind == c.want
			}
			if !found || c.want == "" && len(got) > 0 {
				t.Errorf("problems %v, want %q", got, c.want)
			}
			if !math.IsNaN(c.v) {
				near(t, "volts of node 1", s.Volts[1], c.v, 1e-3)
			}
		})
	}
}

// TestMoreCopper: thicker runs never lower the volts of any node.
func TestMoreCopper(t *testing.T) {
	for seed := range uint64(30) {
		r := rand.New(rand.NewPCG(seed, 3))
		n := randomNetwork(r)
		before := n.Solve()
		n.Runs = append([]power.Run(nil), n.Runs...)
		for i := range n.Runs {
			n.Runs[i].Ohm *= 0.5 + 0.5*r.Float64()
		}
		after := n.Solve()
		for i := range before.Volts {
			// Two solves, each right to stopAmps over some ohm.
			if after.Volts[i] < before.Volts[i]-1e-7 && len(n.Sources) == 1 {
				t.Fatalf("seed %d: node %d fell from %.9f to %.9f V", seed, i, before.Volts[i], after.Volts[i])
			}
		}
	}
}

func BenchmarkChain(b *testing.B) {
	for _, n := range []int{500, 1000, 2000, 4000, 8000} {
		w := chain(n, 3.6/float64(n), 0.15, 0, n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				w.Solve()
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/pixel")
		})
	}
}
