package papers_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"strings"
	"testing"

	"risewright/app/demo"
	"risewright/app/papers"
	"risewright/model"
	"risewright/solver"
	"risewright/view/drawing"
	"risewright/view/sheets"
)

// TestDrawingsAreWhole: plan and section of every demo job, in both systems and
// on both papers, are within their sheet, say which job they are of, and have no
// lettering over other lettering.
func TestDrawingsAreWhole(t *testing.T) {
	ds, err := demo.Jobs()
	if err != nil {
		t.Fatal(err)
	}
	tb := published(t)
	for _, d := range ds {
		for _, u := range []model.Units{model.Metric, model.Imperial} {
			j := d.Job
			j.Units = u
			a := solver.Solve(j, tb)
			for _, size := range []sheets.Size{sheets.A4, sheets.Letter} {
				for _, which := range []string{papers.DrawingPlan, papers.DrawingSection} {
					p, err := papers.Drawing(which, a, papers.MetaOf(&j, "Risewright test", size))
					if err != nil {
						t.Fatal(err)
					}
					for _, f := range drawing.TextFaults(&p.List, drawing.Point{X: unprinted, Y: unprinted}, drawing.Point{X: p.Width - unprinted, Y: p.Height - unprinted}) {
						t.Errorf("%s %s %s %s: %s", d.Name, u, size, which, f)
					}
					var text []string
					items := 0
					for _, it := range p.Items() {
						items++
						text = append(text, it.Text.String)
					}
					if all := strings.Join(text, "\n"); items < 40 || p.Width < p.Height || !strings.Contains(all, j.Name) || !strings.Contains(all, "survey revision") || !strings.Contains(all, "Local code") {
						t.Errorf("%s %s %s %s: %d items on %.0f by %.0f mm: %.200s", d.Name, u, size, which, items, p.Width, p.Height, all)
					}
				}
			}
		}
	}
}

// TestShared: the files are what their names say: XML with letters, a picture
// with ink on it that says which job it shows, and JSON of this job.
func TestShared(t *testing.T) {
	a, _ := tapering(t)
	m := papers.MetaOf(&a.Job, "Risewright test", sheets.A4)
	files, err := papers.Shared(a, published(t), m)
	if err != nil {
		t.Fatal(err)
	}
	again, err := papers.Shared(a, published(t), m)
	if err != nil {
		t.Fatal(err)
	}
	names := map[string][]byte{}
	for i, f := range files {
		names[f.Name] = f.Data
		if !bytes.Equal(f.Data, again[i].Data) {
			t.Errorf("%s: other bytes the second time", f.Name)
		}
	}
	for _, which := range []string{"plan", "section"} {
		d := xml.NewDecoder(bytes.NewReader(names[which+".svg"]))
		shapes := 0
		for {
			token, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%s.svg: %v", which, err)
			}
			if s, ok := token.(xml.StartElement); ok && s.Name.Local != "svg" {
				shapes++
			}
		}
		if shapes < 40 || !bytes.Contains(names[which+".svg"], []byte("Mill Cottage")) {
			t.Errorf("%s.svg has %d shapes", which, shapes)
		}
		data := names[which+".png"]
		img, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatalf("%s.png: %v", which, err)
		}
		dark := 0
		b := img.Bounds()
		for y := b.Min.Y; y < b.Max.Y; y++ {
			for x := b.Min.X; x < b.Max.X; x++ {
				if r, _, _, _ := img.At(x, y).RGBA(); r < 0x8000 {
					dark++
				}
			}
		}
		if share := float64(dark) / float64(b.Dx()*b.Dy()); b.Dx() != 2339 || share < 0.002 || share > 0.3 || !bytes.Contains(data, []byte("Mill Cottage")) {
			t.Errorf("%s.png is %v, %.4f of it dark", which, b, share)
		}
	}
	var answer map[string]any
	if err := json.Unmarshal(names["answer.json"], &answer); err != nil || len(answer) < 5 {
		t.Errorf("answer.json: %d fields, %v", len(answer), err)
	}
	if len(files) != 5 {
		t.Errorf("%d files", len(files))
	}
	// a job that could not be solved has no drawing, and says so
	bad := a.Job
	bad.Flight.Steps = append([]model.Step(nil), bad.Flight.Steps...)
	bad.Flight.Steps[1].Corners = nil
	if _, err := papers.Shared(solver.Solve(bad, published(t)), published(t), m); err == nil || !strings.Contains(err.Error(), "could not be solved") {
		t.Errorf("a job without a shape: %v", err)
	}
}
