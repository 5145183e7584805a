package demo_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"risewright/app/demo"
	"risewright/assets"
	"risewright/model"
)

var update = flag.Bool("update", false, "write testdata/jobs and assets/demo anew")

func jobs(t *testing.T) []demo.Demo {
	t.Helper()
	ds, err := demo.Jobs()
	if err != nil {
		t.Fatal(err)
	}
	return ds
}

// TestStoredJobs holds the files in testdata, those in assets and those that
// are embedded to what this package builds, byte for byte.
func TestStoredJobs(t *testing.T) {
	for _, d := range jobs(t) {
		text, err := model.Encode(d.Job)
		if err != nil {
			t.Fatal(err)
		}
		for _, folder := range []string{"../../testdata/jobs", "../../assets/demo"} {
			name := filepath.Join(folder, d.Name+".risewright.json")
			if *update {
				if err := os.WriteFile(name, text, 0o644); err != nil {
					t.Fatal(err)
				}
				continue
			}
			stored, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(stored, text) {
				t.Errorf("%s is not what this package builds; if the change is meant, run go test ./app/demo -update", name)
			}
		}
		if *update {
			continue
		}
		inside, err := assets.DemoJob(d.Name)
		if err != nil || !bytes.Equal(inside, text) {
			t.Errorf("the embedded %s differs: %v", d.Name, err)
		}
	}
	if _, err := assets.DemoJob("none"); err == nil {
		t.Error("a demo job that is not there was found")
	}
}

func TestJobsOpen(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(assets.JobSchema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("job.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("job.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range jobs(t) {
		text, err := model.Encode(d.Job)
		if err != nil {
			t.Fatal(err)
		}
		j, err := model.Decode(text)
		if err != nil {
			t.Errorf("%s: %v", d.Name, err)
		}
		if fs := j.Validate(); len(fs) > 0 {
			t.Errorf("%s has findings: %v", d.Name, fs)
		}
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(v); err != nil {
			t.Errorf("%s: %v", d.Name, err)
		}
	}
}

// TestTypedAgreesWithValue parses what the carpenter wrote: the value beside
// it must be what the program reads from it.
func TestTypedAgreesWithValue(t *testing.T) {
	for _, d := range jobs(t) {
		rs := append([]model.Reading(nil), d.Job.Flight.Readings...)
		for _, s := range d.Job.Flight.Steps {
			rs = append(rs, s.Readings...)
		}
		for _, r := range rs {
			var v float64
			var err error
			switch r.Kind.Quantity() {
			case model.QuantityLength:
				var l model.Length
				l, err = model.ParseLength(r.Typed, d.Job.Units)
				v = float64(l)
			case model.QuantityAngle:
				var a model.Angle
				a, err = model.ParseAngle(r.Typed)
				v = float64(a)
			case model.QuantityLean:
				var a model.Angle
				a, err = model.ParseLean(r.Typed)
				v = float64(a)
			case model.QuantitySlope:
				var a model.Angle
				a, err = model.ParseSlope(r.Typed)
				v = float64(a)
			}
			if err != nil || v != r.Value {
				t.Errorf("%s, %s: %q reads as %v, not %v: %v", d.Name, r.Kind, r.Typed, v, r.Value, err)
			}
			if r.Taken.IsZero() || r.Taken.Year() != 2026 {
				t.Errorf("%s, %s: taken at %v", d.Name, r.Kind, r.Taken)
			}
		}
		if len(rs) != d.Job.Revision {
			t.Errorf("%s: %d readings and revision %d", d.Name, len(rs), d.Job.Revision)
		}
	}
}

// TestWorkedExample checks that tread 5 of the tapering job is the worked
// example: widths 912 and 917 over 286, gauges 89.2 (for 90.8) and 90.2, to
// half a mark of the tape (1/64 in, 0.4 mm). Common practice, no source.
func TestWorkedExample(t *testing.T) {
	want := map[model.Kind]float64{
		model.BackWidth: 912, model.FrontWidth: 917, model.LeftDepth: 286, model.RightDepth: 286,
	}
	typed := map[model.Kind]string{model.GaugeBackLeft: "89.2", model.GaugeBackRight: "90.2", model.BackWidth: "35 29/32"}
	seen := 0
	for _, r := range jobs(t)[1].Job.Flight.Steps[4].Readings {
		if w, ok := want[r.Kind]; ok {
			if d := r.Value - w; d > 0.45 || d < -0.45 {
				t.Errorf("%s is %v, want %v", r.Kind, r.Value, w)
			}
			seen++
		}
		if w, ok := typed[r.Kind]; ok {
			if r.Typed != w {
				t.Errorf("%s was written %q, want %q", r.Kind, r.Typed, w)
			}
			seen++
		}
	}
	if seen != 7 {
		t.Errorf("%d of 7 readings found", seen)
	}
}
