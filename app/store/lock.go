package store

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"time"
)

// Holder is who has a job open.
type Holder struct {
	PID   int       `json:"pid"`
	Host  string    `json:"host"`
	Since time.Time `json:"since"`
}

// String names the holder for people.
func (h Holder) String() string {
	if h == (Holder{}) {
		return "it does not say which"
	}
	return fmt.Sprintf("process %d on %s, since %s", h.PID, h.Host, h.Since.Format("2 Jan 2006 15:04"))
}

// lock is a file that says who has something open. The system's lock on it is
// what counts, since it goes when its holder does; what is written in it is for
// people, and for disks that know no locks or do not pass them on to other
// machines.
type lock struct {
	disk FS
	name string
	f    File
}

// maxHolder bounds what is read of a lock file.
const maxHolder = 4096

// maxTries bounds how often a lock file that vanishes while it is taken is
// looked for again.
const maxTries = 100

// belief is what is believed of a lock file beside the system's lock on it,
// which always is.
type belief int

const (
	// believeAll believes the word of another machine, which may be on a disk
	// that does not pass locks on.
	believeAll belief = iota
	// believeLocks believes what is written only where the disk knows no locks.
	believeLocks
	// believeNone is for a person who knows better.
	believeNone
)

// take takes the lock file of that name. What is locked is what a *BusyError
// names.
func (s *Store) take(name, what string, b belief) (*lock, error) {
	for range maxTries {
		f, err := s.disk.Open(name, os.O_RDWR|os.O_CREATE, 0o666)
		if errors.Is(err, fs.ErrPermission) {
			f, err = s.disk.Open(name, os.O_RDONLY, 0) // another user's
		}
		if err != nil {
			return nil, err
		}
		l := &lock{s.disk, name, f}
		holder := readHolder(f)
		err = f.TryLock()
		busy := &BusyError{Path: what, Holder: holder, Sure: errors.Is(err, errLocked)}
		elsewhere := holder.Host != "" && holder.Host != s.host
		switch {
		case busy.Sure,
			elsewhere && (b == believeAll || b == believeLocks && err != nil),
			err != nil && holder.Host == s.host && holder.PID != s.pid && alive(holder.PID) && b != believeNone:
			f.Close()
			return nil, busy
		}
		if !l.stillThere() {
			f.Close() // its holder removed it between our opening and locking it
			continue
		}
		l.write(Holder{s.pid, s.host, s.clock().UTC().Truncate(time.Second)})
		return l, nil
	}
	return nil, &BusyError{Path: what} // others take it and let it go all the time
}

// stillThere says whether the file locked is the one that has the name.
func (l *lock) stillThere() bool {
	have, err := l.f.Stat()
	if err != nil {
		return true // nothing better is known
	}
	now, err := l.disk.Stat(l.name)
	if err != nil {
		return !errors.Is(err, fs.ErrNotExist)
	}
	return os.SameFile(have, now)
}

// readHolder reads what a lock file says; anything may stand there.
func readHolder(f io.Reader) (h Holder) {
	data, err := io.ReadAll(io.LimitReader(f, maxHolder))
	if err != nil || json.Unmarshal(data, &h) != nil {
		return Holder{}
	}
	const longest = 200 // a host's name may have 253 characters; it is only shown
	h.Host = h.Host[:min(len(h.Host), longest)]
	return h
}

// write says who has the lock. A full disk is no reason not to have it.
func (l *lock) write(h Holder) {
	data, err := json.Marshal(h)
	if err != nil || l.f.Truncate(0) != nil {
		return
	}
	if s, ok := l.f.(io.Seeker); ok {
		s.Seek(0, io.SeekStart)
	}
	l.f.Write(append(data, '\n'))
}

// release gives the lock back and removes its file.
func (l *lock) release() {
	if l == nil {
		return
	}
	gone := l.disk.Remove(l.name) == nil // before closing, so that nobody takes it in between
	l.f.Close()
	if !gone { // a system that does not remove open files
		l.disk.Remove(l.name)
	}
}
