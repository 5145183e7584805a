package screen

import (
	"image"
	"math"
	"testing"

	"risewright/view/drawing"
)

// TestLettersKeptAreBounded turns a label at every frame, as a long drag of a
// skewed tread does, and watches what the renderer keeps.
func TestLettersKeptAreBounded(t *testing.T) {
	dst := image.NewRGBA(image.Rect(0, 0, 300, 300))
	var r Renderer
	var l drawing.List
	v := drawing.Viewport{Scale: 1, Origin: drawing.Point{X: 150, Y: 150}, Paper: 4}
	const limit = 200_000 // a small store, so that it fills at once
	r.letters.limit = limit
	largest, emptied := 0, false
	for i := range 60 {
		l.Reset()
		l.Text(drawing.Text{Size: 12, Angle: float64(i) * 0.01, Halo: true, String: "0123456789″"})
		before := len(r.letters.slab)
		r.Draw(dst, &l, v, drawing.Light())
		largest = max(largest, len(r.letters.slab))
		emptied = emptied || len(r.letters.slab) < before
	}
	if !emptied {
		t.Fatal("the store never filled, so this test shows nothing")
	}
	// One more frame's letters may be added to a store that is just short of
	// full: 22 glyphs of at most 64 by 64 pixels.
	if most := limit + 22*64*64; largest > most {
		t.Errorf("letters took %d bytes, more than %d", largest, most)
	}
}

// TestBlendReachesBothEnds holds that no coverage leaves a pixel alone and full
// coverage replaces it, for every value, and that the steps between rise.
func TestBlendReachesBothEnds(t *testing.T) {
	for d := range 256 {
		for _, c := range []uint32{0, 1, 127, 128, 254, 255} {
			colour := ink{c, c, c, 255}
			pix := []uint8{uint8(d), uint8(d), uint8(d), 255}
			colour.blend(pix, 0)
			if int(pix[0]) != d {
				t.Fatalf("no coverage of %d by %d gives %d", d, c, pix[0])
			}
			last := math.Abs(float64(d) - float64(c))
			for a := range uint32(256) {
				pix[0] = uint8(d)
				colour.blend(pix, a)
				left := math.Abs(float64(pix[0]) - float64(c))
				if left > last {
					t.Fatalf("coverage %d of %d by %d gives %d: a step back", a, d, c, pix[0])
				}
				last = left
			}
			if uint32(pix[0]) != c || pix[3] != 255 {
				t.Fatalf("full coverage of %d by %d gives %d", d, c, pix[0])
			}
		}
	}
}
