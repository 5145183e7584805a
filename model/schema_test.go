package model_test

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"risewright/assets"
	"risewright/model"
)

// jobSchema compiles the schema that ships with the program, with its formats
// checked and not only noted.
func jobSchema(t testing.TB) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(assets.JobSchema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("job.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("job.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// meets says why text does not meet the schema, or returns nil.
func meets(s *jsonschema.Schema, text string) error {
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		return err
	}
	return s.Validate(v)
}

func TestSchemaTakesEveryJob(t *testing.T) {
	s := jobSchema(t)
	rapid.Check(t, func(t *rapid.T) {
		if err := meets(s, encoded(t, drawJob(t))); err != nil {
			t.Fatal(err)
		}
	})
}

// beyondSchema are the bad files whose fault no JSON Schema can state: it
// sees the parsed value only, and no value against another.
var beyondSchema = []string{
	"Latin-1", "field twice", "number too long", // the text, not the value
	"corners crossed", "unknown instrument", "wrong instrument", "negative width",
	"same step twice", "same reading twice", "height of no step",
}

// TestSchemaRefusesBadFiles gives the schema the files that Decode refuses.
// Those that are JSON must fail it too, but for the ones it can not see.
func TestSchemaRefusesBadFiles(t *testing.T) {
	s := jobSchema(t)
	refused, seen := 0, 0
	for _, f := range badFiles(t) {
		if len(f.text) > 1<<20 {
			continue // refused for its size alone
		}
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(f.text))
		if err != nil {
			continue // not JSON: not the schema's to judge
		}
		err = s.Validate(v)
		if slices.Contains(beyondSchema, f.name) {
			seen++
			if err != nil {
				t.Errorf("%s: the schema does see it: %v; take it off the list", f.name, err)
			}
			continue
		}
		if err == nil {
			t.Errorf("%s: meets the schema", f.name)
		}
		refused++
	}
	if seen != len(beyondSchema) {
		t.Errorf("%d of the %d files beyond the schema were tried", seen, len(beyondSchema))
	}
	if refused < 20 {
		t.Errorf("only %d structural faults tried", refused)
	}
	t.Logf("%d refused, %d beyond it", refused, seen)
}

// TestSchemaNamesEveryField walks the Go structs and the schema side by side:
// the same fields, the same ones required, and types that agree.
func TestSchemaNamesEveryField(t *testing.T) {
	var doc map[string]any
	if err := json.Unmarshal([]byte(assets.JobSchema()), &doc); err != nil {
		t.Fatal(err)
	}
	defs := doc["$defs"].(map[string]any)
	visited := map[string]bool{}
	fields := 0
	resolve := func(s map[string]any) map[string]any {
		out := map[string]any{}
		if ref, ok := s["$ref"].(string); ok {
			name := strings.TrimPrefix(ref, "#/$defs/")
			d, ok := defs[name].(map[string]any)
			if !ok {
				t.Fatalf("no $defs %q", name)
			}
			visited[name] = true
			for k, v := range d {
				out[k] = v
			}
		}
		for k, v := range s {
			out[k] = v
		}
		return out
	}
	var walk func(at string, typ reflect.Type, s map[string]any, extra ...string)
	walk = func(at string, typ reflect.Type, s map[string]any, extra ...string) {
		s = resolve(s)
		want := ""
		switch {
		case typ == reflect.TypeFor[uuid.UUID](), typ == reflect.TypeFor[time.Time](), typ.Kind() == reflect.String:
			want = "string"
		case typ.Kind() == reflect.Bool:
			want = "boolean"
		case typ.Kind() == reflect.Int:
			want = "integer"
		case typ.Kind() == reflect.Float64:
			want = "number"
		case typ.Kind() == reflect.Slice:
			want = "array"
		case typ.Kind() == reflect.Struct:
			want = "object"
		}
		if list, ok := s["enum"].([]any); ok { // by its values
			for _, v := range list {
				if _, text := v.(string); text != (want == "string") {
					t.Errorf("%s: %v in a list of %ss", at, v, want)
				}
			}
		} else if s["type"] != want {
			t.Errorf("%s: the schema says %v, the program %s", at, s["type"], want)
		}
		switch want {
		case "array":
			walk(at+"[]", typ.Elem(), s["items"].(map[string]any))
		case "object":
			if s["additionalProperties"] != false {
				t.Errorf("%s: other fields are allowed", at)
			}
			required := append([]string(nil), extra...)
			props := s["properties"].(map[string]any)
			known := append([]string{"program"}, extra...)
			if len(extra) == 0 {
				known = nil
			}
			for i := range typ.NumField() {
				f := typ.Field(i)
				name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
				if name == "" {
					t.Errorf("%s: %s has no name in the file", at, f.Name)
				}
				known = append(known, name)
				fields++
				p, ok := props[name].(map[string]any)
				if !ok {
					t.Errorf("%s.%s is not in the schema", at, name)
					continue
				}
				if options == "" {
					required = append(required, name)
				}
				walk(at+"."+name, f.Type, p)
			}
			for name := range props {
				if !slices.Contains(known, name) {
					t.Errorf("%s.%s is in the schema only", at, name)
				}
			}
			var said []string
			for _, r := range s["required"].([]any) {
				said = append(said, r.(string))
			}
			slices.Sort(said)
			slices.Sort(required)
			if !slices.Equal(said, required) {
				t.Errorf("%s: the schema requires %v, the program writes always %v", at, said, required)
			}
		}
	}
	walk("job", reflect.TypeFor[model.Job](), doc, "risewright_job")
	for name := range defs {
		if !visited[name] {
			t.Errorf("$defs %q is not used", name)
		}
	}
	if fields < 70 {
		t.Errorf("only %d fields walked", fields)
	}
}

// TestSchemaLists compares each list of words in the schema with the program's.
func TestSchemaLists(t *testing.T) {
	var doc struct {
		Defs map[string]struct {
			Enum []string `json:"enum"`
		} `json:"$defs"`
	}
	if err := json.Unmarshal([]byte(assets.JobSchema()), &doc); err != nil {
		t.Fatal(err)
	}
	words := func(list any) []string {
		var out []string
		for v := reflect.ValueOf(list); len(out) < v.Len(); {
			out = append(out, v.Index(len(out)).String())
		}
		slices.Sort(out)
		return out
	}
	for name, list := range map[string]any{
		"kind":          append(model.StepKinds(), model.FlightKinds()...),
		"reading_state": model.States(),
		"standing":      []model.Standing{model.Seen, model.Transcription, model.Secondary, model.Memory, model.Yours},
		"quantity":      []model.Quantity{model.QuantityLength, model.QuantityAngle, model.QuantityLean, model.QuantitySlope},
	} {
		if got, want := words(doc.Defs[name].Enum), words(list); !slices.Equal(got, want) {
			t.Errorf("%s: the schema lists %v, the program %v", name, got, want)
		}
	}
}

// TestSchemaLimits compares the schema's numbers with the program's constants.
func TestSchemaLimits(t *testing.T) {
	s := jobSchema(t)
	good := encoded(t, plainJob(3))
	for _, c := range []struct {
		old, new string
		ok       bool
	}{
		{`"back_width"`, `"back_width"` + strings.Repeat(`, "back_width"`, 99), true},
		{`"back_width"`, `"back_width"` + strings.Repeat(`, "back_width"`, 100), false},
		{`"tolerance": 0.8`, fmt.Sprintf(`"tolerance": %g`, float64(model.MaxLength)), true},
		{`"tolerance": 0.8`, fmt.Sprintf(`"tolerance": %g`, float64(model.MaxLength)+1), false},
		{`"tolerance": 0.8`, `"tolerance": 0`, false},
		{`"fall": 0`, `"fall": 0.7853`, true},
		{`"fall": 0`, `"fall": 0.7854`, false},
		{`"revision": 0`, `"revision": -1`, false},
		{`"name": "Plain"`, fmt.Sprintf(`"name": %q`, strings.Repeat("x", model.MaxText)), true},
		{`"name": "Plain"`, fmt.Sprintf(`"name": %q`, strings.Repeat("x", model.MaxText+1)), false},
	} {
		text := once(t, good, c.old, c.new)
		_, decoded := model.Decode([]byte(text))
		if err := meets(s, text); (err == nil) != c.ok || (decoded == nil) != c.ok {
			t.Errorf("%.60s: schema %v, program %v, want it taken: %v", c.new, err, decoded, c.ok)
		}
	}
}
