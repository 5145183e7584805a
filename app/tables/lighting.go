package tables

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"risewright/assets"
	"risewright/model"
)

// Lighting returns the electrical tables behind light bars. Every value in
// them has a known standing and says where it is from.
func Lighting() (model.LightTables, error) {
	text, err := assets.Lighting()
	if err != nil {
		return model.LightTables{}, err
	}
	t, err := readLighting(text)
	if err != nil {
		return model.LightTables{}, fmt.Errorf("lighting.json: %w", err)
	}
	return t, nil
}

// readLighting reads the table strictly.
func readLighting(text []byte) (model.LightTables, error) {
	return strictly(text, rowFaults)
}

// strictly reads a table: a misspelt field is an error, and so is a value
// without a standing, or what faults finds.
func strictly[T any](text []byte, faults func(T) []error) (T, error) {
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	var t, none T
	if err := d.Decode(&t); err != nil {
		return none, err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return none, errors.New("text after the table")
	}
	unsaid, err := standings(text)
	if err != nil {
		return none, err
	}
	return t, errors.Join(append(unsaid, faults(t)...)...)
}

// standings walks the text and finds every object that holds a number called
// value: each needs a standing that is known and a source.
func standings(text []byte) (faults []error, err error) {
	var root any
	if err := json.Unmarshal(text, &root); err != nil {
		return nil, err
	}
	known := assets.Standings()
	var walk func(where string, v any)
	walk = func(where string, v any) {
		switch v := v.(type) {
		case []any:
			for i, e := range v {
				walk(fmt.Sprintf("%s %d", where, i), e)
			}
		case map[string]any:
			if n, ok := v["value"].(float64); ok {
				s, _ := v["standing"].(string)
				from, _ := v["from"].(string)
				if !slices.Contains(known, assets.Standing(s)) || from == "" || n < 0 {
					faults = append(faults, fmt.Errorf("%s: needs a value of 0 or more, a known standing and its source", where))
				}
				return
			}
			for name, e := range v {
				walk(where+" "+name, e)
			}
		}
	}
	walk("table", root)
	return faults, nil
}

// rowFaults finds rows that no solver could use.
func rowFaults(t model.LightTables) []error {
	var out []error
	fault := func(format string, a ...any) { out = append(out, fmt.Errorf(format, a...)) }
	ids := map[string]bool{}
	unique := func(list, id, title string) {
		if id == "" || title == "" || ids[list+id] {
			fault("%s %q: id empty or used twice, or no title", list, id)
		}
		ids[list+id] = true
	}
	for _, s := range t.Strips {
		unique("strip", s.ID, s.Title)
		if !(s.Volts.Value > 0 && s.PixelsPerMetre.Value > 0 && s.ChannelMA.Value > 0 && s.ReelMetre.Value > 0) ||
			s.LEDsPerPixel < 1 || s.CutPixels < 1 || s.Channels < 1 {
			fault("strip %s: volts, pixels, channels, current, cut and reel must be above nil", s.ID)
		}
		if !(s.DarkVolts.Value < s.FullVolts.Value && s.FullVolts.Value <= s.ColourVolts.Value && s.ColourVolts.Value <= s.Volts.Value) {
			fault("strip %s: dark, full, colour and supply volts must go up", s.ID)
		}
		if s.IdleMA.Value > float64(s.Channels)*s.ChannelMA.Value {
			fault("strip %s: idle above full", s.ID)
		}
		if s.Addressed && !(s.BitUS.Value > 0 && s.DataVolts.Value > 0) {
			fault("strip %s: takes data, but has no bit time or level", s.ID)
		}
	}
	last := map[string]float64{}
	for _, w := range t.Wires {
		unique("wire", w.ID, w.Title)
		if w.System != "awg" && w.System != "mm2" {
			fault("wire %s: system %q", w.ID, w.System)
		}
		if !(w.AreaMM2.Value > last[w.System]) || !(w.OhmPerKM.Value > 0 && w.FuseMost.Value > 0 && w.Rating.Value > 0) {
			fault("wire %s: sizes must go up, and resistance, rating and fuse be above nil", w.ID)
		}
		last[w.System] = w.AreaMM2.Value
	}
	if len(last) != 2 {
		fault("wires of both systems are needed")
	}
	for i := range t.Fuses {
		if i > 0 && !(t.Fuses[i].Value > t.Fuses[i-1].Value) {
			fault("fuses must go up")
		}
	}
	for _, s := range t.Supplies {
		unique("supply", s.ID, s.Title)
		if !(s.Volts.Value > 0 && s.Amps.Value > 0 && s.Efficiency.Value > 0 && s.Efficiency.Value <= 1) {
			fault("supply %s: volts, amps and efficiency", s.ID)
		}
	}
	for _, c := range t.Controllers {
		unique("controller", c.ID, c.Title)
		if !(c.Memory.Value > c.Kept.Value && c.Pins.Value > 0 && c.Lines.Value > 0 && c.Logic.Value > 0) {
			fault("controller %s: memory, pins, lines and logic", c.ID)
		}
	}
	for _, l := range t.Limited {
		unique("limited", l.ID, l.Title)
	}
	for _, p := range t.Practice {
		unique("practice", p.ID, p.Title)
	}
	return out
}
