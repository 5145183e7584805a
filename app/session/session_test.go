//go:build unix

package session_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"risewright/app/demo"
	"risewright/app/session"
	"risewright/app/store"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
)

// friday is when everything happens.
func friday() time.Time { return time.Date(2026, 11, 6, 8, 30, 0, 999, time.UTC) }

// home keeps journals in a folder of the test.
func home(t testing.TB) session.Home { return homeIn(t, t.TempDir()) }

func homeIn(t testing.TB, dir string) session.Home {
	t.Helper()
	tab, err := tables.Published()
	must(t, err)
	return session.Home{Tables: tab, Clock: friday, Store: store.New(store.Disk{}, dir, friday)}
}

func demoJob(t testing.TB) model.Job {
	t.Helper()
	jobs, err := demo.Jobs()
	must(t, err)
	return jobs[1].Job
}

func open(t testing.TB) *session.Session {
	t.Helper()
	s := home(t).New(demoJob(t))
	t.Cleanup(s.Close)
	return s
}

func saveAs(t testing.TB, s *session.Session, path string) {
	t.Helper()
	_, err := s.SaveAs(path)
	must(t, err)
}

func rename(s interface{ Job() model.Job }, name string) model.Edit {
	e := model.DetailsOf(s.Job())
	e.Name = name
	return e
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func TestEditsAreAnsweredAndUndone(t *testing.T) {
	s := open(t)
	first, err := model.Encode(s.Job())
	must(t, err)
	before := s.Answer()
	o := s.Job().Overlay
	o.FloorBottom, o.FloorTop = o.Tread, o.Tread
	must(t, s.Do(model.SetOverlay{Overlay: o}))
	if s.Answer() == before || s.Answer().Job.Overlay.FloorTop != o.Tread {
		t.Error("the answer is not of the job as it is now")
	}
	must(t, s.Do(rename(s, "Another name")))
	undone := 0
	for s.UndoLabel() != "" && s.Undo() {
		undone++
	}
	if undone != 2 || s.Undo() {
		t.Errorf("two edits gave %d undos", undone)
	}
	again, err := model.Encode(s.Job())
	must(t, err)
	if string(first) != string(again) {
		t.Error("undoing everything did not give the first job back")
	}
	for s.Redo() {
		undone--
	}
	if undone != 0 || s.Job().Name != "Another name" {
		t.Errorf("%d edits were not done again; the name is %q", undone, s.Job().Name)
	}
}

func TestARefusedEditChangesNothing(t *testing.T) {
	s := open(t)
	before := s.Answer()
	if err := s.Do(model.RemoveStep{Step: model.NewID()}); !errors.Is(err, model.ErrNoSuchStep) {
		t.Errorf("got %v", err)
	}
	if s.Answer() != before || s.Dirty() || s.UndoLabel() != "" {
		t.Error("something changed")
	}
}

func TestPreviewKeepsNothing(t *testing.T) {
	s := open(t)
	before := s.Answer()
	a, err := s.Preview(rename(s, "Passing"))
	must(t, err)
	if a.Job.Name != "Passing" || s.Job().Name == "Passing" || s.Answer() != before || s.Dirty() {
		t.Error("the preview was kept, or was none")
	}
}

func TestDirtyFollowsTheFile(t *testing.T) {
	s := open(t)
	if s.Dirty() {
		t.Error("dirty before any edit")
	}
	if _, err := s.Save(); err == nil || !strings.Contains(err.Error(), "Save as") {
		t.Errorf("saved without a file: %v", err)
	}
	path := filepath.Join(t.TempDir(), "job"+session.Extension)
	must(t, s.Do(rename(s, "One")))
	saveAs(t, s, path)
	if s.Dirty() || s.Path() != path {
		t.Error("dirty after saving")
	}
	must(t, s.Do(rename(s, "Two")))
	if !s.Dirty() {
		t.Error("clean after an edit")
	}
	s.Undo()
	if s.Dirty() {
		t.Error("dirty where the file is")
	}
	s.Undo()
	if !s.Dirty() {
		t.Error("clean before where the file is")
	}
	must(t, s.Do(rename(s, "Three"))) // what was saved can no longer be reached
	if !s.Dirty() {
		t.Error("clean, though the file holds another job")
	}
	got, err := session.Load(path)
	must(t, err)
	if got.Name != "One" {
		t.Errorf("the file holds %q", got.Name)
	}
}

// roomless is a disk that takes no more than a part of what is written while it
// is full.
type roomless struct {
	store.Disk
	full *bool
}

type roomlessFile struct {
	store.File
	full *bool
}

func (d roomless) Temp(dir, pattern string) (store.File, error) {
	f, err := d.Disk.Temp(dir, pattern)
	return roomlessFile{f, d.full}, err
}

func (f roomlessFile) Write(b []byte) (int, error) {
	if !*f.full {
		return f.File.Write(b)
	}
	n, err := f.File.Write(b[:len(b)/2])
	if err == nil {
		err = &fs.PathError{Op: "write", Path: f.Name(), Err: syscall.ENOSPC}
	}
	return n, err
}

// A save that fails leaves the old file as it was, and nothing beside it.
func TestAFailedSaveLosesNothing(t *testing.T) {
	full := false
	h := home(t)
	h.Store = store.New(roomless{full: &full}, h.Store.Dir(), friday)
	s := h.New(demoJob(t))
	t.Cleanup(s.Close)
	dir := t.TempDir()
	path := filepath.Join(dir, "job"+session.Extension)
	saveAs(t, s, path)
	old, err := os.ReadFile(path)
	must(t, err)
	must(t, s.Do(rename(s, "New")))

	if _, err := s.SaveAs(filepath.Join(dir, "no such folder", "job")); err == nil || !strings.Contains(err.Error(), "no such file") {
		t.Errorf("saved into nowhere: %v", err)
	}
	blocked := filepath.Join(dir, "a folder")
	must(t, os.Mkdir(blocked, 0o755))
	must(t, os.WriteFile(filepath.Join(blocked, "in it"), nil, 0o644))
	if _, err := s.SaveAs(blocked); err == nil { // a folder is not replaced by a file
		t.Error("saved over a folder")
	}
	full = true
	_, err = s.Save()
	full = false
	if err == nil || !strings.Contains(err.Error(), "as it was") || !strings.Contains(err.Error(), "the disk is full") {
		t.Errorf("saved on a full disk: %v", err)
	}

	if !s.Dirty() || s.Path() != path {
		t.Error("the job is not dirty, or has lost its file")
	}
	now, err := os.ReadFile(path)
	must(t, err)
	if string(now) != string(old) {
		t.Error("the file changed")
	}
	left, err := filepath.Glob(filepath.Join(dir, ".risewright-*"))
	must(t, err)
	if len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestOpenSaysWhatIsWrongAndWhere(t *testing.T) {
	h := home(t)
	path := filepath.Join(t.TempDir(), "broken"+session.Extension)
	must(t, os.WriteFile(path, []byte("{\n  \"risewright_job\": 1,\n  \"name\": 5\n}"), 0o644))
	_, err := h.Open(path, false)
	if err == nil || !strings.Contains(err.Error(), path) || !strings.Contains(err.Error(), "name") {
		t.Errorf("got %v", err)
	}
	if _, err = h.Open(path+" not there", false); err == nil || !errors.Is(err, os.ErrNotExist) {
		t.Errorf("got %v", err)
	}
}

func TestSavedJobOpensTheSame(t *testing.T) {
	s := open(t)
	path := filepath.Join(t.TempDir(), "job"+session.Extension)
	saveAs(t, s, path)
	s.Close()
	o, err := home(t).Open(path, false)
	must(t, err)
	a, err := model.Encode(s.Job())
	must(t, err)
	b, err := model.Encode(o.Job())
	must(t, err)
	if string(a) != string(b) || o.Dirty() || o.Answer().Released() != s.Answer().Released() {
		t.Error("the job opened is not the one saved")
	}
}

func TestARemedyIsOneEdit(t *testing.T) {
	s := open(t)
	m := solver.Advise(s.Answer(), s.Tables())
	must(t, s.Do(m.Remedies[0].Edit()))
	if s.UndoLabel() != m.Remedies[0].Title {
		t.Errorf("applied as %q", s.UndoLabel())
	}
}

// A refused edit after an undo does not forget where the file is.
func TestARefusedEditForgetsNoSave(t *testing.T) {
	s := open(t)
	must(t, s.Do(rename(s, "One")))
	saveAs(t, s, filepath.Join(t.TempDir(), "job"+session.Extension))
	s.Undo()
	if err := s.Do(model.RemoveStep{Step: model.NewID()}); err == nil {
		t.Fatal("a step that is not there was removed")
	}
	if s.Redo(); s.Dirty() {
		t.Error("dirty where the file is")
	}
}

func TestNowIsByTheSecond(t *testing.T) {
	if got := open(t).Now(); got.Nanosecond() != 0 || got.Second() != 0 || got.Minute() != 30 {
		t.Errorf("now is %s", got)
	}
}
