package assets

import (
	"math"
	"strings"
	"testing"
)

// Spreads as the trade notes print them, common practice or from memory; the
// numbers were typed here, not copied from the JSON.
func TestInstrumentSpreads(t *testing.T) {
	table, err := Instruments()
	if err != nil {
		t.Fatal(err)
	}
	rows := []struct {
		id       string
		reads    Reads
		lo, hi   float64 // the printed band; one standard deviation lies within
		standing Standing
	}{
		{"pinch-rods", ReadsLength, 0.3, 0.5, Memory},
		{"tape-corner", ReadsLength, 1.5, 1.5, Memory},
		{"tape-hook", ReadsLength, 25.4 / 32, 0.81, Memory}, // US tapes 1/32 in up to 6 ft
		{"steel-rule", ReadsLength, 0.5, 0.5, Memory},
		{"rods-diagonal", ReadsLength, 1, 1, Memory},
		{"level-rule", ReadsLength, 1, 1, Memory},
		{"laser", ReadsLength, 1, 2, Memory},
		{"laser-level", ReadsLength, 1, 2, Memory},
		{"by-eye-length", ReadsLength, 10, 10, Memory},
		{"digital-gauge", ReadsAngle, 0.1, 0.3, Memory},
		{"protractor", ReadsAngle, 0.5, 0.5, Memory},
		{"spirit-level", ReadsSlope, 0.5, 0.5, Secondary}, // published level accuracy 0.5 mm/m
	}
	for _, r := range rows {
		i := table.tool(t, r.id)
		if i.For != r.reads || i.Spread < r.lo || i.Spread > r.hi || i.Standing != r.standing {
			t.Errorf("%s: %s %v %s, want %s within %v to %v, %s", r.id, i.For, i.Spread, i.Standing, r.reads, r.lo, r.hi, r.standing)
		}
	}
	// ±0.3 mm of feeler over 200 mm of square, as an angle.
	want := math.Atan2(0.3, 200) * 180 / math.Pi
	if got := table.tool(t, "square-feeler").Spread; math.Abs(got-want) > 0.0005 { // printed to three decimals
		t.Errorf("square-feeler: %v°, want %v°", got, want)
	}
	for _, i := range table.Instruments {
		if i.Standing != Memory && i.ID != "spirit-level" {
			t.Errorf("%s: standing %s, but only the level's figure was read anywhere", i.ID, i.Standing)
		}
	}
}

func TestEveryKindHasATool(t *testing.T) {
	want := strings.Fields(`front_width middle_width back_width left_depth right_depth
		diagonal_left diagonal_right gauge_front_left gauge_front_right gauge_back_right gauge_back_left
		lean_left lean_right rise_left rise_right going_left going_right tilt_across tilt_fore
		total_rise total_going long_diagonal_left long_diagonal_right`)
	table, err := Instruments()
	if err != nil {
		t.Fatal(err)
	}
	if len(table.Kinds) != len(want) {
		t.Errorf("%d kinds, want %d", len(table.Kinds), len(want))
	}
	for i, k := range table.Kinds {
		if i < len(want) && k.Kind != want[i] {
			t.Errorf("kind %d is %s, want %s", i, k.Kind, want[i])
		}
	}
	// Whatever is read can also be guessed.
	for _, k := range table.Kinds {
		if table.tool(t, "by-eye-"+string(k.For)).For != k.For {
			t.Errorf("%s can not be guessed by eye", k.Kind)
		}
	}
}

func TestStatesWidenASpread(t *testing.T) {
	table, err := Instruments()
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, s := range table.States {
		ids = append(ids, s.ID)
		if s.Standing != Memory {
			t.Errorf("state %s: standing %s; the figures are our own", s.ID, s.Standing)
		}
	}
	if got := strings.Join(ids, "|"); got != "guessed|over carpet|bare|checked" {
		t.Fatalf("states %s", got)
	}
	rows := []struct {
		state int
		tool  Instrument
		want  float64
	}{
		{0, Instrument{For: ReadsLength, Spread: 7.5}, 12.5}, // 7.5, 10 -> 12.5
		{0, Instrument{For: ReadsAngle, Spread: 1.5}, 2.5},   // 1.5, 2 -> 2.5
		{0, Instrument{For: ReadsSlope, Spread: 7.5}, 12.5},
		{1, Instrument{For: ReadsLength, Spread: 3}, 5}, // 3, 4 -> 5
		{1, Instrument{For: ReadsLean, Spread: 0.75}, 1.25},
		{1, Instrument{For: ReadsSlope, Spread: 3}, 5},
		{2, Instrument{For: ReadsLength, Spread: 0.35}, 0.35},
		{3, Instrument{For: ReadsAngle, Spread: 0.2}, 0.2},
	}
	for _, r := range rows {
		if got := table.States[r.state].Spread(r.tool); math.Abs(got-r.want) > 1e-12 { // a few roundings of numbers near 10
			t.Errorf("%s, %s ±%v: %v, want %v", table.States[r.state].ID, r.tool.For, r.tool.Spread, got, r.want)
		}
	}
	// Less trusted is never sharper.
	for i := 1; i < len(table.States); i++ {
		a, b := table.States[i-1], table.States[i]
		if a.Length < b.Length || a.Angle < b.Angle || a.Slope < b.Slope {
			t.Errorf("state %s is sharper than %s", a.ID, b.ID)
		}
	}
}

func TestInstrumentFaultsAreFound(t *testing.T) {
	rows := []struct {
		name  string
		spoil func(*InstrumentTable)
		want  string
	}{
		{"zero spread", func(x *InstrumentTable) { x.Instruments[0].Spread = 0 }, "above zero"},
		{"not a number", func(x *InstrumentTable) { x.Instruments[0].Spread = math.NaN() }, "above zero"},
		{"same id", func(x *InstrumentTable) { x.Instruments[1].ID = x.Instruments[0].ID }, "used twice"},
		{"unknown quantity", func(x *InstrumentTable) { x.Instruments[0].For = "weight" }, `"weight"`},
		{"standing", func(x *InstrumentTable) { x.Instruments[0].Standing = "" }, "standing"},
		{"negative state", func(x *InstrumentTable) { x.States[0].Angle = -1 }, "below zero"},
		{"same state", func(x *InstrumentTable) { x.States[1].ID = x.States[0].ID }, "used twice"},
		{"no tool", func(x *InstrumentTable) { x.Kinds[0].Instrument = "none" }, `"none"`},
		{"wrong tool", func(x *InstrumentTable) { x.Kinds[0].Instrument = "spirit-level" }, "spirit-level"},
		{"same kind", func(x *InstrumentTable) { x.Kinds[1].Kind = x.Kinds[0].Kind }, "used twice"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			table, err := Instruments()
			if err != nil {
				t.Fatal(err)
			}
			r.spoil(&table)
			if err := table.Check(); err == nil || !strings.Contains(err.Error(), r.want) {
				t.Errorf("error %v does not name %s", err, r.want)
			}
		})
	}
	// None of that reached the shipped table.
	table, err := Instruments()
	if err != nil {
		t.Fatal(err)
	}
	if err := table.Check(); err != nil {
		t.Errorf("a caller changed the shipped table: %v", err)
	}
}

func (t InstrumentTable) tool(tb testing.TB, id string) Instrument {
	tb.Helper()
	for _, i := range t.Instruments {
		if i.ID == id {
			return i
		}
	}
	tb.Fatalf("no instrument %s", id)
	return Instrument{}
}
