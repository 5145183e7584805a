package walk_test

import (
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

// TestTablesAsBytes: what is written is read again, and any bit that is spoilt
// is found.
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
		for bit := range 8 {
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
