package sensing

import (
	"math"

	"risewright/model"
)

// Span is a run of positions; it is empty when Last < First.
type Span struct{ First, Last int }

// None is the empty span.
var None = Span{0, -1}

// Len returns how many positions the span has.
func (s Span) Len() int { return max(0, s.Last-s.First+1) }

// Has says whether the span has a position.
func (s Span) Has(k int) bool { return k >= s.First && k <= s.Last }

// And returns what two spans share.
func (s Span) And(t Span) Span {
	if u := (Span{max(s.First, t.First), min(s.Last, t.Last)}); u.Len() > 0 {
		return u
	}
	return None
}

// Stretch is from one place along the flight to another, in steps; see
// model.Sensor for how they are counted. It is empty when To <= From.
type Stretch struct{ From, To float64 }

// Len returns its length in steps.
func (s Stretch) Len() float64 { return max(0, s.To-s.From) }

// Zone is what one sensor sees of those who walk on the stair.
type Zone struct {
	Sensor int // its place in the job
	ID     model.ID
	Name   string
	From   model.Sensor // that it is the zone of
	Eye    Eye
	// Err says why the sensor sees nothing at all, such as a class that is not in
	// the table; Removed that it was taken away. Both leave the rest empty.
	Err     string
	Removed bool

	// Least[k] is the share seen of the body at position k that is seen least,
	// among all bodies and lines; Most[k] that of the one seen most. Sees[k] says
	// that everybody is seen there, Glimpses[k] that somebody may be.
	Least, Most    []float64
	Sees, Glimpses []bool
	// Sure is the longest run of positions where everybody is seen, and May that
	// where somebody may be seen, which holds it. SureAt and MayAt are the same
	// along the flight, to a hundredth of a step; they end where floors are no
	// longer looked at.
	Sure, May     Span
	SureAt, MayAt Stretch
	// Stray are positions that are glimpsed outside May's run.
	Stray []int
	// Crossing is how much the walk through the zone crosses the sensor's view, 1
	// square across and 0 straight at it, taken evenly over the seen positions.
	Crossing float64
}

// Settled says whether the zone is of a sensor that works.
func (z *Zone) Settled() bool { return z.Err == "" && !z.Removed }

// along is how finely the ends of zones are found, in steps.
const along = 0.01

// watcher works out zones; it keeps its arrays from zone to zone.
type watcher struct {
	st                    *Stair
	bodies                []model.BodySize
	seen, plenty, glimpse float64
	l                     looker
	first                 int     // the body and line that decided last
	from, to              float64 // how far along it looks
}

func (st *Stair) watcher() *watcher {
	w := &watcher{st: st, bodies: st.t.Bodies, seen: st.t.Practised("seen").Value,
		plenty: st.t.Practised("plenty").Value, glimpse: st.t.Practised("glimpse").Value}
	deep := st.t.Practised("landing_deep").Value
	n := st.Risers
	w.from = min(-1, -deep/st.Going[0])
	w.to = float64(n-1) + max(1, deep/st.Going[n-2])
	return w
}

// view is how one body on one line is seen.
type view struct {
	share float64
	angle float64 // seen, in steradians
}

// view returns how a body is seen at a place along the flight; combo numbers
// bodies and lines.
func (w *watcher) view(e *Eye, combo int, at float64) view {
	b := &w.bodies[combo/len(w.st.Lines)]
	foot, face := w.st.Foot(&w.st.Lines[combo%len(w.st.Lines)], b, at)
	s := Standing(b, foot, face)
	seen, whole := w.l.measure(w.st, e, &s)
	if whole <= 0 {
		return view{}
	}
	return view{seen / whole, seen}
}

func (w *watcher) combos() int { return len(w.bodies) * len(w.st.Lines) }

// sure says whether a body seen so is sure to trigger a sensor.
func (w *watcher) sure(v view) bool { return v.angle > 0 && (v.share >= w.seen || v.angle >= w.plenty) }

// may says whether a body seen so may trigger a sensor.
func (w *watcher) may(v view) bool { return v.angle > 0 && v.angle >= w.glimpse }

// sees fills in what the eye of z sees at each position.
func (w *watcher) sees(z *Zone) {
	n := w.st.Risers + 1
	e := &z.Eye
	z.Least, z.Most = make([]float64, n), make([]float64, n)
	z.Sees, z.Glimpses = make([]bool, n), make([]bool, n)
	for k := range n {
		z.Least[k], z.Sees[k] = 1, w.combos() > 0
		for c := range w.combos() {
			v := w.view(e, c, Along(k))
			z.Least[k], z.Most[k] = min(z.Least[k], v.share), max(z.Most[k], v.share)
			z.Sees[k] = z.Sees[k] && w.sure(v)
			z.Glimpses[k] = z.Glimpses[k] || w.may(v)
		}
	}
}

// zone fills in what the eye of z sees.
func (w *watcher) zone(z *Zone) {
	e := &z.Eye
	w.first = 0 // a zone must not depend on the one before it
	w.sees(z)
	z.Sure, z.May = longest(z.Sees), longest(z.Glimpses)
	if z.Sure.Len() > 0 { // the run that holds the sure one
		z.May = runAbout(z.Glimpses, z.Sure.First)
	}
	for k, s := range z.Glimpses {
		if s && !z.May.Has(k) {
			z.Stray = append(z.Stray, k)
		}
	}
	if z.Sure.Len() > 0 {
		z.SureAt = Stretch{w.edge(e, z.Sure.First, -1, true), w.edge(e, z.Sure.Last, 1, true)}
		sum := 0.0
		for k := z.Sure.First; k <= z.Sure.Last; k++ {
			sum += w.crossing(e, Along(k))
		}
		z.Crossing = sum / float64(z.Sure.Len())
	}
	if z.May.Len() > 0 {
		z.MayAt = Stretch{w.edge(e, z.May.First, -1, false), w.edge(e, z.May.Last, 1, false)}
	}
}

// crossing returns the sine of the angle between the way of somebody who walks
// in the middle and the line to the lens, in plan.
func (w *watcher) crossing(e *Eye, at float64) float64 {
	foot, face := w.st.Foot(&Line{side: 0.5}, nil, at)
	d := foot.Sub(e.At).Vec2()
	if l := d.Len(); l > nearest {
		return math.Abs(d[0]*face[1]-d[1]*face[0]) / l
	}
	return 1
}

// edge returns where a run of positions ends that ends with k, going way: where
// the first of all bodies is no longer seen, or, not sure, the last no longer
// glimpsed. From the floors it goes on as far as is looked.
func (w *watcher) edge(e *Eye, k int, way float64, sure bool) float64 {
	in, out := Along(k), Along(k)+way
	if k == 0 && way < 0 {
		out = w.from
	} else if k == w.st.Risers && way > 0 {
		out = w.to
	}
	best := out // of the sure; else the farthest so far
	if !sure {
		best = in
	}
	n := w.combos()
	start := w.first
	for i := range n {
		c := (start + i) % n
		ok := func(at float64) bool {
			v := w.view(e, c, at)
			return sure && w.sure(v) || !sure && w.may(v)
		}
		if sure && ok(best) || !sure && (!ok(best) || best == out) {
			continue // it is not this body that decides
		}
		a, b := in, best
		if !sure {
			a, b = best, out
		}
		if at := w.last(a, b, ok); at != best {
			best, w.first = at, c
		}
	}
	return best
}

// last returns the last place from a on towards b at which ok holds, given that
// it holds at a. It goes step by step, so that a far place where it holds again
// does not count.
func (w *watcher) last(a, b float64, ok func(float64) bool) float64 {
	way := math.Copysign(1, b-a)
	for math.Abs(b-a) > 1 {
		if next := a + way; ok(next) {
			a = next
		} else {
			b = next
		}
	}
	if ok(b) {
		return b
	}
	for math.Abs(b-a) > along {
		if m := (a + b) / 2; ok(m) {
			a = m
		} else {
			b = m
		}
	}
	return a
}

// longest returns the longest run of positions, the lowest of several as long.
func longest(ok []bool) Span {
	best := None
	for k := 0; k < len(ok); k++ {
		if ok[k] {
			run := runAbout(ok, k)
			if run.Len() > best.Len() {
				best = run
			}
			k = run.Last
		}
	}
	return best
}

// runAbout returns the run about a position.
func runAbout(ok []bool, k int) Span {
	s := Span{k, k}
	for s.First > 0 && ok[s.First-1] {
		s.First--
	}
	for s.Last+1 < len(ok) && ok[s.Last+1] {
		s.Last++
	}
	return s
}

// Zones returns the zone of each sensor, in their order. What is unchanged since
// before, the zones of an earlier call on the same stair or nil, is taken over.
func (st *Stair) Zones(sensors []model.Sensor, before []Zone) []Zone {
	w := st.watcher()
	out := make([]Zone, len(sensors))
	for i := range sensors {
		if i < len(before) && before[i].From == sensors[i] && before[i].Sensor == i {
			out[i] = before[i]
			continue
		}
		out[i] = w.of(i, &sensors[i])
	}
	return out
}

func (w *watcher) of(i int, s *model.Sensor) Zone {
	z := Zone{Sensor: i, ID: s.ID, Name: s.Name, From: *s, Removed: s.Removed, Sure: None, May: None}
	e, err := w.st.Eye(s)
	switch {
	case err != nil:
		z.Err = err.Error()
	case !s.Removed:
		z.Eye = e
		w.zone(&z)
	}
	return z
}
