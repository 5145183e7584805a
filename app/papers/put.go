package papers

import (
	"bytes"
	"errors"
	"fmt"
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
// returns their paths. See the package for what it guarantees.
func Put(dir string, files []File, replace bool) ([]string, error) {
	if err := checkNames(files); err != nil {
		return nil, err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("make the folder %s: %w", dir, cause(err))
	}
	same := make([]bool, len(files))
	var there, folders []string
	paths := make([]string, len(files))
	for i, f := range files {
		paths[i] = filepath.Join(dir, f.Name)
		st, err := os.Lstat(paths[i])
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return nil, fmt.Errorf("look at %s: %w", paths[i], cause(err))
		case st.IsDir():
			folders = append(folders, f.Name)
		case st.Mode().IsRegular() && st.Size() == int64(len(f.Data)) && holds(paths[i], f.Data):
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
	for i, f := range files {
		if same[i] {
			continue
		}
		put := store.WriteNew // what came into being since it was looked for is not replaced
		if replace {
			put = store.WriteWhole
		}
		err := put(store.Disk{}, paths[i], f.Data)
		if errors.Is(err, fs.ErrExist) && i == 0 {
			return nil, &ClashError{Dir: dir, Names: []string{f.Name}}
		}
		if err != nil {
			if i > 0 {
				return paths[:i], fmt.Errorf("write %s: %w; written before it: %s", paths[i], err, strings.Join(paths[:i], ", "))
			}
			return nil, fmt.Errorf("write %s: %w; nothing was written", paths[i], err)
		}
	}
	return paths, nil
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
func holds(path string, data []byte) bool {
	got, err := os.ReadFile(path)
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
