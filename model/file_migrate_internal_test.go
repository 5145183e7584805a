package model

import (
	"errors"
	"strings"
	"testing"
)

// TestMigrationSteps runs the mechanism that brings older files along with two
// invented formats, since no older one exists: format 3 renames "name" from
// "title", and format 2 had it as "heading".
func TestMigrationSteps(t *testing.T) {
	rename := func(old, new string) migration {
		return func(root *node) error {
			for i, m := range root.members {
				if m.name == old {
					root.members[i].name = new
					return nil
				}
			}
			return errors.New("it has no " + old)
		}
	}
	invented := formats{newest: 3, steps: map[int]migration{1: rename("heading", "title"), 2: rename("title", "name")}}

	good, err := Encode(Job{
		Name: "Plain", Units: Metric, Tolerance: 1, SketchSpread: 1,
		Instruments: []Instrument{{ID: "rods", Name: "Rods", Measures: QuantityLength, Spread: 1, Standing: Memory}},
		Overlay:     Overlay{Tread: 1, Riser: 1, Landing: 1, LandingDepth: 1, Back: BackUnderRiser},
		Flight:      Sketch(SketchSpec{Risers: 2, Width: 900, Rise: 190, Going: 250, Base: Job{Overlay: Overlay{LandingDepth: 90}}}).Flight,
	})
	if err != nil {
		t.Fatal(err)
	}
	as := func(format, name string) string {
		s := strings.Replace(string(good), `"risewright_job": 1`, `"risewright_job": `+format, 1)
		return strings.Replace(s, `"name": "Plain"`, `"`+name+`": "Plain"`, 1)
	}
	for _, c := range []struct{ name, text, words string }{
		{"two steps", as("1", "heading"), ""},
		{"one step", as("2", "title"), ""},
		{"no step", as("3", "name"), ""},
		{"a step fails", as("1", "title"), "could not be brought from format 1 to 2: it has no heading; your file is unchanged"},
		{"no way from there", as("0", "name"), "format 0 can not be read"},
		{"newer", as("4", "name"), "made by a newer Risewright (format 4); this one reads up to 3"},
		{"unknown fields still refused", as("2", "heading"), "it has no title"},
	} {
		t.Run(c.name, func(t *testing.T) {
			j, fault := invented.decode([]byte(c.text))
			if c.words == "" {
				if fault != nil {
					t.Fatal(fault)
				}
				if j.Name != "Plain" || len(j.Flight.Steps) != 2 {
					t.Errorf("got name %q and %d steps", j.Name, len(j.Flight.Steps))
				}
				return
			}
			if fault == nil || !strings.Contains(fault.Error(), c.words) {
				t.Errorf("got %v, want %q", fault, c.words)
			}
		})
	}
}

// TestKnownFormats holds the table to its promise: a step for every older
// format there ever was, and the newest is the one written.
func TestKnownFormats(t *testing.T) {
	f := knownFormats()
	if f.newest != FileFormat {
		t.Errorf("reads up to %d and writes %d", f.newest, FileFormat)
	}
	for v := 1; v < f.newest; v++ {
		if f.steps[v] == nil {
			t.Errorf("no step from format %d", v)
		}
	}
}
