package window

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"risewright/view/words"
)

// show shows a dialog, which Escape closes: the topmost first, then those under
// it.
func (w *window) show(d dialog.Dialog) {
	d.Show()
	w.shown = append(w.shown, d)
	d.SetOnClosed(func() {
		w.shown = slices.DeleteFunc(w.shown, func(o dialog.Dialog) bool { return o == d })
	})
}

// closable makes a dialog with a button that closes it, which Escape does from
// there, too.
func (w *window) closable(title string, content fyne.CanvasObject) dialog.Dialog {
	d := dialog.NewCustomWithoutButtons(words.Say(title), content, w.win)
	d.SetButtons([]fyne.CanvasObject{w.newDialogButton("Close", d.Hide)})
	return d
}

// form makes a dialog of fields, and what its button to accept does; then is told
// whether they were accepted.
func (w *window) form(title, accept, refuse string, fields []*widget.FormItem, then func(ok bool)) (d *dialog.CustomDialog, submit func()) {
	d = dialog.NewCustomWithoutButtons(words.Say(title), widget.NewForm(fields...), w.win)
	ok := false
	submit = func() {
		ok = true
		d.Hide()
	}
	yes := w.newDialogButton(accept, submit)
	yes.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{w.newDialogButton(refuse, d.Hide), yes})
	d.SetOnClosed(func() { then(ok) })
	return d, submit
}

// choice is a button of a question, and what it does.
type choice struct {
	label      string
	importance widget.Importance
	do         func()
}

// ask shows a question with its answers as buttons.
func (w *window) ask(title, text string, choices ...choice) {
	label := widget.NewLabel(words.Say(text))
	label.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustomWithoutButtons(words.Say(title), label, w.win)
	var buttons []fyne.CanvasObject
	var first fyne.Focusable
	for _, c := range choices {
		b := w.newDialogButton(c.label, func() {
			d.Hide()
			c.do()
		})
		b.Importance = c.importance
		buttons = append(buttons, b)
		if c.importance == widget.HighImportance {
			first = b
		}
	}
	d.SetButtons(buttons)
	d.Resize(fyne.NewSize(min(w.roomy().Width, 620), 0))
	w.show(d)
	if first != nil {
		w.win.Canvas().Focus(first)
	}
}

// inform says something that needs no answer.
func (w *window) inform(title, text string) {
	w.ask(title, text, choice{"OK", widget.HighImportance, func() {}})
}

// dialogButton is a button in a dialog: Enter presses it as Space does, and
// Escape closes the dialog.
type dialogButton struct {
	widget.Button
	w *window
}

func (w *window) newDialogButton(label string, do func()) *dialogButton {
	b := &dialogButton{w: w}
	b.Text, b.OnTapped = words.Say(label), do
	b.ExtendBaseWidget(b)
	return b
}

// TypedKey implements fyne.Focusable.
func (b *dialogButton) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		k = &fyne.KeyEvent{Name: fyne.KeySpace}
	case fyne.KeyEscape:
		if b.w.escape() {
			return
		}
	}
	b.Button.TypedKey(k)
}

// free does something unless a dialog or a list is open: keys of the menus
// would otherwise pile dialogs on each other.
func (w *window) free(do func()) func() {
	return func() {
		if w.win.Canvas().Overlays().Top() == nil {
			do()
		}
	}
}

// escape closes the topmost dialog and says whether there was one.
func (w *window) escape() bool {
	if len(w.shown) == 0 || w.win.Canvas().Overlays().Top() == nil {
		return false
	}
	w.shown[len(w.shown)-1].Hide()
	return true
}

// dialogEntry is a field in a dialog: Enter accepts the dialog and Escape
// closes it.
type dialogEntry struct {
	widget.Entry
	w *window
}

func (w *window) newEntry(text string) *dialogEntry {
	e := &dialogEntry{w: w}
	e.Wrapping = fyne.TextWrap(fyne.TextTruncateClip)
	e.ExtendBaseWidget(e)
	e.SetText(text)
	return e
}

// TypedKey implements fyne.Focusable.
func (e *dialogEntry) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape && e.w.escape() {
		return
	}
	e.Entry.TypedKey(k)
}
