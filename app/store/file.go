package store

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"risewright/model"
)

// JobFile is a job's file while the job is open: what it held when it was last
// read or written, and the lock that tells other windows. It belongs to one
// goroutine.
type JobFile struct {
	store *Store
	path  string // as the user knows it
	real  string // without symbolic links
	sum   [sha256.Size]byte
	lock  *lock // nil where no lock can be: nothing can be saved there either
}

// Path returns the file as the user named it.
func (f *JobFile) Path() string { return f.path }

// Mark returns what a journal says of the file.
func (f *JobFile) Mark() model.JournalFile { return model.JournalFile{Path: f.path, Sum: f.sum} }

// Expect says what the file held when it was last read or written by this job.
func (f *JobFile) Expect(was model.JournalFile) { f.sum = was.Sum }

// Is says whether a path leads to the file.
func (f *JobFile) Is(path string) bool {
	abs, err := filepath.Abs(path)
	return err == nil && (abs == f.path || f.store.real(abs) == f.real)
}

// Read reads the file again; what it holds now is what Save expects.
func (f *JobFile) Read() ([]byte, error) {
	data, err := readBounded(f.store.disk, f.real, model.MaxFileBytes)
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", f.path, err)
	}
	f.sum = sha256.Sum256(data)
	return data, nil
}

// Now compares the file with what it held when it was last read or written.
func (f *JobFile) Now() (changed, gone bool, err error) {
	data, err := readBounded(f.store.disk, f.real, model.MaxFileBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return false, true, nil
	}
	return err == nil && sha256.Sum256(data) != f.sum, false, err
}

// real returns the file that an absolute path leads to, which need not be there.
func (s *Store) real(abs string) string {
	if real, err := s.disk.Resolve(abs); err == nil {
		return real
	}
	if dir, err := s.disk.Resolve(filepath.Dir(abs)); err == nil {
		return filepath.Join(dir, filepath.Base(abs))
	}
	return abs
}

// Read reads a job's file without taking it.
func (s *Store) Read(path string) ([]byte, error) {
	data, err := readBounded(s.disk, path, model.MaxFileBytes)
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	return data, nil
}

// Take takes a file, which need not be there, without reading it: Save will
// refuse to replace it unless it is forced.
func (s *Store) Take(path string, anyhow bool) (*JobFile, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	f := &JobFile{store: s, path: abs, real: s.real(abs)}
	b := believeAll
	if anyhow {
		b = believeNone
	}
	f.lock, err = s.take(f.beside(".open"), f.path, b)
	var busy *BusyError
	if errors.As(err, &busy) {
		return nil, err
	}
	if err == nil {
		sweep(s.disk, filepath.Dir(f.real), f.parts())
	}
	// Any other failure leaves the file without a lock: a folder that is not
	// there or may not be written is told when it is saved to.
	return f, nil
}

// beside returns the name of a hidden file that belongs to the job's file.
func (f *JobFile) beside(suffix string) string {
	return filepath.Join(filepath.Dir(f.real), "."+filepath.Base(f.real)+suffix)
}

// parts begins the names of the files that Save writes.
func (f *JobFile) parts() string { return "." + filepath.Base(f.real) + ".save-" }

// Release lets other windows have the file. The zero and nil JobFile may be
// released.
func (f *JobFile) Release() {
	if f != nil {
		f.lock.release()
		f.lock = nil
	}
}

// Saved says what a save found.
type Saved struct {
	// Gone says that the file was no longer there and has been written anew.
	Gone bool
}

// Save replaces the file with data, after keeping what it held as an earlier
// version. The error is a *ChangedError when the file is not as it was when it
// was last read or written, unless force. On any error but an *UnconfirmedError the
// file is as it was.
func (f *JobFile) Save(data []byte, force bool) (Saved, error) {
	var out Saved
	none := f.sum == [sha256.Size]byte{}
	there, err := readBounded(f.store.disk, f.real, model.MaxFileBytes)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		out.Gone = !none
	case err != nil:
		return out, fmt.Errorf("look at %s before it is replaced: %w", f.path, err)
	case sha256.Sum256(there) == sha256.Sum256(data):
		f.sum = sha256.Sum256(data)
		// nothing to write, and no version to keep; but the last save may not have been confirmed
		if err := f.store.disk.SyncDir(filepath.Dir(f.real)); err != nil {
			return out, &UnconfirmedError{plain(err)}
		}
		return out, nil
	case sha256.Sum256(there) != f.sum && !force:
		return out, &ChangedError{Path: f.path}
	}
	had := err == nil
	err = write(f.store.disk, f.real, f.parts(), data, func(part string) error {
		drop := func() {}
		if had {
			var err error
			if drop, err = f.keep(there); err != nil {
				return fmt.Errorf("keep the earlier version: %w", plain(err))
			}
		}
		if err := f.store.disk.Rename(part, f.real); err != nil {
			drop()
			return err
		}
		return nil
	})
	var unconfirmed *UnconfirmedError
	if err == nil || errors.As(err, &unconfirmed) {
		f.sum = sha256.Sum256(data) // it is what the file holds
		f.prune()
	}
	if err != nil {
		return out, err
	}
	return out, nil
}
