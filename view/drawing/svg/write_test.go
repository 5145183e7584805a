package svg_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"image"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"risewright/view/drawing"
	"risewright/view/drawing/internal/specimen"
	"risewright/view/drawing/svg"
)

var update = flag.Bool("update", false, "rewrite testdata")

func sheet() *drawing.Page {
	p := &drawing.Page{Name: "Specimen", Width: 210, Height: 297}
	specimen.Sheet(&p.List)
	return p
}

func write(t *testing.T, p *drawing.Page, palette drawing.Palette, title string) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := svg.Write(&b, p, palette, title); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// parse reads the whole document and returns how often each element occurs.
func parse(t *testing.T, data []byte) map[string]int {
	t.Helper()
	count := map[string]int{}
	ids := map[string]bool{}
	var uses []string
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("not XML: %v", err)
		}
		if e, ok := tok.(xml.StartElement); ok {
			count[e.Name.Local]++
			for _, a := range e.Attr {
				switch a.Name.Local {
				case "id":
					ids[a.Value] = true
				case "href":
					uses = append(uses, strings.TrimPrefix(a.Value, "#"))
				}
			}
		}
	}
	for _, u := range uses {
		if !ids[u] {
			t.Errorf("use of %q, which is not defined", u)
		}
	}
	return count
}

func TestSpecimenIsXMLWithEveryLetterDefined(t *testing.T) {
	count := parse(t, write(t, sheet(), drawing.Light(), `Stair <&> "5⁄16″"`))
	if count["svg"] != 1 || count["title"] != 1 || count["use"] < 200 || count["path"] < 100 || count["circle"] < 3 {
		t.Errorf("unexpected elements %v", count)
	}
}

func TestSamePageGivesSameBytes(t *testing.T) {
	first := write(t, sheet(), drawing.Print(), "x")
	for range 20 {
		if !bytes.Equal(first, write(t, sheet(), drawing.Print(), "x")) {
			t.Fatal("two writings differ")
		}
	}
}

// TestGolden holds one small document to the letter.
func TestGolden(t *testing.T) {
	p := &drawing.Page{Width: 60, Height: 40}
	line := drawing.Stroke{Ink: drawing.Line, Width: 0.5}
	p.Polygon([]drawing.Point{{X: 10, Y: 10}, {X: 50, Y: 10}, {X: 50, Y: 30}}, drawing.Fill{Ink: drawing.Wood}, line)
	p.Line(drawing.Point{X: 0, Y: 0}, drawing.Point{X: 60, Y: 40}, drawing.Hidden(drawing.Soft, 0.25))
	p.Circle(drawing.Point{X: 30, Y: 20}, 5, drawing.Fill{}, line)
	p.Arc(drawing.Point{X: 30, Y: 20}, 10, 0, 1.5707963267948966, line)
	p.Text(drawing.Text{At: drawing.Point{X: 20, Y: 20}, Size: 4, Angle: 1.5707963267948966, String: "I"})
	got := write(t, p, drawing.Print(), "")
	name := filepath.Join("testdata", "small.svg")
	if *update {
		if err := os.WriteFile(name, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s(-update rewrites it)", got, want)
	}
}

// TestPlaceOnPaper draws shapes whose place is known and asks an outside
// renderer where they came out.
func TestPlaceOnPaper(t *testing.T) {
	if _, err := exec.LookPath("rsvg-convert"); err != nil {
		t.Skip("NOT CHECKED: rsvg-convert is not installed, so the SVG was not drawn by it")
	}
	p := &drawing.Page{Width: 127, Height: 127}
	p.Polygon([]drawing.Point{{X: 10, Y: 5}, {X: 30, Y: 5}, {X: 30, Y: 15}, {X: 10, Y: 15}}, drawing.Fill{Ink: drawing.Line}, drawing.Stroke{})
	// A quarter circle, anticlockwise from east to north.
	p.Arc(drawing.Point{X: 60, Y: 60}, 40, 0, 1.5707963267948966, drawing.Stroke{Ink: drawing.Line, Width: 3})
	// A black square ■ stands on the baseline, to the right of its place.
	p.Text(drawing.Text{At: drawing.Point{X: 20, Y: 80}, Size: 20, String: "■"})
	// A picture, dark above and light below, fits its box from 4 to 24 by 100 to 120.
	tone := image.NewGray(image.Rect(0, 0, 20, 20))
	for i := range tone.Pix {
		tone.Pix[i] = uint8(250 * (i / 200))
	}
	pic, err := drawing.NewPicture(tone)
	if err != nil {
		t.Fatal(err)
	}
	p.Picture(drawing.Point{X: 4, Y: 100}, drawing.Point{X: 24, Y: 120}, pic)
	file := filepath.Join(t.TempDir(), "test.svg")
	if err := os.WriteFile(file, write(t, p, drawing.Print(), ""), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("rsvg-convert", "--dpi-x", "25.4", "--dpi-y", "25.4", file).Output()
	if err != nil {
		t.Fatal(err)
	}
	gray := decode(t, out)
	for _, c := range []struct {
		x, y  int // mm, y up
		black bool
		what  string
	}{
		{11, 6, true, "inside the block"}, {29, 14, true, "inside the block"},
		{9, 6, false, "left of the block"}, {20, 16, false, "above the block"},
		{99, 60, true, "east end of the arc"}, {60, 99, true, "north end of the arc"},
		{88, 88, true, "middle of the arc"}, {71, 71, false, "where the wrong sweep would be"},
		{31, 31, false, "where the long way round would be"},
		{14, 116, true, "upper half of the picture"}, {14, 104, false, "lower half of the picture"},
		{29, 85, true, "inside the lettered square"}, {18, 85, false, "left of the lettered square"},
	} {
		if got := gray(c.x, c.y) < 128; got != c.black {
			t.Errorf("%s, at %d,%d: black %v, want %v", c.what, c.x, c.y, got, c.black)
		}
	}
}

func TestWhatCannotBeWrittenIsRefused(t *testing.T) {
	zero := 0.0
	bad := drawing.Page{Name: "Card 3", Width: 10, Height: 10}
	bad.Circle(drawing.Point{}, zero/zero, drawing.Fill{}, drawing.Stroke{Ink: drawing.Line})
	for _, c := range []struct {
		page drawing.Page
		want string
	}{
		{drawing.Page{Name: "empty"}, `page "empty" is 0 by 0 mm`},
		{bad, `page "Card 3": drawing: item 0 (circle`},
	} {
		var b bytes.Buffer
		err := svg.Write(&b, &c.page, drawing.Print(), "")
		if err == nil || !strings.Contains(err.Error(), c.want) || b.Len() != 0 {
			t.Errorf("error %v and %d bytes, want an error with %q and none", err, b.Len(), c.want)
		}
	}
}

func TestStrangeTextStaysXML(t *testing.T) {
	p := &drawing.Page{Width: 100, Height: 100}
	p.Text(drawing.Text{String: "<script>&\"'\x00\x01\xff😀\n\t⅝"})
	data := write(t, p, drawing.Print(), "\x02<title>")
	if n := parse(t, data); n["script"] != 0 {
		t.Error("text became markup")
	}
}

// TestLook writes the specimen for eyes when RISEWRIGHT_LOOK names a folder.
func TestLook(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write an SVG for eyes")
	}
	if err := os.WriteFile(filepath.Join(dir, "specimen.svg"), write(t, sheet(), drawing.Light(), "Specimen"), 0o644); err != nil {
		t.Fatal(err)
	}
}
