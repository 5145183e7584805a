package window

import (
	"errors"
	"testing"

	"fyne.io/fyne/v2"
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
