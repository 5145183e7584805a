package walk

import "math"

// lookAhead is how many steps ahead people look on a stair: about 3, Zietz and
// Hollands, J. Motor Behavior 41(4), 2009, abstract seen.
const lookAhead = 3

// needAhead and needBehind are the steps round somebody that are of use to them:
// one more than they look ahead, and the one behind. Common practice, no source.
const (
	needAhead  = 4
	needBehind = 1
)

// warnMost is the longest warning that is told apart, in seconds.
const warnMost = 10

// Score is what came of a run. Dark means less than the dim level. Steps are the
// treads; the floors at either end are none.
type Score struct {
	Walks     int
	Seconds   float64
	Footfalls int // feet that landed on steps

	Dark      int     // of them on a dark one
	DarkEntry int     // of those, before the entry latency was over
	Unlit     int     // ticks with a foot on a dark step and the entry latency over
	UnlitS    float64 // the same in seconds
	EntryDark float64 // longest time that somebody who came in stood on dark steps, seconds
	Dimly     int     // feet that landed on a step at no more than the dim level
	LookDark  int     // feet that landed while one of the next three steps was dark

	Warning      float64 // mean time that a step was lit before a foot landed on it, up to 10 s
	LeastWarning float64

	Lit       float64 // step-seconds that bars were lit
	Needless  float64 // of them while nobody near needed them
	BarHours  float64 // hours of a bar at full
	WattHours float64 // by Setup.BarW

	// Conflicts counts triggers where by the rules nobody could be: those of a
	// sensor that failed, or false ones.
	Conflicts int

	warn float64
}

func (sc *Score) close(s *Sim) {
	if sc.Footfalls > 0 {
		sc.Warning = sc.warn / float64(sc.Footfalls)
	}
	sc.UnlitS = float64(sc.Unlit) * s.dt
	sc.WattHours = sc.BarHours * s.setup.BarW
	sc.Conflicts = s.core.Conflicts()
}

// judge counts what the tick brought.
func (s *Sim) judge() {
	sc, n := &s.score, int(s.t.Bars)
	var need [MaxBars]bool
	for k := range s.bodies {
		b := &s.bodies[k]
		p := &b.place
		low, high := p.On-needBehind, p.On+needAhead
		if p.Way < 0 {
			low, high = p.On-needAhead, p.On+needBehind
		} else if p.Way == 0 {
			low, high = p.On-needBehind, p.On+needBehind
		}
		for i := max(0, low); i <= min(n-1, high); i++ {
			need[i] = true
		}
		s.feet(b)
	}
	for i := range s.bars {
		sc.BarHours += float64(s.bars[i].Level) / 255 * s.dt / 3600
		if !s.t.Lit(s.bars[i].Index) {
			s.litFor[i] = 0
			continue
		}
		s.litFor[i]++
		sc.Lit += s.dt
		if !need[i] {
			sc.Needless += s.dt
		}
	}
}

// feet judges the feet of one walker: where they stand, and one that has just
// landed. It runs before litFor takes in the tick.
func (s *Sim) feet(b *body) {
	sc, n := &s.score, int(s.t.Bars)
	p := &b.place
	step := func(k int) bool { return k >= 1 && k < n }
	dark := func(k int) bool { return !s.t.Lit(s.bars[k].Index) }
	entering := b.seen < 0 || s.tick < b.seen+s.late
	if step(p.On) && dark(p.On) || p.Lifting != p.On && step(p.Lifting) && dark(p.Lifting) {
		if entering {
			b.darkFor++
			sc.EntryDark = max(sc.EntryDark, float64(b.darkFor)*s.dt)
		} else {
			sc.Unlit++
		}
	}
	if p.On == b.landed {
		return
	}
	b.landed = p.On
	if !step(p.On) {
		return
	}
	sc.Footfalls++
	warning := min(warnMost, float64(s.litFor[p.On])*s.dt)
	switch {
	case dark(p.On):
		warning = 0
		sc.Dark++
		if entering {
			sc.DarkEntry++
		}
	case s.bars[p.On].Index <= s.t.Dim:
		sc.Dimly++
	}
	if sc.warn += warning; sc.Footfalls == 1 || warning < sc.LeastWarning {
		sc.LeastWarning = warning
	}
	for k := 1; k <= lookAhead; k++ {
		if at := p.On + k*p.Way; p.Way != 0 && step(at) && dark(at) {
			sc.LookDark++
			break
		}
	}
}

// Add adds another score to this one, for runs that are one after another.
func (sc *Score) Add(o Score) {
	if o.Footfalls > 0 && (sc.Footfalls == 0 || o.LeastWarning < sc.LeastWarning) {
		sc.LeastWarning = o.LeastWarning
	}
	sc.Walks += o.Walks
	sc.Seconds += o.Seconds
	sc.Footfalls += o.Footfalls
	sc.Dark += o.Dark
	sc.DarkEntry += o.DarkEntry
	sc.Unlit += o.Unlit
	sc.UnlitS += o.UnlitS
	sc.EntryDark = math.Max(sc.EntryDark, o.EntryDark)
	sc.Dimly += o.Dimly
	sc.LookDark += o.LookDark
	sc.Conflicts += o.Conflicts
	sc.Lit += o.Lit
	sc.Needless += o.Needless
	sc.BarHours += o.BarHours
	sc.WattHours += o.WattHours
	if sc.warn += o.warn; sc.Footfalls > 0 {
		sc.Warning = sc.warn / float64(sc.Footfalls)
	}
}
