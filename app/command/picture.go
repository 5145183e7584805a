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
	s := sightFlags(f, "hall.png", 1280, 800)
	both := f.Bool("both", false, "")
	named, err := f.read(args)
	if err != nil {
		return Bad, err
	}
	if err := s.named(r, named); err != nil {
		return Bad, err
	}
	if err := s.steps(); err != nil {
		return Bad, err
	}
	if *s.before && *both {
		return Bad, fault{"picture: --before and --both cannot go together", "leave one out"}
	}
	if err := s.clear(); err != nil {
		return Bad, err
	}
	img := image.NewRGBA(image.Rect(0, 0, s.w, s.h))
	if err := r.draw(img, s, *both); err != nil {
		return Bad, err
	}
	more := ""
	switch {
	case *s.before:
		more = ", before"
	case *both:
		more = ", before at the left, after at the right"
	}
	return s.write(r, img, more)
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
func (r *run) draw(img *image.RGBA, seen *sight, both bool) error {
	a, work := seen.solved(r)
	o := seen.options()
	ctx, done := r.interruptible()
	defer done()
	const again = "run it again"
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
			return noScene(err)
		}
		w, err := picture.Prepare(ctx, s, careFor(img.Rect.Dx()*img.Rect.Dy()), nil)
		if errors.Is(err, context.Canceled) {
			return stopped(again)
		}
		if err != nil {
			return err
		}
		seen.tell(r, s)
		if i == 0 { // both sides are seen by one eye, used to one light
			c := s.Camera(seen.from(), *seen.step)
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
		return stopped(again)
	}
	return nil
}
