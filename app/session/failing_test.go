//go:build unix

package session_test

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"syscall"
	"testing"
	"time"

	"risewright/app/session"
	"risewright/app/store"
	"risewright/model"
)

// failure is how a step of the disk fails.
type failure int

const (
	fullDisk   failure = iota // nothing more is written
	shortWrite                // a part is written, and then the disk is full
	quietShort                // a part is written, and nothing is said
	noPermission
	noFlush // what was written may not last
	noRename
	noLink
	noNames    // of a folder: they are not flushed
	noTruncate // after a short write, what was written can not be cut off
	noAnswer   // every step fails, as when a network folder goes away
	failures
)

func (f failure) String() string {
	return [...]string{"full disk", "short write", "short write without a word", "no permission", "failed fsync", "failed rename", "failed link", "failed fsync of the folder", "failed truncate", "no answer"}[f]
}

// failingDisk is a disk of which steps can be made to fail. It remembers what of
// each file was flushed, so that a power cut can take the rest.
type failingDisk struct {
	store.Disk
	rng     *rand.Rand
	kind    failure
	mutex   sync.Mutex // of what follows: changes are flushed beside the test
	wait    int        // steps of the kind until it fails
	lasts   int        // steps it fails then
	failed  int
	flushed map[string]int64 // by name, of files written since
	open    map[*failingFile]bool
}

// fails says whether this step, of one of the kinds given, is to fail.
func (d *failingDisk) fails(kinds ...failure) bool {
	mine := d.kind == noAnswer
	for _, k := range kinds {
		mine = mine || k == d.kind
	}
	if !mine {
		return false
	}
	d.mutex.Lock()
	defer d.mutex.Unlock()
	if d.wait > 0 {
		d.wait--
		return false
	}
	if d.lasts <= 0 {
		return false
	}
	d.lasts--
	d.failed++
	return true
}

// failAfter has so many steps of the kind fail after so many that do not.
func (d *failingDisk) failAfter(wait, lasts int) {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	d.wait, d.lasts = wait, lasts
}

// count returns how many steps failed.
func (d *failingDisk) count() int {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	return d.failed
}

// reason is what the system says.
func (d *failingDisk) reason() error {
	return map[failure]error{
		fullDisk: syscall.ENOSPC, shortWrite: syscall.ENOSPC, noPermission: syscall.EACCES, noFlush: syscall.EIO, noRename: syscall.EACCES,
		noLink: syscall.EPERM, noNames: syscall.EIO, noTruncate: syscall.EIO, noAnswer: syscall.ESTALE,
	}[d.kind]
}

func (d *failingDisk) fault(op, name string) error {
	return &fs.PathError{Op: op, Path: name, Err: d.reason()}
}

func (d *failingDisk) Open(name string, flag int, perm fs.FileMode) (store.File, error) {
	if flag != os.O_RDONLY && d.fails(noPermission) || flag == os.O_RDONLY && d.fails() {
		return nil, d.fault("open", name)
	}
	f, err := d.Disk.Open(name, flag, perm)
	return d.opened(f, err)
}

func (d *failingDisk) Temp(dir, pattern string) (store.File, error) {
	if d.fails(noPermission, fullDisk) {
		return nil, d.fault("open", filepath.Join(dir, pattern))
	}
	f, err := d.Disk.Temp(dir, pattern)
	return d.opened(f, err)
}

func (d *failingDisk) opened(f store.File, err error) (store.File, error) {
	if err != nil {
		return nil, err
	}
	out := &failingFile{f, d}
	d.open[out] = true
	return out, nil
}

func (d *failingDisk) Rename(from, to string) error {
	if d.fails(noRename) {
		return &os.LinkError{Op: "rename", Old: from, New: to, Err: d.reason()}
	}
	if n, ok := d.flushed[from]; ok {
		d.flushed[to] = n
		delete(d.flushed, from)
	} else {
		delete(d.flushed, to)
	}
	return d.Disk.Rename(from, to)
}

func (d *failingDisk) Link(from, to string) error {
	if d.fails(noLink) {
		return &os.LinkError{Op: "link", Old: from, New: to, Err: d.reason()}
	}
	return d.Disk.Link(from, to)
}

func (d *failingDisk) Remove(name string) error {
	if d.fails() {
		return d.fault("remove", name)
	}
	return d.Disk.Remove(name)
}

func (d *failingDisk) MkdirAll(dir string, perm fs.FileMode) error {
	if d.fails(noPermission, fullDisk) {
		return d.fault("mkdir", dir)
	}
	return d.Disk.MkdirAll(dir, perm)
}

func (d *failingDisk) Stat(name string) (fs.FileInfo, error) {
	if d.fails() {
		return nil, d.fault("stat", name)
	}
	return d.Disk.Stat(name)
}

func (d *failingDisk) ReadDir(dir string) ([]fs.DirEntry, error) {
	if d.fails() {
		return nil, d.fault("open", dir)
	}
	return d.Disk.ReadDir(dir)
}

func (d *failingDisk) SyncDir(dir string) error {
	if d.fails(noNames) {
		return d.fault("sync", dir)
	}
	return d.Disk.SyncDir(dir)
}

type failingFile struct {
	store.File
	disk *failingDisk
}

func (f *failingFile) Write(b []byte) (int, error) {
	d := f.disk
	if _, ok := d.flushed[f.Name()]; !ok {
		st, err := f.File.Stat()
		if err != nil {
			return 0, err
		}
		d.flushed[f.Name()] = st.Size()
	}
	if !d.fails(fullDisk, shortWrite, quietShort, noTruncate) {
		return f.File.Write(b)
	}
	n := 0
	if d.kind != fullDisk {
		n = d.rng.IntN(len(b) + 1)
	}
	n, err := f.File.Write(b[:n])
	if err != nil || d.kind == quietShort {
		return n, err
	}
	return n, d.fault("write", f.Name())
}

func (f *failingFile) Truncate(size int64) error {
	if f.disk.fails(noTruncate) {
		return f.disk.fault("truncate", f.Name())
	}
	return f.File.Truncate(size)
}

func (f *failingFile) Sync() error {
	if f.disk.fails(noFlush) {
		return f.disk.fault("sync", f.Name())
	}
	err := f.File.Sync()
	if err == nil {
		delete(f.disk.flushed, f.Name())
	}
	return err
}

func (f *failingFile) Close() error {
	delete(f.disk.open, f)
	return f.File.Close()
}

// cut is a power cut: what runs is gone, and of what was not flushed any part
// may be lost.
func (d *failingDisk) cut() {
	for f := range d.open {
		f.File.Close()
	}
	for name, n := range d.flushed {
		st, err := os.Stat(name)
		if err != nil || st.Size() <= n {
			continue
		}
		os.Truncate(name, n+d.rng.Int64N(st.Size()-n+1))
	}
}

// The disk fails at any step, once or for a while, and then the power is cut: no
// acknowledged change is lost, no file is unreadable, the job stays open and
// unsaved, and the message says what is wrong.
func TestFailuresOfTheDisk(t *testing.T) {
	perKind := 3
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		perKind = 40
	}
	const seed = 7
	injected, acknowledged, told, both := 0, 0, 0, 0
	var byKind [failures]int
	for kind := range failures {
		for n := range perKind {
			r := failingRun{T: t, rng: rand.New(rand.NewPCG(seed, uint64(kind)<<32|uint64(n)))}
			r.disk = &failingDisk{rng: r.rng, kind: kind, wait: 1 << 30, flushed: map[string]int64{}, open: map[*failingFile]bool{}}
			r.name = fmt.Sprintf("seed %d, %v, run %d", seed, kind, n)
			r.run()
			if t.Failed() {
				return
			}
			if r.disk.count() > 0 {
				byKind[kind]++
			}
			injected += r.disk.count()
			acknowledged += r.acknowledged
			told += r.told
			both += r.both
		}
	}
	t.Logf("seed %d: %d failures in %d runs; %d changes acknowledged and none lost; %d messages; %d files newer than their journal", seed, injected, perKind*int(failures), acknowledged, told, both)
	for kind, n := range byKind {
		if n < perKind/3 {
			t.Errorf("%v: only %d of %d runs met it", failure(kind), n, perKind)
		}
	}
	if injected < 200 {
		t.Errorf("only %d failures", injected)
	}
}

// failingRun is one job worked on while the disk fails.
type failingRun struct {
	*testing.T
	rng                *rand.Rand
	disk               *failingDisk
	name               string
	acknowledged, told int
	both               int // times that a file was newer than its journal
}

func (r *failingRun) run() {
	dir := r.TempDir()
	path := filepath.Join(dir, "job"+session.Extension)
	job := smallJob(r)
	data, err := model.Encode(job)
	must(r, err)
	must(r, os.WriteFile(path, data, 0o644))
	h := homeIn(r, filepath.Join(dir, "journals"))
	sound := h.Store
	h.Store = store.New(r.disk, sound.Dir(), friday)
	s, err := h.Open(path, false)
	if err != nil {
		r.Fatalf("%s: %v", r.name, err)
	}
	a := actor{rng: r.rng, history: model.NewHistory(job)}
	states := []string{sumOf(job)} // the last acknowledged, and those after it
	files := []string{sumOf(job)}
	fails := r.rng.IntN(12)
	for i := range 20 {
		if i == fails {
			r.disk.failAfter(r.rng.IntN(3), 1+r.rng.IntN(1+r.rng.IntN(90)))
		}
		if r.rng.IntN(4) == 0 {
			before, _ := os.ReadFile(path)
			sum := sumOf(s.Job())
			_, err := s.Save()
			r.saved(s.Session, path, before, sum, err)
			if err == nil {
				files = []string{sum}
				states = []string{sum}
			} else {
				files = append(files, sum)
			}
			checkFolder(r, session.Home{Store: sound}, path, files...)
			continue
		}
		x := a.next()
		if err := x.do(s.Session); err != nil {
			r.Fatalf("%s, change %d: refused: %v", r.name, i, err)
		}
		if got := sumOf(s.Job()); got != x.want {
			r.Fatalf("%s, change %d: the job is not as it should be", r.name, i)
		}
		states = append(states, x.want)
		if r.rng.IntN(3) == 0 {
			continue // not waited for
		}
		if err := s.Flush(); err == nil {
			states = states[len(states)-1:]
			r.acknowledged++
		} else {
			r.told++
			if err.Error() == "" || !s.Dirty() && s.UndoLabel() != "" && i == 0 {
				r.Errorf("%s: trouble without a word", r.name)
			}
		}
	}
	s.Flush()
	r.disk.cut()

	again := session.Home{Tables: h.Tables, Clock: h.Clock, Store: sound}
	back, err := openAgain(again, path)
	if err != nil {
		r.Fatalf("%s: after the power cut: %v", r.name, err)
	}
	defer back.Close()
	got := sumOf(back.Job())
	if back.Changed && !slices.Contains(states, got) { // then the window says that the file differs, and it is the newer
		data, err := os.ReadFile(path)
		must(r, err)
		got = sumOfBytes(data)
		r.both++
	}
	if !slices.Contains(states, got) {
		r.Fatalf("%s: after the power cut the job is %s; acknowledged was %s, then came %v", r.name, got, states[0], states[1:])
	}
	if left := leftovers(r, dir); len(left) > 0 {
		r.Errorf("%s: half-written files are left: %v", r.name, left)
	}
}

// saved checks what must hold after an attempt to save.
func (r *failingRun) saved(s *session.Session, path string, before []byte, sum string, err error) {
	now, readErr := os.ReadFile(path)
	if readErr != nil {
		r.Fatalf("%s: the file is gone: %v", r.name, readErr)
	}
	var unconfirmed *store.UnconfirmedError
	switch {
	case err == nil:
		if s.Dirty() || sumOfBytes(now) != sum {
			r.Fatalf("%s: saved, and dirty: %v; the file holds %s, not %s", r.name, s.Dirty(), sumOfBytes(now), sum)
		}
	case errors.As(err, &unconfirmed):
		r.told++
		if sumOfBytes(now) != sum {
			r.Fatalf("%s: %v, but the file holds something else", r.name, err)
		}
	default:
		r.told++
		if string(now) != string(before) {
			r.Fatalf("%s: %v, but the file has changed", r.name, err)
		}
	}
}

// A clock that is set back, and back again, puts nothing out of order.
func TestTheClockIsSetBack(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "job"+session.Extension)
	h := homeIn(t, filepath.Join(dir, "journals"))
	now := friday()
	h.Clock = func() time.Time { now = now.Add(-36 * time.Hour); return now }
	h.Store = store.New(store.Disk{}, h.Store.Dir(), h.Clock)
	s := h.New(smallJob(t))
	saveAs(t, s, path)
	for i := range 8 {
		must(t, s.Do(rename(s, fmt.Sprint("version ", i))))
		_, err := s.Save()
		must(t, err)
	}
	must(t, s.Do(rename(s, "not saved")))
	must(t, s.Flush())
	versions, err := s.Versions()
	must(t, err)
	if len(versions) != store.Kept {
		t.Errorf("%d versions are kept", len(versions))
	}
	for i, v := range versions {
		job, err := session.Load(v.Path)
		must(t, err)
		if want := fmt.Sprint("version ", 6-i); job.Name != want {
			t.Errorf("version %d back is %q, not %q", i+1, job.Name, want)
		}
	}
	// as if this window were gone: another program's view of its journal
	copied := filepath.Join(dir, "copied")
	must(t, os.CopyFS(copied, os.DirFS(h.Store.Dir())))
	h2 := homeIn(t, copied)
	orphans, err := h2.Orphans()
	must(t, err)
	if len(orphans) != 1 || orphans[0].Name != "not saved" || orphans[0].Unsaved != 1 {
		t.Errorf("brought back: %+v", orphans)
	}
	s.Close()
}
