package panel_test

import (
	"testing"

	"risewright/view/drawing"
	"risewright/view/handle"
)

// BenchmarkDragToPixels is what one move of a dragged handle costs until both
// drawings are painted again: the solve, the lists and 1200 by 800 pixels. A
// 60 Hz frame is 16.7 ms.
func BenchmarkDragToPixels(b *testing.B) {
	for _, held := range []bool{false, true} {
		name := "free"
		if held {
			name = "held"
		}
		b.Run(name, func(b *testing.B) {
			r := newRig(b, demoJob(b, "tapering"))
			c, kind := r.b.Section, handle.FloorTop
			if held {
				c, kind = r.b.Plan, handle.Corner
			}
			_, px := r.at(c, kind, held)
			plan, section := frameOf(b, r.b.Plan), frameOf(b, r.b.Section)
			press(c, px)
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				pull(c, px.Add(drawing.Point{X: float64(i % 7), Y: float64(-(i % 11))}))
				plan(1200, 340)
				section(1200, 460)
			}
		})
	}
}
