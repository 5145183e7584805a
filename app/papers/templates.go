package papers

import (
	"bytes"
	"strings"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/pieces"
	"risewright/solver/skirt"
	"risewright/view/drawing"
	"risewright/view/drawing/dxf"
	"risewright/view/drawing/pdf"
	"risewright/view/drawing/svg"
	"risewright/view/sheets"
	"risewright/view/template"
)

// The formats and papers of a template. Whole is one page as large as the
// piece.
const (
	FormatPDF  = "pdf"
	FormatSVG  = "svg"
	FormatDXF  = "dxf"
	PaperWhole = "whole"
)

// Templates makes files of shapes at full size. Paper "" is whole.
type Templates struct {
	Format, Paper string
	Meta          sheets.Meta
}

func (t *Templates) options(f model.Format) template.Options {
	return template.Options{Format: f, Stamp: t.Meta.Stamp(), Program: t.Meta.Program}
}

// pdf writes pages. A job without a dated reading gets the same date every
// day, for a clock would give the same job other bytes.
func (t *Templates) pdf(name, title string, pages []drawing.Page) (File, error) {
	date := t.Meta.Date
	if date.IsZero() {
		date = undated
	}
	var b bytes.Buffer
	err := pdf.Write(&b, pages, pdf.Meta{Title: title, Subject: t.Meta.Stamp(), Creator: t.Meta.Program, Date: date})
	return File{Name: name, Data: b.Bytes()}, err
}

// Index returns the list of all templates.
func (t *Templates) Index(items []template.Item, f model.Format) (File, error) {
	w, h := t.Meta.Paper.Millimetres()
	return t.pdf("templates-index.pdf", "Templates", template.Index(items, w, h, f, t.options(f)))
}

// Files returns the files of one shape; an error says what its paper or format
// cannot hold.
func (t *Templates) Files(s *template.Shape, f model.Format) ([]File, error) {
	name := s.ID + "-template"
	whole := t.Paper == "" || t.Paper == PaperWhole
	var pages []drawing.Page
	if whole {
		page, err := template.Whole(s, t.options(f))
		if err != nil {
			return nil, err
		}
		pages = []drawing.Page{page}
	} else {
		name += "-" + t.Paper
		w, h := sheets.Size(t.Paper).Millimetres()
		var err error
		if pages, err = template.Tiled(s, w, h, t.options(f)); err != nil {
			return nil, err
		}
	}
	switch t.Format {
	case FormatPDF:
		file, err := t.pdf(name+".pdf", s.ID+", template at full size", pages)
		return []File{file}, err
	case FormatDXF:
		var b bytes.Buffer
		err := dxf.Write(&b, &pages[0])
		return []File{{Name: name + ".dxf", Data: b.Bytes()}}, err
	}
	var out []File
	for i := range pages {
		one := name + ".svg"
		if !whole {
			one = name + "-" + strings.TrimPrefix(pages[i].Name, s.ID+" ") + ".svg"
		}
		var b bytes.Buffer
		if err := svg.Write(&b, &pages[i], drawing.Print(), pages[i].Name); err != nil {
			return nil, err
		}
		out = append(out, File{Name: one, Data: b.Bytes()})
	}
	return out, nil
}

// TemplateFiles returns the list of all templates of a job and, on the job's
// own paper, the templates of every piece that no saw card makes and of the
// skirt boards of its order of fitting.
func TemplateFiles(a *solver.Answer, w *solver.Work, m sheets.Meta) ([]File, error) {
	t := Templates{Format: FormatPDF, Paper: string(m.Paper), Meta: m}
	f := a.Job.Format()
	var boards []skirt.Board
	for _, side := range []pieces.Side{pieces.Left, pieces.Right} {
		if b, ok := w.Board(side); ok {
			boards = append(boards, b)
		}
	}
	items := template.Items(a, boards, skirt.Profile{})
	index, err := t.Index(items, f)
	if err != nil {
		return nil, err
	}
	out := []File{index}
	for i := range items {
		if !items[i].Needed || items[i].Why != "" {
			continue
		}
		files, err := t.Files(&items[i].Shape, f)
		if err != nil {
			return nil, err
		}
		out = append(out, files...)
	}
	return out, nil
}
