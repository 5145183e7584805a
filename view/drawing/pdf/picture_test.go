package pdf_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"risewright/view/drawing"
)

// twoTone is a picture that is dark at its left half and light at its right.
func twoTone(t *testing.T) *drawing.Picture {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 80, 40))
	for y := range 40 {
		for x := range 80 {
			c := color.RGBA{20, 20, 20, 255}
			if x >= 40 {
				c = color.RGBA{240, 240, 240, 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	p, err := drawing.NewPicture(m)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestPictureOnPaper has poppler draw the page: the picture must lie where it
// was put, its own way up, in its own proportions, and once in the file though
// shown twice.
func TestPictureOnPaper(t *testing.T) {
	p := []drawing.Page{{Name: "Picture", Width: 127, Height: 127}}
	pic := twoTone(t)
	p[0].Picture(drawing.Point{X: 20, Y: 20}, drawing.Point{X: 100, Y: 100}, pic) // 80 by 40 fits as y 40 to 80
	p[0].Picture(drawing.Point{X: 110, Y: 110}, drawing.Point{X: 120, Y: 120}, pic)
	data := write(t, p, meta())
	if again := write(t, p, meta()); !bytes.Equal(data, again) {
		t.Error("the same pages gave other bytes")
	}
	run(t, data, "qpdf", "--check", "FILE")
	if n := strings.Count(run(t, data, "pdfimages", "-list", "FILE"), "jpeg"); n != 2 {
		t.Errorf("poppler lists %d uses of a JPEG, want 2", n)
	}
	if n := bytes.Count(data, []byte("/DCTDecode")); n != 1 {
		t.Errorf("the file holds %d JPEGs, want 1", n)
	}
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		t.Skip("NOT CHECKED: pdftoppm is not installed")
	}
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "a.pdf"), data, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("pdftoppm", "-r", "25.4", "-png", "-singlefile", filepath.Join(dir, "a.pdf"), filepath.Join(dir, "a")).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v\n%s", err, out)
	}
	raw, err := os.ReadFile(filepath.Join(dir, "a.png"))
	if err != nil {
		t.Fatal(err)
	}
	m, err := png.Decode(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	grey := func(x, y int) uint32 { // mm from the bottom left
		r, _, _, _ := m.At(x, m.Bounds().Dy()-1-y).RGBA()
		return r >> 8
	}
	for _, c := range []struct {
		x, y       int
		low, above uint32
	}{{30, 60, 0, 60}, {90, 60, 200, 250}, {30, 30, 255, 255}, {30, 90, 255, 255}, {15, 60, 255, 255}} {
		if g := grey(c.x, c.y); g < c.low || g > c.above {
			t.Errorf("%d,%d mm has grey %d, want %d to %d", c.x, c.y, g, c.low, c.above)
		}
	}
}

func TestEmptyPictureIsRefused(t *testing.T) {
	if _, err := drawing.NewPicture(image.NewRGBA(image.Rectangle{})); err == nil {
		t.Error("a picture of no pixels was taken")
	}
}
