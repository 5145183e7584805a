package session

import (
	"errors"
	"fmt"

	"risewright/app/store"
	"risewright/model"
)

// Extension is that of job files.
const Extension = ".risewright.json"

// Load reads the job in a file, for those who will not write it.
func Load(path string) (model.Job, error) {
	data, err := store.New(store.Disk{}, "", nil).Read(path)
	if err != nil {
		return model.Job{}, err
	}
	return decode(path, data)
}

func decode(path string, data []byte) (model.Job, error) {
	job, err := model.Decode(data)
	if err != nil {
		return model.Job{}, fmt.Errorf("%s: %w", path, err)
	}
	return job, nil
}

// OpenCopy starts a session on a copy of the job in a file, which has no file
// of its own until it is saved as another.
func (h Home) OpenCopy(path string) (*Session, error) {
	job, err := Load(path)
	if err != nil {
		return nil, err
	}
	return h.New(job), nil
}

// Path returns the job's file, or "" before the first save.
func (s *Session) Path() string {
	if s.file == nil {
		return ""
	}
	return s.file.Path()
}

// Has says whether a path leads to the job's file.
func (s *Session) Has(path string) bool { return s.file != nil && s.file.Is(path) }

// Save writes the job to its file. On any error the file is as it was and the
// job stays unsaved. The error is a *store.ChangedError when another program has
// written the file.
func (s *Session) Save() (store.Saved, error) {
	if s.file == nil {
		return store.Saved{}, errors.New("save: the job has no file yet; choose one with Save as")
	}
	return s.saveTo(s.file, false)
}

// SaveOver writes the job to its file, whatever that holds now; it is kept as an
// earlier version.
func (s *Session) SaveOver() (store.Saved, error) {
	if s.file == nil {
		return s.Save()
	}
	return s.saveTo(s.file, true)
}

// SaveAs writes the job to a file and makes it the job's own. What the file
// held is kept as an earlier version of it: ask before. On an error all is as
// it was.
func (s *Session) SaveAs(path string) (store.Saved, error) {
	if s.Has(path) {
		return s.SaveOver()
	}
	f, err := s.store.Take(path, false)
	if err != nil {
		return store.Saved{}, fmt.Errorf("save %s: %w", path, err)
	}
	was := s.file
	found, err := s.saveTo(f, true)
	if err != nil {
		f.Release()
		return found, err
	}
	was.Release()
	return found, nil
}

// saveTo writes the job to f and, when that is done, makes it the job's own.
func (s *Session) saveTo(f *store.JobFile, force bool) (store.Saved, error) {
	s.settle()
	data, err := model.Encode(s.Job())
	if err != nil {
		return store.Saved{}, fmt.Errorf("save %s: %w", f.Path(), err)
	}
	found, err := f.Save(data, force)
	var changed *store.ChangedError
	var unconfirmed *store.UnconfirmedError
	switch {
	case errors.As(err, &changed): // says it all
		return found, err
	case errors.As(err, &unconfirmed):
		return found, fmt.Errorf("save %s: %w", f.Path(), err)
	case err != nil:
		return found, fmt.Errorf("save %s: %w; the file is as it was", f.Path(), err)
	}
	s.file, s.saved = f, s.history.Depth()
	s.savedAs(data)
	return found, nil
}

// Versions returns the earlier versions of the job's file, the newest first.
func (s *Session) Versions() ([]store.Version, error) {
	if s.file == nil {
		return nil, nil
	}
	return s.store.Versions(s.file.Path())
}

// OpenVersion puts an earlier version in place of the job, which can be undone.
// The file is as it was until it is saved.
func (s *Session) OpenVersion(v store.Version) error {
	data, err := s.store.ReadVersion(v)
	if err != nil {
		return fmt.Errorf("open an earlier version: %w", err)
	}
	job, err := decode(v.Path, data)
	if err != nil {
		return fmt.Errorf("open an earlier version: %w", err)
	}
	return s.Do(model.Replace{With: job, Name: "go back to the version of " + v.Taken.Local().Format("2 Jan 15:04")})
}

// Reload puts what the job's file holds now in place of the job, which can be
// undone.
func (s *Session) Reload() error {
	if s.file == nil {
		return errors.New("go back: the job has no file")
	}
	data, err := s.file.Read()
	if err != nil {
		return err
	}
	job, err := decode(s.file.Path(), data)
	if err != nil {
		return err
	}
	if err := s.Do(model.Replace{With: job, Name: "go back to the saved file"}); err != nil {
		return err
	}
	s.settle()
	text, err := model.Encode(job)
	if err != nil {
		return err
	}
	s.saved = s.history.Depth()
	s.savedAs(text)
	return nil
}
