package handle_test

import (
	"testing"

	"risewright/view/drawing"
	"risewright/view/handle"
)

// BenchmarkHandles finds all handles of both drawings, with what holds each,
// as once for every answer.
func BenchmarkHandles(b *testing.B) {
	a := solve(b, demo(b, "tapering"))
	b.ReportAllocs()
	for b.Loop() {
		all(a, handle.Options{})
	}
}

// BenchmarkDrag makes the edit of one frame of a drag of a free corner, which
// tries its move out, and of a held one, which does not.
func BenchmarkDrag(b *testing.B) {
	id := handle.ID{Kind: handle.Corner, Step: 6, Corner: 2}
	b.Run("free", func(b *testing.B) {
		job := unread(b, 14)
		a := solve(b, job)
		for b.Loop() {
			if _, err := handle.Drag(job, a, id, drawing.Point{}, drawing.Point{X: 21, Y: 13}, handle.Options{}); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("held", func(b *testing.B) {
		job := demo(b, "tapering")
		a := solve(b, job)
		for b.Loop() {
			if _, err := handle.Drag(job, a, id, drawing.Point{}, drawing.Point{X: 21, Y: 13}, handle.Options{}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
