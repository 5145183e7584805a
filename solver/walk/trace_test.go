package walk_test

import (
	"fmt"
	"math/rand/v2"
	"strings"

	"risewright/model"
	"risewright/solver/walk"
)

// trace is what a controller is given: tables, and inputs for so many ticks each.
type trace struct {
	tables *walk.Tables
	bytes  []byte
	steps  []traceStep
}

type traceStep struct {
	n        int
	in       uint16
	switches uint8
}

func (s traceStep) inputs() walk.Inputs {
	return walk.Inputs{Sensors: s.in, Button: s.switches&1 != 0, Daylight: s.switches&2 != 0, Lost: s.switches&4 != 0}
}

// drawTrace draws a stair, its sensors and what happens there: people who walk,
// turn and stop, sensors that stick, fall silent or are taken away, the button,
// daylight, lost inputs, and noise that means nothing.
func drawTrace(r *rand.Rand, mostBars, mostSensors int) trace {
	for {
		n := 2 + r.IntN(mostBars-1)
		zones := drawZones(r, n, mostSensors)
		c := model.FirstControl()
		c.TickMS = float64(10 + 10*r.IntN(5))
		c.AheadUp, c.AheadDown, c.Behind, c.EndFirst, c.FarEnd = r.IntN(5), r.IntN(5), r.IntN(4), r.IntN(6), r.IntN(4)
		c.Latency, c.Rise, c.Fall, c.Hold = r.Float64(), r.Float64(), 2*r.Float64(), 4*r.Float64()
		c.Fastest = 1 + 5*r.Float64()
		c.Runner = c.Fastest * (0.5 + 0.5*r.Float64())
		c.Hall, c.Daylight = r.IntN(2) == 0, r.IntN(2) == 0
		c.Most = 0.5 + 10*r.Float64()
		c.Dim = 0.005 + 0.05*r.Float64()
		var scenes []model.Scene
		for range r.IntN(7) {
			s := model.Scene{Kind: model.SceneKinds()[r.IntN(5)], Level: r.Float64(), Pattern: model.ScenePatterns()[r.IntN(4)], Channels: r.IntN(5), Period: float64(r.IntN(3)) * r.Float64()}
			for range r.IntN(4) {
				s.Colours = append(s.Colours, model.Colour{Red: r.IntN(256), Green: r.IntN(256), Blue: r.IntN(256), White: r.IntN(256)})
			}
			scenes = append(scenes, s)
		}
		t, err := walk.Make(zones, c, walk.Light{Bars: n, Scenes: scenes})
		if err != nil {
			continue // such as a dim level that the supply cannot carry
		}
		// Times that a short trace comes to the end of.
		t.Warm, t.Still, t.Stuck, t.AllOn = uint16(r.IntN(20)), uint16(10+r.IntN(100)), uint16(20+r.IntN(150)), uint16(5+r.IntN(60))
		if t.Revert > 0 {
			t.Revert = uint32(20 + r.IntN(300))
		}
		for i := range t.Sensors {
			t.Sensors[i].Quiet = uint16(2 + r.IntN(60))
		}
		return trace{t, t.Bytes(), drawSteps(r, t)}
	}
}

func drawZones(r *rand.Rand, n, most int) []walk.Zone {
	count := r.IntN(most + 1)
	zones := make([]walk.Zone, count)
	at := float64(r.IntN(3) - 1)
	span := float64(n+1) / float64(max(1, count))
	for i := range zones {
		first := int(at)
		last := int(at + span + float64(r.IntN(4)-1))
		at += span
		z := walk.Zone{First: max(0, first), Last: min(n, last), Hold: 0.3 + 3*r.Float64(), Block: 3 * r.Float64(), WarmUp: 1, Latency: r.Float64() / 2, Removed: r.IntN(6) == 0}
		z.MayFirst, z.MayLast = max(0, z.First-r.IntN(3)), min(n, z.Last+r.IntN(3))
		if r.IntN(10) == 0 {
			z.First, z.Last = 1, 0 // sees nobody for sure
		}
		zones[i] = z
	}
	return zones
}

// drawSteps walks one or two people past the sensors, with faults.
func drawSteps(r *rand.Rand, t *walk.Tables) []traceStep {
	var out []traceStep
	type body struct{ at, speed float64 }
	bodies := make([]body, 1+r.IntN(3))
	for i := range bodies {
		bodies[i] = body{float64(r.IntN(int(t.Bars)+3)) - 1, 0.3 * (r.Float64() - 0.5)}
	}
	var hold [walk.MaxSensors]int
	dead, stuck := uint16(0), uint16(0)
	switches := uint8(0)
	for range 20 + r.IntN(50) {
		s := traceStep{n: 1 + r.IntN(10)}
		if r.IntN(40) == 0 {
			s.n = 100 + r.IntN(200)
		}
		for i := range bodies {
			b := &bodies[i]
			b.at += b.speed * float64(s.n)
			if b.at < -2 || b.at > float64(t.Bars)+2 || r.IntN(12) == 0 {
				b.speed = 0.3 * (r.Float64() - 0.5)
			}
		}
		for k := range t.Sensors {
			row := &t.Sensors[k]
			hold[k] -= s.n
			for _, b := range bodies {
				if b.at >= float64(row.May[0]) && b.at <= float64(row.May[1]) && b.speed != 0 {
					hold[k] = 20
				}
			}
			if hold[k] > 0 {
				s.in |= 1 << row.Input
			}
		}
		switch r.IntN(12) {
		case 0:
			stuck ^= 1 << r.IntN(16)
		case 1:
			dead ^= 1 << r.IntN(16)
		case 2:
			s.in ^= uint16(r.Uint32())
		case 3:
			switches ^= 2
		case 4:
			if r.IntN(4) == 0 {
				s.switches = 4
			}
		}
		if r.IntN(9) == 0 {
			s.switches |= 1
		}
		s.switches |= switches
		s.in = (s.in | stuck) &^ dead
		out = append(out, s)
	}
	return out
}

// check runs a trace on the rules in Go and returns the line that host.c prints
// for H.
func (tr *trace) check() string {
	c := walk.NewCore(tr.tables)
	sum := uint32(2166136261)
	for _, s := range tr.steps {
		for range s.n {
			for _, b := range c.Step(s.inputs()) {
				for _, v := range [4]uint8{b.Colour.R, b.Colour.G, b.Colour.B, b.Colour.W} {
					sum = (sum ^ uint32(v)) * 16777619
				}
			}
		}
	}
	return fmt.Sprintf("%08x %04x %04x %04x %02x", sum, c.Masked(), c.Silent(), c.Conflicts(), c.Scene())
}

// lines runs a trace in Go and returns a line a tick as host.c prints for S.
func (tr *trace) lines() []string {
	var out []string
	c := walk.NewCore(tr.tables)
	for _, s := range tr.steps {
		for range s.n {
			var b strings.Builder
			for _, x := range c.Step(s.inputs()) {
				fmt.Fprintf(&b, "%02x%02x%02x%02x", x.Colour.R, x.Colour.G, x.Colour.B, x.Colour.W)
			}
			out = append(out, b.String())
		}
	}
	return out
}

// text returns a trace as host.c reads it; kind is S or Q.
func (tr *trace) text(kind byte) string {
	var b strings.Builder
	fmt.Fprintf(&b, "T %x\n", tr.bytes)
	for _, s := range tr.steps {
		fmt.Fprintf(&b, "%c %d %x %x\n", kind, s.n, s.in, s.switches)
	}
	return b.String()
}
