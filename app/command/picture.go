package command

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"
	"path/filepath"
	"strings"

	"risewright/app/papers"
	"risewright/model"
	"risewright/solver"
	"risewright/view/picture"
	"risewright/view/scene"
)

func pictureVerb() verb {
	return verb{
		name: "picture", usage: "JOB OUT.png [--time T] [--view V] [--before|--both] [--walker STEP] [--replace]",
		short: "draw the finished stair as the window shows it",
		long: `JOB is a job file, - for standard input, or a demo job such as demo:tapering.
OUT.png is written when the picture is done, and carries the job's name and date.
A file that is there already stays, unless --replace. Ctrl-C stops and writes
nothing. It takes seconds; "risewright still" takes longer and is truer.
The picture is of the evening from the hall unless --time (day, evening, night)
and --view (hall, up, landing, down, close, all) say otherwise; --step K says where
the eye is in the views up, down and close. --size is 1280x800. --before
shows the stair as it stands, under its carpet; --both shows before at the left
and after at the right. --walker puts somebody on a step, such as 5.4, going up,
or down with --down, and the bars light as the controller would.
Rooms and what the survey does not know are made up. It is a picture, not a
lighting design. The same job gives the same bytes.`,
		do: (*run).drawn,
	}
}

// drawnFrames is how many frames smooth the edges.
const drawnFrames = 24

func (r *run) drawn(args []string) (int, error) {
	f := newFlags("picture")
	w, h := 1280, 800
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
	step := f.Float64("step", 0, "")
	before := f.Bool("before", false, "")
	both := f.Bool("both", false, "")
	walker := f.Float64("walker", 0, "")
	down := f.Bool("down", false, "")
	replace := f.Bool("replace", false, "")
	named, err := f.read(args)
	if err != nil {
		return Bad, err
	}
	if len(named) == 1 {
		return Bad, fault{"picture needs a file to write", `name it after the job, for example "risewright picture demo:well-behaved hall.png"`}
	}
	out := ""
	if len(named) >= 2 {
		out, named = named[1], append(named[:1:1], named[2:]...)
	}
	job, err := r.oneJob("picture", named)
	if err != nil {
		return Bad, err
	}
	switch {
	case !strings.EqualFold(filepath.Ext(out), ".png"):
		return Bad, fault{fmt.Sprintf("%s is no name for a PNG picture", shown(out)), "let it end in .png"}
	case !(*walker >= 0 && *walker <= 1e4):
		return Bad, fault{fmt.Sprintf("picture: --walker cannot be %g", *walker), "give a step counted from the bottom, such as 5.4"}
	case !(*step >= 0 && *step <= 1e4):
		return Bad, fault{fmt.Sprintf("picture: --step cannot be %g", *step), "give a step counted from the bottom, such as 3"}
	case *before && *both:
		return Bad, fault{"picture: --before and --both cannot go together", "leave one out"}
	}
	// Whatever is in the way is said before the work, and looked for again after.
	if err := papers.Clear(filepath.Dir(out), filepath.Base(out), *replace); err != nil {
		return Bad, err
	}
	o := scene.Options{Before: *before, Time: scene.Time(times.value), Walker: *walker, Down: *down, Look: job.Look}
	var from scene.View
	for _, v := range stillViews {
		if v.name == view.value {
			from = v.view
		}
	}
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	if err := r.draw(img, job, o, from, *step, *both); err != nil {
		return Bad, err
	}
	what := fmt.Sprintf("%s, %s", from, times.value)
	switch {
	case *before:
		what += ", before"
	case *both:
		what += ", before at the left, after at the right"
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

// careFor is how carefully light is followed for so many pixels: a small picture
// shows no more than it has room for.
func careFor(pixels int) picture.Quality {
	const whole = 400_000 // from here on, all there is
	q := picture.Fine
	if k := math.Sqrt(whole / float64(max(1, pixels))); k > 1 {
		q.Coarse = math.Min(8, q.Coarse*k)
		q.Rays = max(4, int(float64(q.Rays)/k))
	}
	return q
}

// draw draws a job into img.
func (r *run) draw(img *image.RGBA, job model.Job, o scene.Options, view scene.View, step float64, both bool) error {
	a := solver.Solve(job, r.tables)
	work := solver.Plan(a, r.tables)
	ctx := context.Background()
	if r.env.Interrupt != nil {
		var done func()
		ctx, done = r.env.Interrupt(ctx)
		defer done()
	}
	sides := []bool{o.Before}
	if both {
		sides = []bool{false, true}
	}
	var shot picture.Shot
	var painter picture.Painter
	for i, before := range sides {
		o.Before = before
		s, err := scene.Make(a, work, r.tables, o)
		if err != nil {
			return fault{err.Error(), `mend the findings first; "risewright solve" lists them`}
		}
		w, err := picture.Prepare(ctx, s, careFor(img.Rect.Dx()*img.Rect.Dy()), nil)
		if errors.Is(err, context.Canceled) {
			return fault{"the picture was stopped, and nothing was written", "run it again"}
		}
		if err != nil {
			return err
		}
		if i == 0 { // both sides are seen by one eye, used to one light
			c := s.Camera(view, step)
			shot = picture.Shot{Camera: c, Time: o.Time, Exposure: w.Meter(c)}
		}
		if both {
			half := img.Rect.Dx() / 2
			shot.From, shot.To = half, img.Rect.Dx()
			if before {
				shot.From, shot.To = 0, half
			}
		}
		frame := img
		if i > 0 { // only its own columns are taken over
			frame = image.NewRGBA(img.Rect)
		}
		if err := painter.Still(w, shot, frame, drawnFrames); err != nil {
			return err
		}
		if i > 0 {
			for y := range img.Rect.Dy() {
				copy(img.Pix[y*img.Stride:y*img.Stride+4*shot.To], frame.Pix[y*frame.Stride:])
			}
		}
	}
	if ctx.Err() != nil { // a stop that came while it was drawn counts as well
		return fault{"the picture was stopped, and nothing was written", "run it again"}
	}
	return nil
}
