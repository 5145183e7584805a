package window

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage/repository"

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
}

// may says why a name can not be written, or returns nil.
func (d *confinedDisk) may(op, name string) error {
	if !within(d.root, name) {
		d.outside.Add(1)
		return &fs.PathError{Op: op, Path: name, Err: fs.ErrPermission}
	}
	if d.full.Load() {
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
		if err := d.may("open", name); err != nil {
			return nil, err
		}
	}
	return atOnce(d.Disk.Open(name, flag, perm))
}

func (d *confinedDisk) Temp(dir, pattern string) (store.File, error) {
	if err := d.may("open", filepath.Join(dir, pattern)); err != nil {
		return nil, err
	}
	return atOnce(d.Disk.Temp(dir, pattern))
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
type promptFile struct{ store.File }

func (promptFile) Sync() error { return nil }

func atOnce(f store.File, err error) (store.File, error) {
	if err != nil {
		return nil, err
	}
	return promptFile{f}, nil
}

// confinedFiles are the files that the library's dialogs see: a folder and what
// is below it. It is the top of the tree, and outside there is nothing.
type confinedFiles struct {
	repository.Repository
	files interface {
		repository.HierarchicalRepository
		repository.ListableRepository
	}
	root string
}

var errOutside = errors.New("outside of the test's folder")

// confineFiles has the library's dialogs stay in a folder until the test ends.
func confineFiles(t *testing.T, root string) {
	t.Helper()
	was, err := repository.ForScheme("file")
	if err != nil {
		t.Fatal(err)
	}
	files, ok := was.(interface {
		repository.HierarchicalRepository
		repository.ListableRepository
	})
	if !ok {
		t.Fatalf("%T lists no folders", was)
	}
	repository.Register("file", &confinedFiles{Repository: was, files: files, root: root})
	t.Cleanup(func() { repository.Register("file", was) })
}

func (c *confinedFiles) Parent(u fyne.URI) (fyne.URI, error) {
	if p, err := c.files.Parent(u); err != nil || within(c.root, p.Path()) {
		return p, err
	}
	return nil, repository.ErrURIRoot
}

func (c *confinedFiles) Child(u fyne.URI, name string) (fyne.URI, error) {
	return c.files.Child(u, name)
}

func (c *confinedFiles) CanList(u fyne.URI) (bool, error) {
	if !within(c.root, u.Path()) {
		return false, nil
	}
	return c.files.CanList(u)
}

func (c *confinedFiles) List(u fyne.URI) ([]fyne.URI, error) {
	if !within(c.root, u.Path()) {
		return nil, errOutside
	}
	return c.files.List(u)
}

func (c *confinedFiles) CreateListable(u fyne.URI) error {
	if !within(c.root, u.Path()) {
		return errOutside
	}
	return c.files.CreateListable(u)
}
