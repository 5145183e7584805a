package power_test

import (
	"math"
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver/power"
)

// tenBars is the job that issue 4 asks to be shown: ten bars of 54 four-channel
// pixels at 20 mA a channel on a 5 V 40 A supply, with the 8-bit controller.
func tenBars(t testing.TB) *rig {
	r := newRig(t, 10, 930)
	r.light.Strip, r.light.Supply, r.light.Controller = "rgbw-5v-60", "5v-40a", "8bit-2k"
	return r
}

// TestTenBarsOnFortyAmps says by how much full white exceeds the supply, the
// cap that fits with the margin, and that the buffer does not fit, with the two
// ways out. By hand: 540 × 4 × 20 mA = 43.2 A, 3.2 A over; idle 540 × 1 mA =
// 0.54 A; 80 % of 40 A is 32 A; (32 - 0.54) / (43.2 - 0.54) = 73.75 %.
func TestTenBarsOnFortyAmps(t *testing.T) {
	r := tenBars(t)
	in := r.bars()
	if len(in.Bars) != 10 || in.Pixels() != 540 || in.Bars[4].Pixels != 54 {
		t.Fatalf("%d bars, %d pixels", len(in.Bars), in.Pixels())
	}
	p := r.solve()
	l := p.Load
	near(t, "full white", l.Full, 43.2, 1e-9)
	near(t, "over", l.Over, 3.2, 1e-9)
	near(t, "usable", l.Usable, 32, 1e-9)
	near(t, "cap", l.Cap, (32-0.54)/(43.2-0.54), 1e-12)
	// The cap does what it says.
	near(t, "load at the cap", l.Idle+l.Cap*(l.Full-l.Idle), 32, 1e-9)
	if l.Needed != 2 {
		t.Errorf("%d supplies needed for full white, want 2", l.Needed)
	}
	f := rule(t, p.Findings, "light.supply.over")
	says(t, f.Title, "exceeds the supply by 3.2 A")
	says(t, f.Detail, "540 pixels × 4 channels × 20 mA = 43.2 A", "40 A", "32 A", "73.7 %")
	if f.Severity != model.Outside {
		t.Errorf("severity %v", f.Severity)
	}

	m := rule(t, p.Findings, "light.budget.memory")
	says(t, m.Title, "2,160 buffer bytes do not fit in 2,048")
	says(t, m.Detail, "breaks first")
	says(t, m.Remedy, "two ways out", "one colour on every pixel of a bar", "256 bytes", "one bar after another", "216 bytes", "32-bit")
	if len(p.Budgets) != len(r.table.Controllers) {
		t.Errorf("%d budgets of %d classes", len(p.Budgets), len(r.table.Controllers))
	}
	for _, b := range p.Budgets[1:] {
		if b.Class.Memory.Value > 1e5 && !b.Fits {
			t.Errorf("%s does not hold the bars: %+v", b.Class.Title, b.Limits)
		}
	}

	// Each way out fits.
	r.light.OneColour = true
	without(t, r.solve().Findings, "light.budget.memory")
	r.light.OneColour, r.light.BarAtATime = false, true
	without(t, r.solve().Findings, "light.budget.memory")
	r.light.BarAtATime = false

	// With the cap in the firmware it is worth a note, no more.
	r.light.Cap = math.Floor(1000*l.Cap) / 1000
	p = r.solve()
	if f := rule(t, p.Findings, "light.supply.over"); f.Severity != model.Note {
		t.Errorf("capped, but severity %v", f.Severity)
	}
	for _, s := range p.Scenes {
		if s.Amps > l.Usable {
			t.Errorf("scene %s takes %g A with the cap", s.Scene.Name, s.Amps)
		}
	}
	r.light.Cap = l.Cap + 0.01
	if f := rule(t, r.solve().Findings, "light.supply.over"); f.Severity != model.Outside {
		t.Error("a cap that is too high is taken as enough")
	}
}

// TestLooksLargeEnough: nine bars take 38.88 A of 40, but long loads may have 32.
func TestLooksLargeEnough(t *testing.T) {
	r := newRig(t, 9, 930)
	r.light.Strip, r.light.Supply = "rgbw-5v-60", "5v-40a"
	p := r.solve()
	f := rule(t, p.Findings, "light.supply.margin")
	says(t, f.Title, "only looks large enough")
	says(t, f.Detail, "486 pixels × 4 channels × 20 mA = 38.88 A", "1.12 A more", "32 A", "6.88 A too little")
	without(t, p.Findings, "light.supply.over")
	// Seven bars: 30.24 A, within 32.
	r = newRig(t, 7, 930)
	p = r.solve()
	without(t, p.Findings, "light.supply.margin")
	without(t, p.Findings, "light.supply.over")
	near(t, "cap", p.Load.Cap, 1, 0)
}

// TestScenes holds the scenes against the trade's figures: five bars at 30 %
// and all at 10 %, full white 60 mA an LED (common practice, no source: 4.7 A
// and 4.4 A for 14 bars of 52, of 3.1 A each).
func TestScenes(t *testing.T) {
	r := newRig(t, 14, 910)
	s, _ := r.table.Strip("rgb-5v-60")
	s.IdleMA = model.Rated{}
	r.light.Own.Strips = []model.StripType{s}
	r.light.Strip = s.ID
	p := r.solve()
	want := map[string]float64{"walk-through": 5 * 52 * 0.06 * 0.3, "steady": 14 * 52 * 0.06 * 0.1, "full white": 14 * 52 * 0.06}
	for _, sc := range p.Scenes {
		if w, ok := want[sc.Scene.Name]; ok {
			near(t, sc.Scene.Name, sc.Amps, w, 1e-9)
			delete(want, sc.Scene.Name)
		}
	}
	near(t, "bar", p.Load.FullAll/14, 3.12, 1e-9)
	near(t, "five bars at 30 %", p.Scenes[0].Amps, 4.7, 0.05)
	near(t, "all at 10 %", p.Scenes[1].Amps, 4.4, 0.05)
	if len(want) > 0 {
		t.Errorf("scenes missing: %v", want)
	}
	// Idle: 1 mA an LED, 5 V, 728 LEDs is 3.6 W (trade: 3.4), for ever.
	r.light.Own.Strips = nil
	p = r.solve()
	near(t, "idle watts at the bars", p.Load.IdleAll*5, 3.64, 1e-9)
	near(t, "kWh a year", p.Load.IdleKWh, (3.64/0.85+0.5)*8.76, 1e-9)
	says(t, rule(t, p.Findings, "light.idle").Title, "kWh a year")
	if p.Load.YearlyKWh <= p.Load.IdleKWh {
		t.Error("the scenes take nothing")
	}
}

// TestSeveralSupplies: neighbours share one; each has its own bars and no wire
// joins them.
func TestSeveralSupplies(t *testing.T) {
	r := tenBars(t)
	r.light.Supplies = 2
	p := r.solve()
	near(t, "the busier one", p.Load.Full, 21.6, 1e-9)
	for _, b := range p.Bars {
		if want := (b.Step - 1) / 5; b.Supply != want {
			t.Errorf("bar %d hangs on supply %d, want %d", b.Step, b.Supply, want)
		}
	}
	for _, c := range p.Cables {
		if c.Kind == power.BusRun && c.Step == 6 {
			t.Error("the bus joins the two groups")
		}
	}
	without(t, p.Findings, "light.supply.over")
	without(t, p.Findings, "light.joined")
	r.light.Links = []model.Link{{From: r.id(5), To: r.id(6)}}
	rule(t, r.solve().Findings, "light.joined")
}

// TestLimitedSources: NEC Ch. 9 Table 11(B) from memory, 5 A up to 20 V and
// 100 VA up to 30 V; UL 1310 60 V ceiling; all as advice.
func TestLimitedSources(t *testing.T) {
	r := tenBars(t)
	p := r.solve()
	f := rule(t, p.Findings, "light.limited.class2-20")
	says(t, f.Title, "more than Class 2")
	says(t, f.Detail, "40 A against 5 A")
	if f.Severity != model.Advice || f.Standing != model.Memory {
		t.Errorf("severity %v, standing %q: a value from memory is advice", f.Severity, f.Standing)
	}
	says(t, rule(t, p.Findings, "light.limited.ps2").Detail, "200 VA against 100 VA")
	says(t, rule(t, p.Findings, "light.limited.selv").Title, "within SELV")
	r.light.Strip, r.light.Supply = "white-24v", "24v-4a"
	p = r.solve()
	f = rule(t, p.Findings, "light.limited.class2-30")
	if f.Severity != model.Note {
		t.Errorf("24 V 4 A: %+v", f)
	}
	without(t, p.Findings, "light.limited.class2-20")
}

// TestFrames: FastLED's wiki gives 100 RGB pixels as 3000 + 280 µs, vector T08;
// T09 is 300 RGBW pixels in 1200 bytes; further derived rows at 80 µs.
func TestFrames(t *testing.T) {
	rgb := model.StripType{Channels: 3, BitUS: model.Rated{Value: 1.25}, LatchUS: model.Rated{Value: 280}}
	near(t, "T08", power.FrameUS(rgb, 100), 3280, 3280e-9)
	rgbw := model.StripType{Channels: 4, BitUS: model.Rated{Value: 1.25}, LatchUS: model.Rated{Value: 80}}
	if got := power.BufferBytes(rgbw, 300); got != 1200 {
		t.Errorf("T09: %d bytes", got)
	}
	for pixels, us := range map[int]float64{60: 2480, 150: 6080, 300: 12080, 500: 20080, 1000: 40080} {
		near(t, "frame", power.FrameUS(rgbw, pixels), us, 1e-9)
	}
	// 2048 bytes with 512 kept hold 512 RGB or 384 RGBW pixels (derived).
	if power.BufferBytes(rgb, 512) != 2048-512 || power.BufferBytes(rgbw, 384) != 2048-512 {
		t.Error("pixels that fill a small memory")
	}
}

// TestBudget breaks each limit of a controller in turn.
func TestBudget(t *testing.T) {
	for _, c := range []struct {
		name, rule string
		set        func(*rig)
	}{
		{"frame rate", "light.budget.frame", func(r *rig) { r.light.FrameRate = 80 }},
		{"sensors", "light.budget.sensors", func(r *rig) { r.light.SampleMS = 10 }},
		{"pins", "light.budget.pins", func(r *rig) { r.light.Sensors = 20 }},
		{"one output", "light.budget.pin_current", func(r *rig) {
			r.light.Own.Practice = []model.PracticeValue{{ID: "resistor", Title: "x", Value: model.Rated{Value: 33, Standing: model.Yours}}}
		}},
		{"all outputs", "light.budget.all_current", func(r *rig) {
			r.light.Data = model.DataLines
			k, _ := r.table.Controller("8bit-2k")
			k.AllMA.Value = 50
			r.light.Own.Controllers = []model.ControllerClass{k}
		}},
		{"level", "light.shift", func(r *rig) { r.light.Controller = "32bit-radio" }},
		{"none", "light.controller.none", func(r *rig) { r.light.Controller = "" }},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := newRig(t, 6, 930) // 324 pixels: 1,296 bytes, 13.3 ms
			r.light.Controller = "8bit-2k"
			p := r.solve()
			without(t, p.Findings, c.rule)
			c.set(r)
			p = r.solve()
			f := rule(t, p.Findings, c.rule)
			if f.Detail == "" {
				t.Errorf("no arithmetic in %+v", f)
			}
		})
	}
	r := newRig(t, 6, 930)
	r.light.Controller = "8bit-2k"
	p := r.solve()
	says(t, rule(t, p.Findings, "light.budget").Title, "memory would break first")
	// Bars in turn: one bar's buffer, each with its own latch.
	for _, m := range p.Budgets[0].Modes {
		if m.Name == power.ModeInTurn {
			near(t, "in turn", m.FrameUS, 6*(54*32*1.25+300), 1e-9)
			if m.Bytes != 216 || m.Lines != 6 {
				t.Errorf("in turn: %+v", m)
			}
		}
	}
	// A line per bar on a class that sends eight at once takes one bar's time.
	r.light.Data, r.light.Controller = model.DataLines, "32bit-264k"
	near(t, "eight at once", r.solve().Budgets[0].Modes[0].FrameUS, 54*32*1.25+300, 1e-9)
	// The 12 V part has inner 5 V logic: 3.5 V is high, and 3.3 V is not.
	r.light.Strip = "rgb-12v-60"
	if p := r.solve(); !p.Data.Shift {
		t.Error("3.3 V into a strip that reads high from 3.5 V needs a shifter")
	}
	r.light.Controller = "8bit-2k"
	if p := r.solve(); p.Data.Shift {
		t.Error("5 V into a strip that reads high from 3.5 V needs none")
	}
}

// TestPinsFollowThePlacedSensors counts what is placed on the stair and not the
// number that a job without sensors keeps: 7 placed, one of them taken away but
// still wired, are 7 pins beside the field's 4.
func TestPinsFollowThePlacedSensors(t *testing.T) {
	pins := func(r *rig) power.Limit {
		for _, l := range r.solve().Budgets[0].Limits {
			if l.Name == "pins" {
				return l
			}
		}
		t.Fatal("no limit for pins")
		return power.Limit{}
	}
	r := newRig(t, 6, 930)
	r.light.Controller, r.light.Sensors = "8bit-2k", 4
	kept := pins(r)
	says(t, kept.Words, "1 data, 4 sensors and 1 for switching")
	r.job.Sensing.Sensors = make([]model.Sensor, 7)
	r.job.Sensing.Sensors[3].Removed = true
	placed := pins(r)
	says(t, placed.Words, "1 data, 7 sensors and 1 for switching")
	near(t, "more pins", placed.Used-kept.Used, 3, 0)

	// They can be what breaks, and the ways out count them too.
	r.job.Sensing.Sensors = make([]model.Sensor, 20)
	rule(t, r.solve().Findings, "light.budget.pins")
	r = tenBars(t)
	lines := "more than its"
	if f := rule(t, r.solve().Findings, "light.budget.memory"); strings.Contains(f.Remedy, lines) {
		t.Fatalf("too many pins before any sensor: %s", f.Remedy)
	}
	r.job.Sensing.Sensors = make([]model.Sensor, 16)
	says(t, rule(t, r.solve().Findings, "light.budget.memory").Remedy, lines)
}
