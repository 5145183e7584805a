package template_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"risewright/view/drawing"
	"risewright/view/drawing/dxf"
	"risewright/view/drawing/pdf"
	"risewright/view/drawing/svg"
	"risewright/view/template"
)

var made = time.Date(2031, 5, 4, 3, 2, 1, 0, time.UTC)

func options() template.Options {
	return template.Options{Stamp: "Mill Cottage · survey revision 12 · 2 November 2026", Program: "Risewright test"}
}

// TestLook writes templates for eyes when RISEWRIGHT_LOOK names a folder.
func TestLook(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write templates for eyes")
	}
	shapes := []template.Shape{shapeOf(t, "T02"), shapeOf(t, "T03"), shapeOf(t, "R04"), shapeOf(t, "L05")}
	held := shapeOf(t, "T04")
	held.Held = "step 4 is not ready for the saw: the front width was read over carpet"
	shapes = append(append(shapes, held), skirts(t, 14)...)
	put := func(name string, data []byte, err error) {
		if err == nil {
			err = os.WriteFile(filepath.Join(dir, name), data, 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	for i := range shapes {
		s := &shapes[i]
		name := strings.ReplaceAll(s.ID, " ", "-")
		whole, err := template.Whole(s, options())
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		err = svg.Write(&b, &whole, drawing.Print(), s.ID)
		put(name+".svg", b.Bytes(), err)
		b.Reset()
		err = dxf.Write(&b, &whole)
		put(name+".dxf", b.Bytes(), err)
		b.Reset()
		err = pdf.Write(&b, []drawing.Page{whole}, pdf.Meta{Title: s.ID, Date: made})
		put(name+"-whole.pdf", b.Bytes(), err)
		tiles, err := template.Tiled(s, 210, 297, options())
		if err != nil {
			t.Fatal(err)
		}
		b.Reset()
		err = pdf.Write(&b, tiles, pdf.Meta{Title: s.ID, Date: made})
		put(name+"-a4.pdf", b.Bytes(), err)
	}
}
