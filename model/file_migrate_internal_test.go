package model

import (
	"errors"
	"os"
	"strings"
	"testing"
)

// TestMigrationSteps runs the mechanism that brings older files along with two
// invented formats: format 3 renames "name" from
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
		s := strings.Replace(string(good), `"risewright_job": 2`, `"risewright_job": `+format, 1)
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

// TestFormat1 opens a stored file of format 1, which had one packing for each
// step: both ends get it, and nothing else changes.
func TestFormat1(t *testing.T) {
	text, err := os.ReadFile("../testdata/formats/1.risewright.json")
	if err != nil {
		t.Fatal(err)
	}
	j, err := Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []Length{0, 2.5, -1.25, 0} {
		if s := j.Flight.Steps[i]; s.PackLeft != want || s.PackRight != want {
			t.Errorf("step %d: packing %v and %v, want %v", i+1, s.PackLeft, s.PackRight, want)
		}
	}
	again, err := Encode(j)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ words, old string }{
		{`step 3 has a field "pack_left"`, strings.Replace(string(text), `"pack": -1.25`, `"pack_left": -1.25`, 1)},
		{`step 2 has a field "pack_right"`, strings.Replace(string(text), `"pack": 2.5`, `"pack": 2.5, "pack_right": 1`, 1)},
		{`"pack" is not known`, strings.Replace(string(again), `"pack_left": 2.5`, `"pack": 2.5`, 1)},
	} {
		if _, err := Decode([]byte(c.old)); err == nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("got %v, want %q", err, c.words)
		}
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
