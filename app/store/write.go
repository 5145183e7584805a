package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"time"
)

// Files that are being written have a hidden name that begins with partPrefix
// or, for files that have a lock, with the name of the file: whoever has the
// lock may sweep those away.
const (
	partPrefix = ".risewright-"
	partSuffix = ".part"
)

// WriteWhole puts data in place of a file, whole or not at all. A link that
// stands there is replaced, not followed.
func WriteWhole(disk FS, path string, data []byte) error {
	return write(disk, path, partPrefix, data, func(part string) error { return disk.Rename(part, path) })
}

// WriteNew writes a file that is not there yet, whole or not at all. When there
// is one after all it returns fs.ErrExist.
func WriteNew(disk FS, path string, data []byte) error {
	return write(disk, path, partPrefix, data, func(part string) error { return placeNew(disk, part, path) })
}

// placeNew gives a file a name that nothing has; otherwise it returns
// fs.ErrExist.
func placeNew(disk FS, part, path string) error {
	err := disk.Link(part, path)
	if err == nil {
		disk.Remove(part) // a second name, no more
		return nil
	}
	if errors.Is(err, fs.ErrExist) {
		return fs.ErrExist
	}
	// A disk without links: look, then take the name.
	if _, err := disk.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		return fs.ErrExist
	}
	return disk.Rename(part, path)
}

// Staged is a file that is written and flushed, and waits beside its place under
// a hidden name. It is then placed or dropped.
type Staged struct {
	disk       FS
	part, path string
}

// Stage writes what is to become the file at path. On an error nothing is left.
func Stage(disk FS, path string, data []byte) (*Staged, error) {
	part, err := stage(disk, path, partPrefix, data)
	if err != nil {
		return nil, err
	}
	return &Staged{disk, part, path}, nil
}

// Place gives the file its name: in place of what has it, or only where nothing
// has, and then fs.ErrExist says that something did. On an error the file is
// dropped. Confirm says whether names last.
func (s *Staged) Place(replace bool) error {
	var err error
	if replace {
		err = s.disk.Rename(s.part, s.path)
	} else {
		err = placeNew(s.disk, s.part, s.path)
	}
	if err != nil {
		s.Drop()
		return plain(err)
	}
	return nil
}

// Drop removes it.
func (s *Staged) Drop() { s.disk.Remove(s.part) }

// leftFor is how much older than a file just written another one must be to be
// taken for the rest of a writing that was killed: none takes so long, not even
// where the machine sleeps on the way.
const leftFor = 24 * time.Hour

// SweepLeft removes from the folder of a staged file that has its place what programs that were killed left there half written: ordinary files
// with just such a name as Stage gives, and by the disk's own clock a day older.
// Whoever has the folder may be writing to it at the moment. What can not be
// looked at or removed stays.
func (s *Staged) SweepLeft() {
	st, err := s.disk.Lstat(s.path)
	if err != nil {
		return
	}
	dir := filepath.Dir(s.path)
	entries, err := s.disk.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		if !e.Type().IsRegular() || !staging.MatchString(e.Name()) {
			continue
		}
		name := filepath.Join(dir, e.Name())
		if left, err := s.disk.Lstat(name); err == nil && left.Mode().IsRegular() && st.ModTime().Sub(left.ModTime()) >= leftFor {
			s.disk.Remove(name)
		}
	}
}

// staging is what files are called that are staged: os.CreateTemp puts a number
// in place of the star.
var staging = regexp.MustCompile(`^` + regexp.QuoteMeta(partPrefix) + `[0-9]+` + regexp.QuoteMeta(partSuffix) + `$`)

// sweep removes what a program that was killed left half written under such a
// name.
func sweep(disk FS, dir, prefix string) {
	entries, err := disk.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), prefix) && strings.HasSuffix(e.Name(), partSuffix) {
			disk.Remove(filepath.Join(dir, e.Name()))
		}
	}
}

// write writes data to a new file beside path, whose name begins with prefix,
// flushes it, and has place give it its name. When that fails the file is
// removed again.
func write(disk FS, path, prefix string, data []byte, place func(part string) error) error {
	part, err := stage(disk, path, prefix, data)
	if err != nil {
		return err
	}
	if err := place(part); err != nil {
		disk.Remove(part)
		return plain(err)
	}
	return Confirm(disk, filepath.Dir(path))
}

// Confirm flushes the names in a folder. The error is an *UnconfirmedError: the
// files are there, and only a power cut now could undo that.
func Confirm(disk FS, dir string) error {
	if err := disk.SyncDir(dir); err != nil {
		return &UnconfirmedError{plain(err)}
	}
	return nil
}

// stage writes data to a new file beside path, whose name begins with prefix,
// and flushes it. When that fails the file is removed again.
func stage(disk FS, path, prefix string, data []byte) (part string, err error) {
	f, err := disk.Temp(filepath.Dir(path), prefix+"*"+partSuffix)
	if err != nil {
		return "", plain(err)
	}
	name := f.Name()
	open := true
	defer func() {
		if open {
			f.Close()
		}
		if err != nil {
			disk.Remove(name)
		}
	}()
	n, err := f.Write(data)
	if err == nil && n < len(data) {
		err = io.ErrShortWrite
	}
	if err != nil {
		return "", plain(err)
	}
	mode := fs.FileMode(0o644)
	if st, e := disk.Stat(path); e == nil {
		mode = st.Mode().Perm()
	}
	_ = f.Chmod(mode) // disks without modes refuse, and lose nothing
	if err = f.Sync(); err != nil {
		return "", plain(err)
	}
	open = false
	if err = f.Close(); err != nil {
		return "", plain(err)
	}
	return name, nil
}

// readBounded reads a regular file of at most most bytes; of a longer one it
// reads one byte more, for the decoder to refuse.
func readBounded(disk FS, path string, most int64) ([]byte, error) {
	// A pipe or a device would never end: look before opening.
	st, err := disk.Stat(path)
	if err != nil {
		return nil, plainRead(err)
	}
	if !st.Mode().IsRegular() {
		if st.IsDir() {
			return nil, errors.New("it is a folder, not a file")
		}
		return nil, errors.New("it is no ordinary file")
	}
	f, err := disk.Open(path, os.O_RDONLY, 0)
	if err != nil {
		return nil, plainRead(err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	if err != nil {
		return nil, plainRead(err)
	}
	return data, nil
}

// plainRead is plain for reading, where permission means another thing.
func plainRead(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) && errors.Is(err, fs.ErrPermission) {
		return fmt.Errorf("you are not allowed to read it (%w)", p.Err)
	}
	return plain(err)
}
