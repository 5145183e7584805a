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

// index returns the list of all templates.
func (t *Templates) index(items []template.Item, f model.Format) sheets.Paper {
	w, h := t.Meta.Paper.Millimetres()
	return sheets.Paper{Name: "templates-index.pdf", Title: "Templates", Pages: template.Index(items, w, h, f, t.options(f))}
}

// Index returns the list of all templates.
func (t *Templates) Index(items []template.Item, f model.Format) (File, error) {
	return asPDF(t.index(items, f), t.Meta)
}

// paper returns the pages of one shape; its name has no ending.
func (t *Templates) paper(s *template.Shape, f model.Format) (sheets.Paper, error) {
	out := sheets.Paper{Name: s.ID + "-template", Title: s.ID + ", template at full size"}
	if t.whole() {
		page, err := template.Whole(s, t.options(f))
		out.Pages = []drawing.Page{page}
		return out, err
	}
	out.Name += "-" + t.Paper
	w, h := sheets.Size(t.Paper).Millimetres()
	var err error
	out.Pages, err = template.Tiled(s, w, h, t.options(f))
	return out, err
}

func (t *Templates) whole() bool { return t.Paper == "" || t.Paper == PaperWhole }

// Files returns the files of one shape; an error says what its paper or format
// cannot hold.
func (t *Templates) Files(s *template.Shape, f model.Format) ([]File, error) {
	p, err := t.paper(s, f)
	if err != nil {
		return nil, err
	}
	name, pages := p.Name, p.Pages
	switch t.Format {
	case FormatPDF:
		p.Name += ".pdf"
		file, err := asPDF(p, t.Meta)
		return []File{file}, err
	case FormatDXF:
		var b bytes.Buffer
		err := dxf.Write(&b, &pages[0])
		return []File{{Name: name + ".dxf", Data: b.Bytes()}}, err
	}
	var out []File
	for i := range pages {
		one := name + ".svg"
		if !t.whole() {
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

// TemplatePapers returns the list of all templates of a job and, on the job's
// own paper, the templates of every piece that no saw card makes and of the
// skirt boards of its order of fitting.
func TemplatePapers(a *solver.Answer, w *solver.Work, m sheets.Meta) ([]sheets.Paper, error) {
	t := Templates{Format: FormatPDF, Paper: string(m.Paper), Meta: m}
	f := a.Job.Format()
	var boards []skirt.Board
	for _, side := range []pieces.Side{pieces.Left, pieces.Right} {
		if b, ok := w.Board(side); ok {
			boards = append(boards, b)
		}
	}
	items := template.Items(a, boards, skirt.Profile{})
	out := []sheets.Paper{t.index(items, f)}
	for i := range items {
		if !items[i].Needed || items[i].Why != "" {
			continue
		}
		p, err := t.paper(&items[i].Shape, f)
		if err != nil {
			return nil, err
		}
		p.Name += ".pdf"
		out = append(out, p)
	}
	return out, nil
}

// TemplateFiles returns what TemplatePapers does as PDF files.
func TemplateFiles(a *solver.Answer, w *solver.Work, m sheets.Meta) ([]File, error) {
	ps, err := TemplatePapers(a, w, m)
	if err != nil {
		return nil, err
	}
	var out []File
	for _, p := range ps {
		f, err := asPDF(p, m)
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	return out, nil
}
