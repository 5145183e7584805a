package panel_test

import (
	"fmt"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"risewright/model"
	"risewright/solver"
	"risewright/view/panel"
)

// BenchmarkTypingByTheLights is twenty changes in quick succession, each as a
// keystroke every 50 ms makes one, with the Lights tab open and the light map on:
// what the slowest change takes until it is on screen, how long it takes from the
// last one until light map and voltages are those of the job, and how much is
// worked on beside the window meanwhile, wanted or not. On one core
// (-test.cpu 1) the interface waits for what is in its way.
func BenchmarkTypingByTheLights(b *testing.B) {
	for _, steps := range []int{14, 50} {
		b.Run(fmt.Sprint(steps), func(b *testing.B) {
			job := smallJob(b, steps)
			r := newRig(b, job)
			tables := r.s.Tables()
			job.Lighting = model.FirstLighting(job, tables.Lights)
			if err := r.s.Do(model.Replace{With: job, Name: "lights"}); err != nil {
				b.Fatal(err)
			}
			var turn sync.Mutex
			var working, worked atomic.Int64
			r.d.Later = func(work, then func()) {
				working.Add(1)
				go func() {
					from := time.Now()
					work()
					worked.Add(int64(time.Since(from)))
					turn.Lock()
					defer turn.Unlock()
					then()
					working.Add(-1)
				}()
			}
			r.b.ShowTab(5)
			turn.Lock()
			r.d.Answered()
			r.d.ShowLightMap(true)
			turn.Unlock()
			settle := func() {
				for working.Load() > 0 {
					time.Sleep(time.Millisecond)
				}
			}
			settle()
			var slowest []float64
			var last, busy time.Duration
			var answer *solver.Answer
			for b.Loop() {
				worked.Store(0)
				longest := time.Duration(0)
				for i := range 20 {
					due := time.Now()
					turn.Lock()
					l := r.s.Job().Lighting
					l.Lip = model.Length(10 + i%5)
					if err := r.d.Do(model.SetLighting{Lighting: l}); err != nil {
						b.Fatal(err)
					}
					r.frame()
					answer = r.s.Answer()
					turn.Unlock()
					longest = max(longest, time.Since(due))
					time.Sleep(50*time.Millisecond - min(50*time.Millisecond, time.Since(due)))
				}
				slowest = append(slowest, float64(longest.Microseconds())/1000)
				from := time.Now()
				settle()
				last += time.Since(from)
				busy += time.Duration(worked.Load())
				if !panel.LightKnown(r.d, answer) {
					b.Fatal("light map and voltages are not those of the job")
				}
			}
			slices.Sort(slowest)
			b.ReportMetric(slowest[len(slowest)/2], "ms/slowest-change")
			b.ReportMetric(float64(last.Milliseconds())/float64(b.N), "ms-until-known")
			b.ReportMetric(float64(busy.Milliseconds())/float64(b.N), "ms-beside")
		})
	}
}
