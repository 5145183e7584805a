package tables_test

import (
	"math"
	"strings"
	"testing"

	"risewright/app/tables"
	"risewright/model"
)

func lights(t testing.TB) model.LightTables {
	t.Helper()
	l, err := tables.Lighting()
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// TestWireTable holds the wires of the table against published ones.
func TestWireTable(t *testing.T) {
	l := lights(t)
	// T. L. Floyd, Electric Circuit Fundamentals, 2nd ed., as tabulated by
	// HyperPhysics (seen): ohm per 1000 ft of solid copper at 20 °C; and vectors
	// T01 and T02, ohm per km.
	for _, c := range []struct {
		id         string
		awg        int
		kft, perKM float64
	}{
		{"awg10", 10, 0.9989, 3.28}, {"awg12", 12, 1.588, 5.21}, {"awg14", 14, 2.525, 8.28}, {"awg16", 16, 4.016, 13.18},
		{"awg18", 18, 6.385, 20.948}, {"awg20", 20, 10.15, 33.30}, {"awg22", 22, 16.14, 52.953}, {"awg24", 24, 25.67, 84.22},
	} {
		w, ok := l.Wire(c.id)
		if !ok {
			t.Fatalf("no wire %s", c.id)
		}
		if got := w.OhmPerMetre(20) * 1000; math.Abs(got/c.perKM-1) > 0.001 || math.Abs(got*0.3048/c.kft-1) > 0.0005 {
			t.Errorf("%s: %.4f ohm/km, published %.4f", c.id, got, c.perKM)
		}
		// ASTM B258 diameter and IEC 60028 resistivity (both secondary) give each
		// row within 0.04 %.
		d := 0.127 * math.Pow(92, float64(36-c.awg)/39)
		area := math.Pi / 4 * d * d
		if math.Abs(w.AreaMM2.Value/area-1) > 1e-3 {
			t.Errorf("%s: area %g, formula %g", c.id, w.AreaMM2.Value, area)
		}
		if got, want := w.OhmPerMetre(20), model.CopperOhmMM2/area; math.Abs(got/want-1) > 4e-4 {
			t.Errorf("%s: %g ohm/m, formula %g", c.id, got, want)
		}
	}
	// NEC Chapter 9 Table 8, 75 °C, solid uncoated (secondary); vector T03.
	for id, want := range map[string]float64{"awg18": 25.5, "awg16": 16.0, "awg14": 10.1, "awg12": 6.34} {
		w, _ := l.Wire(id)
		if got := w.OhmPerMetre(75) * 1000; math.Abs(got/want-1) > 0.005 {
			t.Errorf("%s at 75 °C: %.3f ohm/km, NEC Table 8 %.3f", id, got, want)
		}
	}
	// IEC 60228 class 5 (secondary).
	for id, want := range map[string]float64{"mm0.5": 39.0, "mm0.75": 26.0, "mm1.0": 19.5, "mm1.5": 13.3, "mm2.5": 7.98} {
		if w, _ := l.Wire(id); w.OhmPerKM.Value != want {
			t.Errorf("%s: %g ohm/km, IEC 60228 %g", id, w.OhmPerKM.Value, want)
		}
	}
	// NEC 240.4(D) (secondary).
	for id, want := range map[string]float64{"awg18": 7, "awg16": 10, "awg14": 15, "awg12": 20, "awg10": 30} {
		if w, _ := l.Wire(id); w.FuseMost.Value != want {
			t.Errorf("%s: fuse %g, NEC 240.4(D) %g", id, w.FuseMost.Value, want)
		}
	}
}

// TestStripWatts compares the strips with the rated powers of vendors' pages
// (seen): 5 V RGB 60/m 18 W/m, 12 V grouped 60/m 14.4 W/m.
func TestStripWatts(t *testing.T) {
	l := lights(t)
	for id, want := range map[string]float64{"rgb-5v-60": 18, "rgb-12v-60-groups": 14.4} {
		s, ok := l.Strip(id)
		if !ok {
			t.Fatalf("no strip %s", id)
		}
		if got := s.FullAmps() * s.Volts.Value * s.PixelsPerMetre.Value; math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %g W/m, published %g", id, got, want)
		}
	}
}

// TestLightingIsStrict spoils the shipped text in one place after another.
func TestLightingIsStrict(t *testing.T) {
	text := tables.LightingText(t)
	if _, err := tables.ReadLighting([]byte(text)); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, from, to, want string }{
		{"misspelt field", `"trace_ohm"`, `"trase_ohm"`, "trase_ohm"},
		{"no standing", `"standing": "seen"`, `"standing": ""`, "standing"},
		{"unknown standing", `"standing": "seen"`, `"standing": "sure"`, "standing"},
		{"two of a name", `"id": "awg22"`, `"id": "awg24"`, "twice"},
		{"wires out of order", `"id": "awg10", "title": "10 AWG", "system": "awg", "area_mm2": {"value": 5`, `"id": "awg10", "title": "10 AWG", "system": "awg", "area_mm2": {"value": 1`, "go up"},
		{"a negative value", `"value": 0.15`, `"value": -0.15`, "0 or more"},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := strings.Replace(text, c.from, c.to, 1)
			if bad == text {
				t.Fatalf("%s is not in the table", c.from)
			}
			if _, err := tables.ReadLighting([]byte(bad)); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v does not say %q", err, c.want)
			}
		})
	}
	if _, err := tables.ReadLighting([]byte(text + "{}")); err == nil {
		t.Error("text after the table was taken")
	}
}

// TestOwnRowsStandIn shows that a job's rows replace the shipped ones.
func TestOwnRowsStandIn(t *testing.T) {
	l := lights(t)
	s, _ := l.Strip("rgbw-5v-60")
	s.ChannelMA = model.Rated{Value: 12.5, Standing: model.Yours, From: "measured"}
	mine := l.With(model.LightTables{Strips: []model.StripType{s, {ID: "mine"}}, Fuses: []model.Rated{{Value: 6}}})
	if got, _ := mine.Strip("rgbw-5v-60"); got.ChannelMA.Value != 12.5 {
		t.Errorf("the job's own row was not used: %+v", got.ChannelMA)
	}
	if len(mine.Strips) != len(l.Strips)+1 || len(mine.Fuses) != 1 {
		t.Errorf("%d strips, %d fuses", len(mine.Strips), len(mine.Fuses))
	}
	if got, _ := l.Strip("rgbw-5v-60"); got.ChannelMA.Value != 20 {
		t.Error("the shipped table was changed")
	}
}
