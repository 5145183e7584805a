package window

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"risewright/view/words"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"risewright/app/session"
	"risewright/app/store"
)

// save writes the job to its file, and then does what was waiting.
func (w *window) save(then func()) {
	w.leaveField()
	if w.session.Path() == "" {
		w.saveAs(then)
		return
	}
	found, err := w.session.Save()
	w.written(found, err, then)
}

// written follows an attempt to save, and then does what was waiting.
func (w *window) written(found store.Saved, err error, then func()) {
	w.tell()
	var changed *store.ChangedError
	switch {
	case errors.As(err, &changed):
		w.askChanged(changed, then)
		return
	case err != nil:
		w.complain(err)
		return
	}
	w.remember(w.session.Path())
	w.tell()
	if then != nil {
		then()
	}
	if found.Gone {
		w.inform("Saved", w.session.Path()+"\nwas no longer there. It has been written again.")
	}
}

// askChanged asks what to do about a file that another program has changed.
func (w *window) askChanged(e *store.ChangedError, then func()) {
	text := fmt.Sprintf("%s\nhas been changed by another program since it was opened or saved here.\n\n"+
		"Keep both saves this job beside it under another name.\nReplace it saves this job there; what the file holds now is kept as an earlier version.", e.Path)
	w.ask("The file has changed", text,
		choice{"Go back", widget.MediumImportance, func() {}},
		choice{"Replace it", widget.DangerImportance, func() {
			found, err := w.session.SaveOver()
			w.written(found, err, then)
		}},
		choice{"Keep both", widget.HighImportance, func() {
			path, err := freeName(e.Path)
			if err != nil {
				w.complain(err)
				return
			}
			found, err := w.session.SaveAs(path)
			w.written(found, err, then)
		}})
}

// freeName returns a name beside path that no file has.
func freeName(path string) (string, error) {
	dir, base := filepath.Split(path)
	ending := session.Extension
	name, ok := strings.CutSuffix(base, ending)
	if !ok {
		ending = filepath.Ext(base)
		name = strings.TrimSuffix(base, ending)
	}
	const most = 1000
	for n := 2; n < most; n++ {
		free := filepath.Join(dir, fmt.Sprintf("%s (%d)%s", name, n, ending))
		if _, err := os.Lstat(free); errors.Is(err, fs.ErrNotExist) {
			return free, nil
		}
	}
	return "", fmt.Errorf("%s and %d names like it are taken; choose one with Save as", path, most)
}

// saveAs asks for a name and a folder. It does not use fyne's own dialog,
// because that empties the file before it is known whether the new one can be
// written.
func (w *window) saveAs(then func()) {
	w.leaveField()
	name := fileName(w.session.Job().Name)
	if p := w.session.Path(); p != "" {
		name = filepath.Base(p)
	}
	first := w.askPlace("Save the job as", "Cancel", name, 620, func(ok bool, dir, name string) {
		if !ok {
			return
		}
		path, err := savePath(dir, name)
		if err != nil {
			w.complain(err)
			return
		}
		write := func() {
			found, err := w.session.SaveAs(path)
			w.written(found, err, then)
		}
		if _, err := os.Stat(path); err == nil && path != w.session.Path() {
			w.askReplace(path, "What it holds is kept as an earlier version of it.", write)
			return
		}
		write()
	})
	w.win.Canvas().Focus(first)
}

// askPlace asks for a name and a folder, and hands them on, or that nobody
// wants to say. It returns the field of the name.
func (w *window) askPlace(title, no, name string, width float32, then func(ok bool, dir, name string)) *dialogEntry {
	file := w.newEntry(name)
	dir := w.newEntry(startFolder(w.session.Path(), w.recent()))
	browse := w.newDialogButton("Browse…", func() {
		from := dir.Text
		if !isFolder(from) {
			from = w.firstFolder()
		}
		w.chooseFolder("Choose the folder", "Take this folder", from, func(path string) {
			dir.SetText(path)
			w.win.Canvas().Focus(dir)
		})
	})
	form, submit := w.form(title, "Save", no, []*widget.FormItem{
		widget.NewFormItem(words.Say("Name"), file),
		widget.NewFormItem(words.Say("Folder"), container.NewBorder(nil, nil, nil, browse, dir)),
	}, func(ok bool) { then(ok, dir.Text, file.Text) })
	form.Resize(fyne.NewSize(width, 0))
	w.show(form)
	file.OnSubmitted = func(string) { submit() }
	dir.OnSubmitted = file.OnSubmitted
	return file
}

// askReplace asks before a file that is there is written over.
func (w *window) askReplace(path, what string, write func()) {
	w.ask("Replace the file?", path+"\nexists already. "+what,
		choice{"Go back", widget.MediumImportance, func() {}}, choice{"Replace", widget.HighImportance, write})
}

// savePath joins a folder and a name and sees to the extension.
func savePath(dir, name string) (string, error) {
	return placed("save as", dir, name, func(name string) string {
		if !strings.HasSuffix(strings.ToLower(name), ".json") {
			name += session.Extension
		}
		return name
	})
}

// placed joins a folder and a name that were typed; ended sees to the name's
// ending. Faults begin with what is being done.
func placed(doing, dir, name string, ended func(string) string) (string, error) {
	name = strings.TrimSpace(name)
	if name == "" {
		return "", fmt.Errorf("%s: the file has no name; type one", doing)
	}
	if strings.ContainsAny(name, `/\`) {
		return "", fmt.Errorf("%s: %q names a folder too; put that into the field below", doing, name)
	}
	name = ended(name)
	if st, err := os.Stat(dir); err != nil || !st.IsDir() {
		return "", fmt.Errorf("%s: there is no folder %q; choose one with Browse", doing, dir)
	}
	return filepath.Join(dir, name), nil
}

// fileName makes a file name of a job's name.
func fileName(name string) string {
	out := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) || r < ' ' {
			return -1
		}
		return r
	}, strings.TrimSpace(name))
	if out == "" {
		out = "stair"
	}
	return out + session.Extension
}

// startFolder returns the folder offered first: the job's, the last one used,
// or the user's own.
func startFolder(path string, recent []string) string {
	if path != "" {
		return filepath.Dir(path)
	}
	if len(recent) > 0 {
		return filepath.Dir(recent[0])
	}
	if home, err := os.UserHomeDir(); err == nil {
		return home
	}
	return "."
}
