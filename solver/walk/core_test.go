package walk_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"risewright/model"
	"risewright/solver/walk"
)

// evenZones are five healthy sensors over a flight of 14 risers: every position
// is seen, neighbours share one, and the ends look at the floors.
func evenZones() []walk.Zone {
	z := func(name string, first, last int) walk.Zone {
		return walk.Zone{Name: name, First: first, Last: last, MayFirst: max(0, first-1), MayLast: min(14, last+1), Hold: 2, Block: 2, WarmUp: 30, Latency: 0.3}
	}
	return []walk.Zone{z("bottom", 0, 2), z("rail 1", 2, 5), z("rail 2", 5, 8), z("rail 3", 8, 11), z("top", 11, 14)}
}

func firstScenes() []model.Scene {
	return []model.Scene{
		{Name: "walk-through", Kind: model.WalkThrough, Level: 0.3, Bars: 5},
		{Name: "steady", Kind: model.Steady, Level: 0.1},
		{Name: "night", Kind: model.NightLight, Level: 0.02, Colours: []model.Colour{{Red: 255, Green: 90}}},
		{Name: "seasonal", Kind: model.Seasonal, Level: 0.1, Colours: []model.Colour{{Red: 255}, {Green: 255}}, Pattern: model.Alternate, Period: 4},
		{Name: "full white", Kind: model.Steady, Level: 1, Shown: true},
	}
}

func evenTables(t testing.TB, change func(*model.Control, []walk.Zone)) *walk.Tables {
	t.Helper()
	zones, c := evenZones(), model.FirstControl()
	if change != nil {
		change(&c, zones)
	}
	tables, err := walk.Make(zones, c, walk.Light{Bars: 14, Scenes: firstScenes()})
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

// TestTablesAsBytes: what is written is read again, and a bit that is spoilt is
// found.
func TestTablesAsBytes(t *testing.T) {
	tables := evenTables(t, func(c *model.Control, z []walk.Zone) { c.Hall, z[2].Removed = true, true })
	b := tables.Bytes()
	back, err := walk.Read(b)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(tables, back); d != "" {
		t.Error(d)
	}
	if len(tables.Sensors) != 4 || tables.Sensors[2].Input != 3 {
		t.Errorf("a sensor taken away keeps no row, and the others their inputs: %+v", tables.Sensors)
	}
	for i := range b {
		for bit := i % 5; bit < 8; bit += 5 {
			b[i] ^= 1 << bit
			if _, err := walk.Read(b); err == nil {
				t.Fatalf("byte %d with bit %d turned is taken", i, bit)
			}
			b[i] ^= 1 << bit
		}
	}
	for n := range b {
		if _, err := walk.Read(b[:n]); err == nil {
			t.Fatalf("the first %d bytes are taken", n)
		}
	}
}

// bench drives a core by seconds.
type bench struct {
	t    *testing.T
	tab  *walk.Tables
	c    *walk.Core
	bars []walk.Bar
}

func newBench(t *testing.T, change func(*model.Control, []walk.Zone)) *bench {
	tab := evenTables(t, change)
	b := &bench{t: t, tab: tab, c: walk.NewCore(tab)}
	b.run(30, 0) // warming up
	b.run(120, 0)
	return b
}

func (b *bench) run(s float64, inputs uint16) {
	for range int(s * 1000 / float64(b.tab.TickMS)) {
		b.bars = b.c.Step(walk.Inputs{Sensors: inputs})
	}
}

// look returns a letter for every bar: '.' dark, 'd' dim, 'F' brighter.
func (b *bench) look() string {
	out := make([]byte, len(b.bars))
	for i, x := range b.bars {
		switch {
		case x.Index < b.tab.Dim:
			out[i] = '.'
		case x.Index == b.tab.Dim:
			out[i] = 'd'
		default:
			out[i] = 'F'
		}
	}
	return string(out)
}

func (b *bench) want(what, look string) {
	b.t.Helper()
	if got := b.look(); got != look {
		b.t.Errorf("%s: bars %s, want %s", what, got, look)
	}
}

// TestWindows walks up by hand and looks at what is lit; the windows are the
// trade's: two ahead going up, three going down, one behind, the first four of
// an end and its far end dimly.
func TestWindows(t *testing.T) {
	b := newBench(t, nil)
	b.want("nobody", "..............")
	b.run(1, 1) // bottom
	b.want("at the bottom", "FFFFddd.....dd")
	b.run(1, 3)
	// Rail 1 after the bottom: going up, positions 2 to 5, one behind and two ahead.
	b.want("on rail 1", "dFFFFFFFdd....")
	b.run(1.5, 2)
	b.run(0.5, 6) // going up, 5 to 8
	b.run(2, 4)
	b.want("on rail 2", "ddddFFFFFFFdd.")
	b.run(0.02, 0)
	b.run(5, 0) // the fades have ended
	b.want("standing on rail 2", "dddddddddddddd"[:13]+".")
	b.run(30, 0)
	b.want("standing for long: the whole flight is dim", "dddddddddddddd")
	b.run(600, 0)
	b.want("and stays so", "dddddddddddddd")
	b.run(1, 4|8)
	b.run(1, 8|16)
	b.run(2, 16)
	b.run(40, 0)
	b.want("all gone", "..............")
}

// TestFaults goes through the trade's failures by hand.
func TestFaults(t *testing.T) {
	t.Run("stuck", func(t *testing.T) {
		b := newBench(t, nil)
		b.run(299, 4)
		if b.c.Masked() != 0 {
			t.Error("left out too early")
		}
		b.run(2, 4)
		if b.c.Masked() != 4 {
			t.Fatalf("left out: %b", b.c.Masked())
		}
		b.run(1, 0)
		if b.c.Masked() != 0 {
			t.Error("it went off and is still left out")
		}
	})
	t.Run("silent between the ends", func(t *testing.T) {
		b := newBench(t, nil)
		up := func() {
			for _, in := range []uint16{1, 1 | 2, 2, 0, 8} { // rail 2 says nothing
				b.run(1, in)
			}
		}
		up()
		b.want("the next but one: the whole flight", "FFFFFFFFFFFFFF")
		if b.c.Silent() != 4 || b.c.Conflicts() != 1 {
			t.Fatalf("silent %b, conflicts %d", b.c.Silent(), b.c.Conflicts())
		}
		b.run(15, 0)
		b.want("for 20 s", "FFFFFFFFFFFFFF")
		b.run(1, 16)
		b.run(60, 0)
		b.want("then dark", "..............")
		b.run(1, 1)
		b.run(2, 2)
		b.run(2, 0)
		// Rail 1 ends at position 5; with rail 2 left out the window goes on to its
		// end at 8 and two further, and the set holds all of its zone.
		b.want("the gap is bridged", "dFFFFFFFFFFddd"[:11]+b.look()[11:])
		b.run(1, 8)
		if b.c.Conflicts() != 1 {
			t.Error("a conflict again")
		}
		b.run(1, 4)
		if b.c.Silent() != 0 {
			t.Error("it spoke and is still left out")
		}
	})
	t.Run("taken away", func(t *testing.T) {
		b := newBench(t, func(_ *model.Control, z []walk.Zone) { z[0].Removed = true })
		// Nobody sees step 1 and the floor: they stay dim for ever.
		b.want("nobody", "ddddd.........") // 1, and three round it
	})
	t.Run("inputs lost", func(t *testing.T) {
		b := newBench(t, nil)
		for range 100 {
			b.bars = b.c.Step(walk.Inputs{Lost: true, Daylight: true})
		}
		b.want("the whole flight", "FFFFFFFFFFFFFF")
	})
	t.Run("none left", func(t *testing.T) {
		b := newBench(t, nil)
		b.run(400, 31)
		b.run(10, 31)
		if b.c.Masked() != 31 {
			t.Fatalf("left out: %b", b.c.Masked())
		}
		b.want("the whole flight", "FFFFFFFFFFFFFF")
	})
	t.Run("starting", func(t *testing.T) {
		tab := evenTables(t, nil)
		b := &bench{t: t, tab: tab, c: walk.NewCore(tab)}
		b.run(29, 0)
		b.want("warming up", "FFFFFFFFFFFFFF")
	})
}

// TestHallTraffic: with two triggers asked for, the end's sensor alone lights
// dimly; the next one within two seconds makes it a walk.
func TestHallTraffic(t *testing.T) {
	b := newBench(t, func(c *model.Control, _ []walk.Zone) { c.Hall = true })
	b.run(3, 1)
	b.want("in the hall", "ddddddd.......")
	b.run(2, 3)
	b.want("on the stair", "dFFFFFFFdd....")
	b = newBench(t, nil)
	b.run(3, 1)
	b.want("one trigger is enough", "FFFFddd.....dd")
}

// TestRunner: two sensors in quicker order than anybody walks light the whole
// flight. Where a sensor glimpses somebody before it is sure of them, who walks
// may be as quick, and is not taken for a runner.
func TestRunner(t *testing.T) {
	sharp := func(_ *model.Control, z []walk.Zone) {
		for i := range z {
			z[i].MayFirst, z[i].MayLast = z[i].First, z[i].Last
		}
	}
	for _, c := range []struct {
		zones func(*model.Control, []walk.Zone)
		s     float64 // for two steps; two thirds of a second, the latency late, is walking
		runs  bool
	}{{sharp, 0.3, true}, {sharp, 0.5, false}, {nil, 0.3, false}} {
		b := newBench(t, c.zones)
		b.run(c.s, 1)
		b.run(1, 3)
		if got := b.look() == "FFFFFFFFFFFFFF"; got != c.runs {
			t.Errorf("%g s, sharp %v: runs %v, want %v", c.s, c.zones != nil, got, c.runs)
		}
	}
}

// TestGlimpsedAhead: of somebody who goes up, the sensor after next may be the
// first to come on. It takes them to go up too, and so does the one between when
// it comes on; and a window stays until they are seen past its zone.
func TestGlimpsedAhead(t *testing.T) {
	wide := func(_ *model.Control, z []walk.Zone) {
		for i := range z { // two steps each, and four more glimpsed on either side
			z[i].First, z[i].Last = 3*i, 3*i+1
			z[i].MayFirst, z[i].MayLast = max(0, 3*i-4), min(14, 3*i+5)
		}
	}
	b := newBench(t, wide)
	b.run(2, 1)
	b.run(2, 1|4)
	b.want("on step 2, seen from rail 2", "dddddFFFFFdd..") // its zone, 6 and 7, one behind and two ahead
	b.run(2, 2|4)
	b.want("rail 1 has come on too", "ddFFFFFFFFdd..") // 2 to 6, and 5 to 9
	b.run(2, 4|8)
	b.want("seen from rail 3, and so past rail 1", "dddddFFFFFFFFd") // 5 to 9, and 8 to 12
}

// TestOpposing: the windows of two who meet are both lit, and both are after
// they have passed each other.
func TestOpposing(t *testing.T) {
	b := newBench(t, nil)
	b.run(1, 1|16)
	b.run(2.2, 2|8)
	b.want("two", "dFFFFFFFFFFFFd") // 1 to 7 and 5 to 12
	b.run(2.2, 2|8|4)
	b.run(2.2, 2|8)
	for _, c := range []int{2, 3, 4, 5, 8, 9, 10, 11} {
		if b.bars[c].Index <= b.tab.Dim {
			t.Errorf("position %d is not lit: %s", c, b.look())
		}
	}
}

// TestScenes presses the button through all scenes.
func TestScenes(t *testing.T) {
	b := newBench(t, func(c *model.Control, _ []walk.Zone) { c.Revert = 60 })
	press := func() {
		for range 5 {
			b.bars = b.c.Step(walk.Inputs{Button: true})
		}
		b.run(3, 0)
	}
	kinds := func() walk.SceneKind { return b.tab.Scenes[b.c.Scene()].Kind }
	press()
	if b.look() != "FFFFFFFFFFFFFF" || kinds() != walk.SceneSteady {
		t.Errorf("steady: %s", b.look())
	}
	press()
	if kinds() != walk.SceneNight || b.bars[3].Colour.B != 0 || b.bars[3].Colour.R == 0 {
		t.Errorf("night light: %+v", b.bars[3])
	}
	press()
	if kinds() != walk.SceneSeasonal {
		t.Fatalf("scene %d", kinds())
	}
	seen := map[walk.Colour]bool{}
	still := map[walk.Colour]bool{}
	for range 400 { // 8 s, two periods, with somebody on rail 2
		b.run(0.02, 4)
		seen[b.bars[13].Colour] = true
		for k := 5; k <= 8; k++ {
			still[b.bars[k].Colour] = true
		}
	}
	if len(seen) != 2 {
		t.Errorf("nobody near: %d colours, want two that take turns", len(seen))
	}
	steady := map[walk.Colour]bool{}
	for range 400 {
		b.run(0.02, 4)
		for k := 5; k <= 8; k++ {
			steady[b.bars[k].Colour] = true
		}
	}
	if len(steady) != 1 {
		t.Errorf("an occupied step changes: %v", steady)
	}
	for c := range still {
		if c.B == 0 {
			t.Errorf("an occupied step shows a colour of the season: %v", c)
		}
	}
	b.run(60, 0)
	if kinds() != walk.SceneWalk {
		t.Error("the season does not end by itself")
	}
	for range 4 {
		press()
	}
	if kinds() != walk.SceneOff {
		t.Fatalf("scene %d", kinds())
	}
	b.run(3, 1)
	b.want("off", "..............")
	press()
	if kinds() != walk.SceneWalk {
		t.Error("the button does not come round")
	}
	for range 200 {
		b.bars = b.c.Step(walk.Inputs{Sensors: 2, Daylight: true})
	}
	b.want("daylight", "..............")
}

// TestBudget: however many bars are lit, they never take more than may be lit
// together, 5 bars at 0.3.
func TestBudget(t *testing.T) {
	tab := evenTables(t, nil)
	c := walk.NewCore(tab)
	r := rand.New(rand.NewPCG(1, 15))
	most := 0
	in := walk.Inputs{}
	for i := range size(1_000_000, 100_000) {
		if i%37 == 0 {
			in = walk.Inputs{Sensors: uint16(r.IntN(1<<10)) & 31 &^ uint16(r.IntN(32)), Button: r.IntN(200) == 0}
		}
		sum := 0
		for _, b := range c.Step(in) {
			sum += int(b.Level)
			if b.Index > 0 && (b.Level == 0 || b.Colour == walk.Colour{}) {
				t.Fatalf("a bar that is to be lit is dark: %+v", b)
			}
		}
		most = max(most, sum)
	}
	if limit := 383; most > limit || most < limit*7/10 { // 255 * 5 * 0.3
		t.Errorf("up to %d of 255 are lit, want close to %d", most, limit)
	}
}

// TestMakeRefuses: what does not fit the tables is said, with what to do.
func TestMakeRefuses(t *testing.T) {
	good := walk.Light{Bars: 14, Scenes: firstScenes()}
	for name, c := range map[string]struct {
		zones  []walk.Zone
		change func(*model.Control)
		light  walk.Light
		want   string
	}{
		"one bar":     {light: walk.Light{Bars: 1}, want: "2 to 64"},
		"bars":        {light: walk.Light{Bars: 65}, want: "2 to 64"},
		"sensors":     {zones: make([]walk.Zone, 17), light: good, want: "inputs for 16"},
		"ticks":       {change: func(c *model.Control) { c.TickMS, c.Stuck = 5, 600 }, light: good, want: "longer tick"},
		"lockout":     {zones: []walk.Zone{{Last: 3, Block: 1e6}}, light: good, want: "lockout"},
		"dim":         {change: func(c *model.Control) { c.Dim, c.Most = 0.3, 1 }, light: good, want: "dim level"},
		"no number":   {change: func(c *model.Control) { c.Hold = -1 }, light: good, want: "give 0 to"},
		"many scenes": {light: walk.Light{Bars: 14, Scenes: make([]model.Scene, 9)}, want: "8 at most"},
	} {
		control := model.FirstControl()
		if c.change != nil {
			c.change(&control)
		}
		if _, err := walk.Make(c.zones, control, c.light); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
