package window

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"

	"risewright/app/store"
)

// catching is a window that hands what it is told to do on a drop to the test,
// which the library's test driver forgets.
type catching struct {
	fyne.Window
	drop func(fyne.Position, []fyne.URI)
}

func (c *catching) SetOnDropped(f func(fyne.Position, []fyne.URI)) { c.drop = f }

// drop drops paths on the window as the system does.
func drop(w *window, paths ...string) {
	var files []fyne.URI
	for _, p := range paths {
		files = append(files, storage.NewFileURI(p))
	}
	c := &catching{Window: w.win}
	was := w.win
	w.win = c
	w.heedDrops()
	w.win = was
	w.do(func() { c.drop(fyne.NewPos(10, 10), files) })
}

// A job file that is dropped is opened; its file is remembered and saved to.
func TestAJobIsDropped(t *testing.T) {
	w := newTestWindow(t, "")
	path := demoFile(t)
	drop(w, path)
	if w.session.Path() != path || w.session.Dirty() {
		t.Fatalf("open is %q, dirty %v", w.session.Path(), w.session.Dirty())
	}
	if r := w.recent(); len(r) == 0 || r[0] != path {
		t.Errorf("remembered: %v", r)
	}
}

// What is no job is said, and nothing of the open job is lost: neither what was
// changed in it nor its history. Nobody is asked to save for it.
func TestWhatIsNoJobIsDropped(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	w := newTestWindow(t, "")
	w.do(func() { rename(w, "Changed here") })
	for _, c := range []struct {
		paths []string
		says  string
	}{
		{[]string{file("letter.pdf", "%PDF-1.7 a letter")}, "letter.pdf was dropped, and is no job that can be opened"},
		{[]string{file("list.json", `{"shopping": ["milk"]}`)}, "list.json was dropped, and is no job that can be opened"},
		{[]string{file("empty.json", "")}, "empty.json was dropped, and is no job that can be opened"},
		{[]string{dir}, "it is a folder, not a file"},
		{[]string{filepath.Join(dir, "gone.json")}, "gone.json"},
		{[]string{demoFile(t), demoFile(t)}, "2 things were dropped; drop one job file"},
	} {
		drop(w, c.paths...)
		w.do(func() {
			if !shows(w, c.says) {
				t.Errorf("%v: %q is not said: %s", c.paths, c.says, test.RenderObjectToMarkup(w.win.Canvas().Overlays().Top()))
			}
			if shows(w, "Save first?") {
				t.Errorf("%v: somebody is asked to save for it", c.paths)
			}
			if w.session.Job().Name != "Changed here" || !w.session.Dirty() || w.session.Path() != "" || w.session.UndoLabel() == "" {
				t.Errorf("%v: open is now %q", c.paths, w.session.Job().Name)
			}
			w.escape()
			for over := w.win.Canvas().Overlays(); over.Top() != nil; {
				over.Remove(over.Top())
			}
		})
	}
}

// A drop onto changes that are not saved asks first, and a drop onto a question
// is not heeded.
func TestADropAsksToSave(t *testing.T) {
	w := newWindowOn(t, test.NewTempApp(t), configIn(t, store.Disk{}, t.TempDir(), ""))
	w.do(func() { rename(w, "Changed here") })
	path := demoFile(t)
	drop(w, path)
	w.do(func() {
		if !shows(w, "has changes that are not saved") || w.session.Path() != "" {
			t.Fatalf("open is %q and nobody is asked", w.session.Path())
		}
	})
	drop(w, demoFile(t)) // while the question is open
	w.do(func() { tap(t, w, "Go back") })
	if w.session.Job().Name != "Changed here" || w.session.Path() != "" {
		t.Fatal("the change is gone though nobody said so")
	}
	drop(w, path)
	w.do(func() { tap(t, w, "Drop the changes") })
	if w.session.Path() != path || w.session.Job().Name == "Changed here" {
		t.Errorf("open is %q of %q", w.session.Job().Name, w.session.Path())
	}
}
