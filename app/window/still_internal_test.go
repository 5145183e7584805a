package window

import (
	"errors"
	"image"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/go-gl/mathgl/mgl64"

	"risewright/app/tables"
	"risewright/model"
	"risewright/view/panel"
	"risewright/view/scene"
	"risewright/view/still"
)

// stillWindow opens a window whose stills are small, and whose clock runs.
func stillWindow(t *testing.T, keep func(path string, img image.Image, j *model.Job, what string) error) *window {
	t.Helper()
	pub, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	// It is never calm by itself, so that it can always be stopped.
	return newWindowOn(t, test.NewTempApp(t), Config{Tables: pub, Version: "test", Still: keep, still: &still.Options{W: 24, H: 15}, Clock: runningClock()})
}

// runningClock goes on a second at each look, on any goroutine.
func runningClock() func() time.Time {
	var ticks atomic.Int64
	return func() time.Time { return noon.Add(time.Duration(ticks.Add(1)) * time.Second) }
}

// bright is a floor under the sky, which is enough to see a still get on.
func bright() panel.StillWanted {
	up := mgl64.Vec3{0, 0, 1}
	s := &scene.Scene{
		Materials: []scene.Material{{Diffuse: scene.Colour{0.5, 0.5, 0.5}}}, Sky: scene.Colour{10, 10, 10},
		Triangles: []scene.Triangle{{P: [3]mgl64.Vec3{{-9e3, -9e3, 0}, {9e3, -9e3, 0}, {0, 9e3, 0}}, N: [3]mgl64.Vec3{up, up, up}}},
	}
	return panel.StillWanted{Scene: s, View: scene.FromHall, Time: scene.Evening,
		Camera: scene.Camera{Eye: mgl64.Vec3{0, -2000, 1600}, Up: up, Angle: 1}}
}

// until waits on the interface's goroutine for something to come true.
func until(t *testing.T, w *window, what string, ok func() bool) {
	t.Helper()
	for range 2000 {
		done := false
		w.do(func() { done = ok() })
		if done {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	t.Fatalf("waited in vain until %s", what)
}

// still starts a still and returns it.
func startStill(t *testing.T, w *window) {
	t.Helper()
	shown := false
	w.do(func() {
		w.makeStill(bright())
		shown = w.win.Canvas().Overlays().Top() != nil
	})
	if !shown {
		t.Fatal("no dialog has come")
	}
}

// press presses a button of the topmost dialog once it can be pressed.
func press(t *testing.T, w *window, label string) {
	t.Helper()
	until(t, w, label+" can be pressed", func() bool {
		b := buttons(w)[label]
		if b == nil || b.Disabled() {
			return false
		}
		test.Tap(b)
		return true
	})
}

// told says whether the topmost dialog says something.
func told(w *window, text string) bool {
	for _, o := range test.LaidOutObjects(w.win.Canvas().Overlays().Top()) {
		if l, ok := o.(*widget.Label); ok && strings.Contains(l.Text, text) {
			return true
		}
	}
	return false
}

// A still is stopped, kept, gone on with, and written where it was asked to be;
// a fault on the way leaves it there to be kept elsewhere.
func TestStillIsKept(t *testing.T) {
	dir := t.TempDir()
	var kept atomic.Pointer[string]
	fail := errors.New("the disk is full")
	var fault atomic.Pointer[error]
	fault.Store(&fail)
	w := stillWindow(t, func(path string, img image.Image, j *model.Job, what string) error {
		if e := fault.Load(); e != nil {
			return *e
		}
		text := path + "|" + what + "|" + j.Name
		if b := img.Bounds(); b.Dx() != 24 || b.Dy() != 15 {
			t.Errorf("the picture kept is %v", b)
		}
		kept.Store(&text)
		return os.WriteFile(path, []byte("picture"), 0o644)
	})
	startStill(t, w)
	press(t, w, "Stop and keep")
	press(t, w, "Go on")
	until(t, w, "there is something to keep", func() bool { return told(w, "samples of light") })
	press(t, w, "Stop and keep")
	save := func() {
		press(t, w, "Save…")
		until(t, w, "a name is asked for", func() bool {
			for _, o := range test.LaidOutObjects(w.win.Canvas().Overlays().Top()) {
				if e, ok := o.(*dialogEntry); ok && !strings.HasSuffix(e.Text, ".png") {
					e.SetText(dir)
					return true
				}
			}
			return false
		})
		press(t, w, "Save")
	}
	save()
	until(t, w, "the fault is told", func() bool { return told(w, "disk is full") })
	press(t, w, "OK")
	fault.Store(nil)
	save()
	until(t, w, "the picture is kept", func() bool { return kept.Load() != nil })
	want := filepath.Join(dir, w.session.Job().Name+", from the hall evening.png") + "|from the hall, evening|" + w.session.Job().Name
	if got := *kept.Load(); got != want {
		t.Errorf("kept %q, want %q", got, want)
	}
	press(t, w, "Cancel")
	if got, err := os.ReadDir(dir); err != nil || len(got) != 1 {
		t.Errorf("the folder holds %v, %v", got, err)
	}
}

// Cancelled, or closed with Escape, a still leaves nothing, and its goroutine
// ends.
func TestStillIsCancelled(t *testing.T) {
	for _, how := range []string{"button", "key"} {
		w := stillWindow(t, func(string, image.Image, *model.Job, string) error {
			t.Error("something was written")
			return nil
		})
		startStill(t, w)
		if how == "button" {
			press(t, w, "Cancel")
		} else {
			w.do(func() { w.escape() })
		}
		until(t, w, "the dialog is gone", func() bool { return w.win.Canvas().Overlays().Top() == nil })
		// A second one can be begun at once.
		startStill(t, w)
		press(t, w, "Cancel")
	}
}

func TestPicturePath(t *testing.T) {
	dir := t.TempDir()
	if got, err := picturePath(dir, " a "); err != nil || got != filepath.Join(dir, "a.png") {
		t.Errorf("%q, %v", got, err)
	}
	if got, err := picturePath(dir, "b.PNG"); err != nil || got != filepath.Join(dir, "b.PNG") {
		t.Errorf("%q, %v", got, err)
	}
	for _, c := range [][2]string{{dir, ""}, {dir, "a/b"}, {filepath.Join(dir, "nowhere"), "a"}} {
		if _, err := picturePath(c[0], c[1]); err == nil {
			t.Errorf("%q is let in", c)
		}
	}
}

// Going on from a still that is done makes it better: here one that is done with
// two samples.
func TestStillGoesOnWhenCalm(t *testing.T) {
	w := stillWindow(t, nil)
	w.config.still.Samples = 2
	var m *stillMaker
	w.do(func() {
		m = w.newStill(bright())
		m.show()
		m.run()
	})
	for _, want := range []float64{2, 4, 8} {
		until(t, w, "it is done", func() bool { return !m.running && !m.halt.Disabled() && m.refiner.Progress().Samples >= want })
		if got := m.refiner.Progress().Samples; got != want {
			t.Fatalf("it is done with %g samples, want %g", got, want)
		}
		press(t, w, "Go on")
	}
	press(t, w, "Cancel")
}

// A still of both stairs has the one before at the left of a white line, in the
// window and in what is kept.
func TestStillOfBoth(t *testing.T) {
	w := stillWindow(t, nil)
	w.config.still.Samples = 1
	var m *stillMaker
	w.do(func() {
		s := bright()
		dark := *s.Scene
		dark.Sky = scene.Colour{}
		s.Left, s.Divider = &dark, 0.25
		m = w.newStill(s)
		m.show()
		m.run()
	})
	until(t, w, "it is done", func() bool { return !m.running && m.refiner.Progress().Samples == 1 })
	w.do(func() {
		img, ok := m.developed(0).(*image.NRGBA)
		if !ok || img.Rect.Dx() != 24 {
			t.Fatalf("%T", img)
		}
		left, line, right := img.NRGBAAt(2, 14), img.NRGBAAt(6, 14), img.NRGBAAt(16, 14)
		if left.R > 2 || line.R != 255 || right.R < 60 || right.R == 255 {
			t.Errorf("left %v, line %v, right %v", left, line, right)
		}
		if !strings.HasSuffix(m.what, "before and after") {
			t.Errorf("it is called %q", m.what)
		}
	})
	press(t, w, "Cancel")
}
