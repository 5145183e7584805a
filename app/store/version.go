package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"risewright/model"
)

// Kept is how many earlier versions of a job's file are kept.
const Kept = 5

// versionsDir is the hidden folder beside the jobs that holds their versions.
const versionsDir = ".risewright-versions"

// Version is an earlier version of a job's file. Versions are numbered, so that
// a clock set back does not put them out of order.
type Version struct {
	Path   string
	Number int       // counts up
	Taken  time.Time // when the file was written, by the disk's clock
	Bytes  int64
}

// Versions returns the earlier versions of a job's file, the newest first.
func (s *Store) Versions(path string) ([]Version, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	return (&JobFile{store: s, real: s.real(abs)}).versions()
}

func (f *JobFile) versions() ([]Version, error) {
	dir := filepath.Join(filepath.Dir(f.real), versionsDir)
	entries, err := f.store.disk.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("look for earlier versions in %s: %w", dir, plain(err))
	}
	var out []Version
	for _, e := range entries {
		number, ok := strings.CutPrefix(e.Name(), filepath.Base(f.real)+".")
		n, err := strconv.Atoi(number)
		if !ok || err != nil || n <= 0 {
			continue
		}
		v := Version{Path: filepath.Join(dir, e.Name()), Number: n}
		st, err := e.Info()
		if err != nil || !st.Mode().IsRegular() {
			continue
		}
		v.Taken, v.Bytes = st.ModTime(), st.Size()
		out = append(out, v)
	}
	slices.SortFunc(out, func(a, b Version) int { return b.Number - a.Number })
	return out, nil
}

// keep gives the file as it is a second name among the versions; where the disk
// knows no second names it copies it. It returns what takes the version back.
func (f *JobFile) keep(there []byte) (drop func(), err error) {
	disk := f.store.disk
	f.prune() // what a save that was killed left to do
	versions, err := f.versions()
	if err != nil {
		return nil, err
	}
	dir := filepath.Join(filepath.Dir(f.real), versionsDir)
	if err := disk.MkdirAll(dir, 0o755); err != nil {
		return nil, err
	}
	number := 1
	if len(versions) > 0 {
		number = versions[0].Number + 1
		// A save that failed after this may have left the same one.
		if last, err := readBounded(disk, versions[0].Path, model.MaxFileBytes); err == nil && string(last) == string(there) {
			return func() {}, nil
		}
	}
	name := filepath.Join(dir, fmt.Sprintf("%s.%06d", filepath.Base(f.real), number))
	if err := disk.Link(f.real, name); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return nil, err
		}
		if len(there) > model.MaxFileBytes {
			return nil, errors.New("it is too large to be copied")
		}
		st, statErr := disk.Stat(f.real)
		if err := WriteWhole(disk, name, there); err != nil {
			return nil, err
		}
		if statErr == nil {
			_ = disk.SetTime(name, st.ModTime()) // only shown
		}
	} else if err := disk.SyncDir(dir); err != nil {
		disk.Remove(name)
		return nil, err
	}
	return func() { disk.Remove(name) }, nil
}

// prune removes the versions beyond those kept. One that can not be removed is
// tried again at the next save.
func (f *JobFile) prune() {
	versions, err := f.versions()
	if err != nil {
		return
	}
	for _, v := range versions[min(len(versions), Kept):] {
		f.store.disk.Remove(v.Path)
	}
}

// ReadVersion returns what an earlier version holds.
func (s *Store) ReadVersion(v Version) ([]byte, error) {
	f, err := readBounded(s.disk, v.Path, model.MaxFileBytes)
	if errors.Is(err, os.ErrNotExist) {
		return nil, fmt.Errorf("the version of %s is no longer there", v.Taken.Format("2 Jan 2006 15:04"))
	}
	return f, err
}
