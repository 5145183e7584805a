package papers

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"

	"risewright/app/store"
)

// File is a file to be written.
type File struct {
	Name string // without a folder
	Data []byte
}

// ClashError says which files are in the way.
type ClashError struct {
	Dir   string
	Names []string
	// Folders says that they are folders, which are never replaced.
	Folders bool
}

// Error names them in one line.
func (e *ClashError) Error() string {
	what := "already there"
	if e.Folders {
		what = "in the way as folders"
	}
	return fmt.Sprintf("nothing was written to %s: %s: %s", e.Dir, what, strings.Join(e.Names, ", "))
}

// Put writes files into the folder dir, which is made if it is not there, and
// returns their paths. See the package for what it guarantees. When the context
// ends before the first file has its name, nothing has changed; later it is too
// late to stop, and all of them get theirs.
func Put(ctx context.Context, dir string, files []File, replace bool) ([]string, error) {
	return PutOn(ctx, store.Disk{}, dir, files, replace)
}

// PutOn is Put on a disk.
func PutOn(ctx context.Context, disk store.FS, dir string, files []File, replace bool) (paths []string, err error) {
	if err := checkNames(files); err != nil {
		return nil, err
	}
	if ctx.Err() != nil {
		return nil, stopped(ctx, dir)
	}
	made := missing(disk, dir)
	var staged []*store.Staged
	changed := false
	defer func() {
		for _, s := range staged { // what has no name yet never gets one
			s.Drop()
		}
		if err != nil && !changed {
			for _, d := range made {
				disk.Remove(d) // only if it is empty
			}
		}
	}()
	if err := disk.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("make the folder %s: %w", dir, cause(err))
	}
	same, err := look(disk, dir, files, replace)
	if err != nil {
		return nil, err
	}
	var waiting []int // the files that are staged
	paths = make([]string, len(files))
	for i, f := range files {
		paths[i] = filepath.Join(dir, f.Name)
		if same[i] {
			continue
		}
		if ctx.Err() != nil {
			return nil, stopped(ctx, dir)
		}
		s, err := store.Stage(disk, paths[i], f.Data)
		if err != nil {
			return nil, fmt.Errorf("write %s: %w; nothing was written", paths[i], err)
		}
		staged, waiting = append(staged, s), append(waiting, i)
	}
	if ctx.Err() != nil {
		return nil, stopped(ctx, dir)
	}
	var next *store.Staged
	for k, i := range waiting {
		next = staged[0]
		staged = staged[1:]
		err := next.Place(replace) // what came into being since it was looked for is not replaced
		switch {
		case err != nil && k > 0:
			done := make([]string, 0, k)
			for _, n := range waiting[:k] {
				done = append(done, paths[n])
			}
			return done, fmt.Errorf("write %s: %w; written before it: %s", paths[i], err, strings.Join(done, ", "))
		case errors.Is(err, fs.ErrExist):
			return nil, &ClashError{Dir: dir, Names: []string{files[i].Name}}
		case err != nil:
			return nil, fmt.Errorf("write %s: %w; nothing was written", paths[i], err)
		}
		changed = true
	}
	if changed {
		next.SweepLeft() // of a writing that was killed
		if err := store.Confirm(disk, dir); err != nil {
			return paths, fmt.Errorf("write the files in %s: %w", dir, err)
		}
	}
	return paths, nil
}

// stopped says that somebody stopped it in time.
func stopped(ctx context.Context, dir string) error {
	return fmt.Errorf("nothing was written to %s: %w", dir, ctx.Err())
}

// missing returns the folders that will be made for dir, the innermost first.
func missing(disk store.FS, dir string) []string {
	var out []string
	for {
		if _, err := disk.Lstat(dir); !errors.Is(err, fs.ErrNotExist) {
			return out
		}
		out = append(out, dir)
		up := filepath.Dir(dir)
		if up == dir {
			return out
		}
		dir = up
	}
}

// look says which files are there already with the same bytes. What else is in
// the way is a *ClashError.
func look(disk store.FS, dir string, files []File, replace bool) ([]bool, error) {
	same := make([]bool, len(files))
	var there, folders []string
	for i, f := range files {
		path := filepath.Join(dir, f.Name)
		st, err := disk.Lstat(path)
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return nil, fmt.Errorf("look at %s: %w", path, cause(err))
		case st.IsDir():
			folders = append(folders, f.Name)
		case st.Mode().IsRegular() && st.Size() == int64(len(f.Data)) && holds(disk, path, f.Data):
			same[i] = true
		default:
			there = append(there, f.Name)
		}
	}
	if len(folders) > 0 {
		return nil, &ClashError{Dir: dir, Names: folders, Folders: true}
	}
	if len(there) > 0 && !replace {
		return nil, &ClashError{Dir: dir, Names: there}
	}
	return same, nil
}

// Clear returns the error that Put would return because of what lies at a name
// in a folder, so that long work need not be done for nothing. The folder need
// not be there.
func Clear(dir, name string, replace bool) error {
	if err := checkNames([]File{{Name: name}}); err != nil {
		return err
	}
	st, err := os.Lstat(filepath.Join(dir, name))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("look at %s: %w", filepath.Join(dir, name), cause(err))
	case st.IsDir():
		return &ClashError{Dir: dir, Names: []string{name}, Folders: true}
	case !replace:
		return &ClashError{Dir: dir, Names: []string{name}}
	}
	return nil
}

// checkNames refuses names that lead out of the folder, that a system would take
// for something else, and two that are one on some disks.
func checkNames(files []File) error {
	seen := map[string]bool{}
	for _, f := range files {
		bare, _, _ := strings.Cut(strings.ToUpper(f.Name), ".")
		if f.Name == "" || f.Name == "." || f.Name == ".." || len(f.Name) > longestName ||
			strings.ContainsAny(f.Name, `/\:*?"<>|`) || strings.ContainsFunc(f.Name, func(r rune) bool { return r < ' ' || r == utf8.RuneError }) ||
			strings.TrimRight(f.Name, ". ") != f.Name || slices.Contains(devices, strings.TrimRight(bare, " 123456789")) {
			return fmt.Errorf("%q is no name for a file in a folder", f.Name)
		}
		low := strings.ToLower(f.Name)
		if seen[low] {
			return fmt.Errorf("two files are to be written as %q", f.Name)
		}
		seen[low] = true
	}
	return nil
}

// longestName is what the common disks take, in bytes, less what a name gets
// while its file is written.
const longestName = 200

// devices are names that Windows takes for machines, whatever their ending, and
// without their number.
var devices = []string{"CON", "PRN", "AUX", "NUL", "COM", "LPT"}

// holds says whether the file at path holds data.
func holds(disk store.FS, path string, data []byte) bool {
	f, err := disk.Open(path, os.O_RDONLY, 0)
	if err != nil {
		return false
	}
	defer f.Close()
	got, err := io.ReadAll(f)
	return err == nil && bytes.Equal(got, data)
}

// cause strips the operation and path from a file error: the caller says both.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}
