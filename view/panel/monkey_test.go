package panel_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"reflect"
	"runtime"
	"strconv"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"go.uber.org/goleak"

	"risewright/model"
	"risewright/solver"
	"risewright/view/canvas"
	"risewright/view/drawing"
	"risewright/view/panel"
)

// Whatever keys and buttons are pressed in whatever order, nothing panics, the
// job can always be saved, undoing everything gives the first job back, and no
// goroutine is left, neither while it goes on nor once the window is closed.
func TestHammeredByAMonkey(t *testing.T) {
	endsAlone(t)
	ops := 100
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		ops = 2000
	}
	seed, until := uint64(7), time.Time{}
	if text := os.Getenv("RISEWRIGHT_MONKEY"); text != "" {
		if n, err := strconv.Atoi(text); err == nil {
			ops = n
		} else if d, err := time.ParseDuration(text); err == nil {
			seed, until, ops = uint64(time.Now().UnixNano()), time.Now().Add(d), math.MaxInt
		} else {
			t.Fatalf("RISEWRIGHT_MONKEY is neither a time such as 1h nor a number of acts: %v", err)
		}
	}
	if text := os.Getenv("RISEWRIGHT_SEED"); text != "" {
		n, err := strconv.ParseUint(text, 10, 64)
		if err != nil {
			t.Fatalf("RISEWRIGHT_SEED is no whole number: %v", err)
		}
		seed = n
	}
	t.Logf("seed %d; RISEWRIGHT_SEED=%[1]d RISEWRIGHT_MONKEY=acts or a time such as 1h go test -tags ci -run Monkey ./view/panel", seed)
	rng := rand.New(rand.NewPCG(seed, 1))
	r := newRig(t, shippedJob(t, "tapering"))
	begun := goleak.IgnoreCurrent()
	start, err := model.Encode(r.s.Job())
	if err != nil {
		t.Fatal(err)
	}
	texts := []string{"", "900", "36 5/16", "89.5", "91°", "x", "-3", "0", "1e9", "2 mm/m", "3' 0 5/16\"", "½", "  ", "1:48", "999999 m"}
	keys := []fyne.KeyName{fyne.KeyReturn, fyne.KeyUp, fyne.KeyDown, fyne.KeyEscape, fyne.KeyHome, fyne.KeyEnd, fyne.KeyLeft, fyne.KeyRight, fyne.KeyF, fyne.KeySpace}
	last := "nothing"
	act := func(what string) { last = what }
	done, heap := 0, uint64(0)
	defer func() {
		if p := recover(); p != nil {
			t.Errorf("after %d acts and %s: %v", done, last, p)
			panic(p)
		}
	}()
	for ; done < ops && (until.IsZero() || time.Now().Before(until)); done++ {
		if done%500 == 499 {
			heap = r.inspect(t, last, heap)
			// What is done beside the interface is done in turn here, so that nothing
			// may run now.
			if err := newcomers(begun); err != nil {
				t.Fatalf("after %s %v", last, err)
			}
		}
		switch rng.IntN(15) {
		case 0:
			n := rng.IntN(r.d.Steps()+3) - 1
			act(fmt.Sprintf("choosing step %d", n))
			r.d.Choose(n)
		case 1, 2:
			kinds := append(model.StepKinds(), model.FlightKinds()...)
			k := kinds[rng.IntN(len(kinds))]
			act("going to " + string(k))
			p := model.Place{Step: 1 + rng.IntN(r.d.Steps()), Kind: k}
			if k.WholeFlight() {
				p.Step = 0
			}
			r.d.GoTo(p)
		case 3, 4:
			if _, ok := r.w.Canvas().Focused().(*panel.Entry); ok {
				text := texts[rng.IntN(len(texts))]
				act("typing " + text)
				r.typed(text)
			}
		case 5:
			if r.w.Canvas().Focused() != nil {
				k := keys[rng.IntN(len(keys))]
				act(fmt.Sprintf("key %s at %T", k, r.w.Canvas().Focused()))
				r.key(k)
			}
		case 6:
			shown := r.drawings()
			if len(shown) == 0 { // the picture has the room
				continue
			}
			c := shown[rng.IntN(len(shown))]
			act("a drag in the " + c.Name)
			r.paint(c)
			hs := r.handles(c)
			at := drawing.Point{X: rng.Float64() * 300, Y: rng.Float64() * 150}
			if len(hs) > 0 && rng.IntN(3) > 0 {
				at = c.View().Pixel(hs[rng.IntN(len(hs))].At)
			}
			press(c, at)
			for range 3 {
				at = at.Add(drawing.Point{X: rng.Float64()*60 - 30, Y: rng.Float64()*60 - 30})
				pull(c, at)
				r.paint(c)
			}
			if rng.IntN(4) == 0 {
				c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
			}
			release(c, at)
			if rng.IntN(2) == 0 {
				r.d.SetAsideAndMove()
			}
		case 7:
			act("undo and redo")
			if rng.IntN(2) == 0 {
				r.s.Undo()
			} else {
				r.s.Redo()
			}
			r.d.Answered()
		case 8:
			i := rng.IntN(8) // the picture is drawn elsewhere, and slowly
			act(fmt.Sprintf("tab %d", i))
			r.b.ShowTab(i)
			r.run()
		case 9:
			if n := r.d.Steps(); n > 3 && rng.IntN(2) == 0 {
				act("removing a step")
				_ = r.d.Do(model.RemoveStep{Step: r.s.Job().Flight.Steps[rng.IntN(n)].ID})
			} else if n < 20 {
				act("inserting a step")
				if e, err := panel.InsertedStep(r.s.Job(), rng.IntN(n), rng.IntN(2)); err == nil {
					_ = r.d.Do(e)
				}
			}
		case 10:
			act("a finding")
			if fs := r.s.Answer().Findings; len(fs) > 0 {
				r.d.GoTo(fs[rng.IntN(len(fs))].Where)
			}
		case 11, 12, 13:
			act(r.poke(rng, texts))
		case 14:
			act("setting aside")
			r.b.Readings.Aside()
			e := model.DetailsOf(r.s.Job())
			e.Units = []model.Units{model.Imperial, model.Metric}[rng.IntN(2)]
			_ = r.d.Do(e)
		}
		r.frame()
		if n := r.d.Step(); n < 0 || n > r.d.Steps() {
			t.Fatalf("after %s step %d of %d is chosen", last, n, r.d.Steps())
		}
		if r.d.Answer() == nil {
			t.Fatalf("after %s there is no answer to show", last)
		}
	}
	data, err := model.Encode(r.s.Job())
	if err != nil {
		t.Fatalf("the job cannot be saved: %v", err)
	}
	if _, err := model.Decode(data); err != nil {
		t.Errorf("the job cannot be opened again: %v", err)
	}
	// Undo takes back first what is typed and not yet taken, as in the window.
	if e, ok := r.w.Canvas().Focused().(*panel.Entry); ok && e.Pending() {
		e.Revert()
	}
	undone := 0
	for r.s.Undo() {
		undone++
	}
	r.d.Answered()
	t.Logf("%d acts, %d changes undone, %d complaints", done, undone, len(r.errs))
	if undone == 0 {
		t.Error("the monkey has changed nothing")
	}
	if back, _ := model.Encode(r.s.Job()); string(back) != string(start) {
		t.Error("undoing everything does not give the first job back")
	}
}

// poke taps or types into whatever is to be seen, and says what. What that has
// done beside the window now and then never comes back.
func (r *rig) poke(rng *rand.Rand, texts []string) string {
	what := "nothing to poke"
	if o := anyOf(rng, shownIn(r.w.Content())); o != nil {
		what = r.pokeAt(rng, o, texts)
	}
	if top := r.w.Canvas().Overlays().Top(); top != nil { // a list to choose from, or a question
		if o := anyOf(rng, shownIn(top)); o != nil {
			what += ", then " + r.pokeAt(rng, o, texts)
		}
		r.w.Canvas().Overlays().Remove(top)
	}
	if rng.IntN(4) > 0 {
		r.later = nil
	}
	return what
}

// shownIn returns an object and all that is to be seen in it. The parts are those
// on the screen: test.LaidOutObjects makes each widget's anew at every call, and
// what has been made so is kept until a paint, so it can not be asked thousands of
// times.
func shownIn(o fyne.CanvasObject) []fyne.CanvasObject {
	if o == nil || !o.Visible() {
		return nil
	}
	all := []fyne.CanvasObject{o}
	var parts []fyne.CanvasObject
	switch o := o.(type) {
	case *fyne.Container:
		parts = o.Objects
	case fyne.Widget:
		parts = test.WidgetRenderer(o).Objects()
	}
	for _, p := range parts {
		all = append(all, shownIn(p)...)
	}
	return all
}

// drawings returns the drawings that are to be seen.
func (r *rig) drawings() (cs []*canvas.Canvas) {
	for _, o := range shownIn(r.w.Content()) {
		if c, ok := o.(*canvas.Canvas); ok {
			cs = append(cs, c)
		}
	}
	return cs
}

// anyOf returns one of the objects that can be tapped or typed into, or nil.
func anyOf(rng *rand.Rand, objects []fyne.CanvasObject) fyne.CanvasObject {
	var can []fyne.CanvasObject
	for _, o := range objects {
		if d, ok := o.(fyne.Disableable); ok && d.Disabled() || !o.Visible() {
			continue
		}
		switch o.(type) {
		case fyne.Tappable, fyne.Focusable:
			can = append(can, o)
		}
	}
	if len(can) == 0 {
		return nil
	}
	return can[rng.IntN(len(can))]
}

func (r *rig) pokeAt(rng *rand.Rand, o fyne.CanvasObject, texts []string) string {
	what := fmt.Sprintf("poking a %T", o)
	if b, ok := o.(*widget.Button); ok {
		what += " " + b.Text
	}
	if f, ok := o.(fyne.Focusable); ok {
		r.w.Canvas().Focus(f)
		if rng.IntN(2) == 0 {
			text := texts[rng.IntN(len(texts))]
			what += " with " + text
			for _, c := range text {
				f.TypedRune(c)
			}
			f.TypedKey(&fyne.KeyEvent{Name: []fyne.KeyName{fyne.KeyReturn, fyne.KeyEscape, fyne.KeyUp, fyne.KeyDown}[rng.IntN(4)]})
			return what
		}
	}
	if p, ok := o.(fyne.Tappable); ok {
		at := fyne.NewPos(o.Size().Width*rng.Float32(), o.Size().Height*rng.Float32())
		p.Tapped(&fyne.PointEvent{Position: at})
	}
	return what
}

// inspect holds the window to what must be true at any moment: the answer shown
// is that of the job, afresh, and memory does not grow without end. It returns
// the heap after the first look, to compare with.
func (r *rig) inspect(t *testing.T, last string, heap uint64) uint64 {
	t.Helper()
	fresh, shown := solver.Solve(r.s.Job(), r.s.Tables()), r.s.Answer()
	if !reflect.DeepEqual(fresh.Cards, shown.Cards) || !reflect.DeepEqual(fresh.Buildup, shown.Buildup) || !reflect.DeepEqual(fresh.Findings, shown.Findings) {
		t.Fatalf("after %s the answer is not that of the job", last)
	}
	// A window that is shown drops what no paint has asked for in a minute; this
	// one is never painted, and would keep every row and list it has ever had.
	r.w.Canvas().Capture()
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	// The history of thousands of acts: some 20 MiB for 10,000.
	const slack = 100 << 20
	t.Logf("heap %d MiB, %d goroutines", m.HeapAlloc>>20, runtime.NumGoroutine())
	if heap > 0 && m.HeapAlloc > heap+slack {
		t.Fatalf("after %s the heap is %d MiB, was %d", last, m.HeapAlloc>>20, heap>>20)
	}
	if heap == 0 {
		heap = m.HeapAlloc
	}
	return heap
}
