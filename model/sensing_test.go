package model_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"risewright/model"
)

// senseJob is a job with everything set that sensing can hold.
func senseJob() model.Job {
	j := plainJob(14)
	j.Sensing = model.FirstSensing(j, model.SensorTables{Classes: []model.SensorClass{{ID: "small"}}})
	s := &j.Sensing
	s.Sensors = append(s.Sensors, model.Sensor{ID: id("box"), Name: "box", Class: "small", Mount: model.OnBox,
		At: model.Point{X: 100, Y: -500, Z: 300}, Yaw: -0.5, Tilt: 0.2, Hood: model.Hood{Bore: 12, Depth: 25}, Mask: model.Mask{Left: 0.3, Down: -0.1}, Removed: true})
	s.Wish = model.SensorWish{Every: true, Overlap: 1, NoHall: true, Longest: 5, Most: 4, Class: "small", Mounts: []model.Mount{model.RailRight}, Bore: 12}
	s.Passers = []model.Passer{{ID: id("dog"), Name: "dog", Kind: model.PetPasses, Top: true, Path: []model.Corner{{X: -1000, Y: 4000}, {X: 2000, Y: 4000}}, Height: 550}}
	s.Warm = []model.WarmThing{{ID: id("radiator"), Name: "radiator", Kind: model.Radiator, Low: model.Point{X: -900}, High: model.Point{X: -800, Y: 1200, Z: 600}}}
	value := model.Rated{Value: 1, Standing: model.Yours, From: "site"}
	s.Own = model.SensorTables{
		Classes: []model.SensorClass{{ID: "mine", Title: "mine", H: model.Rated{Value: 60}, RangeM: value}},
		Bodies: []model.BodySize{{ID: "me", Title: "me", Age: model.Adult, Stature: model.Rated{Value: 3}, Shoulder: model.Rated{Value: 2}, Crotch: value,
			Breadth: value, Chest: value, Hip: value, LegDeep: value, HeadWide: value, HeadDeep: value}},
		Paces:    []model.StairPace{{ID: "me", Title: "me", Age: model.Adult, Up: value, Down: value, Least: value, Most: value, Level: value}},
		Practice: []model.PracticeValue{{ID: "seen", Title: "seen", Unit: "share", Value: value}},
	}
	return j
}

// TestSensingText: what is set comes back from its file, and meets the schema;
// no sensing is not written at all.
func TestSensingText(t *testing.T) {
	j := senseJob()
	text := encoded(t, j)
	back, err := model.Decode([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(j.Sensing, back.Sensing); d != "" {
		t.Error(d)
	}
	if err := meets(jobSchema(t), text); err != nil {
		t.Error(err)
	}
	if strings.Contains(encoded(t, plainJob(4)), `"sensing"`) {
		t.Error("no sensing is written")
	}
}

// TestSensingValidate: each spoilt value is refused by its field, by the
// program and by the schema where a schema can see it.
func TestSensingValidate(t *testing.T) {
	if got := senseJob().Sensing.Validate(); len(got) > 0 {
		t.Fatalf("the good one: %+v", got)
	}
	nan := math.NaN()
	for _, c := range []struct {
		field string
		set   func(*model.Sensing)
	}{
		{"sensors.0.id", func(s *model.Sensing) { s.Sensors[0].ID = model.ID{} }},
		{"sensors.1.id", func(s *model.Sensing) { s.Sensors[1].ID = s.Sensors[0].ID }},
		{"passers.0.id", func(s *model.Sensing) { s.Passers[0].ID = s.Sensors[0].ID }},
		{"sensors.0.name", func(s *model.Sensing) { s.Sensors[0].Name = strings.Repeat("x", model.MaxText+1) }},
		{"sensors.0.mount", func(s *model.Sensing) { s.Sensors[0].Mount = "string" }},
		{"sensors.0.along", func(s *model.Sensing) { s.Sensors[0].Along = nan }},
		{"sensors.0.at", func(s *model.Sensing) { s.Sensors[0].Below = model.Length(math.Inf(1)) }},
		{"sensors.0.yaw", func(s *model.Sensing) { s.Sensors[0].Yaw = 7 }},
		{"sensors.0.tilt", func(s *model.Sensing) { s.Sensors[0].Tilt = 2 }},
		{"sensors.0.hood", func(s *model.Sensing) { s.Sensors[0].Hood.Depth = -1 }},
		{"sensors.0.mask", func(s *model.Sensing) { s.Sensors[0].Mask.Up = 2 }},
		{"sensors", func(s *model.Sensing) { s.Sensors = make([]model.Sensor, model.MaxSensors+1) }},
		{"passers.0.kind", func(s *model.Sensing) { s.Passers[0].Kind = "ghost" }},
		{"passers.0.path", func(s *model.Sensing) { s.Passers[0].Path = s.Passers[0].Path[:1] }},
		{"passers.0.path", func(s *model.Sensing) { s.Passers[0].Kind = model.DoorSwings }},
		{"passers.0.path", func(s *model.Sensing) { s.Passers[0].Path[0].X = model.Length(nan) }},
		{"passers.0.height", func(s *model.Sensing) { s.Passers[0].Height = -1 }},
		{"warm.0.kind", func(s *model.Sensing) { s.Warm[0].Kind = "cat" }},
		{"warm.0", func(s *model.Sensing) { s.Warm[0].Low.X = 10 }},
		{"wish.overlap", func(s *model.Sensing) { s.Wish.Overlap = -1 }},
		{"wish.longest", func(s *model.Sensing) { s.Wish.Longest = -1 }},
		{"wish.most", func(s *model.Sensing) { s.Wish.Most = model.MaxSensors + 1 }},
		{"wish.mounts.0", func(s *model.Sensing) { s.Wish.Mounts[0] = "string" }},
		{"wish.bore", func(s *model.Sensing) { s.Wish.Bore = -2 }},
		{"own.classes.mine", func(s *model.Sensing) { s.Own.Classes[0].H.Value = 180 }},
		{"own.bodies.me", func(s *model.Sensing) { s.Own.Bodies[0].Age = "wise" }},
		{"own.paces.me", func(s *model.Sensing) { s.Own.Paces[0].Up.Value = 2 }},
		{"own.practice.seen", func(s *model.Sensing) { s.Own.Practice[0].Value.Value = nan }},
	} {
		j := senseJob()
		c.set(&j.Sensing)
		got := j.Sensing.Validate()
		if len(got) != 1 || got[0].Where.Field != "sensing."+c.field || got[0].Severity != model.Block || got[0].Remedy == "" {
			t.Errorf("%s: %+v", c.field, got)
		}
		if _, err := (model.SetSensing{Sensing: j.Sensing}).Apply(senseJob()); err == nil {
			t.Errorf("%s: the edit takes it", c.field)
		}
	}
}

// TestSensorEdits applies each edit, looks at what it did, and at the old job,
// which must not have changed.
func TestSensorEdits(t *testing.T) {
	first := senseJob().Sensing.Sensors[0]
	box := id("box")
	other := first
	other.ID, other.Name = id("other"), "other"
	move, aim := model.MoveOf(first), model.AimOf(first)
	move.Along, move.Below, move.At = 3.5, 20, model.Point{X: 9}
	aim.Yaw, aim.Mask.Left = 0.25, 0.5
	boxMove := model.MoveSensor{ID: box, At: model.Point{X: 7, Y: 8, Z: 9}, Along: 3}
	find := func(j model.Job, id model.ID) model.Sensor {
		if i := j.Sensing.Sensor(id); i >= 0 {
			return j.Sensing.Sensors[i]
		}
		return model.Sensor{}
	}
	labels, named := map[string]bool{}, map[string]string{}
	for _, c := range []struct {
		name string
		edit model.Edit
		ok   func(model.Job) bool
	}{
		{"add", model.AddSensor{Sensor: other}, func(j model.Job) bool { return reflect.DeepEqual(find(j, other.ID), other) }},
		{"set", model.SetSensor{Sensor: model.Sensor{ID: first.ID, Name: "new", Mount: model.OnPost}}, func(j model.Job) bool { return find(j, first.ID).Name == "new" }},
		{"move", move, func(j model.Job) bool {
			s := find(j, first.ID)
			return s.Along == 3.5 && s.Below == 20 && s.At == model.Point{} && s.Tilt == first.Tilt
		}},
		{"move box", boxMove, func(j model.Job) bool { s := find(j, box); return s.At == boxMove.At && s.Along == 0 }},
		{"aim", aim, func(j model.Job) bool {
			s := find(j, first.ID)
			return s.Yaw == 0.25 && s.Mask.Left == 0.5 && s.Along == first.Along
		}},
		{"away", model.RemoveSensor{ID: first.ID}, func(j model.Job) bool { return find(j, first.ID).Removed }},
		{"back", model.RemoveSensor{ID: box, Back: true}, func(j model.Job) bool { return !find(j, box).Removed }},
		{"delete", model.DeleteSensor{ID: first.ID}, func(j model.Job) bool { return j.Sensing.Sensor(first.ID) < 0 }},
		{"wish", model.SetSensorWish{Wish: model.SensorWish{Most: 3}}, func(j model.Job) bool { return j.Sensing.Wish.Most == 3 }},
		{"traffic", model.SetTraffic{}, func(j model.Job) bool { return len(j.Sensing.Passers)+len(j.Sensing.Warm) == 0 }},
		{"all", model.SetSensing{}, func(j model.Job) bool { return !j.Sensing.On() }},
	} {
		before := senseJob()
		after, err := c.edit.Apply(before)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if !c.ok(after) {
			t.Errorf("%s: gives %+v", c.name, after.Sensing)
		}
		if d := cmp.Diff(before.Sensing, senseJob().Sensing); d != "" {
			t.Errorf("%s changed the old job: %s", c.name, d)
		}
		labels[c.edit.Label()] = true
		named[c.name] = model.LabelOf(c.edit, before, after)
	}
	for name, want := range map[string]string{"add": "add sensor other", "set": "change sensor bottom", "move": "move sensor bottom", "move box": "move sensor box",
		"aim": "aim sensor bottom", "away": "take sensor bottom away", "back": "put sensor box back", "delete": "delete sensor bottom", "wish": "change what sensors are to see"} {
		if named[name] != want {
			t.Errorf("%s is called %q, not %q", name, named[name], want)
		}
	}
	if len(labels) != 10 { // both moves are called the same
		t.Errorf("labels: %v", labels)
	}
	for name, e := range map[string]model.Edit{
		"add one that is there": model.AddSensor{Sensor: first}, "move none": model.MoveSensor{ID: id("none")},
		"aim none": model.AimSensor{ID: id("none")}, "delete none": model.DeleteSensor{ID: id("none")},
		"remove none": model.RemoveSensor{ID: id("none")}, "aim past the floor": model.AimSensor{ID: first.ID, Tilt: 3},
	} {
		before := senseJob()
		after, err := e.Apply(before)
		if err == nil || cmp.Diff(before.Sensing, after.Sensing) != "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}
