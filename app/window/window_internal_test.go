package window

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"risewright/app/session"
	"risewright/app/store"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/view/panel"
	"risewright/view/theme"
)

var noon = time.Date(2026, 3, 4, 12, 0, 0, 0, time.UTC)

// newTestWindow opens the window on the file at path, or on the demo.
func newTestWindow(t *testing.T, path string) *window {
	t.Helper()
	a := test.NewTempApp(t)
	pub, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	c := Config{Tables: pub, Path: path, Clock: func() time.Time { return noon }, Version: "test",
		Store: store.New(store.Disk{}, t.TempDir(), func() time.Time { return noon }),
		Sheets: func(context.Context, string, *solver.Answer, func(float64, string)) ([]string, error) {
			return nil, errors.New("not in this test")
		}}
	return newWindowOn(t, a, c)
}

// turn is whose goroutine is the interface's.
var turn sync.Mutex

func inTurn(f func()) {
	turn.Lock()
	defer turn.Unlock()
	f()
}

// newWindowOn opens a window as the program does for who has used it before.
func newWindowOn(t *testing.T, a fyne.App, c Config) *window {
	t.Helper()
	a.Preferences().SetBool(keyToured, true)
	return newWindowFirst(t, a, c)
}

// newWindowFirst opens a window as the program does.
func newWindowFirst(t *testing.T, a fyne.App, c Config) *window {
	t.Helper()
	s, first, err := c.start()
	if err != nil {
		t.Fatal(err)
	}
	// The library's test driver has no goroutine of the interface to come back to:
	// what comes back does so in turn, or while the test looks away.
	c.later = func(work, then func()) { work(); then() }
	c.do = inTurn
	var w *window
	inTurn(func() {
		w = newWindow(a, c, s)
		c.greet(w, first)
	})
	t.Cleanup(func() {
		w.session.Close()
		w.do(func() {
			w.win.SetCloseIntercept(nil)
			w.win.Close()
		})
	})
	return w
}

// rename is an edit that makes the job dirty.
func rename(w *window, name string) {
	e := model.DetailsOf(w.session.Job())
	e.Name = name
	if err := w.desk.Do(e); err != nil {
		panic(err) // cannot happen, because any name will do
	}
}

// buttons returns those of the topmost dialog, by their text.
func buttons(w *window) map[string]*widget.Button {
	out := map[string]*widget.Button{}
	if top := w.win.Canvas().Overlays().Top(); top != nil {
		for _, o := range test.LaidOutObjects(top) {
			switch b := o.(type) {
			case *widget.Button:
				out[b.Text] = b
			case *dialogButton:
				out[b.Text] = &b.Button
			}
		}
	}
	return out
}

func tap(t *testing.T, w *window, text string) {
	t.Helper()
	b, ok := buttons(w)[text]
	if !ok {
		t.Fatalf("no button %q among %v", text, buttons(w))
	}
	test.Tap(b)
}

func TestAFirstTimeUserSeesTheDemoAndWhatToDo(t *testing.T) {
	w := newTestWindow(t, "")
	if w.session.Dirty() || w.session.Path() != "" {
		t.Error("the demo opens as changed, or with a file")
	}
	text, where := panel.NextStep(w.session.Answer(), w.desk.Findings())
	if !strings.HasPrefix(text, "Retake the ") || w.desk.Step() != where.Step {
		t.Errorf("the window says %q and shows step %d", text, w.desk.Step())
	}
	if s := test.RenderToMarkup(w.win.Canvas()); !strings.Contains(s, text) {
		t.Errorf("%q is not shown", text)
	}
	if title := w.win.Title(); !strings.Contains(title, "Risewright") || strings.Contains(title, "not saved") {
		t.Errorf("title %q", title)
	}
}

func TestUnsavedChangesAreAskedAbout(t *testing.T) {
	w := newTestWindow(t, "")
	w.win.Show()
	closed := false
	w.win.SetOnClosed(func() { closed = true })
	rename(w, "Changed")
	if !strings.Contains(w.win.Title(), "not saved") {
		t.Errorf("title %q", w.win.Title())
	}
	w.close()
	if closed {
		t.Fatal("closed without asking")
	}
	tap(t, w, "Go back")
	if closed || w.session.Job().Name != "Changed" {
		t.Fatal("going back closed it, or lost the change")
	}
	w.openDemo("unfinished") // what the question was about once it is answered
	rename(w, "Again")
	asked := false
	w.ifSaved(func() { asked = true })
	if asked {
		t.Fatal("did it without asking")
	}
	tap(t, w, "Drop the changes")
	if !asked {
		t.Error("did not do it although the changes may go")
	}
}

func TestSaveAsWritesAndRemembers(t *testing.T) {
	w := newTestWindow(t, "")
	dir := t.TempDir()
	path, err := savePath(dir, "My stair")
	if err != nil {
		t.Fatal(err)
	}
	rename(w, "My stair")
	found, err := w.session.SaveAs(path)
	w.written(found, err, nil)
	if w.session.Dirty() || w.session.Path() != path {
		t.Error("still dirty after saving")
	}
	if got := w.recent(); len(got) != 1 || got[0] != path {
		t.Errorf("recent files: %v", got)
	}
	if n := len(w.menu.recent.ChildMenu.Items); n != 1 {
		t.Errorf("the menu lists %d recent files", n)
	}
	rename(w, "Later")
	then := false
	w.save(func() { then = true })
	if !then || w.session.Dirty() {
		t.Error("saving to its own file")
	}
	again, err := session.Load(path)
	if err != nil || again.Name != "Later" {
		t.Errorf("read back %q, %v", again.Name, err)
	}
	w.openDemo("well-behaved")
	w.menu.recent.ChildMenu.Items[0].Action()
	if w.session.Job().Name != "Later" || w.session.Path() != path {
		t.Errorf("the recent file opened %q", w.session.Job().Name)
	}
}

func TestAFileThatCannotBeReadLeavesTheJob(t *testing.T) {
	w := newTestWindow(t, "")
	bad := filepath.Join(t.TempDir(), "bad.json")
	if err := os.WriteFile(bad, []byte(`{"risewright_job": 1, "name": 7}`), 0o600); err != nil {
		t.Fatal(err)
	}
	was := w.session
	w.openPath(bad)
	if w.session != was {
		t.Fatal("the open job is gone")
	}
	if s := test.RenderToMarkup(w.win.Canvas()); !strings.Contains(s, "ad.json") {
		t.Error("no message names the file")
	}
	if len(w.recent()) != 0 {
		t.Error("a file that cannot be read is remembered")
	}
}

func TestAFileThatIsGoneIsForgotten(t *testing.T) {
	w := newTestWindow(t, "")
	gone := filepath.Join(t.TempDir(), "gone.json")
	w.remember(gone)
	w.openPath(gone)
	if len(w.recent()) != 0 {
		t.Errorf("still remembered: %v", w.recent())
	}
}

func TestSavePath(t *testing.T) {
	dir := t.TempDir()
	for _, row := range []struct{ dir, name, want, fault string }{
		{dir, "a", "a.risewright.json", ""},
		{dir, " b.risewright.json ", "b.risewright.json", ""},
		{dir, "c.json", "c.json", ""},
		{dir, "", "", "no name"},
		{dir, "x/y", "", "names a folder"},
		{filepath.Join(dir, "none"), "a", "", "no folder"},
	} {
		got, err := savePath(row.dir, row.name)
		switch {
		case row.fault == "" && (err != nil || got != filepath.Join(dir, row.want)):
			t.Errorf("%q: %q, %v", row.name, got, err)
		case row.fault != "" && (err == nil || !strings.Contains(err.Error(), row.fault)):
			t.Errorf("%q in %q: %v does not say %q", row.name, row.dir, err, row.fault)
		}
	}
}

func TestUndoTakesBackTypingFirst(t *testing.T) {
	w := newTestWindow(t, "")
	w.win.Resize(fyne.NewSize(1280, 800))
	rename(w, "One edit")
	w.desk.GoTo(model.Place{Step: 3, Kind: model.FrontWidth})
	e := w.win.Canvas().Focused().(*panel.Entry)
	was := e.Text
	e.TypedShortcut(&fyne.ShortcutSelectAll{})
	e.TypedRune('9')
	w.undo()
	if e.Text != was || w.session.Job().Name != "One edit" {
		t.Fatalf("undo while typing: field %q, job %q", e.Text, w.session.Job().Name)
	}
	if w.menu.undo.Label != "Undo change the job's name" || w.menu.undo.Disabled {
		t.Errorf("the menu says %q", w.menu.undo.Label)
	}
	w.undo()
	if w.session.Job().Name == "One edit" {
		t.Error("the edit is not undone")
	}
	w.redo()
	if w.session.Job().Name != "One edit" || !w.menu.redo.Disabled {
		t.Error("the edit is not done again")
	}
}

func TestUnitsAndAppearance(t *testing.T) {
	w := newTestWindow(t, "")
	w.menu.metric.Action()
	if w.session.Job().Units != model.Metric || !w.menu.metric.Checked || w.menu.imperial.Checked {
		t.Error("metric is not chosen")
	}
	w.menu.imperial.Action()
	if w.session.Job().Units != model.Imperial {
		t.Error("imperial is not chosen")
	}
	w.setLook(theme.Dark)
	if w.look() != theme.Dark || w.app.Preferences().String(keyLook) != "dark" {
		t.Error("dark is not chosen, or not remembered")
	}
}

// Every shortcut of the menus is used once, or the second would never be heard.
func TestShortcutsDiffer(t *testing.T) {
	w := newTestWindow(t, "")
	seen := map[string]string{}
	var walk func(*fyne.Menu)
	walk = func(m *fyne.Menu) {
		for _, i := range m.Items {
			if i.Shortcut != nil {
				k, ok := i.Shortcut.(fyne.KeyboardShortcut)
				if !ok {
					t.Errorf("%s: no key can be shown for %T", i.Label, i.Shortcut)
					continue
				}
				name := desktop.CustomShortcut{KeyName: k.Key(), Modifier: k.Mod()}
				if other, twice := seen[name.ShortcutName()]; twice {
					t.Errorf("%s and %s have the same key, %s", other, i.Label, name.ShortcutName())
				}
				seen[name.ShortcutName()] = i.Label
			}
			if i.ChildMenu != nil {
				walk(i.ChildMenu)
			}
		}
	}
	for _, m := range w.menu.main.Items {
		walk(m)
	}
	if len(seen) < 15 {
		t.Errorf("only %d shortcuts", len(seen))
	}
}

func TestASketchInAFewNumbers(t *testing.T) {
	usual, err := usualSketch(model.Imperial)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		name   string
		change func(*sketch)
		fault  string
	}{
		{"as offered", func(*sketch) {}, ""},
		{"two risers", func(s *sketch) { s.Risers = "2" }, ""},
		{"mixed units", func(s *sketch) { s.Width, s.Rise = "915 mm", `7 1/2"` }, ""},
		{"no count", func(s *sketch) { s.Risers = "many" }, "risers"},
		{"one riser", func(s *sketch) { s.Risers = "1" }, "risers"},
		{"bad width", func(s *sketch) { s.Width = "3 x" }, "width"},
		{"no going", func(s *sketch) { s.Going = "0" }, "going"},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := usual
			row.change(&s)
			j, err := s.job()
			if row.fault != "" {
				if err == nil || !strings.Contains(err.Error(), row.fault) {
					t.Errorf("got %v, want a fault in the %s", err, row.fault)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			want, _ := model.ParseLength(s.Width, model.Imperial)
			if got := j.Flight.Steps[0].Corners[1].X - j.Flight.Steps[0].Corners[0].X; got != want {
				t.Errorf("width %v, typed %v", got, want)
			}
			if _, err := model.Encode(j); err != nil {
				t.Errorf("it cannot be saved: %v", err)
			}
		})
	}
}
