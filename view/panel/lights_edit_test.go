package panel_test

import (
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"risewright/model"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/lights"
	"risewright/view/panel"
)

// take picks a word of the first chooser that offers one which begins so.
func (r *rig) take(word string) {
	r.t.Helper()
	for _, o := range test.LaidOutObjects(r.b.Object()) {
		c, ok := o.(interface {
			Words() []string
			Take(int)
		})
		if !ok {
			continue
		}
		for i, w := range c.Words() {
			if strings.HasPrefix(w, word) {
				c.Take(i)
				return
			}
		}
	}
	r.t.Fatalf("nothing offers %q", word)
}

func (r *rig) goTo(field string, step int) {
	r.t.Helper()
	r.d.GoTo(model.Place{Field: field, Step: step})
}

// ownTables returns a job's own tables as text, for telling that something has
// changed.
func ownTables(r *rig) string { return fmt.Sprintf("%+v", r.s.Job().Lighting.Own) }

// TestEveryCellIsEdited changes each value of a row of each table: the job has a
// row of its own marked yours, the shipped tables stay, and an empty field brings
// the shipped value and standing back. Bad texts are refused in their field.
func TestEveryCellIsEdited(t *testing.T) {
	r := newRig(t, litJob(t, "tapering"))
	shipped := fmt.Sprintf("%+v", r.s.Tables().Lights)
	rows := map[string]string{"strips": "rgbw-5v-60", "wires": "mm2.5", "fuses": "0", "supplies": r.s.Job().Lighting.Supply,
		"controllers": r.s.Job().Lighting.Controller, "practice": "jump"}
	cells, least := 0, 25
	for table, ids := range panel.RowCells() {
		if os.Getenv("RISEWRIGHT_FULL") == "" {
			ids, least = ids[:min(2, len(ids))], 9
		}
		for _, id := range ids {
			cells++
			field := "lighting.own." + table + "." + rows[table] + "." + id
			r.goTo(field, 0)
			was := r.text()
			if was == "" {
				t.Fatalf("%s: nothing is shown", field)
			}
			for _, bad := range []string{"x", "-1", "1e12"} {
				if id == "title" {
					continue
				}
				r.typed(bad)
				r.key(fyne.KeyReturn)
				if r.text() != bad || ownTables(r) != fmt.Sprintf("%+v", model.LightTables{}) {
					t.Errorf("%s: %q was not refused: %s", field, bad, ownTables(r))
				}
			}
			text := "3"
			if was == "3" {
				text = "4"
			}
			r.typed(text)
			r.key(fyne.KeyReturn)
			own := r.s.Job().Lighting.Own
			if !strings.Contains(ownTables(r), "yours") && id != "title" && !strings.HasSuffix(id, "pixel") && id != "cut_pixels" && id != "channels" {
				t.Errorf("%s: no value is marked yours: %+v", field, own)
			}
			if reflect.DeepEqual(own, model.LightTables{}) {
				t.Errorf("%s: %q was not taken", field, text)
			}
			if table == "fuses" { // sorted: it may have another place now
				r.tapText("Reset to shipped")
			} else {
				r.goTo(field, 0)
				if r.text() != text {
					t.Errorf("%s shows %q after %q", field, r.text(), text)
				}
				r.typed("")
				r.key(fyne.KeyReturn)
			}
			if got := ownTables(r); got != fmt.Sprintf("%+v", model.LightTables{}) {
				t.Errorf("%s: emptied, the job still has %s", field, got)
			}
			r.goTo(field, 0)
			if r.text() != was {
				t.Errorf("%s shows %q, not %q again", field, r.text(), was)
			}
		}
	}
	if cells < least {
		t.Errorf("only %d cells", cells)
	}
	if got := fmt.Sprintf("%+v", r.s.Tables().Lights); got != shipped {
		t.Error("the shipped tables have changed")
	}
}

// TestRowsAreAddedAndRemoved: a new row is like the one shown, is offered where
// rows are chosen, cannot be removed while it is used, and undo takes it back.
func TestRowsAreAddedAndRemoved(t *testing.T) {
	r := newRig(t, litJob(t, "tapering"))
	r.b.ShowTab(lightsTab)
	start, _ := model.Encode(r.s.Job())
	r.goTo("lighting.own.strips.white-24v.volts", 0)
	r.tapText("Add a row like this")
	own := r.s.Job().Lighting.Own.Strips
	if len(own) != 1 || own[0].ID == "white-24v" || own[0].Volts.Value != 24 || own[0].Volts.Standing != model.Yours {
		t.Fatalf("added %+v", own)
	}
	r.goTo("lighting.own.strips."+own[0].ID+".title", 0)
	r.typed("hall strip")
	r.key(fyne.KeyReturn)
	r.take("hall strip")
	if r.s.Job().Lighting.Strip != own[0].ID {
		t.Fatal("the new row is not offered")
	}
	r.goTo("lighting.own.strips."+own[0].ID+".title", 0)
	r.tapText("Remove this row")
	if len(r.s.Job().Lighting.Own.Strips) != 1 || !strings.Contains(shown(r), "in use") {
		t.Error("a row that is used was removed, or nothing says that it is used")
	}
	r.take("5 V, four colours")
	r.goTo("lighting.own.strips."+own[0].ID+".title", 0)
	r.tapText("Remove this row")
	if n := len(r.s.Job().Lighting.Own.Strips); n != 0 {
		t.Errorf("%d own strips after it was removed", n)
	}
	// fuses have no names
	before := len(r.s.Tables().Lights.Fuses)
	r.goTo("lighting.own.fuses.1.value", 0)
	r.tapText("Add a row like this")
	if n := len(r.s.Job().Lighting.Own.Fuses); n != before+1 {
		t.Errorf("%d fuses after one was added to %d", n, before)
	}
	r.tapText("Remove this row")
	r.tapText("Reset to shipped")
	if n := len(r.s.Job().Lighting.Own.Fuses); n != 0 {
		t.Errorf("%d own fuses after the reset", n)
	}
	for r.s.Undo() {
	}
	r.d.Answered()
	if back, _ := model.Encode(r.s.Job()); string(back) != string(start) {
		t.Error("undoing everything does not give the first job back")
	}
}

// TestSingleBarIsEdited changes one bar: chosen on a drawing or in the list, the
// others stay, errors are told, and it can be put back.
func TestSingleBarIsEdited(t *testing.T) {
	r := newRig(t, litJob(t, "tapering"))
	r.b.ShowTab(lightsTab)
	bar := func(step int) model.BarOwn {
		for _, b := range r.s.Job().Lighting.Bars {
			if b.Step == r.s.Job().Flight.Steps[step-1].ID {
				return b
			}
		}
		return model.BarOwn{}
	}
	wide := r.s.Answer().Bars.Bars[5].Pixels
	r.goTo("lighting.bars.length", 6)
	r.typed("600 mm")
	r.key(fyne.KeyReturn)
	r.goTo("lighting.bars.pixels", 6)
	r.typed("30")
	r.key(fyne.KeyReturn)
	r.take("both ends")
	// the chooser of all bars comes first in the window
	if r.s.Job().Lighting.Feed != model.FeedBoth {
		t.Fatal("the test picks another chooser")
	}
	if b := bar(6); b.Length != 600 || b.Pixels != 30 || len(r.s.Job().Lighting.Bars) != 1 {
		t.Errorf("bar 6 is %+v of %d", b, len(r.s.Job().Lighting.Bars))
	}
	if b := r.s.Answer().Bars.Bars; b[5].Pixels != 30 || b[4].Pixels == 30 {
		t.Errorf("%d pixels on bar 6, %d on bar 5", b[5].Pixels, b[4].Pixels)
	}
	// another bar: what is typed belongs to the bar it was typed at
	r.goTo("lighting.bars.length", 6)
	r.typed("610 mm")
	r.d.Choose(8)
	if bar(6).Length != 610 || bar(8).Length != 0 {
		t.Errorf("typed at bar 6, %v at bar 6 and %v at bar 8", bar(6).Length, bar(8).Length)
	}
	r.goTo("lighting.bars.0", 0)
	if r.d.Step() != 6 || r.text() == "" {
		t.Errorf("the first bar of its own is at step %d, shown as %q", r.d.Step(), r.text())
	}
	for _, bad := range []string{"-5 mm", "x"} {
		r.typed(bad)
		r.key(fyne.KeyReturn)
		if r.text() != bad || bar(6).Length != 610 {
			t.Errorf("%q was not refused", bad)
		}
	}
	r.key(fyne.KeyEscape)
	r.goTo("lighting.bars.pixels", 6)
	for _, bad := range []string{"1.5", "99999"} {
		r.typed(bad)
		r.key(fyne.KeyReturn)
		if r.text() != bad {
			t.Errorf("%q was not refused", bad)
		}
	}
	r.key(fyne.KeyEscape)
	r.take("B06")
	r.tapText("As the others")
	if len(r.s.Job().Lighting.Bars) != 0 || r.s.Answer().Bars.Bars[5].Pixels != wide {
		t.Errorf("still %+v", r.s.Job().Lighting.Bars)
	}
}

// TestBarFindingsLeadToTheirFields: what is found at a bar takes the keyboard to
// the field that mends it, at the bar's step.
func TestBarFindingsLeadToTheirFields(t *testing.T) {
	j := litJob(t, "tapering")
	j.Lighting.Bars = []model.BarOwn{{Step: j.Flight.Steps[3].ID, Length: 5000}, {Step: j.Flight.Steps[6].ID, Pixels: 3}}
	j.Lighting.Groove = 13
	r := newRig(t, j)
	seen := map[string]bool{}
	for _, f := range r.s.Answer().Findings {
		switch f.Rule {
		case "light.too_long", "light.strip_short", "light.groove", "light.glare":
			seen[f.Rule] = true
			r.b.ShowTab(0)
			r.d.GoTo(f.Where)
			if _, ok := r.w.Canvas().Focused().(*panel.Entry); !ok {
				t.Errorf("%s leads to %T", f.Rule, r.w.Canvas().Focused())
			}
			if f.Where.Step > 0 && r.d.Step() != f.Where.Step {
				t.Errorf("%s leads to step %d, not %d", f.Rule, r.d.Step(), f.Where.Step)
			}
			if f.Rule == "light.too_long" && !strings.Contains(r.text(), "5000") {
				t.Errorf("the bar that is too long leads to a field with %q", r.text())
			}
		}
	}
	if len(seen) < 4 {
		t.Errorf("only the findings %v", seen)
	}
}

// TestScenesAreEdited adds, renames, colours and removes scenes, with undo.
func TestScenesAreEdited(t *testing.T) {
	r := newRig(t, litJob(t, "tapering"))
	r.b.ShowTab(lightsTab)
	start, _ := model.Encode(r.s.Job())
	n := len(r.s.Job().Lighting.Scenes)
	r.tapText("Add a scene")
	last := func() model.Scene { s := r.s.Job().Lighting.Scenes; return s[len(s)-1] }
	if len(r.s.Job().Lighting.Scenes) != n+1 || last().Kind != model.Steady || last().Name == "" {
		t.Fatalf("added %+v", last())
	}
	for field, text := range map[string]string{"name": "winter", "hours": "4", "period": "2,5", "channels": "2"} {
		r.goTo(fmt.Sprintf("lighting.scenes.%d.%s", n, field), 0)
		r.typed(text)
		r.key(fyne.KeyReturn)
	}
	if s := last(); s.Name != "winter" || s.Hours != 4 || s.Period != 2.5 || s.Channels != 2 {
		t.Errorf("the scene is %+v", s)
	}
	for field, bad := range map[string]string{"name": "", "hours": "25", "period": "-1", "channels": "2.5"} {
		was := last()
		r.goTo(fmt.Sprintf("lighting.scenes.%d.%s", n, field), 0)
		r.typed(bad)
		r.key(fyne.KeyReturn)
		if !reflect.DeepEqual(last(), was) || r.text() != bad {
			t.Errorf("%s: %q was not refused", field, bad)
		}
		r.key(fyne.KeyEscape)
	}
	r.take("seasonal") // first in the window stands the map's chooser of scenes
	r.d.GoTo(model.Place{Field: fmt.Sprintf("lighting.scenes.%d.kind", n)})
	r.take("chase")
	r.take("warm white, 2700 K")
	r.take("blue")
	if s := last(); s.Pattern != model.Chase || len(s.Colours) != 2 || s.Colours[1] != (model.Colour{Blue: 255}) || s.Colours[0].Red != 255 {
		t.Fatalf("the scene is %+v", s)
	}
	r.goTo("lighting.scene.colours.1.green", 0)
	r.typed("300")
	r.key(fyne.KeyReturn)
	if r.text() != "300" || last().Colours[1].Green != 0 {
		t.Error("a level of 300 was not refused")
	}
	r.typed("128")
	r.key(fyne.KeyReturn)
	if last().Colours[1].Green != 128 {
		t.Errorf("the colour is %+v", last().Colours[1])
	}
	r.tapText("Remove this scene")
	if len(r.s.Job().Lighting.Scenes) != n {
		t.Errorf("%d scenes of %d", len(r.s.Job().Lighting.Scenes), n)
	}
	for range n + 1 {
		if len(r.s.Job().Lighting.Scenes) > 0 {
			r.tapText("Remove this scene")
		}
	}
	if len(r.s.Job().Lighting.Scenes) != 0 || r.s.Answer().Power == nil {
		t.Error("the last scene is not removed, or nothing is solved without")
	}
	for r.s.Undo() {
	}
	r.d.Answered()
	if back, _ := model.Encode(r.s.Job()); string(back) != string(start) {
		t.Error("undoing everything does not give the first job back")
	}
}

// TestCavityIsDragged takes the cavity across the stair in the plan: to the
// right, under the stair, and given up; each drop is one change to undo.
func TestCavityIsDragged(t *testing.T) {
	r := newRig(t, litJob(t, "tapering"))
	r.b.ShowTab(lightsTab)
	r.settled()
	c := r.b.Plan
	pulled := func(share float64) {
		r.frame()
		a := r.s.Answer()
		place := lights.Plan(handle.Options{})
		b := &a.Bars.Bars[7]
		to := c.View().Pixel(place(8, b.Left.Add(b.Right.Sub(b.Left).Mul(share))))
		at := r.grip(c, lights.CavityGrip)
		press(c, at)
		before := r.previews
		for range 4 {
			pull(c, at.Add(to.Sub(at).Mul(0.5)))
		}
		pull(c, to)
		r.frame()
		if n := r.previews - before; n != 1 {
			t.Errorf("%d solves for a frame", n)
		}
	}
	drop := func() { release(c, drawing.Point{}) }
	pulled(0.95)
	if got := r.d.Answer().Bars.Bars[3].Way; got.Side != 1 || r.s.Job().Lighting.Cavity == model.CavityRight {
		t.Errorf("during the drag the ways out are at %v and the job at %s", got.Side, r.s.Job().Lighting.Cavity)
	}
	drop()
	if got := r.s.Job().Lighting.Cavity; got != model.CavityRight {
		t.Fatalf("dropped at the right: %s", got)
	}
	pulled(0.5)
	drop()
	if got := r.s.Job().Lighting.Cavity; got != model.CavityUnder {
		t.Fatalf("dropped in the middle: %s", got)
	}
	pulled(0.02)
	c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	drop()
	if got := r.s.Job().Lighting.Cavity; got != model.CavityUnder {
		t.Errorf("given up: %s", got)
	}
	r.s.Undo()
	if got := r.s.Job().Lighting.Cavity; got != model.CavityRight {
		t.Errorf("undone: %s", got)
	}
}

// TestFiguresAreOfTheFrame: what is told in words during a drag is of the place
// that the frame shows, not of the one before.
func TestFiguresAreOfTheFrame(t *testing.T) {
	r := newRig(t, litJob(t, "tapering"))
	r.b.ShowTab(lightsTab)
	r.settled()
	r.frame()
	c := r.b.Section
	at := r.grip(c, lights.BoxGrip)
	press(c, at)
	told := map[string]bool{}
	for range 3 {
		at = at.Add(drawing.Point{X: -25})
		pull(c, at)
		r.frame()
		p := r.d.Answer().Power
		want := fmt.Sprintf("Worst pixel %.2f V", p.Scenes[p.Worst].Lowest)
		told[want] = true
		if !strings.Contains(shown(r), want) {
			t.Errorf("%q is not told", want)
		}
	}
	release(c, at)
	if len(told) < 2 {
		t.Errorf("the drag changes no figure: %v", told)
	}
}
