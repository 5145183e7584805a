package tables_test

import (
	"math"
	"strings"
	"testing"

	"risewright/app/tables"
	"risewright/model"
)

func senses(t testing.TB) model.SensorTables {
	t.Helper()
	s, err := tables.Sensing()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestSensorFootprints holds the classes' fields against the published widths
// at a distance, 2 d tan(H/2): electrical reference row 5.12, vector T22.
func TestSensorFootprints(t *testing.T) {
	s := senses(t)
	for _, c := range []struct {
		class    string
		distance float64 // m
		wide     float64
		high     float64 // 0: not stated
	}{
		{"standard-lens", 1.5, 3.217, 2.61}, {"wall", 1, 0.73, 2.61}, {"spot", 1.5, 1.03, 0.58},
		{"small-digital", 1, 2.38, 0}, {"curtain", 1.5, 0.395, 0},
	} {
		k, ok := s.Class(c.class)
		if !ok {
			t.Fatalf("no class %s", c.class)
		}
		at := func(degrees float64) float64 { return 2 * c.distance * math.Tan(degrees/2*math.Pi/180) }
		// Widths are printed to a centimetre, the vector to a millimetre.
		if got := at(k.H.Value); math.Abs(got-c.wide) > 0.0051 {
			t.Errorf("%s: %.3f m wide at %g m, published %.3f", c.class, got, c.distance, c.wide)
		}
		if got := at(k.V.Value); c.high > 0 && math.Abs(got-c.high) > 0.0051 {
			t.Errorf("%s: %.3f m high at %g m, published %.3f", c.class, got, c.distance, c.high)
		}
	}
}

// TestHood is the worked figure of the trade reference, section 7: bore 12,
// lens 10, depth 25 leave ±24°.
func TestHood(t *testing.T) {
	h := model.Hood{Bore: 12, Depth: 25}
	half := h.Half(10)
	if math.Abs(half.Degrees()-24) > 0.5 {
		t.Errorf("±%.2f°, published ±24°", half.Degrees())
	}
	if d := h.DepthFor(half, 10); math.Abs(float64(d)-25) > 1e-9 {
		t.Errorf("a hood for that angle is %g mm deep, not 25", d)
	}
	if got := (model.Hood{}).Half(10); got != 90*model.Degree {
		t.Errorf("no hood leaves %g°", got.Degrees())
	}
}

// TestBodySizes compares the adults with ANSUR II (means, computed from its
// rows) and the published breadth of British women.
func TestBodySizes(t *testing.T) {
	s := senses(t)
	for id, want := range map[string][4]float64{ // stature, breadth, chest, hip
		"man": {1756.2, 510.4, 253.8, 345.7}, "woman": {1628.5, 450.3, 247.4, 353.8},
	} {
		b, _ := s.Body(id)
		if got := [4]float64{b.Stature.Value, b.Breadth.Value, b.Chest.Value, b.Hip.Value}; got != want || b.Stature.Standing != model.Seen {
			t.Errorf("%s: %v (%s), published %v", id, got, b.Stature.Standing, want)
		}
	}
	if b, _ := s.Body("older"); b.Breadth.Value != 395 {
		t.Errorf("older: breadth %g, published 395", b.Breadth.Value)
	}
	if p, _ := s.Pace("older"); p.Down.Value != 0.31 || p.Spread.Value != 0.16 {
		t.Errorf("older: %g ± %g m/s, published 0.31 ± 0.16", p.Down.Value, p.Spread.Value)
	}
}

// TestSensingIsStrict spoils the shipped text in one place after another.
func TestSensingIsStrict(t *testing.T) {
	text := tables.SensingText(t)
	for _, c := range []struct{ name, from, to, want string }{
		{"misspelt field", `"h_degrees"`, `"h_degree"`, "h_degree"},
		{"no standing", `"standing": "seen"`, `"standing": ""`, "standing"},
		{"two of a name", `"id": "woman"`, `"id": "man"`, "twice"},
		{"no range", `"range_m": {"value": 3`, `"range_m": {"value": 0`, "range"},
		{"shoulder above the head", `"shoulder": {"value": 1440`, `"shoulder": {"value": 1940`, "go up"},
		{"no child", `"age": "child"`, `"age": "adult"`, "child"},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := strings.Replace(text, c.from, c.to, 1)
			if bad == text {
				t.Fatalf("%s is not in the table", c.from)
			}
			if _, err := tables.ReadSensing([]byte(bad)); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v does not say %q", err, c.want)
			}
		})
	}
	for _, id := range []string{"seen", "plenty", "walk_out", "rail_height", "rail_deep", "rail_out", "wall_high", "baluster",
		"landing_deep", "pet_height", "pet_wide", "pet_long", "door_high", "approach"} {
		if v := senses(t).Practised(id); v.Value == 0 || v.Standing != model.Memory {
			t.Errorf("%s: %+v", id, v)
		}
	}
	// What may trigger is what the specification's test target takes up: 700 by
	// 250 mm at 5 m, electrical reference row 5.04.
	if v := senses(t).Practised("glimpse"); math.Abs(v.Value-0.7*0.25/25) > 1e-12 || v.Standing != model.Seen {
		t.Errorf("glimpse: %+v", v)
	}
}
