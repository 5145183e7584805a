package session

import (
	"errors"
	"fmt"

	"risewright/app/store"
)

// Recovered is a session rebuilt from the journal of a window that is gone.
type Recovered struct {
	*Session
	Orphan store.Orphan // what it was rebuilt from
	// Lost says why the job has no file any more, although it had one; it is nil
	// otherwise. Saving asks for a new one.
	Lost error
	// Changed and Gone say that the file is not as it was when the journal last
	// knew of it, or no longer there.
	Changed, Gone bool
}

// Orphans returns the journals that Recover can rebuild a session from.
func (h Home) Orphans() ([]store.Orphan, error) {
	if h.Store == nil {
		return nil, nil
	}
	return h.Store.Orphans()
}

// Recover rebuilds a session from a journal, as it was last seen, with its
// history, and goes on with the journal.
func (h Home) Recover(o store.Orphan) (*Recovered, error) {
	if h.Store == nil {
		return nil, errors.New("no journals are kept")
	}
	journal, all, err := h.Store.Adopt(o.ID)
	if err != nil {
		return nil, fmt.Errorf("rebuild %s: %w", o.Name, err)
	}
	history, saved, err := all.History()
	if err != nil {
		journal.Close()
		return nil, fmt.Errorf("rebuild %s: %w", o.Name, err)
	}
	s := h.session(history)
	s.journal, s.saved, s.unsaved = journal, saved, all.Unsaved
	out := &Recovered{Session: s, Orphan: o}
	if all.File.Path == "" {
		return out, nil
	}
	// The lock that is left is that of the window that is gone.
	f, err := h.Store.Take(all.File.Path, true)
	if err != nil {
		out.Lost, s.saved = err, -1
		return out, nil
	}
	f.Expect(all.File)
	s.file = f
	out.Changed, out.Gone, _ = f.Now() // what can not be read now is told when it is saved to
	return out, nil
}

// Drop removes a journal for good: ask before.
func (h Home) Drop(o store.Orphan) error {
	if err := h.Store.Drop(o.ID); err != nil {
		return fmt.Errorf("drop the changes to %s: %w", o.Name, err)
	}
	return nil
}
