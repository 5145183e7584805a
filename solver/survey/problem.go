package survey

import (
	"math"

	"risewright/model"
)

// Spreads of what is believed before anything is read, besides the sketch's
// own. One standard deviation each; common practice, no source.
const (
	// noseLinkSpread: the new nose line is marked from the riser face with a
	// block; rough risers bow and lean by a few millimetres.
	noseLinkSpread = 4.0
	// sideLinkSpread: sides run on from step to step, but site-built walls
	// wander. Wide enough not to bend an opening read by rods (0.35 mm): a
	// wander of 5 mm pulls it by 5·0.35²/12² = 0.004 mm.
	sideLinkSpread = 12.0
	// levelSpread: rough treads lie within about half a degree of level across.
	levelSpread = 0.008
	// fallSpread and leanSpread are the sketch's, in rise over run and radians.
	fallSpread = 0.01
	leanSpread = 0.03
)

// settings vary an estimate for the tests of its readings.
type settings struct {
	// looseSketch widens the sketch so far that no reading can conflict with it.
	looseSketch bool
	// without leaves readings out, by their place in problem.readings.
	without []int
	// mirrored reads the card of this step (counted from 1) as if its left and
	// right were swapped; 0 for none.
	mirrored int
	start    []float64 // where to start; nil: the sketch
}

// looseFactor makes a sketch spread of 25 mm into 250 mm: no sketch worth the name
// is farther out, and an unread flight still has a shape to settle on.
const looseFactor = 10

// taken is a reading in the estimate.
type taken struct {
	reading model.Reading
	step    int // -1 for the whole flight
	spread  float64
	used    bool
}

// problem is the job as numbers: where every unknown lies, the prior of each,
// and the readings.
type problem struct {
	job      *model.Job
	sites    []site
	n        int // unknowns
	width    int // half band width
	prior    []float64
	spread   []float64 // of each prior
	readings []taken
	forward  float64   // new nose line in front of the existing riser face
	landing  float64   // depth of the landing nosing
	runsOn   [][2]bool // which sides of each step run on straight past the riser above
	tilt     []float64 // sketched tilt across of each step, rad
}

func newProblem(job *model.Job) *problem {
	steps := job.Flight.Steps
	p := &problem{
		job:     job,
		sites:   make([]site, len(steps)),
		runsOn:  make([][2]bool, len(steps)),
		tilt:    make([]float64, len(steps)),
		forward: float64(model.NoseSetForward(*job)),
		landing: float64(job.Overlay.LandingDepth),
	}
	readings := len(job.Flight.Readings)
	for i := range steps {
		s := &steps[i]
		p.sites[i] = site{at: p.n, corners: len(s.Corners), fl: s.FrontLeft(), fr: s.FrontRight(), br: s.BackRight(), bl: s.BackLeft()}
		p.n += p.sites[i].count()
		w := p.sites[i].count() - 1
		if i > 0 {
			w += p.sites[i-1].count()
		}
		p.width = max(p.width, w)
		readings += len(s.Readings)
		if w := s.Corners[p.sites[i].fl].Distance(s.Corners[p.sites[i].fr]); w > shortest {
			p.tilt[i] = math.Atan(float64((s.TopRight - s.TopLeft) / w))
		}
	}
	for i := range steps[:len(steps)-1] {
		p.runsOn[i] = sidesRunOn(&steps[i], &steps[i+1], p.sites[i], p.sites[i+1])
	}
	p.prior = make([]float64, 0, p.n)
	p.spread = make([]float64, 0, p.n)
	sketch := float64(job.SketchSpread)
	for i := range steps {
		s := &steps[i]
		for _, c := range s.Corners {
			p.prior = append(p.prior, float64(c.X), float64(c.Y))
			p.spread = append(p.spread, sketch, sketch)
		}
		p.prior = append(p.prior, float64(s.TopLeft), float64(s.TopRight), math.Tan(float64(s.Fall)), float64(s.Left.Lean), float64(s.Right.Lean))
		p.spread = append(p.spread, sketch, sketch, fallSpread, leanSpread, leanSpread)
	}
	p.readings = make([]taken, 0, readings)
	add := func(rs []model.Reading, step int) {
		for _, r := range rs {
			sp := job.Spread(r)
			p.readings = append(p.readings, taken{reading: r, step: step, spread: sp, used: !r.Aside && sp > 0})
		}
	}
	add(job.Flight.Readings, -1)
	for i := range steps {
		add(steps[i].Readings, i)
	}
	return p
}

// eachLink calls use with every link between neighbours at shape x: the
// linearised row, what it should be, and its spread.
func (p *problem) eachLink(r *row, x []float64, set settings, use func(want, spread float64)) {
	level := levelSpread
	if set.looseSketch {
		level *= looseFactor
	}
	for i := range p.sites {
		s := p.sites[i]
		// rough treads are about as level across as they were sketched
		r.reset()
		if tiltAcross(r, x, s) {
			use(p.tilt[i], level)
		}
		if i == len(p.sites)-1 {
			// the depth of the landing nosing is chosen, not found
			for _, c := range [2]int{s.bl, s.br} {
				if offset(r, x, s.corner(s.fl), s.corner(s.fr), s.corner(c)) {
					use(p.landing, noseLinkSpread)
				}
			}
			continue
		}
		t := p.sites[i+1]
		// the nose line above lies the overhang and the new riser in front of this back edge
		for _, c := range [2]int{t.fl, t.fr} {
			if offset(r, x, s.corner(s.bl), s.corner(s.br), t.corner(c)) {
				use(-p.forward, noseLinkSpread)
			}
		}
		// Closed sides run on past the riser: both ends of the next side lie in
		// the plane of this one, which leans.
		if p.runsOn[i][0] {
			for _, c := range [2]int{t.fl, t.previous(t.fl)} {
				if offset(r, x, s.corner(s.next(s.bl)), s.corner(s.bl), t.corner(c)) {
					outward(r, x, s, t, 0, -1)
					use(0, sideLinkSpread)
				}
			}
		}
		if p.runsOn[i][1] {
			for _, c := range [2]int{t.fr, t.next(t.fr)} {
				if offset(r, x, s.corner(s.previous(s.br)), s.corner(s.br), t.corner(c)) {
					outward(r, x, s, t, 1, 1)
					use(0, sideLinkSpread)
				}
			}
		}
	}
}

// outward adds to r, times sign, how far the side of s leans outward over the
// rise to t: the opening of t lies that much higher.
func outward(r *row, x []float64, s, t site, side int, sign float64) {
	low, high := s.topLeft(), t.topLeft()
	if side == 1 {
		low, high = s.topRight(), t.topRight()
	}
	rise, tan := x[high]-x[low], math.Tan(x[s.lean(side)])
	r.predicted += sign * rise * tan
	r.term(high, sign*tan)
	r.term(low, -sign*tan)
	r.term(s.lean(side), sign*rise*(1+tan*tan))
}

// kindOf returns the kind a reading is taken for under set.
func (t *taken) kindOf(set settings) model.Kind {
	if set.mirrored > 0 && t.step == set.mirrored-1 {
		return t.reading.Kind.Mirrored()
	}
	return t.reading.Kind
}

// adjust estimates the shape under set.
func (p *problem) adjust(set settings) *solution {
	if set.start != nil {
		return p.system(set).adjust(set.start)
	}
	return p.system(set).adjust(p.prior)
}

// system returns the problem under set as plain least squares.
func (p *problem) system(set settings) *system {
	used := make([]bool, len(p.readings))
	for i := range p.readings {
		used[i] = p.readings[i].used
	}
	for _, i := range set.without {
		used[i] = false
	}
	sys := &system{n: p.n, width: p.width, prior: p.prior, spread: p.spread}
	if set.looseSketch {
		sys.spread = make([]float64, p.n)
		for i, s := range p.spread {
			sys.spread[i] = s * looseFactor
		}
	}
	for i := range p.readings {
		if t := &p.readings[i]; used[i] && t.step < 0 {
			sys.far = append(sys.far, farRow{t.reading.Value, t.spread, func(r *row, x []float64) bool {
				return observe(r, p.sites, -1, t.reading.Kind, x)
			}})
		}
	}
	sys.near = func(x []float64, r *row, put func(want, spread float64)) {
		p.eachLink(r, x, set, put)
		for i := range p.readings {
			if t := &p.readings[i]; used[i] && t.step >= 0 && observe(r, p.sites, t.step, t.kindOf(set), x) {
				put(t.reading.Value, t.spread)
			}
		}
	}
	return sys
}
