package window

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2/test"

	"risewright/solver"
)

// What is written is named, however much it is, and an error is shown.
func TestWhatWasWrittenIsSaid(t *testing.T) {
	w := newTestWindow(t, "")
	said := func(what string, do func(string, *solver.Answer) ([]string, error)) string {
		w.writeTo("/there", what, do)
		for range 200 { // it is written beside the interface
			text := ""
			w.do(func() {
				over := w.win.Canvas().Overlays()
				if over.Top() != nil {
					text = test.RenderObjectToMarkup(over.Top())
				}
				for over.Top() != nil {
					over.Remove(over.Top())
				}
			})
			if text != "" {
				return text
			}
			time.Sleep(10 * time.Millisecond)
		}
		return ""
	}
	var about *solver.Answer
	text := said("templates", func(dir string, a *solver.Answer) ([]string, error) {
		about = a
		var names []string
		for i := range mostNamed + 3 {
			names = append(names, fmt.Sprintf("%s/T%02d-template.pdf", dir, i))
		}
		return names, nil
	})
	if about != w.session.Answer() || !strings.Contains(text, "Templates") || !strings.Contains(text, "T00-template.pdf") || !strings.Contains(text, "and 3 more") || strings.Contains(text, fmt.Sprintf("T%02d", mostNamed)) {
		t.Errorf("it says %s", text)
	}
	if text := said("papers", func(string, *solver.Answer) ([]string, error) { return nil, errors.New("the disk is full") }); !strings.Contains(text, "disk is full") {
		t.Errorf("of an error it says %s", text)
	}
}

// What nothing writes is not offered.
func TestTemplatesAreOfferedWhereTheyAreMade(t *testing.T) {
	w := newTestWindow(t, "")
	find := func() (found, off bool) {
		for _, i := range w.menu.main.Items[0].Items {
			if strings.HasPrefix(i.Label, "Write templates") {
				return true, i.Disabled
			}
		}
		return false, false
	}
	if found, off := find(); !found || !off {
		t.Errorf("offered %v, out of use %v, and nothing makes them", found, off)
	}
	w.config.Templates = func(string, *solver.Answer) ([]string, error) { return nil, nil }
	w.menu = newMenu(w)
	if found, off := find(); !found || off {
		t.Errorf("offered %v, out of use %v, though they can be made", found, off)
	}
}
