package window

import (
	"slices"
	"strings"
	"testing"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"risewright/app/tongue"
	"risewright/view/panel"
	"risewright/view/words"
)

// TestGermanReachesEveryTab: what stands in the window in German is German: no
// text there is one that the book has something else for.
func TestGermanReachesEveryTab(t *testing.T) {
	b, err := tongue.Book("de")
	if err != nil {
		t.Fatal(err)
	}
	left := map[string]int{} // letters that no pair covers
	b.Heard(func(text, _ string, n int) { left[text] = n })
	w := newTestWindow(t, "")
	t.Cleanup(func() { words.Speak(nil) })
	w.do(func() {
		w.app.Preferences().SetString(keyTongue, "de")
		w.win.Resize(fyne.NewSize(1600, 1000))
		w.speak()
		w.rebuild()
	})
	said, missed := map[string]bool{}, []string{}
	for i := range 9 {
		w.do(func() { w.bench.ShowTab(i) })
		w.do(func() {
			objects := test.LaidOutObjects(w.win.Canvas().Content())
			typed := typedIn(objects)
			for _, o := range objects {
				x, ok := o.(*canvas.Text)
				if !ok || said[x.Text] || typed[x.Text] {
					continue
				}
				said[x.Text] = true
				// A text of several words that the book says otherwise was never asked of it.
				if now := b.Say(x.Text); now != x.Text && !figures(x.Text) && strings.Contains(strings.TrimSpace(x.Text), " ") && left[x.Text] == 0 {
					missed = append(missed, x.Text)
				}
			}
		})
	}
	if len(said) < 200 {
		t.Errorf("only %d texts seen", len(said))
	}
	slices.Sort(missed)
	for _, m := range missed {
		t.Errorf("%q stands in the window; German is %q", m, b.Say(m))
	}
}

// typedIn returns what stands in fields, which is the person's own.
func typedIn(objects []fyne.CanvasObject) map[string]bool {
	typed := map[string]bool{}
	for _, o := range objects {
		switch e := o.(type) {
		case *widget.Entry:
			typed[e.Text] = true
		case *panel.Entry:
			typed[e.Text] = true
		}
	}
	return typed
}

// figures says whether a text is a figure with its unit, which the book would
// write as English once more.
func figures(text string) bool {
	return strings.IndexFunc(text, unicode.IsLetter) > strings.IndexFunc(text, unicode.IsDigit)
}
