package session

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"risewright/model"
)

// Extension is that of job files.
const Extension = ".risewright.json"

// maxFile bounds what is read into memory before the decoder looks at it.
const maxFile = 64 << 20

// Open starts a session on the job in a file.
func Open(t model.Tables, path string, clock func() time.Time) (*Session, error) {
	job, err := Load(path)
	if err != nil {
		return nil, err
	}
	s := New(t, job, clock)
	s.path = path
	return s, nil
}

// Load reads the job in a file.
func Load(path string) (model.Job, error) {
	f, err := os.Open(path)
	if err != nil {
		return model.Job{}, fmt.Errorf("open %s: %w", path, cause(err))
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxFile))
	if err != nil {
		return model.Job{}, fmt.Errorf("read %s: %w", path, cause(err))
	}
	job, err := model.Decode(data)
	if err != nil {
		return model.Job{}, fmt.Errorf("%s: %w", path, err)
	}
	return job, nil
}

// Save writes the job to its file.
func (s *Session) Save() error {
	if s.path == "" {
		return errors.New("save: the job has no file yet; choose one with Save as")
	}
	return s.SaveAs(s.path)
}

// SaveAs writes the job to a file and makes it the job's own. The file is
// replaced whole or not at all: on an error the old one is as it was and the
// job stays unsaved.
func (s *Session) SaveAs(path string) error {
	data, err := model.Encode(s.Job())
	if err != nil {
		return fmt.Errorf("save %s: %w", path, err)
	}
	if err := WriteWhole(path, data); err != nil {
		return fmt.Errorf("save %s: %w; the file is as it was", path, err)
	}
	s.path, s.saved = path, s.history.Depth()
	return nil
}

// WriteWhole puts data in place of a file, whole or not at all: it writes a
// new file beside it, flushes it to the disk and renames it.
func WriteWhole(path string, data []byte) (err error) {
	dir := filepath.Dir(path)
	f, err := os.CreateTemp(dir, ".risewright-*.part")
	if err != nil {
		return cause(err)
	}
	name := f.Name()
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(name)
		}
	}()
	if _, err = f.Write(data); err != nil {
		return cause(err)
	}
	mode := fs.FileMode(0o644)
	if st, e := os.Stat(path); e == nil {
		mode = st.Mode().Perm()
	}
	if err = f.Chmod(mode); err != nil {
		return cause(err)
	}
	if err = f.Sync(); err != nil {
		return cause(err)
	}
	if err = f.Close(); err != nil {
		return cause(err)
	}
	if err = os.Rename(name, path); err != nil {
		return cause(err)
	}
	if d, e := os.Open(dir); e == nil { // so that the new name survives a power cut; not every system can
		d.Sync()
		d.Close()
	}
	return nil
}

// cause strips the operation and path from a file error: the caller says both
// in its own words.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err
	}
	return err
}
