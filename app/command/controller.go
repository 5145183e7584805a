package command

import (
	"fmt"

	"risewright/app/kit"
	"risewright/app/version"
	"risewright/solver"
	"risewright/solver/walk"
)

func controllerVerb() verb {
	return verb{
		name: "controller", usage: "JOB --to DIR [--replace]",
		short: "write what goes onto the controller of the light bars",
		long: `JOB is a job file, - for standard input, or a demo job such as demo:tapering.
It must have motion sensors. The folder holds the rules as portable C99, the
tables of this stair, its pins, a harness that runs the rules on a computer, and
a README.txt for the person who flashes the controller. Take a sensor away in the
job and write it again: the tables change, the program does not.
DIR is made if it is not there. Files that are there already stay, and nothing is
written, unless --replace. Mains wiring is for a licensed person, and the lights
never take the place of the stair's switched lighting.
Exit code 1 says that the job has findings that stop work.`,
		do: (*run).controller,
	}
}

func (r *run) controller(args []string) (int, error) {
	f := newFlags("controller")
	to := f.String("to", "", "")
	replace := f.Bool("replace", false, "")
	named, err := f.read(args)
	if err != nil {
		return Bad, err
	}
	job, err := r.oneJob("controller", named)
	if err != nil {
		return Bad, err
	}
	if *to == "" {
		return Bad, fault{"controller needs a folder to write to", "name it with --to DIR; it is made if it is not there"}
	}
	if !job.Sensing.On() {
		return Bad, fault{"the job has no motion sensors, so there are no rules to write", "place sensors in the window first"}
	}
	a := solver.Solve(job, r.tables)
	if a.Survey == nil {
		return Bad, fault{"the job could not be solved, so no sensor's zone is known", `see "risewright solve" for what is wrong`}
	}
	sense := solver.Sense(a, r.tables, nil)
	setup := solver.WalkOn(a, r.tables, &sense)
	t, err := setup.Tables()
	if err != nil {
		return Bad, fault{"the controller cannot hold this stair: " + err.Error(), "change the job's sensors or the controller's settings"}
	}
	k := kit.Kit{Job: &job, Zones: setup.Zones, Tables: t, Program: version.Program}
	files, err := k.Files()
	if err != nil {
		return Bad, err
	}
	written, err := r.put(*to, files, *replace)
	if err != nil {
		return Bad, err
	}
	for _, path := range written {
		fmt.Fprintln(r.out, path)
	}
	fmt.Fprintf(r.out, "%d bars, %d working sensors of %d, tables of %d bytes.\n", t.Bars, len(t.Sensors), len(setup.Zones), len(t.Bytes()))
	for _, x := range walk.Findings(setup.Zones, t) {
		fmt.Fprintf(r.out, "%s: %s; %s\n", x.Heading(), x.Title, x.Remedy)
	}
	_, err = fmt.Fprintln(r.out, "Read README.txt first.")
	return stops(a), err
}
