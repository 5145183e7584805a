package window

import (
	"context"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"risewright/app/papers"
	"risewright/app/session"
	"risewright/app/store"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
)

// TestAWholeJobByKeyboard goes from a new job to saved papers with keys alone:
// sketch, readings, overlay, order, lights, sensors, buying, picture, papers,
// file. What is checked is the job and the files, not the way there.
func TestAWholeJobByKeyboard(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", home)
	a := test.NewTempApp(t)
	pub, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	now := func() time.Time { return noon }
	w := newWindowOn(t, a, Config{Tables: pub, Clock: now, Version: "test",
		Store: store.New(store.Disk{}, t.TempDir(), now),
		Sheets: func(ctx context.Context, dir string, a *solver.Answer, tell func(float64, string)) ([]string, error) {
			m := papers.MetaOf(&a.Job, "test", "")
			m.NoShots = "nobody looks at them in this test"
			return papers.Write(ctx, dir, a, nil, m, false, false, tell)
		}})
	w.win.Resize(fyne.NewSize(1280, 800))
	k := keyboard{t, w}
	job := func() model.Job { return w.session.Job() }

	// A sketch in a few numbers.
	k.press("Ctrl+N")
	k.over("Keys alone")
	k.to("Risers")
	k.over("4")
	k.to("Width")
	k.over("900 mm")
	k.to("Rise")
	k.over("190 mm")
	k.to("Going")
	k.over("250 mm")
	k.press("Enter")
	if job().Name != "Keys alone" || len(job().Flight.Steps) != 4 || w.session.Path() != "" {
		t.Fatalf("the new job is %q with %d steps", job().Name, len(job().Flight.Steps))
	}

	// Readings of the first step: Enter goes from one to the next.
	k.press("Ctrl+1", "Ctrl+6", "Home")
	k.to("back width")
	k.over("35 1/2")
	k.press("Enter")
	k.to("front width")
	k.over("902 mm")
	k.press("Enter")
	k.over("251 mm")
	k.press("Enter")
	kinds := map[model.Kind]string{}
	for _, r := range job().Flight.Steps[0].Readings {
		kinds[r.Kind] = r.Typed
	}
	if len(kinds) != 3 || kinds[model.FrontWidth] != "902 mm" || kinds[model.BackWidth] != "35 1/2" {
		t.Fatalf("the readings are %v", kinds)
	}
	// The tool of one, and the reading set aside and used again.
	k.press("Ctrl+E")
	aside := 0
	for _, r := range job().Flight.Steps[0].Readings {
		if r.Aside {
			aside++
		}
	}
	if aside > 1 {
		t.Errorf("%d readings are set aside", aside)
	}
	k.press("Ctrl+Z", "Ctrl+Y")

	// The overlay.
	k.press("Ctrl+3")
	k.to("New tread")
	was := job().Overlay
	k.over("22 mm")
	k.press("Enter")
	if job().Overlay == was {
		t.Errorf("the overlay is as it was; the keyboard is at %q", k.nameOf(k.canvas().Focused().(fyne.CanvasObject)))
	}

	// A handle of the plan: a corner of the second step, moved and let go.
	k.press("Ctrl+6", "Ctrl+PageUp")
	w.win.Canvas().Capture() // a drawing that nobody has seen has no handles
	revision := job().Revision
	k.text("h")
	k.press("Up", "Up", "Shift+Up", "Left", "Enter")
	if job().Revision == revision {
		k.press("Enter") // held by readings, which are set aside with it
	}
	if job().Revision == revision {
		t.Error("no handle was moved")
	}

	// The order of fitting: what is at the front is planned, and the keys go
	// through it.
	k.press("Ctrl+8")
	k.to("◀")
	k.press("Space")

	// Lights and sensors.
	k.press("Ctrl+L")
	k.to("Put in light bars")
	k.press("Space")
	if !job().Lighting.On() {
		t.Fatal("there are no light bars")
	}
	k.press("Ctrl+M")
	k.to("Put in sensors")
	k.press("Space")
	if !job().Sensing.On() {
		t.Fatal("there are no sensors")
	}
	k.to("Zones of the sensors")

	// Buying.
	k.press("Ctrl+9")
	shop := job().Shop
	k.to("An hour costs")
	k.over("48")
	k.press("Enter")
	if reflect.DeepEqual(job().Shop, shop) {
		t.Error("buying is as it was")
	}

	// The picture: gone round, and another wood.
	w.desk.Later = func(func(), func()) {} // nobody looks
	k.press("Ctrl+I", "Left", "PageUp")
	done := w.session.UndoLabel()
	k.to("Walnut")
	k.press("Space")
	if w.session.UndoLabel() == done {
		t.Error("the picture is as it was")
	}

	// Papers.
	k.press("Ctrl+P")
	k.to("Write here")
	k.press("Space")
	var written []string
	for range 3000 { // they are written beside the interface
		written, _ = filepath.Glob(filepath.Join(home, "*.pdf"))
		open := false
		// the dialog of the writing is open before, too
		w.do(func() { open = w.writing == nil && w.win.Canvas().Overlays().Top() != nil })
		if len(written) > 0 && open {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	if len(written) == 0 {
		t.Fatalf("no papers were written to %s; the window says %q", home, wordsIn(k.top()))
	}
	k.press("Tab", "Space") // what was written has been read
	if w.win.Canvas().Overlays().Top() != nil {
		t.Error("the message about what was written stays")
	}

	// The file.
	k.press("Ctrl+S")
	k.over("keys")
	k.to("Folder")
	k.over(home)
	k.press("Enter")
	saved, err := session.Load(filepath.Join(home, "keys.risewright.json"))
	if err != nil {
		t.Fatal(err)
	}
	if w.session.Dirty() || saved.Name != "Keys alone" || !saved.Lighting.On() || !saved.Sensing.On() || len(saved.Flight.Steps) != 4 {
		t.Errorf("saved is %q", saved.Name)
	}
	if !strings.Contains(w.win.Title(), "keys.risewright.json") {
		t.Errorf("the title is %q", w.win.Title())
	}
	// All of it undone, and done again.
	for range 40 {
		k.press("Ctrl+Z")
	}
	if w.session.UndoLabel() != "" || job().Lighting.On() || len(job().Flight.Steps[0].Readings) != 0 {
		t.Errorf("undone to %q, %d readings", w.session.UndoLabel(), len(job().Flight.Steps[0].Readings))
	}
	for range 40 {
		k.press("Ctrl+Y")
	}
	again, err := model.Encode(job())
	if err != nil {
		t.Fatal(err)
	}
	on, err := os.ReadFile(filepath.Join(home, "keys.risewright.json"))
	if err != nil {
		t.Fatal(err)
	}
	if string(again) != string(on) {
		t.Error("done again it is another job than the one that was saved")
	}
}
