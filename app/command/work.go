package command

import (
	"bytes"
	"fmt"

	"risewright/app/report"
	"risewright/solver"
	"risewright/solver/fitting"
)

func workVerb() verb {
	return verb{
		name: "work", usage: "JOB [--units metric|imperial]",
		short: "print the order of work, what to buy, and hours, money and days",
		long: `JOB is a job file, - for standard input, or a demo job such as demo:tapering.
What is asked of the order, the wood, prices and the first day of work stand in
the job. --units shows it in other units than the job's own. "risewright sheets"
writes the same as papers, with the skirt boards, the blank map and the rip list.
Exit code 1 says that the job has findings that stop work, or that no order that
meets its wishes can be built.`,
		do: (*run).work,
	}
}

func (r *run) work(args []string) (int, error) {
	f := newFlags("work")
	units := unitsFlag(f)
	named, err := f.read(args)
	if err != nil {
		return Bad, err
	}
	job, err := r.oneJob("work", named)
	if err != nil {
		return Bad, err
	}
	a := solver.Solve(inUnits(job, units.value), r.tables)
	w := solver.Plan(a, r.tables)
	var b bytes.Buffer
	if err := report.Work(&b, w); err != nil {
		return Bad, err
	}
	if _, err := r.out.Write(b.Bytes()); err != nil {
		return Bad, fmt.Errorf("print the work: %w", err)
	}
	if w.Order.Status == fitting.Refused {
		return Blocked, nil
	}
	return stops(a), nil
}
