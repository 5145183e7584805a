package fitting

import (
	"fmt"
	"math"
	"strings"

	"risewright/model"
)

// Fixing says how treads are held down.
type Fixing string

// The ways.
const (
	// Glued in construction adhesive: about 24 h without feet (adhesive
	// makers' guidance pages).
	Glued Fixing = "glued and pinned"
	// Screwed down and plugged, on a dry bed: walked on at once.
	Screwed Fixing = "screwed and plugged"
)

// GlueHours is how long feet stay off a glued tread.
const GlueHours = 24.0

// Plan is the work by evenings.
type Plan struct {
	Fixing   Fixing
	Evenings []Evening
	// Closed counts the nights on which the stair cannot be used.
	Closed  int
	Minutes float64
	Notes   []string
}

// Evening is one evening's work.
type Evening struct {
	Number  int
	Tasks   []int // indices in Result.Order
	Minutes float64
	Holds   []string // what to stop for, in order
	// Walk are the steps that can be walked on tonight, from 1; Off those that
	// cannot.
	Walk, Off []int
	// Closed says that so many together are off that the stair is shut.
	Closed bool
	Waits  []Wait
	// Highest and Lowest are the rises that feet meet tonight, mm, with new
	// treads beside old ones; 0 when the build-up is not known.
	Highest, Lowest     float64
	HighestAt, LowestAt int // riser, from 1
	Notes               []string
}

// Wait is something that must dry, cure or be left alone.
type Wait struct {
	What  string
	Hours float64
}

// Minutes a piece takes: hours per piece of the trade notes, for a
// professional; a householder takes about twice as long. From memory there, and
// so here.
const (
	riserMinutes    = 21.0 // 0.3 to 0.4 h
	treadMinutes    = 45.0 // 0.6 to 0.9 h
	landingMinutes  = 60.0 // 1 to 2 h with cove
	floorMinutes    = 90.0 // of a landing between flights
	straightMinutes = 105.0
	scribedMinutes  = 240.0 // 3 to 5 h
	wiresMinutes    = 300.0 // 4 to 6 h
	barMinutes      = 24.0  // 0.3 to 0.5 h
	coveMinutes     = 8.0
	returnMinutes   = 36.0 // open side: 0.5 to 0.75 h a step, balusters with it
	balusterMinutes = 12.0
	beadMinutes     = 5.0
	capMinutes      = 40.0
	notchMinutes    = 5.0
	soakMinutes     = 60.0
	photoMinutes    = 10.0
	screwMinutes    = 8.0 // plugs, more on each tread
	novicePace      = 2.0 // a householder against a professional
	usualEvening    = 3.0 // hours
	// shutRun is how many neighbouring steps off make the stair unusable: one
	// can be stepped over going with a hand on the rail, two cannot.
	shutRun = 2
	// strayRise is the difference between two rises from which a night's
	// stair is marked: 3/8 in, what the US model code allows in a flight.
	strayRise = 9.5
)

// minutes returns what a piece takes at the pace of those who do it, and the
// stage of the table of labour it belongs to.
func (s *search) minutes(it *Item, d [2]Decision, w *model.Wishes, fixing Fixing) (v float64, stage string) {
	share := 1.0
	switch it.Kind {
	case Riser:
		v, stage = riserMinutes, "risers"
	case Tread:
		v, stage = treadMinutes, "treads"
	case Landing:
		v, stage = landingMinutes, "landing"
	case Floor:
		v = floorMinutes
	case Skirt:
		switch x := d[it.Side]; {
		case it.InPlace:
			return 0, ""
		case x.Board != OpenSide && !it.Outer && (x.RiserPast || x.TreadPast):
			v, stage = scribedMinutes, "skirt-scribed"
		default:
			v, stage = straightMinutes, "skirt-straight"
		}
	case Wires:
		v, stage = wiresMinutes, "wiring"
		if w.Left.Wiring && w.Right.Wiring {
			share = 0.5
		}
	case Bar:
		v, stage = barMinutes, "light-bars"
	case Cove:
		v = coveMinutes
	case Return:
		v, stage = returnMinutes, "open-side"
		if s.balusters(it, w) {
			share = 1 - balusterShare
		}
	case Baluster:
		v, stage, share = balusterMinutes, "open-side", balusterShare
	case BeadRun:
		v = beadMinutes
	case WireCap:
		v = capMinutes
	case Notch:
		v = notchMinutes
	case Hold:
		v = photoMinutes
		if strings.HasPrefix(it.ID, "hold: soak") {
			v = soakMinutes
		}
		return v, ""
	}
	listed := false
	for i := range s.p.Labour.Stages {
		if g := &s.p.Labour.Stages[i]; g.ID == stage && stage != "" {
			v, listed = g.Hours.Likely*60*share, true
		}
	}
	if !listed {
		stage = ""
	}
	if fixing == Screwed && (it.Kind == Tread || it.Kind == Landing) {
		v += screwMinutes
	}
	return v * s.pace(w), stage
}

// balusterShare is the part of an open step's hours that its balusters take,
// where it has any; our own split of the trade's one figure for both.
const balusterShare = 0.25

// balusters says whether the tread of a return nosing has balusters.
func (s *search) balusters(it *Item, w *model.Wishes) bool {
	return s.ends.hasBalusters(w, it.Side, it.Step-1)
}

// pace is how much longer than a professional those take who do the work.
func (s *search) pace(w *model.Wishes) float64 {
	switch p := s.p.Labour.Householder.Likely; {
	case !w.FirstTimer && !s.p.Job.Shop.Householder:
		return 1
	case p > 0:
		return p
	}
	return novicePace
}

// lay fills in order and joints for the winning choice.
func (s *search) lay(r *Result, w *model.Wishes, c choice) {
	b := buildOf(c, w, &s.ends)
	s.model[w.FirstTimer].fill(b, c, false)
	order, _ := b.graph().order(b.rank)
	e := s.enter(b, c, order)
	_, bodies := s.scene(c)
	r.Joints = b.joints
	of := map[string][]int{}
	for i, j := range b.joints {
		of[j.A] = append(of[j.A], i)
		if j.B != j.A {
			of[j.B] = append(of[j.B], i)
		}
	}
	fixing := Glued
	if w.Usable {
		fixing = Screwed
	}
	for _, n := range order {
		it := b.items[n]
		if it.Kind == hint {
			continue
		}
		t := Task{Item: it, Way: e.ways[it.ID], Joints: of[it.ID]}
		t.Minutes, t.Stage = s.minutes(&it, c.side, w, fixing)
		for _, i := range t.Joints {
			j := &b.joints[i]
			if j.Scribed != it.ID {
				continue
			}
			other := j.A
			if other == it.ID {
				other = j.B
			}
			t.Scribe = append(t.Scribe, "to "+other)
		}
		if body := bodies[it.ID]; body != nil {
			for k := range body.blocks {
				t.Shape = append(t.Shape, body.blocks[k].solid())
			}
		}
		s.reveal(&t, c)
		r.Order = append(r.Order, t)
	}
}

// reveal says what is left to be seen of a piece.
func (s *search) reveal(t *Task, c choice) {
	o := &s.p.Job.Overlay
	switch t.Kind {
	case Tread, Landing:
		t.Reveal, t.RevealBy = "nose past the riser's face", float64(o.Overhang)
	case Riser:
		t.Reveal, t.RevealBy = "top kept below the tread's underside", float64(o.RiserGap)
	case Skirt:
		if c.side[t.Side].Board != OpenSide && !t.InPlace && !t.Outer {
			t.Reveal, t.RevealBy = "top edge above the noses, square to the pitch", s.spec.Margin
		}
	case Bar:
		// set back at least 5 mm from the nose: common practice, no source
		t.Reveal, t.RevealBy = "set back from the nose", 5
	case Return:
		t.Reveal, t.RevealBy = "past the riser's face, as the nose", float64(o.Overhang)
	case WireCap:
		t.Note = "screws or magnets, none in the wires"
	case Hold:
		switch {
		case strings.HasPrefix(t.ID, "hold: photograph"):
			t.Note = "photograph every run with a rule in the picture before anything covers it"
		case strings.HasPrefix(t.ID, "hold: soak"):
			t.Note = "all bars at full power for an hour, before closing: feel for heat, look for dim or pink ends; low voltage only, what is on the mains is for a licensed electrician"
		}
	}
}

// plan deals the order out to evenings.
func (s *search) plan(r *Result, w *model.Wishes) {
	p := &r.Plan
	p.Fixing = Glued
	if w.Usable {
		p.Fixing = Screwed
		p.Notes = append(p.Notes,
			"treads are screwed and plugged on a dry bed, so that every step can be walked on every night; without adhesive bed them well, or they creak. Common practice, no source")
	} else {
		p.Notes = append(p.Notes,
			"feet stay off glued treads for about 24 hours; gluing every second tread suits fit adults in daylight only. With children or old people in the house spend these nights elsewhere")
		side := "top"
		if w.SleepBelow {
			side = "foot"
		}
		p.Notes = append(p.Notes, "end each gluing evening at the "+side+" of the stair, where the household sleeps")
	}
	p.Notes = append(p.Notes, "every night: no staples or nails proud, the handrail on, the stair lit. Dust, lead paint and old floor glue: the usual cautions, and the local rules, hold")
	budget := EveningHours(*w) * 60
	n := len(s.p.Survey.Steps)
	laid := make([]bool, n)
	var e *Evening
	var glued []int
	start := func() {
		p.Evenings = append(p.Evenings, Evening{Number: len(p.Evenings) + 1})
		e = &p.Evenings[len(p.Evenings)-1]
		glued = nil
	}
	finish := func() {
		if e != nil {
			s.night(e, p.Fixing, laid, glued)
			if e.Closed {
				p.Closed++
			}
		}
	}
	for i := range r.Order {
		t := &r.Order[i]
		if t.InPlace {
			continue
		}
		// A job longer than an evening has one to itself, and runs over.
		if e == nil || len(e.Tasks) > 0 && e.Minutes+t.Minutes > budget {
			finish()
			start()
		}
		t.Evening = e.Number
		e.Tasks = append(e.Tasks, i)
		e.Minutes += t.Minutes
		p.Minutes += t.Minutes
		switch t.Kind {
		case Hold:
			e.Holds = append(e.Holds, t.HoldWords())
		case Tread, Landing:
			laid[t.Step-1] = true
			if p.Fixing == Glued {
				glued = append(glued, t.Step)
			}
			if len(glued) == 1 || p.Fixing == Screwed && !hasHold(e, "dry-fit") {
				if !hasHold(e, "dry-fit") {
					e.Holds = append(e.Holds, "dry-fit: lay tonight's treads and risers loose, look at every joint and the rises, before adhesive or screws")
				}
			}
		}
	}
	finish()
	for i := range p.Evenings {
		if e := &p.Evenings[i]; e.Minutes > budget {
			e.Notes = append(e.Notes, fmt.Sprintf("this takes %.1f hours, more than an evening: begin early or spread it", e.Minutes/60))
		}
	}
}

// EveningHours returns the working hours of an evening.
func EveningHours(w model.Wishes) float64 {
	if w.EveningHours > 0 {
		return w.EveningHours
	}
	return usualEvening
}

func hasHold(e *Evening, word string) bool {
	for _, h := range e.Holds {
		if strings.HasPrefix(h, word) {
			return true
		}
	}
	return false
}

// night says what the stair is like after the evening's work.
func (s *search) night(e *Evening, fixing Fixing, laid []bool, glued []int) {
	off := map[int]bool{}
	for _, k := range glued {
		off[k] = true
	}
	run := 0
	for k := 1; k <= len(laid); k++ {
		if off[k] {
			e.Off = append(e.Off, k)
			if run++; run >= shutRun {
				e.Closed = true
			}
			continue
		}
		run = 0
		e.Walk = append(e.Walk, k)
	}
	if len(glued) > 0 {
		e.Waits = append(e.Waits, Wait{fmt.Sprintf("adhesive under %s", steps(glued)), GlueHours})
	}
	if e.Closed {
		e.Notes = append(e.Notes, "the stair is shut until the adhesive holds; bar it at both ends")
	}
	s.rises(e, laid)
}

// steps writes step numbers, which rise, as "steps 3 to 6".
func steps(ks []int) string {
	lo, hi := ks[0], ks[0]
	for _, k := range ks {
		lo, hi = min(lo, k), max(hi, k)
	}
	switch {
	case lo == hi:
		return fmt.Sprintf("step %d", lo)
	case hi-lo+1 == len(ks):
		return fmt.Sprintf("steps %d to %d", lo, hi)
	}
	var out []string
	for _, k := range ks {
		out = append(out, fmt.Sprint(k))
	}
	return "steps " + strings.Join(out, ", ")
}

// rises finds the highest and lowest rise of the night.
func (s *search) rises(e *Evening, laid []bool) {
	bu := s.p.Buildup
	if bu == nil || len(bu.Steps) != len(laid) {
		return
	}
	// the floors are taken as they are before the work until the first tread is
	// down, and as finished from then on
	below := 0.0
	if laid[0] {
		below = bu.FloorBottom
	}
	e.Highest, e.Lowest = math.Inf(-1), math.Inf(1)
	for k := range laid {
		top := bu.Steps[k].OldTop.Mean()
		if laid[k] {
			top = bu.Steps[k].NewTop.Mean()
		}
		rise := top - below
		below = top
		if rise > e.Highest {
			e.Highest, e.HighestAt = rise, k+1
		}
		if rise < e.Lowest {
			e.Lowest, e.LowestAt = rise, k+1
		}
	}
	if e.Highest-e.Lowest > strayRise {
		f := s.p.Job.Format()
		e.Notes = append(e.Notes, fmt.Sprintf("tonight riser %d is %s and riser %d is %s: mark both, people trip on a step unlike the others",
			e.HighestAt, f.Length(model.Length(e.Highest)), e.LowestAt, f.Length(model.Length(e.Lowest))))
	}
}

// HoldWords is what a hold point says: what to do, and what to look for.
func (t *Task) HoldWords() string {
	if side, ok := strings.CutPrefix(t.ID, "hold: photograph the wires "); ok {
		return fmt.Sprintf("photograph the wires %s: %s", side, t.Note)
	}
	if side, ok := strings.CutPrefix(t.ID, "hold: soak "); ok {
		return fmt.Sprintf("soak test, %s: %s", side, t.Note)
	}
	return strings.TrimPrefix(t.ID, "hold: ") + ": " + t.Note
}
