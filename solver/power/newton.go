package power

import "math"

// line returns a load's current at v volts and its slope there.
func (l *Load) line(v float64) (amps, slope float64) {
	full, dark := l.Full, l.Dark
	if !(dark < full) {
		full = dark + stepVolts
	}
	switch {
	case v >= full:
		return l.Amps, 0
	case v <= dark:
		return 0, 0
	}
	slope = l.Amps / (full - dark)
	return slope * (v - dark), slope
}

// work is the arrays of a solve. A system keeps them from one solve to the next.
type work struct {
	v, from, residual, step, diag, off []float64
	own                                []float64 // conductance at each unknown, loads left out
	pull                               []float64 // current that the supplies would push into each at 0 V
	edges                              []edge    // between unknowns
	highest                            float64   // volts of any supply
	// plain is the matrix without a slope of any load, eliminated. Where every
	// load draws its whole current, which is what a good wiring comes to, no
	// other is needed for scene after scene.
	plain *eliminated
}

// edge joins two unknowns.
type edge struct {
	a, b, place int // place among the entries of the elimination
	g           float64
}

// prepare takes what does not change from one solve to the next.
func (s *system) prepare(n *Network) {
	of := make([]float64, 6*s.count+s.elim.edges)
	part := func(k int) []float64 {
		out := of[:k:k]
		of = of[k:]
		return out
	}
	w := &s.work
	w.v, w.from, w.residual, w.step = part(s.count), part(s.count), part(s.count), part(s.count)
	w.own, w.pull, w.off = part(s.count), part(s.count), part(s.elim.edges)
	w.diag = make([]float64, s.count)
	w.edges = make([]edge, 0, len(n.Runs))
	for i, r := range n.Runs {
		if s.badRun[i] || r.Ohm == 0 {
			continue
		}
		g := 1 / r.Ohm
		for _, end := range [2][2]int{{r.A, r.B}, {r.B, r.A}} {
			a, b := s.group[end[0]], s.group[end[1]]
			if a == b || s.unknown[a] < 0 {
				continue
			}
			w.own[s.unknown[a]] += g
			if v := s.fixed[b]; !math.IsNaN(v) {
				w.pull[s.unknown[a]] += g * v
			}
		}
		if k := s.slot[i]; k >= 0 {
			w.edges = append(w.edges, edge{s.unknown[s.group[r.A]], s.unknown[s.group[r.B]], s.elim.place[k], g})
		}
	}
	for _, v := range s.fixed {
		if v > w.highest {
			w.highest = v
		}
	}
}

// solve finds the volts at which every node's currents add up to nothing.
//
// They are the least of a function that is convex, since a load's current
// never falls as its volts rise:
//
//	E(v) = ½ Σ g (va - vb)² + Σ ∫ i(v) dv
//
// Newton's step always leads down E; where the whole step would lead up again,
// the place on it where E is least is found by halving. Pieces of E are
// parabolas, so it ends exactly once the right pieces are found.
func (s *system) solve(n *Network) *Solution {
	out := &Solution{
		Volts: make([]float64, s.nodes), Amps: make([]float64, len(n.Runs)),
		Drawn: make([]float64, len(n.Loads)), Supplied: make([]float64, len(n.Sources)),
		Problems: append([]Problem(nil), s.problems...),
	}
	w := &s.work
	if w.v == nil {
		s.prepare(n)
	}
	for i := range w.v {
		w.v[i] = w.highest
	}
	left := 0.0 // residual current
	if s.count > 0 {
		left = s.residual(n, w)
	}
	for out.Rounds = 0; out.Rounds < rounds && !(left <= stopAmps); out.Rounds++ {
		if !s.newton(n, w) {
			break
		}
		left = s.advance(n, w)
	}
	if !(left <= stopAmps) {
		out.Problems = append(out.Problems, Problem{Kind: Unsettled})
	}
	s.report(n, w, out)
	return out
}

// at returns the volts of a node.
func (s *system) at(w *work, node int) float64 {
	g := s.group[node]
	if u := s.unknown[g]; u >= 0 {
		return w.v[u]
	}
	if v := s.fixed[g]; !math.IsNaN(v) {
		return v
	}
	return 0
}

// residual fills in the current that is missing at each unknown, and returns
// the largest beyond what rounding alone leaves.
func (s *system) residual(n *Network, w *work) float64 {
	r := w.residual
	copy(r, w.pull)
	for u := range r {
		r[u] -= w.own[u] * w.v[u]
	}
	for _, e := range w.edges {
		r[e.a] += e.g * w.v[e.b]
		r[e.b] += e.g * w.v[e.a]
	}
	for i := range n.Loads {
		l := &n.Loads[i]
		if s.badLoad[i] {
			continue
		}
		if u := s.unknown[s.group[l.Node]]; u >= 0 {
			amps, _ := l.line(w.v[u])
			r[u] -= amps
		}
	}
	worst := 0.0
	for u := range r {
		// float64 keeps a product own·v to 2⁻⁵³ of it, and a few are added.
		rounding := 16 * 0x1p-53 * (w.own[u]*math.Abs(w.v[u]) + math.Abs(w.pull[u]))
		worst = math.Max(worst, math.Abs(r[u])-rounding)
	}
	return worst
}

// newton fills in the step from w.v with the loads' present slopes.
func (s *system) newton(n *Network, w *work) bool {
	copy(w.diag, w.own)
	sloped := false
	for i := range n.Loads {
		l := &n.Loads[i]
		if s.badLoad[i] {
			continue
		}
		if u := s.unknown[s.group[l.Node]]; u >= 0 {
			_, slope := l.line(w.v[u])
			w.diag[u] += slope
			sloped = sloped || slope != 0
		}
	}
	copy(w.step, w.residual)
	if !sloped && w.plain != nil {
		return w.plain.solve(w.step)
	}
	clear(w.off)
	for _, e := range w.edges {
		w.off[e.place] -= e.g
	}
	if sloped {
		return s.elim.solve(w.diag, w.off, w.step)
	}
	w.plain = s.elim.eliminate(w.diag, w.off)
	return w.plain.solve(w.step)
}

const (
	// closings bounds the search along a step. Each at least halves what is left
	// of it every other time, so 120 leave nothing of a float64.
	closings = 120
	// enough is how much of the slope at the start may be left where the search
	// ends: any fixed share below 1 leads to the least of a convex function.
	enough = 0.3
	// nil0 is the share of it that counts as nil: rounding of some thousand
	// terms.
	nil0 = 1e-9
)

// advance moves w.v along w.step: the whole of it, or to where E is about
// least. The slope of E along the step is -residual·step, which only rises with
// the way. The end taken is one where E still falls, so that E is less than at
// the start. It returns the residual current there; at the start w.residual is
// that of w.v.
func (s *system) advance(n *Network, w *work) float64 {
	copy(w.from, w.v)
	down := func() float64 {
		sum := 0.0
		for u, r := range w.residual {
			sum -= r * w.step[u]
		}
		return sum
	}
	left := 0.0
	slope := func(t float64) float64 {
		for u := range w.v {
			w.v[u] = w.from[u] + t*w.step[u]
		}
		left = s.residual(n, w)
		return down()
	}
	start := down()
	end := slope(1)
	if end <= nil0*math.Abs(start) {
		return left
	}
	// Regula falsi; an end kept twice has its slope halved, so that both close in.
	lo, hi, atLo, atHi := 0.0, 1.0, start, end
	for range closings {
		t := lo + (hi-lo)*atLo/(atLo-atHi)
		if !(t > lo && t < hi) {
			break
		}
		d := slope(t)
		switch {
		case d > 0:
			hi, atHi = t, d
			atLo /= 2
		case d >= enough*start:
			return left
		default:
			lo, atLo = t, d
			atHi /= 2
		}
	}
	slope(lo)
	return left
}

// report fills in volts and currents.
func (s *system) report(n *Network, w *work, out *Solution) {
	for i := range out.Volts {
		if s.live[i] {
			out.Volts[i] = s.at(w, i)
		}
	}
	net := make([]float64, s.nodes) // current out of each group
	for i, r := range n.Runs {
		switch {
		case s.badRun[i]:
		case r.Ohm == 0:
			out.Amps[i] = math.NaN()
		default:
			out.Amps[i] = (out.Volts[r.A] - out.Volts[r.B]) / r.Ohm
			net[s.group[r.A]] += out.Amps[i]
			net[s.group[r.B]] -= out.Amps[i]
		}
	}
	for i := range n.Loads {
		l := &n.Loads[i]
		if s.badLoad[i] {
			continue
		}
		out.Drawn[i], _ = l.line(out.Volts[l.Node])
		if !s.live[l.Node] {
			out.Drawn[i] = 0
		}
		net[s.group[l.Node]] += out.Drawn[i]
	}
	for i, c := range n.Sources {
		if s.badSrc[i] {
			continue
		}
		g := s.group[c.Node]
		out.Supplied[i], net[g] = net[g], 0
	}
}
