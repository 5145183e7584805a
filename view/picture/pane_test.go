package picture_test

import (
	"context"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/view/picture"
	"risewright/view/scene"
)

// TestLampBehindPane: a lamp behind a window's glass lights the floor by the law
// of the inverse square and both cosines; behind a wall it gives nothing.
func TestLampBehindPane(t *testing.T) {
	light := func(pane bool) float64 {
		s := &scene.Scene{Materials: []scene.Material{{}, {Pane: pane}}}
		square(s, "floor", 0, 0, mgl64.Vec3{-500, -500, 0}, mgl64.Vec3{1000, 0, 0}, mgl64.Vec3{0, 1000, 0})
		square(s, "glass", 1, 0, mgl64.Vec3{-2000, 1000, -10}, mgl64.Vec3{4000, 0, 0}, mgl64.Vec3{0, 0, 4000})
		s.Lamps = append(s.Lamps, scene.Lamp{Corner: mgl64.Vec3{-50, 8000, 2950}, U: mgl64.Vec3{100, 0, 0}, V: mgl64.Vec3{0, 0, 100}, Lumens: 1e5 * math.Pi, Level: 1, Tint: scene.Colour{1, 1, 1}})
		w, err := picture.Prepare(context.Background(), s, picture.Fine, nil)
		if err != nil {
			t.Fatal(err)
		}
		return w.Illuminance(mgl64.Vec3{0, 0, 1}, mgl64.Vec3{0, 0, -1})
	}
	d2 := 8000.0*8000 + 3000*3000
	want := 1e5 * 3000 / math.Sqrt(d2) * 8000 / math.Sqrt(d2) / (d2 * 1e-6)
	if got := light(true); math.Abs(got-want) > 0.01*want {
		t.Errorf("through the pane come %.2f lx, want %.2f", got, want)
	}
	if got := light(false); got != 0 {
		t.Errorf("through the wall come %.2f lx", got)
	}
}
