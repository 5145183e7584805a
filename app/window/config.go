package window

import (
	"errors"
	"fmt"
	"image"
	"io/fs"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	fapp "fyne.io/fyne/v2/app"

	"risewright/app/session"
	"risewright/app/store"
	"risewright/assets"
	"risewright/model"
	"risewright/view/still"
)

// appID names the program to the desktop and its preferences; FyneApp.toml has
// the same.
const appID = "org.risewright.app"

// firstDemo is the demo job that a first-time user sees: it has a reading to
// retake and rises to mend, so that there is something to do.
const firstDemo = "tapering"

// Config is what a window needs from outside.
type Config struct {
	Tables  model.Tables
	Path    string // of the job to open, or demo: and the name of a demo job; "" opens the first demo
	Clock   func() time.Time
	Version string
	// Store keeps files and journals. Nil keeps no journals.
	Store *store.Store
	// Templates writes the list of full-size templates, and those that are
	// needed, to a folder and returns their names. Nil disables the command.
	Templates Writer
	// Drawings writes plan, section and answer for other programs to a folder. Nil
	// leaves the menu's entry out of use.
	Drawings Writer
	// Sheets writes the papers of an answer to a folder. Nil leaves the menu's
	// entry out of use.
	Sheets Writer
	// Still writes a picture of a job to a file, in place of one that is there,
	// and says inside what it shows. It may run on another goroutine. Nil leaves
	// stills out.
	Still func(path string, img image.Image, j *model.Job, what string) error

	// What follows is set in tests; nil is as usual.

	later func(work, then func()) // see panel.Desk.Later
	do    func(func())            // in place of fyne.Do
	still *still.Options          // of stills, but for their clock
	mkdir func(string, fs.FileMode) error
}

// Run shows the window and returns when it is closed. An error says why it
// could not be opened at all.
func (c Config) Run() error {
	s, first, err := c.start()
	if err != nil {
		return err
	}
	a := fapp.NewWithID(appID)
	a.SetIcon(fyne.NewStaticResource("icon.png", assets.IconPNG()))
	w := newWindow(a, c, s)
	a.Lifecycle().SetOnStarted(func() { c.greet(w, first) })
	w.win.ShowAndRun()
	return nil
}

// greet says what there is to say at the start, or else offers the tour to who
// starts the program for the first time.
func (c Config) greet(w *window, first func(*window)) {
	switch {
	case first != nil:
		first(w)
	case c.Path == "" && !w.app.Preferences().Bool(keyToured):
		w.offerTour()
	}
}

func (c Config) home() session.Home {
	return session.Home{Tables: c.Tables, Clock: c.Clock, Store: c.Store, Program: c.Version}
}

// start opens what the window begins with: work that was not saved when the
// program was stopped, the job of the config, or the demo. It returns what there
// is to say about it once the window is there, or nil.
func (c Config) start() (*session.Session, func(*window), error) {
	if name, ok := strings.CutPrefix(c.Path, assets.DemoPrefix); ok {
		s, err := c.demo(name)
		return s, c.others(), err
	}
	if c.Path == "" {
		if o := c.unsaved(); o != nil {
			return o.Session, func(w *window) { w.greet(o) }, nil
		}
		s, err := c.demo(firstDemo)
		return s, c.others(), err
	}
	o, err := c.home().Open(c.Path, false)
	var busy *store.BusyError
	switch {
	case errors.As(err, &busy):
		s, err := c.demo(firstDemo)
		return s, func(w *window) { w.askBusy(busy) }, err
	case err != nil:
		return nil, nil, err
	case o.Brought():
		return o.Session, func(w *window) { w.greet(o) }, nil
	}
	return o.Session, c.others(), nil
}

// demo opens a demo job.
func (c Config) demo(name string) (*session.Session, error) {
	data, err := assets.DemoJob(name)
	if err != nil {
		return nil, err
	}
	job, err := model.Decode(data)
	if err != nil {
		return nil, fmt.Errorf("demo job %s: %w", name, err)
	}
	return c.home().New(job), nil
}
