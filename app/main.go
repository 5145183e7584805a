// Risewright turns the readings of a carpeted, site-built stair into proved cut
// cards for its hardwood overlay. "risewright help" says how to run it.
package main

import (
	"context"
	"errors"
	"fmt"
	"image"
	"os"
	"os/signal"
	"path/filepath"
	"runtime"
	"syscall"
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
		Interrupt: func(ctx context.Context) (context.Context, context.CancelFunc) {
			return signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
		},
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
		Sheets: func(ctx context.Context, dir string, a *solver.Answer, tell func(float64, string)) ([]string, error) {
			paths, err := papers.Write(ctx, dir, a, nil, papers.MetaOf(&a.Job, version.Program, ""), true, false, tell)
			return paths, inTheWay(err)
		},
		Templates: func(ctx context.Context, dir string, a *solver.Answer, tell func(float64, string)) ([]string, error) {
			tell(0, "the work is being planned")
			w, err := solver.PlanUntil(ctx, a, t)
			if err != nil {
				return nil, err
			}
			tell(0.3, "the templates are being drawn")
			files, err := papers.TemplateFiles(a, w, papers.MetaOf(&a.Job, version.Program, ""))
			if err != nil {
				return nil, err
			}
			paths, err := papers.Put(ctx, dir, files, false)
			return paths, inTheWay(err)
		},
		Drawings: func(ctx context.Context, dir string, a *solver.Answer, tell func(float64, string)) ([]string, error) {
			tell(0, "the plan and the section are being drawn")
			files, err := papers.Shared(a, t, papers.MetaOf(&a.Job, version.Program, ""))
			if err != nil {
				return nil, err
			}
			paths, err := papers.Put(ctx, dir, files, false)
			return paths, inTheWay(err)
		},
		Still: func(path string, img image.Image, j *model.Job, what string) error {
			file, err := papers.Still(filepath.Base(path), img, j, what)
			if err == nil {
				_, err = papers.Put(context.Background(), filepath.Dir(path), []papers.File{file}, true)
			}
			return err
		},
	}.Run()
}

// inTheWay adds what to do about files that stand in the way.
func inTheWay(err error) error {
	var clash *papers.ClashError
	if errors.As(err, &clash) {
		return fmt.Errorf("%w; choose another folder, or move them away", err)
	}
	return err
}
