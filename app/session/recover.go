package session

import (
	"errors"
	"fmt"

	"risewright/app/store"
)

// Opened is a session on a job that was opened, and what there is to say of it.
type Opened struct {
	*Session
	// Orphan is the journal that the job was brought back from. Without an ID
	// the job is as its file has it.
	Orphan store.Orphan
	// Changed and Gone say that the file is not as it was when the journal last
	// knew of it, or no longer there.
	Changed, Gone bool
}

// Brought says whether the job was brought back from the journal of a window
// that is gone.
func (o *Opened) Brought() bool { return o.Orphan.ID != "" }

// Open starts a session on the job in a file, with what was not saved of it,
// and tells other windows that it is open. The error is a *store.BusyError when
// another window has it: with anyhow, only when that is sure.
func (h Home) Open(path string, anyhow bool) (*Opened, error) {
	st := h.Store
	if st == nil {
		st = store.New(store.Disk{}, "", h.Clock)
	}
	f, err := st.Take(path, anyhow)
	if err != nil {
		return nil, err
	}
	if h.Store != nil {
		if o, ok := st.OrphanOf(f); ok {
			if out, err := h.recover(o, f); err == nil {
				return out, nil
			} // it stays among the unsaved work, and the file is opened
		}
	}
	data, err := f.Read()
	if err != nil {
		f.Release()
		return nil, err
	}
	job, err := decode(path, data)
	if err != nil {
		f.Release()
		return nil, err
	}
	s := h.New(job)
	s.file = f
	return &Opened{Session: s}, nil
}

// Orphans returns the journals that Recover can rebuild a session from.
func (h Home) Orphans() ([]store.Orphan, error) {
	if h.Store == nil {
		return nil, nil
	}
	return h.Store.Orphans()
}

// Recover rebuilds a session from a journal, as it was last seen, with its
// history, and goes on with the journal. The error is a *store.BusyError when
// the job's file is open in another window, or the journal has been taken over
// by one.
func (h Home) Recover(o store.Orphan) (*Opened, error) {
	if h.Store == nil {
		return nil, errors.New("no journals are kept")
	}
	var file *store.JobFile
	if o.File != "" {
		// The file comes first, so that of windows that start at once one has both.
		// A lock that another machine left is that of the window that is gone.
		var err error
		if file, err = h.Store.Take(o.File, true); err != nil {
			return nil, err
		}
	}
	out, err := h.recover(o, file)
	if err != nil {
		file.Release()
		return nil, fmt.Errorf("bring back %s: %w", o.Name, err)
	}
	return out, nil
}

// recover takes a journal over and makes a session of it, with its file unless
// that is nil.
func (h Home) recover(o store.Orphan, file *store.JobFile) (*Opened, error) {
	journal, all, err := h.Store.Adopt(o.ID)
	if err != nil {
		return nil, err
	}
	history, saved, err := all.History()
	if err == nil && all.File.Path != o.File {
		err = errors.New("another window has gone on with it")
	}
	if err != nil {
		journal.Close()
		return nil, err
	}
	s := h.session(history)
	s.journal, s.saved, s.unsaved = journal, saved, all.Unsaved
	out := &Opened{Session: s, Orphan: o}
	if s.file = file; file != nil {
		file.Expect(all.File)
		out.Changed, out.Gone, _ = file.Now() // what can not be read now is told when it is saved to
	}
	return out, nil
}

// Drop removes a journal for good: ask before.
func (h Home) Drop(o store.Orphan) error {
	if err := h.Store.Drop(o.ID); err != nil {
		return fmt.Errorf("drop the changes to %s: %w", o.Name, err)
	}
	return nil
}
