package model_test

import (
	"encoding/json"
	"math"
	"testing"

	"risewright/model"
)

// TestControlText: settings come back from a job's file and meet the schema,
// and the first ones are what stands for none.
func TestControlText(t *testing.T) {
	j := senseJob()
	if got := j.Sensing.Rules(); got != model.FirstControl() {
		t.Errorf("no settings stand for %+v", got)
	}
	c := model.FirstControl()
	c.AheadUp, c.Hall, c.Still = 3, true, 30
	after, err := (model.SetControl{Control: c}).Apply(j)
	if err != nil {
		t.Fatal(err)
	}
	if j.Sensing.Control != (model.Control{}) {
		t.Error("the edit changed the old job")
	}
	text := encoded(t, after)
	back, err := model.Decode([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if back.Sensing.Rules() != c {
		t.Errorf("%+v came back as %+v", c, back.Sensing.Rules())
	}
	if err := meets(jobSchema(t), text); err != nil {
		t.Error(err)
	}
}

// TestControlBounds sets each number to both bounds, and a little beyond, and
// asks the program and the schema.
func TestControlBounds(t *testing.T) {
	s := jobSchema(t)
	facts := model.ControlFacts()
	if len(facts) < 20 {
		t.Fatalf("only %d settings", len(facts))
	}
	first := model.FirstControl()
	for _, f := range facts {
		if x := f.Get(&first); x < f.Least || x > f.Most {
			t.Errorf("%s: the first value %g lies outside %g to %g", f.ID, x, f.Least, f.Most)
		}
		for _, c := range []struct {
			v  float64
			ok bool
		}{{f.Least, true}, {f.Most, true}, {f.Least - 1, false}, {f.Most + 1, false}} {
			j := senseJob()
			set := model.FirstControl()
			set.Level, set.Fastest = 1, 10 // so that no setting stands against another
			if f.ID == "level" || f.ID == "fastest" {
				set.Dim, set.Runner = 0.005, 0.5
			}
			f.Set(&set, c.v)
			if got := f.Get(&set); got != c.v {
				t.Fatalf("%s: set to %g, reads %g", f.ID, c.v, got)
			}
			_, err := (model.SetControl{Control: set}).Apply(j)
			j.Sensing.Control = set
			if schema := meets(s, encoded(t, j)); (err == nil) != c.ok || (schema == nil) != c.ok {
				t.Errorf("%s = %g: program %v, schema %v, want it taken: %v", f.ID, c.v, err, schema, c.ok)
			}
		}
	}
	set := model.FirstControl()
	for name, spoil := range map[string]func(*model.Control){
		"dim over level":   func(c *model.Control) { c.Dim = c.Level + 0.1 },
		"running too fast": func(c *model.Control) { c.Runner = c.Fastest + 1 },
		"no number":        func(c *model.Control) { c.Rise = math.NaN() },
	} {
		c := set
		spoil(&c)
		if _, err := (model.SetControl{Control: c}).Apply(senseJob()); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
	// Each number of the struct is among the facts, under its name in the file.
	var fields map[string]any
	text, _ := json.Marshal(set)
	if err := json.Unmarshal(text, &fields); err != nil {
		t.Fatal(err)
	}
	for _, f := range facts {
		if v, ok := fields[f.ID].(float64); !ok || v != f.Get(&set) {
			t.Errorf("%s: the file has %v, the fact %g", f.ID, fields[f.ID], f.Get(&set))
		}
		delete(fields, f.ID)
	}
	for name, v := range fields {
		if _, ok := v.(float64); ok {
			t.Errorf("%s is a number and no fact", name)
		}
	}
}
