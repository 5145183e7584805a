//go:build windows

package store

import (
	"errors"
	"os"
	"syscall"
	"unsafe"
)

// tryLock takes one byte of the file, far behind its end so that it can still
// be read, which the system lets go when the process ends.
func tryLock(f *os.File) error {
	const (
		failImmediately = 1
		exclusive       = 2
		lockViolation   = syscall.Errno(33)
	)
	at := syscall.Overlapped{Offset: 1 << 30}
	ok, _, err := syscall.NewLazyDLL("kernel32.dll").NewProc("LockFileEx").Call(
		f.Fd(), failImmediately|exclusive, 0, 1, 0, uintptr(unsafe.Pointer(&at)))
	switch {
	case ok != 0:
		return nil
	case errors.Is(err, lockViolation):
		return errLocked
	}
	return errors.ErrUnsupported
}

// alive says whether a process of this machine runs. It is only asked where the
// disk knows no locks, and there the safe answer is yes.
func alive(int) bool { return true }

// syncDir does nothing: the system has no way to flush names.
func syncDir(string) error { return nil }

// isFull says whether an error means that there is no room.
func isFull(err error) bool {
	return errors.Is(err, syscall.Errno(112)) || errors.Is(err, syscall.Errno(39)) // ERROR_DISK_FULL, ERROR_HANDLE_DISK_FULL
}

// isGone says whether an error means that a network folder or a stick is no
// longer there: ERROR_NOT_READY, ERROR_BAD_NETPATH, ERROR_NETNAME_DELETED.
func isGone(err error) bool {
	return errors.Is(err, syscall.Errno(21)) || errors.Is(err, syscall.Errno(53)) || errors.Is(err, syscall.Errno(64))
}

// isReadOnly says whether an error means that nothing can be written there:
// ERROR_WRITE_PROTECT.
func isReadOnly(err error) bool { return errors.Is(err, syscall.Errno(19)) }
