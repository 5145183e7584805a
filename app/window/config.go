package window

import (
	"fmt"
	"time"

	"fyne.io/fyne/v2"
	fapp "fyne.io/fyne/v2/app"

	"risewright/app/session"
	"risewright/assets"
	"risewright/model"
	"risewright/solver"
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
	Path    string // of the job to open; "" opens the demo
	Clock   func() time.Time
	Version string
	// Sheets writes the survey sheet and the cards of an answer to a folder
	// and returns the names of the files. It may run on another goroutine. Nil
	// leaves the menu's entry out of use.
	Sheets func(dir string, a *solver.Answer) ([]string, error)
}

// Run shows the window and returns when it is closed. An error says why it
// could not be opened at all.
func (c Config) Run() error {
	s, err := c.start()
	if err != nil {
		return err
	}
	a := fapp.NewWithID(appID)
	a.SetIcon(fyne.NewStaticResource("icon.png", assets.IconPNG()))
	w := newWindow(a, c, s)
	w.win.ShowAndRun()
	return nil
}

// start opens the job of the config.
func (c Config) start() (*session.Session, error) {
	if c.Path != "" {
		return session.Open(c.Tables, c.Path, c.Clock)
	}
	data, err := assets.DemoJob(firstDemo)
	if err != nil {
		return nil, err
	}
	job, err := model.Decode(data)
	if err != nil {
		return nil, fmt.Errorf("demo job %s: %w", firstDemo, err)
	}
	return session.New(c.Tables, job, c.Clock), nil
}
