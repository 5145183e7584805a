//go:build unix

package session_test

import (
	"fmt"
	"testing"

	"risewright/app/tables"
	"risewright/model"
)

// BenchmarkEdit makes a change, journals and solves it, and waits until it is on
// the disk: what must be done before the next change is taken. "unkept" is the
// same without a journal, for what keeping costs.
func BenchmarkEdit(b *testing.B) {
	for _, steps := range []int{14, 1000} {
		base, err := tables.NewJob(model.Metric, nil)
		must(b, err)
		base.Name = "Long"
		job := model.Sketch(model.SketchSpec{Risers: steps, Width: 900, Rise: 190, Going: 250, Base: base})
		for _, kept := range []bool{true, false} {
			h := home(b)
			name := fmt.Sprintf("steps=%d/kept", steps)
			if !kept {
				h.Store = nil
				name = fmt.Sprintf("steps=%d/unkept", steps)
			}
			b.Run(name, func(b *testing.B) {
				s := h.New(job)
				defer s.Close()
				n := 0
				for b.Loop() {
					n++
					e := model.DetailsOf(s.Job())
					e.Name = fmt.Sprint("Long ", n)
					must(b, s.Do(e))
					must(b, s.Flush())
				}
			})
		}
	}
}
