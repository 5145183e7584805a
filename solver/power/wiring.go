package power

import (
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/bars"
	"risewright/solver/pieces"
)

// supply reads the supply that is chosen.
func (s *solver) supply() {
	c, ok := s.t.Supply(s.l.Supply)
	s.out.Supply = c
	s.out.Load.Count = max(1, s.l.Supplies)
	switch {
	case !ok:
		s.find(model.Outside, "light.supply.none", "supply", "no supply is chosen", fmt.Sprintf("%q is not in the table; nothing lights", s.l.Supply), "choose a supply", "")
	case c.Volts.Value != s.out.Strip.Volts.Value:
		s.find(model.Outside, "light.supply.volts", "supply", fmt.Sprintf("the supply gives %g V and the strip takes %g V", c.Volts.Value, s.out.Strip.Volts.Value),
			"more volts destroy the strip, less leave it dark", "choose a supply of the strip's voltage", "")
	}
	if s.l.Supplies < 0 {
		s.find(model.Outside, "light.supply.count", "supplies", "fewer supplies than none", "it counts as one", "give 1 or more", "")
	}
}

// slack is what is added to a run for its two ends, mm.
func (s *solver) slack() float64 { return math.Max(0, float64(s.l.Slack)) }

// box returns where supply and controller are.
func (s *solver) box() mgl64.Vec3 {
	return mgl64.Vec3{float64(s.l.Box.X), float64(s.l.Box.Y), float64(s.l.Box.Z)}
}

// toBox returns the way from the box to a point: along the flight, across it,
// then up, as wires are laid along floors and walls. Common practice, no source.
func (s *solver) toBox(p mgl64.Vec3) []mgl64.Vec3 {
	b := s.box()
	return []mgl64.Vec3{b, {b[0], p[1], b[2]}, {p[0], p[1], b[2]}, p}
}

func lengthOf(path []mgl64.Vec3) float64 {
	sum := 0.0
	for i := 1; i < len(path); i++ {
		sum += path[i].Sub(path[i-1]).Len()
	}
	return sum
}

// near says whether the bar's end at the cavity is its left one.
func nearLeft(b *bars.Bar) bool { return b.Way.Side == pieces.Left }

// ends returns the bar's end at the cavity and the far one.
func ends(b *bars.Bar) (near, far mgl64.Vec3) {
	if nearLeft(b) {
		return b.Left, b.Right
	}
	return b.Right, b.Left
}

// pickWire returns the size called id, or says that there is none.
func (s *solver) pickWire(id, field string) (model.WireSize, bool) {
	w, ok := s.t.Wire(id)
	if !ok || !(w.OhmPerMetre(s.warmth()) >= 0) {
		s.find(model.Outside, "light.wire.none", "wires."+field, fmt.Sprintf("no wire is chosen for the %s", field),
			fmt.Sprintf("%q is not in the table; what hangs on it has no supply", id), "choose a size of the table", "")
		return w, false
	}
	return w, true
}

// warmth is the conductors' temperature; what is unset counts as 20 °C. At
// absolute zero and below the formula means nothing.
func (s *solver) warmth() float64 {
	if s.l.Warmth == 0 || s.l.Warmth < -200 {
		return 20
	}
	return s.l.Warmth
}

// wire lays every cable and makes the network of them.
func (s *solver) wire() {
	n := len(s.in.Bars)
	s.out.Bars = make([]BarPower, n)
	s.pixels = make([][]int, n)
	s.group = make([]int, n)
	s.tapped = make([]bool, n)
	s.split()
	if s.l.Slack < 0 {
		s.find(model.Outside, "light.negative", "slack", "the slack is below nothing", "it counts as 0", "give 0 or more", "")
	}
	boxes := make([]int, s.groups) // nodes of the supplies
	_, supplied := s.t.Supply(s.l.Supply)
	for g := range boxes {
		boxes[g] = s.node()
		if supplied {
			s.net.Sources = append(s.net.Sources, Source{Node: boxes[g], Volts: s.out.Supply.Volts.Value, Name: fmt.Sprintf("supply %d", g+1)})
		}
	}
	taps := make([]int, n)
	all := s.in.Pixels()
	s.net.Runs, s.net.Loads = make([]Run, 0, all+8*n+len(s.l.Links)), make([]Load, 0, all)
	for i := range s.in.Bars {
		b := &s.in.Bars[i]
		s.out.Bars[i] = BarPower{Step: b.Step, Supply: s.group[i], Feed: b.Feed}
		taps[i] = -1
		if b.Way.Piece != "" {
			taps[i], s.tapped[i] = s.node(), true
		}
	}
	if s.l.Trunk == model.HomeRuns {
		s.homeRuns(boxes, taps)
	} else {
		s.bus(boxes, taps)
	}
	s.links(taps)
	lead, ok := s.pickWire(s.l.Wires.Lead, "lead")
	for i := range s.in.Bars {
		if s.tapped[i] && s.in.Bars[i].Pixels > 0 {
			s.strip(i, taps[i], lead, ok)
		}
	}
}

func (s *solver) node() int { s.net.Nodes++; return s.net.Nodes - 1 }

// cable lays one cable between two nodes.
func (s *solver) cable(c Cable, a, b int) int {
	c.Length = lengthOf(c.Path) + s.slack()
	c.Ohm = 2 * c.Wire.OhmPerMetre(s.warmth()) * c.Length / 1000
	s.cableAt = append(s.cableAt, len(s.net.Runs))
	s.net.Runs = append(s.net.Runs, Run{A: a, B: b, Ohm: c.Ohm, Name: c.Name()})
	s.out.Cables = append(s.out.Cables, c)
	return len(s.out.Cables) - 1
}

// split shares the bars between the supplies: neighbours together, pixels as
// even as can be.
func (s *solver) split() {
	s.groups = max(1, min(s.out.Load.Count, len(s.in.Bars)))
	total, sum := s.in.Pixels(), 0
	for i := range s.in.Bars {
		if total > 0 {
			// By the middle of the bar's pixels.
			mid := float64(sum) + float64(s.in.Bars[i].Pixels)/2
			s.group[i] = min(s.groups-1, int(mid*float64(s.groups)/float64(total)))
		}
		sum += s.in.Bars[i].Pixels
	}
}

// nearest returns the tapped bar of a group that is least far from the box.
func (s *solver) nearest(g int) int {
	best, at := math.Inf(1), -1
	for i := range s.in.Bars {
		if s.tapped[i] && s.group[i] == g {
			if d := lengthOf(s.toBox(s.in.Bars[i].Way.At)); d < best {
				best, at = d, i
			}
		}
	}
	return at
}

func tapName(b *bars.Bar) string { return fmt.Sprintf("tap %d", b.Step) }

// bus lays the feeders and the bus from tap to tap.
func (s *solver) bus(boxes, taps []int) {
	feeder, okFeeder := s.pickWire(s.l.Wires.Feeder, "feeder")
	wire, okBus := s.pickWire(s.l.Wires.Bus, "bus")
	enters := make([][]int, s.groups)
	seen := map[int]bool{}
	for _, id := range s.l.Enters {
		i := s.job.StepIndex(id)
		if i < 0 || i >= len(taps) || !s.tapped[i] {
			s.find(model.Advice, "light.enter", "enters", "a feed point names a bar that is not there", "it is left out", "choose another feed point", "")
			continue
		}
		if !seen[i] {
			seen[i] = true
			enters[s.group[i]] = append(enters[s.group[i]], i)
		}
	}
	for g, box := range boxes {
		if len(enters[g]) == 0 {
			if i := s.nearest(g); i >= 0 {
				enters[g] = append(enters[g], i)
			}
		}
		for _, i := range enters[g] {
			b := &s.in.Bars[i]
			if okFeeder {
				s.cable(Cable{Kind: Feeder, From: "box", To: tapName(b), Step: b.Step, Supply: g, Wire: feeder, Path: s.toBox(b.Way.At)}, box, taps[i])
			}
		}
	}
	last := -1
	for i := range s.in.Bars {
		if !s.tapped[i] {
			continue
		}
		if last >= 0 && s.group[last] == s.group[i] && okBus {
			a, b := &s.in.Bars[last], &s.in.Bars[i]
			s.cable(Cable{Kind: BusRun, From: tapName(a), To: tapName(b), Step: b.Step, Supply: s.group[i], Wire: wire, Path: append([]mgl64.Vec3{a.Way.At}, s.along(last, i)...)}, taps[last], taps[i])
		}
		last = i
	}
}

// homeRuns lays a pair from the box to every tap: to the cavity where it is
// nearest, then along it.
func (s *solver) homeRuns(boxes, taps []int) {
	wire, ok := s.pickWire(s.l.Wires.Bus, "bus")
	if !ok {
		return
	}
	for g, box := range boxes {
		start := s.nearest(g)
		for i := range s.in.Bars {
			if s.tapped[i] && s.group[i] == g {
				path := append(s.toBox(s.in.Bars[start].Way.At), s.along(start, i)...)
				s.cable(Cable{Kind: HomeRun, From: "box", To: tapName(&s.in.Bars[i]), Step: s.in.Bars[i].Step, Supply: g, Wire: wire, Path: path}, box, taps[i])
			}
		}
	}
}

// along returns where the cavity leads from the notch of bar from, up or down to
// that of to: the taps on the way, and the bends between them.
func (s *solver) along(from, to int) []mgl64.Vec3 {
	var out []mgl64.Vec3
	up := func(a, b int) { // from a tap to the next one up
		for i := a; i < b; i++ {
			if s.tapped[i] {
				out = append(out, s.in.Bars[i].Climb...)
			}
			if s.tapped[i+1] {
				out = append(out, s.in.Bars[i+1].Way.At)
			}
		}
	}
	if from <= to {
		up(from, to)
		return out
	}
	up(to, from)
	// The same way walked down begins below the tap it began at.
	out = out[:len(out)-1]
	slices.Reverse(out)
	return append(out, s.in.Bars[to].Way.At)
}

// links lays the further pairs that the user asked for.
func (s *solver) links(taps []int) {
	if len(s.l.Links) == 0 {
		return
	}
	wire, ok := s.pickWire(s.l.Wires.Bus, "bus")
	for _, k := range s.l.Links {
		a, b := s.job.StepIndex(k.From), s.job.StepIndex(k.To)
		if a < 0 || b < 0 || a >= len(taps) || b >= len(taps) || !s.tapped[a] || !s.tapped[b] {
			s.find(model.Advice, "light.link", "links", "a link names a bar that is not there", "it is left out", "remove it", "")
			continue
		}
		if ok {
			p, q := &s.in.Bars[a], &s.in.Bars[b]
			s.cable(Cable{Kind: LinkRun, From: tapName(p), To: tapName(q), Step: q.Step, Supply: s.group[b], Wire: wire, Path: append([]mgl64.Vec3{p.Way.At}, s.along(a, b)...)}, taps[a], taps[b])
		}
	}
}

// strip puts the pixels of bar i on the network, with what feeds them. The
// strip is cut half way between two pixels, so half a pitch of trace lies
// before its first pixel and after its last.
func (s *solver) strip(i, tap int, lead model.WireSize, ok bool) {
	b, st := &s.in.Bars[i], &s.out.Strip
	ohm := st.TraceOhm.Value * st.Pitch() / 1000
	left := s.node()
	at, first := left, s.net.Nodes
	s.pixels[i] = make([]int, 0, b.Pixels)
	for k := range b.Pixels {
		p := s.node()
		r := ohm
		if k == 0 {
			r /= 2
		}
		s.net.Runs = append(s.net.Runs, Run{A: at, B: p, Ohm: r})
		s.pixels[i] = append(s.pixels[i], len(s.net.Loads))
		s.net.Loads = append(s.net.Loads, Load{Node: p, Amps: st.FullAmps(), Full: st.FullVolts.Value, Dark: st.DarkVolts.Value})
		at = p
	}
	right := s.node()
	s.net.Runs = append(s.net.Runs, Run{A: at, B: right, Ohm: ohm / 2})
	if !ok {
		return
	}
	nearPad, farPad := left, right
	if !nearLeft(b) {
		nearPad, farPad = right, left
	}
	nearEnd, farEnd := ends(b)
	add := func(pad int, what string, path ...mgl64.Vec3) {
		c := s.cable(Cable{Kind: Lead, From: tapName(b), To: b.Name() + " " + what, Step: b.Step, Supply: s.group[i], Wire: lead, Path: append([]mgl64.Vec3{b.Way.At}, path...)}, tap, pad)
		s.out.Bars[i].Leads = append(s.out.Bars[i].Leads, c)
	}
	switch b.Feed {
	case model.FeedMiddle:
		add(first+(b.Pixels-1)/2, "middle", nearEnd, b.Centre())
	case model.FeedBoth:
		add(nearPad, "near end", nearEnd)
		add(farPad, "far end", nearEnd, farEnd)
	default:
		add(nearPad, "near end", nearEnd)
	}
}
