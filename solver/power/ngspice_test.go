package power_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"risewright/solver/power"
)

// TestAgainstNgspice solves random networks with ngspice (Debian package
// ngspice), an independent circuit simulator, and compares every node's volts.
// RISEWRIGHT_FULL=1, as in .dev/test, compares 50 networks.
func TestAgainstNgspice(t *testing.T) {
	if _, err := exec.LookPath("ngspice"); err != nil {
		if os.Getenv("RISEWRIGHT_FULL") != "" {
			t.Fatal("ngspice (Debian package ngspice) is not installed, and the full sweep needs it")
		}
		t.Skip("NOT CHECKED: ngspice is not installed")
	}
	networks, nodes, worst := 5, 0, 0.0
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		networks = 50
	}
	low := 0
	for seed := range uint64(networks) {
		n := randomNetwork(rand.New(rand.NewPCG(seed, 50)))
		got := n.Solve()
		want := ngspice(t, n)
		for i := range got.Volts {
			d := math.Abs(got.Volts[i] - want[i])
			worst = math.Max(worst, d)
			if d > 1e-4 {
				t.Errorf("seed %d: node %d of %d: %.6f V, ngspice %.6f V", seed, i, n.Nodes, got.Volts[i], want[i])
				break
			}
		}
		for i, l := range n.Loads {
			if got.Drawn[i] < l.Amps {
				low++
			}
		}
		nodes += n.Nodes
	}
	if low == 0 {
		t.Error("no pixel was below its full volts: the falling part of the loads was never compared")
	}
	t.Logf("%d networks, %d nodes, %d loads below full: worst difference %.2g V", networks, nodes, low, worst)
}

// ngspice returns the volts of every node, as its operating point has them.
// Resistors are the runs; a load is a current source that follows the volts of
// its own node along three straight pieces.
func ngspice(t *testing.T, n *power.Network) []float64 {
	t.Helper()
	var b strings.Builder
	b.WriteString("light bars\n.options reltol=1e-9 abstol=1e-12 vntol=1e-9 itl1=5000\n")
	for i, r := range n.Runs {
		fmt.Fprintf(&b, "R%d n%d n%d %.17g\n", i, r.A, r.B, r.Ohm)
	}
	for i, s := range n.Sources {
		fmt.Fprintf(&b, "V%d n%d 0 %.17g\n", i, s.Node, s.Volts)
	}
	for i, l := range n.Loads {
		fmt.Fprintf(&b, "B%d n%d 0 I=%.17g*min(1,max(0,(v(n%d)-%.17g)/%.17g))\n", i, l.Node, l.Amps, l.Node, l.Dark, l.Full-l.Dark)
	}
	// Start near: full current everywhere is where a simulator is surest.
	for i := range n.Nodes {
		fmt.Fprintf(&b, ".nodeset v(n%d)=%g\n", i, n.Sources[0].Volts)
	}
	b.WriteString(".control\nop\nset numdgt=12\n")
	for i := range n.Nodes {
		fmt.Fprintf(&b, "print v(n%d)\n", i)
	}
	b.WriteString("quit\n.endc\n.end\n")
	path := filepath.Join(t.TempDir(), "net.cir")
	if err := os.WriteFile(path, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	text, err := exec.Command("ngspice", "-b", path).CombinedOutput()
	out := make([]float64, n.Nodes)
	for i := range out {
		out[i] = math.NaN()
	}
	read := 0
	for line := range strings.Lines(string(text)) {
		name, value, ok := strings.Cut(line, "=")
		name = strings.TrimSpace(name)
		if !ok || !strings.HasPrefix(name, "v(n") {
			continue
		}
		i, e1 := strconv.Atoi(strings.TrimSuffix(strings.TrimPrefix(name, "v(n"), ")"))
		v, e2 := strconv.ParseFloat(strings.TrimSpace(value), 64)
		if e1 == nil && e2 == nil && i < len(out) {
			out[i] = v
			read++
		}
	}
	if read != n.Nodes {
		t.Fatalf("ngspice gave %d of %d nodes (%v):\n%s", read, n.Nodes, err, text)
	}
	return out
}
