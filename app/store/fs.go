package store

import (
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// FS is what the store asks of a disk. Errors are those of package os.
type FS interface {
	Open(name string, flag int, perm fs.FileMode) (File, error)
	// Temp makes a file of a new name in dir: pattern with its * replaced.
	Temp(dir, pattern string) (File, error)
	Rename(from, to string) error
	// Link gives a file a second name. It fails if there is one of that name.
	Link(from, to string) error
	Remove(name string) error
	MkdirAll(dir string, perm fs.FileMode) error
	Stat(name string) (fs.FileInfo, error)
	Lstat(name string) (fs.FileInfo, error)
	ReadDir(dir string) ([]fs.DirEntry, error)
	// Resolve returns the name without symbolic links.
	Resolve(name string) (string, error)
	SetTime(name string, at time.Time) error
	// SyncDir flushes the names in a folder, where the system can.
	SyncDir(dir string) error
}

// File is an open file.
type File interface {
	io.ReadWriteCloser
	Name() string
	Stat() (fs.FileInfo, error)
	Chmod(mode fs.FileMode) error
	Truncate(size int64) error
	Sync() error
	// TryLock takes the file for this process until it is closed, by whatever
	// means. It returns errLocked when another has it, and errors.ErrUnsupported
	// where the disk knows no locks.
	TryLock() error
}

// Disk is the FS of this machine.
type Disk struct{}

type diskFile struct{ *os.File }

func (f diskFile) TryLock() error { return tryLock(f.File) }

// Open implements FS.
func (Disk) Open(name string, flag int, perm fs.FileMode) (File, error) {
	f, err := os.OpenFile(name, flag, perm)
	if err != nil {
		return nil, err
	}
	return diskFile{f}, nil
}

// Temp implements FS.
func (Disk) Temp(dir, pattern string) (File, error) {
	f, err := os.CreateTemp(dir, pattern)
	if err != nil {
		return nil, err
	}
	return diskFile{f}, nil
}

// Rename implements FS.
func (Disk) Rename(from, to string) error { return os.Rename(from, to) }

// Link implements FS.
func (Disk) Link(from, to string) error { return os.Link(from, to) }

// Remove implements FS.
func (Disk) Remove(name string) error { return os.Remove(name) }

// MkdirAll implements FS.
func (Disk) MkdirAll(dir string, perm fs.FileMode) error { return os.MkdirAll(dir, perm) }

// Stat implements FS.
func (Disk) Stat(name string) (fs.FileInfo, error) { return os.Stat(name) }

// Lstat implements FS.
func (Disk) Lstat(name string) (fs.FileInfo, error) { return os.Lstat(name) }

// ReadDir implements FS.
func (Disk) ReadDir(dir string) ([]fs.DirEntry, error) { return os.ReadDir(dir) }

// Resolve implements FS.
func (Disk) Resolve(name string) (string, error) { return filepath.EvalSymlinks(name) }

// SetTime implements FS.
func (Disk) SetTime(name string, at time.Time) error { return os.Chtimes(name, at, at) }

// SyncDir implements FS.
func (Disk) SyncDir(dir string) error { return syncDir(dir) }
