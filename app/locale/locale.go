// Package locale keeps the window's library from writing a complaint to standard
// error, before the program has begun, where the locale is C.UTF-8, as it is in
// most containers.
//
// The library asks for the user's language while the program starts, and takes
// the C of C.UTF-8 for one. Where nobody has named a language this names
// English, the only one the program speaks. The locale itself stays as it is,
// since the keyboard depends on it.
//
// It must be initialised before fyne.io/fyne/v2/lang. Packages are initialised
// in the order of their paths, each once all it imports are (The Go Programming
// Language Specification, Program initialization). That one needs text/template,
// which sorts after this package; this one needs only os, which sorts before.
// So it may import nothing else.
package locale

import "os"

func init() {
	if os.Getenv("LANGUAGE") != "" {
		return
	}
	for _, name := range [...]string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		v := os.Getenv(name)
		if v == "" {
			continue
		}
		if len(v) > 2 && v[:2] == "C." || len(v) > 6 && v[:6] == "POSIX." {
			os.Setenv("LANGUAGE", "en") // fails for no name without = in it
		}
		return
	}
}
