package svg_test

import (
	"bytes"
	"image/png"
	"testing"
)

// decode reads a PNG of a square page drawn at one dot a millimetre and
// returns its grey value by millimetres from the bottom left.
func decode(t *testing.T, data []byte) func(x, y int) uint32 {
	t.Helper()
	im, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	b := im.Bounds()
	if b.Dx() != 127 || b.Dy() != 127 {
		t.Fatalf("picture is %v, want one dot a millimetre of 127 by 127", b)
	}
	return func(x, y int) uint32 {
		r, g, bl, _ := im.At(x, b.Dy()-1-y).RGBA()
		return (r + g + bl) / 3 >> 8
	}
}
