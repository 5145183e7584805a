package command

import (
	"bytes"
	"fmt"

	"risewright/app/report"
	"risewright/model"
	"risewright/solver"
	"risewright/view/sheets"
)

func solveVerb() verb {
	return verb{
		name: "solve", usage: "JOB [--json] [--units metric|imperial]",
		short: "print the answer to a job: survey, rises, findings, cut cards",
		long: `JOB is a job file, - for standard input, or a demo job such as demo:tapering.
--json prints the whole answer as JSON; "risewright schema answer" describes it.
--units shows it in other units than the job's own.
Exit code 1 says that the job has findings that stop work.`,
		do: (*run).solve,
	}
}

func (r *run) solve(args []string) (int, error) {
	f := newFlags("solve")
	json := f.Bool("json", false, "")
	units := unitsFlag(f)
	named, err := f.read(args)
	if err != nil {
		return Bad, err
	}
	job, err := r.oneJob("solve", named)
	if err != nil {
		return Bad, err
	}
	return r.answer(inUnits(job, units.value), *json)
}

// answer solves a job and prints the answer.
func (r *run) answer(job model.Job, json bool) (int, error) {
	a := solver.OnMap(solver.Solve(job, r.tables), r.tables)
	m := solver.Advise(a, r.tables)
	sense := solver.Sense(a, r.tables, nil)
	a.Findings, a.Lit = solver.Found(a, r.tables, &sense)
	var text []byte
	if json {
		var err error
		if text, err = report.JSON(a, m); err != nil {
			return Bad, fmt.Errorf("write the answer as JSON: %w", err)
		}
	} else {
		var b bytes.Buffer
		if err := report.Text(&b, a, m); err != nil {
			return Bad, err
		}
		text = b.Bytes()
	}
	if _, err := r.out.Write(text); err != nil {
		return Bad, fmt.Errorf("print the answer: %w", err)
	}
	return stops(a), nil
}

// stops returns the exit code that an answer asks for.
func stops(a *solver.Answer) int {
	if a.Blocked() {
		return Blocked
	}
	return Done
}

func unitsFlag(f *flags) *oneOf {
	units := &oneOf{of: []string{string(model.Metric), string(model.Imperial)}}
	f.Var(units, "units", "")
	return units
}

// paperFlag is the flag that says which paper is printed on; "" is that of the
// job's units.
func paperFlag(f *flags) *oneOf {
	paper := &oneOf{of: []string{string(sheets.A4), string(sheets.Letter)}}
	f.Var(paper, "paper", "")
	return paper
}

// inUnits returns the job shown in other units; "" leaves its own.
func inUnits(job model.Job, units string) model.Job {
	if units != "" {
		job.Units = model.Units(units)
	}
	return job
}
