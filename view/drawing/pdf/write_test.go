package pdf_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"risewright/view/drawing"
	"risewright/view/drawing/internal/specimen"
	"risewright/view/drawing/pdf"
)

var made = time.Date(2031, 5, 4, 3, 2, 1, 0, time.UTC)

func meta() pdf.Meta {
	return pdf.Meta{Title: "Specimen ⅝", Subject: "Every kind of item", Creator: "test", Date: made}
}

// pages returns a specimen sheet and a wide sheet with the stair at 1:20.
func pages() []drawing.Page {
	p := []drawing.Page{{Name: "Specimen", Width: 210, Height: 297}, {Name: "Stair, ½ page", Width: 297, Height: 250}}
	specimen.Sheet(&p[0].List)
	var stair drawing.List
	specimen.Stair(&stair, 3)
	p[1].Append(&stair, drawing.Scale(0.05, 0.05).Then(drawing.Shift(30, 20)))
	return p
}

func write(t *testing.T, pages []drawing.Page, m pdf.Meta) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.Write(&b, pages, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// run runs an outside program on the file, or skips the test loudly.
func run(t *testing.T, data []byte, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Skipf("NOT CHECKED: %s is not installed, so the PDF was not checked by it", name)
	}
	file := filepath.Join(t.TempDir(), "test.pdf")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	for i, a := range args {
		if a == "FILE" {
			args[i] = file
		}
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

func TestSamePagesGiveSameBytes(t *testing.T) {
	first := write(t, pages(), meta())
	// The library keeps letters in maps; what hangs on their order shows up
	// within a few writings.
	for i := range 4 {
		if again := write(t, pages(), meta()); !bytes.Equal(first, again) {
			t.Fatalf("writing %d differs from the first", i+2)
		}
	}
	later := meta()
	later.Date = made.Add(time.Hour)
	if bytes.Equal(first, write(t, pages(), later)) {
		t.Error("the date given does not reach the file")
	}
}

func TestFilePassesQpdf(t *testing.T) {
	data := write(t, pages(), meta())
	out := run(t, data, "qpdf", "--check", "FILE")
	if strings.Contains(strings.ToLower(out), "warning") || !strings.Contains(out, "No syntax or stream encoding errors") {
		t.Errorf("qpdf --check says:\n%s", out)
	}
}

func TestFileAsksForFullSize(t *testing.T) {
	out := run(t, write(t, pages(), meta()), "qpdf", "--qdf", "--object-streams=disable", "FILE", "-")
	i := strings.Index(out, "/ViewerPreferences")
	if i < 0 || !strings.Contains(out[i:i+80], "/PrintScaling /None") {
		t.Error("qpdf finds no /ViewerPreferences with /PrintScaling /None")
	}
}

func TestFontsAreEmbedded(t *testing.T) {
	out := run(t, write(t, pages(), meta()), "pdffonts", "FILE")
	lines := strings.Split(strings.TrimSpace(out), "\n")[2:]
	if len(lines) != 4 {
		t.Fatalf("want the four faces the specimen uses:\n%s", out)
	}
	for _, l := range lines {
		// name, type (CID TrueType), encoding, emb, sub, uni, object
		if f := strings.Fields(l); len(f) < 7 || f[4] != "yes" || f[6] != "yes" {
			t.Errorf("not embedded or not searchable: %s", l)
		}
	}
}

func TestTextCanBeRead(t *testing.T) {
	out := run(t, write(t, pages(), meta()), "pdftotext", "-layout", "FILE", "-")
	for _, want := range []string{
		"Specimen sheet", "½", "⅓", "⅝", "⅞", "90°", "± × −", "→ ← ↑ ↓", "∠", "●", "▲", "■", "3′", "0 5⁄16″", "36 5/16″ Il1", "36\u202f1⁄4″", "7\u202f3⁄8", "halo 36",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("pdftotext finds no %q", want)
		}
	}
	if n := strings.Count(out, "halo"); n != 1 {
		t.Errorf("text with a halo is found %d times, want once", n)
	}
	if t.Failed() {
		t.Log(out)
	}
}

func TestPageSizesAndTitleReachTheFile(t *testing.T) {
	out := run(t, write(t, pages(), meta()), "pdfinfo", "-l", "2", "FILE")
	for _, want := range []string{"Specimen ⅝", "Every kind of item", "Page    1 size:  595.28 x 841.89", "Page    2 size:  841.89 x 708.66"} {
		if !strings.Contains(out, want) {
			t.Errorf("pdfinfo does not say %q:\n%s", want, out)
		}
	}
}

// TestPlaceOnPaper draws a black block and asks an outside renderer where it
// came out: y up from the bottom left, one unit a millimetre.
func TestPlaceOnPaper(t *testing.T) {
	p := drawing.Page{Width: 127, Height: 127} // five inches, so no part dots
	p.Polygon([]drawing.Point{{X: 10, Y: 5}, {X: 30, Y: 5}, {X: 30, Y: 15}, {X: 10, Y: 15}}, drawing.Fill{Ink: drawing.Line}, drawing.Stroke{})
	// At 25.4 dots an inch a dot is a millimetre.
	out := run(t, write(t, []drawing.Page{p}, meta()), "pdftoppm", "-r", "25.4", "-gray", "FILE")
	if !strings.HasPrefix(out, "P5\n127 127\n255\n") {
		t.Fatalf("unexpected picture header %q", out[:20])
	}
	pix := out[len("P5\n127 127\n255\n"):]
	for y := range 127 {
		for x := range 127 {
			inside := x >= 10 && x < 30 && y >= 112 && y < 122
			if black := pix[y*127+x] < 128; black != inside {
				t.Fatalf("dot %d,%d from the top left: black %v, want %v", x, y, black, inside)
			}
		}
	}
}

func TestWhatCannotBeWrittenIsRefused(t *testing.T) {
	nan := drawing.Page{Name: "Card 3", Width: 100, Height: 100}
	zero := 0.0
	nan.Line(drawing.Point{}, drawing.Point{X: zero / zero}, drawing.Stroke{Ink: drawing.Line})
	good := drawing.Page{Width: 100, Height: 100}
	for _, c := range []struct {
		name  string
		pages []drawing.Page
		meta  pdf.Meta
		want  string
	}{
		{"no pages", nil, meta(), "no pages"},
		{"no date", []drawing.Page{good}, pdf.Meta{}, "Date"},
		{"no size", []drawing.Page{{Name: "empty"}}, meta(), "page 1 (empty) is 0 by 0 mm"},
		{"too large", []drawing.Page{{Width: 6000, Height: 10}}, meta(), "at most 5080"},
		{"not a number", []drawing.Page{good, nan}, meta(), "page 2 (Card 3): drawing: item 0 (line"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var b bytes.Buffer
			err := pdf.Write(&b, c.pages, c.meta)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want one with %q", err, c.want)
			}
			if b.Len() != 0 {
				t.Errorf("%d bytes were written all the same", b.Len())
			}
		})
	}
}

// TestStrangeText writes what a person might type into a note.
func TestStrangeText(t *testing.T) {
	p := drawing.Page{Width: 100, Height: 100}
	for i, s := range []string{"emoji 😀 and 漢字", "tab\tand\nline", "(brackets) \\ and \x00", "bad \xff bytes", "5⁄", "⁄16", "1⁄2⁄3"} {
		p.Text(drawing.Text{At: drawing.Point{X: 5, Y: 90 - 8*float64(i)}, Halo: true, String: s})
	}
	data := write(t, []drawing.Page{p}, meta())
	out := run(t, data, "pdftotext", "-layout", "FILE", "-")
	for _, want := range []string{"emoji □ and □□", "tab and line", "(brackets) \\ and", "5/", "/16", "1⁄2/3"} {
		if !strings.Contains(out, want) {
			t.Errorf("pdftotext finds no %q in:\n%s", want, out)
		}
	}
}

// TestLook writes the specimen for eyes when RISEWRIGHT_LOOK names a folder.
func TestLook(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write a PDF for eyes")
	}
	if err := os.WriteFile(filepath.Join(dir, "specimen.pdf"), write(t, pages(), meta()), 0o644); err != nil {
		t.Fatal(err)
	}
}
