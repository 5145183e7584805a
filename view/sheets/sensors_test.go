package sheets_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"risewright/app/demo"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/sensing"
	"risewright/view/drawing/pdf"
	"risewright/view/sheets"
)

// sensed is a solved job with what its sensors see.
type sensed struct {
	a *solver.Answer
	r sensing.Result
}

// seeing are demo jobs with sensors, in many ways of hanging and of going
// wrong.
var seeing = sync.OnceValues(func() (map[string]*sensed, error) {
	ds, err := demo.Jobs()
	if err != nil {
		return nil, err
	}
	t, err := tables.Published()
	if err != nil {
		return nil, err
	}
	out := map[string]*sensed{}
	for _, c := range []struct {
		name, job string
		units     model.Units
		change    func(*model.Job)
	}{
		{"first metric", "tapering", model.Metric, nil},
		{"first imperial", "tapering", model.Imperial, nil},
		{"winding", "winding", model.Metric, nil},
		{"every mount", "tapering", model.Imperial, func(j *model.Job) {
			s := &j.Sensing.Sensors
			(*s)[0].Mount, (*s)[0].Below = model.WallLeft, 400
			(*s)[1].Yaw, (*s)[1].Hood = 12.5*model.Degree, model.Hood{Bore: 12, Depth: 20}
			(*s)[2].Mask, (*s)[2].Tilt = model.Mask{Left: 20 * model.Degree, Down: 10 * model.Degree}, -5*model.Degree
			for i, m := range []model.Mount{model.OnPost, model.OnBox, model.OnCeiling, model.WallRight, model.RailRight} {
				*s = append(*s, model.Sensor{ID: model.NamedID(j.ID, fmt.Sprint("paper sensor ", i)), Name: "at " + string(m), Class: "spot", Mount: m,
					Along: 4, Below: 300, At: model.Point{X: 300, Y: model.Length(700 + 600*i), Z: model.Length(2000 + 300*i)}, Tilt: 80 * model.Degree})
			}
			j.Sensing.Control = model.FirstControl()
			j.Sensing.Control.Hold, j.Sensing.Control.Hall = 3.5, true
			j.Sensing.Passers = []model.Passer{{ID: model.NamedID(j.ID, "cat"), Name: "the cat", Kind: model.PetPasses, Path: []model.Corner{{X: -800, Y: -500}, {X: 1500, Y: -500}}}}
			j.Sensing.Warm = []model.WarmThing{{ID: model.NamedID(j.ID, "vent"), Name: "floor vent", Kind: model.Vent, Low: model.Point{X: 100, Y: -600}, High: model.Point{X: 400, Y: -400, Z: 20}}}
		}},
		{"broken", "tapering", model.Metric, func(j *model.Job) {
			s := j.Sensing.Sensors
			s[0].Class, s[1].Removed, s[2].Tilt, s[2].Name = "no such class", true, -80*model.Degree, ""
			s[3].Name = "=" + strings.Repeat("very long name ", 6) + "\U0001F600"
		}},
		{"not to be held", "tapering", model.Metric, func(j *model.Job) {
			j.Sensing.Control = model.FirstControl()
			j.Sensing.Control.Level, j.Sensing.Control.Dim, j.Sensing.Control.Most = 1, 1, 1
		}},
		{"unsolved", "tapering", model.Imperial, func(j *model.Job) { j.Flight.Steps[1].Corners = nil }},
	} {
		for _, d := range ds {
			if d.Name != c.job {
				continue
			}
			j := d.Job
			j.Units = c.units
			j.Flight.Steps = append([]model.Step(nil), j.Flight.Steps...)
			j.Lighting = model.FirstLighting(j, t.Lights)
			j.Sensing = model.FirstSensing(j, t.Senses)
			if c.change != nil {
				c.change(&j)
			}
			a := solver.Solve(j, t)
			out[c.name] = &sensed{a, solver.Sense(a, t, nil)}
		}
	}
	return out, nil
})

func sensors(t *testing.T) map[string]*sensed {
	t.Helper()
	out, err := seeing()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func sensorPapers(t *testing.T, s *sensed, size sheets.Size) []sheets.Paper {
	t.Helper()
	ps := sheets.Sensors(s.a, &s.r, tablesOf(t), metaFor(s.a, size))
	if len(ps) != 2 {
		t.Fatalf("%d papers", len(ps))
	}
	return ps
}

// TestLookAtSensors writes the papers of the sensors for eyes.
func TestLookAtSensors(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write papers for eyes")
	}
	for name, s := range sensors(t) {
		ps := sensorPapers(t, s, sheets.SizeFor(s.a.Job.Units))
		ps = append(ps, sheets.Handover(solver.Plan(s.a, tablesOf(t)), metaFor(s.a, sheets.SizeFor(s.a.Job.Units))))
		for _, p := range ps {
			var b bytes.Buffer
			if err := pdf.Write(&b, p.Pages, pdf.Meta{Title: p.Title, Date: metaFor(s.a, sheets.A4).Date}); err != nil {
				t.Error(err)
			}
			if err := os.WriteFile(filepath.Join(dir, name+" "+p.Name), b.Bytes(), 0o600); err != nil {
				t.Error(err)
			}
		}
	}
}

// TestLayoutOfSensors looks on every page, on both papers, for lettering that
// is cut off or lies over other lettering.
func TestLayoutOfSensors(t *testing.T) {
	for name, s := range sensors(t) {
		for _, size := range []sheets.Size{sheets.A4, sheets.Letter} {
			for _, p := range sensorPapers(t, s, size) {
				checkLayout(t, name+" "+string(size)+" "+p.Name, p.Pages, 5)
			}
		}
	}
}

// TestSensorSheetSays: every sensor has its place, aim and steps on paper, and
// what is wrong is named.
func TestSensorSheetSays(t *testing.T) {
	all := sensors(t)
	text := func(name string, paper int) string { return words(&sensorPapers(t, all[name], sheets.A4)[paper]) }
	for name, want := range map[string][]string{
		"first metric":   {"10 mm below the rail's underside", "square across the stair", "45.0° down", "in front of nose 1", "beyond nose", "common practice, no source", "nothing is said of doors", "small digital module", "never take the place"},
		"every mount":    {"a post", "the ceiling", "left of 20°", "12.5° to its left", "5.0° up", "bore", "straight up the survey's plan", "the cat", "floor vent"},
		"broken":         {"taken away", "not in the table", "sees nothing", "not named"},
		"unsolved":       {"it is not known what the sensors see"},
		"winding":        {"landing", "Every step and both floors are seen"},
		"not to be held": {"sure of"},
	} {
		got := flat(text(name, 0))
		for _, w := range want {
			if w == "left of 20°" { // as it is written there
				w = "left from 20°"
			}
			if w == "Every step and both floors are seen" && len(all[name].r.Blind) > 0 {
				w = "no sensor is sure of"
			}
			if !strings.Contains(got, flat(w)) {
				t.Errorf("%s: not on the sheet: %q", name, w)
			}
		}
	}
	for i := range all["first metric"].r.Zones {
		z := &all["first metric"].r.Zones[i]
		if n := strings.Count(flat(text("first metric", 0)), flat(z.Name)); n < 4 {
			t.Errorf("sensor %s is named %d times: place, aim, steps and band are wanted", z.Name, n)
		}
	}
}

// TestPlaceFromANose: by hand. A sensor half a step before the first nose is half
// the first going in front of it, and one at a whole step is plumb over its nose.
func TestPlaceFromANose(t *testing.T) {
	s := sensors(t)["first metric"]
	j := s.a.Job
	j.Sensing.Sensors = append([]model.Sensor(nil), j.Sensing.Sensors...)
	j.Sensing.Sensors[0].Along, j.Sensing.Sensors[1].Along = -0.5, 4
	a := solver.Solve(j, tablesOf(t))
	r := solver.Sense(a, tablesOf(t), nil)
	text := flat(words(&sheets.Sensors(a, &r, tablesOf(t), metaFor(a, sheets.A4))[0]))
	half := fmt.Sprintf("%.0f mm in front of nose 1", r.Stair.Going[0]/2)
	for _, want := range []string{half, "plumb over nose 5", "-0.50", "4.00"} {
		if !strings.Contains(text, flat(want)) {
			t.Errorf("not on the sheet: %q", want)
		}
	}
}

// TestSlits: by hand. Half a ball of 10 mm taped at 30° on both sides leaves a
// slit of half its width, said once for all lenses alike.
func TestSlits(t *testing.T) {
	s := sensors(t)["first metric"]
	j := s.a.Job
	j.Sensing.Sensors = append([]model.Sensor(nil), j.Sensing.Sensors...)
	for i := range j.Sensing.Sensors {
		j.Sensing.Sensors[i].Mask = model.Mask{Left: 30 * model.Degree, Right: 30 * model.Degree}
	}
	a := solver.Solve(j, tablesOf(t))
	r := solver.Sense(a, tablesOf(t), nil)
	text := flat(words(&sheets.Sensors(a, &r, tablesOf(t), metaFor(a, sheets.A4))[0]))
	if n := strings.Count(text, flat("half a ball and 10.0 mm wide it leaves a slit of 5.0 mm")); n != 1 {
		t.Errorf("the slit is said %d times", n)
	}
}

// TestCommissioningSays: every input, every setting with its standing, and every
// sensor covered in turn; tables that no controller holds are named.
func TestCommissioningSays(t *testing.T) {
	all := sensors(t)
	s := all["first metric"]
	text := flat(words(&sensorPapers(t, s, sheets.A4)[1]))
	for i := range s.r.Zones {
		if want := fmt.Sprintf("RW_PIN_INPUT_%d", i); !strings.Contains(text, flat(want)) {
			t.Errorf("not on paper: %s", want)
		}
	}
	for _, f := range model.ControlFacts() {
		if !strings.Contains(text, flat(f.Title)) {
			t.Errorf("not on paper: the setting %q", f.Title)
		}
	}
	for _, want := range []string{"cover each sensor in turn", "bright: steps 1 to", "first value, from memory", "bars 1 to", "licensed electrician", "switched light on"} {
		if !strings.Contains(text, flat(want)) {
			t.Errorf("not on paper: %q", want)
		}
	}
	// Only the sensor of an end may be missed by whoever comes in: the rules hold
	// for every other one.
	_, table, _ := strings.Cut(text, "going down, under the foot")
	dark := 0
	for i, z := range s.r.Zones {
		_, row, found := strings.Cut(table, fmt.Sprintf("%d %s ", i+1, z.Name))
		if !found {
			t.Fatalf("%s is not covered in turn: %s", z.Name, table)
		}
		row, _, _ = strings.Cut(row, "□ "+fmt.Sprint(i+2))
		if i == len(s.r.Zones)-1 {
			row, _, _ = strings.Cut(row, "worked out")
		}
		if strings.Contains(row, "dark: step") {
			if dark++; i > 0 && i < len(s.r.Zones)-1 {
				t.Errorf("with %s covered a foot is in the dark: %s", z.Name, row)
			}
		}
	}
	if said := strings.Contains(text, "has the sensor mended the same day"); said != (dark > 0) {
		t.Errorf("%d covered sensors leave a step dark, and that it is what the switched light is for is said: %v", dark, said)
	}
	for name, want := range map[string]string{"every mount": "set by you", "not to be held": "the controller cannot hold this stair", "unsolved": "not known what the sensors see", "broken": "was taken away; pull it down"} {
		if got := flat(words(&sensorPapers(t, all[name], sheets.A4)[1])); !strings.Contains(got, flat(want)) {
			t.Errorf("%s: not on paper: %q", name, want)
		}
	}
}

// TestHandoverHasControl: a stair with sensors is handed over with the
// controller's settings and inputs, one without has none of them.
func TestHandoverHasControl(t *testing.T) {
	s := sensors(t)["every mount"]
	m := metaFor(s.a, sheets.A4)
	p := sheets.Handover(solver.Plan(s.a, tablesOf(t)), m)
	checkLayout(t, p.Name, p.Pages, 5)
	text := flat(words(&p))
	for _, want := range []string{"how the controller is set", "lit after the sensor went off", "3.5 s", "set by you", "RW_PIN_INPUT_0", "RW_PIN_LAMP"} {
		if !strings.Contains(text, flat(want)) {
			t.Errorf("not on the hand-over sheet: %q", want)
		}
	}
	if ps := sheets.Sensors(answers(t)["unfinished imperial"], nil, tablesOf(t), m); ps != nil {
		t.Errorf("%d papers of no sensors", len(ps))
	}
}
