package window

import (
	"context"
	"fmt"
	"image"
	"testing"

	"fyne.io/fyne/v2/test"
	"go.uber.org/goleak"

	"risewright/app/store"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/view/still"
)

// A window that is opened and closed again and again, the work of its tabs begun
// anew by every change, papers and a still stopped on their way, leaves no
// goroutine behind. Each is given two minutes to end, as what is given up is
// slow under the race detector on a busy machine; those that have not are told
// with their stacks.
func TestClosedWindowsLeaveNothingRunning(t *testing.T) {
	pub, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	before := goleak.IgnoreCurrent()
	for round := range 3 {
		t.Run(fmt.Sprint(round), func(t *testing.T) { openWorkAndClose(t, pub, round) })
	}
	for range 240 { // each of about half a second
		if err = goleak.Find(before); err == nil {
			return
		}
	}
	t.Error(err)
}

// openWorkAndClose does so to a window whose work goes on beside the interface,
// as in the window that people have.
func openWorkAndClose(t *testing.T, pub model.Tables, round int) {
	begun, stopped := make(chan bool, 1), make(chan bool, 1)
	c := Config{
		Tables: pub, Version: "test", Clock: runningClock(),
		Store: store.New(store.Disk{}, t.TempDir(), runningClock()),
		Still: func(string, image.Image, *model.Job, string) error { return nil },
		Sheets: func(ctx context.Context, _ string, _ *solver.Answer, _ func(float64, string)) ([]string, error) {
			begun <- true
			<-ctx.Done()
			stopped <- true
			return nil, ctx.Err()
		},
		still: &still.Options{W: 24, H: 15},
		later: func(work, then func()) {
			go func() { work(); inTurn(then) }()
		},
		do: inTurn,
	}
	a := test.NewTempApp(t)
	a.Preferences().SetBool(keyToured, true)
	s, _, err := c.start()
	if err != nil {
		t.Fatal(err)
	}
	var w *window
	inTurn(func() { w = newWindow(a, c, s) })
	for i := range 8 { // the picture is drawn elsewhere, and slowly
		w.do(func() {
			w.bench.ShowTab(i)
			rename(w, fmt.Sprintf("Round %d, tab %d", round, i)) // its work begins anew
		})
	}
	w.do(func() { w.writeTo("/there", "papers", w.config.Sheets) })
	<-begun
	w.do(func() { w.escape() })
	<-stopped
	until(t, w, "the papers are left alone", func() bool { return w.writing == nil && told(w, "Nothing was written") && w.escape() })
	startStill(t, w)
	w.do(func() {
		if !w.escape() {
			t.Error("the still could not be left")
		}
		w.session.Close()
		w.win.SetCloseIntercept(nil)
		w.win.Close()
	})
}
