package model_test

import (
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"risewright/model"
)

// TestLightingValidate: nothing wrong in none and in the first; each spoilt
// value is refused by its field.
func TestLightingValidate(t *testing.T) {
	if got := (model.Lighting{}).Validate(); len(got) > 0 {
		t.Errorf("no lighting: %v", got)
	}
	if (model.Lighting{}).On() {
		t.Error("the zero lighting is on")
	}
	first := model.FirstLighting(model.Job{}, model.LightTables{})
	if got := first.Validate(); len(got) > 0 {
		t.Errorf("the first lighting: %v", got)
	}
	nan := math.NaN()
	for _, c := range []struct {
		field string
		set   func(*model.Lighting)
	}{
		{"setback", func(l *model.Lighting) { l.Setback = model.Length(nan) }},
		{"box.y", func(l *model.Lighting) { l.Box.Y = model.Length(math.Inf(1)) }},
		{"celsius", func(l *model.Lighting) { l.Warmth = 1e6 }},
		{"drop", func(l *model.Lighting) { l.Drop = -0.1 }},
		{"cavity", func(l *model.Lighting) { l.Cavity = "middle" }},
		{"feed", func(l *model.Lighting) { l.Feed = "all over" }},
		{"supply", func(l *model.Lighting) { l.Supply = strings.Repeat("x", model.MaxText+1) }},
		{"bars.0", func(l *model.Lighting) { l.Bars = []model.BarOwn{{Feed: "none"}} }},
		{"cap", func(l *model.Lighting) { l.Cap = 1.5 }},
		{"frame_rate", func(l *model.Lighting) { l.FrameRate = nan }},
		{"scenes.0.level", func(l *model.Lighting) { l.Scenes = []model.Scene{{Level: 2}} }},
		{"scenes.1.hours", func(l *model.Lighting) { l.Scenes = []model.Scene{{}, {Hours: 25}} }},
		{"scenes.0.kind", func(l *model.Lighting) { l.Scenes = []model.Scene{{Kind: "party"}} }},
		{"scenes.0.pattern", func(l *model.Lighting) { l.Scenes = []model.Scene{{Pattern: "round"}} }},
		{"scenes.0.period", func(l *model.Lighting) { l.Scenes = []model.Scene{{Period: nan}} }},
		{"scenes.0.colours", func(l *model.Lighting) { l.Scenes = []model.Scene{{Colours: []model.Colour{{}, {Blue: 256}}}} }},
		{"scenes.0.colours", func(l *model.Lighting) { l.Scenes = []model.Scene{{Colours: make([]model.Colour, model.MaxColours+1)}} }},
		{"bars.0", func(l *model.Lighting) { l.Bars = []model.BarOwn{{Pixels: model.MaxPixels + 1}} }},
		{"links", func(l *model.Lighting) { l.Links = make([]model.Link, model.MaxRows+1) }},
		{"supplies", func(l *model.Lighting) { l.Supplies = model.MaxRows + 1 }},
		{"own.strips.x.volts", func(l *model.Lighting) {
			l.Own.Strips = []model.StripType{{ID: "x", Volts: model.Rated{Value: -5}}}
		}},
		{"own.wires.x.ohm_per_km", func(l *model.Lighting) {
			l.Own.Wires = []model.WireSize{{ID: "x", OhmPerKM: model.Rated{Value: nan}}}
		}},
		{"own.strips.x.channels", func(l *model.Lighting) { l.Own.Strips = []model.StripType{{ID: "x", Channels: -1}} }},
		{"own.supplies.x", func(l *model.Lighting) { l.Own.Supplies = []model.SupplyClass{{ID: "x"}, {ID: "x"}} }},
		{"own.controllers.x.title", func(l *model.Lighting) {
			l.Own.Controllers = []model.ControllerClass{{ID: "x", Title: strings.Repeat("x", model.MaxText+1)}}
		}},
		{"white_kelvin", func(l *model.Lighting) { l.White = 100 }},
		{"own.fuses.0", func(l *model.Lighting) { l.Own.Fuses = []model.Rated{{Value: -1}} }},
	} {
		l := first
		c.set(&l)
		got := l.Validate()
		if len(got) != 1 || got[0].Where.Field != "lighting."+c.field || got[0].Severity != model.Block || got[0].Remedy == "" {
			t.Errorf("%s: %+v", c.field, got)
		}
	}
}

// TestLightingText: no lighting is no text but the braces, and what is set
// comes back from its text.
func TestLightingText(t *testing.T) {
	text, err := json.Marshal(model.Lighting{})
	if err != nil || string(text) != "{}" {
		t.Errorf("no lighting is written as %s (%v)", text, err)
	}
	l := model.FirstLighting(model.Job{Units: model.Imperial}, model.LightTables{Strips: []model.StripType{{ID: "s"}}})
	l.Enters = []model.ID{model.NamedID(model.ID{}, "a")}
	l.Own.Practice = []model.PracticeValue{{ID: "jump", Title: "j", Unit: "m", Value: model.Rated{Value: 2, Standing: model.Yours, From: "site"}}}
	if text, err = json.Marshal(l); err != nil {
		t.Fatal(err)
	}
	var back model.Lighting
	d := json.NewDecoder(strings.NewReader(string(text)))
	d.DisallowUnknownFields()
	if err := d.Decode(&back); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(l, back) {
		t.Errorf("%+v came back as %+v", l, back)
	}
}

// TestLightingIsAnEdit: kept in the file, undone whole, and refused by field.
func TestLightingIsAnEdit(t *testing.T) {
	j := plainJob(4)
	l := model.FirstLighting(j, model.LightTables{Strips: []model.StripType{{ID: "s"}}})
	l.Enters = []model.ID{j.Flight.Steps[0].ID}
	out, err := model.SetLighting{Lighting: l}.Apply(j)
	if err != nil {
		t.Fatal(err)
	}
	l.Enters[0] = model.ID{}
	if out.Lighting.Enters[0] != j.Flight.Steps[0].ID || j.Lighting.On() {
		t.Error("the edit shares its lists, or changed the old job")
	}
	text, err := model.Encode(out)
	if err != nil {
		t.Fatal(err)
	}
	back, err := model.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(back.Lighting, out.Lighting) {
		t.Errorf("%+v came back as %+v", out.Lighting, back.Lighting)
	}
	if err := meets(jobSchema(t), string(text)); err != nil {
		t.Error(err)
	}
	l.Cap = 2
	if _, err := (model.SetLighting{Lighting: l}).Apply(j); err == nil || !strings.Contains(err.Error(), "cap") {
		t.Errorf("a cap of 2 is taken: %v", err)
	}
}

// TestSceneShare: what a scene takes of a pixel's full current, by hand.
func TestSceneShare(t *testing.T) {
	for _, c := range []struct {
		name     string
		scene    model.Scene
		channels int
		want     float64
	}{
		{"white", model.Scene{}, 4, 1},
		{"one channel of four", model.Scene{Channels: 1}, 4, 0.25},
		{"more channels than there are", model.Scene{Channels: 5}, 4, 1},
		{"red on three", model.Scene{Colours: []model.Colour{{Red: 255}}}, 3, 1.0 / 3},
		{"the colour that takes most", model.Scene{Channels: 1, Colours: []model.Colour{{Red: 255}, {Red: 255, Blue: 51}}}, 4, 1.2 / 4},
		{"white channel on three", model.Scene{Colours: []model.Colour{{White: 255}}}, 3, 0},
		{"a colour on a strip of one white", model.Scene{Colours: []model.Colour{{Red: 51, Green: 102}}}, 1, 0.4},
		{"off", model.Scene{Kind: model.SceneOff}, 4, 0},
		{"black", model.Scene{Colours: []model.Colour{{}}}, 4, 0},
	} {
		if got := c.scene.Share(c.channels); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: %g, want %g", c.name, got, c.want)
		}
	}
	if model.SceneKind("").Of() != model.Steady || model.ScenePattern("").Of() != model.Still {
		t.Error("empty words count as something else")
	}
}
