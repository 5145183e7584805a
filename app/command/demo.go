package command

import (
	"fmt"
	"strconv"

	"risewright/app/demo"
	"risewright/app/papers"
	"risewright/app/session"
	"risewright/assets"
	"risewright/model"
)

// withoutDisplayDir is where the demo's sheets go on a machine without a
// display. The folder is the program's own, so it replaces what it finds there
// under its own names.
const withoutDisplayDir = "risewright-demo"

// shownDemo is the demo job that is shown when no job is named.
const shownDemo = "tapering"

func demoVerb() verb {
	return verb{
		name: "demo", usage: "[--to DIR] [--steps N] [--replace]",
		short: "write the four demo job files",
		long: `They are written into DIR, or into the folder you are in. Files that are there
already stay, and nothing is written, unless --replace.
well-behaved is ready to cut; tapering has a misread gauge and a rise problem;
unfinished has readings missing; winding goes round a hall with winders and a
landing. All are invented. With --steps N one flight of N steps, up to 1,000, is
written instead, to try long flights with.`,
		do: (*run).demo,
	}
}

func (r *run) demo(args []string) (int, error) {
	f := newFlags("demo")
	to := f.String("to", ".", "")
	steps := 0
	f.Func("steps", "", func(text string) (err error) {
		if steps, err = strconv.Atoi(text); err != nil || steps < model.MinSteps || steps > model.MaxSteps {
			return fmt.Errorf("give a number from %d to %d", model.MinSteps, model.MaxSteps)
		}
		return nil
	})
	replace := f.Bool("replace", false, "")
	named, err := f.read(args)
	if err != nil {
		return Bad, err
	}
	if len(named) > 0 {
		return Bad, fault{"demo takes no " + shown(named[0]), "it writes all four demo jobs; name a folder with --to DIR"}
	}
	if *to == "" {
		return Bad, fault{"the folder after --to is empty", "name one, or leave --to out for the folder you are in"}
	}
	files, err := demoFiles(steps)
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
	_, err = fmt.Fprintf(r.out, "Now try: risewright solve %s\n", quoted(written[min(1, len(written)-1)]))
	return Done, err
}

// demoFiles returns the demo jobs, or with steps one flight of so many.
func demoFiles(steps int) ([]papers.File, error) {
	if steps != 0 {
		job, err := demo.Long(steps)
		if err != nil {
			return nil, err
		}
		data, err := model.Encode(job)
		return []papers.File{{Name: fmt.Sprintf("long-%d", steps) + session.Extension, Data: data}}, err
	}
	var out []papers.File
	for _, n := range demo.Names() {
		data, err := assets.DemoJob(n)
		if err != nil {
			return nil, err
		}
		out = append(out, papers.File{Name: n + session.Extension, Data: data})
	}
	return out, nil
}

// withoutDisplay shows the demo job's answer in words and writes its sheets.
func (r *run) withoutDisplay(why string) (int, error) {
	job, err := r.job(assets.DemoPrefix + shownDemo)
	if err != nil {
		return Bad, err
	}
	if _, err := r.answer(job, false); err != nil {
		return Bad, err
	}
	fmt.Fprintf(r.out, "\n%s.\nAbove is the answer to the demo job, and these are its sheets:\n", why)
	if _, err := r.writeSheets(job, withoutDisplayDir, "", false, true); err != nil {
		return Bad, err
	}
	_, err = fmt.Fprintln(r.out, `For a job of your own: "risewright help".`)
	return Done, err
}

// quoted puts a path with blanks in quotes, to be pasted.
func quoted(path string) string {
	for _, c := range path {
		if c == ' ' {
			return `"` + path + `"`
		}
	}
	return path
}
