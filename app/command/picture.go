package command

import (
	"context"
	"errors"
	"image"
	"math"

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
and after at the right of a line. --walker puts somebody on a step, such as 5.4, going up,
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
	s := sightFlags(f, "hall.png", 1280, 800)
	named, err := f.read(args)
	if err != nil {
		return Bad, err
	}
	if err := s.named(r, named); err != nil {
		return Bad, err
	}
	if err := s.possible(); err != nil {
		return Bad, err
	}
	if err := s.clear(); err != nil {
		return Bad, err
	}
	img := image.NewRGBA(image.Rect(0, 0, s.w, s.h))
	if err := r.draw(img, s); err != nil {
		return Bad, err
	}
	return s.write(r, img)
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

// draw draws what is seen into img.
func (r *run) draw(img *image.RGBA, seen *sight) error {
	a, work := seen.solved(r)
	o := seen.options()
	ctx, done := r.interruptible()
	defer done()
	const again = "run it again"
	made := func(before bool) (*scene.Scene, *picture.World, error) {
		o.Before = before
		s, err := scene.Make(a, work, r.tables, o)
		if err != nil {
			return nil, nil, noScene(err)
		}
		seen.tell(r, s)
		w, err := picture.Prepare(ctx, s, careFor(img.Rect.Dx()*img.Rect.Dy()), nil)
		if errors.Is(err, context.Canceled) {
			err = stopped(again)
		}
		return s, w, err
	}
	s, w, err := made(*seen.before)
	if err != nil {
		return err
	}
	var painter picture.Painter
	shot := picture.Shot{Camera: s.Camera(seen.from(), *seen.step), Time: o.Time}
	if *seen.both {
		_, before, fault := made(true)
		if fault != nil {
			return fault
		}
		err = painter.StillBoth(before, w, shot, img.Rect.Dx()/2, img, drawnFrames)
	} else {
		err = painter.Still(w, shot, img, drawnFrames)
	}
	if err != nil {
		return err
	}
	if ctx.Err() != nil { // a stop that came while it was drawn counts as well
		return stopped(again)
	}
	return nil
}
