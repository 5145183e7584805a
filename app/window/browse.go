package window

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"risewright/view/words"
)

// browser is a dialog in which a folder, or a job file, is chosen: a path that
// can be typed, and what is in the folder. What the path says counts. It is ours
// because the library's keeps Escape for itself and speaks the machine's
// language, not the one chosen.
type browser struct {
	w      *window
	files  bool // a file is wanted, not a folder
	accept string
	then   func(path string)

	dir    string // that is listed; "" are the drives of a machine that has them
	names  []string
	dialog *dialog.CustomDialog
	path   *dialogEntry
	list   *pickList
	line   *widget.Label // what else there is to say of the folder
}

// mostListed is how many names of a folder are listed.
const mostListed = 500

// chooseFile asks for a job file, beginning in a folder.
func (w *window) chooseFile(title, accept, dir string, then func(path string)) {
	w.browse(&browser{files: true, accept: accept, then: then}, title, dir)
}

// chooseFolder asks for a folder, beginning in one.
func (w *window) chooseFolder(title, accept, dir string, then func(path string)) {
	w.browse(&browser{accept: accept, then: then}, title, dir)
}

func (w *window) browse(b *browser, title, dir string) {
	b.w = w
	b.path = w.newEntry("")
	b.path.OnSubmitted = func(string) { b.enter() }
	b.list = w.newPickList()
	b.list.Chose = func(i int) { b.path.SetText(b.at(i)) }
	b.list.Opened = func(i int) {
		if path := b.at(i); isFolder(path) {
			b.show(path)
		} else {
			b.use(path)
		}
	}
	b.list.Back = b.up
	b.line = widget.NewLabel("")
	b.line.Wrapping, b.line.Importance = fyne.TextWrapWord, widget.LowImportance
	fresh := w.newDialogButton("New folder…", b.askFolder)
	if b.files { // nothing to open would be in it
		fresh.Hide()
	}
	top := container.NewBorder(nil, nil, container.NewHBox(w.newDialogButton("Folder above", b.up), w.newDialogButton("Home folder", b.home)), fresh, b.path)
	b.dialog = dialog.NewCustomWithoutButtons(words.Say(title), container.NewBorder(top, b.line, nil, nil, b.list), w.win)
	yes := w.newDialogButton(b.accept, b.enterOrUse)
	yes.Importance = widget.HighImportance
	b.dialog.SetButtons([]fyne.CanvasObject{w.newDialogButton("Cancel", b.dialog.Hide), yes})
	b.dialog.Resize(w.roomy())
	w.show(b.dialog)
	b.show(dir)
}

func isFolder(path string) bool {
	st, err := os.Stat(path)
	return err == nil && st.IsDir()
}

// at returns the path of what is listed.
func (b *browser) at(i int) string {
	return filepath.Join(b.dir, strings.TrimSuffix(b.names[i], string(filepath.Separator)))
}

// show lists a folder; one that cannot be listed leaves what is listed.
func (b *browser) show(dir string) {
	if abs, err := filepath.Abs(dir); err == nil && dir != "" {
		dir = abs
	}
	names, more, err := listed(dir, b.files)
	if err != nil {
		b.say(fmt.Sprintf("The folder can not be listed: %v.", err))
		return
	}
	b.dir, b.names = dir, names
	b.path.SetText(dir)
	b.list.set(names)
	switch {
	case more > 0:
		b.say(fmt.Sprintf("And %d more. Type the path above.", more))
	case len(names) == 0 && b.files:
		b.say("There is no folder and no job file in it.")
	case len(names) == 0:
		b.say("There is no folder in it.")
	default:
		b.say("")
	}
	b.w.win.Canvas().Focus(b.list)
}

func (b *browser) say(text string) { b.line.SetText(words.Say(text)) }

// listed returns the folders in a folder, marked by a separator behind, and the
// job files if they are wanted; and how many more there are. What is hidden is
// left out. The folder "" holds the drives.
func listed(dir string, files bool) (names []string, more int, err error) {
	if dir == "" {
		return drives(), 0, nil
	}
	all, err := os.ReadDir(dir)
	if err != nil {
		return nil, 0, err
	}
	var jobs []string
	for _, e := range all {
		name := e.Name()
		switch {
		case strings.HasPrefix(name, "."):
		case e.IsDir() || e.Type()&os.ModeSymlink != 0 && isFolder(filepath.Join(dir, name)):
			names = append(names, name+string(filepath.Separator))
		case files && strings.EqualFold(filepath.Ext(name), ".json"):
			jobs = append(jobs, name)
		}
	}
	as := func(x, y string) int { return strings.Compare(strings.ToLower(x), strings.ToLower(y)) }
	slices.SortStableFunc(names, as)
	slices.SortStableFunc(jobs, as)
	names = append(names, jobs...)
	if more = len(names) - mostListed; more > 0 {
		names = names[:mostListed]
	}
	return names, max(0, more), nil
}

// drives returns those of a machine whose folders have no common one above.
func drives() (names []string) {
	for letter := 'C'; letter <= 'Z'; letter++ { // A and B would wait for a disk
		if name := string(letter) + `:\`; isFolder(name) {
			names = append(names, name)
		}
	}
	return names
}

// up goes to the folder above.
func (b *browser) up() {
	above := filepath.Dir(b.dir)
	if above == b.dir {
		if runtime.GOOS != "windows" {
			return
		}
		above = ""
	}
	if b.dir != "" {
		b.show(above)
	}
}

func (b *browser) home() {
	dir, err := os.UserHomeDir()
	if err != nil {
		b.w.complain(fmt.Errorf("the home folder: %w", err))
		return
	}
	b.show(dir)
}

// typed returns the path that stands above the list.
func (b *browser) typed() string {
	path := strings.TrimSpace(b.path.Text)
	if path != "" && !filepath.IsAbs(path) {
		path = filepath.Join(b.dir, path)
	}
	return path
}

// enter goes to the folder that was typed, or uses what is no other folder.
func (b *browser) enter() {
	if path := b.typed(); isFolder(path) && path != b.dir {
		b.show(path)
		return
	}
	b.enterOrUse()
}

// enterOrUse takes what the path says; a folder is gone into where a file is
// wanted.
func (b *browser) enterOrUse() {
	path := b.typed()
	switch folder := isFolder(path); {
	case path == "":
		b.say("Type a path, or choose from the list.")
	case b.files && folder:
		b.show(path)
	case !b.files && !folder:
		b.w.complain(fmt.Errorf("there is no folder %q; choose one from the list, or make it with New folder", path))
	default:
		b.use(path)
	}
}

func (b *browser) use(path string) {
	b.dialog.Hide()
	b.then(path)
}

// askFolder asks for the name of a new folder, makes it and goes there.
func (b *browser) askFolder() {
	name := b.w.newEntry("")
	form, submit := b.w.form("New folder", "Make it", "Cancel", []*widget.FormItem{widget.NewFormItem(words.Say("Name"), name)}, func(ok bool) {
		if !ok {
			return
		}
		path, err := placed("new folder", b.dir, name.Text, func(n string) string { return n })
		if err == nil {
			err = b.w.makeFolder(path)
		}
		if err != nil {
			b.w.complain(err)
			return
		}
		b.show(path)
	})
	name.OnSubmitted = func(string) { submit() }
	form.Resize(fyne.NewSize(420, 0))
	b.w.show(form)
	b.w.win.Canvas().Focus(name)
}

// makeFolder makes a folder.
func (w *window) makeFolder(path string) error {
	mkdir := os.Mkdir
	if w.config.mkdir != nil {
		mkdir = w.config.mkdir
	}
	if err := mkdir(path, 0o755); err != nil {
		return fmt.Errorf("new folder: %w", err)
	}
	return nil
}

// firstFolder is where a browser begins: beside the job, or the last one, or at
// home.
func (w *window) firstFolder() string {
	dir := startFolder(w.session.Path(), w.recent())
	for !isFolder(dir) && dir != filepath.Dir(dir) { // it has been taken away
		dir = filepath.Dir(dir)
	}
	return dir
}
