package panel

import (
	"context"
	"fmt"
	"image"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/sensing"
	"risewright/view/picture"
	"risewright/view/scene"
)

// pictured says which stair the picture shows.
type pictured int

const (
	showAfter pictured = iota
	showBefore
	showBoth // before at the left of the divider, after at its right
)

// pictureDesk is how the stair is being looked at, and the worlds that are drawn.
// It belongs to the goroutine of the interface; worlds are made and frames drawn
// beside it, one of each at a time.
type pictureDesk struct {
	desk    *Desk
	shows   pictured
	time    scene.Time
	walker  float64 // step; 0: nobody
	down    bool
	view    scene.View
	step    float64       // of the walking views
	camera  *scene.Camera // moved by hand; nil: that of the view
	divider float64       // 0 to 1 of the width

	draft, care picture.Quality // of the first look, and of what stays

	worlds   [2]*picture.World // after, before
	of       [2]worldKey       // what they show
	fine     [2]bool
	building bool
	cancel   context.CancelFunc
	fault    string

	painter  [2]picture.Painter
	average  picture.Average
	size     image.Point // wanted, in pixels
	front    *image.RGBA // what is shown
	back     *image.RGBA // what the painter may overwrite
	small    *image.RGBA
	painting bool
	again    bool // something has changed while a frame was drawn
	moving   bool
	moves    int     // counts movements, to know when they rest
	cost     float64 // ms of the last whole frame
	frames   int     // drawn so far, for tests

	shown func() // shows front; set by the widget
}

// worldKey is what a world was made for.
type worldKey struct {
	answer *solver.Answer
	work   *solver.Work
	o      worldOptions
}

// worldOptions are the options of a scene that can be compared.
type worldOptions struct {
	before bool
	time   scene.Time
	walker float64
	down   bool
	look   model.Look
}

func newPictureDesk(d *Desk) *pictureDesk {
	return &pictureDesk{desk: d, time: scene.Evening, view: scene.FromHall, divider: 0.5, step: 3,
		draft: picture.Draft, care: picture.Fine}
}

// open says whether the picture is being looked at.
func (p *pictureDesk) open() bool { return p.desk.tabs.shows(tabPicture) }

// key is what a world has to be made for; 0 is after, 1 before.
func (p *pictureDesk) key(side int) worldKey {
	d := p.desk
	k := worldKey{answer: d.session.Answer(), o: worldOptions{before: side == 1, time: p.time, walker: p.walker, down: p.down, look: d.session.Job().Look}}
	if w, fresh := d.Work(); fresh {
		k.work = w
	}
	return k
}

// needs says whether a side is to be seen.
func (p *pictureDesk) needs(side int) bool {
	return p.shows == showBoth || (p.shows == showBefore) == (side == 1)
}

// see sees to it that the worlds to be looked at are made: roughly at once, then
// with care, after first those that are missing.
func (p *pictureDesk) see() {
	if !p.open() {
		if p.cancel != nil {
			p.cancel()
		}
		return
	}
	side, fine := -1, false
	for s := range p.worlds {
		if p.needs(s) && (p.worlds[s] == nil || p.of[s] != p.key(s)) {
			side = s
			break
		}
	}
	if side < 0 {
		for s := range p.worlds {
			if p.needs(s) && !p.fine[s] {
				side, fine = s, true
				break
			}
		}
	}
	if side < 0 {
		return
	}
	if p.building {
		if k := p.key(side); !fine && p.cancel != nil && p.of[side] != k {
			p.cancel() // what is being made is no longer wanted
		}
		return
	}
	p.build(side, fine)
}

func (p *pictureDesk) build(side int, fine bool) {
	q := p.draft
	if fine {
		q = p.care
	}
	d, key := p.desk, p.key(side)
	ctx, cancel := context.WithCancel(context.Background())
	p.building, p.cancel = true, cancel
	tables, before := d.session.Tables(), p.worlds[side]
	sense := *d.sensedJob() // what it points to changes with the job
	var w *picture.World
	fault := ""
	d.later(func() { w, fault = worldOf(ctx, key, &sense, tables, q, before) }, func() {
		cancelled := ctx.Err() != nil
		cancel()
		p.building, p.cancel = false, nil
		if !cancelled && p.key(side) == key {
			p.fault = fault
			p.of[side], p.fine[side] = key, fine || w == nil
			if w != nil {
				p.worlds[side] = w
			}
			p.repaint(false)
			d.tell(Viewed)
		}
		p.see()
	})
}

// worldOf makes a world. Should that break down, which is our fault and not the
// job's, the window stays.
func worldOf(ctx context.Context, k worldKey, sense *sensing.Result, t model.Tables, q picture.Quality, before *picture.World) (w *picture.World, fault string) {
	defer func() {
		if cause := recover(); cause != nil {
			w, fault = nil, fmt.Sprintf("the program failed while making the picture: %v; nothing is lost", cause)
		}
	}()
	o := k.o
	s, err := scene.Make(k.answer, k.work, t, scene.Options{Before: o.before, Time: o.time, Walker: o.walker, Down: o.down, Look: o.look, Sense: sense})
	if err != nil {
		return nil, err.Error()
	}
	if w, err = picture.Prepare(ctx, s, q, before); err != nil {
		return nil, ""
	}
	return w, ""
}

// eye returns the camera, and false while there is nothing to look at.
func (p *pictureDesk) eye() (scene.Camera, bool) {
	for _, w := range p.worlds {
		if w == nil {
			continue
		}
		if p.camera != nil {
			return *p.camera, true
		}
		return w.Scene().Camera(p.view, p.step), true
	}
	return scene.Camera{}, false
}

// moveTo looks from elsewhere.
func (p *pictureDesk) moveTo(c scene.Camera) {
	p.camera = &c
	p.repaint(true)
}

// turn moves the eye by parts of the picture's height: about what it looks at,
// or, in the views of somebody walking, its gaze.
func (p *pictureDesk) turn(dx, dy float64) {
	c, ok := p.eye()
	if !ok {
		return
	}
	walking := p.view == scene.WalkingUp || p.view == scene.WalkingDown
	d := c.At.Sub(c.Eye)
	if walking {
		d = d.Mul(-1)
	}
	// From what is turned about to what turns.
	v := d.Mul(-1)
	far := v.Len()
	flat := math.Hypot(v[0], v[1])
	angle, rise := math.Atan2(v[1], v[0]), math.Atan2(v[2], flat)
	rate := 1.9
	if walking {
		rate = 1.1
		dx, dy = -dx, -dy
	}
	angle -= dx * rate
	rise = math.Max(-1.45, math.Min(1.45, rise+dy*rate))
	to := mgl64.Vec3{math.Cos(angle) * math.Cos(rise), math.Sin(angle) * math.Cos(rise), math.Sin(rise)}.Mul(far)
	if walking {
		c.At = c.Eye.Add(to)
	} else {
		c.Eye = c.At.Add(to)
	}
	p.moveTo(c)
}

// approach goes nearer by a share of the way, or walks along the stair.
func (p *pictureDesk) approach(by float64) {
	c, ok := p.eye()
	if !ok {
		return
	}
	if p.view == scene.WalkingUp || p.view == scene.WalkingDown {
		p.walk(by * 3)
		return
	}
	d := c.At.Sub(c.Eye)
	far := math.Max(250, math.Min(20000, d.Len()*(1-by)))
	c.Eye = c.At.Sub(d.Normalize().Mul(far))
	p.moveTo(c)
}

// walk goes so many steps on along the stair, the way one looks.
func (p *pictureDesk) walk(steps float64) {
	if p.view == scene.WalkingDown {
		steps = -steps
	}
	p.step = math.Max(0, math.Min(float64(p.desk.Steps()+1), p.step+steps))
	p.camera = nil
	p.repaint(true)
	p.desk.tell(Viewed)
}

// look changes the view.
func (p *pictureDesk) look(v scene.View) {
	p.view, p.camera = v, nil
	switch v {
	case scene.WalkingUp:
		p.step = 1
	case scene.WalkingDown:
		p.step = float64(p.desk.Steps())
	case scene.CloseUp:
		p.step = 0
	}
	p.repaint(false)
	p.desk.tell(Viewed)
}

// change changes what is to be seen, and makes what is missing.
func (p *pictureDesk) change(f func()) {
	f()
	p.see()
	p.repaint(false)
	p.desk.tell(Viewed)
}

// atWork says what is still being worked out, "" when all is.
func (p *pictureDesk) atWork() string {
	switch {
	case p.fault != "":
		return p.fault
	case p.building && p.worlds[0] == nil && p.worlds[1] == nil:
		return "The light is being followed…"
	case p.building:
		return "The light is being followed more finely…"
	}
	return ""
}

// stillFrames is how many frames smooth the edges of a picture that rests.
const stillFrames = 12

// repaint draws anew: coarsely while something moves.
func (p *pictureDesk) repaint(moving bool) {
	p.moving = moving
	p.moves++
	p.average.Reset(p.size)
	if p.painting {
		p.again = true
		return
	}
	p.paint()
}

// resize says how many pixels there are.
func (p *pictureDesk) resize(w, h int) {
	if s := image.Pt(w, h); s != p.size && w > 0 && h > 0 {
		p.size = s
		p.repaint(false)
	}
}

// paint draws one frame beside the interface, and shows it.
func (p *pictureDesk) paint() {
	c, ok := p.eye()
	size := p.size
	if !ok || !p.open() || size.X < 8 || size.Y < 8 {
		return
	}
	d := p.desk
	p.painting, p.again = true, false
	if p.back == nil || p.back.Rect.Size() != size {
		p.back = image.NewRGBA(image.Rectangle{Max: size})
	}
	coarse := 1
	if p.moving {
		coarse = coarseness(p.cost)
	} else if p.average.Size() != size {
		p.average.Reset(size)
	}
	f := frame{worlds: p.worlds, painter: &p.painter, camera: c, time: p.time, split: -1}
	for s := range f.worlds {
		if !p.needs(s) {
			f.worlds[s] = nil
		}
	}
	if p.shows == showBoth && f.worlds[0] != nil && f.worlds[1] != nil {
		f.split = p.divider
	}
	moves, back, moving := p.moves, p.back, p.moving
	shift := [2]float64{}
	if !moving {
		shift = p.average.Shift()
	}
	var err error
	var spent float64
	d.later(func() {
		began := d.session.Now()
		if coarse > 1 {
			small := image.Pt((size.X+coarse-1)/coarse, (size.Y+coarse-1)/coarse)
			if p.small == nil || p.small.Rect.Size() != small {
				p.small = image.NewRGBA(image.Rectangle{Max: small})
			}
			if err = f.draw(p.small, [2]float64{}); err == nil {
				picture.Enlarge(back, p.small)
			}
		} else {
			err = f.draw(back, shift)
		}
		spent = d.session.Now().Sub(began).Seconds() * 1000
	}, func() {
		p.painting = false
		if err != nil {
			p.fault = err.Error()
			return
		}
		p.frames++
		if coarse == 1 {
			p.cost = spent
		} else {
			p.cost = math.Max(p.cost*0.98, spent*float64(coarse*coarse)*0.8)
		}
		if moves == p.moves && !moving && back.Rect.Size() == p.average.Size() {
			copy(p.average.Frame().Pix, back.Pix)
			p.average.Take()
			p.average.Show(back)
		}
		p.front, p.back = back, p.front
		if p.shown != nil {
			p.shown()
		}
		switch {
		case p.again:
			p.paint()
		case moving:
			p.settle()
		case p.average.Count() < stillFrames && moves == p.moves:
			p.paint()
		}
	})
}

// settle draws with care once nothing has moved for a while.
func (p *pictureDesk) settle() {
	moves := p.moves
	p.desk.rested(func() {
		if moves == p.moves {
			p.repaint(false)
		}
	})
}

// coarseness is how many pixels wide a spot is while something moves, so that a
// frame whose whole takes so many ms comes in time.
func coarseness(ms float64) int {
	const inTime = 30 // ms
	switch {
	case ms <= inTime:
		return 1
	case ms <= 4*inTime:
		return 2
	}
	return 3
}

// frame is one frame to draw: what shows after, and before at the left of split
// unless that is below 0.
type frame struct {
	worlds  [2]*picture.World
	painter *[2]picture.Painter
	camera  scene.Camera
	time    scene.Time
	split   float64
}

func (f *frame) draw(img *image.RGBA, shift [2]float64) error {
	s := picture.Shot{Camera: f.camera, Shift: shift, Time: f.time}
	// Both sides are seen by one eye, used to one light.
	for _, w := range f.worlds {
		if w != nil {
			s.Exposure = w.Meter(f.camera)
			break
		}
	}
	for side, w := range f.worlds {
		if w == nil {
			continue
		}
		if f.split >= 0 {
			at := int(math.Round(f.split * float64(img.Rect.Dx())))
			s.From, s.To = at, img.Rect.Dx()
			if side == 1 {
				s.From, s.To = 0, at
			}
			if s.From >= s.To {
				continue
			}
		}
		if err := f.painter[side].Paint(w, s, img); err != nil {
			return err
		}
	}
	return nil
}
