package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
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
	return write(disk, path, partPrefix, data, func(part string) error {
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
	})
}

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
func write(disk FS, path, prefix string, data []byte, place func(part string) error) (err error) {
	dir := filepath.Dir(path)
	f, err := disk.Temp(dir, prefix+"*"+partSuffix)
	if err != nil {
		return plain(err)
	}
	part := f.Name()
	open := true
	defer func() {
		if open {
			f.Close()
		}
		if err != nil {
			disk.Remove(part)
		}
	}()
	n, err := f.Write(data)
	if err == nil && n < len(data) {
		err = io.ErrShortWrite
	}
	if err != nil {
		return plain(err)
	}
	mode := fs.FileMode(0o644)
	if st, e := disk.Stat(path); e == nil {
		mode = st.Mode().Perm()
	}
	_ = f.Chmod(mode) // disks without modes refuse, and lose nothing
	if err = f.Sync(); err != nil {
		return plain(err)
	}
	open = false
	if err = f.Close(); err != nil {
		return plain(err)
	}
	if err = place(part); err != nil {
		return plain(err)
	}
	if e := disk.SyncDir(dir); e != nil {
		// The file is there; only a power cut now could undo it.
		return &UnconfirmedError{plain(e)}
	}
	return nil
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
