package window

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"risewright/app/demo"
	"risewright/app/session"
	"risewright/assets"
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
	var d dialog.Dialog
	text := widget.NewLabel(fmt.Sprintf("%s has changes that are not saved.", w.session.Job().Name))
	answer := func(label string, i widget.Importance, do func()) *widget.Button {
		b := widget.NewButton(label, func() {
			d.Hide()
			do()
		})
		b.Importance = i
		return b
	}
	custom := dialog.NewCustomWithoutButtons("Save first?", text, w.win)
	custom.SetButtons([]fyne.CanvasObject{
		answer("Go back", widget.MediumImportance, func() {}),
		answer("Drop the changes", widget.DangerImportance, then),
		answer("Save", widget.HighImportance, func() { w.save(then) }),
	})
	d = custom
	w.show(d)
}

// close closes the window.
func (w *window) close() { w.ifSaved(w.win.Close) }

// open asks for a job file and opens it.
func (w *window) open() {
	w.ifSaved(func() {
		d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
			if err != nil {
				w.complain(fmt.Errorf("open: %w", err))
				return
			}
			if r == nil {
				return
			}
			path := r.URI().Path()
			r.Close()
			w.openPath(path)
		}, w.win)
		d.SetFilter(storage.NewExtensionFileFilter([]string{".json"}))
		d.SetLocation(w.folder())
		d.SetTitleText("Open a job")
		d.Resize(w.roomy())
		w.show(d)
	})
}

// openPath opens the job in a file. On an error the open job stays.
func (w *window) openPath(path string) {
	s, err := session.Open(w.config.Tables, path, w.config.Clock)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			w.forget(path)
		}
		w.complain(err)
		return
	}
	w.remember(path)
	w.use(s)
}

// folder returns where file dialogs begin: beside the job, or the last one.
func (w *window) folder() fyne.ListableURI {
	path := w.session.Path()
	if r := w.recent(); path == "" && len(r) > 0 {
		path = r[0]
	}
	if path == "" {
		return nil
	}
	l, err := storage.ListerForURI(storage.NewFileURI(filepath.Dir(path)))
	if err != nil {
		return nil
	}
	return l
}

// roomy is the size of a dialog that lists things.
func (w *window) roomy() fyne.Size {
	s := w.win.Canvas().Size()
	return fyne.NewSize(min(s.Width*0.8, 900), min(s.Height*0.8, 620))
}

// save writes the job to its file, and then does what was waiting.
func (w *window) save(then func()) {
	w.leaveField()
	if w.session.Path() == "" {
		w.saveAs(then)
		return
	}
	w.written(w.session.Save(), then)
}

func (w *window) written(err error, then func()) {
	if err != nil {
		w.complain(err)
		return
	}
	w.remember(w.session.Path())
	w.tell()
	if then != nil {
		then()
	}
}

// saveAs asks for a name and a folder. It does not use fyne's own dialog,
// because that empties the file before it is known whether the new one can be
// written.
func (w *window) saveAs(then func()) {
	w.leaveField()
	name := w.newEntry(fileName(w.session.Job().Name))
	dir := w.newEntry(startFolder(w.session.Path(), w.recent()))
	if p := w.session.Path(); p != "" {
		name.SetText(filepath.Base(p))
	}
	browse := widget.NewButton("Browse…", func() {
		f := dialog.NewFolderOpen(func(u fyne.ListableURI, err error) {
			if err == nil && u != nil {
				dir.SetText(u.Path())
			}
		}, w.win)
		f.Resize(w.roomy())
		f.Show()
	})
	form := dialog.NewForm("Save the job as", "Save", "Cancel", []*widget.FormItem{
		widget.NewFormItem("Name", name),
		widget.NewFormItem("Folder", container.NewBorder(nil, nil, nil, browse, dir)),
	}, func(ok bool) {
		if !ok {
			return
		}
		path, err := savePath(dir.Text, name.Text)
		if err != nil {
			w.complain(err)
			return
		}
		write := func() { w.written(w.session.SaveAs(path), then) }
		if _, err := os.Stat(path); err == nil && path != w.session.Path() {
			dialog.ShowConfirm("Replace the file?", path+"\nexists already. Its contents will be lost.", func(yes bool) {
				if yes {
					write()
				}
			}, w.win)
			return
		}
		write()
	}, w.win)
	form.Resize(fyne.NewSize(620, 0))
	w.show(form)
	name.OnSubmitted = func(string) { form.Submit() }
	dir.OnSubmitted = name.OnSubmitted
	w.win.Canvas().Focus(name)
}

// savePath joins a folder and a name and sees to the extension.
func savePath(dir, name string) (string, error) {
	name = strings.TrimSpace(name)
	if name == "" {
		return "", errors.New("save as: the file has no name; type one")
	}
	if strings.ContainsAny(name, `/\`) {
		return "", fmt.Errorf("save as: %q names a folder too; put that into the field below", name)
	}
	if !strings.HasSuffix(strings.ToLower(name), ".json") {
		name += session.Extension
	}
	if st, err := os.Stat(dir); err != nil || !st.IsDir() {
		return "", fmt.Errorf("save as: there is no folder %q; choose one with Browse", dir)
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
	data, err := assets.DemoJob(name)
	if err != nil {
		w.complain(err)
		return
	}
	job, err := model.Decode(data)
	if err != nil {
		w.complain(err)
		return
	}
	w.use(session.New(w.config.Tables, job, w.config.Clock))
}

// writeSheets asks for a folder and has the papers written there.
func (w *window) writeSheets() {
	if w.config.Sheets == nil {
		return
	}
	w.leaveField()
	d := dialog.NewFolderOpen(func(u fyne.ListableURI, err error) {
		if err != nil {
			w.complain(fmt.Errorf("write sheets: %w", err))
			return
		}
		if u != nil {
			w.writeSheetsTo(u.Path())
		}
	}, w.win)
	d.SetLocation(w.folder())
	d.SetTitleText("Write the sheets to")
	d.SetConfirmText("Write here")
	d.Resize(w.roomy())
	w.show(d)
}

// writeSheetsTo writes the papers off the interface goroutine: the answer is
// read-only, so the job may be changed meanwhile.
func (w *window) writeSheetsTo(dir string) {
	answer := w.session.Answer()
	go func() {
		names, err := w.config.Sheets(dir, answer)
		fyne.Do(func() {
			if err != nil {
				w.complain(err)
				return
			}
			text := fmt.Sprintf("Written to %s:\n%s", dir, strings.Join(names, "\n"))
			if held := len(answer.Cards) - answer.Released(); held > 0 {
				text += fmt.Sprintf("\n\n%d of %d boards are not released: their cards say why.", held, len(answer.Cards))
			}
			w.show(dialog.NewInformation("Sheets", text, w.win))
		})
	}()
}
