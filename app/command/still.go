package command

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"risewright/app/papers"
	"risewright/model"
	"risewright/solver"
	"risewright/view/scene"
	"risewright/view/still"
)

// The views of the still command, and their names in package scene.
var stillViews = []struct {
	name string
	view scene.View
}{
	{"hall", scene.FromHall}, {"up", scene.WalkingUp}, {"landing", scene.FromLanding},
	{"down", scene.WalkingDown}, {"close", scene.CloseUp}, {"all", scene.Whole},
}

// The end of a still that is not told when to end.
const (
	usualGrain   = 0.09
	usualSamples = 128
)

func stillVerb() verb {
	return verb{
		name: "still", usage: "JOB OUT.png [--time T] [--view V] [--before] [--walker STEP] [--replace]",
		short: "make a picture of the finished stair, with its true light",
		long: `JOB is a job file, - for standard input, or a demo job such as demo:tapering.
--size is 1920x1200 unless another is given. --time is day, evening or night;
--view is hall, up, landing, down, close or all.
OUT.png is written when the picture is done, and carries the job's name and date.
A file that is there already stays, unless --replace. Ctrl-C stops and writes
nothing.
The picture is of the evening from the hall unless --time and --view say
otherwise. --before shows the stair as it stands, under its carpet. --walker puts
somebody on a step, such as 5.4, going up, or down with --down, and the bars light
as the controller would. --step says where the eye is in the views up, down and
close.
The picture gets better with time: it ends when it is calm, when every pixel has
--samples of light, or after --seconds, whichever is first. With a number of
samples and no seconds the same job and --seed give the same bytes. How far it has
come goes to standard error.
Rooms and what the survey does not know are made up. It is a picture, not a
lighting design: "risewright solve" has the light on every tread.`,
		do: (*run).still,
	}
}

func (r *run) still(args []string) (int, error) {
	f := newFlags("still")
	w, h := still.UsualW, still.UsualH
	f.Func("size", "", func(s string) error {
		var err error
		w, h, err = size(s)
		return err
	})
	times := &oneOf{value: string(scene.Evening)}
	for _, t := range scene.Times() {
		times.of = append(times.of, string(t))
	}
	f.Var(times, "time", "")
	view := &oneOf{value: stillViews[0].name}
	for _, v := range stillViews {
		view.of = append(view.of, v.name)
	}
	f.Var(view, "view", "")
	before := f.Bool("before", false, "")
	walker := f.Float64("walker", 0, "")
	down := f.Bool("down", false, "")
	step := f.Float64("step", 0, "")
	samples := f.Int("samples", 0, "")
	seconds := f.Float64("seconds", 0, "")
	seed := f.Uint64("seed", 0, "")
	replace := f.Bool("replace", false, "")
	named, err := f.read(args)
	if err != nil {
		return Bad, err
	}
	if len(named) == 1 {
		return Bad, fault{"still needs a file to write", `name it after the job, for example "risewright still demo:well-behaved evening.png"`}
	}
	out := ""
	if len(named) >= 2 {
		out, named = named[1], append(named[:1:1], named[2:]...)
	}
	job, err := r.oneJob("still", named)
	if err != nil {
		return Bad, err
	}
	switch {
	case !strings.EqualFold(filepath.Ext(out), ".png"):
		return Bad, fault{fmt.Sprintf("%s is no name for a PNG picture", shown(out)), "let it end in .png"}
	case *samples < 0 || *samples > 1<<20:
		return Bad, fault{fmt.Sprintf("still: --samples cannot be %d", *samples), "give 1 to a million, or leave it out"}
	case !(*seconds >= 0 && *seconds <= 1e7):
		return Bad, fault{fmt.Sprintf("still: --seconds cannot be %g", *seconds), "give more than 0, or leave it out"}
	case !(*walker >= 0 && *walker <= 1e4):
		return Bad, fault{fmt.Sprintf("still: --walker cannot be %g", *walker), "give a step counted from the bottom, such as 5.4"}
	case !(*step >= 0 && *step <= 1e4):
		return Bad, fault{fmt.Sprintf("still: --step cannot be %g", *step), "give a step counted from the bottom, such as 3"}
	}
	o := still.Options{W: w, H: h, Seed: *seed, Samples: *samples, Time: time.Duration(*seconds * float64(time.Second)), Clock: r.env.Clock}
	if o.Samples == 0 && o.Time == 0 {
		o.Grain, o.Samples = usualGrain, usualSamples
	}
	// Whatever is in the way is said before the work, and looked for again after.
	if err := papers.Clear(filepath.Dir(out), filepath.Base(out), *replace); err != nil {
		return Bad, err
	}
	sights := scene.Options{Before: *before, Time: scene.Time(times.value), Walker: *walker, Down: *down, Look: job.Look}
	var from scene.View
	for _, v := range stillViews {
		if v.name == view.value {
			from = v.view
		}
	}
	img, err := r.picture(job, sights, from, *step, o)
	if err != nil {
		return Bad, err
	}
	what := fmt.Sprintf("%s, %s", from, times.value)
	if *before {
		what += ", before"
	}
	file, err := papers.Still(filepath.Base(out), img, &job, what)
	if err != nil {
		return Bad, err
	}
	written, err := papers.Put(filepath.Dir(out), []papers.File{file}, *replace)
	if err != nil {
		return Bad, err
	}
	_, err = fmt.Fprintln(r.out, written[0])
	return Done, err
}

// picture makes the picture, and says how far it has come.
func (r *run) picture(job model.Job, sights scene.Options, view scene.View, step float64, o still.Options) (*image.NRGBA, error) {
	a := solver.Solve(job, r.tables)
	s, err := scene.Make(a, solver.Plan(a, r.tables), r.tables, sights)
	if err != nil {
		return nil, fault{err.Error(), `mend the findings first; "risewright solve" lists them`}
	}
	refiner, err := still.NewRefiner(s, s.Camera(view, step), o)
	if err != nil {
		return nil, err
	}
	ctx := context.Background()
	if r.env.Interrupt != nil {
		var done func()
		ctx, done = r.env.Interrupt(ctx)
		defer done()
	}
	said := -1.0
	err = refiner.Run(ctx, func(p still.Progress) {
		if p.Done < said+0.05 && p.Done < 1 {
			return
		}
		said = p.Done
		fmt.Fprintln(r.err, progress(p))
	})
	if errors.Is(err, context.Canceled) {
		return nil, fault{"the picture was stopped, and nothing was written", "run it again, with --seconds for one that ends sooner"}
	}
	if err != nil {
		return nil, err
	}
	img := refiner.Picture(still.Look{})
	// A stop that came while the picture was developed counts as well.
	if ctx.Err() != nil {
		return nil, fault{"the picture was stopped, and nothing was written", "run it again, with --seconds for one that ends sooner"}
	}
	return img, nil
}

// progress says how far a picture has come.
func progress(p still.Progress) string {
	text := fmt.Sprintf("%3.0f %%  %.1f samples a pixel", math.Floor(100*p.Done), p.Samples)
	if !math.IsInf(p.Grain, 1) {
		text += fmt.Sprintf(", grain %.3f", p.Grain)
	}
	if p.Left > 0 {
		text += ", about " + p.Left.Round(time.Second).String() + " left"
	}
	return text
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
