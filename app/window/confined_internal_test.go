package window

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"

	"risewright/app/store"
)

// confinedDisk is this machine's disk below one folder: elsewhere nothing can be
// written. It confirms without waiting for the machine, and can be full.
type confinedDisk struct {
	store.Disk
	root string
	full atomic.Bool
	// outside counts what was to be written elsewhere and was refused.
	outside atomic.Int64
	// refused are the names that there was no room for: a job whose lock is among
	// them is open without one.
	refused sync.Map
}

// may says why a name can not be written, or returns nil.
func (d *confinedDisk) may(op, name string) error {
	if !within(d.root, name) {
		d.outside.Add(1)
		return &fs.PathError{Op: op, Path: name, Err: fs.ErrPermission}
	}
	if d.full.Load() {
		d.refused.Store(name, true)
		return &fs.PathError{Op: op, Path: name, Err: syscall.ENOSPC}
	}
	return nil
}

// within says whether a path lies in a folder.
func within(root, path string) bool {
	rel, err := filepath.Rel(root, path)
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

func (d *confinedDisk) Open(name string, flag int, perm fs.FileMode) (store.File, error) {
	if flag&(os.O_WRONLY|os.O_RDWR|os.O_CREATE) != 0 {
		// What is there can be opened on a full disk.
		if _, gone := d.Disk.Lstat(name); gone != nil || !within(d.root, name) {
			if err := d.may("open", name); err != nil {
				return nil, err
			}
		}
	}
	return d.atOnce(d.Disk.Open(name, flag, perm))
}

func (d *confinedDisk) Temp(dir, pattern string) (store.File, error) {
	if err := d.may("open", filepath.Join(dir, pattern)); err != nil {
		return nil, err
	}
	return d.atOnce(d.Disk.Temp(dir, pattern))
}

func (d *confinedDisk) Rename(from, to string) error {
	if !within(d.root, to) {
		return d.may("rename", to)
	}
	return d.Disk.Rename(from, to)
}

func (d *confinedDisk) Link(from, to string) error {
	if err := d.may("link", to); err != nil {
		return err
	}
	return d.Disk.Link(from, to)
}

func (d *confinedDisk) Remove(name string) error {
	if !within(d.root, name) {
		return d.may("remove", name)
	}
	return d.Disk.Remove(name)
}

func (d *confinedDisk) MkdirAll(dir string, perm fs.FileMode) error {
	if err := d.may("mkdir", dir); err != nil {
		return err
	}
	return d.Disk.MkdirAll(dir, perm)
}

func (d *confinedDisk) SyncDir(string) error { return nil }

// promptFile takes the machine's word for what it was given.
type promptFile struct {
	store.File
	disk *confinedDisk
}

func (promptFile) Sync() error { return nil }

func (f promptFile) Write(b []byte) (int, error) {
	if err := f.disk.may("write", f.Name()); err != nil {
		return 0, err
	}
	return f.File.Write(b)
}

func (d *confinedDisk) atOnce(f store.File, err error) (store.File, error) {
	if err != nil {
		return nil, err
	}
	return promptFile{f, d}, nil
}

func (d *confinedDisk) mkdir(name string, perm fs.FileMode) error {
	if err := d.may("mkdir", name); err != nil {
		return err
	}
	return os.Mkdir(name, perm)
}
