package panel_test

import (
	"math"
	"os"
	"runtime"
	"testing"
	"time"

	"risewright/view/canvas"
	"risewright/view/drawing"
	"risewright/view/handle"
)

// TestMemoryIsFlatWhileDragging drags handles of both drawings, each for a
// second of 60 frames, lets go and takes the change back, again and again for
// RISEWRIGHT_DRAG, such as 1h; without it six times ten frames. Neither the heap
// nor the number of goroutines may grow with time.
func TestMemoryIsFlatWhileDragging(t *testing.T) {
	second := 10 // frames
	seconds, until := 6, time.Time{}
	if text := os.Getenv("RISEWRIGHT_DRAG"); text != "" {
		d, err := time.ParseDuration(text)
		if err != nil {
			t.Fatalf("RISEWRIGHT_DRAG is no time such as 1h: %v", err)
		}
		second, seconds, until = 60, math.MaxInt, time.Now().Add(d)
	}
	r := newRig(t, demoJob(t, "tapering"))
	grips := []struct {
		c    *canvas.Canvas
		kind handle.Kind
		held bool
	}{{r.b.Section, handle.FloorTop, false}, {r.b.Plan, handle.Corner, true}, {r.b.Section, handle.FloorBottom, false}}
	frames, moved, previews := 0, 0, 0
	drag := func(n int) {
		g := grips[n%len(grips)]
		_, px := r.at(g.c, g.kind, g.held)
		before := r.previews
		press(g.c, px)
		at := px
		for k := range second {
			turn := 2 * math.Pi * float64(k) / float64(second)
			at = px.Add(drawing.Point{X: 30 * math.Sin(turn), Y: 20 * math.Sin(2*turn)})
			pull(g.c, at)
			r.frame()
			frames++
		}
		at = px.Add(drawing.Point{X: 5, Y: -9})
		pull(g.c, at)
		r.frame()
		release(g.c, at)
		r.d.Leave() // of a held handle, the question whether to let go of it
		if r.s.Undo() {
			moved++
		}
		r.d.Answered()
		r.later = nil // searches beside the interface
		if r.previews > before {
			previews++
		}
	}
	heap := func() uint64 {
		var m runtime.MemStats
		runtime.GC()
		runtime.GC() // what finalisers held
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	for n := range 2 * len(grips) { // until what is kept between frames is there
		drag(n)
	}
	first, goroutines := heap(), runtime.NumGoroutine()
	const slack = 4 << 20
	n, most, looked := 0, first, time.Now()
	for ; n < seconds && (until.IsZero() || time.Now().Before(until)); n++ {
		drag(n)
		if n%50 == 49 || n == seconds-1 {
			now := heap()
			most = max(most, now)
			if now > first+slack {
				t.Fatalf("after %d s of frames the heap is %d KiB, was %d", n+1, now>>10, first>>10)
			}
			if got := runtime.NumGoroutine(); got > goroutines+2 {
				t.Fatalf("after %d s of frames there are %d goroutines, were %d", n+1, got, goroutines)
			}
			if time.Since(looked) > time.Minute {
				looked = time.Now()
				t.Logf("%d s of frames: heap %d KiB, %d goroutines", n+1, now>>10, runtime.NumGoroutine())
			}
		}
	}
	last := heap()
	t.Logf("%d frames, %d drags that moved: heap %d KiB at first, %d at most, %d at last; %d goroutines, then %d",
		frames, moved, first>>10, most>>10, last>>10, goroutines, runtime.NumGoroutine())
	if last > first+slack {
		t.Errorf("the heap is %d KiB, was %d", last>>10, first>>10)
	}
	if moved == 0 || previews < n {
		t.Errorf("%d of %d drags changed the job, %d were solved", moved, n, previews)
	}
}
