package template_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"risewright/view/drawing"
	"risewright/view/drawing/dxf"
	"risewright/view/drawing/pdf"
	"risewright/view/drawing/svg"
	"risewright/view/template"
)

// The checks in this file read the files with other people's programs: pdfinfo
// and pdftoppm of poppler, qpdf, rsvg-convert of librsvg, and ezdxf.

const perInch = 300 // dots of the pictures

// dot is a dot of the pictures, mm.
const dot = 25.4 / perInch

// run runs an outside program, or skips the test loudly.
func run(t *testing.T, name string, args ...string) []byte {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		if os.Getenv("RISEWRIGHT_FULL") != "" {
			t.Fatalf("%s is not installed", name)
		}
		t.Skipf("NOT CHECKED: %s is not installed", name)
	}
	var out, complaints bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Stdout, cmd.Stderr = &out, &complaints
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s: %v\n%s", name, err, complaints.String())
	}
	return out.Bytes()
}

func file(t *testing.T, name string, data []byte, err error) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err == nil {
		err = os.WriteFile(path, data, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	return path
}

func pdfFile(t *testing.T, pages []drawing.Page) string {
	t.Helper()
	var b bytes.Buffer
	err := pdf.Write(&b, pages, pdf.Meta{Title: "template", Date: made})
	return file(t, "t.pdf", b.Bytes(), err)
}

// some are the shapes that outside programs look at: a winder, a riser and a
// skirt, or all where RISEWRIGHT_FULL is set.
func some(t *testing.T) []template.Shape {
	shapes := many(t)
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		return shapes
	}
	return []template.Shape{shapes[1], shapes[2], shapes[len(shapes)-1]}
}

// cutPoints returns the points of the lines to cut to on a page.
func cutPoints(p *drawing.Page) (points []drawing.Point, lines [][2]drawing.Point) {
	for _, it := range p.Items() {
		if it.Kind != drawing.KindPolyline || it.Stroke.Ink != drawing.Line {
			continue
		}
		points = append(points, it.Points...)
		for i := range it.Points {
			if i+1 < len(it.Points) || it.Closed {
				lines = append(lines, [2]drawing.Point{it.Points[i], it.Points[(i+1)%len(it.Points)]})
			}
		}
	}
	return points, lines
}

// TestPDFVertices reads the pages' own instructions, unpacked by qpdf: every
// corner of every line to cut to is there, within 0.01 mm, on a page of the
// size that pdfinfo measures.
func TestPDFVertices(t *testing.T) {
	operator := regexp.MustCompile(`(?m)^(-?[\d.]+) (-?[\d.]+) [ml]$`)
	const mm = 72 / 25.4
	worst, corners := 0.0, 0
	for _, s := range some(t) {
		for paper, pages := range pagesOf(t, &s, options()) {
			path := pdfFile(t, pages)
			info := string(run(t, "pdfinfo", "-l", "999", path))
			sizes := regexp.MustCompile(`Page +(?:\d+ )?size: +([\d.]+) x ([\d.]+)`).FindAllStringSubmatch(info, -1)
			if len(sizes) != len(pages) {
				t.Fatalf("%s on %s: pdfinfo measures %d pages, want %d\n%s", s.ID, paper, len(sizes), len(pages), info)
			}
			text := string(run(t, "qpdf", "--qdf", "--object-streams=disable", path, "-"))
			_, text, _ = strings.Cut(text, "stream\n")
			streams := strings.Split(text, "stream\n")
			k := 0
			for i := range pages {
				w, _ := strconv.ParseFloat(sizes[i][1], 64)
				h, _ := strconv.ParseFloat(sizes[i][2], 64)
				if math.Abs(w/mm-pages[i].Width) > exact || math.Abs(h/mm-pages[i].Height) > exact {
					t.Errorf("%s on %s, page %d: pdfinfo measures %.3f by %.3f mm, want %.3f by %.3f", s.ID, paper, i+1, w/mm, h/mm, pages[i].Width, pages[i].Height)
				}
				// The pages' streams are the ones with strokes, in order.
				for k < len(streams) && !strings.Contains(streams[k], "1.643 M\n") {
					k++
				}
				if k == len(streams) {
					t.Fatalf("%s on %s: no instructions of page %d", s.ID, paper, i+1)
				}
				var got []drawing.Point
				for _, m := range operator.FindAllStringSubmatch(streams[k], -1) {
					x, _ := strconv.ParseFloat(m[1], 64)
					y, _ := strconv.ParseFloat(m[2], 64)
					got = append(got, drawing.Point{X: x / mm, Y: y / mm})
				}
				k++
				want, _ := cutPoints(&pages[i])
				for _, p := range want {
					best := math.Inf(1)
					for _, q := range got {
						best = math.Min(best, q.Sub(p).Len())
					}
					worst = math.Max(worst, best)
					corners++
					if best > exact {
						t.Fatalf("%s on %s, page %d: the corner at %v lies %.4f mm off", s.ID, paper, i+1, p, best)
					}
				}
			}
		}
	}
	t.Logf("%d corners, the farthest %.4f mm off", corners, worst)
	if corners < 300 {
		t.Errorf("only %d corners were looked at", corners)
	}
}

// picture is a grey picture of a page at 300 dots an inch: 0 is black.
type picture struct {
	width, height int
	grey          []byte
	page          *drawing.Page
}

// at returns the grey at a place of the page, mm, by the dot that holds it.
func (p *picture) at(q drawing.Point) byte {
	x, y := int(math.Floor(q.X/dot)), int(math.Floor((p.page.Height-q.Y)/dot))
	if x < 0 || y < 0 || x >= p.width || y >= p.height {
		return 255
	}
	return p.grey[y*p.width+x]
}

// middle returns how far from q, in mm along u, the middle of the darkness
// within reach lies, and how much there is of it.
func (p *picture) middle(q, u drawing.Point, reach float64) (off, dark float64) {
	const step = dot / 4
	for d := -reach; d <= reach; d += step {
		v := 255 - float64(p.at(q.Add(u.Mul(d))))
		off += v * d
		dark += v
	}
	if dark == 0 {
		return math.Inf(1), 0
	}
	return off / dark, dark * step / 255
}

// check compares the picture with the page's own lines, every few millimetres
// along them, and measures both check bars.
func (p *picture) check(t *testing.T, name string) {
	t.Helper()
	_, lines := cutPoints(p.page)
	worst, samples := 0.0, 0
	for _, l := range lines {
		d := l[1].Sub(l[0])
		length := d.Len()
		u := d.Mul(1 / length)
		n := drawing.Point{X: -u.Y, Y: u.X}
		// Off the ends, and between the ticks of a nose's band.
		for s := 9.0; s <= length-9; s += 6 {
			off, dark := p.middle(l[0].Add(u.Mul(s)), n, 3*dot)
			samples++
			worst = math.Max(worst, math.Abs(off))
			if math.Abs(off) > dot || dark < 0.2 {
				t.Fatalf("%s: at %v the line is drawn %.3f mm off (%.2f mm of black)", name, l[0].Add(u.Mul(s)), off, dark)
			}
		}
	}
	// Corners: black within a dot of where each must be.
	points, _ := cutPoints(p.page)
	for _, q := range points {
		darkest := byte(255)
		for _, e := range [9]drawing.Point{{}, {X: dot}, {X: -dot}, {Y: dot}, {Y: -dot}, {X: dot, Y: dot}, {X: dot, Y: -dot}, {X: -dot, Y: dot}, {X: -dot, Y: -dot}} {
			darkest = min(darkest, p.at(q.Add(e)))
		}
		if darkest > 128 {
			t.Errorf("%s: no black within a dot of the corner at %v", name, q)
		}
	}
	bars := 0
	for _, it := range p.page.Items() {
		if it.Kind != drawing.KindLine || it.Points[0].Y != it.Points[1].Y {
			continue
		}
		length := it.Points[1].X - it.Points[0].X
		if math.Abs(length-100) > 1e-9 && math.Abs(length-101.6) > 1e-9 {
			continue
		}
		// 5 mm up, above every tick but the two at the ends.
		up := drawing.Point{Y: 5.2}
		a, da := p.middle(it.Points[0].Add(up), drawing.Point{X: 1}, 6*dot)
		b, db := p.middle(it.Points[1].Add(up), drawing.Point{X: 1}, 6*dot)
		if da < 0.08 || db < 0.08 {
			t.Errorf("%s: an end of a bar is not drawn", name)
			continue
		}
		got := (length + b - a) / dot
		if want := length / dot; math.Abs(got-want) > 1 {
			t.Errorf("%s: a bar of %.1f mm is %.2f dots long, want %.2f", name, length, got, want)
		} else {
			t.Logf("%s: the bar of %.1f mm is %.2f dots long at %d dots an inch; exact would be %.2f", name, length, got, perInch, want)
		}
		bars++
	}
	if bars != 2 || samples < 20 {
		t.Errorf("%s: %d bars and %d places were looked at", name, bars, samples)
	}
	t.Logf("%s: %d places along lines, the farthest %.3f mm off (a dot is %.3f)", name, samples, worst, dot)
}

// TestPDFPicture renders the whole page and two sheets with pdftoppm.
func TestPDFPicture(t *testing.T) {
	s := small()
	whole, err := template.Whole(&s, options())
	if err != nil {
		t.Fatal(err)
	}
	tread := shapeOf(t, "T02")
	sheets, err := template.Tiled(&tread, 210, 297, options())
	if err != nil {
		t.Fatal(err)
	}
	pages := []drawing.Page{whole, sheets[1], sheets[len(sheets)-1]}
	path := pdfFile(t, pages)
	for i := range pages {
		page := strconv.Itoa(i + 1)
		out := run(t, "pdftoppm", "-r", strconv.Itoa(perInch), "-gray", "-f", page, "-l", page, path)
		p := picture{page: &pages[i]}
		var most int
		if n, err := fmt.Sscanf(string(out[:min(len(out), 40)]), "P5\n%d %d\n%d\n", &p.width, &p.height, &most); n != 3 || most != 255 {
			t.Fatalf("no picture: %v", err)
		}
		if w, h := pages[i].Width/dot, pages[i].Height/dot; math.Abs(float64(p.width)-w) > 1 || math.Abs(float64(p.height)-h) > 1 {
			t.Errorf("the page is %d by %d dots, want %.1f by %.1f", p.width, p.height, w, h)
		}
		p.grey = out[len(out)-p.width*p.height:]
		p.check(t, "pdftoppm, "+pages[i].Name)
	}
}

// TestSVGPicture renders pages with rsvg-convert.
func TestSVGPicture(t *testing.T) {
	s := small()
	whole, err := template.Whole(&s, options())
	if err != nil {
		t.Fatal(err)
	}
	tread := shapeOf(t, "T02")
	sheets, err := template.Tiled(&tread, 210, 297, options())
	if err != nil {
		t.Fatal(err)
	}
	pages := []drawing.Page{whole, sheets[1]}
	if os.Getenv("RISEWRIGHT_FULL") == "" {
		pages = pages[:1] // taking a picture apart is slow
	}
	for _, page := range pages {
		var b bytes.Buffer
		err := svg.Write(&b, &page, drawing.Print(), page.Name)
		path := file(t, "t.svg", b.Bytes(), err)
		dpi := strconv.Itoa(perInch)
		im, err := png.Decode(bytes.NewReader(run(t, "rsvg-convert", "-d", dpi, "-p", dpi, path)))
		if err != nil {
			t.Fatal(err)
		}
		p := picture{page: &page, width: im.Bounds().Dx(), height: im.Bounds().Dy()}
		if w, h := page.Width/dot, page.Height/dot; math.Abs(float64(p.width)-w) > 1 || math.Abs(float64(p.height)-h) > 1 {
			t.Errorf("the page is %d by %d dots, want %.1f by %.1f", p.width, p.height, w, h)
		}
		// Opaque, and of greys alone, so one channel is enough.
		var pix []byte
		switch im := im.(type) {
		case *image.NRGBA:
			pix = im.Pix
		case *image.RGBA:
			pix = im.Pix
		default:
			t.Fatalf("a picture of kind %T", im)
		}
		p.grey = make([]byte, p.width*p.height)
		for i := range p.grey {
			p.grey[i] = pix[4*i]
		}
		p.check(t, "rsvg-convert, "+page.Name)
	}
}

// TestDXFVertices reads whole templates back with ezdxf: its audit is clean,
// the unit is the millimetre, and every corner of every line to cut to lies on
// layer CUT within 0.01 mm, as one closed line.
func TestDXFVertices(t *testing.T) {
	python := os.Getenv("RISEWRIGHT_PYTHON")
	if python == "" {
		python = "/usr/bin/python3" // Debian's, which python3-ezdxf belongs to
	}
	if err := exec.Command(python, "-c", "import ezdxf").Run(); err != nil {
		if os.Getenv("RISEWRIGHT_FULL") != "" {
			t.Fatalf("the outside reader is missing: install python3-ezdxf (%v)", err)
		}
		t.Skip("NOT CHECKED: python3-ezdxf is not installed, so the DXF was not read back")
	}
	worst, corners := 0.0, 0
	for _, s := range some(t) {
		page, err := template.Whole(&s, options())
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		err = dxf.Write(&b, &page)
		path := file(t, "t.dxf", b.Bytes(), err)
		var got struct {
			Units    int
			Errors   []string
			Entities []struct {
				Kind, Layer, Text string
				Points            [][2]float64
				Closed            bool
			}
		}
		if err := json.Unmarshal(run(t, python, "../drawing/dxf/testdata/read.py", path), &got); err != nil {
			t.Fatal(err)
		}
		if len(got.Errors) > 0 || got.Units != 4 {
			t.Errorf("%s: unit %d, audit %v", s.ID, got.Units, got.Errors)
		}
		want, _ := cutLines(&s)
		on := map[string]int{}
		var cut [][2]float64
		for _, e := range got.Entities {
			on[e.Layer]++
			if e.Layer == "CUT" {
				cut = append(cut, e.Points...)
				if !e.Closed {
					t.Errorf("%s: a line to cut to is open", s.ID)
				}
			}
		}
		if len(cut) != len(want) || on["CUT"] != 1 || on["TEXT"] < 5 || on["DIMENSION"] < 30 || len(on) > 4 {
			t.Fatalf("%s: %d corners on CUT, want %d; entities by layer: %v", s.ID, len(cut), len(want), on)
		}
		// The page may lie anywhere: compare from the first corner on.
		for i := range want {
			d := want[i].Sub(want[0])
			worst = math.Max(worst, math.Hypot(cut[i][0]-cut[0][0]-d.X, cut[i][1]-cut[0][1]-d.Y))
			corners++
		}
	}
	t.Logf("%d corners, the farthest %.2g mm off", corners, worst)
	if worst > exact || corners < 50 {
		t.Errorf("%d corners, the farthest %.4f mm off", corners, worst)
	}
}
