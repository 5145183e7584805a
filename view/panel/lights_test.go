package panel_test

import (
	"math/rand/v2"
	"os"
	"reflect"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"risewright/app/tables"
	"risewright/model"
	"risewright/view/canvas"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/lights"
)

const lightsTab = 5

// litJob is a demo job with light bars of usual sizes.
func litJob(t testing.TB, name string) model.Job {
	t.Helper()
	tb, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	j := demoJob(t, name)
	j.Lighting = model.FirstLighting(j, tb.Lights)
	return j
}

// settled runs what waits, and what that asks for.
func (r *rig) settled() {
	r.t.Helper()
	for range 5 {
		r.run()
	}
	if len(r.later) != 0 {
		r.t.Fatalf("%d things still wait", len(r.later))
	}
}

// grip returns where a drawing shows a grip of the lights, in pixels.
func (r *rig) grip(c *canvas.Canvas, k lights.GripKind) drawing.Point {
	r.t.Helper()
	a := r.s.Answer()
	place := lights.Plan(handle.Options{})
	if c == r.b.Section {
		place = lights.Section(a, handle.Options{Cut: r.d.View().Cut})
	}
	for _, g := range lights.Grips(a, place, lights.Options{Grips: true}) {
		if g.Kind == k {
			return c.View().Pixel(g.At)
		}
	}
	r.t.Fatalf("no grip of kind %d", k)
	return drawing.Point{}
}

func TestLightBarsArePutInAndTakenOut(t *testing.T) {
	r := newRig(t, demoJob(t, "tapering"))
	r.b.ShowTab(lightsTab)
	if len(r.later) != 0 {
		t.Error("something is worked out for a job without lighting")
	}
	if s := shown(r); !strings.Contains(s, "licensed person") {
		t.Error("the caution is not shown")
	}
	r.tapText("Put in light bars")
	if !r.s.Job().Lighting.On() || r.s.Answer().Power == nil {
		t.Fatal("no lighting")
	}
	r.settled()
	for _, f := range r.s.Answer().Power.Findings {
		if f.Severity >= model.Outside {
			t.Errorf("what is put in does not hold: %s", f.Title)
		}
	}
	if s := shown(r); !strings.Contains(s, "Everything at full white") {
		t.Error("full white is not judged")
	}
	if err := r.d.Do(model.SetLighting{Lighting: litJob(t, "tapering").Lighting}); err != nil { // 5 V, which does not
		t.Fatal(err)
	}
	r.settled()
	s := shown(r)
	for _, want := range []string{"Everything at full white", "Breaks first", "buffer bytes do not fit in 2,048", "Take 12 V", "Take 24 V", "walk-through", "never replace"} {
		if !strings.Contains(s, want) {
			t.Errorf("%q is not shown", want)
		}
	}
	r.tapText("Take 12 V")
	if v := r.s.Answer().Power.Supply.Volts.Value; v != 12 {
		t.Errorf("the supply has %g V", v)
	}
	if f := r.s.Answer().Power; f.Scenes[f.Worst].Drop > f.Limit+1e-9 {
		t.Errorf("the wires offered lose %g V of %g", f.Scenes[f.Worst].Drop, f.Limit)
	}
	r.settled()
	r.tapText("Take the light bars out")
	if r.s.Job().Lighting.On() {
		t.Error("still lit")
	}
	for r.s.Undo() {
	}
	r.d.Answered()
	if r.s.Job().Lighting.On() {
		t.Error("undoing everything leaves lighting")
	}
}

func TestLightFieldsChangeTheJob(t *testing.T) {
	r := newRig(t, litJob(t, "tapering"))
	for _, c := range []struct {
		field, typed string
		ok           func(*model.Lighting) bool
	}{
		{"lighting.setback", "8 mm", func(l *model.Lighting) bool { return l.Setback == 8 }},
		{"lighting.drop", "5", func(l *model.Lighting) bool { return l.Drop == 0.05 }},
		{"lighting.cap", "40 %", func(l *model.Lighting) bool { return l.Cap == 0.4 }},
		{"lighting.supplies", "2", func(l *model.Lighting) bool { return l.Supplies == 2 }},
		{"lighting.scenes.0.level", "25", func(l *model.Lighting) bool { return l.Scenes[0].Level == 0.25 }},
		{"lighting.scenes.0.bars", "", func(l *model.Lighting) bool { return l.Scenes[0].Bars == 0 }},
		{"lighting.box.z", "1000 mm", func(l *model.Lighting) bool { return l.Box.Z == 1000 }},
	} {
		before := r.s.Job().Lighting.Scenes[0]
		old := r.s.Answer().Job
		r.d.GoTo(model.Place{Field: c.field})
		r.typed(c.typed)
		r.key(fyne.KeyReturn)
		if l := r.s.Job().Lighting; !c.ok(&l) {
			t.Errorf("%s: %q was not taken: %+v", c.field, c.typed, l)
		}
		if !reflect.DeepEqual(old.Lighting.Scenes[0], before) {
			t.Errorf("%s: the job before was changed as well", c.field)
		}
	}
	for field, bad := range map[string]string{"lighting.cap": "400", "lighting.supplies": "1.5", "lighting.setback": "x", "lighting.scenes.1.level": "-1"} {
		revision := r.s.Job().Lighting.Cap
		r.d.GoTo(model.Place{Field: field})
		r.typed(bad)
		r.key(fyne.KeyReturn)
		if r.text() != bad || r.s.Job().Lighting.Cap != revision {
			t.Errorf("%s: %q was not refused", field, bad)
		}
		r.key(fyne.KeyEscape)
	}
}

// TestFindingsLeadToTheirControls follows every finding of the lighting.
func TestFindingsLeadToTheirControls(t *testing.T) {
	r := newRig(t, litJob(t, "tapering"))
	for _, f := range r.s.Answer().Findings {
		// one about a bar alone leads to its step, like any other
		if strings.HasPrefix(f.Rule, "light.") && f.Where.Field != "" {
			r.b.ShowTab(0)
			r.d.GoTo(f.Where)
			if s := shown(r); !strings.Contains(s, "Volts along the bars") {
				t.Errorf("%s leads elsewhere", f.Rule)
			}
		}
	}
}

// TestVoltsFollowTheBox drags the box in both drawings: during the drag the
// answer shown has other volts, the job has not; dropped, it has.
func TestVoltsFollowTheBox(t *testing.T) {
	r := newRig(t, litJob(t, "tapering"))
	r.b.ShowTab(lightsTab)
	r.settled()
	for _, c := range []*canvas.Canvas{r.b.Plan, r.b.Section} {
		r.frame()
		at := r.grip(c, lights.BoxGrip)
		was, lowest := r.s.Job().Lighting.Box, r.s.Answer().Power.Bars[13].Lowest
		press(c, at)
		before := r.previews
		for range 4 { // more moves than frames
			at = at.Add(drawing.Point{X: 6})
			pull(c, at)
		}
		r.frame()
		if n := r.previews - before; n != 1 {
			t.Errorf("%s: %d solves for a frame", c.Name, n)
		}
		if got := r.d.Answer().Power.Bars[13].Lowest; got == lowest {
			t.Errorf("%s: the volts do not follow", c.Name)
		}
		if r.s.Job().Lighting.Box != was || len(r.later) != 0 {
			t.Errorf("%s: the drag changed the job or asked for more than volts", c.Name)
		}
		release(c, at)
		if r.s.Job().Lighting.Box == was {
			t.Errorf("%s: the box is back", c.Name)
		}
		r.settled()
	}
	// given up, it goes back
	r.frame()
	at := r.grip(r.b.Plan, lights.BoxGrip)
	was := r.s.Job().Lighting.Box
	press(r.b.Plan, at)
	pull(r.b.Plan, at.Add(drawing.Point{X: 20}))
	r.frame()
	r.b.Plan.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	release(r.b.Plan, at)
	if r.s.Job().Lighting.Box != was || r.d.Answer() != r.s.Answer() {
		t.Error("Escape does not put the box back")
	}
}

// TestFeedPointIsDragged moves where the feeder joins the bus up the flight.
func TestFeedPointIsDragged(t *testing.T) {
	r := newRig(t, litJob(t, "tapering"))
	r.b.ShowTab(lightsTab)
	r.settled()
	r.frame()
	c := r.b.Section
	a := r.s.Answer()
	place := lights.Section(a, handle.Options{Cut: r.d.View().Cut})
	at := r.grip(c, lights.EnterGrip)
	to := c.View().Pixel(place(7, a.Bars.Bars[6].Left))
	press(c, at)
	pull(c, to)
	r.frame()
	release(c, to)
	if e := r.s.Job().Lighting.Enters; len(e) != 1 || e[0] != a.Job.Flight.Steps[6].ID {
		t.Errorf("the feeder joins at %v", e)
	}
	if r.s.Answer().Power.Bars[13].Lowest <= a.Power.Bars[13].Lowest {
		t.Error("fed nearer, the last bar has no more volts")
	}
}

// TestBarIsPicked lights a bar by a click in the section, and puts it out.
func TestBarIsPicked(t *testing.T) {
	r := newRig(t, litJob(t, "tapering"))
	click := func(step int) {
		a := r.s.Answer()
		place := lights.Section(a, handle.Options{Cut: r.d.View().Cut})
		at := r.b.Section.View().Pixel(place(step, a.Bars.Bars[step-1].Centre()))
		press(r.b.Section, at)
		release(r.b.Section, at)
	}
	click(6)
	if p := r.d.PickedBars(); len(p) != 0 {
		t.Errorf("%v picked while another tab is at the front", p)
	}
	r.b.ShowTab(lightsTab)
	r.settled()
	r.frame()
	click(6)
	if p := r.d.PickedBars(); len(p) != 1 || p[0] != 6 || r.d.Step() != 6 {
		t.Fatalf("picked %v, step %d", p, r.d.Step())
	}
	click(9)
	click(6)
	if p := r.d.PickedBars(); len(p) != 1 || p[0] != 9 {
		t.Errorf("picked %v", p)
	}
}

// TestLightMapIsWorkedOutOnlyWhenShown also holds that a drag never asks for it.
func TestLightMapIsWorkedOutOnlyWhenShown(t *testing.T) {
	r := newRig(t, litJob(t, "tapering"))
	r.b.ShowTab(lightsTab)
	r.settled()
	r.d.ShowLightMap(true)
	if len(r.later) != 1 {
		t.Fatalf("%d things asked for", len(r.later))
	}
	r.settled()
	if s := shown(r); !strings.Contains(s, "Darkest is") || !strings.Contains(s, "lm a metre") {
		t.Error("the light is not told")
	}
	r.frame()
	c := r.b.Section
	at := r.grip(c, lights.BoxGrip)
	press(c, at)
	for range 3 {
		at = at.Add(drawing.Point{X: 5})
		pull(c, at)
		r.frame()
	}
	if len(r.later) != 0 {
		t.Error("a drag asks for the light map")
	}
	release(c, at)
	r.settled()
	r.b.ShowTab(0)
	r.d.PickBar(3)
	if len(r.later) != 0 {
		t.Error("a map that nobody sees is worked out")
	}
}

// TestLightsHammered drags, clicks, types and undoes at random on a lit job:
// nothing panics, the job can be saved, and undoing gives the first one back.
func TestLightsHammered(t *testing.T) {
	const seed = 11
	ops := 25
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		ops = 250
	}
	t.Logf("seed %d, %d acts", seed, ops)
	rng := rand.New(rand.NewPCG(seed, 3))
	r := newRig(t, litJob(t, "tapering"))
	start, err := model.Encode(r.s.Job())
	if err != nil {
		t.Fatal(err)
	}
	fields := []string{"lighting.setback", "lighting.end_clearance", "lighting.bar_width", "lighting.slack", "lighting.supplies", "lighting.scenes.2.bars", "lighting.own.practice.lumens_metre", "lighting.drop",
		"lighting.bars.length", "lighting.bars.pixels", "lighting.own.strips.rgbw-5v-60.volts", "lighting.own.wires.mm2.5.ohm_per_km", "lighting.own.fuses.1.value", "lighting.scenes.1.name", "lighting.scenes.3.period"}
	texts := []string{"", "0", "-3", "900", "1e6", "2 m", "0.5", "x"}
	canvases := []*canvas.Canvas{r.b.Plan, r.b.Section}
	for range ops {
		c := canvases[rng.IntN(2)]
		switch rng.IntN(7) {
		case 0:
			r.b.ShowTab([]int{lightsTab, lightsTab, 0, 4}[rng.IntN(4)])
		case 1, 2:
			at := drawing.Point{X: rng.Float64() * 300, Y: rng.Float64() * 150}
			if r.s.Answer().Power != nil && rng.IntN(3) > 0 {
				at = r.grip(c, lights.BoxGrip)
			}
			press(c, at)
			for range 2 {
				at = at.Add(drawing.Point{X: rng.Float64()*80 - 40, Y: rng.Float64()*80 - 40})
				pull(c, at)
				r.frame()
			}
			release(c, at)
		case 3:
			r.d.GoTo(model.Place{Field: fields[rng.IntN(len(fields))]})
			r.enter(texts[rng.IntN(len(texts))])
		case 4:
			r.d.PickBar(1 + rng.IntN(16))
			r.d.ShowLightMap(rng.IntN(2) == 0)
		case 5:
			if rng.IntN(2) == 0 {
				r.s.Undo()
			} else {
				r.s.Redo()
			}
			r.d.Answered()
		case 6:
			if n := r.d.Steps(); n > 3 {
				_ = r.d.Do(model.RemoveStep{Step: r.s.Job().Flight.Steps[rng.IntN(n)].ID})
			}
		}
		if rng.IntN(3) == 0 {
			r.run()
		}
		r.frame()
	}
	data, err := model.Encode(r.s.Job())
	if err != nil {
		t.Fatalf("the job cannot be saved: %v", err)
	}
	if _, err := model.Decode(data); err != nil {
		t.Errorf("the job cannot be opened again: %v", err)
	}
	for r.s.Undo() {
	}
	if back, _ := model.Encode(r.s.Job()); string(back) != string(start) {
		t.Error("undoing everything does not give the first job back")
	}
}

// enter types a text where the keyboard is, if that is a field, and enters it.
func (r *rig) enter(text string) {
	if f := r.w.Canvas().Focused(); f != nil {
		if _, ok := f.(interface{ Pending() bool }); ok {
			r.typed(text)
			r.key(fyne.KeyReturn)
		}
	}
}

// BenchmarkBoxDrag is what one move of the dragged box costs on a job of 14
// steps until both drawings are painted again. A 60 Hz frame is 16.7 ms.
func BenchmarkBoxDrag(b *testing.B) {
	r := newRig(b, litJob(b, "tapering"))
	r.b.ShowTab(lightsTab)
	for range 5 {
		r.run()
	}
	r.frame()
	c := r.b.Section
	at := r.grip(c, lights.BoxGrip)
	plan, section := frameOf(b, r.b.Plan), frameOf(b, r.b.Section)
	press(c, at)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		pull(c, at.Add(drawing.Point{X: float64(i % 7), Y: float64(-(i % 11))}))
		plan(1200, 340)
		section(1200, 460)
	}
}

// TestUnsolvedLitJob shows the tab of a job that cannot be solved, and one with
// nothing chosen, without a panic and with a word.
func TestUnsolvedLitJob(t *testing.T) {
	unsolved := litJob(t, "tapering")
	unsolved.Flight.Steps[1].Corners = nil
	bare := litJob(t, "tapering")
	bare.Lighting = model.Lighting{Strip: bare.Lighting.Strip}
	for want, job := range map[string]model.Job{"Not solved": unsolved, "No supply is chosen": bare} {
		r := newRig(t, job)
		r.b.ShowTab(lightsTab)
		r.d.ShowLightMap(true)
		r.settled()
		r.frame()
		if s := shown(r); !strings.Contains(s, want) {
			t.Errorf("%q is not shown", want)
		}
	}
}
