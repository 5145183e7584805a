package power

import (
	"fmt"

	"risewright/model"
)

// fuses gives every branch a fuse at its source and says how warm wires get.
//
// A fuse is the smallest of the table that carries the branch's load with the
// margin of long loads, and never above what its wire allows. A bus run has no
// fuse of its own: what guards it is the fuse of the feeder before it, the
// largest where there are several.
func (s *solver) fuses() {
	margin := s.t.Practised("continuous")
	before := make([]float64, s.groups) // the largest feeder fuse of each supply
	for i := range s.out.Cables {
		c := &s.out.Cables[i]
		ohm := c.Wire.OhmPerMetre(s.warmth())
		c.Drop = c.Amps * c.Ohm
		c.WattMetre = 2 * c.Amps * c.Amps * ohm
		c.Watts = c.WattMetre * c.Length / 1000
		if c.Kind == BusRun || c.Kind == LinkRun {
			continue
		}
		need := c.Amps
		if margin.Value > 0 {
			need /= margin.Value
		}
		for _, f := range s.t.Fuses {
			if f.Value >= need-1e-9 && f.Value > 0 {
				c.Fuse = f.Value
				break
			}
		}
		most := c.Wire.FuseMost
		if c.Amps > 0 && (c.Fuse == 0 || c.Fuse > most.Value) {
			what := fmt.Sprintf("the load of %s with the margin needs a fuse of %s", amps(c.Amps), amps(c.Fuse))
			if c.Fuse == 0 {
				what = fmt.Sprintf("no fuse of the table carries %s with the margin", amps(c.Amps))
			}
			s.find(model.Outside, "light.fuse.wire", "wires", fmt.Sprintf("%s: %s is too thin for its fuse", c.Name(), c.Wire.Title),
				fmt.Sprintf("%s; before this wire at most %s (%s)", what, amps(most.Value), most.From), "a thicker wire, or more feeds", most.Standing)
			if c.Fuse > most.Value {
				c.Fuse = 0
			}
		}
		c.Guard = c.Fuse
		if c.Kind == Feeder {
			before[c.Supply] = max(before[c.Supply], c.Fuse)
		}
	}
	said := map[string]bool{}
	usual := s.t.Practised("feeder_drop")
	for i := range s.out.Cables {
		c := &s.out.Cables[i]
		if c.Kind == BusRun || c.Kind == LinkRun {
			c.Guard = before[c.Supply]
			if most := c.Wire.FuseMost; c.Guard > most.Value && !said["bus"] {
				said["bus"] = true
				s.find(model.Outside, "light.fuse.bus", "wires.bus", fmt.Sprintf("the feeder's fuse of %s does not guard the bus of %s", amps(c.Guard), c.Wire.Title),
					fmt.Sprintf("before this wire at most %s (%s)", amps(most.Value), most.From), "a bus as thick as the feeder, or its own fuse where it begins", most.Standing)
			}
		}
		if loss := usual.Value * s.out.Supply.Volts.Value; (c.Kind == Feeder || c.Kind == HomeRun) && loss > 0 && c.Drop > loss && !said["loss"] {
			said["loss"] = true
			s.find(model.Note, "light.feeder", "wires.feeder", fmt.Sprintf("%s loses %s V", c.Name(), trim(c.Drop, 3)),
				fmt.Sprintf("%s in %s of %s; usual is %s V or less in a feeder (%s)", amps(c.Amps), s.mm(c.Length), c.Wire.Title, trim(loss, 3), usual.From), "a thicker feeder, or the box nearer", usual.Standing)
			s.at(c.Step)
		}
		if r := c.Wire.Rating; r.Value > 0 && c.Amps > r.Value && !said[string(c.Kind)] {
			said[string(c.Kind)] = true
			s.find(model.Advice, "light.hot", "wires", fmt.Sprintf("%s: the wire runs hot", c.Name()),
				fmt.Sprintf("%s in %s, which is rated %s in a bundle (%s); it gives off %s W a metre", amps(c.Amps), c.Wire.Title, amps(r.Value), r.From, trim(c.WattMetre, 2)), "a thicker wire", r.Standing)
			s.at(c.Step)
		}
	}
}

// Heat returns the watts that all cables give off together.
func (r *Result) Heat() float64 {
	sum := 0.0
	for i := range r.Cables {
		sum += r.Cables[i].Watts
	}
	return sum
}
