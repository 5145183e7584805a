package window

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"risewright/solver"
	"risewright/view/words"
)

// Escape closes every dialog of ours wherever the keyboard is in it, the topmost
// first.
func TestEscapeClosesDialogs(t *testing.T) {
	for name, show := range map[string]func(w *window){
		"error":    func(w *window) { w.complain(errors.New("the disk is full")) },
		"cautions": (*window).showCautions,
		"new job":  func(w *window) { w.newJob() },
		"save as":  func(w *window) { w.saveAs(func() {}) },
		"question": func(w *window) {
			w.askReplace("stair.json", "It would be gone.", func() { t.Error("it was replaced") })
		},
		"two": func(w *window) {
			w.showCautions()
			w.complain(errors.New("the disk is full"))
		},
	} {
		t.Run(name, func(t *testing.T) {
			w := newTestWindow(t, "")
			was, c := w.session.Job().ID, w.win.Canvas()
			show(w)
			open := len(c.Overlays().List())
			if open == 0 {
				t.Fatal("nothing is shown")
			}
			places := 0
			for range 8 { // a few stops of Tab on, it works from there
				if c.Focused() != nil {
					places++
				}
				c.FocusNext()
			}
			// onto a button, which is where a dialog is mostly left from
			for range 20 {
				if _, ok := c.Focused().(*dialogButton); ok {
					break
				}
				c.FocusNext()
			}
			for ; open > 0; open-- {
				if on := c.Focused(); on != nil {
					on.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
				} else {
					w.typed(&fyne.KeyEvent{Name: fyne.KeyEscape})
				}
				if left := len(c.Overlays().List()); left != open-1 {
					t.Fatalf("%d dialogs are left of %d", left, open)
				}
			}
			if len(w.shown) != 0 || places == 0 {
				t.Errorf("%d dialogs are thought to be open; %d places took the keyboard", len(w.shown), places)
			}
			if w.session.Job().ID != was {
				t.Error("there is another job")
			}
		})
	}
}

// dialogs open every kind of dialog that takes something or shows something.
func dialogs(t *testing.T, home string) map[string]func(w *window) {
	return map[string]func(w *window){
		"new job": (*window).newJob,
		"open":    (*window).open,
		"save as": func(w *window) { w.saveAs(nil) },
		"write":   func(w *window) { w.write("papers", w.config.Sheets) },
		"help":    (*window).showPages,
		"keys":    (*window).showKeys,
		"browse": func(w *window) {
			w.chooseFolder("Choose the folder", "Take this folder", home, func(string) { t.Error("it was taken") })
		},
		"question": func(w *window) {
			w.askReplace("stair.json", "It would be gone.", func() { t.Error("it was replaced") })
		},
		"what is written": func(w *window) { w.wrote("/there", "papers", []string{"a.pdf"}, &solver.Answer{}) },
	}
}

// Letters, appearance and language can change while any dialog is open, as they
// can on a Mac, where the menus are always within reach. The library's dialog of
// files broke down when letters became twice as large.
func TestLettersChangeUnderADialog(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", home)
	if err := os.Mkdir(filepath.Join(home, strings.Repeat("long name ", 12)), 0o755); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { words.Speak(nil) })
	for name, show := range dialogs(t, home) {
		t.Run(name, func(t *testing.T) {
			w := newTestWindow(t, "")
			sizes := []fyne.Size{{Width: 320, Height: 200}, {Width: 1280, Height: 800}}
			changes := func() []*fyne.MenuItem {
				return slices.Concat(w.menu.letters, w.menu.looks, w.menu.tongues, w.menu.letters)
			}
			if os.Getenv("RISEWRIGHT_FULL") == "" { // each builds the whole window anew
				sizes = sizes[:1]
				changes = func() []*fyne.MenuItem {
					return []*fyne.MenuItem{w.menu.letters[len(w.menu.letters)-1], w.menu.tongues[len(w.menu.tongues)-1]}
				}
			}
			for _, size := range sizes {
				w.win.Resize(size)
				show(w)
				for _, i := range changes() {
					i.Action()
				}
				if len(w.win.Canvas().Overlays().List()) != 1 || !w.escape() || w.win.Canvas().Overlays().Top() != nil {
					t.Error("the dialog is not there any more, or can not be left")
				}
			}
		})
	}
}

// Whatever in a dialog has the keyboard, Escape closes it: every place that Tab
// comes to is tried, in every dialog that takes something or shows something.
func TestEscapeClosesFromEveryPlace(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", home)
	for name, show := range dialogs(t, home) {
		t.Run(name, func(t *testing.T) {
			w := newTestWindow(t, "")
			w.win.Resize(fyne.NewSize(1280, 800))
			k := keyboard{t, w}
			met := map[string]bool{}
			for tabs := range mostTabs {
				show(w)
				open := len(w.win.Canvas().Overlays().List())
				if open != 1 {
					t.Fatalf("%d dialogs are open", open)
				}
				for range tabs {
					k.press("Tab")
				}
				on := "nothing"
				if o, ok := w.win.Canvas().Focused().(fyne.CanvasObject); ok {
					on = fmt.Sprintf("%T at %v", o, place(o))
				}
				k.press("Escape")
				if len(w.win.Canvas().Overlays().List()) != 0 {
					t.Fatalf("Escape at %s closes nothing", on)
				}
				if tabs > 0 && met[on] {
					break // all the way round
				}
				met[on] = true
			}
			if len(met) < 1 || len(w.shown) != 0 {
				t.Errorf("%d places; %d dialogs are thought to be open", len(met), len(w.shown))
			}
		})
	}
}
