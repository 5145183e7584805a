package command

import (
	"context"
	"errors"
	"fmt"
	"image"
	"path/filepath"
	"strconv"
	"strings"

	"risewright/app/papers"
	"risewright/model"
	"risewright/solver"
	"risewright/view/scene"
)

// views are what the commands that make pictures can look from, and their names
// in package scene.
var views = []struct {
	name string
	view scene.View
}{
	{"hall", scene.FromHall}, {"up", scene.WalkingUp}, {"landing", scene.FromLanding},
	{"down", scene.WalkingDown}, {"close", scene.CloseUp}, {"all", scene.Whole},
}

// sight is what a command that makes a picture is told: what is looked at, from
// where, and where the picture goes.
type sight struct {
	verb         string
	example      string // of a file's name, for one who gave none
	w, h         int
	times, view  *oneOf
	step, walker *float64
	before, down *bool
	both         *bool
	replace      *bool
	out          string
	job          model.Job
}

// sightFlags adds the flags of a sight; w and h are the size where none is given.
func sightFlags(f *flags, example string, w, h int) *sight {
	s := &sight{verb: f.verb, example: example, w: w, h: h, times: &oneOf{value: string(scene.Evening)}, view: &oneOf{value: views[0].name}}
	f.Func("size", "", func(text string) (err error) {
		s.w, s.h, err = size(text)
		return err
	})
	for _, t := range scene.Times() {
		s.times.of = append(s.times.of, string(t))
	}
	f.Var(s.times, "time", "")
	for _, v := range views {
		s.view.of = append(s.view.of, v.name)
	}
	f.Var(s.view, "view", "")
	s.step = f.Float64("step", 0, "")
	s.walker = f.Float64("walker", 0, "")
	s.before = f.Bool("before", false, "")
	s.both = f.Bool("both", false, "")
	s.down = f.Bool("down", false, "")
	s.replace = f.Bool("replace", false, "")
	return s
}

// named takes the job and the file from what is left of the arguments.
func (s *sight) named(r *run, named []string) error {
	if len(named) == 1 {
		return fault{s.verb + " needs a file to write", fmt.Sprintf("name it after the job, for example %q", "risewright "+s.verb+" demo:well-behaved "+s.example)}
	}
	if len(named) >= 2 {
		s.out, named = named[1], append(named[:1:1], named[2:]...)
	}
	var err error
	if s.job, err = r.oneJob(s.verb, named); err != nil {
		return err
	}
	if !strings.EqualFold(filepath.Ext(s.out), ".png") {
		return fault{fmt.Sprintf("%s is no name for a PNG picture", shown(s.out)), "let it end in .png"}
	}
	return nil
}

// possible says which of the wishes cannot be.
func (s *sight) possible() error {
	if *s.before && *s.both {
		return fault{s.verb + ": --before and --both cannot go together", "leave one out"}
	}
	for _, p := range []struct {
		flag, such string
		at         float64
	}{{"walker", "5.4", *s.walker}, {"step", "3", *s.step}} {
		if !(p.at >= 0 && p.at <= 1e4) {
			return fault{fmt.Sprintf("%s: --%s cannot be %g", s.verb, p.flag, p.at), "give a step counted from the bottom, such as " + p.such}
		}
	}
	return nil
}

// clear says what is in the way of the picture, before the work; write looks
// again after it.
func (s *sight) clear() error {
	return papers.Clear(filepath.Dir(s.out), filepath.Base(s.out), *s.replace)
}

// options are what there is to see.
func (s *sight) options() scene.Options {
	return scene.Options{Before: *s.before, Time: scene.Time(s.times.value), Walker: *s.walker, Down: *s.down, Look: s.job.Look}
}

// from is where it is seen from.
func (s *sight) from() scene.View {
	for _, v := range views {
		if v.name == s.view.value {
			return v.view
		}
	}
	return views[0].view // oneOf lets no other name in
}

// tell says what told the bars of a scene how bright to be.
func (s *sight) tell(r *run, seen *scene.Scene) {
	if by := seen.LitBy.String(); by != "" {
		fmt.Fprintln(r.err, by)
	}
}

// write keeps the picture and says where.
func (s *sight) write(r *run, img image.Image) (int, error) {
	more := ""
	switch {
	case *s.before:
		more = ", before"
	case *s.both:
		more = ", before at the left, after at the right"
	}
	file, err := papers.Still(filepath.Base(s.out), img, &s.job, fmt.Sprintf("%s, %s%s", s.from(), s.times.value, more))
	if err != nil {
		return Bad, err
	}
	written, err := r.put(filepath.Dir(s.out), []papers.File{file}, *s.replace)
	if err != nil {
		return Bad, err
	}
	_, err = fmt.Fprintln(r.out, written[0])
	return Done, err
}

// solved returns the answer to the job and the work that follows from it.
func (s *sight) solved(r *run) (*solver.Answer, *solver.Work) {
	a := solver.Solve(s.job, r.tables)
	return a, solver.Plan(a, r.tables)
}

// noScene says why there is nothing to see.
func noScene(err error) error {
	return fault{err.Error(), `mend the findings first; "risewright solve" lists them`}
}

// interruptible returns a context that ends when the user stops the program,
// and what to call when that no longer counts.
func (r *run) interruptible() (context.Context, func()) {
	if r.env.Interrupt == nil {
		return context.Background(), func() {}
	}
	return r.env.Interrupt(context.Background())
}

// put writes files into a folder; Ctrl-C before the first has its name leaves all
// as it was.
func (r *run) put(dir string, files []papers.File, replace bool) ([]string, error) {
	ctx, done := r.interruptible()
	defer done()
	written, err := papers.Put(ctx, dir, files, replace)
	return written, halted(err, "it was stopped")
}

// halted says of an error that follows from the user's stop what was stopped.
func halted(err error, what string) error {
	if errors.Is(err, context.Canceled) {
		return fault{what + ", and nothing was written", "run it again"}
	}
	return err
}

// stopped is what a picture that was stopped says.
func stopped(again string) error {
	return fault{"the picture was stopped, and nothing was written", again}
}

// size reads a size such as 1920x1200.
func size(s string) (w, h int, err error) {
	a, b, ok := strings.Cut(strings.ToLower(s), "x")
	w, err1 := strconv.Atoi(a)
	h, err2 := strconv.Atoi(b)
	if !ok || err1 != nil || err2 != nil || w < 16 || h < 16 || w > 8192 || h > 8192 {
		return 0, 0, errors.New("give width and height in pixels from 16 to 8192, such as 1920x1200")
	}
	return w, h, nil
}
