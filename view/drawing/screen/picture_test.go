package screen_test

import (
	"image"
	"testing"

	"risewright/view/drawing"
)

// TestPictureOnScreen: a picture lies where it was put, its own way up.
func TestPictureOnScreen(t *testing.T) {
	tone := image.NewGray(image.Rect(0, 0, 20, 20))
	for i := range tone.Pix {
		tone.Pix[i] = uint8(250 * (i / 200)) // dark above, light below
	}
	p, err := drawing.NewPicture(tone)
	if err != nil {
		t.Fatal(err)
	}
	var l drawing.List
	l.Picture(drawing.Point{X: 10, Y: 20}, drawing.Point{X: 50, Y: 60}, p)
	m := draw(100, 100, &l, plain(100), false)
	for _, c := range []struct {
		x, y int // pixels, y down
		dark bool
	}{{30, 45, true}, {30, 75, false}, {5, 45, false}, {30, 35, false}, {55, 45, false}} {
		if got := m.RGBAAt(c.x, c.y).R < 128; got != c.dark {
			t.Errorf("pixel %d,%d is dark: %v, want %v", c.x, c.y, got, c.dark)
		}
	}
}
