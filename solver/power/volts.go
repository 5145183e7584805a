package power

import (
	"fmt"
	"math"
	"strings"

	"risewright/model"
	"risewright/solver/bars"
)

// fullWhite is the scene with everything on.
func fullWhite() model.Scene { return model.Scene{Name: "full white", Level: 1, Shown: true} }

// scenes returns the scenes of the job; full white stands in for none.
func (s *solver) scenes() []model.Scene {
	if len(s.l.Scenes) == 0 {
		w := fullWhite()
		w.Shown = false
		return []model.Scene{w}
	}
	return s.l.Scenes
}

// mostWindows bounds the places tried for a scene, so that the cost grows with
// the pixels alone. Up to so many times as many bars as the scene lights, every
// bar is lit in one of them.
const mostWindows = 8

// windows returns the ranges of bars to be tried for a scene: at both ends of
// the flight, where the bus sees its worst, and evenly between.
func (s *solver) windows(sc model.Scene) [][2]int {
	n := len(s.in.Bars)
	if sc.Bars <= 0 || sc.Bars >= n {
		return [][2]int{{0, n}}
	}
	count := min(mostWindows, (n+sc.Bars-1)/sc.Bars)
	out := make([][2]int, count)
	for i := range out {
		from := (i*(n-sc.Bars) + (count-1)/2) / (count - 1)
		out[i] = [2]int{from, from + sc.Bars}
	}
	return out
}

// volts solves the network for every scene and gathers the worst of each.
func (s *solver) volts() {
	o := s.out
	supply := o.Supply.Volts.Value
	share := s.l.Drop
	if !(share > 0) {
		share = s.t.UsualDrop(supply).Value
	}
	o.Limit = share * supply
	for i := range o.Bars {
		o.Bars[i].Lowest = supply
		o.Bars[i].Volts = make([]float64, len(s.pixels[i]))
		for k := range o.Bars[i].Volts {
			o.Bars[i].Volts[k] = supply
		}
	}
	sys := newSystem(&s.net)
	s.problems(sys.problems)
	lowest := math.Inf(1)
	for _, sc := range s.scenes() {
		at := SceneLoad{Scene: sc, Each: make([]float64, s.groups), Lowest: supply}
		lit := s.pixelAmps(sc)
		for _, win := range s.windows(sc) {
			each := make([]float64, s.groups)
			sum := 0.0
			for i := range s.in.Bars {
				amps := s.idleAmps()
				if i >= win[0] && i < win[1] {
					amps = lit
				}
				for _, k := range s.pixels[i] {
					s.net.Loads[k].Amps = amps
				}
				each[s.group[i]] += amps * float64(len(s.pixels[i]))
				sum += amps * float64(len(s.pixels[i]))
			}
			if sum > at.Amps {
				at.Amps = sum
			}
			for g := range each {
				at.Each[g] = math.Max(at.Each[g], each[g])
			}
			sol := sys.solve(&s.net)
			s.gather(sc, win, sol, &at)
		}
		at.Watts = at.Amps * supply
		at.Drop = supply - at.Lowest
		at.Shift = at.Lowest < o.Strip.ColourVolts.Value
		at.Dim = at.Lowest < o.Strip.FullVolts.Value
		o.Scenes = append(o.Scenes, at)
		if !sc.Shown && at.Lowest < lowest {
			lowest, o.Worst = at.Lowest, len(o.Scenes)-1
		}
	}
	s.leads()
	s.judgeVolts()
}

// leads gives what feeds a single bar at least the bar's own current, for bars
// that no window has lit. With two leads each gets the whole: either may come
// loose.
func (s *solver) leads() {
	for i := range s.in.Bars {
		lit := false
		for _, sc := range s.scenes() {
			for _, w := range s.windows(sc) {
				lit = lit || !sc.Shown && i >= w[0] && i < w[1] && s.pixelAmps(sc)*float64(len(s.pixels[i])) >= s.out.Bars[i].Amps
			}
		}
		if lit {
			continue
		}
		b := &s.out.Bars[i]
		for c := range s.out.Cables {
			k := &s.out.Cables[c]
			if k.Step == b.Step && (k.Kind == Lead || k.Kind == HomeRun) {
				k.Amps = math.Max(k.Amps, b.Amps)
			}
		}
	}
}

// gather keeps what is worst in one solution.
func (s *solver) gather(sc model.Scene, win [2]int, sol *Solution, at *SceneLoad) {
	for _, p := range sol.Problems {
		if p.Kind == Unsettled {
			s.find(model.Outside, "light.unsettled", "", "the volts could not be settled", "scene "+sc.Name, "look for values far from usual", "")
		}
	}
	for i := range s.in.Bars {
		for k, j := range s.pixels[i] {
			v := sol.Volts[s.net.Loads[j].Node]
			if i >= win[0] && i < win[1] && v < at.Lowest {
				at.Lowest, at.Step = v, s.in.Bars[i].Step
			}
			if !sc.Shown && v < s.out.Bars[i].Volts[k] {
				s.out.Bars[i].Volts[k] = v
				s.out.Bars[i].Lowest = math.Min(s.out.Bars[i].Lowest, v)
			}
		}
		if !sc.Shown {
			s.out.Bars[i].Amps = math.Max(s.out.Bars[i].Amps, s.pixelAmps(sc)*float64(len(s.pixels[i])))
		}
	}
	if sc.Shown {
		return
	}
	for c := range s.out.Cables {
		a := math.Abs(sol.Amps[s.cableAt[c]])
		if math.IsNaN(a) { // a run of no length: it may carry all
			a = at.Amps
		}
		s.out.Cables[c].Amps = math.Max(s.out.Cables[c].Amps, a)
	}
}

// problems turns what is wrong with the network into findings.
func (s *solver) problems(ps []Problem) {
	named := func(p Problem) string {
		var out []string
		for _, r := range p.Runs {
			if name := s.net.Runs[r].Name; name != "" {
				out = append(out, name)
			}
		}
		return strings.Join(out, ", ")
	}
	rings := 0
	for _, p := range ps {
		switch name := named(p); p.Kind {
		case ZeroRun:
			if name != "" {
				s.find(model.Advice, "light.run.zero", "slack", "a run of no length: "+name, "its two ends count as one point", "check the box and the notch, or allow slack for the two ends", "")
			}
		case SelfRun:
			s.find(model.Advice, "light.run.self", "links", "a link that comes back to where it starts: "+name, "it carries nothing and is left out", "remove it", "")
		case Loop:
			if s.bothEnds(p) {
				rings++
				continue
			}
			s.find(model.Advice, "light.loop", "links", "the power wires close a ring: "+name,
				"both ways carry current, and a break or a blown fuse on one side loads the other unseen", "open the ring, or fuse both ends of it for the whole current", model.Memory)
		case NoSupply:
			steps := map[int]bool{}
			node := map[int]int{}
			for i := range s.pixels {
				for _, k := range s.pixels[i] {
					node[s.net.Loads[k].Node] = s.in.Bars[i].Step
				}
			}
			for _, at := range p.Nodes {
				steps[node[at]] = true
			}
			var list []int
			for i := range s.in.Bars {
				if steps[s.in.Bars[i].Step] {
					list = append(list, s.in.Bars[i].Step)
				}
			}
			s.find(model.Outside, "light.no_supply", "supply", bars.Names(list)+": no supply reaches", "no wire leads from a supply to it, or no supply is chosen", "choose a supply and the sizes of the wires", "")
			s.at(list[0])
		case Joined, Clash:
			s.find(model.Outside, "light.joined", "links", "two supplies are joined by their positives", "the one with the higher volts feeds the other; common ground only", "remove the link between their groups of bars", model.Seen)
		case BadNumber, BadNode:
			s.find(model.Outside, "light.number", "own", "a value of the wiring is no number above nil: "+p.Name, "what hangs on it is left out", "check the job's own rows", "")
		}
	}
	if rings > 0 {
		s.find(model.Note, "light.ring", "feed", fmt.Sprintf("%d bars are fed at both ends", rings), "each such bar closes a ring with its two leads, as meant; each lead has its own fuse", "", "")
	}
}

// bothEnds says whether a ring is a bar with its two leads.
func (s *solver) bothEnds(p Problem) bool {
	leads := map[string]bool{}
	for _, r := range p.Runs {
		name := s.net.Runs[r].Name
		if name == "" {
			continue
		}
		if !strings.HasSuffix(name, " near end") && !strings.HasSuffix(name, " far end") {
			return false
		}
		leads[name] = true
	}
	return len(leads) == 2
}

// judgeVolts holds the worst volts against what the strip and the user want.
func (s *solver) judgeVolts() {
	o := s.out
	if o.Worst < 0 || len(s.net.Sources) == 0 {
		return
	}
	w, st := o.Scenes[o.Worst], &o.Strip
	if w.Step == 0 {
		return
	}
	supply := o.Supply.Volts.Value
	sum := fmt.Sprintf("scene %q: %.2f V at the supply, %.2f V at the worst pixel of %s: %.2f V lost, %.1f %%; %.2f V may be", w.Scene.Name, supply, w.Lowest, bars.Name(w.Step), w.Drop, 100*w.Drop/supply, o.Limit)
	const remedy = "thicker wires, feeds at both ends, a feed point nearer, or 12 or 24 V"
	if w.Drop > o.Limit+1e-9 {
		standing := s.t.UsualDrop(supply).Standing
		if s.l.Drop > 0 {
			standing = model.Yours
		}
		s.find(model.Advice, "light.drop", "drop", "too many volts are lost on the way", sum, remedy, standing)
		s.at(w.Step)
	}
	switch {
	case w.Dim:
		s.find(model.Outside, "light.dim", "wires", fmt.Sprintf("pixels of %s do not get the volts they need", bars.Name(w.Step)),
			fmt.Sprintf("%s; below %.2f V their current falls away", sum, st.FullVolts.Value), remedy, st.FullVolts.Standing)
		s.at(w.Step)
	case w.Shift:
		s.find(model.Advice, "light.colour", "wires", fmt.Sprintf("the colour of %s shifts towards red", bars.Name(w.Step)),
			fmt.Sprintf("%s; below %.2f V blue and green fade first", sum, st.ColourVolts.Value), remedy, st.ColourVolts.Standing)
		s.at(w.Step)
	}
}
