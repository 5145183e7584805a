// Package command is the program without its window: it reads the arguments,
// does what they say, and returns the exit code.
//
// It refuses to know the window, the clock and the environment: they are handed
// in, so that a test runs a command as a user does.
//
// # Exit codes
//
//	0  what was asked for is done
//	1  it is done, and the job has findings that stop work
//	2  nothing could be done: a bad flag, a bad file, a folder that cannot be written
//
// The demo that a machine without a display is given exits 0 although the demo
// job has findings that stop work: the run did what was asked of it, which was
// to show something.
//
// What was asked for goes to standard output, what went wrong to standard error,
// and says what is wrong, where, and what to do.
package command

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"risewright/app/tables"
	"risewright/app/version"
	"risewright/assets"
	"risewright/model"
)

// Env is what a command takes from the machine it runs on.
type Env struct {
	// Window shows the job in the file path ("": the last one, or the demo) and
	// returns when it is closed. Nil when this build has no window.
	Window func(t model.Tables, path string, clock func() time.Time, version string) error
	Clock  func() time.Time
	// System is the operating system as Go names it, such as "linux".
	System string
	Getenv func(string) string
	// Interrupt returns a context that ends when the user stops the program, as
	// with Ctrl-C, and what gives that up again. Nil: nothing is to be heeded.
	Interrupt func(context.Context) (context.Context, context.CancelFunc)
}

// The exit codes.
const (
	Done    = 0
	Blocked = 1
	Bad     = 2
)

// run is one run of the program.
type run struct {
	in       io.Reader
	out, err io.Writer
	env      Env
	tables   model.Tables
}

// verb is one command.
type verb struct {
	name  string
	usage string // its arguments
	short string // one line
	long  string // what else there is to know
	do    func(r *run, args []string) (int, error)
}

// verbs lists the commands in the order of the help.
func verbs() []verb {
	return []verb{
		solveVerb(), workVerb(), sheetsVerb(), templateVerb(), drawingVerb(), controllerVerb(), pictureVerb(), stillVerb(), demoVerb(), schemaVerb(),
		{name: "version", short: "print the version", do: (*run).version},
		{name: "help", usage: "[COMMAND]", short: "say what there is, or all about one command", do: (*run).help},
	}
}

// Run does what args say (without the program's name) and returns the exit code.
func Run(args []string, stdin io.Reader, stdout, stderr io.Writer, env Env) int {
	r := &run{in: stdin, out: stdout, err: stderr, env: env}
	code, err := r.dispatch(args)
	if err != nil {
		r.complain(err)
		return Bad
	}
	return code
}

func (r *run) dispatch(args []string) (int, error) {
	t, err := tables.Published()
	if err != nil {
		return Bad, fmt.Errorf("the program's own tables are damaged: %w", err)
	}
	r.tables = t
	if len(args) == 0 {
		return r.open("")
	}
	first, rest := args[0], args[1:]
	switch first {
	case "-h", "-help", "--help", "-?":
		first = "help"
	case "-v", "-version", "--version":
		first = "version"
	}
	for _, v := range verbs() {
		if v.name == first {
			code, err := v.do(r, rest)
			if errors.Is(err, flag.ErrHelp) {
				return r.help([]string{v.name})
			}
			return code, err
		}
	}
	switch {
	case strings.HasPrefix(first, "-") && first != "-":
		return Bad, fault{fmt.Sprintf("there is no flag %s here", shown(first)), `a command comes first: see "risewright help"`}
	case isJob(first):
		if len(rest) > 0 {
			return Bad, fault{fmt.Sprintf("%s comes after the job to open", shown(rest[0])), `name one job: "risewright JOBFILE"`}
		}
		return r.open(first)
	}
	var names []string
	for _, v := range verbs() {
		names = append(names, v.name)
	}
	f := fault{fmt.Sprintf("there is no command %s, and no file of that name", shown(first)), `see "risewright help"`}
	if s := nearest(first, names); s != "" {
		f.remedy = fmt.Sprintf("did you mean %q? All commands: \"risewright help\"", s)
	}
	return Bad, f
}

// isJob says whether an argument names a job and not a command: a demo job, a
// path, or a file that is there.
func isJob(arg string) bool {
	if strings.HasPrefix(arg, assets.DemoPrefix) || strings.HasSuffix(strings.ToLower(arg), ".json") || strings.ContainsAny(arg, `/\`) {
		return true
	}
	_, err := os.Lstat(arg)
	return err == nil
}

// open shows the window on a job, or says what there is to say without one.
func (r *run) open(path string) (int, error) {
	if r.hasDisplay() && r.env.Window != nil {
		if path != "" {
			if _, err := r.job(path); err != nil { // said here, not in a window that then is empty
				return Bad, err
			}
		}
		if err := r.env.Window(r.tables, path, r.env.Clock, version.Number); err != nil {
			return Bad, fmt.Errorf("the window: %w", err)
		}
		return Done, nil
	}
	why := "This build of the program has no window"
	if !r.hasDisplay() {
		why = "There is no display (DISPLAY and WAYLAND_DISPLAY are not set), so no window"
	}
	if path == "" {
		return r.withoutDisplay(why)
	}
	job, err := r.job(path)
	if err != nil {
		return Bad, err
	}
	fmt.Fprintf(r.err, "%s. Here is the answer in words; \"risewright help\" says what else there is.\n\n", why)
	return r.answer(job, false)
}

// hasDisplay says whether a window can be shown. Only systems that keep their
// displays in the environment can say no beforehand.
func (r *run) hasDisplay() bool {
	switch r.env.System {
	case "linux", "freebsd", "openbsd", "netbsd", "dragonfly":
		return r.env.Getenv("DISPLAY") != "" || r.env.Getenv("WAYLAND_DISPLAY") != ""
	}
	return true
}

func (r *run) version(args []string) (int, error) {
	if len(args) > 0 {
		return Bad, fault{"version takes no arguments", `leave out ` + shown(args[0])}
	}
	_, err := fmt.Fprintln(r.out, version.Program)
	return Done, err
}
