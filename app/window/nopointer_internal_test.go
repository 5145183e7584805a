package window

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"

	"risewright/model"
)

// pointed says whether a pointer can do something to an object.
func pointed(o fyne.CanvasObject) bool {
	switch o.(type) {
	case fyne.Tappable, fyne.DoubleTappable, fyne.SecondaryTappable, fyne.Draggable, desktop.Mouseable:
		return true
	}
	return false
}

// otherwise names what is done with a pointer to things that do not take the
// keyboard, and the keys that do the same. Types are fyne's own.
var otherwise = map[string]string{
	"*container.tabButton":    "Ctrl with the tab's figure or letter, in the View menu",
	"*container.divider":      "Alt and an arrow key",
	"*widget.scrollBar":       "Tab, which brings what it comes to into sight, and Alt+Page Down",
	"*widget.scrollBarArea":   "the same",
	"*internal.scrollBar":     "the same",
	"*internal.scrollBarArea": "the same",
	"*widget.Scroll":          "the same",
	"*widget.entryContent":    "part of a field, which takes the keyboard",
}

// newFullWindow opens a window of the usual size on a job with everything in it.
func newFullWindow(t *testing.T) *window {
	t.Helper()
	w := newTestWindow(t, "")
	w.win.Resize(fyne.NewSize(1280, 800))
	job := w.session.Job()
	if !job.Lighting.On() {
		job.Lighting = model.FirstLighting(job, w.config.Tables.Lights)
	}
	if !job.Sensing.On() {
		job.Sensing = model.FirstSensing(job, w.config.Tables.Senses)
	}
	w.use(w.config.home().New(job))
	return w
}

// TestNothingIsForThePointerAlone: in every tab, of a job with everything in it,
// whatever a pointer can do something to takes the keyboard too, Tab comes to it,
// and what Tab comes to is in sight.
func TestNothingIsForThePointerAlone(t *testing.T) {
	for tab, name := range tabNames {
		t.Run(name, func(t *testing.T) {
			w := newFullWindow(t)
			if name == "Picture" { // which would be painted anew at every key
				w.desk.Later = func(func(), func()) {}
			}
			w.bench.ShowTab(tab)
			k := keyboard{t, w}
			met := map[fyne.CanvasObject]bool{}
			for range mostTabs {
				k.press("Tab")
				on, _ := k.canvas().Focused().(fyne.CanvasObject)
				if met[on] {
					break
				}
				met[on] = true
				if at := place(on); at.Y < -edge || at.Y+min(on.Size().Height, 30) > w.win.Canvas().Size().Height || hiddenBy(w.win.Content(), on) {
					t.Errorf("Tab comes to %T %q out of sight, at %v", on, k.nameOf(on), at)
				}
			}
			if len(met) < 10 {
				t.Errorf("Tab comes to %d things only", len(met))
			}
			seen := map[string]bool{}
			eachShown(w.win.Content(), func(o fyne.CanvasObject, at fyne.Position) {
				if d, ok := o.(fyne.Disableable); !pointed(o) || met[o] || ok && d.Disabled() {
					return
				}
				kind := fmt.Sprintf("%T", o)
				if otherwise[kind] == "" && !seen[kind] {
					seen[kind] = true
					t.Errorf("a pointer does something to a %s at %v, and Tab does not come to it", kind, at)
				}
			})
		})
	}
}

// edge is how far the library lays what stands at the edge outside the window
// when a test asks what is shown.
const edge = 5

var tabNames = []string{"Readings", "Card", "Build-up", "Job", "Order", "Lights", "Sensors", "Buy", "Picture"}

// hiddenBy says whether a scroll that holds an object shows nothing of its top.
func hiddenBy(root, o fyne.CanvasObject) (hidden bool) {
	var scrolls []*container.Scroll
	eachShown(root, func(at fyne.CanvasObject, _ fyne.Position) {
		if s, ok := at.(*container.Scroll); ok && s.Direction != container.ScrollHorizontalOnly {
			scrolls = append(scrolls, s)
		}
	})
	for _, s := range scrolls {
		eachShown(s.Content, func(at fyne.CanvasObject, p fyne.Position) {
			hidden = hidden || at == o && (p.Y < -1 || p.Y+min(o.Size().Height, 20) > s.Size().Height+1)
		})
	}
	return hidden
}
