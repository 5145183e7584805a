package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// errLocked is returned by TryLock when another process has the file.
var errLocked = errors.New("another program has it open")

// ChangedError says that a file is not as it was when it was last read or
// written: another program has written it.
type ChangedError struct{ Path string }

// Error says so.
func (e *ChangedError) Error() string {
	return fmt.Sprintf("%s has been changed by another program; it was left as it is", e.Path)
}

// BusyError says that a job is open in another window.
type BusyError struct {
	Path   string
	Holder Holder
	// Sure says that the other window is there now. Otherwise it was, on a
	// machine that can not be asked, and may have ended without a word.
	Sure bool
}

// Error says who has it.
func (e *BusyError) Error() string {
	if e.Sure {
		return fmt.Sprintf("%s is open in another window (%s)", e.Path, e.Holder)
	}
	return fmt.Sprintf("%s may be open in another window (%s)", e.Path, e.Holder)
}

// UnconfirmedError says that a file has its new contents, but that the system
// would not promise that they outlast a power cut.
type UnconfirmedError struct{ Why error }

// Error says so.
func (e *UnconfirmedError) Error() string {
	return fmt.Sprintf("it was written, but the disk would not confirm it: %v", e.Why)
}

// Unwrap returns what the disk said.
func (e *UnconfirmedError) Unwrap() error { return e.Why }

// plain strips the operation and path from a file error: the caller says both
// in its own words. It says what is wrong in words that need no handbook.
func plain(err error) error {
	if err == nil {
		return nil
	}
	why := err
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		why = p.Err
	case errors.As(err, &l):
		why = l.Err
	}
	for _, c := range []struct {
		is    bool
		words string
	}{
		{isFull(why), "the disk is full"},
		{isReadOnly(why), "nothing can be written there"},
		{errors.Is(why, fs.ErrPermission), "you are not allowed to write there"},
		{isGone(why), "the disk or network folder does not answer"},
	} {
		if c.is {
			return fmt.Errorf("%s (%w)", c.words, why)
		}
	}
	return why
}

// Remedy says what a person can do about an error of the disk; "" when there is
// nothing to say.
func Remedy(err error) string {
	var changed *ChangedError
	var busy *BusyError
	switch {
	case errors.As(err, &changed):
		return "save under another name to keep both"
	case errors.As(err, &busy):
		return "close the other window, or open a copy"
	case isFull(err):
		return "remove something from that disk, or save to another one"
	case isReadOnly(err), errors.Is(err, fs.ErrPermission):
		return "save to a folder of your own"
	case isGone(err):
		return "see that the disk or the network is connected and try again, or save to a folder on this machine"
	case errors.Is(err, fs.ErrNotExist):
		return "the folder or file was moved or removed; save to another folder"
	}
	return ""
}
