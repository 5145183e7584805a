package report_test

import (
	"bytes"
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"risewright/app/demo"
	"risewright/app/report"
	"risewright/app/tables"
	"risewright/assets"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
)

// answered is a job's answer with its mending.
type answered struct {
	name string
	*solver.Answer
	mending buildup.Mending
}

// published returns the shipped tables.
func published(t testing.TB) model.Tables {
	t.Helper()
	tb, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	return tb
}

func answer(t testing.TB, name string, j model.Job) answered {
	tb := published(t)
	a := solver.Solve(j, tb)
	sense := solver.Sense(a, tb, nil)
	a.Findings, a.Lit = solver.Found(a, tb, &sense)
	return answered{name, a, solver.Advise(a, tb)}
}

// demoJob returns a shipped demo job.
func demoJob(t testing.TB, name string) model.Job {
	t.Helper()
	data, err := assets.DemoJob(name)
	if err != nil {
		t.Fatal(err)
	}
	j, err := model.Decode(data)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// answers are the demos in their own units and in the others, a job never
// measured, one with a board that wants a template, and one that cannot be
// solved. They are shared: a test that changes one makes its own.
func answers(t testing.TB) []answered {
	t.Helper()
	all, err := shared()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

var shared = sync.OnceValues(func() (out []answered, err error) {
	tb, err := tables.Published()
	if err != nil {
		return nil, err
	}
	answer := func(name string, j model.Job) answered {
		a := solver.Solve(j, tb)
		sense := solver.Sense(a, tb, nil)
		a.Findings, a.Lit = solver.Found(a, tb, &sense)
		return answered{name, a, solver.Advise(a, tb)}
	}
	for _, n := range demo.Names() {
		data, err := assets.DemoJob(n)
		if err != nil {
			return nil, err
		}
		j, err := model.Decode(data)
		if err != nil {
			return nil, err
		}
		out = append(out, answer(n, j))
		other := j
		if other.Units = model.Imperial; j.Units == model.Imperial {
			other.Units = model.Metric
		}
		out = append(out, answer(n+" in "+string(other.Units), other))
	}
	plain, err := tables.NewJob(model.Metric, func(n string) model.ID { return model.NamedID(model.ID{}, n) })
	if err != nil {
		return nil, err
	}
	out = append(out, answer("never measured", plain))
	bent := plain
	bent.Flight.Steps = slices.Clone(plain.Flight.Steps)
	s := &bent.Flight.Steps[3]
	c := s.Corners
	s.Corners = []model.Corner{c[0], c[1], {X: c[1].X + 30, Y: (c[1].Y + c[2].Y) / 2}, c[2], c[3]}
	s.Edges = []model.Edge{model.Front, model.Right, model.Right, model.Back, model.Left}
	out = append(out, answer("a side with a corner in it", bent))
	watched := plain
	watched.Sensing = model.FirstSensing(plain, tb.Senses)
	watched.Sensing.Sensors[0].Removed = true
	out = append(out, answer("with sensors", watched))
	broken := plain
	broken.Tolerance = 0
	return append(out, answer("not to be solved", broken)), nil
})

func text(t testing.TB, a answered) []byte {
	t.Helper()
	b, err := report.JSON(a.Answer, a.mending)
	if err != nil {
		t.Fatalf("%s: %v", a.name, err)
	}
	return b
}

func TestJSONMeetsSchema(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(assets.AnswerSchema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("answer.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("answer.json")
	if err != nil {
		t.Fatal(err)
	}
	states := map[string]bool{}
	for _, a := range answers(t) {
		b := text(t, a)
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(v); err != nil {
			t.Errorf("%s: %v", a.name, err)
		}
		w := report.WireOf(a.Answer, a.mending)
		for _, k := range w.Cards {
			states[k.State] = true
		}
		if (w.Survey == nil) != (a.name == "not to be solved") {
			t.Errorf("%s: survey there: %v", a.name, w.Survey != nil)
		}
		if a.name != "well-behaved" {
			continue
		}
		// A schema that takes anything would pass all of the above.
		for _, spoil := range []func(map[string]any){
			func(m map[string]any) { m["extra"] = 1 },
			func(m map[string]any) { delete(m, "findings") },
			func(m map[string]any) { m["risewright_answer"] = 2 },
			func(m map[string]any) { m["job"].(map[string]any)["tolerance_mm"] = "0.8" },
		} {
			v, _ := jsonschema.UnmarshalJSON(bytes.NewReader(b))
			spoil(v.(map[string]any))
			if s.Validate(v) == nil {
				t.Errorf("%s: the schema takes a spoilt answer", a.name)
			}
		}
	}
	for _, want := range []string{"released", "not released", "by template"} {
		if !states[want] {
			t.Errorf("no answer had a card in state %q", want)
		}
	}
}

func TestJSONSameBytes(t *testing.T) {
	for i, n := range demo.Names() {
		if !bytes.Equal(text(t, answers(t)[2*i]), text(t, answer(t, n, demoJob(t, n)))) {
			t.Errorf("%s: the same job gave other bytes", n)
		}
	}
}

// TestJSONReadsBack checks that what is written is what WireOf holds, and that
// no figure that is infinite got in as something else.
func TestJSONReadsBack(t *testing.T) {
	infinite := 0
	all := append(slices.Clone(answers(t)), answer(t, "spoilt", demoJob(t, "tapering")))
	// The sketch checks every reading a little, so infinity is put in by hand.
	spoilt := all[len(all)-1].Survey.Checks
	spoilt[0].Smallest = math.Inf(1)
	spoilt[1].Used = false
	for _, a := range all {
		var back report.Wire
		d := json.NewDecoder(bytes.NewReader(text(t, a)))
		d.DisallowUnknownFields()
		if err := d.Decode(&back); err != nil {
			t.Fatalf("%s: %v", a.name, err)
		}
		if w := report.WireOf(a.Answer, a.mending); !reflect.DeepEqual(w, back) { // cmp alone takes seconds
			t.Errorf("%s: changed on its way:\n%s", a.name, cmp.Diff(w, back))
		}
		if a.Survey == nil {
			continue
		}
		for i, c := range a.Survey.Checks {
			got := back.Survey.Checks[i].Smallest
			switch {
			case math.IsInf(c.Smallest, 1) || !c.Used:
				infinite++
				if got != nil {
					t.Errorf("%s: reading %s: smallest %v, want none", a.name, c.Reading, *got)
				}
			case got == nil || *got != c.Smallest:
				t.Errorf("%s: reading %s: smallest %v, want %v", a.name, c.Reading, got, c.Smallest)
			}
		}
	}
	if infinite < 2 {
		t.Errorf("only %d readings without a smallest blunder were tried", infinite)
	}
}

// TestJSONInMillimetres changes the units of a job: what was estimated and what
// becomes of the rises stays the same.
func TestJSONInMillimetres(t *testing.T) {
	all := answers(t)
	for i := 0; i < 2*len(demo.Names()); i += 2 {
		own, other := report.WireOf(all[i].Answer, all[i].mending), report.WireOf(all[i+1].Answer, all[i+1].mending)
		if own.Job.Units == other.Job.Units {
			t.Fatalf("%s: the units are the same", all[i].name)
		}
		if d := cmp.Diff(own.BuildUp, other.BuildUp); d != "" {
			t.Errorf("%s: the build-up depends on the units:\n%s", all[i].name, d)
		}
		for k := range own.Survey.Steps {
			if d := cmp.Diff(own.Survey.Steps[k].Corners, other.Survey.Steps[k].Corners); d != "" {
				t.Errorf("%s step %d: the corners depend on the units:\n%s", all[i].name, k+1, d)
			}
		}
	}
}

func TestJSONRefusedCardHasNoFigures(t *testing.T) {
	a := answer(t, "tapering", demoJob(t, "tapering"))
	at := 1
	c := &a.Cards[at]
	if len(report.WireOf(a.Answer, a.mending).Cards[at].Ops) == 0 {
		t.Fatal("the card has no cuts to begin with")
	}
	c.Proof.OK, c.Proof.Reason, c.Released = false, "made to fail", false
	w := report.WireOf(a.Answer, a.mending).Cards[at]
	if w.State != "refused" || w.Blank != nil || len(w.Ops) > 0 || len(w.Checks) > 0 || len(w.Turned) > 0 || w.Released || w.Proof.Worst != nil {
		t.Errorf("a refused card still shows %+v", w)
	}
	if w.Why != "made to fail" || w.Proof.Reason != "made to fail" {
		t.Errorf("the reason is %q, %q", w.Why, w.Proof.Reason)
	}
}

// TestSchemaNamesEveryField walks the wire structs and the schema side by side:
// the same fields, the same ones required, and types that agree.
func TestSchemaNamesEveryField(t *testing.T) {
	var doc map[string]any
	if err := json.Unmarshal([]byte(assets.AnswerSchema()), &doc); err != nil {
		t.Fatal(err)
	}
	defs := doc["$defs"].(map[string]any)
	visited := map[string]bool{}
	fields, numbers := 0, 0
	resolve := func(s map[string]any) map[string]any {
		ref, ok := s["$ref"].(string)
		if !ok {
			return s
		}
		name := strings.TrimPrefix(ref, "#/$defs/")
		d, ok := defs[name].(map[string]any)
		if !ok {
			t.Fatalf("no $defs %q", name)
		}
		visited[name] = true
		return d
	}
	var walk func(at, name string, typ reflect.Type, s map[string]any, hasUnit bool)
	walk = func(at, name string, typ reflect.Type, s map[string]any, hasUnit bool) {
		s = resolve(s)
		for typ.Kind() == reflect.Pointer {
			typ = typ.Elem()
		}
		want := map[reflect.Kind]string{reflect.String: "string", reflect.Bool: "boolean", reflect.Int: "integer", reflect.Float64: "number",
			reflect.Slice: "array", reflect.Array: "array", reflect.Struct: "object"}[typ.Kind()]
		if list, ok := s["enum"].([]any); ok {
			for _, v := range list {
				if _, text := v.(string); !text || want != "string" {
					t.Errorf("%s: %v in a list of %ss", at, v, want)
				}
			}
		} else if _, fixed := s["const"]; !fixed && s["type"] != want {
			t.Errorf("%s: the schema says %v, the program %s", at, s["type"], want)
		}
		switch want {
		case "number":
			numbers++
			unit := strings.HasSuffix(name, "_mm") || strings.HasSuffix(name, "_rad")
			if !unit && !hasUnit && !slices.Contains(unitless, name) {
				t.Errorf("%s: a number whose name does not say its unit", at)
			}
		case "array":
			walk(at+"[]", name, typ.Elem(), s["items"].(map[string]any), hasUnit)
		case "object":
			if s["additionalProperties"] != false {
				t.Errorf("%s: other fields are allowed", at)
			}
			props := s["properties"].(map[string]any)
			_, hasUnit := props["unit"]
			var known, required []string
			for _, f := range reflect.VisibleFields(typ) {
				if f.Anonymous {
					continue
				}
				name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
				if name == "" {
					t.Errorf("%s: %s has no name in the JSON", at, f.Name)
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
				walk(at+"."+name, name, f.Type, p, hasUnit)
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
	walk("answer", "", reflect.TypeFor[report.Wire](), doc, false)
	for name := range defs {
		if !visited[name] {
			t.Errorf("$defs %q is not used", name)
		}
	}
	if fields < 200 || numbers < 80 {
		t.Errorf("only %d fields and %d numbers walked", fields, numbers)
	}
}

// unitless are the numbers that are ratios, unit vectors, or matrices whose
// units the schema tells in words.
var unitless = []string{
	"bright", "dim", "objective", "critical", "redundancy", "normalised_residual", "fall", "value", "spread", "cost",
	"covariance", "covariance_with_step_below", "normal", "x", "y", "z",
}
