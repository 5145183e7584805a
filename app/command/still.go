package command

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"
	"time"

	"risewright/view/picture"
	"risewright/view/scene"
	"risewright/view/still"
)

// The end of a still that is not told when to end.
const (
	usualGrain   = 0.12
	usualSamples = 128
)

func stillVerb() verb {
	return verb{
		name: "still", usage: "JOB OUT.png [--time T] [--view V] [--before|--both] [--walker STEP] [--replace]",
		short: "make a picture of the finished stair, with its true light",
		long: `JOB is a job file, - for standard input, or a demo job such as demo:tapering.
--size is 1920x1200 unless another is given. --time is day, evening or night;
--view is hall, up, landing, down, close or all.
OUT.png is written when the picture is done, and carries the job's name and date.
A file that is there already stays, unless --replace. Ctrl-C stops and writes
nothing.
The picture is of the evening from the hall unless --time and --view say
otherwise. --before shows the stair as it stands, under its carpet; --both shows
before at the left and after at the right of a line. --walker puts somebody on a
step, such as 5.4, going up, or down with --down, and the bars light as the
controller would. --step says where the eye is in the views up, down and close.
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
	s := sightFlags(f, "evening.png", still.UsualW, still.UsualH)
	samples := f.Int("samples", 0, "")
	seconds := f.Float64("seconds", 0, "")
	seed := f.Uint64("seed", 0, "")
	named, err := f.read(args)
	if err != nil {
		return Bad, err
	}
	if err := s.named(r, named); err != nil {
		return Bad, err
	}
	switch {
	case *samples < 0 || *samples > 1<<20:
		return Bad, fault{fmt.Sprintf("still: --samples cannot be %d", *samples), "give 1 to a million, or leave it out"}
	case !(*seconds >= 0 && *seconds <= 1e7):
		return Bad, fault{fmt.Sprintf("still: --seconds cannot be %g", *seconds), "give more than 0, or leave it out"}
	}
	if err := s.possible(); err != nil {
		return Bad, err
	}
	o := still.Options{W: s.w, H: s.h, Seed: *seed, Samples: *samples, Time: time.Duration(*seconds * float64(time.Second)), Clock: r.env.Clock}
	if o.Samples == 0 && o.Time == 0 {
		o.Grain, o.Samples = usualGrain, usualSamples
	}
	if err := s.clear(); err != nil {
		return Bad, err
	}
	img, err := r.picture(s, o)
	if err != nil {
		return Bad, err
	}
	return s.write(r, img)
}

// picture makes the picture, and says how far it has come.
func (r *run) picture(s *sight, o still.Options) (*image.NRGBA, error) {
	a, work := s.solved(r)
	seen, err := scene.Make(a, work, r.tables, s.options())
	if err != nil {
		return nil, noScene(err)
	}
	s.tell(r, seen)
	c := seen.Camera(s.from(), *s.step)
	var before *scene.Scene
	column := 0
	if *s.both {
		of := s.options()
		of.Before = true
		if before, err = scene.Make(a, work, r.tables, of); err != nil {
			return nil, noScene(err)
		}
		column = s.w / 2
	}
	refiner, err := still.NewDivided(before, seen, column, c, o)
	if err != nil {
		return nil, err
	}
	ctx, done := r.interruptible()
	defer done()
	said := -1.0
	err = refiner.Run(ctx, func(p still.Progress) {
		if p.Done < said+0.05 && p.Done < 1 {
			return
		}
		said = p.Done
		fmt.Fprintln(r.err, progress(p))
	})
	const again = "run it again, with --seconds for one that ends sooner"
	if errors.Is(err, context.Canceled) {
		return nil, stopped(again)
	}
	if err != nil {
		return nil, err
	}
	img := refiner.Picture(still.Look{})
	if *s.both {
		picture.DividerOn(img, column)
	}
	// A stop that came while the picture was developed counts as well.
	if ctx.Err() != nil {
		return nil, stopped(again)
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
