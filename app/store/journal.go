package store

import (
	"bytes"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"risewright/model"
)

const (
	journalSuffix = ".journal"
	lockSuffix    = ".lock"
	// smallJournal is how large a journal may grow before it is written anew
	// with less history; one with a large job may grow to as much as
	// manyTexts texts of it.
	smallJournal = 8 << 20
	manyTexts    = 8
	// mostHistory is how many bytes of earlier texts are written anew.
	mostHistory = 4 << 20
)

// Journal is the journal of an open job. It belongs to one goroutine at a time.
type Journal struct {
	store *Store
	id    string
	lock  *lock
	f     File
	w     *model.JournalWriter
	file  model.JournalFile // the job's
	// behind says that a change is missing from the journal, so that its history
	// is no longer that of the window. The next change is written as an edit.
	behind bool
	// broken says that the end of the file can not be trusted, so that it has to
	// be written anew.
	broken  error
	renewAt int64 // size at which it is written anew
}

// Change is what is written to a journal after a change of the job.
type Change struct {
	Kind  Kind
	Label string // of the edit that was made, taken back or done again
	Text  []byte // of the job's file as it would be now
}

// Kind is how a job changed.
type Kind int

// The kinds of change.
const (
	Edited Kind = iota
	Undone
	Redone
)

// Begin begins a journal with a job and its history.
func (s *Store) Begin(first model.Journal) (*Journal, error) {
	if err := s.disk.MkdirAll(s.dir, 0o700); err != nil {
		return nil, fmt.Errorf("make the folder %s: %w", s.dir, plain(err))
	}
	var b [8]byte
	rand.Read(b[:]) // never fails
	j := &Journal{store: s, id: hex.EncodeToString(b[:]), file: first.File}
	var err error
	if j.lock, err = s.take(j.name(lockSuffix), j.name(""), believeLocks); err != nil {
		return nil, fmt.Errorf("begin a journal in %s: %w", s.dir, plain(err))
	}
	if err := j.renew(first); err != nil {
		s.disk.Remove(j.name(journalSuffix)) // there if only its name was not flushed
		j.lock.release()
		return nil, fmt.Errorf("begin a journal in %s: %w", s.dir, err)
	}
	return j, nil
}

func (j *Journal) name(suffix string) string { return filepath.Join(j.store.dir, j.id+suffix) }

// parts begins the names of journals that are being written.
func parts(id string) string { return "." + id + "-" }

// renew writes the journal anew and goes on with that. On an error the old one
// is as it was.
func (j *Journal) renew(all model.Journal) error {
	var b bytes.Buffer
	w, err := model.NewJournal(&b, all, mostHistory)
	if err != nil {
		return err
	}
	path := j.name(journalSuffix)
	err = write(j.store.disk, path, parts(j.id), b.Bytes(), func(part string) error {
		if j.f != nil { // some systems do not rename over an open file
			j.f.Close()
			j.f = nil
		}
		return j.store.disk.Rename(part, path)
	})
	if err != nil {
		if j.f == nil {
			// The old file is there, or the new one without a promise that it
			// lasts: either is right, and neither is open.
			j.broken = err
		}
		return err
	}
	if err := j.open(w); err != nil {
		j.broken = err
		return err
	}
	j.broken = nil
	j.renewAt = max(smallJournal, 2*w.Size(), manyTexts*int64(len(w.Text())))
	return nil
}

// open opens the file to append what w writes.
func (j *Journal) open(w *model.JournalWriter) error {
	f, err := j.store.disk.Open(j.name(journalSuffix), os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		return plain(err)
	}
	j.f, j.w = f, w
	w.To(f)
	return nil
}

// mend makes a journal whose end can not be trusted usable again, with what of
// it can be read.
func (j *Journal) mend() error {
	all, err := j.store.read(j.name(journalSuffix))
	if err != nil || !bytes.Equal(all.Text(), j.w.Text()) {
		// What the disk gives back is not what was last written to it: begin
		// again with that, without the history.
		all = &model.Journal{File: j.file, States: []model.JournalState{{Text: j.w.Text()}}, SavedAt: -1, Unsaved: 1, Last: j.store.clock()}
	}
	return j.renew(*all)
}

// Append writes a change. When it returns nil, the change outlasts the program;
// after Sync it outlasts the machine too.
func (j *Journal) Append(c Change) error {
	err := j.append(func() error {
		write := j.w.Edit
		switch {
		case j.behind:
		case c.Kind == Undone:
			write = j.w.Undo
		case c.Kind == Redone:
			write = j.w.Redo
		}
		return write(j.store.clock(), c.Label, c.Text)
	})
	j.behind = err != nil
	return err
}

// Saved writes that the job lies in its file, whose text is text.
func (j *Journal) Saved(file model.JournalFile, text []byte) error {
	if !bytes.Equal(j.w.Text(), text) {
		if err := j.Append(Change{Text: text, Label: "change"}); err != nil {
			return err
		}
	}
	j.file = file
	return j.append(func() error { return j.w.Saved(j.store.clock(), file) })
}

func (j *Journal) append(record func() error) error {
	if j.broken != nil {
		if err := j.mend(); err != nil {
			return err
		}
	}
	if err := record(); err != nil {
		// What was written in part is cut off, so that the next follows what is whole.
		if cut := j.f.Truncate(j.w.Size()); cut != nil {
			j.broken = err
		}
		return plain(err)
	}
	if j.w.Size() > j.renewAt {
		j.renewAt *= 2 // if it fails, not at once again: the journal is good as it is
		if all, err := j.store.read(j.name(journalSuffix)); err == nil && bytes.Equal(all.Text(), j.w.Text()) {
			_ = j.renew(*all)
		}
	}
	return nil
}

// Sync flushes what was written to the disk.
func (j *Journal) Sync() error {
	if j.broken != nil {
		return j.broken // told before; the next change writes the journal anew
	}
	if err := j.f.Sync(); err != nil {
		// What the system holds of the file may be lost now without a word.
		j.broken = err
		return plain(err)
	}
	return nil
}

// Close ends the journal and leaves it, to be offered at the next start.
func (j *Journal) Close() {
	if j.f != nil {
		j.f.Close()
	}
	j.lock.release()
}

// Drop removes the journal, because what it holds is saved or is not wanted any
// more, and ends it. On an error it is as it was.
func (j *Journal) Drop() error {
	if err := j.store.disk.Remove(j.name(journalSuffix)); err != nil && !errors.Is(err, os.ErrNotExist) {
		return plain(err)
	}
	j.Close()
	return nil
}

// read reads a journal.
func (s *Store) read(path string) (*model.Journal, error) {
	f, err := s.disk.Open(path, os.O_RDONLY, 0)
	if err != nil {
		return nil, plainRead(err)
	}
	defer f.Close()
	return model.ReadJournal(f)
}

// Orphan is a journal whose window is gone, with changes that are in no file.
type Orphan struct {
	ID   string
	File string // of the job; "" when it was never saved
	Name string // of the job
	// Unsaved counts the changes, and Last is when the last was made.
	Unsaved int
	Last    time.Time
	// Fault says why it can not be read; it is left where it is then.
	Fault string
	Path  string // of the journal
}

// Orphans returns the journals whose windows are gone and that hold what is in
// no file. It clears away those that hold nothing more than a file does.
func (s *Store) Orphans() ([]Orphan, error) {
	ids, err := s.ids()
	if err != nil {
		return nil, err
	}
	var out []Orphan
	for _, id := range ids {
		if o, ok, _ := s.orphan(id); ok {
			out = append(out, o)
		}
	}
	return out, nil
}

// A window that only looks at a journal has it for a moment. Whoever has a right
// to it asks so often, with such a pause.
const (
	patience = 50
	pause    = 20 * time.Millisecond
)

// OrphanOf returns the journal with what is not saved of a file that this
// window has taken. Whoever has it now only looks at it, so it waits a little.
func (s *Store) OrphanOf(f *JobFile) (Orphan, bool) {
	ids, err := s.ids()
	if err != nil {
		return Orphan{}, false // told when unsaved work is looked for
	}
	var best Orphan
	found := false
	for _, id := range ids {
		j, err := s.read(filepath.Join(s.dir, id+journalSuffix))
		if err != nil || s.real(j.File.Path) != f.real {
			continue
		}
		for range patience {
			o, ok, busy := s.orphan(id)
			if ok && o.Fault == "" && (!found || o.Last.After(best.Last)) {
				best, found = o, true
			}
			if !busy {
				break
			}
			time.Sleep(pause)
		}
	}
	return best, found
}

// orphan looks at one journal, unless a window has it.
func (s *Store) orphan(id string) (o Orphan, ok, busy bool) {
	base := filepath.Join(s.dir, id)
	l, err := s.take(base+lockSuffix, base, believeLocks)
	if err != nil {
		var held *BusyError
		return Orphan{}, false, errors.As(err, &held) // otherwise nothing can be said of it
	}
	defer l.release()
	sweep(s.disk, s.dir, parts(id))
	o = Orphan{ID: id, Path: base + journalSuffix}
	j, err := s.read(o.Path)
	if errors.Is(err, os.ErrNotExist) {
		return o, false, false
	}
	if err != nil {
		o.Fault = err.Error()
		return o, true, false
	}
	o.File, o.Unsaved, o.Last = j.File.Path, j.Unsaved, j.Last
	if s.saved(j) { // what is torn off, if anything, was never acknowledged
		s.disk.Remove(o.Path)
		return o, false, false
	}
	job, err := model.Decode(j.Text())
	if err != nil {
		o.Fault = err.Error()
		return o, true, false
	}
	o.Name = job.Name
	return o, true, false
}

// saved says whether a journal holds nothing that is not in the job's file, which
// must be there: the last save may have been written but not told to the journal.
func (s *Store) saved(j *model.Journal) bool {
	if j.File.Path == "" {
		return j.Unsaved == 0
	}
	data, err := readBounded(s.disk, j.File.Path, model.MaxFileBytes)
	return err == nil && (j.Unsaved == 0 || model.Same(data, j.Text()))
}

// Adopt takes over the journal of a window that is gone.
func (s *Store) Adopt(id string) (*Journal, *model.Journal, error) {
	if filepath.Base(id) != id {
		return nil, nil, fmt.Errorf("%q is no journal", id)
	}
	j := &Journal{store: s, id: id}
	var err error
	var busy *BusyError
	for range patience {
		j.lock, err = s.take(j.name(lockSuffix), j.name(journalSuffix), believeLocks)
		if !errors.As(err, &busy) {
			break
		}
		time.Sleep(pause)
	}
	if err != nil {
		return nil, nil, err
	}
	all, err := s.read(j.name(journalSuffix))
	if err == nil {
		// Written anew, for its end may be torn, and so that nothing that is on
		// the disk is changed in place. A full disk must not keep the job from
		// being opened: the next change tries again, and says what is wrong.
		j.w, j.file = all.Continue(io.Discard), all.File
		_ = j.renew(*all)
		return j, all, nil
	}
	j.lock.release()
	return nil, nil, err
}

// Drop removes a journal whose window is gone.
func (s *Store) Drop(id string) error {
	if filepath.Base(id) != id {
		return fmt.Errorf("%q is no journal", id)
	}
	base := filepath.Join(s.dir, id)
	l, err := s.take(base+lockSuffix, base, believeLocks)
	if err != nil {
		return err
	}
	defer l.release()
	return plain(s.disk.Remove(base + journalSuffix))
}

// ids returns the names of all journals, and of those begun and never finished.
func (s *Store) ids() ([]string, error) {
	entries, err := s.disk.ReadDir(s.dir)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("look for unsaved work in %s: %w", s.dir, plainRead(err))
	}
	seen := map[string]bool{}
	var out []string
	for _, e := range entries {
		id := idOf(e.Name())
		if id != "" && !seen[id] {
			seen[id] = true
			out = append(out, id)
		}
	}
	return out, nil
}

// idOf returns the journal that a file in the folder belongs to, or "".
func idOf(name string) string {
	const letters = 16
	for _, suffix := range []string{journalSuffix, lockSuffix, partSuffix} {
		if strings.HasSuffix(name, suffix) {
			id := strings.TrimPrefix(name, ".")
			if len(id) > letters {
				if _, err := hex.DecodeString(id[:letters]); err == nil {
					return id[:letters]
				}
			}
		}
	}
	return ""
}
