package power

import (
	"fmt"
	"math"

	"risewright/model"
	"risewright/solver/bars"
)

// data plans how data reaches every bar.
func (s *solver) data() {
	o := s.out
	p := &o.Data
	p.Way = s.l.Data
	if p.Way == "" {
		p.Way = model.DataReturn
	}
	if !o.Strip.Addressed {
		return
	}
	p.Resistor, p.Capacitor = s.t.Practised("resistor"), s.t.Practised("capacitor")
	order := s.order()
	p.Lines = 1
	if p.Way == model.DataLines {
		p.Lines = len(order)
	}
	p.At = -1
	last, outLeft := -1, false
	for n, i := range order {
		b := &s.in.Bars[i]
		d := BarData{Step: b.Step, From: "box", InLeft: nearLeft(b)}
		near, _ := ends(b)
		in := near.Sub(b.Way.At).Len()
		switch p.Way {
		case model.DataLines:
			d.Jump = s.fromBox(i) + in
			d.OutLeft = !d.InLeft
		case model.DataSerpentine:
			if n%2 == 1 {
				d.InLeft = !d.InLeft
			}
			d.OutLeft = !d.InLeft
			switch {
			case last < 0:
				d.Jump = s.fromBox(i) + in
			case outLeft == nearLeft(b): // at the cavity
				d.InLeft, d.OutLeft = outLeft, !outLeft
				d.Jump = s.between(last, i) + in + s.inOf(last)
			default:
				d.InLeft, d.OutLeft = outLeft, !outLeft
				_, far := ends(b)
				_, was := ends(&s.in.Bars[last])
				d.Jump = far.Sub(was).Len() + s.slack()
			}
		default:
			// The data comes back along the bar in a wire of its own.
			d.OutLeft = d.InLeft
			if last < 0 {
				d.Jump = s.fromBox(i) + in
			} else {
				d.Jump = s.in.Bars[last].Length + s.inOf(last) + s.between(last, i) + in
			}
		}
		if last >= 0 && p.Way != model.DataLines {
			d.From = s.in.Bars[last].Name()
		}
		if d.Jump > p.Longest || p.At < 0 {
			p.Longest, p.At = d.Jump, n
		}
		p.Bars = append(p.Bars, d)
		last, outLeft = i, d.OutLeft
	}
	s.judgeData()
}

// inOf is from a bar's notch to its end at the cavity.
func (s *solver) inOf(i int) float64 {
	near, _ := ends(&s.in.Bars[i])
	return near.Sub(s.in.Bars[i].Way.At).Len()
}

// between is the way along the cavity from the notch of one bar to another's.
func (s *solver) between(a, b int) float64 {
	sum, at := s.slack(), s.in.Bars[a].Way.At
	for _, p := range s.along(a, b) {
		sum += p.Sub(at).Len()
		at = p
	}
	return sum
}

// fromBox is the way from the box to the notch of a bar: to the notch nearest
// the box, then along the cavity.
func (s *solver) fromBox(i int) float64 {
	best, start := math.Inf(1), i
	for k := range s.in.Bars {
		if s.tapped[k] {
			if d := lengthOf(s.toBox(s.in.Bars[k].Way.At)); d < best {
				best, start = d, k
			}
		}
	}
	return lengthOf(s.toBox(s.in.Bars[start].Way.At)) + s.between(start, i)
}

// order returns the bars with pixels in the order of the data: as the user
// asks, else from the end of the flight that is nearer to the box.
func (s *solver) order() []int {
	var out []int
	has := func(i int) bool { return s.tapped[i] && s.in.Bars[i].Pixels > 0 }
	if len(s.l.Order) > 0 {
		seen := map[int]bool{}
		for _, id := range s.l.Order {
			i := s.job.StepIndex(id)
			switch {
			case i < 0 || i >= len(s.in.Bars) || !has(i):
				s.find(model.Advice, "light.order", "order", "the data order names a bar that is not there", "it is left out", "put the order right", "")
			case seen[i]:
				s.find(model.Outside, "light.data.loop", "order", fmt.Sprintf("the data comes to %s a second time", s.in.Bars[i].Name()),
					"data goes through a bar once; the second time is left out", "name each bar once", "")
				s.at(s.in.Bars[i].Step)
			default:
				seen[i] = true
				out = append(out, i)
			}
		}
		var missing []int
		for i := range s.in.Bars {
			if has(i) && !seen[i] {
				missing = append(missing, s.in.Bars[i].Step)
			}
		}
		if len(missing) > 0 {
			s.find(model.Outside, "light.data.missing", "order", bars.Names(missing)+": no data reaches", "the data order leaves it out", "add it to the order", "")
			s.at(missing[0])
		}
		return out
	}
	for i := range s.in.Bars {
		if has(i) {
			out = append(out, i)
		}
	}
	if n := len(out); n > 1 {
		first, last := &s.in.Bars[out[0]], &s.in.Bars[out[n-1]]
		if lengthOf(s.toBox(last.Way.At)) < lengthOf(s.toBox(first.Way.At)) {
			for i := range n / 2 {
				out[i], out[n-1-i] = out[n-1-i], out[i]
			}
		}
	}
	return out
}

func (s *solver) judgeData() {
	p := &s.out.Data
	limit := s.t.Practised("jump")
	if p.At >= 0 && limit.Value > 0 && p.Longest > limit.Value*1000 {
		b := p.Bars[p.At]
		s.find(model.Advice, "light.jump", "data", fmt.Sprintf("data jumps %s from %s to %s", s.mm(p.Longest), b.From, bars.Name(b.Step)),
			fmt.Sprintf("more than %s from pixel to pixel may flicker", s.mm(limit.Value*1000)), "a line of its own with a level shifter and a ground wire beside it, the controller nearer, or a pixel kept as a repeater between", limit.Standing)
		s.at(b.Step)
	}
	if p.Way == model.DataSerpentine && len(p.Bars) > 1 {
		s.find(model.Note, "light.serpentine", "data", "a serpentine needs a way for its wires at both sides", "every second jump lies at the side away from the cavity", "or a chain with a return wire along each bar", "")
	}
	c, ok := s.t.Controller(s.l.Controller)
	need := s.out.Strip.DataVolts
	if ok && need.Value > c.Logic.Value {
		p.Shift = true
		what := s.t.Practised("shifter_high")
		s.find(model.Advice, "light.shift", "controller", "a level shifter goes into each data line",
			fmt.Sprintf("the controller gives %g V; the strip reads high from %g V (%s). A shifter with TTL inputs reads high from %g V (%s)", c.Logic.Value, need.Value, need.From, what.Value, what.From),
			"one channel a line, fed with the strip's volts, close to the controller", weakest(need, what))
		if c.Logic.Value < what.Value {
			s.find(model.Outside, "light.shift.low", "controller", "the controller's level is too low even for the shifter", "", "another controller", what.Standing)
		}
	}
}
