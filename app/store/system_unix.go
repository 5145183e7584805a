//go:build unix

package store

import (
	"errors"
	"os"
	"syscall"
)

// tryLock takes the file with flock, which the system lets go when the process
// ends, however it ends.
func tryLock(f *os.File) error {
	for {
		err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		switch {
		case err == nil:
			return nil
		case errors.Is(err, syscall.EINTR):
			continue
		case errors.Is(err, syscall.EWOULDBLOCK):
			return errLocked
		}
		return errors.ErrUnsupported // network folders without locks say so in many ways
	}
}

// alive says whether a process of this machine runs.
func alive(pid int) bool {
	err := syscall.Kill(pid, 0)
	return err == nil || errors.Is(err, syscall.EPERM)
}

// syncDir flushes the names in a folder. Some network folders can not.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	err = d.Sync()
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) {
		return nil
	}
	return err
}

// isFull says whether an error means that there is no room.
func isFull(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) || errors.Is(err, syscall.EFBIG)
}

// isGone says whether an error means that a network folder or a stick is no
// longer there.
func isGone(err error) bool {
	return errors.Is(err, syscall.ESTALE) || errors.Is(err, syscall.EIO) || errors.Is(err, syscall.ENODEV) ||
		errors.Is(err, syscall.ENXIO) || errors.Is(err, syscall.EHOSTDOWN) || errors.Is(err, syscall.ENOTCONN) ||
		errors.Is(err, syscall.ETIMEDOUT)
}

// isReadOnly says whether an error means that nothing can be written there.
func isReadOnly(err error) bool { return errors.Is(err, syscall.EROFS) }
