package power_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/bars"
	"risewright/solver/power"
)

// TestFeederDrops is dV = 2 L I R at 20 °C for the worked rows (derived from
// the published wire table), vector T04 among them, each as a box, a pair and
// one bar that draws the current.
func TestFeederDrops(t *testing.T) {
	tb := table(t)
	for _, c := range []struct {
		wire              string
		volts, amps, m, v float64
	}{
		{"awg18", 5, 3, 3, 0.3771}, {"awg14", 5, 3, 3, 0.1491}, {"awg18", 12, 3, 5, 0.6284}, {"awg20", 24, 2, 8, 1.0656},
		{"awg18", 24, 4.17, 8, 1.3977}, {"awg16", 24, 4, 10, 1.0541},
		// IEC 60228 class 5.
		{"mm0.5", 24, 3, 6, 1.404}, {"mm0.75", 24, 3, 6, 0.936}, {"mm1.0", 24, 3, 6, 0.702}, {"mm1.5", 24, 3, 6, 0.4788}, {"mm2.5", 24, 3, 6, 0.2873},
	} {
		w, _ := tb.Wire(c.wire)
		n := power.Network{Nodes: 2, Runs: []power.Run{{A: 0, B: 1, Ohm: 2 * w.OhmPerMetre(20) * c.m}},
			Sources: []power.Source{{Node: 0, Volts: c.volts}}, Loads: []power.Load{{Node: 1, Amps: c.amps, Full: 1, Dark: 0}}}
		near(t, fmt.Sprintf("%s, %g A, %g m", c.wire, c.amps, c.m), c.volts-n.Solve().Volts[1], c.v, 0.001*c.v)
	}
	// 18 AWG with the conductor at 60 °C: 24.24 ohm/km.
	w, _ := tb.Wire("awg18")
	near(t, "18 AWG at 60 °C", w.OhmPerMetre(60)*1000, 24.24, 0.01)
}

// TestRoutes measures cables by hand in a flight with its box at the left, in
// front of the first nose.
func TestRoutes(t *testing.T) {
	r := newRig(t, 4, 910)
	r.light.Box = model.Point{X: -100, Y: -470, Z: 300}
	r.light.Slack = 150
	in := r.bars()
	p := r.solve()
	way := in.Bars[0].Way.At
	near(t, "notch x", way[0], 0, 1e-6)
	near(t, "notch y", way[1], 30, 1e-6)
	near(t, "notch z", way[2], 170-6, 1e-6)
	find := func(kind power.CableKind, step int) power.Cable {
		for _, c := range p.Cables {
			if c.Kind == kind && c.Step == step {
				return c
			}
		}
		t.Fatalf("no %s to step %d", kind, step)
		return power.Cable{}
	}
	near(t, "feeder", find(power.Feeder, 1).Length, 100+500+136+150, 1e-6)
	near(t, "bus", find(power.BusRun, 3).Length, math.Hypot(254, 190)+150, 1e-6)
	// The bar's end is 15 in from the side, 20 in front of the riser and 6 above.
	near(t, "lead", find(power.Lead, 2).Length, math.Sqrt(15*15+20*20+6*6)+150, 1e-6)
	// What flows in a bus run is what hangs beyond it: 2 of 4 bars past tap 3.
	r.light.Scenes = []model.Scene{{Name: "all", Level: 0.1}}
	p = r.solve()
	each := 52 * (0.001 + 0.1*(0.08-0.001))
	near(t, "feeder current", find(power.Feeder, 1).Amps, 4*each, 1e-8)
	near(t, "bus current", find(power.BusRun, 3).Amps, 2*each, 1e-8)
	near(t, "lead current", find(power.Lead, 3).Amps, each, 1e-8)
	c := find(power.Feeder, 1)
	near(t, "drop", c.Drop, c.Amps*c.Ohm, 1e-12)
	near(t, "heat", c.Watts, c.Amps*c.Amps*c.Ohm, 1e-9)
	// A far feed adds the bar's length, a middle one half of it.
	lead := find(power.Lead, 2).Length
	r.light.Feed = model.FeedMiddle
	p = r.solve()
	near(t, "lead to the middle", find(power.Lead, 2).Length, lead+440, 1e-6)
	r.light.Feed = model.FeedBoth
	p = r.solve()
	n := 0
	for _, c := range p.Cables {
		if c.Kind == power.Lead && c.Step == 2 {
			n++
			if c.To == "B02 far end" {
				near(t, "lead to the far end", c.Length, lead+880, 1e-6)
			}
		}
	}
	if n != 2 {
		t.Errorf("a bar fed at both ends has %d leads", n)
	}
	rule(t, p.Findings, "light.ring")
	without(t, p.Findings, "light.loop")
	// Home runs: one from the box to each.
	r.light.Feed, r.light.Trunk = model.FeedOne, model.HomeRuns
	p = r.solve()
	near(t, "home run", find(power.HomeRun, 3).Length, 736+2*math.Hypot(254, 190)+150, 1e-6)
	near(t, "home run current", find(power.HomeRun, 3).Amps, each, 1e-8)
}

// TestWaysBend: cables follow the bends of the cavity, up as well as down.
func TestWaysBend(t *testing.T) {
	r := newRig(t, 5, 910)
	r.light.Slack = 100
	in := r.bars()
	at := func(i int) mgl64.Vec3 { return in.Bars[i].Way.At }
	bend := at(2).Add(mgl64.Vec3{-300, 0, 50}) // beside the third step
	in.Bars[2].Climb = []mgl64.Vec3{bend}
	r.light.Links = []model.Link{{From: r.id(1), To: r.id(5)}, {From: r.id(5), To: r.id(1)}}
	p := power.Solve(r.job, r.light, r.table, &in)
	step := math.Hypot(254, 190)
	bent := bend.Sub(at(2)).Len() + at(3).Sub(bend).Len()
	seen := 0
	for _, c := range p.Cables {
		want := step
		switch {
		case c.Kind == power.LinkRun:
			want = 3*step + bent
			seen++
		case c.Kind != power.BusRun:
			continue
		case c.Step == 4:
			want = bent
			seen++
		}
		near(t, c.Name(), c.Length, want+100, 1e-6)
		if end := at(c.Step - 1); c.Path[len(c.Path)-1] != end {
			t.Errorf("%s ends at %v, not at the tap %v", c.Name(), c.Path[len(c.Path)-1], end)
		}
	}
	if seen != 3 {
		t.Errorf("%d of 3 cables pass the bend", seen)
	}
}

// TestStripAlone: a bar on a bus of no resistance drops what the closed form
// says: its first and last half pitch belong to it, so one end fed loses
// I r p N / 2 at the last of N pixels.
func TestStripAlone(t *testing.T) {
	r := newRig(t, 1, 930)
	for i := range r.table.Wires {
		r.table.Wires[i].OhmPerKM.Value = 0
	}
	r.light.Scenes = []model.Scene{{Name: "white", Level: 1}}
	drop := func(feed model.FeedEnds) float64 {
		r.light.Feed = feed
		p := r.solve()
		return p.Scenes[0].Drop
	}
	const n, i = 54, 0.08
	seg := 0.15 / 60
	near(t, "one end", drop(model.FeedOne), i*seg*n*n/2, 1e-9)
	// By hand: 27 pixels each way, the k-th from the end k-½ segments on; the
	// current left after each falls by one.
	near(t, "both ends", drop(model.FeedBoth), i*seg*27*27/2, 1e-9)
	// 26 pixels on one side and 27 on the other of pixel 27.
	near(t, "middle", drop(model.FeedMiddle), i*seg*27*28/2, 1e-9)
}

// TestSickWiring is what must be said clearly and never panic: runs of no
// length, no supply, a bar longer than its strip, negative clearances, a loop.
func TestSickWiring(t *testing.T) {
	for _, c := range []struct {
		name, rule string
		set        func(*rig)
		says       string
	}{
		{"a run of no length", "light.run.zero", func(r *rig) {
			r.light.Slack = 0
			in := r.bars()
			at := in.Bars[0].Way.At
			r.light.Box = model.Point{X: model.Length(at[0]), Y: model.Length(at[1]), Z: model.Length(at[2])}
		}, "box to tap 1"},
		{"no supply", "light.no_supply", func(r *rig) { r.light.Supply = "" }, "B01–B06"},
		{"no supply chosen", "light.supply.none", func(r *rig) { r.light.Supply = "" }, "no supply"},
		{"no wire", "light.wire.none", func(r *rig) { r.light.Wires.Lead = "" }, "lead"},
		{"no bus", "light.no_supply", func(r *rig) { r.light.Wires.Bus = "gold" }, "B02–B06"},
		{"a loop", "light.loop", func(r *rig) { r.light.Links = []model.Link{{From: r.id(2), To: r.id(4)}} }, "tap 2 to tap 4"},
		{"a link to itself", "light.run.self", func(r *rig) { r.light.Links = []model.Link{{From: r.id(2), To: r.id(2)}} }, "tap 2"},
		{"a link to nowhere", "light.link", func(r *rig) { r.light.Links = []model.Link{{From: r.id(2)}} }, "not there"},
		{"a loop of data", "light.data.loop", func(r *rig) { r.light.Order = []model.ID{r.id(1), r.id(2), r.id(1)} }, "B01"},
		{"data left out", "light.data.missing", func(r *rig) { r.light.Order = []model.ID{r.id(1), r.id(2)} }, "B03–B06"},
		{"the wrong voltage", "light.supply.volts", func(r *rig) { r.light.Supply = "12v-5a" }, "12 V"},
		{"negative slack", "light.negative", func(r *rig) { r.light.Slack = -5 }, "slack"},
		{"negative supplies", "light.supply.count", func(r *rig) { r.light.Supplies = -2 }, ""},
		{"a feed point nowhere", "light.enter", func(r *rig) { r.light.Enters = []model.ID{{}} }, ""},
		{"a thin bus behind a thick feeder", "light.fuse.bus", func(r *rig) {
			r.light.Scenes = []model.Scene{{Name: "x", Level: 0.5}}
			r.light.Wires.Bus = "mm0.75"
		}, "20 A"},
		{"a wire too thin for its fuse", "light.fuse.wire", func(r *rig) {
			r.light.Scenes = []model.Scene{{Name: "x", Level: 0.6}}
			r.light.Wires.Lead = "mm0.25"
		}, "0.25 mm²"},
		{"a hot wire", "light.hot", func(r *rig) {
			r.light.Scenes = []model.Scene{{Name: "x", Level: 1}}
			r.light.Wires.Lead = "mm0.25"
		}, "runs hot"},
		{"pixels that starve", "light.dim", func(r *rig) {
			r.light.Scenes = []model.Scene{{Name: "x", Level: 1}}
			r.light.Wires = model.WirePick{Feeder: "mm0.25", Bus: "mm0.25", Lead: "mm0.25"}
		}, "volts they need"},
		{"too many volts lost", "light.drop", func(r *rig) {
			r.light.Scenes = []model.Scene{{Name: "x", Level: 0.6}}
		}, "too many volts"},
		{"colour", "light.colour", func(r *rig) {
			r.light.Scenes = []model.Scene{{Name: "x", Level: 0.4}}
			r.light.Wires = model.WirePick{Feeder: "mm1.0", Bus: "mm1.0", Lead: "mm0.5"}
		}, "shifts towards red"},
		{"a serpentine", "light.serpentine", func(r *rig) { r.light.Data = model.DataSerpentine }, "both sides"},
		{"a long feeder", "light.feeder", func(r *rig) { r.light.Box.Y = -5000 }, "loses"},
		{"a long jump", "light.jump", func(r *rig) { r.light.Box.Y = -5000 }, "box"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := newRig(t, 6, 910)
			r.light.Data = model.DataLines
			r.light.Box.Y = -100
			if c.rule != "light.jump" {
				without(t, r.solve().Findings, c.rule)
			}
			c.set(r)
			f := rule(t, r.solve().Findings, c.rule)
			says(t, f.Title, c.says)
			if f.Severity == model.Block {
				t.Error("lighting stops no cut")
			}
		})
	}
	// Negative clearances and a bar longer than its strip are the bars' own
	// findings; the wiring stands with them.
	r := newRig(t, 6, 910)
	r.light.EndClearance, r.light.Setback = -30, -5
	r.light.Bars = []model.BarOwn{{Step: r.id(3), Length: 905, Pixels: 30}, {Step: r.id(4), Pixels: -2}}
	in := r.bars()
	rule(t, in.Findings, "light.negative")
	rule(t, in.Findings, "light.strip_short")
	if p := r.solve(); len(p.Bars) != 6 || p.Worst < 0 {
		t.Errorf("%d bars, worst %d", len(p.Bars), p.Worst)
	}
	// Nothing at all.
	if p := power.Solve(r.job, model.Lighting{}, r.table, &in); len(p.Bars)+len(p.Findings) > 0 {
		t.Error("lighting that is off has findings")
	}
	power.Solve(r.job, r.light, model.LightTables{}, &bars.Result{})
	power.Solve(r.job, r.light, r.table, nil)
	power.Solve(model.Job{}, r.light, r.table, &in)
}

// FuzzSettings drives every number of the lighting to odd values.
func FuzzSettings(f *testing.F) {
	f.Add(15.0, 5.0, 0.3, 40.0, 30.0, 2, 3)
	f.Add(-1e9, math.Inf(1), math.NaN(), 0.0, -300.0, -1, 1<<30)
	f.Add(1e300, 1e-300, -1.0, 1e-9, 1e9, 100, 2)
	f.Fuzz(func(t *testing.T, clearance, box, level, rate, warmth float64, supplies, pixels int) {
		r := newRig(t, 3, 910)
		l := &r.light
		l.EndClearance, l.Box.Y, l.FrameRate, l.Warmth, l.Supplies = model.Length(clearance), model.Length(box), rate, warmth, supplies
		l.Scenes = []model.Scene{{Name: "x", Level: level, Bars: supplies, Hours: level}}
		l.Bars = []model.BarOwn{{Step: r.id(2), Pixels: pixels}}
		l.Validate()
		if pixels > 4*model.MaxPixels {
			l.Bars = nil // Validate refuses it
		}
		r.solve()
	})
}

// TestDrops: the same copper in a better place. And feeds at both ends of a bar
// never lose more than one end.
func TestFeedsHelp(t *testing.T) {
	r := newRig(t, 8, 910)
	r.light.Scenes = []model.Scene{{Name: "x", Level: 0.3}}
	drop := func(feed model.FeedEnds, enters ...model.ID) float64 {
		r.light.Feed, r.light.Enters = feed, enters
		p := r.solve()
		return p.Scenes[p.Worst].Drop
	}
	one, both := drop(model.FeedOne), drop(model.FeedBoth)
	if !(both < one) {
		t.Errorf("both ends lose %g V, one end %g", both, one)
	}
	if two := drop(model.FeedOne, r.id(1), r.id(8)); !(two < one) {
		t.Errorf("two feed points lose %g V, one %g", two, one)
	}
}

// TestData measures jumps by hand: slack 0, notches 317.2 apart, each 25.7 from
// its bar's end; bars of 880.
func TestData(t *testing.T) {
	r := newRig(t, 4, 910)
	r.light.Slack = 0
	r.light.Box = model.Point{X: 0, Y: 30, Z: 64}
	lead, step := math.Sqrt(15*15+20*20+6*6), math.Hypot(254, 190)
	p := r.solve()
	d := p.Data
	near(t, "first", d.Bars[0].Jump, 100+lead, 1e-6)
	near(t, "back along the bar", d.Bars[1].Jump, 880+2*lead+step, 1e-6)
	if !d.Bars[1].InLeft || !d.Bars[1].OutLeft || d.Bars[1].Arrow() != "left to right" || d.At != 1 {
		t.Errorf("with a return wire: %+v", d.Bars[1])
	}
	r.light.Data = model.DataSerpentine
	d = r.solve().Data
	near(t, "far side", d.Bars[1].Jump, step, 1e-6)
	near(t, "cavity side", d.Bars[2].Jump, 2*lead+step, 1e-6)
	if d.Bars[1].InLeft || !d.Bars[1].OutLeft || !d.Bars[2].InLeft {
		t.Errorf("serpentine: %+v", d.Bars)
	}
	r.light.Data = model.DataLines
	d = r.solve().Data
	near(t, "line to bar 3", d.Bars[2].Jump, 100+2*step+lead, 1e-6)
	if d.Lines != 4 {
		t.Errorf("%d lines", d.Lines)
	}
	// The chain begins at the end nearer to the box.
	r.light.Data, r.light.Box = model.DataReturn, model.Point{X: 0, Y: 1500, Z: 760}
	if d = r.solve().Data; d.Bars[0].Step != 4 || d.Bars[3].Step != 1 || d.Bars[0].From != "box" {
		t.Errorf("box at the top: %+v", d.Bars)
	}
	if d.Resistor.Value != 470 || d.Capacitor.Value != 1000 {
		t.Errorf("resistor %g, capacitor %g", d.Resistor.Value, d.Capacitor.Value)
	}
}

// TestMirror: a cavity at the right in the mirrored flight changes no volts.
func TestMirror(t *testing.T) {
	r := newRig(t, 5, 910)
	a := r.solve()
	r.light.Cavity = model.CavityRight
	r.light.Box.X = 910 - r.light.Box.X
	b := r.solve()
	for i := range a.Bars {
		va, vb := a.Bars[i].Volts, b.Bars[i].Volts
		for k := range va {
			near(t, "volts", vb[len(vb)-1-k], va[k], 1e-9)
		}
	}
	if !b.Data.Bars[0].InLeft == a.Data.Bars[0].InLeft {
		return
	}
	t.Error("data enters at the same side")
}

// TestSchedule: every row has as many cells as its head, and says what the
// result says.
func TestSchedule(t *testing.T) {
	r := newRig(t, 5, 910)
	r.light.Bars = []model.BarOwn{{Step: r.id(2), Length: 10}}
	in := r.bars()
	p := power.Solve(r.job, r.light, r.table, &in)
	tables := p.Schedule(&in, r.job.Format())
	if len(tables) != 4 {
		t.Fatalf("%d tables", len(tables))
	}
	for _, tb := range tables {
		if len(tb.Rows) == 0 {
			t.Errorf("%s is empty", tb.Title)
		}
		for _, row := range tb.Rows {
			if len(row) != len(tb.Head) {
				t.Errorf("%s: %d cells under %d heads", tb.Title, len(row), len(tb.Head))
			}
		}
	}
	row := tables[0].Rows[2]
	if row[0] != "B03" || row[1] != "tread 2" || row[3] != "52" || row[8] != "left, from B01" && row[8] != "left, from B02" {
		t.Errorf("row %q", row)
	}
	labels := p.Labels(&in, r.job.Format())
	if want := 4 + 2*len(p.Cables); len(labels) != want {
		t.Errorf("%d labels, want %d", len(labels), want)
	}
	says(t, labels[0].Lines[0], "B01", "bottom floor")
	if len(p.Commissioning()) < 8 || len(power.Cautions()) < 8 {
		t.Error("lists cut short")
	}
	if p.Schedule(nil, r.job.Format()) != nil || p.Labels(&bars.Result{}, r.job.Format()) != nil {
		t.Error("rows of other bars")
	}
}

// BenchmarkMoveBox moves the box along the hall of a 14-step job and solves
// again: bars, wiring, volts of every scene, supply, data and controllers. One
// 60 Hz frame is 16.7 ms.
func BenchmarkMoveBox(b *testing.B) {
	for _, n := range []int{7, 14, 28, 56} {
		r := newRig(b, n, 910)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			y := 0.0
			for b.Loop() {
				y -= 10
				r.light.Box.Y = model.Length(math.Mod(y, 4000))
				r.solve()
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n*52), "µs/pixel")
		})
	}
}

// BenchmarkDensity solves the 14-step job with more and more pixels on its bars.
func BenchmarkDensity(b *testing.B) {
	for _, ppm := range []float64{30, 60, 120, 240, 480} {
		r := newRig(b, 14, 910)
		s, _ := r.table.Strip("rgbw-5v-60")
		s.PixelsPerMetre.Value = ppm
		s.ChannelMA.Value *= 60 / ppm // the same watts a metre
		s.IdleMA.Value *= 60 / ppm
		r.light.Own.Strips = []model.StripType{s}
		in := r.bars()
		b.Run(fmt.Sprint(in.Pixels()), func(b *testing.B) {
			for b.Loop() {
				r.solve()
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(in.Pixels()), "µs/pixel")
		})
	}
}

// TestEveryBarIsLit: a scene of a few bars walks along the flight, so every lead
// and its fuse carries its bar lit.
func TestEveryBarIsLit(t *testing.T) {
	for _, c := range []struct{ n, lit int }{{14, 5}, {14, 1}, {14, 13}, {2, 1}, {26, 3}, {9, 4}} {
		r := newRig(t, c.n, 910)
		r.light.Scenes = []model.Scene{{Name: "x", Level: 0.3, Bars: c.lit}}
		p := r.solve()
		each := 52 * (0.001 + 0.3*0.079)
		for _, b := range p.Bars {
			near(t, fmt.Sprintf("%d of %d lit: lead of bar %d", c.lit, c.n, b.Step), p.Cables[b.Leads[0]].Amps, each, 1e-6)
			if p.Cables[b.Leads[0]].Fuse != 2 {
				t.Errorf("bar %d has a fuse of %g A", b.Step, p.Cables[b.Leads[0]].Fuse)
			}
		}
		near(t, "load", p.Scenes[0].Amps, float64(c.lit)*each+float64(c.n-c.lit)*0.052, 1e-9)
	}
}
