package command

import (
	"fmt"
	"io"
	"strings"

	"risewright/app/version"
	"risewright/solver/rules"
)

func (r *run) help(args []string) (int, error) {
	if len(args) > 1 {
		return Bad, fault{"help takes one command", `say "risewright help" for all of them`}
	}
	var b strings.Builder
	if len(args) == 0 {
		overview(&b)
	} else {
		v, err := verbNamed(args[0])
		if err != nil {
			return Bad, err
		}
		fmt.Fprintf(&b, "risewright %s: %s\n\n  risewright %s\n", v.name, v.short, strings.TrimSpace(v.name+" "+v.usage))
		if v.long != "" {
			fmt.Fprintf(&b, "\n%s\n", v.long)
		}
	}
	_, err := io.WriteString(r.out, b.String())
	return Done, err
}

func verbNamed(name string) (verb, error) {
	var names []string
	for _, v := range verbs() {
		if v.name == name {
			return v, nil
		}
		names = append(names, v.name)
	}
	f := fault{fmt.Sprintf("there is no command %s", shown(name)), "there are " + strings.Join(names, ", ")}
	if s := nearest(name, names); s != "" {
		f.remedy = fmt.Sprintf("did you mean %q? There are %s", s, strings.Join(names, ", "))
	}
	return verb{}, f
}

func overview(w io.Writer) {
	fmt.Fprintf(w, `%s: from the readings of a stair to cut cards for its hardwood overlay.

  risewright            open the window; a demo job is in it to begin with
  risewright JOBFILE    open the window on a job
`, version.Program)
	for _, v := range verbs() {
		fmt.Fprintf(w, "\n  risewright %s\n      %s\n", strings.TrimSpace(v.name+" "+v.usage), v.short)
	}
	fmt.Fprintf(w, `
Without a display, risewright on its own prints the demo job's answer and writes
its sheets into %s.

Exit codes: 0 done; 1 the job has findings that stop work; 2 bad flag, bad file,
or a place that cannot be written.

%s
A stair, a saw and old paint can hurt people: read the cautions on the survey
sheet and on every card.
`, "./"+withoutDisplayDir, rules.Deference)
}
