package assets

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"testing"
)

func TestIconPNG(t *testing.T) {
	img, err := png.Decode(bytes.NewReader(IconPNG()))
	if err != nil {
		t.Fatal(err)
	}
	if got := img.Bounds().Size(); got.X != 512 || got.Y != 512 {
		t.Errorf("icon is %v, want 512 by 512", got)
	}
	// The corner is clear and the middle of a tread is wood-coloured: more red
	// than green, more green than blue.
	if _, _, _, a := img.At(0, 0).RGBA(); a != 0 {
		t.Errorf("corner is not clear: alpha %d", a)
	}
	r, g, b, a := img.At(274, 236).RGBA()
	if a != 0xffff || r <= g || g <= b {
		t.Errorf("middle tread has colour %d %d %d %d", r, g, b, a)
	}
}

func TestIconSVGIsWellFormed(t *testing.T) {
	d := xml.NewDecoder(bytes.NewReader(IconSVG()))
	elements := 0
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := token.(xml.StartElement); ok {
			elements++
		}
	}
	if elements < 10 {
		t.Errorf("%d elements, want the ten or more that draw the mark", elements)
	}
}
