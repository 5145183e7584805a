package still_test

import (
	"context"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/view/scene"
	"risewright/view/still"
)

// window is a wall that is all glass, of 100 cd/m² as seen from inside, with a
// small lamp of 1,000 cd far behind it, square to the glass.
func window(pane bool) (*scene.Scene, float64) {
	const high, far = 1000.0, 9000.0
	var b builder
	glass := b.material(scene.Material{Pane: pane})
	// The wall stands at y = 2,000; its front looks to the room, towards -y.
	corner, u, v := v3(-1000, 2000, 0), v3(2000, 0, 0), v3(0, 0, 2000)
	b.Lamps = append(b.Lamps, scene.Lamp{Corner: corner, U: u, V: v, Lumens: 100 * math.Pi * 4, Level: 1, Tint: scene.Colour{1, 1, 1}})
	b.quad(corner, u, v, glass, 1)
	b.lamp(v3(-50, far, high-50), v3(100, 0, 0), v3(0, 0, 100), 1000*math.Pi, false)
	return &b.Scene, far
}

// A lamp behind a pane lights the room by the law of the inverse square and the
// cosine, as if the pane were not there; behind a wall it gives nothing.
func TestLampBehindPane(t *testing.T) {
	for _, c := range []struct{ at, n mgl64.Vec3 }{
		{v3(0, 0, 1000), v3(0, 1, 0)},
		{v3(300, 500, 200), v3(0, 0, 1)},
	} {
		read := func(pane bool) float64 {
			s, _ := window(pane)
			s.Lamps[0].Level = 0
			return still.NewMeter(s, 0).Read(c.at, c.n, 1<<13, 1).Lux
		}
		_, far := window(true)
		way := v3(0, far, 1000).Sub(c.at)
		d := way.Len()
		// The lamp looks at the glass squarely, so it gives less aslant.
		want := 1000 * way.Dot(c.n) / d * way[1] / d / (d * d * 1e-6)
		if got := read(true); math.Abs(got-want) > 0.003*want {
			t.Errorf("through the pane come %.3f lx, want %.3f", got, want)
		}
		if got := read(false); got != 0 {
			t.Errorf("through the wall come %.3f lx, want none", got)
		}
	}
}

// What is seen in a pane is its own light, whatever stands behind it.
func TestPaneIsSeen(t *testing.T) {
	s, _ := window(true)
	f, err := still.Render(context.Background(), s, scene.Camera{Eye: v3(0, 0, 1000), At: v3(0, 2000, 1000), Up: v3(0, 0, 1), Angle: 0.3}, still.Options{W: 8, H: 5, Samples: 4}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for y := range f.H {
		for x := range f.W {
			if got := f.At(x, y).Luminance(); math.Abs(got-100) > 1e-3 {
				t.Fatalf("pixel %d, %d shows %.3f cd/m², want the pane's 100", x, y, got)
			}
		}
	}
}
