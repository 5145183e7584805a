package command

import (
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"risewright/app/demo"
	"risewright/app/session"
	"risewright/assets"
	"risewright/model"
)

// maxInput bounds what is read into memory before the decoder looks at it; it
// lies above model.MaxFileBytes so that the decoder can say what is wrong.
const maxInput = 2 * model.MaxFileBytes

// job returns the job that an argument names: a file, "-" for standard input,
// or a demo job.
func (r *run) job(arg string) (model.Job, error) {
	if name, ok := strings.CutPrefix(arg, assets.DemoPrefix); ok {
		if !slices.Contains(demo.Names(), name) {
			f := fault{fmt.Sprintf("there is no demo job %s", shown(name)), "there are " + demoNames()}
			if s := nearest(name, demo.Names()); s != "" {
				f.remedy = fmt.Sprintf("did you mean %s%s? There are %s", assets.DemoPrefix, s, demoNames())
			}
			return model.Job{}, f
		}
		data, err := assets.DemoJob(name)
		if err != nil {
			return model.Job{}, err
		}
		return model.Decode(data)
	}
	if arg == "-" {
		data, err := io.ReadAll(io.LimitReader(r.in, maxInput))
		if err != nil {
			return model.Job{}, fmt.Errorf("read standard input: %w", err)
		}
		job, err := model.Decode(data)
		if err != nil {
			return model.Job{}, fmt.Errorf("standard input: %w", err)
		}
		return job, nil
	}
	if st, err := os.Stat(arg); err == nil && st.IsDir() {
		return model.Job{}, fault{arg + " is a folder, not a job file", "name the job file in it; its name ends in " + session.Extension}
	}
	return session.Load(arg)
}

func demoNames() string {
	var out []string
	for _, n := range demo.Names() {
		out = append(out, assets.DemoPrefix+n)
	}
	return strings.Join(out, ", ")
}

// oneJob returns the single job that a command wants.
func (r *run) oneJob(verb string, named []string) (model.Job, error) {
	switch {
	case len(named) == 0:
		return model.Job{}, fault{verb + " needs a job: a file, - for standard input, or a demo job",
			fmt.Sprintf("for example \"risewright %s demo:tapering\"; see \"risewright help %s\"", verb, verb)}
	case len(named) > 1:
		return model.Job{}, fault{fmt.Sprintf("%s takes one job, and %s is one too many", verb, shown(named[1])),
			"run it once for each job; put a name with blanks in it in quotes"}
	}
	return r.job(named[0])
}
