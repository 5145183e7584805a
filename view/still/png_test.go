package still_test

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"risewright/view/still"
)

func speckled() *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, 31, 17))
	r := rand.New(rand.NewPCG(1, 1))
	for y := range 17 {
		for x := range 31 {
			img.SetNRGBA(x, y, color.NRGBA{uint8(r.UintN(256)), uint8(r.UintN(256)), uint8(r.UintN(256)), 255})
		}
	}
	return img
}

// The picture comes back as it was, and the texts stand in chunks whose checks
// are right, before the picture's data.
func TestPNGCarriesFacts(t *testing.T) {
	img := speckled()
	facts := []still.Fact{{Key: "Title", Text: "Evening, Ännchen’s stair \u2192 north"}, {Key: "Creation Time", Text: "2026-03-14"}}
	var b bytes.Buffer
	if err := still.WritePNG(&b, img, facts); err != nil {
		t.Fatal(err)
	}
	back, err := png.Decode(bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	for y := range 17 {
		for x := range 31 {
			if color.NRGBAModel.Convert(back.At(x, y)) != img.NRGBAAt(x, y) {
				t.Fatalf("pixel %d, %d: %v, want %v", x, y, back.At(x, y), img.NRGBAAt(x, y))
			}
		}
	}
	var order []string
	for data := b.Bytes()[8:]; len(data) > 0; {
		n := binary.BigEndian.Uint32(data)
		name, body := string(data[4:8]), data[8:8+n]
		if got := binary.BigEndian.Uint32(data[8+n:]); got != crc32.ChecksumIEEE(data[4:8+n]) {
			t.Errorf("chunk %s: check %x", name, got)
		}
		order = append(order, name)
		if i := slices.Index([]string{"iTXt", "tEXt"}, name); i >= 0 {
			f := facts[0]
			want := f.Key + []string{"\x00\x00\x00\x00\x00", "\x00"}[i] + f.Text
			if facts = facts[1:]; string(body) != want {
				t.Errorf("text %q, want %q", body, want)
			}
		}
		data = data[12+n:]
	}
	if got := strings.Join(order, " "); got != "IHDR sRGB iTXt tEXt IDAT IEND" {
		t.Errorf("chunks %s", got)
	}
}

// ImageMagick, where it is installed, reads the same texts: a reader that is not
// ours.
func TestOtherReaderFindsFacts(t *testing.T) {
	identify, err := exec.LookPath("identify")
	if err != nil {
		t.Skip("ImageMagick is not installed")
	}
	path := filepath.Join(t.TempDir(), "a.png")
	var b bytes.Buffer
	if err := still.WritePNG(&b, speckled(), []still.Fact{{Key: "Title", Text: "Stair north"}, {Key: "Creation Time", Text: "2026-03-14"}}); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(identify, "-verbose", path).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for _, want := range []string{"Title: Stair north", "Creation Time: 2026-03-14", "31x17"} {
		if !bytes.Contains(out, []byte(want)) {
			t.Errorf("it does not say %q:\n%s", want, out)
		}
	}
}

func TestPNGRefusesNames(t *testing.T) {
	for _, key := range []string{"", " a", "a  b", "\u2192", strings.Repeat("k", 80), "a\nb"} {
		if err := still.WritePNG(&bytes.Buffer{}, speckled(), []still.Fact{{Key: key}}); err == nil {
			t.Errorf("a text named %q is let in", key)
		}
	}
}
