package window

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"risewright/assets"
)

// Every page of help shows its picture, so wide that it can be read, and Tab comes
// to the list and the way out.
func TestHelpShowsItsPictures(t *testing.T) {
	w := newTestWindow(t, "")
	w.win.Resize(fyne.NewSize(1280, 800))
	k := keyboard{t, w}
	k.press("Ctrl+H")
	pages, err := assets.HelpPages("en")
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range pages {
		pictures := 0
		for _, o := range test.LaidOutObjects(w.win.Canvas().Overlays().Top()) {
			if m, ok := o.(*helpPicture); ok {
				pictures++
				if m.Size().Width < 400 || m.Size().Height < 150 {
					t.Errorf("the picture of %s is shown at %v", p.Name, m.Size())
				}
			}
		}
		if want := map[bool]int{true: 1}[p.Name != "glossary"]; pictures != want {
			t.Errorf("page %d, %s, shows %d pictures, not %d", i+1, p.Name, pictures, want)
		}
		k.press("Down")
	}
	k.press("Tab")
	page, ok := k.canvas().Focused().(*reader)
	if !ok {
		t.Fatalf("after the list the keyboard is at %T", k.canvas().Focused())
	}
	page.scroll.Refresh()
	k.press("PageDown")
	if page.scroll.Offset.Y <= 0 {
		t.Error("Page Down does not turn the page")
	}
	k.to("Close")
	k.press("Space")
	if w.win.Canvas().Overlays().Top() != nil {
		t.Error("the help stays open")
	}
}
