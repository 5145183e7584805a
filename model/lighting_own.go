package model

import "fmt"

// NamedRated is a value of a row of the tables, by the name of its field in the
// job file.
type NamedRated struct {
	Name string
	At   *Rated
}

// Rated lists the row's values, to be read or changed.
func (s *StripType) Rated() []NamedRated {
	return []NamedRated{
		{"volts", &s.Volts}, {"pixels_per_metre", &s.PixelsPerMetre}, {"channel_ma", &s.ChannelMA}, {"idle_ma", &s.IdleMA},
		{"trace_ohm", &s.TraceOhm}, {"reel_metre", &s.ReelMetre}, {"full_volts", &s.FullVolts}, {"dark_volts", &s.DarkVolts},
		{"colour_volts", &s.ColourVolts}, {"data_volts", &s.DataVolts}, {"bit_us", &s.BitUS}, {"latch_us", &s.LatchUS},
	}
}

// Rated lists the row's values, to be read or changed.
func (w *WireSize) Rated() []NamedRated {
	return []NamedRated{{"area_mm2", &w.AreaMM2}, {"ohm_per_km", &w.OhmPerKM}, {"rating", &w.Rating}, {"fuse_most", &w.FuseMost}}
}

// Rated lists the row's values, to be read or changed.
func (c *SupplyClass) Rated() []NamedRated {
	return []NamedRated{{"volts", &c.Volts}, {"amps", &c.Amps}, {"efficiency", &c.Efficiency}, {"no_load_watts", &c.NoLoadWatts}}
}

// Rated lists the row's values, to be read or changed.
func (c *ControllerClass) Rated() []NamedRated {
	return []NamedRated{
		{"memory", &c.Memory}, {"kept", &c.Kept}, {"pins", &c.Pins}, {"lines", &c.Lines},
		{"logic", &c.Logic}, {"pin_ma", &c.PinMA}, {"all_ma", &c.AllMA},
	}
}

// maxRated is beyond anything electrical in a house, and what a job file holds.
const maxRated = 1e9

// validate returns what no solver could read in a job's own rows, by field.
func (t LightTables) validate() []Finding {
	var out []Finding
	block := func(where, title, remedy string) {
		out = append(out, Finding{Rule: "job.lighting", Severity: Block, Where: Place{Field: "lighting.own." + where}, Title: title, Remedy: remedy})
	}
	check := func(where string, values ...NamedRated) {
		for _, v := range values {
			if !(v.At.Value >= 0 && v.At.Value <= maxRated) { // not a number fails too
				block(where+"."+v.Name, fmt.Sprintf("%s of the row %s is %g", v.Name, where, v.At.Value), "give 0 or more")
			}
			if len(v.At.From) > MaxText {
				block(where+"."+v.Name, fmt.Sprintf("the source of %s of the row %s is too long", v.Name, where), "shorten it")
			}
		}
	}
	counts := func(where string, values map[string]int, names ...string) {
		for _, n := range names {
			if v := values[n]; v < 0 || v > maxRated {
				block(where+"."+n, fmt.Sprintf("%s of the row %s is %d", n, where, v), "give 0 or more")
			}
		}
	}
	rows := func(table string, n int, name func(int) (id, title string)) {
		if n > MaxRows {
			block(table, fmt.Sprintf("there are %d own %s", n, table), fmt.Sprintf("at most %d are kept", MaxRows))
		}
		seen := map[string]bool{}
		for i := range n {
			id, title := name(i)
			where := table + "." + shorten(id)
			switch {
			case seen[id]:
				block(where, fmt.Sprintf("two own %s have the id %q", table, shorten(id)), "give one of them another id")
			case len(id) > MaxText || len(title) > MaxText:
				block(where+".title", fmt.Sprintf("the id or title of the row %s is too long", where), "shorten it")
			}
			seen[id] = true
		}
	}
	rows("strips", len(t.Strips), func(i int) (string, string) { return t.Strips[i].ID, t.Strips[i].Title })
	for i := range t.Strips {
		r := &t.Strips[i]
		where := "strips." + shorten(r.ID)
		check(where, r.Rated()...)
		counts(where, map[string]int{"leds_per_pixel": r.LEDsPerPixel, "cut_pixels": r.CutPixels, "channels": r.Channels}, "leds_per_pixel", "cut_pixels", "channels")
	}
	rows("wires", len(t.Wires), func(i int) (string, string) { return t.Wires[i].ID, t.Wires[i].Title })
	for i := range t.Wires {
		check("wires."+shorten(t.Wires[i].ID), t.Wires[i].Rated()...)
	}
	for i := range t.Fuses {
		check("fuses", NamedRated{fmt.Sprint(i), &t.Fuses[i]})
	}
	rows("supplies", len(t.Supplies), func(i int) (string, string) { return t.Supplies[i].ID, t.Supplies[i].Title })
	for i := range t.Supplies {
		check("supplies."+shorten(t.Supplies[i].ID), t.Supplies[i].Rated()...)
	}
	rows("controllers", len(t.Controllers), func(i int) (string, string) { return t.Controllers[i].ID, t.Controllers[i].Title })
	for i := range t.Controllers {
		check("controllers."+shorten(t.Controllers[i].ID), t.Controllers[i].Rated()...)
	}
	for i := range t.Volts {
		check("volts", NamedRated{"volts", &t.Volts[i].Volts}, NamedRated{"drop", &t.Volts[i].Drop})
	}
	rows("limited", len(t.Limited), func(i int) (string, string) { return t.Limited[i].ID, t.Limited[i].Title })
	for i := range t.Limited {
		r := &t.Limited[i]
		check("limited."+shorten(r.ID), NamedRated{"above", &r.Above}, NamedRated{"volts", &r.Volts}, NamedRated{"amps", &r.Amps}, NamedRated{"va", &r.VA})
	}
	rows("practice", len(t.Practice), func(i int) (string, string) { return t.Practice[i].ID, t.Practice[i].Title })
	for i := range t.Practice {
		check("practice."+shorten(t.Practice[i].ID), NamedRated{"value", &t.Practice[i].Value})
	}
	return out
}
