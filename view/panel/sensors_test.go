package panel_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/walk"
	"risewright/view/canvas"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/lights"
	"risewright/view/panel"
	"risewright/view/zones"
)

const sensorsTab = 6

// sensed is a rig on a demo job with its first sensors, their tab at the front.
func sensed(t *testing.T) *rig {
	t.Helper()
	job := demoJob(t, "well-behaved")
	r := newRig(t, job)
	if err := r.d.Do(model.SetSensing{Sensing: model.FirstSensing(r.s.Job(), r.s.Tables().Senses)}); err != nil {
		t.Fatal(err)
	}
	r.b.ShowTab(sensorsTab)
	r.run()
	r.frame()
	return r
}

func encoded(t *testing.T, j model.Job) []byte {
	t.Helper()
	data, err := model.Encode(j)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// gripOf returns where a grip of the sensors is on the plan, in pixels.
func (r *rig) gripOf(t *testing.T, want zones.GripKind, sensor int) (x, y float64) {
	t.Helper()
	v := r.b.Plan.View()
	o := handle.Options{Scale: v.Scale / v.Paper, Exaggerate: 1}
	res := solver.Sense(r.s.Answer(), r.s.Tables(), nil)
	gs := zones.Grips(&res, lights.Plan(o), zones.Options{Scale: o.Scale, Chosen: sensor, Grips: true})
	for _, g := range gs {
		if g.Kind == want && g.Sensor == sensor {
			p := v.Pixel(g.At)
			return p.X, p.Y
		}
	}
	t.Fatalf("there is no grip %v of sensor %d", want, sensor)
	return 0, 0
}

// TestSensorIsDragged: a sensor pulled along the rail moves and its zone with it;
// one undo takes it back to the last byte.
func TestSensorIsDragged(t *testing.T) {
	r := sensed(t)
	before := encoded(t, r.s.Job())
	zone := r.d.Sensed().Zones[2].SureAt
	x, y := r.gripOf(t, zones.SensorGrip, 2)
	at := drawing.Point{X: x, Y: y}
	press(r.b.Plan, at)
	for range 8 {
		at.X += 6
		pull(r.b.Plan, at)
		r.frame()
	}
	if live := r.d.Sensed().Zones[2].SureAt; !(live.From > zone.From) {
		t.Errorf("during the drag the zone is from %.2f, was %.2f", live.From, zone.From)
	}
	release(r.b.Plan, at)
	was, now := demoSensor(t, before, 2), r.s.Job().Sensing.Sensors[2]
	if !(now.Along > was.Along+0.2) {
		t.Errorf("the sensor is at %.2f, was at %.2f", now.Along, was.Along)
	}
	if got := r.d.Sensed().Zones[2].SureAt; !(got.From > zone.From) {
		t.Errorf("its zone is from %.2f, was from %.2f", got.From, zone.From)
	}
	if r.previews != 0 {
		t.Errorf("the whole job was solved %d times for a drag of a sensor", r.previews)
	}
	r.s.Undo()
	r.d.Answered()
	if !bytes.Equal(encoded(t, r.s.Job()), before) {
		t.Error("the undo did not give the job back")
	}
	if got := r.d.Sensed().Zones[2].SureAt; got != zone {
		t.Errorf("after the undo its zone is %v, was %v", got, zone)
	}
}

func demoSensor(t *testing.T, data []byte, i int) model.Sensor {
	t.Helper()
	j, err := model.Decode(data)
	if err != nil {
		t.Fatal(err)
	}
	return j.Sensing.Sensors[i]
}

// TestZoneEndIsDragged: the end of the chosen zone pulled inwards narrows what
// the sensor sees, to the pointer; and what was sensed for the drag is what the
// job gives afresh.
func TestZoneEndIsDragged(t *testing.T) {
	r := sensed(t)
	r.d.ChooseSensor(3)
	zone := r.d.Sensed().Zones[3].SureAt
	x, y := r.gripOf(t, zones.UpperGrip, 3)
	at := drawing.Point{X: x, Y: y}
	press(r.b.Plan, at)
	at.X -= 14
	pull(r.b.Plan, at)
	r.frame()
	release(r.b.Plan, at)
	got := r.d.Sensed().Zones[3].SureAt
	if !(got.To < zone.To-0.1) || math.Abs(got.From-zone.From) > 0.3 {
		t.Errorf("the zone was %v and is %v", zone, got)
	}
	fresh := solver.Sense(r.s.Answer(), r.s.Tables(), nil)
	for i := range fresh.Zones {
		if fresh.Zones[i].SureAt != r.d.Sensed().Zones[i].SureAt {
			t.Errorf("zone %d is %v, afresh %v", i, r.d.Sensed().Zones[i].SureAt, fresh.Zones[i].SureAt)
		}
	}
}

// TestWalkerLightsTheSteps: whoever goes up or down has the step they stand on
// lit, and somewhere else it is dark.
func TestWalkerLightsTheSteps(t *testing.T) {
	r := sensed(t)
	n := r.d.Steps()
	r.d.PutWalker(true)
	r.frame()
	for _, b := range r.d.WalkBars() {
		if b.Level != 0 {
			t.Fatal("bars are lit while nobody is on the stair")
		}
	}
	dark := 0
	walkTo := func(at float64) {
		r.d.MoveWalker(at)
		r.frame()
		bars := r.d.WalkBars()
		if len(bars) != n {
			t.Fatalf("%d bars of %d", len(bars), n)
		}
		if k := walk.Position(at); k >= 1 && k < n && bars[k].Level == 0 {
			t.Errorf("at %.2f the step %d is dark", at, k)
		}
		for i := range bars {
			if bars[i].Level == 0 {
				dark++
			}
		}
	}
	for at := -1.0; at <= float64(n)+0.4; at += 0.25 {
		walkTo(at)
	}
	for at := float64(n) + 0.4; at >= -1; at -= 0.25 {
		walkTo(at)
	}
	if dark == 0 {
		t.Error("every bar was lit all the time: nothing was saved")
	}
	r.d.PutWalker(false)
	if r.d.WalkerAt() != nil {
		t.Error("the walker is still there")
	}
	r.d.PlayWalk(true)
	for i := 0; len(r.later) > 0 && i < 1000; i++ {
		r.run() // frame by frame
	}
	if at := r.d.WalkerAt(); at == nil || *at < float64(n) {
		t.Errorf("a walk that was played ended at %v", at)
	}
}

// TestSensorTakenAway: the place is kept, the rules are made anew, and putting it
// back gives the zones back.
func TestSensorTakenAway(t *testing.T) {
	r := sensed(t)
	before := r.d.Sensed().Zones[2].SureAt
	id := r.s.Job().Sensing.Sensors[2].ID
	if err := r.d.Do(model.RemoveSensor{ID: id}); err != nil {
		t.Fatal(err)
	}
	r.frame()
	if z := &r.d.Sensed().Zones[2]; !z.Removed || z.Sure.Len() != 0 {
		t.Errorf("the sensor that was taken away still sees %v", z.Sure)
	}
	r.d.PutWalker(true)
	for at := -1.0; at <= float64(r.d.Steps()); at += 0.5 {
		r.d.MoveWalker(at)
	}
	if len(r.d.WalkBars()) != r.d.Steps() {
		t.Error("without one sensor there are no bars")
	}
	if err := r.d.Do(model.RemoveSensor{ID: id, Back: true}); err != nil {
		t.Fatal(err)
	}
	if got := r.d.Sensed().Zones[2].SureAt; got != before {
		t.Errorf("put back it sees %v, before %v", got, before)
	}
}

// TestPlacesAreFound and used.
func TestPlacesAreFound(t *testing.T) {
	r := sensed(t)
	if err := r.d.Do(model.SetSensorWish{Wish: model.SensorWish{Every: true, Overlap: 1}}); err != nil {
		t.Fatal(err)
	}
	r.d.FindPlaces()
	r.run()
	n := r.d.Placed()
	if n < 2 {
		t.Fatalf("%d sensors were placed", n)
	}
	r.tapText("Use these")
	if got := len(r.s.Job().Sensing.Sensors); got != n {
		t.Errorf("the job has %d sensors, %d were found", got, n)
	}
	if blind := r.d.Sensed().Blind; len(blind) != 0 {
		t.Errorf("blind with the places found: %v", blind)
	}
}

// TestDaysAreCompared: the same arrangement twice gives the same scores, and one
// without half of its sensors does not.
func TestDaysAreCompared(t *testing.T) {
	r := sensed(t)
	r.d.FewWalks(5)
	r.d.KeepA()
	r.d.RunDays()
	r.run()
	days := r.d.Days()
	if len(days) != 2 || days[0].Err != nil || days[1].Err != nil {
		t.Fatalf("outcomes: %+v", days)
	}
	if days[0].Score != days[1].Score || days[0].Score.Footfalls == 0 {
		t.Errorf("the same stair twice: %+v and %+v", days[0].Score, days[1].Score)
	}
	for i := range r.s.Job().Sensing.Sensors {
		if i%2 == 1 {
			if err := r.d.Do(model.RemoveSensor{ID: r.s.Job().Sensing.Sensors[i].ID}); err != nil {
				t.Fatal(err)
			}
		}
	}
	r.d.RunDays()
	r.run()
	other := r.d.Days()
	if len(other) != 2 || other[0].Score != days[0].Score {
		t.Fatal("arrangement A walked differently the second time")
	}
	if other[1].Score == days[1].Score {
		t.Error("without half of its sensors the stair scores the same")
	}
	if other[1].Score.Footfalls != days[1].Score.Footfalls {
		t.Errorf("other walkers: %d feet against %d", other[1].Score.Footfalls, days[1].Score.Footfalls)
	}
}

// Every sensor, and the box, lies in sight of a fitted drawing, with room for its
// mark, also where no rail or ceiling has been measured.
func TestSensorsAreInSight(t *testing.T) {
	r := newRig(t, smallJob(t, 14))
	r.b.ShowTab(lightsTab)
	r.tapText("Put in light bars")
	r.b.ShowTab(sensorsTab)
	r.tapText("Put in sensors")
	r.run()
	r.frame()
	for _, c := range []*canvas.Canvas{r.b.Plan, r.b.Section} {
		n, within := 0, func(what string, at drawing.Point) {
			px := c.View().Pixel(at)
			if w, h := float64(c.Size().Width)*density, float64(c.Size().Height)*density; px.X < 0 || px.Y < 0 || px.X > w || px.Y > h {
				t.Errorf("%s: %s lies at %.0f, %.0f of %.0f by %.0f", c.Name, what, px.X, px.Y, w, h)
			}
		}
		v := c.View()
		o := handle.Options{Scale: v.Scale / v.Paper, Exaggerate: 1}
		place := lights.Plan(o)
		if c == r.b.Section {
			place = lights.Section(r.s.Answer(), o)
		}
		within("the box", place(0, lights.BoxOf(r.s.Answer())))
		for _, g := range zones.Grips(r.d.Sensed(), place, zones.Options{Scale: o.Scale, Grips: true}) {
			if g.Kind == zones.SensorGrip {
				n++
				within(fmt.Sprintf("sensor %d", g.Sensor+1), g.At)
			}
		}
		if n < 3 {
			t.Errorf("%s: %d sensors", c.Name, n)
		}
	}
}

// With somebody on it a stair may come to have no first tread that can be made:
// nobody can be walked on it then, no sensor is judged, and once mended all is as
// before.
func TestAWalkerOnAStairThatComesUndone(t *testing.T) {
	r := sensed(t)
	r.d.PutWalker(true)
	r.frame()
	before, found := r.d.WalkBars(), r.d.Findings()
	overlay := r.s.Job().Overlay
	overlay.Fit = 500 // off each end of treads 900 mm wide
	if err := r.d.Do(model.SetOverlay{Overlay: overlay}); err != nil {
		t.Fatal(err)
	}
	if r.d.Sensed().Stair != nil {
		t.Fatal("treads of no width make a stair to walk on")
	}
	r.d.RunDays()
	r.tapText("Walk up")
	r.run()
	r.frame()
	for _, f := range r.d.Findings() {
		if strings.HasPrefix(f.Rule, "sensing.") || strings.HasPrefix(f.Rule, "walk.") {
			t.Errorf("without a stair it is said that %s", f.Title)
		}
	}
	if r.d.Days() != nil {
		t.Error("people walked where there is no stair")
	}
	r.s.Undo()
	r.d.Answered()
	r.run()
	r.frame()
	r.b.ShowTab(0)
	r.b.ShowTab(sensorsTab)
	r.d.PutWalker(true)
	if got := r.d.WalkBars(); len(got) == 0 || !slices.Equal(got, before) {
		t.Errorf("mended, the bars are %v, not %v", got, before)
	}
	if got := r.d.Findings(); !slices.Equal(got, found) {
		t.Errorf("mended, %d findings, not %d", len(got), len(found))
	}
}

// TestSensorFindings: what is found about the sensors stands in the list with the
// rest, said once for all sensors of which it is true; each leads to its control;
// and nothing of it is worked out while a sensor is dragged.
func TestSensorFindings(t *testing.T) {
	r := newRig(t, demoJob(t, "well-behaved"))
	if got, own := r.d.Findings(), r.s.Answer().Findings; !slices.Equal(got, own) || len(r.later) > 0 {
		t.Errorf("without sensors there are %d findings, %d of the answer, and %d things to work out", len(got), len(own), len(r.later))
	}
	s := model.FirstSensing(r.s.Job(), r.s.Tables().Senses)
	for i := range s.Sensors {
		s.Sensors[i].Class = "wide-dome"
	}
	s.Sensors[0].Yaw = 170 * model.Degree
	s.Sensors[2].Class = "no such class"
	if err := r.d.Do(model.SetSensing{Sensing: s}); err != nil {
		t.Fatal(err)
	}
	if slices.ContainsFunc(r.d.Findings(), func(f model.Finding) bool { return strings.HasPrefix(f.Rule, "sensing.") }) {
		t.Error("the sensors were looked at on the goroutine of the interface")
	}
	r.run()
	r.frame()
	fs := r.d.Findings()
	count := map[string]int{}
	for i, f := range fs {
		count[f.Rule]++
		if i > 0 && f.Severity > fs[i-1].Severity {
			t.Errorf("%q comes after what is less bad", f.Title)
		}
		if !strings.HasPrefix(f.Rule, "sensing.") && !strings.HasPrefix(f.Rule, "walk.") {
			continue
		}
		r.b.ShowTab(0)
		r.d.Canvas.Focus(nil)
		r.d.GoTo(f.Where)
		r.frame()
		if r.w.Canvas().Focused() == nil {
			t.Errorf("%q, at %s, leads to nothing", f.Title, f.Where.Field)
		}
		var at int
		if n, _ := fmt.Sscanf(f.Where.Field, "sensing.sensors.%d", &at); n == 1 && r.d.Sensor() != at {
			t.Errorf("%q leads to sensor %d, not %d", f.Title, r.d.Sensor(), at)
		}
		if !strings.Contains(shown(r), model.Capital(f.Title)) {
			t.Errorf("the list does not show %q", f.Title)
		}
	}
	if count["sensing.block"] != 1 || count["sensing.class"] != 1 || count["walk.lockout"] != 0 {
		t.Errorf("findings by rule: %v", count)
	}
	if text, where := panel.NextStep(r.s.Answer(), fs); !strings.Contains(text, "see Sensors") || !strings.HasPrefix(where.Field, "sensing.") {
		t.Errorf("what comes next is %q at %+v", text, where)
	}
	r.b.ShowTab(sensorsTab)
	r.run()
	r.frame()
	x, y := r.gripOf(t, zones.SensorGrip, 4)
	press(r.b.Plan, drawing.Point{X: x, Y: y})
	pull(r.b.Plan, drawing.Point{X: x + 9, Y: y})
	r.frame()
	if got := r.d.Findings(); &got[0] != &fs[0] || len(r.later) > 0 {
		t.Error("findings were worked out during a drag")
	}
	r.b.Plan.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
}

// thingGrip returns where a grip of a thing is on the plan, in pixels.
func (r *rig) thingGrip(t *testing.T, thing, point int) drawing.Point {
	t.Helper()
	v := r.b.Plan.View()
	h := handle.Options{Scale: v.Scale / v.Paper, Exaggerate: 1}
	job := r.s.Job()
	for _, g := range zones.ThingGrips(&job.Sensing, &h, zones.Options{Scale: h.Scale, Grips: true}) {
		if g.Thing == thing && g.Point == point {
			return v.Pixel(g.At)
		}
	}
	t.Fatalf("there is no grip %d of thing %d", point, thing)
	return drawing.Point{}
}

// TestThingsAreDragged: whoever passes, a door and what warms are moved in the
// plan, each drag one step back; Escape puts them back; and what the sensors see
// of them during the drag is what the job gives afresh.
func TestThingsAreDragged(t *testing.T) {
	r := sensed(t)
	for _, b := range []string{"Somebody in the hall", "A door", "A radiator"} {
		r.tapText(b)
	}
	r.frame()
	x := r.s.Job().Sensing
	if len(x.Passers) != 2 || len(x.Warm) != 1 {
		t.Fatalf("%d passers, %d warm things", len(x.Passers), len(x.Warm))
	}
	for _, row := range []struct {
		name         string
		thing, point int
		moved        func(a, b *model.Sensing) bool
	}{
		{"an end of a way", 0, 1, func(a, b *model.Sensing) bool {
			return b.Passers[0].Path[0] == a.Passers[0].Path[0] && b.Passers[0].Path[1] != a.Passers[0].Path[1]
		}},
		{"a whole way", 0, zones.WholeThing, func(a, b *model.Sensing) bool {
			p, q := a.Passers[0].Path, b.Passers[0].Path
			return q[0] != p[0] && math.Abs(float64(q[1].X-q[0].X-p[1].X+p[0].X)) < 1e-6
		}},
		{"the open edge of a door", 1, 2, func(a, b *model.Sensing) bool {
			p, q := a.Passers[1].Path, b.Passers[1].Path
			leaf := func(p []model.Corner, k int) float64 {
				return math.Hypot(float64(p[k].X-p[0].X), float64(p[k].Y-p[0].Y))
			}
			return q[0] == p[0] && q[1] == p[1] && q[2] != p[2] && math.Abs(leaf(q, 2)-leaf(p, 1)) < 0.01
		}},
		{"a door by its hinge", 1, zones.WholeThing, func(a, b *model.Sensing) bool {
			return b.Passers[1].Path[0] != a.Passers[1].Path[0] && b.Passers[1].Path[2] != a.Passers[1].Path[2]
		}},
		{"a corner of a radiator", 2, 1, func(a, b *model.Sensing) bool {
			return b.Warm[0].Low == a.Warm[0].Low && b.Warm[0].High != a.Warm[0].High && b.Warm[0].High.Z == a.Warm[0].High.Z
		}},
		{"a radiator", 2, zones.WholeThing, func(a, b *model.Sensing) bool { return b.Warm[0].Low != a.Warm[0].Low }},
	} {
		before := encoded(t, r.s.Job())
		was := r.s.Job().Sensing
		at := r.thingGrip(t, row.thing, row.point)
		press(r.b.Plan, at)
		for range 5 {
			at = at.Add(drawing.Point{X: 5, Y: 3})
			pull(r.b.Plan, at)
			r.frame()
		}
		fresh := solver.Sense(r.d.Answer(), r.s.Tables(), nil)
		if !slices.Equal(fresh.Triggers, r.d.Sensed().Triggers) {
			t.Errorf("%s: during the drag %v, afresh %v", row.name, r.d.Sensed().Triggers, fresh.Triggers)
		}
		if !bytes.Equal(encoded(t, r.s.Job()), before) {
			t.Errorf("%s: the job has changed during the drag", row.name)
		}
		r.b.Plan.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
		release(r.b.Plan, at)
		if !bytes.Equal(encoded(t, r.s.Job()), before) || r.d.Answer() != r.s.Answer() {
			t.Errorf("%s: Escape did not put it back", row.name)
		}
		at = r.thingGrip(t, row.thing, row.point)
		press(r.b.Plan, at)
		at = at.Add(drawing.Point{X: 25, Y: 15})
		pull(r.b.Plan, at)
		r.frame()
		release(r.b.Plan, at)
		now := r.s.Job().Sensing
		if !row.moved(&was, &now) {
			t.Errorf("%s: %+v %+v became %+v %+v", row.name, was.Passers, was.Warm, now.Passers, now.Warm)
		}
		r.s.Undo()
		r.d.Answered()
		if !bytes.Equal(encoded(t, r.s.Job()), before) {
			t.Errorf("%s: one undo did not take it back", row.name)
		}
	}
}

// TestSeedOfTheDays: the seed is shown and can be changed; the same seed gives the
// same days, another one others; results say which they are of; what is no whole
// number is not taken and stays to be mended.
func TestSeedOfTheDays(t *testing.T) {
	r := sensed(t)
	r.d.FewWalks(20)
	day := func() walk.Score {
		t.Helper()
		r.d.RunDays()
		r.run()
		if len(r.d.Days()) != 1 || r.d.Days()[0].Err != nil {
			t.Fatalf("%+v", r.d.Days())
		}
		return r.d.Days()[0].Score
	}
	first := day()
	if s := shown(r); !strings.Contains(s, "20 walks, seed 0") || !strings.Contains(s, "Same seed, same days.") {
		t.Error("the results do not say of which seed they are")
	}
	toSeed := func() { r.d.GoTo(model.Place{Field: "sensing.seed"}) }
	toSeed()
	r.typed("7")
	r.key(fyne.KeyReturn)
	if s := shown(r); !strings.Contains(s, "For the days of seed 0. Run again for those of seed 7.") {
		t.Error("nothing says that the results are of another seed")
	}
	second := day()
	if second == first {
		t.Error("another seed gave the same days")
	}
	if s := shown(r); !strings.Contains(s, "20 walks, seed 7") {
		t.Error("the results do not say that they are of seed 7")
	}
	for _, bad := range []string{"seven", "-1", "1.5", "1000000000", ""} {
		toSeed()
		r.typed(bad)
		r.key(fyne.KeyReturn)
		if s := shown(r); !strings.Contains(s, "type a whole number from 0 to 999999999") {
			t.Errorf("%q was taken", bad)
		}
	}
	if day() != second {
		t.Error("what is no seed changed it")
	}
	toSeed()
	r.typed("0")
	r.key(fyne.KeyReturn)
	if day() != first {
		t.Error("the same seed gave other days")
	}
}

// TestWhyStepsAreDark: with the sensor of an end gone its steps are said to be
// kept lit; with it covered they are dark under the first feet, and it is said
// why.
func TestWhyStepsAreDark(t *testing.T) {
	r := sensed(t)
	r.d.PutWalker(true)
	r.frame()
	if s := r.d.WhyLit(); s != "" {
		t.Errorf("all sensors work, and it says %q", s)
	}
	r.d.ChooseSensor(0)
	r.tapText("Cover the chosen sensor")
	if s := r.d.WhyLit(); !strings.Contains(s, "is seen by its neighbour from the first step on") {
		t.Errorf("covered beside a neighbour: %q", s)
	}
	if err := r.d.Do(model.RemoveSensor{ID: r.s.Job().Sensing.Sensors[1].ID}); err != nil {
		t.Fatal(err)
	}
	r.frame()
	r.d.PutWalker(true)
	if s := r.d.WhyLit(); !strings.Contains(s, "1 bottom is covered") || !strings.Contains(s, "from the foot of the stair finds steps 1 to 2 dark") || !strings.Contains(shown(r), s) {
		t.Errorf("covered: %q", s)
	}
	dark := false
	for at := -1.0; at < 4; at += 0.25 {
		r.d.MoveWalker(at)
		k := walk.Position(at)
		if k >= 1 && r.d.WalkBars()[k].Level == 0 {
			dark = true
			if got := r.d.UnderFoot(); got != "dark: sensor 1 is silent" {
				t.Errorf("at %.2f step %d is dark: %q", at, k, got)
			}
		}
	}
	if !dark {
		t.Error("no step was dark with the sensor of the foot covered")
	}
	r.tapText("Uncover it")
	if s := r.d.WhyLit(); s != "" {
		t.Errorf("uncovered, it says %q", s)
	}
	if err := r.d.Do(model.RemoveSensor{ID: r.s.Job().Sensing.Sensors[0].ID}); err != nil {
		t.Fatal(err)
	}
	r.frame()
	r.d.PutWalker(true)
	r.frame()
	kept := ""
	for at := -0.9; at < 3 && kept == ""; at += 0.1 {
		r.d.MoveWalker(at)
		kept = r.d.UnderFoot()
	}
	if s := r.d.WhyLit(); !strings.Contains(s, "No sensor sees who comes from the floor onto step") {
		t.Errorf("without the sensors of the foot: %q", s)
	}
	if !strings.HasPrefix(kept, "kept dimly lit") {
		t.Errorf("on the first steps: %q", kept)
	}
}
