package store

import (
	"os"
	"path/filepath"
	"runtime"
	"time"
)

// Store keeps jobs on a disk. Make one with New; it may be used by several
// goroutines.
type Store struct {
	disk  FS
	dir   string // of the journals
	clock func() time.Time
	host  string
	pid   int
}

// New returns a store that keeps its journals in the folder dir, which is made
// when it is first needed.
func New(disk FS, dir string, clock func() time.Time) *Store {
	host, err := os.Hostname()
	if err != nil || host == "" {
		host = "this machine"
	}
	return &Store{disk: disk, dir: dir, clock: clock, host: host, pid: os.Getpid()}
}

// Dir returns the folder of the journals.
func (s *Store) Dir() string { return s.dir }

// Folder returns where the program keeps journals, in the user's folder that
// the system has for such things: on this machine, not in a network folder that
// other machines use too.
func Folder(getenv func(string) string) (string, error) {
	if dir := getenv("XDG_STATE_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "risewright", "journals"), nil
	}
	switch runtime.GOOS {
	case "windows":
		if dir := getenv("LocalAppData"); dir != "" {
			return filepath.Join(dir, "Risewright", "Journals"), nil
		}
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", err
	}
	if runtime.GOOS == "darwin" {
		return filepath.Join(home, "Library", "Application Support", "Risewright", "Journals"), nil
	}
	return filepath.Join(home, ".local", "state", "risewright", "journals"), nil
}
