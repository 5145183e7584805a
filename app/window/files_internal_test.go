package window

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"fyne.io/fyne/v2/test"

	"risewright/app/session"
	"risewright/app/store"
	"risewright/app/tables"
	"risewright/assets"
)

// shows says whether the window shows a text, wherever lines are broken.
func shows(w *window, text string) bool {
	plain := regexp.MustCompile(`<[^>]*>`).ReplaceAllString(test.RenderToMarkup(w.win.Canvas()), " ")
	return strings.Contains(strings.Join(strings.Fields(plain), " "), text)
}

// demoFile writes a demo job to a folder.
func demoFile(t *testing.T) string {
	t.Helper()
	data, err := assets.DemoJob(firstDemo)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "stair"+session.Extension)
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// configIn keeps journals in a folder.
func configIn(t *testing.T, disk store.FS, journals, path string) Config {
	t.Helper()
	pub, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	clock := func() time.Time { return noon }
	return Config{Tables: pub, Path: path, Clock: clock, Store: store.New(disk, journals, clock)}
}

// crashed leaves journals as a window does that is killed after changes.
func crashed(t *testing.T, path string, changes ...string) (journals string) {
	t.Helper()
	left := t.TempDir()
	w := newWindowOn(t, test.NewTempApp(t), configIn(t, store.Disk{}, left, path))
	for _, name := range changes {
		rename(w, name)
	}
	if err := w.session.Flush(); err != nil {
		t.Fatal(err)
	}
	journals = filepath.Join(t.TempDir(), "journals")
	if err := os.CopyFS(journals, os.DirFS(left)); err != nil {
		t.Fatal(err)
	}
	w.session.Close()
	return journals
}

func TestAfterACrashTheWindowSaysSo(t *testing.T) {
	path := demoFile(t)
	journals := crashed(t, path, "One", "Two")
	w := newWindowOn(t, test.NewTempApp(t), configIn(t, store.Disk{}, journals, ""))
	if w.session.Job().Name != "Two" || w.session.Path() != path || !w.session.Dirty() {
		t.Fatalf("opened %q of %s, dirty %v", w.session.Job().Name, w.session.Path(), w.session.Dirty())
	}
	for _, text := range []string{"Brought back", "Two", "2 changes not saved", "4 March 2026"} {
		if !shows(w, text) {
			t.Errorf("%q is not said", text)
		}
	}
	tap(t, w, "Go back to the saved file")
	if w.session.Job().Name == "Two" || w.session.Dirty() {
		t.Errorf("went back to %q, dirty %v", w.session.Job().Name, w.session.Dirty())
	}
	w.undo()
	if w.session.Job().Name != "Two" || !strings.Contains(w.win.Title(), "not saved") {
		t.Errorf("undone to %q, %s", w.session.Job().Name, w.win.Title())
	}
}

func TestUnsavedWorkOfAnotherJob(t *testing.T) {
	journals := crashed(t, "", "Never saved")
	w := newWindowOn(t, test.NewTempApp(t), configIn(t, store.Disk{}, journals, demoFile(t)))
	if !shows(w, "Other work that was never saved: 1 job.") {
		t.Error("nothing is said of it")
	}
	w.escape()
	w.showUnsaved()
	tap(t, w, "Drop…")
	tap(t, w, "Go back")
	tap(t, w, "Open")
	if w.session.Job().Name != "Never saved" || w.session.Path() != "" || !shows(w, "It has no file yet") {
		t.Fatalf("opened %q", w.session.Job().Name)
	}
	tap(t, w, "Keep the changes")
	w.showUnsaved()
	if !shows(w, "There is none") {
		t.Error("it is listed, though it is open")
	}
}

func TestUnsavedWorkIsDropped(t *testing.T) {
	journals := crashed(t, "", "Never saved")
	w := newWindowOn(t, test.NewTempApp(t), configIn(t, store.Disk{}, journals, demoFile(t)))
	w.escape()
	w.showUnsaved()
	tap(t, w, "Drop…")
	tap(t, w, "Drop them")
	if o, err := w.config.home().Orphans(); err != nil || len(o) != 0 {
		t.Errorf("left: %v, %v", o, err)
	}
}

func TestASecondWindowOnTheJob(t *testing.T) {
	path := demoFile(t)
	journals := t.TempDir()
	first := newWindowOn(t, test.NewTempApp(t), configIn(t, store.Disk{}, journals, path))
	second := newWindowOn(t, test.NewTempApp(t), configIn(t, store.Disk{}, journals, path))
	if !shows(second, "is open in another window") || second.session.Path() != "" {
		t.Fatal("the second window is not told")
	}
	if _, ok := buttons(second)["Open anyway"]; ok {
		t.Error("it is offered to open it anyway, though the other is surely there")
	}
	tap(t, second, "Open a copy")
	if second.session.Path() != "" || second.session.Job().Name != first.session.Job().Name {
		t.Errorf("the copy is %q in %q", second.session.Job().Name, second.session.Path())
	}
	first.session.Close()
	second.openPath(path)
	if second.session.Path() != path {
		t.Error("the file is still taken")
	}
}

func TestAFileThatAnotherProgramChanged(t *testing.T) {
	path := demoFile(t)
	w := newWindowOn(t, test.NewTempApp(t), configIn(t, store.Disk{}, t.TempDir(), path))
	data, err := assets.DemoJob("unfinished")
	if err != nil {
		t.Fatal(err)
	}
	theirs := func() {
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	theirs()
	rename(w, "Mine")
	then := 0
	w.save(func() { then++ })
	tap(t, w, "Go back")
	if then != 0 || !w.session.Dirty() {
		t.Fatal("going back saved it")
	}
	w.save(func() { then++ })
	tap(t, w, "Keep both")
	beside := strings.TrimSuffix(path, session.Extension) + " (2)" + session.Extension
	if then != 1 || w.session.Path() != beside || w.session.Dirty() {
		t.Fatalf("kept as %s", w.session.Path())
	}
	if got, _ := os.ReadFile(path); string(got) != string(data) {
		t.Error("their file has changed")
	}
	w.openPath(path)
	rename(w, "Mine again")
	if err := os.WriteFile(path, append([]byte("\n"), data...), 0o644); err != nil {
		t.Fatal(err)
	}
	w.save(func() { then++ })
	tap(t, w, "Replace it")
	if j, err := session.Load(path); then != 2 || err != nil || j.Name != "Mine again" {
		t.Errorf("the file has %q, %v", j.Name, err)
	}
	w.showVersions()
	tap(t, w, "Open")
	if w.session.Job().Name == "Mine again" || !w.session.Dirty() {
		t.Errorf("the version opened is %q", w.session.Job().Name)
	}
	w.undo()
	if w.session.Job().Name != "Mine again" || w.session.Dirty() {
		t.Error("opening a version is not undone")
	}
}

func TestFreeName(t *testing.T) {
	dir := t.TempDir()
	for _, n := range []string{"a.risewright.json", "a (2).risewright.json", "b.json"} {
		if err := os.WriteFile(filepath.Join(dir, n), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for in, want := range map[string]string{"a.risewright.json": "a (3).risewright.json", "b.json": "b (2).json", "c": "c (2)"} {
		if got, err := freeName(filepath.Join(dir, in)); err != nil || filepath.Base(got) != want {
			t.Errorf("%s: %s, %v", in, got, err)
		}
	}
}

// fullDisk has no room for new files while it is full.
type fullDisk struct {
	store.Disk
	full *bool
}

func (d fullDisk) Temp(dir, pattern string) (store.File, error) {
	if *d.full {
		return nil, &os.PathError{Op: "open", Path: dir, Err: syscall.ENOSPC}
	}
	return d.Disk.Temp(dir, pattern)
}

func TestAFullDiskIsSaidOnce(t *testing.T) {
	full := true
	path := demoFile(t)
	w := newWindowOn(t, test.NewTempApp(t), configIn(t, fullDisk{full: &full}, t.TempDir(), path))
	rename(w, "One")
	if !shows(w, "The disk is full") && !shows(w, "the disk is full") || !strings.Contains(w.win.Title(), "not kept safe") {
		t.Fatalf("it is not said; the title is %q", w.win.Title())
	}
	if w.session.Job().Name != "One" {
		t.Error("the change is lost")
	}
	w.escape()
	rename(w, "Two")
	if w.win.Canvas().Overlays().Top() != nil {
		t.Error("it is said again")
	}
	w.save(func() { t.Error("saved on a full disk") })
	if !shows(w, "the file is as it was") || !w.session.Dirty() {
		t.Error("the save that failed is not told, or counts")
	}
	w.escape()
	full = false
	rename(w, "Three")
	if strings.Contains(w.win.Title(), "not kept safe") {
		t.Errorf("with room again the title is %q", w.win.Title())
	}
	saved := false
	w.save(func() { saved = true })
	if !saved || w.session.Dirty() {
		t.Error("with room again it is not saved")
	}
}

func TestRemediesAreSaid(t *testing.T) {
	w := newWindowOn(t, test.NewTempApp(t), configIn(t, store.Disk{}, t.TempDir(), ""))
	w.complain(fmt.Errorf("save x: %w", &os.PathError{Op: "open", Path: "x", Err: syscall.EACCES}))
	if !shows(w, "save to a folder of your own") {
		t.Error("what to do is not said")
	}
	w.escape()
	w.complain(errors.New("plain"))
	if !shows(w, "lain") {
		t.Error("an error without a remedy is not shown")
	}
}

// A demo job is opened by its name, as a new job without a file.
func TestDemoJobByName(t *testing.T) {
	w := newTestWindow(t, assets.DemoPrefix+"well-behaved")
	if name := w.session.Job().Name; name != "Quarry Lane, well behaved" || w.session.Path() != "" || w.session.Dirty() {
		t.Errorf("opened %q at %q, changed %v", name, w.session.Path(), w.session.Dirty())
	}
}
