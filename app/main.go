// Risewright turns the readings of a carpeted, site-built stair into proved cut
// cards for its hardwood overlay. "risewright help" says how to run it.
package main

import (
	"errors"
	"fmt"
	"os"
	"runtime"
	"time"

	"risewright/app/command"
	_ "risewright/app/locale" // before the window's library wakes up
	"risewright/app/papers"
	"risewright/app/store"
	"risewright/app/version"
	"risewright/app/window"
	"risewright/model"
	"risewright/solver"
)

func main() {
	os.Exit(command.Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr, command.Env{
		Window: show,
		Clock:  time.Now,
		System: runtime.GOOS,
		Getenv: os.Getenv,
	}))
}

// show opens the window on the job in a file, or on the one it chooses.
func show(t model.Tables, path string, clock func() time.Time, number string) error {
	journals, err := store.Folder(os.Getenv)
	if err != nil {
		return fmt.Errorf("find a place to keep unsaved work: %w", err)
	}
	return window.Config{
		Tables: t, Path: path, Clock: clock, Version: number,
		Store: store.New(store.Disk{}, journals, clock),
		Sheets: func(dir string, a *solver.Answer) ([]string, error) {
			paths, err := papers.Write(dir, a, nil, papers.MetaOf(&a.Job, version.Program, ""), true, false)
			var clash *papers.ClashError
			if errors.As(err, &clash) {
				err = fmt.Errorf("%w; choose another folder, or move them away", err)
			}
			return paths, err
		},
	}.Run()
}
