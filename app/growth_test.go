package main_test

import (
	"context"
	"fmt"
	"image"
	"os"
	"runtime"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"risewright/app/demo"
	"risewright/app/papers"
	"risewright/app/session"
	"risewright/app/store"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/lux"
	"risewright/solver/sensing"
	"risewright/solver/walk"
	"risewright/view/drawing"
	"risewright/view/drawing/screen"
	"risewright/view/handle"
	"risewright/view/lights"
	"risewright/view/panel"
	"risewright/view/picture"
	"risewright/view/plan"
	"risewright/view/scene"
	"risewright/view/section"
	"risewright/view/theme"
)

// stage is a part of the work on a job whose cost is followed as flights grow.
type stage struct {
	name string // one word, as benchmarks have it
	says string // as the table and the picture have it
	most int    // steps beyond which it is not tried; 0: none
	// make returns what is timed, on a flight of so many steps.
	make func(tb testing.TB, l *long) func()
}

// long is a flight of so many steps and what follows from it, each made once.
type long struct {
	steps  int
	job    model.Job
	tables model.Tables
	answer *solver.Answer
	work   func() *solver.Work
	sense  func() *sensing.Result
}

func newLong(tb testing.TB, steps int) *long {
	tb.Helper()
	l := &long{steps: steps}
	var err error
	if l.tables, err = tables.Published(); err != nil {
		tb.Fatal(err)
	}
	if l.job, err = demo.Long(steps); err != nil {
		tb.Fatal(err)
	}
	l.answer = solver.Solve(l.job, l.tables)
	l.work = sync.OnceValue(func() *solver.Work { return solver.Plan(l.answer, l.tables) })
	l.sense = sync.OnceValue(func() *sensing.Result {
		s := solver.Sense(l.answer, l.tables, nil)
		return &s
	})
	return l
}

// read returns an edit that takes a reading in the middle of the flight again,
// another one each time.
func (l *long) read(n int) model.Edit {
	s := &l.job.Flight.Steps[l.steps/2]
	r := s.Readings[0]
	r.Value += 0.5 * float64(1+n%3)
	r.Typed = fmt.Sprint(r.Value)
	return model.SetReading{Step: s.ID, Reading: r}
}

func must(tb testing.TB, err error) {
	tb.Helper()
	if err != nil {
		tb.Fatal(err)
	}
}

func stages() []stage {
	return []stage{
		{"open", "file read and written", 0, func(tb testing.TB, l *long) func() {
			return func() {
				text, err := model.Encode(l.job)
				must(tb, err)
				_, err = model.Decode(text)
				must(tb, err)
			}
		}},
		{"solve", "solve after a drag", 0, func(tb testing.TB, l *long) func() {
			return func() { solver.Solve(l.job, l.tables) }
		}},
		{"draw", "plan and section painted", 0, func(tb testing.TB, l *long) func() {
			o := handle.Options{Selected: l.steps / 2, Dimensions: true, Findings: true, Handles: true, Uncertainty: true, Ghost: true, Format: l.job.Format()}
			vs, vp := section.Fit(l.answer, o, 1200, 400, drawing.PaperScale(1)), plan.Fit(l.answer, o, 1200, 400, drawing.PaperScale(1))
			var list drawing.List
			var paint screen.Renderer
			img, inks := image.NewRGBA(image.Rect(0, 0, 1200, 400)), drawing.Light()
			return func() {
				list.Reset()
				o.Scale = vp.Scale / vp.Paper
				plan.Draw(&list, l.answer, o)
				paint.Draw(img, &list, vp, inks)
				list.Reset()
				o.Scale = vs.Scale / vs.Paper
				section.Draw(&list, l.answer, o)
				paint.Draw(img, &list, vs, inks)
			}
		}},
		{"change", "change kept and solved", 0, func(tb testing.TB, l *long) func() {
			clock := func() time.Time { return time.Date(2026, 11, 9, 12, 0, 0, 0, time.UTC) }
			s := session.Home{Tables: l.tables, Clock: clock, Store: store.New(store.Disk{}, tb.TempDir(), clock)}.New(l.job)
			tb.Cleanup(s.Close)
			n := 0
			return func() {
				must(tb, s.Do(l.read(n)))
				must(tb, s.Flush())
				n++
			}
		}},
		{"window", "change seen in the window", 0, window},
		{"order", "order and buying", 0, func(tb testing.TB, l *long) func() {
			return func() { solver.Plan(l.answer, l.tables) }
		}},
		{"sense", "what sensors see", 0, func(tb testing.TB, l *long) func() {
			return func() { solver.Sense(l.answer, l.tables, nil) }
		}},
		{"simulate", "ten people walk", walk.MaxBars, func(tb testing.TB, l *long) func() {
			setup := solver.WalkOn(l.answer, l.tables, l.sense())
			var people []walk.Walker
			for i := range 10 {
				people = append(people, walk.Walker{Start: 60 * float64(i), From: 0, Legs: []walk.Leg{{To: float64(l.steps), Speed: 1.5}}})
			}
			return func() {
				sim, err := walk.NewSim(setup, 1)
				must(tb, err)
				if got := sim.Run(people); got.Walks != len(people) {
					tb.Fatalf("%d walked", got.Walks)
				}
			}
		}},
		{"lights", "light map", 0, func(tb testing.TB, l *long) func() {
			full := model.Scene{Level: 1}
			return func() {
				p := lights.Problem(l.answer, func(step int) float64 { return lights.LumensOf(l.answer, step, lights.InScene(l.answer, full, step)) })
				lux.Solve(p, lux.Settings{})
			}
		}},
		{"picture", "picture, first look", 100, func(tb testing.TB, l *long) func() {
			return func() {
				s, err := scene.Make(l.answer, nil, l.tables, scene.Options{Time: scene.Evening, Look: l.job.Look})
				must(tb, err)
				_, err = picture.Prepare(context.Background(), s, picture.Draft, nil)
				must(tb, err)
			}
		}},
		{"papers", "all papers, no pictures", 300, func(tb testing.TB, l *long) func() {
			m := papers.MetaOf(&l.job, "Risewright", "")
			m.NoShots = "left out"
			w, s := l.work(), l.sense()
			return func() {
				_, err := papers.Files(l.answer, w, s, l.tables, m)
				must(tb, err)
			}
		}},
	}
}

// window makes a change in the panels and draws plan and section, as between
// Enter and pixels, without the painter of the rest of the window.
func window(tb testing.TB, l *long) func() {
	test.NewTempApp(tb)
	fyne.CurrentApp().Settings().SetTheme(theme.New(theme.Light))
	d := panel.NewDesk(session.New(l.tables, l.job, func() time.Time { return time.Date(2026, 11, 9, 12, 0, 0, 0, time.UTC) }))
	d.Later = func(func(), func()) {} // what is done beside the interface
	d.Complain = func(err error) { tb.Error(err) }
	b := panel.NewBench(d)
	w := test.NewTempWindow(tb, b.Object())
	d.Canvas = w.Canvas()
	w.Resize(fyne.NewSize(1280, 800))
	var frames []*fcanvas.Raster
	for _, c := range []fyne.Widget{b.Plan, b.Section} {
		for _, o := range test.WidgetRenderer(c).Objects() {
			if r, ok := o.(*fcanvas.Raster); ok {
				frames = append(frames, r)
			}
		}
	}
	if len(frames) != 2 {
		tb.Fatalf("%d drawings", len(frames))
	}
	n := 0
	return func() {
		must(tb, d.Do(l.read(n)))
		for _, f := range frames {
			f.Generator(700, 400)
		}
		n++
	}
}

// growthSteps are the flights that are tried: all with RISEWRIGHT_FULL.
func growthSteps() []int {
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		return []int{14, 50, 100, 300, 1000}
	}
	return []int{14}
}

// BenchmarkGrowth times each stage of the work on flights that grow. With
// RISEWRIGHT_FULL=1 they grow to 1,000 steps.
func BenchmarkGrowth(b *testing.B) {
	made := map[int]*long{}
	for _, s := range stages() {
		for _, n := range growthSteps() {
			if s.most > 0 && n > s.most {
				continue
			}
			b.Run(fmt.Sprintf("%s/%d", s.name, n), func(b *testing.B) {
				if testing.Short() && (s.name == "picture" || s.name == "papers") {
					b.Skip("it takes seconds; the tests of these do the same")
				}
				if made[n] == nil {
					made[n] = newLong(b, n)
				}
				f := s.make(b, made[n])
				runtime.GC() // what other stages left
				for b.Loop() {
					f()
				}
			})
		}
	}
}

// TestThousandEdits makes a thousand edits, a hundred without RISEWRIGHT_FULL,
// takes all of them back and makes them again: the job ends as it was each time.
func TestThousandEdits(t *testing.T) {
	edits := 100
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		edits = 1000
	}
	l := newLong(t, 14)
	clock := func() time.Time { return time.Date(2026, 11, 9, 12, 0, 0, 0, time.UTC) }
	s := session.Home{Tables: l.tables, Clock: clock, Store: store.New(store.Disk{}, t.TempDir(), clock)}.New(l.job)
	defer s.Close()
	text := func() string {
		data, err := model.Encode(s.Job())
		must(t, err)
		return string(data)
	}
	first := text()
	for n := range edits {
		must(t, s.Do(l.read(n)))
	}
	must(t, s.Flush())
	last := text()
	back := 0
	for s.Undo() {
		back++
	}
	if got := text(); back != edits || got != first {
		t.Errorf("%d taken back; as at first: %v", back, got == first)
	}
	for s.Redo() {
		back--
	}
	if got := text(); back != 0 || got != last {
		t.Errorf("%d not made again; as at last: %v", back, got == last)
	}
}
