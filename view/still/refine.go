package still

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"sync"
	"sync/atomic"
	"time"

	"risewright/view/scene"
)

// Options say what is wanted of a picture. The zero value is 1920 by 1200 and
// goes on until it is stopped.
type Options struct {
	W, H int // pixels; 0 means 1920 and 1200
	Seed uint64
	// A picture is done when each pixel has Samples, when its grain (see
	// Film.Grain) is down to Grain, or when Time is up, whichever is first; 0
	// leaves one out.
	Samples int
	Grain   float64
	Time    time.Duration
	// Workers is how many goroutines follow paths; 0 means one for each core.
	Workers int
	// Straight leaves out light that comes by way of surfaces.
	Straight bool
	// True follows every path to its end, which is free of bias and takes several
	// times as long to look calm.
	True bool
	// Clock tells the time, for Progress and Time. Nil leaves both out.
	Clock func() time.Time
}

// leastMapped is how many pixels a picture must have for the map to be worth its
// while: a smaller one comes by each patch too seldom.
const leastMapped = 5000

// The size of a picture without options, and the most pixels one may have.
const (
	UsualW, UsualH = 1920, 1200
	mostPixels     = 64 << 20 // 64 million of 80 bytes: 5 GB
)

// Progress is how far a picture has come.
type Progress struct {
	Samples float64       // of a pixel, on the mean
	Grain   float64       // see Film.Grain; infinite at first
	Done    float64       // share of the way to the end, 0 to 1; 0 when there is no end
	Spent   time.Duration // since Run; 0 without a clock
	Left    time.Duration // as far as can be told; negative when it cannot
	Rays    int64         // followed so far, straight to lamps and on
	Stopped bool          // Run is over
}

// Refiner makes one picture better and better. Its methods may be called from
// any goroutine while Run works.
type Refiner struct {
	world  *world
	left   *world // what is seen left of film.split; nil: the same
	camera camera
	opt    Options

	running atomic.Bool
	stop    atomic.Bool

	filming sync.Mutex // held while a sixteenth is made, and while it is copied
	film    Film
	done    int // sixteenths

	telling sync.Mutex // never held for long
	at      Progress
}

// NewRefiner readies a picture of a scene. It refuses a size or a camera that
// gives no picture.
func NewRefiner(s *scene.Scene, c scene.Camera, o Options) (*Refiner, error) {
	if o.W == 0 && o.H == 0 {
		o.W, o.H = UsualW, UsualH
	}
	if o.W < 1 || o.H < 1 || o.W > mostPixels || o.H > mostPixels || o.W*o.H > mostPixels {
		return nil, fmt.Errorf("a picture of %d by %d pixels cannot be made: give each from 1 up, and at most %d million together", o.W, o.H, mostPixels>>20)
	}
	cam, err := newCamera(c, o.W, o.H)
	if err != nil {
		return nil, err
	}
	if o.Workers <= 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	return &Refiner{
		world: o.world(s), camera: cam, opt: o,
		film: Film{W: o.W, H: o.H, pixels: make([]pixel, o.W*o.H), angle: cam.step},
		at:   Progress{Grain: math.Inf(1), Left: -1},
	}, nil
}

// NewDivided readies a picture that shows one scene at the left of a column and
// another from there on, both seen by one eye that is used to the light of the
// right one: a stair before and after, say. Without a left scene, or a column, it
// is NewRefiner.
func NewDivided(left, right *scene.Scene, column int, c scene.Camera, o Options) (*Refiner, error) {
	r, err := NewRefiner(right, c, o)
	if err != nil {
		return nil, err
	}
	if column = min(column, r.opt.W-1); column > 0 && left != nil {
		r.left, r.film.split = r.opt.world(left), column
	}
	return r, nil
}

// world makes a scene ready.
func (o *Options) world(s *scene.Scene) *world {
	bounces := -1
	if o.Straight {
		bounces = 0
	}
	w := newWorld(s, bounces, o.True)
	if !o.Straight && !o.True && o.W*o.H >= leastMapped {
		w.newMap()
	}
	return w
}

// Render makes a picture until it is done, and calls report, when it is not nil,
// after every sixteenth of a pass. When ctx ends first it returns its error; the
// film then holds what there was.
func Render(ctx context.Context, s *scene.Scene, c scene.Camera, o Options, report func(Progress)) (*Film, error) {
	r, err := NewRefiner(s, c, o)
	if err != nil {
		return nil, err
	}
	err = r.Run(ctx, report)
	return r.Film(0), err
}

// order is the order of the sixteenths: each pixel of a block of four by four as
// far as can be from those before (Bayer's matrix).
var order = [16][2]int{
	{0, 0}, {2, 2}, {2, 0}, {0, 2}, {1, 1}, {3, 3}, {3, 1}, {1, 3},
	{1, 0}, {3, 2}, {3, 0}, {1, 2}, {0, 1}, {2, 3}, {2, 1}, {0, 3},
}

// Run refines the picture until it is done or Stop is called, and returns nil;
// or until ctx ends, and returns its error. It can be run again to go on. One
// run at a time: a second one is refused.
func (r *Refiner) Run(ctx context.Context, report func(Progress)) error {
	if !r.running.CompareAndSwap(false, true) {
		return errors.New("the picture is being refined already")
	}
	at := r.Progress()
	at.Stopped = false
	before, from := at.Spent, time.Time{}
	var pace time.Duration // of a sixteenth lately
	if r.opt.Clock != nil {
		from = r.opt.Clock()
	}
	tracers := make([]tracing, r.opt.Workers)
	for i := range tracers {
		t := newTracer(r.world)
		if tracers[i] = (tracing{t, t}); r.left != nil {
			tracers[i].left = newTracer(r.left)
		}
	}
	defer func() {
		at.Stopped = true
		r.say(at)
		r.stop.Store(false)
		r.running.Store(false)
	}()
	for !r.full(&at) && !r.stop.Load() {
		if err := ctx.Err(); err != nil {
			return err
		}
		r.sixteenth(ctx, tracers)
		if r.opt.Clock != nil {
			was := at.Spent
			at.Spent = before + r.opt.Clock().Sub(from)
			// The first one also measures the patches of the map, so it says
			// little of those to come.
			if pace == 0 || r.done <= 2 {
				pace = at.Spent - was
			}
			pace += (at.Spent - was - pace) / 8
		}
		r.measure(&at, tracers, pace)
		r.say(at)
		if report != nil {
			report(at)
		}
	}
	return nil
}

// tracing is what one goroutine follows paths with, at the left of the film's
// split and from there on; the same where there is none.
type tracing struct{ left, right *tracer }

// say lets others see how far the picture has come.
func (r *Refiner) say(p Progress) {
	r.telling.Lock()
	r.at = p
	r.telling.Unlock()
}

// Stop ends Run soon, or, when none has begun yet, the next one at once, and keeps
// what there is.
func (r *Refiner) Stop() { r.stop.Store(true) }

// Further puts the end of a picture that is done further off, to about twice the
// samples, so that it can be run again. It does nothing while Run works, or before
// the end.
func (r *Refiner) Further() {
	if !r.running.CompareAndSwap(false, true) {
		return
	}
	defer r.running.Store(false)
	at, o := r.Progress(), &r.opt
	if o.Samples > 0 && r.done >= 16*o.Samples {
		o.Samples *= 2
	}
	if o.Grain > 0 && at.Grain <= o.Grain { // noise goes down as the root of the samples
		o.Grain = at.Grain / math.Sqrt2
	}
	if o.Time > 0 && at.Spent >= o.Time {
		o.Time = 2 * at.Spent
	}
}

// Progress returns how far the picture has come.
func (r *Refiner) Progress() Progress {
	r.telling.Lock()
	defer r.telling.Unlock()
	return r.at
}

// Film returns a copy of the light so far, made smaller by a whole number so
// that it is about most pixels wide; 0 means as it is.
func (r *Refiner) Film(most int) *Film {
	r.filming.Lock()
	defer r.filming.Unlock()
	by := 1
	if most > 0 {
		by = max(1, (r.opt.W+most/2)/most)
	}
	var f *Film
	if by > 1 {
		f = r.film.shrunk(by)
	} else {
		f = &Film{W: r.film.W, H: r.film.H, pixels: append([]pixel(nil), r.film.pixels...), angle: r.film.angle, split: r.film.split}
	}
	f.filled()
	return f
}

// full says whether the picture is done.
func (r *Refiner) full(at *Progress) bool {
	o := &r.opt
	return o.Samples > 0 && r.done >= 16*o.Samples ||
		o.Grain > 0 && at.Grain <= o.Grain ||
		o.Time > 0 && o.Clock != nil && at.Spent >= o.Time
}

// tile is the side of the square of pixels that a goroutine takes at a time.
const tile = 64

// sixteenth gives every sixteenth pixel its next sample. Each pixel belongs to
// one goroutine, and its sample depends on the pixel and the number of the pass
// alone.
func (r *Refiner) sixteenth(ctx context.Context, tracers []tracing) {
	r.filming.Lock()
	defer r.filming.Unlock()
	pass, part := r.done/16, order[r.done%16]
	across := (r.film.W + tile - 1) / tile
	all := across * ((r.film.H + tile - 1) / tile)
	var next atomic.Int64
	var wait sync.WaitGroup
	for _, t := range tracers {
		wait.Go(func() {
			for {
				k := int(next.Add(1)) - 1
				// A stop is heeded between tiles; the sixteenth is then begun
				// again, so no pixel is sampled twice alike: those done keep
				// their count.
				if k >= all || r.stop.Load() || ctx.Err() != nil {
					return
				}
				r.tile(t, k%across*tile, k/across*tile, pass, part)
			}
		})
	}
	wait.Wait()
	if !r.stop.Load() && ctx.Err() == nil {
		r.done++
	}
}

// tile samples the pixels of a tile that belong to a sixteenth, and have not had
// the sample of this pass.
func (r *Refiner) tile(by tracing, x0, y0, pass int, part [2]int) {
	for y := y0 + part[1]; y < min(y0+tile, r.film.H); y += 4 {
		for x := x0 + part[0]; x < min(x0+tile, r.film.W); x += 4 {
			i := y*r.film.W + x
			p := &r.film.pixels[i]
			if int(p.n) > pass {
				continue
			}
			t := by.right
			if x < r.film.split {
				t = by.left
			}
			t.points = pointsOf(r.opt.Seed, i, pass)
			a, b := t.points.next()
			l := t.follow(r.camera.ray(float64(x)+0.5+tent(a), float64(y)+0.5+tent(b)))
			p.add(&l)
		}
	}
}

// tent spreads a number in [0, 1) over -1 to 1, most near 0: a pixel takes a
// little from its neighbours, so that edges are smooth.
func tent(a float64) float64 {
	if a < 0.5 {
		return math.Sqrt(2*a) - 1
	}
	return 1 - math.Sqrt(2-2*a)
}

// measure brings the progress up to date. The grain is looked at once a pass,
// since that takes as long as some thousand paths.
func (r *Refiner) measure(p *Progress, tracers []tracing, pace time.Duration) {
	o := &r.opt
	p.Samples = float64(r.done) / 16
	for _, by := range tracers {
		for _, t := range [2]*tracer{by.left, by.right} {
			p.Rays += t.rays
			t.rays = 0 // so that one that does both counts once
		}
	}
	if r.done%16 == 0 {
		p.Grain = r.film.Grain()
	}
	p.Done, p.Left = 0, -1
	shares := 0.0
	if o.Samples > 0 {
		shares = p.Samples / float64(o.Samples)
	}
	if o.Grain > 0 && p.Grain > 0 && !math.IsInf(p.Grain, 1) {
		// Noise goes down as the root of the samples, so the samples so far are
		// this share of those needed.
		shares = max(shares, min(1, o.Grain*o.Grain/(p.Grain*p.Grain)))
	}
	if shares > 0 && o.Clock != nil {
		p.Left = max(0, time.Duration(float64(pace)*float64(r.done)*(1/min(shares, 1)-1)))
	}
	if o.Time > 0 && o.Clock != nil {
		shares = max(shares, float64(p.Spent)/float64(o.Time))
		if left := max(0, o.Time-p.Spent); p.Left < 0 || left < p.Left {
			p.Left = left
		}
	}
	p.Done = min(shares, 1)
}

// inRows does a row's work for every row; see scene.Share.
func inRows(rows, workers int, do func(y int)) {
	_ = scene.Share(context.Background(), rows, workers, do) // it cannot end early
}
