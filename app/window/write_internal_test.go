package window

import (
	"context"
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
	said := func(what string, do Writer) string {
		w.writeTo("/there", what, do)
		for range 200 { // it is written beside the interface
			text := ""
			w.do(func() {
				over := w.win.Canvas().Overlays()
				if w.writing == nil && over.Top() != nil {
					text = test.RenderObjectToMarkup(over.Top())
				}
				for text != "" && over.Top() != nil {
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
	text := said("templates", func(_ context.Context, dir string, a *solver.Answer, _ func(float64, string)) ([]string, error) {
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
	if text := said("papers", func(context.Context, string, *solver.Answer, func(float64, string)) ([]string, error) {
		return nil, errors.New("the disk is full")
	}); !strings.Contains(text, "disk is full") {
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
	w.config.Templates = func(context.Context, string, *solver.Answer, func(float64, string)) ([]string, error) {
		return nil, nil
	}
	w.menu = newMenu(w)
	if found, off := find(); !found || off {
		t.Errorf("offered %v, out of use %v, though they can be made", found, off)
	}
}

// Writing says how far it has come, and is stopped by its button, by Escape and
// by closing the window, which then waits for it.
func TestWritingIsStopped(t *testing.T) {
	for _, way := range []string{"button", "escape", "window"} {
		t.Run(way, func(t *testing.T) {
			w := newTestWindow(t, "")
			closed, ended := make(chan bool, 1), make(chan bool, 1)
			begun := make(chan bool)
			w.do(func() {
				w.writeTo("/there", "papers", func(ctx context.Context, _ string, _ *solver.Answer, tell func(float64, string)) ([]string, error) {
					tell(0.25, "the papers are being laid out")
					close(begun)
					<-ctx.Done()
					ended <- true
					return nil, fmt.Errorf("nothing was written: %w", ctx.Err())
				})
			})
			<-begun
			await(t, w, func() bool { return shows(w, "The papers are being laid out") })
			w.do(func() {
				switch way {
				case "button":
					tap(t, w, "Cancel")
				case "escape":
					w.escape()
				case "window":
					w.close()
					if w.writing == nil || w.writing.then == nil {
						t.Error("the window was closed while something was being written")
						return
					}
					// the library's test driver cannot bear a window that is closed twice
					w.writing.then = func() {
						select {
						case <-ended:
							closed <- true
						default:
							closed <- false
						}
					}
				}
			})
			if way == "window" {
				select {
				case after := <-closed:
					if !after {
						t.Error("the window was closed before the writing had ended")
					}
				case <-time.After(10 * time.Second):
					t.Fatal("the window was not closed")
				}
				return
			}
			await(t, w, func() bool { return w.writing == nil && shows(w, "Nothing was written to /there") })
		})
	}
}

// await waits until something is so, in the interface's turn.
func await(t *testing.T, w *window, so func() bool) {
	t.Helper()
	for range 1000 {
		is := false
		w.do(func() { is = so() })
		if is {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatal("it never came to be so")
}
