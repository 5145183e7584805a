package window

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"fyne.io/fyne/v2"
)

// browsing is a window with a folder of jobs and folders at home, and its
// keyboard.
func browsing(t *testing.T) (k keyboard, home string) {
	t.Helper()
	home = t.TempDir()
	t.Setenv("HOME", home)
	for _, dir := range []string{"Works", "empty", ".hidden"} {
		if err := os.Mkdir(filepath.Join(home, dir), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	data, err := os.ReadFile(demoFile(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"Works/b.risewright.json", "Works/A.json", "Works/notes.txt", "Works/.c.json"} {
		if err := os.WriteFile(filepath.Join(home, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	w := newTestWindow(t, "")
	w.win.Resize(fyne.NewSize(1280, 800))
	return keyboard{t, w}, home
}

// A job is opened by keys alone: down to its folder, down to it, Enter.
func TestAJobIsOpenedByKeys(t *testing.T) {
	k, home := browsing(t)
	k.press("Ctrl+O", "Down", "Down", "Enter", "End", "Enter")
	if want := filepath.Join(home, "Works", "b.risewright.json"); k.w.session.Path() != want {
		t.Fatalf("open is %q, want %q; the window says %q", k.w.session.Path(), want, wordsIn(k.top()))
	}
	if k.w.win.Canvas().Overlays().Top() != nil {
		t.Error("a dialog is left")
	}
	// Its folder is where the next one is looked for; a letter goes to a name.
	k.press("Ctrl+O")
	k.text("a")
	k.press("Enter")
	if want := filepath.Join(home, "Works", "A.json"); k.w.session.Path() != want {
		t.Errorf("open is %q, want %q", k.w.session.Path(), want)
	}
}

// toPath goes to the field of the path.
func (k keyboard) toPath() {
	for range mostTabs {
		if _, ok := k.canvas().Focused().(*dialogEntry); ok {
			break
		}
		k.press("Tab")
	}
}

// A path can be typed, also from the folder that is listed on, and one that leads
// nowhere is said.
func TestAPathIsTyped(t *testing.T) {
	k, home := browsing(t)
	k.press("Ctrl+O")
	k.toPath()
	k.over("Works")
	k.press("Enter") // goes there
	if _, ok := k.canvas().Focused().(*pickList); !ok || k.w.session.Path() != "" {
		t.Fatalf("the keyboard is at %T, open is %q", k.canvas().Focused(), k.w.session.Path())
	}
	k.press("BackSpace") // and back
	k.toPath()
	k.over(filepath.Join("Works", "A.json"))
	k.press("Enter")
	if want := filepath.Join(home, "Works", "A.json"); k.w.session.Path() != want {
		t.Errorf("open is %q, want %q; the window says %q", k.w.session.Path(), want, wordsIn(k.top()))
	}
}

// What is listed are folders and job files, in the order of the letters, without
// what is hidden; where a folder is wanted, folders alone.
func TestWhatAFolderLists(t *testing.T) {
	_, home := browsing(t)
	sep := string(filepath.Separator)
	for _, row := range []struct {
		dir   string
		files bool
		want  []string
	}{
		{home, true, []string{"empty" + sep, "Works" + sep}},
		{filepath.Join(home, "Works"), true, []string{"A.json", "b.risewright.json"}},
		{filepath.Join(home, "Works"), false, nil},
	} {
		got, more, err := listed(row.dir, row.files)
		if err != nil || more != 0 || !slices.Equal(got, row.want) {
			t.Errorf("%s, files %v: %q, %d more, %v", row.dir, row.files, got, more, err)
		}
	}
	if _, _, err := listed(filepath.Join(home, "none"), true); err == nil {
		t.Error("a folder that is not there is listed")
	}
	for i := range mostListed + 7 {
		if err := os.Mkdir(filepath.Join(home, "empty", string(rune('a'+i%26))+string(rune('a'+i/26))), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	if got, more, err := listed(filepath.Join(home, "empty"), false); err != nil || len(got) != mostListed || more != 7 {
		t.Errorf("%d and %d more, %v", len(got), more, err)
	}
}

// A folder is made, chosen and taken with keys; a folder that is not there is
// refused and the dialog stays.
func TestAFolderIsMadeAndTaken(t *testing.T) {
	k, home := browsing(t)
	took := ""
	k.w.chooseFolder("Choose the folder", "Take this folder", home, func(path string) { took = path })
	k.to("New folder")
	k.press("Space")
	k.over("Stair 9")
	k.press("Enter")
	if _, ok := k.canvas().Focused().(*pickList); !ok {
		t.Fatalf("the keyboard is at %T: %q", k.canvas().Focused(), wordsIn(k.top()))
	}
	k.to("Take this folder")
	k.press("Space")
	want := filepath.Join(home, "Stair 9")
	if took != want || !isFolder(want) {
		t.Fatalf("%q was taken, want %q", took, want)
	}
	took = ""
	k.w.chooseFolder("Choose the folder", "Take this folder", home, func(path string) { took = path })
	k.toPath()
	k.over("nowhere")
	k.press("Enter")
	if took != "" || !shows(k.w, "there is no folder") && !shows(k.w, "There is no folder") {
		t.Errorf("%q was taken; the window says %q", took, wordsIn(k.top()))
	}
	k.press("Escape", "Escape")
	if k.w.win.Canvas().Overlays().Top() != nil {
		t.Error("Escape does not leave")
	}
}

// The units of a new job are chosen with keys, and the sizes offered follow.
func TestUnitsOfANewJobByKeys(t *testing.T) {
	k, _ := browsing(t)
	k.press("Ctrl+N")
	k.to("○") // the other one
	k.press("Space")
	k.to("Begin")
	was := k.w.session.Job().Units
	k.press("Enter")
	if got := k.w.session.Job().Units; got == was || k.w.win.Canvas().Overlays().Top() != nil {
		t.Errorf("the units are %v, were %v", got, was)
	}
}

// A second click opens what the first has chosen.
func TestTwoClicksOpen(t *testing.T) {
	k, home := browsing(t)
	k.press("Ctrl+O")
	l, ok := k.canvas().Focused().(*pickList)
	if !ok {
		t.Fatalf("the keyboard is at %T", k.canvas().Focused())
	}
	l.rows[1].Tapped(nil)
	if l.at != 1 || len(l.rows) != 2 {
		t.Fatalf("row %d of %d", l.at, len(l.rows))
	}
	l.rows[1].Tapped(nil)
	if len(l.rows) != 2 || l.at != -1 || l.rows[0].text.Text != "A.json" {
		t.Fatalf("row %d of %d", l.at, len(l.rows))
	}
	l.rows[0].Tapped(nil)
	l.rows[0].Tapped(nil)
	if want := filepath.Join(home, "Works", "A.json"); k.w.session.Path() != want {
		t.Errorf("open is %q, want %q", k.w.session.Path(), want)
	}
}
