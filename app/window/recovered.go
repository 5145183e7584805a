package window

import (
	"fmt"
	"slices"

	"risewright/view/words"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"risewright/app/session"
	"risewright/app/store"
	"risewright/model"
)

// unsaved rebuilds the job that was worked on last from the journal of a window
// that is gone, or returns nil.
func (c Config) unsaved() *session.Opened {
	h := c.home()
	orphans, err := h.Orphans()
	if err != nil {
		return nil // others tells
	}
	slices.SortStableFunc(orphans, func(a, b store.Orphan) int { return b.Last.Compare(a.Last) })
	for _, o := range orphans {
		if o.Fault != "" {
			continue
		}
		if r, err := h.Recover(o); err == nil {
			return r
		} // another window was quicker; or else it stays among the others
	}
	return nil
}

// others returns what tells of unsaved work beside the job that is open, or nil.
func (c Config) others() func(*window) {
	orphans, err := c.home().Orphans()
	if len(orphans) == 0 && err == nil {
		return nil
	}
	text := unsavedToo(len(orphans))
	if err != nil {
		text = "Work that was not saved could not be looked for: " + err.Error() + "."
	}
	return func(w *window) {
		w.inform("Unsaved work", text)
	}
}

// unsavedToo tells of so many jobs that wait to be brought back.
func unsavedToo(n int) string {
	return fmt.Sprintf("Other work that was never saved: %s. See File, Unsaved work.", model.Plural(n, "job"))
}

// greet says that a job has been brought back, and asks whether to keep it so.
func (w *window) greet(r *session.Opened) {
	w.tell()
	text := fmt.Sprintf("Risewright was stopped before %s was saved.\nIt is open again as it was last seen, with %s not saved, the last made on %s.",
		r.Orphan.Name, model.Plural(r.Orphan.Unsaved, "change"), r.Orphan.Last.Local().Format("2 January 2006 at 15:04"))
	choices := []choice{}
	switch {
	case r.Path() == "":
		text += "\n\nIt has no file yet."
		choices = append(choices, choice{"Save as…", widget.MediumImportance, func() { w.saveAs(nil) }})
	case r.Gone:
		text += fmt.Sprintf("\n\nIts file\n%s\nis no longer there. Saving writes it again.", r.Path())
	default:
		text += fmt.Sprintf("\n\nIts file is\n%s", r.Path())
		if r.Changed {
			text += "\nThe file has been changed since the journal was written, so look at both."
		}
		text += "\nGoing back to the file can be undone."
		choices = append(choices, choice{"Go back to the saved file", widget.MediumImportance, func() {
			if err := w.session.Reload(); err != nil {
				w.complain(err)
				return
			}
			w.desk.Answered()
		}})
	}
	if orphans, err := w.config.home().Orphans(); err == nil && len(orphans) > 0 {
		text += "\n\n" + unsavedToo(len(orphans))
	}
	w.ask("Brought back", text, append(choices, choice{"Keep the changes", widget.HighImportance, func() {}})...)
}

// showUnsaved lists the work that windows left behind that were stopped.
func (w *window) showUnsaved() {
	orphans, err := w.config.home().Orphans()
	if err != nil {
		w.complain(err)
		return
	}
	if len(orphans) == 0 {
		w.inform("Unsaved work", "There is none: every job is saved, or open in a window.")
		return
	}
	var d dialog.Dialog
	rows := container.NewVBox()
	for _, o := range orphans {
		text := fmt.Sprintf("%s: %s, the last on %s", o.Name, model.Plural(o.Unsaved, "change"), o.Last.Local().Format("2 Jan 2006 15:04"))
		if o.File != "" {
			text += "\n" + o.File
		}
		var buttons []fyne.CanvasObject
		if o.Fault != "" {
			text = fmt.Sprintf("A journal that can not be read: %s.\n%s", o.Fault, o.Path)
		} else {
			open := w.newDialogButton("Open", func() {
				d.Hide()
				w.ifSaved(func() { w.bringBack(o) })
			})
			buttons = append(buttons, open)
		}
		buttons = append(buttons, w.newDialogButton("Drop…", func() {
			d.Hide()
			w.askDrop(o)
		}))
		label := widget.NewLabel(words.Say(text))
		label.Wrapping = fyne.TextWrapWord
		rows.Add(container.NewBorder(nil, nil, nil, container.NewHBox(buttons...), label))
	}
	d = w.closable("Unsaved work", container.NewVScroll(rows))
	d.Resize(fyne.NewSize(min(w.roomy().Width, 720), min(w.roomy().Height, 420)))
	w.show(d)
}

// bringBack opens work that a window left behind.
func (w *window) bringBack(o store.Orphan) {
	path := w.session.Path()
	mine := w.session.Has(o.File)
	if mine {
		w.session.Close() // it gives the file back first
	}
	r, err := w.config.home().Recover(o)
	if err != nil {
		if mine {
			w.opened(path)(w.config.home().Open(path, false))
		}
		w.complain(err)
		return
	}
	if p := r.Path(); p != "" {
		w.remember(p)
	}
	w.use(r.Session)
	w.greet(r)
}

// askDrop asks before unsaved work is dropped for good.
func (w *window) askDrop(o store.Orphan) {
	name := o.Name
	if name == "" {
		name = o.Path
	}
	w.ask("Drop it?", fmt.Sprintf("The changes to %s that were not saved will be gone for good.", name),
		choice{"Go back", widget.HighImportance, w.showUnsaved},
		choice{"Drop them", widget.DangerImportance, func() {
			if err := w.config.home().Drop(o); err != nil {
				w.complain(err)
			}
		}})
}
