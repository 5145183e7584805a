package power

import (
	"fmt"
	"math"
	"sort"
)

// Network is a set of nodes joined by runs, with supplies and loads at some of
// them. The zero Network has nothing in it and solves to nothing.
type Network struct {
	Nodes   int
	Runs    []Run
	Sources []Source
	Loads   []Load
}

// Run joins two nodes.
type Run struct {
	A, B int
	Ohm  float64 // out and back; 0 makes the two one node
	Name string  // for findings
}

// Source holds a node at a voltage.
type Source struct {
	Node  int
	Volts float64
	Name  string
}

// Load draws Amps at Full volts and above; from there down to Dark volts its
// current falls in a straight line to nothing. Where Dark is not below Full it
// draws Amps at any voltage above Full and nothing at or below it, with a slope
// over stepVolts that a solver can hold on to.
type Load struct {
	Node       int
	Amps       float64
	Full, Dark float64
}

const (
	// stepVolts is the width of a load's step from nothing to all where the
	// row gives none: a thousandth of what a pixel's colour could show.
	stepVolts = 1e-3
	// stopAmps is the residual current of a node at which the solve ends: over
	// 10 ohm, more than any wire here has, it is 10⁻⁸ V, a ten-thousandth of
	// the 0.1 mV that the volts are held to.
	stopAmps = 1e-9
	// rounds bounds the Newton steps. Each at least removes one kind of piece
	// from the loads' lines in practice; flights of 40 bars take under 20.
	rounds = 200
)

// Problem is something wrong with a network, as data.
type Problem struct {
	Kind  ProblemKind
	Runs  []int // indices of the runs concerned
	Nodes []int // and of the nodes
	Name  string
}

// ProblemKind says what is wrong.
type ProblemKind string

// The kinds of problem.
const (
	BadNumber ProblemKind = "bad number"       // a value that is no number, or below 0
	BadNode   ProblemKind = "no such node"     // an index out of range
	ZeroRun   ProblemKind = "run of no length" // its ends count as one node
	Loop      ProblemKind = "loop"             // runs that close a ring
	Clash     ProblemKind = "supplies clash"   // two voltages at one node
	NoSupply  ProblemKind = "no supply"        // loads that no supply reaches
	Unsettled ProblemKind = "did not settle"   // the volts are not to be trusted
	SelfRun   ProblemKind = "run to itself"    // both ends at one node
	Joined    ProblemKind = "supplies joined"  // wire leads from one supply to another
)

// Solution is the volts and currents of a network.
type Solution struct {
	Volts    []float64 // by node; 0 where no supply reaches
	Amps     []float64 // by run, positive from A to B; NaN in a run of no resistance
	Drawn    []float64 // by load
	Supplied []float64 // by source; of sources at one node the first has it all
	Problems []Problem
	Rounds   int
}

// Solve returns the volts of a network. Nodes that no supply reaches have 0 V.
// Problems say what was found wrong; what is wrong is left out.
func (n *Network) Solve() *Solution {
	s := newSystem(n)
	return s.solve(n)
}

// system is a network made ready to solve: nodes that runs of no resistance
// join are one, supplies' nodes are known, the rest are unknowns in an order
// of elimination. Between its solves only the loads' currents may change.
type system struct {
	nodes    int
	group    []int // by node: the node that stands for it
	unknown  []int // by node that stands for itself: index of the unknown, or -1
	live     []bool
	fixed    []float64 // by node: volts of a supply, NaN without one
	elim     *elimination
	slot     []int // by run: its place among the edges of elim, or -1
	count    int
	problems []Problem
	badRun   []bool
	badLoad  []bool
	badSrc   []bool
	work     work
}

func newSystem(n *Network) *system {
	s := &system{nodes: max(0, n.Nodes)}
	s.judge(n)
	s.merge(n)
	s.findLoops(n)
	s.reach(n)
	s.number(n)
	return s
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func (s *system) inRange(i int) bool { return i >= 0 && i < s.nodes }

// judge leaves out what holds no usable number.
func (s *system) judge(n *Network) {
	s.badRun = make([]bool, len(n.Runs))
	s.badLoad = make([]bool, len(n.Loads))
	s.badSrc = make([]bool, len(n.Sources))
	for i, r := range n.Runs {
		switch {
		case !s.inRange(r.A) || !s.inRange(r.B):
			s.badRun[i] = true
			s.problems = append(s.problems, Problem{Kind: BadNode, Runs: []int{i}, Name: r.Name})
		case !finite(r.Ohm) || r.Ohm < 0:
			s.badRun[i] = true
			s.problems = append(s.problems, Problem{Kind: BadNumber, Runs: []int{i}, Name: r.Name})
		case r.A == r.B:
			s.badRun[i] = true
			s.problems = append(s.problems, Problem{Kind: SelfRun, Runs: []int{i}, Nodes: []int{r.A}, Name: r.Name})
		}
	}
	for i, l := range n.Loads {
		switch {
		case !s.inRange(l.Node):
			s.badLoad[i] = true
			s.problems = append(s.problems, Problem{Kind: BadNode, Name: fmt.Sprintf("load %d", i+1)})
		case !finite(l.Amps) || l.Amps < 0 || !finite(l.Full) || !finite(l.Dark):
			s.badLoad[i] = true
			s.problems = append(s.problems, Problem{Kind: BadNumber, Nodes: []int{l.Node}, Name: fmt.Sprintf("load %d", i+1)})
		}
	}
	for i, c := range n.Sources {
		switch {
		case !s.inRange(c.Node):
			s.badSrc[i] = true
			s.problems = append(s.problems, Problem{Kind: BadNode, Name: c.Name})
		case !finite(c.Volts) || c.Volts < 0:
			s.badSrc[i] = true
			s.problems = append(s.problems, Problem{Kind: BadNumber, Nodes: []int{c.Node}, Name: c.Name})
		}
	}
}

// find returns the node that stands for i, shortening the way as it goes.
func find(group []int, i int) int {
	for group[i] != i {
		group[i] = group[group[i]]
		i = group[i]
	}
	return i
}

func numbered(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// merge makes one node of those that runs of no resistance join.
func (s *system) merge(n *Network) {
	s.group = numbered(s.nodes)
	for i, r := range n.Runs {
		if !s.badRun[i] && r.Ohm == 0 {
			s.group[find(s.group, r.A)] = find(s.group, r.B)
			s.problems = append(s.problems, Problem{Kind: ZeroRun, Runs: []int{i}, Nodes: []int{r.A, r.B}, Name: r.Name})
		}
	}
	s.fixed = make([]float64, s.nodes)
	for i := range s.fixed {
		s.group[i] = find(s.group, i)
		s.fixed[i] = math.NaN()
	}
	for i, c := range n.Sources {
		if s.badSrc[i] {
			continue
		}
		g := s.group[c.Node]
		if v := s.fixed[g]; !math.IsNaN(v) {
			if v != c.Volts {
				s.problems = append(s.problems, Problem{Kind: Clash, Nodes: []int{c.Node}, Name: c.Name})
				s.badSrc[i] = true
			}
			continue
		}
		s.fixed[g] = c.Volts
	}
}

// findLoops names each ring of runs, found as the run that closes it and the
// way back between its ends.
func (s *system) findLoops(n *Network) {
	tree := numbered(s.nodes)
	closes := make([]bool, len(n.Runs))
	var closing []int
	for i, r := range n.Runs {
		if s.badRun[i] {
			continue
		}
		a, b := find(tree, r.A), find(tree, r.B)
		if a == b {
			closing, closes[i] = append(closing, i), true
			continue
		}
		tree[a] = b
	}
	if len(closing) == 0 {
		return
	}
	type hop struct{ run, to int }
	ways := make([][]hop, s.nodes)
	for i, r := range n.Runs {
		if !s.badRun[i] && !closes[i] {
			ways[r.A] = append(ways[r.A], hop{i, r.B})
			ways[r.B] = append(ways[r.B], hop{i, r.A})
		}
	}
	// Roots, so that the way back is walked from both ends up to where they meet.
	depth, up, by := make([]int, s.nodes), make([]int, s.nodes), make([]int, s.nodes)
	for i := range depth {
		depth[i] = -1
	}
	var stack []int
	for root := range s.nodes {
		if depth[root] >= 0 {
			continue
		}
		depth[root], up[root], by[root] = 0, -1, -1
		for stack = append(stack[:0], root); len(stack) > 0; {
			at := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for _, h := range ways[at] {
				if depth[h.to] < 0 {
					depth[h.to], up[h.to], by[h.to] = depth[at]+1, at, h.run
					stack = append(stack, h.to)
				}
			}
		}
	}
	for _, i := range closing {
		p := Problem{Kind: Loop, Runs: []int{i}, Name: n.Runs[i].Name}
		for a, b := n.Runs[i].A, n.Runs[i].B; a != b; {
			if depth[a] < depth[b] {
				a, b = b, a
			}
			p.Runs = append(p.Runs, by[a])
			a = up[a]
		}
		sort.Ints(p.Runs)
		s.problems = append(s.problems, p)
	}
}

// reach finds the nodes that a supply reaches, and loads that none does.
func (s *system) reach(n *Network) {
	part := numbered(s.nodes)
	for i, r := range n.Runs {
		if !s.badRun[i] {
			part[find(part, r.A)] = find(part, r.B)
		}
	}
	fed := make([]bool, s.nodes)
	from := make(map[int]int) // by part: the node of its first supply
	for i, c := range n.Sources {
		if s.badSrc[i] {
			continue
		}
		p := find(part, c.Node)
		if first, ok := from[p]; ok && s.group[first] != s.group[c.Node] {
			s.problems = append(s.problems, Problem{Kind: Joined, Nodes: []int{first, c.Node}, Name: c.Name})
		} else if !ok {
			from[p] = c.Node
		}
		fed[p] = true
	}
	s.live = make([]bool, s.nodes)
	for i := range s.live {
		s.live[i] = fed[find(part, i)]
	}
	var dark []int
	for i, l := range n.Loads {
		if !s.badLoad[i] && l.Amps > 0 && !s.live[l.Node] {
			dark = append(dark, l.Node)
		}
	}
	if len(dark) > 0 {
		s.problems = append(s.problems, Problem{Kind: NoSupply, Nodes: dark})
	}
}

// number gives the unknown nodes their order of elimination.
func (s *system) number(n *Network) {
	s.unknown = make([]int, s.nodes)
	for i := range s.unknown {
		s.unknown[i] = -1
		if s.group[i] == i && s.live[i] && math.IsNaN(s.fixed[i]) {
			s.unknown[i] = s.count
			s.count++
		}
	}
	var pairs [][2]int
	s.slot = make([]int, len(n.Runs))
	for i, r := range n.Runs {
		s.slot[i] = -1
		if s.badRun[i] {
			continue
		}
		a, b := s.unknown[s.group[r.A]], s.unknown[s.group[r.B]]
		if a >= 0 && b >= 0 && a != b {
			s.slot[i] = len(pairs)
			pairs = append(pairs, [2]int{a, b})
		}
	}
	s.elim = newElimination(s.count, pairs)
}
