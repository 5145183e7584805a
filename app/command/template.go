package command

import (
	"fmt"
	"slices"
	"strings"

	"risewright/app/papers"
	"risewright/app/version"
	"risewright/solver"
	"risewright/solver/skirt"
	"risewright/view/drawing/dxf"
	"risewright/view/sheets"
	"risewright/view/template"
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
	format := &oneOf{value: papers.FormatPDF, of: []string{papers.FormatPDF, papers.FormatSVG, papers.FormatDXF}}
	f.Var(format, "format", "")
	paper := &oneOf{of: []string{papers.PaperWhole, string(sheets.A4), string(sheets.Letter)}}
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
	if format.value == papers.FormatDXF && paper.value != "" && paper.value != papers.PaperWhole {
		return Bad, fault{"a DXF is always whole, and cannot be cut up over " + paper.value, "leave out --paper, or choose --format pdf"}
	}
	job = inUnits(job, units.value)
	a := solver.Solve(job, r.tables)
	t := papers.Templates{Format: format.value, Paper: paper.value, Meta: papers.MetaOf(&job, version.Program, sheets.Size(strings.TrimPrefix(paper.value, papers.PaperWhole)))}
	if t.Paper == "" && t.Format == papers.FormatPDF {
		t.Paper = string(t.Meta.Paper)
	}
	profile := skirt.Profile{Shape: skirt.Shape(nosing.value)}
	items := template.Items(a, skirtBoards(a, profile), profile)
	chosen, err := choose(items, piece)
	if err != nil {
		return Bad, err
	}
	var files []papers.File
	if piece == "" {
		file, err := t.Index(items, job.Format())
		if err != nil {
			return Bad, err
		}
		files = append(files, file)
	}
	for i := range chosen {
		made, err := t.Files(&chosen[i].Shape, job.Format())
		if err != nil {
			return Bad, fault{err.Error(), "choose another --paper or --format"}
		}
		files = append(files, made...)
	}
	written, err := r.put(*to, files, *replace)
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
