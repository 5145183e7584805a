//go:build unix

package session_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"risewright/app/session"
	"risewright/app/store"
	"risewright/model"
)

// jobIn writes a small job to a folder and returns its path.
func jobIn(t testing.TB, dir string) string {
	t.Helper()
	data, err := model.Encode(smallJob(t))
	must(t, err)
	path := filepath.Join(dir, "job"+session.Extension)
	must(t, os.WriteFile(path, data, 0o644))
	return path
}

func names(t testing.TB, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	must(t, err)
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func TestTheSecondWindowIsTold(t *testing.T) {
	dir := t.TempDir()
	path := jobIn(t, dir)
	must(t, os.Symlink(path, filepath.Join(dir, "link.json")))
	s, err := home(t).Open(path, false)
	must(t, err)
	for _, other := range []string{path, filepath.Join(dir, "link.json"), filepath.Join(dir, ".", "job"+session.Extension)} {
		for _, anyhow := range []bool{false, true} { // whoever is there stays there
			var busy *store.BusyError
			if _, err := home(t).Open(other, anyhow); !errors.As(err, &busy) || !busy.Sure || busy.Holder.PID != os.Getpid() || busy.Holder.Since.IsZero() {
				t.Errorf("%s is opened twice: %v", other, err)
			} else if !strings.Contains(err.Error(), fmt.Sprint("process ", os.Getpid())) || store.Remedy(err) == "" {
				t.Errorf("it does not say by whom or what to do: %v", err)
			}
		}
	}
	c, err := home(t).OpenCopy(path)
	must(t, err)
	if c.Path() != "" || sumOf(c.Job()) != sumOf(s.Job()) {
		t.Error("the copy has the file, or is none")
	}
	if _, err := c.SaveAs(path); err == nil || !strings.Contains(err.Error(), "another window") {
		t.Errorf("the copy was saved over the open job: %v", err)
	}
	s.Close()
	if got := names(t, dir); len(got) != 2 {
		t.Errorf("left in the folder: %v", got)
	}
	s, err = home(t).Open(path, false)
	must(t, err)
	s.Close()
}

// What is left by windows that are gone does not lock anybody out, and what
// another machine says is believed until a person knows better.
func TestLocksThatAreLeft(t *testing.T) {
	host, err := os.Hostname()
	must(t, err)
	for _, row := range []struct {
		name, text string
		busy       bool
	}{
		{"of this machine", fmt.Sprintf(`{"pid":%d,"host":%q,"since":"2026-11-01T08:00:00Z"}`, 1<<22+7, host), false},
		{"of this machine, by a number that runs again", fmt.Sprintf(`{"pid":1,"host":%q,"since":"2026-11-01T08:00:00Z"}`, host), false},
		{"of another machine", `{"pid":7,"host":"the-other-one","since":"2026-11-01T08:00:00Z"}`, true},
		{"in the future", `{"pid":7,"host":"the-other-one","since":"2036-11-01T08:00:00Z"}`, true},
		{"empty", "", false},
		{"damaged", `{"pid":"x"`, false},
		{"huge", strings.Repeat("x", 1<<20), false},
	} {
		dir := t.TempDir()
		path := jobIn(t, dir)
		left := filepath.Join(dir, ".job"+session.Extension+".open")
		must(t, os.WriteFile(left, []byte(row.text), 0o644))
		s, err := home(t).Open(path, false)
		var busy *store.BusyError
		if errors.As(err, &busy) != row.busy || busy != nil && (busy.Sure || busy.Holder.Host != "the-other-one") {
			t.Errorf("%s: %v", row.name, err)
		}
		if err != nil {
			s, err = home(t).Open(path, true)
		}
		must(t, err)
		s.Close()
		if got := names(t, dir); len(got) != 1 {
			t.Errorf("%s: left %v", row.name, got)
		}
	}
}

// lockless is a disk that knows no locks, as some network folders.
type lockless struct{ store.Disk }

type locklessFile struct{ store.File }

func (locklessFile) TryLock() error { return errors.ErrUnsupported }

func (d lockless) Open(name string, flag int, perm fs.FileMode) (store.File, error) {
	f, err := d.Disk.Open(name, flag, perm)
	if err != nil {
		return nil, err
	}
	return locklessFile{f}, nil
}

func TestDisksWithoutLocks(t *testing.T) {
	host, err := os.Hostname()
	must(t, err)
	dir := t.TempDir()
	path := jobIn(t, dir)
	h := home(t)
	h.Store = store.New(lockless{}, h.Store.Dir(), friday)
	s, err := h.Open(path, false)
	must(t, err)
	left := filepath.Join(dir, ".job"+session.Extension+".open")
	if data, err := os.ReadFile(left); err != nil || !strings.Contains(string(data), host) {
		t.Errorf("the lock says %q, %v", data, err)
	}
	s.Close()
	for _, row := range []struct {
		pid  int
		busy bool
	}{{os.Getppid(), true}, {1<<22 + 7, false}} { // numbers go up to 2^22
		must(t, os.WriteFile(left, fmt.Appendf(nil, `{"pid":%d,"host":%q,"since":"2026-11-01T08:00:00Z"}`, row.pid, host), 0o644))
		s, err := h.Open(path, false)
		var busy *store.BusyError
		if errors.As(err, &busy) != row.busy || busy != nil && busy.Sure {
			t.Errorf("process %d: %v", row.pid, err)
		}
		if err == nil {
			s.Close()
		} else if s, err = h.Open(path, true); err != nil {
			t.Errorf("a person knows better: %v", err)
		} else {
			s.Close()
		}
	}
}

// After a crash several windows start at once: exactly one has the job, with
// what was not saved, and the others are told or know nothing of it.
func TestTwoFirstWindows(t *testing.T) {
	const rounds, windows = 6, 4
	dir := t.TempDir()
	path := jobIn(t, dir)
	journals := filepath.Join(dir, "journals") // made by whoever comes first
	want := ""
	for round := range rounds {
		var start, end sync.WaitGroup
		start.Add(1)
		got := make([]*session.Opened, windows)
		told := make([]error, windows)
		for w := range windows {
			end.Go(func() {
				h := homeIn(t, journals)
				start.Wait()
				if w%2 == 0 {
					h.Orphans() // it looks around while the others open the job
				}
				got[w], told[w] = h.Open(path, false)
			})
		}
		start.Done()
		end.Wait()
		var has *session.Opened
		for w := range windows {
			var busy *store.BusyError
			switch {
			case told[w] == nil && has == nil:
				has = got[w]
			case told[w] == nil:
				t.Fatalf("round %d: two windows have the job", round)
			case !errors.As(told[w], &busy):
				t.Fatalf("round %d: %v", round, told[w])
			}
		}
		if has == nil {
			t.Fatalf("round %d: no window has the job: %v", round, told)
		}
		if want != "" && (sumOf(has.Job()) != want || !has.Brought()) {
			t.Fatalf("round %d: what was not saved is missing", round)
		}
		must(t, has.Do(rename(has, fmt.Sprint("round ", round))))
		must(t, has.Flush())
		want = sumOf(has.Job())
		abandon(t, has.Session, journals)
	}
}

// abandon leaves a session as a crash does: its journal stays, its locks go.
func abandon(t testing.TB, s *session.Session, journals string) {
	t.Helper()
	kept := t.TempDir()
	must(t, os.CopyFS(filepath.Join(kept, "j"), os.DirFS(journals)))
	s.Close()
	must(t, os.RemoveAll(journals))
	must(t, os.CopyFS(journals, os.DirFS(filepath.Join(kept, "j"))))
}

func TestAFileChangedOutside(t *testing.T) {
	dir := t.TempDir()
	path := jobIn(t, dir)
	s, err := home(t).Open(path, false)
	must(t, err)
	defer s.Close()
	other := smallJob(t)
	other.Name = "Theirs"
	theirs, err := model.Encode(other)
	must(t, err)
	must(t, os.WriteFile(path, theirs, 0o644))
	must(t, s.Do(rename(s, "Ours")))
	var changed *store.ChangedError
	if _, err := s.Save(); !errors.As(err, &changed) || changed.Path != path {
		t.Fatalf("saved over it: %v", err)
	}
	if data, _ := os.ReadFile(path); string(data) != string(theirs) || !s.Dirty() {
		t.Fatal("their file is gone, or the job counts as saved")
	}
	_, err = s.SaveOver()
	must(t, err)
	versions, err := s.Versions()
	must(t, err)
	if data, _ := os.ReadFile(versions[0].Path); string(data) != string(theirs) {
		t.Error("their file is not kept")
	}
	if j, err := session.Load(path); err != nil || j.Name != "Ours" || s.Dirty() {
		t.Errorf("the file has %q, %v", j.Name, err)
	}

	// what another program makes of it can be taken up, and undone
	must(t, os.WriteFile(path, theirs, 0o644))
	must(t, s.Reload())
	if s.Job().Name != "Theirs" || s.Dirty() || s.UndoLabel() != "go back to the saved file" {
		t.Errorf("taken up: %q, dirty %v", s.Job().Name, s.Dirty())
	}
	s.Undo()
	if s.Job().Name != "Ours" || !s.Dirty() {
		t.Errorf("undone: %q", s.Job().Name)
	}
	if _, err := s.Save(); err != nil {
		t.Errorf("what was taken up is known: %v", err)
	}
	// a file that can not be read is not taken up
	must(t, os.WriteFile(path, []byte("{"), 0o644))
	if err := s.Reload(); err == nil || s.Job().Name != "Ours" {
		t.Errorf("taken up: %v", err)
	}
}

func TestAFileOrFolderThatIsGone(t *testing.T) {
	dir := t.TempDir()
	path := jobIn(t, dir)
	s, err := home(t).Open(path, false)
	must(t, err)
	defer s.Close()
	must(t, s.Do(rename(s, "Ours")))
	must(t, os.Remove(path))
	found, err := s.Save()
	if err != nil || !found.Gone {
		t.Errorf("the file was gone: %+v, %v", found, err)
	}
	if j, err := session.Load(path); err != nil || j.Name != "Ours" {
		t.Errorf("written again: %q, %v", j.Name, err)
	}
	must(t, s.Do(rename(s, "Again")))
	must(t, os.RemoveAll(dir))
	_, err = s.Save()
	if err == nil || !errors.Is(err, fs.ErrNotExist) || store.Remedy(err) == "" || !s.Dirty() {
		t.Errorf("the folder was gone: %v; %s", err, store.Remedy(err))
	}
	elsewhere := filepath.Join(t.TempDir(), "job"+session.Extension)
	saveAs(t, s.Session, elsewhere)
	if s.Dirty() || s.Path() != elsewhere {
		t.Error("it is not saved elsewhere")
	}
}

func TestTheLastFiveVersions(t *testing.T) {
	for _, disk := range []store.FS{store.Disk{}, linkless{}} {
		dir := t.TempDir()
		path := jobIn(t, dir)
		h := home(t)
		h.Store = store.New(disk, h.Store.Dir(), friday)
		s, err := h.Open(path, false)
		must(t, err)
		for i := range 8 {
			must(t, s.Do(rename(s, fmt.Sprint("version ", i))))
			for range 2 { // the second has nothing to write, and keeps nothing
				_, err := s.Save()
				must(t, err)
			}
		}
		versions, err := s.Versions()
		must(t, err)
		if len(versions) != store.Kept {
			t.Fatalf("%T: %d versions", disk, len(versions))
		}
		for i, v := range versions {
			if j, err := session.Load(v.Path); err != nil || j.Name != fmt.Sprint("version ", 6-i) {
				t.Errorf("%T: version %d is %q, %v", disk, v.Number, j.Name, err)
			}
		}
		must(t, s.OpenVersion(versions[2]))
		if s.Job().Name != "version 4" || !s.Dirty() || !strings.HasPrefix(s.UndoLabel(), "go back to the version of ") {
			t.Errorf("%T: opened %q, %s", disk, s.Job().Name, s.UndoLabel())
		}
		if j, err := session.Load(path); err != nil || j.Name != "version 7" {
			t.Errorf("%T: the file changed to %q", disk, j.Name)
		}
		s.Undo()
		if s.Job().Name != "version 7" || s.Dirty() {
			t.Errorf("%T: undone to %q", disk, s.Job().Name)
		}
		must(t, os.WriteFile(versions[0].Path, []byte("{"), 0o644))
		if err := s.OpenVersion(versions[0]); err == nil || s.Job().Name != "version 7" {
			t.Errorf("%T: a damaged version: %v", disk, err)
		}
		must(t, os.Remove(versions[1].Path))
		if err := s.OpenVersion(versions[1]); err == nil || !strings.Contains(err.Error(), "no longer there") {
			t.Errorf("%T: a version that is gone: %v", disk, err)
		}
		s.Close()
	}
}

// linkless is a disk on which a file has one name, such as a camera card.
type linkless struct{ store.Disk }

func (linkless) Link(from, to string) error {
	return &os.LinkError{Op: "link", Old: from, New: to, Err: errors.ErrUnsupported}
}

// What is no ordinary file is refused before it is opened: a pipe would never
// answer.
func TestWhatIsNoFile(t *testing.T) {
	for _, path := range []string{t.TempDir(), "/dev/zero", "/dev/null"} {
		if _, err := home(t).Open(path, false); err == nil {
			t.Errorf("%s was opened", path)
		}
		if _, err := session.Load(path); err == nil {
			t.Errorf("%s was read", path)
		}
	}
}

// After a crash all is there: the job as last seen, undo and redo, the count of
// changes, and what the file holds.
func TestAfterACrash(t *testing.T) {
	dir := t.TempDir()
	path := jobIn(t, dir)
	journals := filepath.Join(dir, "journals")
	h := homeIn(t, journals)
	s, err := h.Open(path, false)
	must(t, err)
	must(t, s.Do(rename(s, "saved")))
	_, err = s.Save()
	must(t, err)
	must(t, s.Do(rename(s, "one")))
	must(t, s.Do(rename(s, "two")))
	must(t, s.Do(rename(s, "three")))
	s.Undo()
	must(t, s.Flush())
	abandon(t, s.Session, journals)

	orphans, err := h.Orphans()
	must(t, err)
	if len(orphans) != 1 || orphans[0].Name != "two" || orphans[0].File != path || orphans[0].Unsaved != 4 || !orphans[0].Last.Equal(friday().Truncate(1e9)) {
		t.Fatalf("%+v", orphans)
	}
	r, err := h.Recover(orphans[0])
	must(t, err)
	if r.Job().Name != "two" || !r.Dirty() || r.Path() != path || r.Changed || r.Gone {
		t.Errorf("%q, dirty %v, %+v", r.Job().Name, r.Dirty(), r)
	}
	if o, err := h.Orphans(); len(o) != 0 || err != nil {
		t.Errorf("it is offered again: %v, %v", o, err)
	}
	if !r.Redo() || r.Job().Name != "three" || !r.Undo() || !r.Undo() || !r.Undo() || r.Job().Name != "saved" || r.Dirty() {
		t.Errorf("undone to %q, dirty %v", r.Job().Name, r.Dirty())
	}
	if !r.Undo() || r.Job().Name != "Small" || !r.Dirty() || r.Undo() {
		t.Errorf("undone to %q", r.Job().Name)
	}
	must(t, r.Do(rename(r, "after")))
	_, err = r.Save()
	must(t, err)
	must(t, r.Flush())
	abandon(t, r.Session, journals)
	// nothing is unsaved, so nothing is offered, and what was left is cleared away
	if o, err := h.Orphans(); len(o) != 0 || err != nil || len(names(t, journals)) != 0 {
		t.Errorf("offered: %v, %v; left: %v", o, err, names(t, journals))
	}
}

// Journals that can not be read are told of and left alone; half-made ones are
// swept away.
func TestDamagedJournals(t *testing.T) {
	h := home(t)
	dir := h.Store.Dir()
	must(t, os.WriteFile(filepath.Join(dir, "0123456789abcdef.journal"), []byte("rwjournl\x09\x00and more"), 0o600))
	must(t, os.WriteFile(filepath.Join(dir, ".aaaaaaaaaaaaaaaa-1.part"), []byte("half"), 0o600))
	must(t, os.WriteFile(filepath.Join(dir, "bbbbbbbbbbbbbbbb.lock"), nil, 0o600))
	must(t, os.WriteFile(filepath.Join(dir, "a letter.txt"), []byte("mine"), 0o600))
	for range 2 {
		orphans, err := h.Orphans()
		must(t, err)
		if len(orphans) != 1 || !strings.Contains(orphans[0].Fault, "format 9") {
			t.Fatalf("%+v", orphans)
		}
		if _, err := h.Recover(orphans[0]); err == nil {
			t.Error("it was rebuilt")
		}
	}
	if got := names(t, dir); fmt.Sprint(got) != "[0123456789abcdef.journal a letter.txt]" {
		t.Errorf("left: %v", got)
	}
	must(t, h.Drop(store.Orphan{ID: "0123456789abcdef"}))
	if err := h.Drop(store.Orphan{ID: "../x"}); err == nil {
		t.Error("a way out of the folder is taken for a journal")
	}
	if got := names(t, dir); len(got) != 1 {
		t.Errorf("left: %v", got)
	}
}

// A journal that grows is written anew, with less history and nothing lost.
func TestAJournalStaysSmall(t *testing.T) {
	if testing.Short() {
		t.Skip("writes 20 MB")
	}
	h := home(t)
	s := h.New(smallJob(t))
	defer s.Close()
	largest := int64(0)
	for i := range 60 {
		e := model.DetailsOf(s.Job())
		var b strings.Builder
		for k := range 900 { // no two notes have a line in common
			fmt.Fprintf(&b, "%x %x\n", i*7919+k*104729, k*i)
		}
		e.Notes = b.String()
		must(t, s.Do(e))
		must(t, s.Flush())
		for _, n := range names(t, h.Store.Dir()) {
			st, err := os.Stat(filepath.Join(h.Store.Dir(), n))
			must(t, err)
			largest = max(largest, st.Size())
		}
	}
	t.Logf("60 changes of 18 kB each; the journal had at most %d kB", largest>>10)
}
