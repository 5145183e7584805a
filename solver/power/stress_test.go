package power_test

import (
	"math/rand/v2"
	"os"
	"testing"

	"risewright/solver/power"
)

// TestSettles solves many random networks, most of them far overloaded, and
// holds each against its own equations.
func TestSettles(t *testing.T) {
	many := 200
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		many = 5000
	}
	most := 0
	for seed := range uint64(many) {
		r := rand.New(rand.NewPCG(seed, 99))
		n := randomNetwork(r)
		for i := range n.Loads {
			n.Loads[i].Amps *= 3 * r.Float64()
			if r.IntN(4) == 0 { // a step, or a steep line
				n.Loads[i].Dark = n.Loads[i].Full - 0.01*float64(r.IntN(2))
			}
		}
		s := n.Solve()
		most = max(most, s.Rounds)
		for _, p := range s.Problems {
			if p.Kind == power.Unsettled {
				t.Fatalf("seed %d did not settle in %d rounds", seed, s.Rounds)
			}
		}
		// Kirchhoff: what comes into a node leaves it.
		net := make([]float64, n.Nodes)
		for i, w := range n.Runs {
			net[w.A] -= s.Amps[i]
			net[w.B] += s.Amps[i]
		}
		for i, l := range n.Loads {
			net[l.Node] -= s.Drawn[i]
		}
		for i, c := range n.Sources {
			net[c.Node] += s.Supplied[i]
		}
		for i, a := range net {
			// Amps come from differences of volts: 24 V to 2⁻⁵² over 1 mohm, and a few.
			if a > 1e-8 || a < -1e-8 {
				t.Fatalf("seed %d: %g A are lost at node %d", seed, a, i)
			}
		}
	}
	t.Logf("%d networks, at most %d rounds", many, most)
}
