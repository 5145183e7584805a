package panel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"risewright/view/words"
)

// Entry is a field of one line to type into. It hands on the keys that move
// between fields.
type Entry struct {
	widget.Entry
	// Commit reads the text; it is called when the field is left or Enter is
	// pressed, and says whether the keyboard may move on.
	Commit func() bool
	// Next and Back move the keyboard on after Enter and Shift+Enter; Above
	// and Below on the arrow keys. Nil leaves the keyboard where it is.
	Next, Back, Above, Below func()
	// Gained is called when the field has got the keyboard.
	Gained func()

	was     string // the text last set from the job
	shift   bool
	focused bool
}

var (
	_ fyne.Focusable  = (*Entry)(nil)
	_ desktop.Keyable = (*Entry)(nil)
)

func newEntry() *Entry {
	e := &Entry{}
	e.Wrapping = fyne.TextWrap(fyne.TextTruncateClip)
	e.ExtendBaseWidget(e)
	return e
}

// SetPlaceHolder says what an empty field would hold.
func (e *Entry) SetPlaceHolder(text string) { e.Entry.SetPlaceHolder(words.Say(text)) }

// show sets the text to what the job has. A text being typed is left alone.
func (e *Entry) show(text string) {
	if e.Pending() && e.focused {
		e.was = text
		return
	}
	e.force(text)
}

// force sets the text whatever was typed.
func (e *Entry) force(text string) {
	e.was = text
	if e.Text != text {
		e.SetText(text)
	}
}

// Pending says whether something was typed that the job does not have yet.
func (e *Entry) Pending() bool { return e.Text != e.was }

// Revert takes back what was typed.
func (e *Entry) Revert() { e.force(e.was) }

func (e *Entry) commit() bool { return e.Commit == nil || e.Commit() }

// FocusGained implements fyne.Focusable.
func (e *Entry) FocusGained() {
	e.focused = true
	e.Entry.FocusGained()
	// A selection outlives the text it was made in, and would swallow the first
	// digit typed; moving the cursor drops it.
	e.Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyHome})
	e.TypedShortcut(&fyne.ShortcutSelectAll{})
	if e.Gained != nil {
		e.Gained()
	}
	toSight(e)
}

// FocusLost implements fyne.Focusable.
func (e *Entry) FocusLost() {
	e.Entry.FocusLost()
	e.focused, e.shift = false, false
	e.commit()
}

// TypedShortcut implements fyne.Shortcutable: letters with Control, of which a
// field uses only those that fyne has names for, go on to the window.
func (e *Entry) TypedShortcut(s fyne.Shortcut) {
	if custom, ok := s.(*desktop.CustomShortcut); ok && len(custom.KeyName) == 1 {
		if on, ok := fyne.CurrentApp().Driver().CanvasForObject(e).(fyne.Shortcutable); ok {
			on.TypedShortcut(custom)
		}
		return
	}
	e.Entry.TypedShortcut(s)
}

// AcceptsTab implements fyne.Tabbable: Tab goes on, out of a field of several
// lines too, which would otherwise keep the keyboard for good.
func (e *Entry) AcceptsTab() bool { return false }

// KeyDown implements desktop.Keyable.
func (e *Entry) KeyDown(k *fyne.KeyEvent) {
	if k.Name == desktop.KeyShiftLeft || k.Name == desktop.KeyShiftRight {
		e.shift = true
	}
	e.Entry.KeyDown(k)
}

// KeyUp implements desktop.Keyable.
func (e *Entry) KeyUp(k *fyne.KeyEvent) {
	if k.Name == desktop.KeyShiftLeft || k.Name == desktop.KeyShiftRight {
		e.shift = false
	}
	e.Entry.KeyUp(k)
}

// TypedKey implements fyne.Focusable.
func (e *Entry) TypedKey(k *fyne.KeyEvent) {
	move := func(f func()) {
		if e.commit() && f != nil {
			f()
		}
	}
	switch k.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		if e.shift {
			move(e.Back)
		} else {
			move(e.Next)
		}
	case fyne.KeyUp, fyne.KeyDown:
		to := e.Above
		if k.Name == fyne.KeyDown {
			to = e.Below
		}
		if to == nil { // several lines: the keys move within them
			e.Entry.TypedKey(k)
			return
		}
		move(to)
	case fyne.KeyEscape:
		e.Revert()
		e.commit()
	default:
		e.Entry.TypedKey(k)
	}
}
