package command

import (
	"fmt"
	"path/filepath"
	"strings"

	"risewright/app/papers"
	"risewright/app/version"
	"risewright/solver"
	"risewright/view/sheets"
)

func drawingVerb() verb {
	return verb{
		name: "drawing", usage: "JOB OUT.svg|OUT.png [--section] [--paper a4|letter] [--units U] [--replace]",
		short: "write the plan or the section as a drawing of its own",
		long: `JOB is a job file, - for standard input, or a demo job such as demo:tapering.
The ending of OUT says the format: .svg, whose lengths are millimetres on paper,
or .png at 200 pixels an inch. It is the plan, or with --section the section, on a
sheet laid across, with the job's name, survey revision and date. The paper is A4
for a metric job and Letter for an imperial one unless --paper says otherwise.
--units is metric or imperial. A file that is there already stays, unless
--replace. Ctrl-C stops and writes nothing.
Exit code 1 says that the job has findings that stop work.`,
		do: (*run).drawing,
	}
}

func (r *run) drawing(args []string) (int, error) {
	f := newFlags("drawing")
	inSection := f.Bool("section", false, "")
	paper := paperFlag(f)
	units := unitsFlag(f)
	replace := f.Bool("replace", false, "")
	named, err := f.read(args)
	if err != nil {
		return Bad, err
	}
	if len(named) < 2 {
		return Bad, fault{"drawing needs a job and a file to write", `for example "risewright drawing demo:tapering plan.svg"`}
	}
	if len(named) > 2 {
		return Bad, fault{fmt.Sprintf("drawing writes one file, and %s is one too many", shown(named[2])), "run it once for each"}
	}
	job, err := r.job(named[0])
	if err != nil {
		return Bad, err
	}
	out := named[1]
	format := strings.TrimPrefix(strings.ToLower(filepath.Ext(out)), ".")
	if format != papers.FormatSVG && format != papers.FormatPNG {
		return Bad, fault{fmt.Sprintf("drawing: %s ends neither in .svg nor in .png", shown(out)), "give it one of these endings"}
	}
	if err := papers.Clear(filepath.Dir(out), filepath.Base(out), *replace); err != nil {
		return Bad, err
	}
	job = inUnits(job, units.value)
	which := papers.DrawingPlan
	if *inSection {
		which = papers.DrawingSection
	}
	a := solver.Solve(job, r.tables)
	file, err := papers.DrawingFile(filepath.Base(out), which, format, a, papers.MetaOf(&job, version.Program, sheets.Size(paper.value)))
	if err != nil {
		return Bad, fault{err.Error(), `see what "risewright solve" says`}
	}
	written, err := r.put(filepath.Dir(out), []papers.File{file}, *replace)
	if err != nil {
		return Bad, err
	}
	_, err = fmt.Fprintln(r.out, written[0])
	return stops(a), err
}
