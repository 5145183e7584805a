package window

import (
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2/test"

	"risewright/app/tables"
	"risewright/assets"
)

// The very first start offers the tour, once: whatever the answer, the next start
// does not ask again, and a start on a file never does.
func TestTheTourIsOfferedOnce(t *testing.T) {
	pub, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	stops, err := assets.Tour("en")
	if err != nil {
		t.Fatal(err)
	}
	c := Config{Tables: pub, Clock: func() time.Time { return noon }, Version: "test"}
	for _, row := range []struct {
		name string
		keys []string
		tour bool
	}{
		{"taken", []string{"Enter"}, true},
		{"declined by its button", []string{"Shift+Tab", "Space"}, false},
		{"declined by Escape", []string{"Escape"}, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			a := test.NewTempApp(t)
			w := newWindowFirst(t, a, c)
			w.desk.Later = func(func(), func()) {} // nobody waits for what the tabs work out
			k := keyboard{t, w}
			if said := wordsIn(k.top()); w.win.Canvas().Overlays().Top() == nil || !strings.Contains(said, "Help, Tour on a demo job") {
				t.Fatalf("the first start says %q", said)
			}
			k.press(row.keys...)
			if w.win.Canvas().Overlays().Top() != nil {
				t.Fatal("the question stays")
			}
			if got := strings.Contains(wordsIn(w.win.Content()), stops[0].Title); got != row.tour {
				t.Errorf("the tour is shown: %v", got)
			}
			if row.tour { // to its end, by keys
				for range stops {
					k.press("Space")
				}
				if strings.Contains(wordsIn(w.win.Content()), stops[len(stops)-1].Title+" ") {
					t.Error("the tour does not end")
				}
			}
			if w.session.Dirty() {
				t.Error("the job has changed")
			}
			again := newWindowFirst(t, a, c)
			if again.win.Canvas().Overlays().Top() != nil {
				t.Error("the second start asks again")
			}
		})
	}
	a := test.NewTempApp(t)
	dir := t.TempDir()
	w := newWindowFirst(t, a, c)
	path, err := savePath(dir, "mine")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.session.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	w.session.Close() // or the next window asks about this one
	a.Preferences().SetBool(keyToured, false)
	on := c
	on.Path = path
	if newWindowFirst(t, a, on).win.Canvas().Overlays().Top() != nil {
		t.Error("a start on a file asks")
	}
}
