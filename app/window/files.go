package window

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"risewright/app/demo"
	"risewright/app/session"
	"risewright/app/store"
	"risewright/model"
)

// mostRecent is how many files are remembered.
const mostRecent = 8

func (w *window) recent() []string { return w.app.Preferences().StringList(keyRecent) }

// remember puts a file at the head of those opened before.
func (w *window) remember(path string) {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	list := slices.DeleteFunc(slices.Clone(w.recent()), func(p string) bool { return p == path })
	list = append([]string{path}, list...)
	w.app.Preferences().SetStringList(keyRecent, list[:min(len(list), mostRecent)])
}

// forget takes a file that is gone from those opened before.
func (w *window) forget(path string) {
	w.app.Preferences().SetStringList(keyRecent, slices.DeleteFunc(slices.Clone(w.recent()), func(p string) bool { return p == path }))
	w.tell()
}

// ifSaved does something that closes the job, after asking about changes that
// are not saved.
func (w *window) ifSaved(then func()) {
	w.leaveField()
	if !w.session.Dirty() {
		then()
		return
	}
	w.ask("Save first?", fmt.Sprintf("%s has changes that are not saved.", w.session.Job().Name),
		choice{"Go back", widget.MediumImportance, func() {}},
		choice{"Drop the changes", widget.DangerImportance, then},
		choice{"Save", widget.HighImportance, func() { w.save(then) }})
}

// close closes the window.
func (w *window) close() {
	if w.afterWriting(w.close) { // a half-written file must not outlive the window
		return
	}
	w.ifSaved(func() {
		w.session.Close()
		w.win.Close()
	})
}

// open asks for a job file and opens it.
func (w *window) open() {
	w.ifSaved(func() { w.chooseFile("Open a job", "Open", w.firstFolder(), w.openPath) })
}

// openPath opens the job in a file. On an error the open job stays.
func (w *window) openPath(path string) {
	if w.session.Has(path) { // the job is this one: what the file holds takes its place
		if err := w.session.Reload(); err != nil {
			w.complain(err)
			return
		}
		w.desk.Answered()
		return
	}
	w.opened(path)(w.config.home().Open(path, false))
}

// opened uses a session that was opened on a file, or asks about another window
// that has it.
func (w *window) opened(path string) func(*session.Opened, error) {
	return func(o *session.Opened, err error) {
		var busy *store.BusyError
		switch {
		case errors.As(err, &busy):
			w.askBusy(busy)
			return
		case err != nil:
			if errors.Is(err, fs.ErrNotExist) {
				w.forget(path)
			}
			w.complain(err)
			return
		}
		w.remember(path)
		w.use(o.Session)
		if o.Brought() {
			w.greet(o)
		}
	}
}

// askBusy asks what to do about a job that is open in another window. Two
// windows never write one file knowingly: a copy is the safe way, and where it
// is not sure that there is another window a person may know better.
func (w *window) askBusy(e *store.BusyError) {
	text := model.Sentence(e.Error()) + "\n\nA copy has no file until you save it under another name."
	choices := []choice{{"Go back", widget.MediumImportance, func() {}}}
	if !e.Sure {
		text += "\nOpen it anyway only if you know that it is not open there."
		choices = append(choices, choice{"Open anyway", widget.DangerImportance, func() {
			w.opened(e.Path)(w.config.home().Open(e.Path, true))
		}})
	}
	choices = append(choices, choice{"Open a copy", widget.HighImportance, func() {
		s, err := w.config.home().OpenCopy(e.Path)
		if err != nil {
			w.complain(err)
			return
		}
		w.use(s)
	}})
	w.ask("Open in another window", text, choices...)
}

// roomy is the size of a dialog that lists things.
func (w *window) roomy() fyne.Size {
	s := w.win.Canvas().Size()
	return fyne.NewSize(min(s.Width*0.8, 900), min(s.Height*0.8, 620))
}

// demoMenu lists the demo jobs.
func (w *window) demoMenu() *fyne.Menu {
	m := fyne.NewMenu("")
	for _, name := range demo.Names() {
		m.Items = append(m.Items, fyne.NewMenuItem(strings.ToUpper(name[:1])+name[1:], func() {
			w.ifSaved(func() { w.openDemo(name) })
		}))
	}
	return m
}

func (w *window) openDemo(name string) {
	s, err := w.config.demo(name)
	if err != nil {
		w.complain(err)
		return
	}
	w.use(s)
}
