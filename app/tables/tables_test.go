package tables_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"risewright/app/tables"
	"risewright/assets"
	"risewright/model"
)

// TestInstrumentsInRadians checks one row of each unit by hand, and every row
// for what the model needs of it.
func TestInstrumentsInRadians(t *testing.T) {
	tools, states, err := tables.Instruments()
	if err != nil {
		t.Fatal(err)
	}
	find := func(id string) model.Instrument {
		i := slices.IndexFunc(tools, func(in model.Instrument) bool { return in.ID == id })
		if i < 0 {
			t.Fatalf("no instrument %s", id)
		}
		return tools[i]
	}
	for _, c := range []struct {
		id       string
		measures model.Quantity
		spread   float64
	}{
		{"pinch-rods", model.QuantityLength, 0.35},
		{"digital-gauge", model.QuantityAngle, 0.2 * math.Pi / 180},
		{"square-feeler", model.QuantityLean, 0.086 * math.Pi / 180},
		{"spirit-level", model.QuantitySlope, math.Atan(0.5e-3)},
	} {
		if in := find(c.id); in.Measures != c.measures || math.Abs(in.Spread-c.spread) > 1e-15 {
			t.Errorf("%s: %s %v, want %s %v", c.id, in.Measures, in.Spread, c.measures, c.spread)
		}
	}
	for _, s := range states {
		if s.State == model.Guessed && (s.Length != 10 || math.Abs(s.Angle-2*math.Pi/180) > 1e-15 || math.Abs(s.Slope-math.Atan(0.01)) > 1e-15) {
			t.Errorf("a guess adds %+v", s)
		}
	}
	// every kind of reading has a tool of its own quantity offered first
	j := model.Job{Instruments: tools, States: states}
	for _, k := range append(model.StepKinds(), model.FlightKinds()...) {
		in, ok := j.DefaultInstrument(k)
		if !ok || !slices.Contains(in.Default, k) || in.Measures != k.Quantity() {
			t.Errorf("%s: offered %q, which measures %s", k, in.ID, in.Measures)
		}
	}
}

// TestPublishedKeepsEveryValue compares each row with the assets' own.
func TestPublishedKeepsEveryValue(t *testing.T) {
	got, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	want, err := assets.Rules()
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for _, c := range want {
		table, ok := got.Code(c.ID)
		if !ok || table.Title != c.Title || table.Edition != c.Edition || len(table.Limits) != len(c.Limits) || len(table.Classes) != len(c.Classes) {
			t.Fatalf("%s: got %q with %d limits", c.ID, table.Title, len(table.Limits))
		}
		for i, l := range c.Limits {
			m := table.Limits[i]
			if m.ID != l.ID || m.Measure != string(l.Measure) || m.Op != string(l.Op) || m.Lo != l.Lo || m.Hi != l.Hi || m.Unit != l.Unit ||
				m.Section != l.Section || string(m.Standing) != string(l.Standing) || m.Note != l.Note || !slices.Equal(m.Classes, l.Classes) {
				t.Errorf("%s: %+v became %+v", c.ID, l, m)
			}
			rows++
		}
	}
	if rows < 100 {
		t.Errorf("only %d rows compared", rows)
	}
	for name, list := range map[string][]model.StockSize{
		"thicknesses": got.Stock.TreadThicknesses, "lengths": got.Stock.TreadLengths, "depths": got.Stock.TreadDepths,
		"riser lengths": got.Stock.RiserLengths, "riser heights": got.Stock.RiserHeights, "landing depths": got.Stock.LandingDepths,
	} {
		if len(list) == 0 || !(list[0].Size > 0) || list[0].Name == "" || list[0].Standing == "" {
			t.Errorf("%s: %+v", name, list)
		}
	}
}

func TestNewJob(t *testing.T) {
	for _, units := range []model.Units{model.Imperial, model.Metric} {
		j, err := tables.NewJob(units, nil)
		if err != nil {
			t.Fatal(err)
		}
		if fs := j.Validate(); len(fs) != 0 {
			t.Errorf("%s: %v", units, fs)
		}
		if len(j.Flight.Steps) != 14 || j.Units != units {
			t.Errorf("%s: %d steps in %s", units, len(j.Flight.Steps), j.Units)
		}
		text, err := model.Encode(j)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := model.Decode(text); err != nil {
			t.Errorf("%s: %v", units, err)
		}
		published, err := tables.Published()
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := published.Code(j.Code); !ok {
			t.Errorf("%s: no code %q", units, j.Code)
		}
		other, err := tables.NewJob(units, nil)
		if err != nil || other.ID == j.ID || other.Flight.Steps[0].ID == j.Flight.Steps[0].ID {
			t.Error("two new jobs share an id")
		}
		named := func(name string) model.ID { return model.NamedID(model.ID{}, name) }
		one, _ := tables.NewJob(units, named)
		two, _ := tables.NewJob(units, named)
		if fmt.Sprint(one) != fmt.Sprint(two) {
			t.Error("named ids do not give the same job")
		}
	}
}
