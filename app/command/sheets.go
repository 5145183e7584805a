package command

import (
	"cmp"
	"fmt"

	"risewright/app/papers"
	"risewright/app/tongue"
	"risewright/app/version"
	"risewright/model"
	"risewright/solver"
	"risewright/view/sheets"
	"risewright/view/words"
)

func sheetsVerb() verb {
	return verb{
		name: "sheets", usage: "JOB --to DIR [--paper P] [--units U] [--language L] [--no-pictures] [--replace]",
		short: "write the papers of a job as PDF, and its lists as CSV",
		long: `JOB is a job file, - for standard input, or a demo job such as demo:tapering.
The papers are the proposal for the household, survey sheet, cut cards, build-up,
order of work, skirt boards, buying list, blank map, rip list, wood movement,
hours, money and days, and the hand-over sheet; buying list, blank map and rip
list come as CSV as well, lengths in mm. A job with light bars also gets the
wiring schedule (and its CSV), wiring labels, the commissioning list and the
supply and controller sheet; one with motion sensors the sensor sheet and the
list to try them by.
The proposal has four pictures of the stair, which take some seconds to draw;
--no-pictures leaves them out. --units is metric or imperial, --language en or de,
--paper a4 or letter.
DIR is made if it is not there. Files that are there already stay, and nothing is
written, unless --replace. Ctrl-C stops, and leaves DIR as it was. The paper is
A4 for a metric job and Letter for an imperial one unless --paper says otherwise.
Exit code 1 says that the job has findings that stop work; its sheets are written
all the same, and the cards say which boards must not be cut.`,
		do: (*run).sheets,
	}
}

func (r *run) sheets(args []string) (int, error) {
	f := newFlags("sheets")
	to := f.String("to", "", "")
	paper := paperFlag(f)
	units := unitsFlag(f)
	language := &oneOf{of: tongue.Codes()}
	f.Var(language, "language", "")
	plain := f.Bool("no-pictures", false, "")
	replace := f.Bool("replace", false, "")
	named, err := f.read(args)
	if err != nil {
		return Bad, err
	}
	job, err := r.oneJob("sheets", named)
	if err != nil {
		return Bad, err
	}
	if *to == "" {
		return Bad, fault{"sheets needs a folder to write to", "name it with --to DIR; it is made if it is not there"}
	}
	book, err := tongue.Book(cmp.Or(language.value, "en"))
	if err != nil {
		return Bad, err
	}
	words.Speak(book)
	defer words.Speak(nil)
	job = inUnits(job, units.value)
	a, err := r.writeSheets(job, *to, sheets.Size(paper.value), !*plain, *replace)
	if err != nil {
		return Bad, err
	}
	return stops(a), nil
}

// writeSheets writes the papers of a job and says what it wrote.
func (r *run) writeSheets(job model.Job, to string, paper sheets.Size, pictures, replace bool) (*solver.Answer, error) {
	ctx, done := r.interruptible()
	defer done()
	a := solver.Solve(job, r.tables)
	m := papers.MetaOf(&job, version.Program, paper)
	if !pictures {
		m.NoShots = "they were left out when the papers were written"
	}
	written, err := papers.Write(ctx, to, a, nil, m, true, replace, nil)
	if err != nil {
		return nil, halted(err, "the papers were stopped")
	}
	for _, path := range written {
		fmt.Fprintln(r.out, path)
	}
	fmt.Fprintf(r.out, "%d of %d boards are released to cut.", a.Released(), len(a.Cards))
	if a.Blocked() {
		fmt.Fprint(r.out, " Findings that stop work are on the build-up sheet.")
	}
	_, err = fmt.Fprintln(r.out)
	return a, err
}
