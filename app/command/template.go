package command

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"time"

	"risewright/app/papers"
	"risewright/app/version"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/skirt"
	"risewright/view/drawing"
	"risewright/view/drawing/dxf"
	"risewright/view/drawing/pdf"
	"risewright/view/drawing/svg"
	"risewright/view/sheets"
	"risewright/view/template"
)

// The formats and papers of a template.
const (
	formatPDF  = "pdf"
	formatSVG  = "svg"
	formatDXF  = "dxf"
	paperWhole = "whole"
)

// needed stands for every piece that no saw card makes.
const needed = "needed"

func templateVerb() verb {
	return verb{
		name: "template", usage: "JOB [PIECE] --to DIR [--format pdf|svg|dxf] [--paper whole|a4|letter]",
		short: "write pieces at full size, to be cut to",
		long: fmt.Sprintf(`JOB is a job file, - for standard input, or a demo job such as demo:tapering.
PIECE is a board such as T07, a skirt board such as left-skirt-new-risers, or
"needed" for every tread, riser and nosing that no saw card makes. Without PIECE
the list of all templates is written, and printed. A skirt board is listed once
for each way of fitting one: ask for the way that you chose.
A PDF comes on the job's own paper, over as many sheets as it takes, with crosses
to lay them together; an SVG or a DXF comes whole, in millimetres. --paper whole
makes one page as large as the piece, for a plotter. A DXF has the layers %s,
%s, %s and %s, and is always whole.
--nosing is what skirt boards are cut round, square unless you say another:
%s.
--units metric|imperial shows figures in other units than the job's own. Files
that are there already stay, and nothing is written, unless --replace.
Measure the check bars on every page before you cut. Exit code 1 says that the
job has findings that stop work, or that a piece written must not be cut yet.`,
			dxf.Cut, dxf.Mark, dxf.Lettering, dxf.Dimension, strings.Join(nosingNames(), ", ")),
		do: (*run).template,
	}
}

func (r *run) template(args []string) (int, error) {
	f := newFlags("template")
	to := f.String("to", "", "")
	format := &oneOf{value: formatPDF, of: []string{formatPDF, formatSVG, formatDXF}}
	f.Var(format, "format", "")
	paper := &oneOf{of: []string{paperWhole, string(sheets.A4), string(sheets.Letter)}}
	f.Var(paper, "paper", "")
	nosing := &oneOf{of: nosingNames()}
	f.Var(nosing, "nosing", "")
	units := unitsFlag(f)
	replace := f.Bool("replace", false, "")
	named, err := f.read(args)
	if err != nil {
		return Bad, err
	}
	piece := ""
	switch {
	case len(named) > 2:
		return Bad, fault{fmt.Sprintf("template takes one piece, and %s is one too many", shown(named[2])), `run it once for each, or say "needed" for every tread, riser and nosing that no saw card makes`}
	case len(named) == 2:
		named, piece = named[:1], named[1]
	}
	job, err := r.oneJob("template", named)
	if err != nil {
		return Bad, err
	}
	if *to == "" {
		return Bad, fault{"template needs a folder to write to", "name it with --to DIR; it is made if it is not there"}
	}
	if format.value == formatDXF && paper.value != "" && paper.value != paperWhole {
		return Bad, fault{"a DXF is always whole, and cannot be cut up over " + paper.value, "leave out --paper, or choose --format pdf"}
	}
	job = inUnits(job, units.value)
	a := solver.Solve(job, r.tables)
	t := templates{format: format.value, paper: paper.value, meta: papers.MetaOf(&job, version.Program, sheets.Size(strings.TrimPrefix(paper.value, paperWhole)))}
	if t.paper == "" && t.format == formatPDF {
		t.paper = string(t.meta.Paper)
	}
	profile := skirt.Profile{Shape: skirt.Shape(nosing.value)}
	items := template.Items(a, skirtBoards(a, profile), profile)
	chosen, err := choose(items, piece)
	if err != nil {
		return Bad, err
	}
	var files []papers.File
	if piece == "" {
		file, err := t.index(items, &job)
		if err != nil {
			return Bad, err
		}
		files = append(files, file)
	}
	for i := range chosen {
		made, err := t.files(&chosen[i].Shape, job.Format())
		if err != nil {
			return Bad, fault{err.Error(), "choose another --paper or --format"}
		}
		files = append(files, made...)
	}
	written, err := papers.Put(*to, files, *replace)
	if err != nil {
		return Bad, err
	}
	for _, path := range written {
		fmt.Fprintln(r.out, path)
	}
	return r.tell(a, items, chosen, piece)
}

// tell says what was written and returns the exit code.
func (r *run) tell(a *solver.Answer, items, chosen []template.Item, piece string) (int, error) {
	code := stops(a)
	if piece == "" {
		for i := range items {
			it := &items[i]
			state := "has a saw card"
			switch {
			case it.Why != "":
				state = "cannot be made: " + it.Why
			case it.Needed && it.Shape.Held != "":
				state = "needs its template, and is held: " + it.Shape.Held
			case it.Needed:
				state = "needs its template"
			case it.Shape.Held != "":
				state += ", which is held: " + it.Shape.Held
			}
			fmt.Fprintf(r.out, "%-34s %s\n", it.Shape.ID, state)
		}
		return code, nil
	}
	if len(chosen) == 0 {
		fmt.Fprintln(r.out, "Every tread, riser and nosing of this job has a saw card: none needs a template. Ask for a skirt board by its name.")
	}
	for i := range chosen {
		s := &chosen[i].Shape
		if s.Held != "" {
			code = Blocked
			fmt.Fprintf(r.out, "%s is NOT RELEASED and must not be cut: %s.\n", s.ID, strings.TrimSuffix(s.Held, "."))
		}
	}
	if len(chosen) > 0 {
		_, err := fmt.Fprintln(r.out, "Measure the check bars before you cut: 100 mm and 4 in.")
		return code, err
	}
	return code, nil
}

// skirtBoards returns the skirt boards of an answer in the usual sizes; none
// when the flight could not be solved.
func skirtBoards(a *solver.Answer, nosing skirt.Profile) []skirt.Board {
	if a.Survey == nil {
		return nil
	}
	return skirt.Make(a.Job, a.Survey, &a.Buildup, a.Pieces, skirt.Spec{Profile: nosing})
}

// nosingNames are the shapes that a flag can name: all but the traced one.
func nosingNames() []string {
	var out []string
	for _, s := range skirt.Shapes() {
		if s != skirt.Traced {
			out = append(out, string(s))
		}
	}
	return out
}

// choose returns the items that an argument names; none for "".
func choose(items []template.Item, piece string) ([]template.Item, error) {
	var out []template.Item
	var names []string
	for i := range items {
		it := items[i]
		names = append(names, strings.ToLower(it.Shape.ID))
		switch {
		case strings.EqualFold(piece, needed) && it.Needed && it.Why == "" && !strings.Contains(it.Shape.ID, "skirt"):
			out = append(out, it)
		case strings.EqualFold(piece, it.Shape.ID):
			if it.Why != "" {
				return nil, fault{fmt.Sprintf("there is no template of %s: %s", it.Shape.ID, it.Why), "look at its readings, and at what \"risewright solve\" says"}
			}
			return []template.Item{it}, nil
		}
	}
	if piece == "" || strings.EqualFold(piece, needed) {
		return out, nil
	}
	f := fault{fmt.Sprintf("this job has no piece %s", shown(piece)), "leave the piece out for the list of all"}
	if len(items) == 0 {
		f.problem, f.remedy = "this job could not be solved, so it has no pieces", `see what "risewright solve" says`
	} else if s := nearest(piece, names); s != "" {
		f.remedy = fmt.Sprintf("did you mean %s? Leave the piece out for the list of all", items[slices.Index(names, s)].Shape.ID)
	}
	return nil, f
}

// templates writes shapes in one format on one paper.
type templates struct {
	format, paper string // paper "": whole
	meta          sheets.Meta
}

func (t *templates) options(f model.Format) template.Options {
	return template.Options{Format: f, Stamp: t.meta.Stamp(), Program: t.meta.Program}
}

// pdf writes pages. A job without a dated reading gets the same date every
// day, for a clock would give the same job other bytes.
func (t *templates) pdf(name, title string, pages []drawing.Page) (papers.File, error) {
	date := t.meta.Date
	if date.IsZero() {
		date = time.Unix(0, 0).UTC()
	}
	var b bytes.Buffer
	err := pdf.Write(&b, pages, pdf.Meta{Title: title, Subject: t.meta.Stamp(), Creator: t.meta.Program, Date: date})
	return papers.File{Name: name, Data: b.Bytes()}, err
}

// index writes the list of all templates.
func (t *templates) index(items []template.Item, job *model.Job) (papers.File, error) {
	w, h := t.meta.Paper.Millimetres()
	f := job.Format()
	return t.pdf("templates-index.pdf", "Templates", template.Index(items, w, h, f, t.options(f)))
}

// files writes one shape.
func (t *templates) files(s *template.Shape, f model.Format) ([]papers.File, error) {
	name := s.ID + "-template"
	whole := t.paper == "" || t.paper == paperWhole
	var pages []drawing.Page
	if whole {
		page, err := template.Whole(s, t.options(f))
		if err != nil {
			return nil, err
		}
		pages = []drawing.Page{page}
	} else {
		name += "-" + t.paper
		w, h := sheets.Size(t.paper).Millimetres()
		var err error
		if pages, err = template.Tiled(s, w, h, t.options(f)); err != nil {
			return nil, err
		}
	}
	switch t.format {
	case formatPDF:
		file, err := t.pdf(name+".pdf", s.ID+", template at full size", pages)
		return []papers.File{file}, err
	case formatDXF:
		var b bytes.Buffer
		err := dxf.Write(&b, &pages[0])
		return []papers.File{{Name: name + ".dxf", Data: b.Bytes()}}, err
	}
	var out []papers.File
	for i := range pages {
		one := name + ".svg"
		if !whole {
			one = name + "-" + strings.TrimPrefix(pages[i].Name, s.ID+" ") + ".svg"
		}
		var b bytes.Buffer
		if err := svg.Write(&b, &pages[i], drawing.Print(), pages[i].Name); err != nil {
			return nil, err
		}
		out = append(out, papers.File{Name: one, Data: b.Bytes()})
	}
	return out, nil
}
