package window

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"risewright/view/canvas"
	"risewright/view/panel"
)

// keyboard types into a window as somebody without a pointer does. Nothing here
// calls a button or a field: keys go where fyne's driver for desktops sends them
// (fyne 2.7.1, internal/driver/glfw/window.go, processKeyPressed and
// triggersShortcut): Tab to the next that takes the keyboard, keys with Control
// or Alt to the main menu, to what has the keyboard, or to the window, and others
// to what has the keyboard, or to the window.
type keyboard struct {
	t *testing.T
	w *window
}

func (k keyboard) canvas() test.WindowlessCanvas { return k.w.win.Canvas().(test.WindowlessCanvas) }

// press presses keys, each such as "Tab", "Shift+Tab", "Ctrl+N" or "Space".
func (k keyboard) press(keys ...string) {
	k.t.Helper()
	for _, name := range keys {
		parts := strings.Split(name, "+")
		key := fyne.KeyName(parts[len(parts)-1])
		switch key {
		case "Enter":
			key = fyne.KeyReturn
		case "PageDown":
			key = fyne.KeyPageDown
		case "PageUp":
			key = fyne.KeyPageUp
		}
		mod := fyne.KeyModifier(0)
		for _, m := range parts[:len(parts)-1] {
			mod |= map[string]fyne.KeyModifier{"Ctrl": fyne.KeyModifierControl, "Shift": fyne.KeyModifierShift, "Alt": fyne.KeyModifierAlt}[m]
		}
		k.stroke(key, mod)
	}
}

func (k keyboard) stroke(key fyne.KeyName, mod fyne.KeyModifier) {
	c := k.canvas()
	shift := &fyne.KeyEvent{Name: desktop.KeyShiftLeft}
	if mod&fyne.KeyModifierShift != 0 {
		if on, ok := c.Focused().(desktop.Keyable); ok {
			on.KeyDown(shift)
		}
		defer func() {
			if on, ok := c.Focused().(desktop.Keyable); ok {
				on.KeyUp(shift)
			}
		}()
	}
	if key == fyne.KeyTab && mod&^fyne.KeyModifierShift == 0 {
		if on, ok := c.Focused().(fyne.Tabbable); !ok || !on.AcceptsTab() {
			if mod == 0 {
				c.FocusNext()
			} else {
				c.FocusPrevious()
			}
			return
		}
	}
	if mod&^fyne.KeyModifierShift != 0 {
		var s fyne.Shortcut = &desktop.CustomShortcut{KeyName: key, Modifier: mod}
		if mod == fyne.KeyModifierControl {
			switch key {
			case fyne.KeyZ:
				s = &fyne.ShortcutUndo{}
			case fyne.KeyY:
				s = &fyne.ShortcutRedo{}
			case fyne.KeyA:
				s = &fyne.ShortcutSelectAll{}
			}
		}
		for _, m := range k.w.win.MainMenu().Items {
			if fromMenu(m, s) {
				return
			}
		}
		if on, ok := c.Focused().(fyne.Shortcutable); ok {
			on.TypedShortcut(s)
		} else if over, ok := k.w.win.Canvas().(fyne.Shortcutable); ok {
			over.TypedShortcut(s)
		}
		return
	}
	e := &fyne.KeyEvent{Name: key}
	if on := c.Focused(); on != nil {
		on.TypedKey(e)
		if key == fyne.KeySpace {
			on.TypedRune(' ')
		}
	} else if f := c.OnTypedKey(); f != nil {
		f(e)
	}
}

func fromMenu(m *fyne.Menu, s fyne.Shortcut) bool {
	for _, i := range m.Items {
		if i.Shortcut != nil && i.Shortcut.ShortcutName() == s.ShortcutName() && i.Action != nil {
			i.Action()
			return true
		}
		if i.ChildMenu != nil && fromMenu(i.ChildMenu, s) {
			return true
		}
	}
	return false
}

// text types a text.
func (k keyboard) text(s string) {
	k.t.Helper()
	for _, r := range s {
		if on := k.canvas().Focused(); on != nil {
			on.TypedRune(r)
		} else if f := k.canvas().OnTypedRune(); f != nil {
			f(r)
		}
	}
}

// over types a text over what stands in the field.
func (k keyboard) over(s string) {
	k.t.Helper()
	k.press("Ctrl+A")
	k.text(s)
}

// eachEntry calls f with every field that Tab comes to and that can be typed into,
// in every tab that has some, which it names; each tab has a window of its own in
// which nothing is worked out beside.
func eachEntry(t *testing.T, window func(*testing.T) *window, f func(k keyboard, tab string, e *panel.Entry)) {
	t.Helper()
	for tab, name := range tabNames {
		if name == "Card" || name == "Picture" {
			continue
		}
		w := window(t)
		w.bench.ShowTab(tab)
		w.desk.Later = func(func(), func()) {}
		k := keyboard{t, w}
		met := map[fyne.Focusable]bool{}
		for range mostTabs {
			k.press("Tab")
			on := k.canvas().Focused()
			if met[on] {
				break
			}
			met[on] = true
			if e, ok := on.(*panel.Entry); ok && !e.Disabled() {
				f(k, name, e)
			}
		}
	}
}

// mostTabs is more than anything that takes the keyboard in one view.
const mostTabs = 600

// to goes on with Tab until what has the keyboard is called so: a button by its
// words, a field by those before it or above it.
func (k keyboard) to(name string) {
	k.t.Helper()
	k.toNth(name, 1)
}

// toNth goes to the nth that is called so.
func (k keyboard) toNth(name string, nth int) {
	k.t.Helper()
	var met []string
	for range mostTabs {
		k.press("Tab")
		on, ok := k.canvas().Focused().(fyne.CanvasObject)
		if !ok {
			continue
		}
		n := k.nameOf(on)
		if met = append(met, n); strings.HasPrefix(n, name) {
			if nth--; nth == 0 {
				return
			}
		}
	}
	k.t.Fatalf("Tab does not come to %q; it came to %q", name, compact(met))
}

func compact(s []string) []string {
	seen := map[string]bool{}
	var out []string
	for _, x := range s {
		if !seen[x] {
			seen[x] = true
			out = append(out, x)
		}
	}
	return out
}

// top is what the keyboard can go to: the dialog in front, or the window.
func (k keyboard) top() fyne.CanvasObject {
	if top := k.w.win.Canvas().Overlays().Top(); top != nil {
		return top
	}
	return k.w.win.Content()
}

// ownName returns what stands on a thing, for those that say it themselves.
func ownName(o fyne.CanvasObject) (name string, ok bool) {
	switch x := o.(type) {
	case *widget.Button:
		return x.Text, true
	case *dialogButton:
		return x.Text, true
	case *canvas.Canvas:
		return x.Name, true
	case interface{ Label() string }:
		return x.Label(), true
	}
	return "", false
}

// nameOf returns what somebody who looks would call what has the keyboard: the
// words in it, or those to its left, or those above it.
func (k keyboard) nameOf(o fyne.CanvasObject) string {
	if name, ok := ownName(o); ok {
		return name
	}
	if _, entry := o.(fyne.Validatable); !entry {
		if in := wordsIn(o); in != "" && !strings.Contains(fmt.Sprintf("%T", o), "chooser") {
			return in
		}
	}
	type word struct {
		text string
		at   fyne.Position
		size fyne.Size
	}
	var words []word
	at, size := fyne.Position{}, o.Size()
	eachShown(k.top(), func(part fyne.CanvasObject, p fyne.Position) {
		if part == o {
			at = p
		}
		if t, ok := part.(*fcanvas.Text); ok && strings.TrimSpace(t.Text) != "" {
			words = append(words, word{t.Text, p, t.Size()})
		}
	})
	best, name := math.Inf(1), ""
	for _, t := range words {
		p := t.at
		if p.X+1 >= at.X && p.X < at.X+size.Width && p.Y+1 >= at.Y && p.Y < at.Y+size.Height {
			continue // what is in it
		}
		beside := p.Y+t.size.Height/2 > at.Y && p.Y+t.size.Height/2 < at.Y+size.Height && p.X < at.X
		above := p.X < at.X+size.Width && p.X+t.size.Width > at.X && p.Y < at.Y
		d := math.Inf(1)
		switch {
		case beside:
			d = float64(at.X - p.X)
		case above:
			d = 1000 + float64(at.Y-p.Y)
		}
		if d < best {
			best, name = d, t.text
		}
	}
	return name
}

func wordsIn(o fyne.CanvasObject) string {
	var out []string
	eachShown(o, func(part fyne.CanvasObject, _ fyne.Position) {
		if t, ok := part.(*fcanvas.Text); ok && t.Text != "" {
			out = append(out, t.Text)
		}
	})
	return strings.Join(out, " ")
}

// eachShown calls f with an object and all that is shown in it, and where they
// are; of tabs only that at the front.
func eachShown(root fyne.CanvasObject, f func(fyne.CanvasObject, fyne.Position)) {
	var walk func(fyne.CanvasObject, fyne.Position)
	walk = func(o fyne.CanvasObject, from fyne.Position) {
		if o == nil || !o.Visible() {
			return
		}
		at := from.Add(o.Position())
		f(o, at)
		var parts []fyne.CanvasObject
		var behind []fyne.CanvasObject
		switch x := o.(type) {
		case *fyne.Container:
			parts = x.Objects
		case fyne.Widget:
			parts = test.WidgetRenderer(x).Objects()
			if tabs, ok := x.(*container.AppTabs); ok {
				for _, i := range tabs.Items {
					if i != tabs.Selected() {
						behind = append(behind, i.Content)
					}
				}
			}
		}
		for _, p := range parts {
			if !slices.Contains(behind, p) {
				walk(p, at)
			}
		}
	}
	walk(root, fyne.Position{})
}

func place(o fyne.CanvasObject) fyne.Position {
	return fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
}
