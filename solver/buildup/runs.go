package buildup

import (
	"math"

	"risewright/model"
	"risewright/solver/survey"
)

// Run is one flight between floors and landings. It has its own number of
// risers, and codes ask its rises and goings to be alike among themselves only:
// a foot that has walked over a landing begins anew.
type Run struct {
	First, Last int // risers, counted from 1
	// Foot is the height of the floor or landing that it rises from, at mid
	// width, once all is laid.
	Foot float64
	// Rise is from there to the floor or landing that it rises to, finish to
	// finish.
	Rise Value
	// Pitch is that of its noses, rad: the sum of its rises above the first over
	// that of its goings. 0 when it has no going.
	Pitch Value

	RiseBefore, RiseAfter   Uniformity
	GoingBefore, GoingAfter Uniformity
	Nosing                  Uniformity
}

// Risers returns the number of risers.
func (r *Run) Risers() int { return r.Last - r.First + 1 }

// RunOf returns the index of the run to which riser k belongs.
func (r *Result) RunOf(k int) int {
	for i := range r.Runs {
		if k <= r.Runs[i].Last {
			return i
		}
	}
	return max(0, len(r.Runs)-1)
}

// GoingAt returns the number of the step whose going goes with riser k: its
// own, which lies at its foot, or where it rises from a floor or landing the
// one above it. It is 0 when the flight has neither.
func (r *Result) GoingAt(k int) int {
	if r.Steps[k-1].HasGoing {
		return k
	}
	if k < len(r.Steps) && r.Steps[k].HasGoing {
		return k + 1
	}
	return 0
}

// runsOf splits the job's risers at its landings.
func runsOf(job *model.Job) []Run {
	out := make([]Run, 0, 2)
	first := 1
	n := len(job.Flight.Steps)
	for i := range job.Flight.Steps {
		if i == n-1 || job.Flight.Steps[i].Landing {
			out = append(out, Run{First: first, Last: i + 1})
			first = i + 2
		}
	}
	return out
}

// windsFrom is how far a nose line must be turned against the first for the
// flight to count as one that turns, whose lengths add up step by step.
// Carpenters leave a degree or two; a turn is set out at 15 and more.
const windsFrom = 10 * math.Pi / 180

// winds says whether the flight turns or is broken by a landing.
func winds(job *model.Job, s *survey.Result) bool {
	first := &s.Steps[0]
	e := first.Corners[first.FR].Sub(first.Corners[first.FL])
	for i := range s.Steps {
		if job.Flight.Steps[i].Landing {
			return true
		}
		t := &s.Steps[i]
		d := t.Corners[t.FR].Sub(t.Corners[t.FL])
		if math.Abs(math.Atan2(e[0]*d[1]-e[1]*d[0], e.Dot(d))) > windsFrom {
			return true
		}
	}
	return false
}

// runs fills in what belongs to the flights by themselves, and the worst of
// them for the whole.
func (c *computation) runs() {
	o := c.out.Steps
	for n := range c.out.Runs {
		r := &c.out.Runs[n]
		low, high := r.First-1, r.Last
		r.RiseBefore = uniformity(o, low, high, &c.heights, riseBefore)
		r.RiseAfter = uniformity(o, low, high, &c.heights, riseAfter)
		r.GoingBefore = uniformity(o, low, high, nil, goingBefore)
		goings := &c.noses
		if c.winds { // the chain runs along y
			goings = nil
		}
		r.GoingAfter = uniformity(o, low, high, goings, goingAfter)
		r.Nosing = uniformity(o, low, high, nil, surveyedNosing)
		half := func(i int, w float64) (term, term) { return term{i, Left, w / 2}, term{i, Right, w / 2} }
		al, ar := half(high-1, 1)
		bl, br := half(low-1, -1)
		r.Rise = Value{o[high-1].NewTop.Mean() - r.Foot, c.heights.spread(al, ar, bl, br)}
	}
	all := func(of func(*Run) *Uniformity) Uniformity {
		worst := *of(&c.out.Runs[0])
		for n := range c.out.Runs[1:] {
			u := of(&c.out.Runs[n+1])
			adjacent := worst
			if u.AdjacentStep > 0 && (worst.AdjacentStep == 0 || u.Adjacent.At > worst.Adjacent.At) {
				adjacent = *u
			}
			if u.Count > 0 && (worst.Count == 0 || u.Spread.At > worst.Spread.At) {
				worst = *u
			}
			worst.Adjacent, worst.AdjacentStep, worst.AdjacentSide = adjacent.Adjacent, adjacent.AdjacentStep, adjacent.AdjacentSide
		}
		return worst
	}
	c.out.RiseBefore = all(func(r *Run) *Uniformity { return &r.RiseBefore })
	c.out.RiseAfter = all(func(r *Run) *Uniformity { return &r.RiseAfter })
	c.out.GoingBefore = all(func(r *Run) *Uniformity { return &r.GoingBefore })
	c.out.GoingAfter = all(func(r *Run) *Uniformity { return &r.GoingAfter })
	c.out.Nosing = all(func(r *Run) *Uniformity { return &r.Nosing })
}

// feet fills in the heights that the runs rise from. The tops must be known.
func (c *computation) feet() {
	for n := range c.out.Runs {
		r := &c.out.Runs[n]
		r.Foot = c.out.FloorBottom
		if r.First > 1 {
			r.Foot = c.out.Steps[r.First-2].NewTop.Mean()
		}
	}
}

// even returns the height at which the top of step i makes the rises of its run
// equal: p(i) = foot + j (head - foot)/N. The last step of a run is its head: a
// landing stays where its own build-up puts it, so that it serves both flights.
func (c *computation) even(i int) float64 {
	r := &c.out.Runs[c.out.RunOf(i+1)]
	head := c.out.Steps[r.Last-1].NewTop.Mean()
	if r.Last == c.n {
		head = c.out.Steps[c.n-1].OldTop.Mean() + c.out.FloorTop
	}
	return r.Foot + float64(i+2-r.First)*(head-r.Foot)/float64(r.Risers())
}

// windingGoings fills in the goings of one step of a flight that turns: square to
// the line below, for want of a y that runs up all of it.
func (c *computation) windingGoings(i int) {
	o, t, u := &c.out.Steps[i], &c.s.Steps[i], &c.s.Steps[i-1]
	value := func(point, line, p, a, b int) Value {
		s := &c.s.Steps[line]
		d, _ := offset(s.Corners[a], s.Corners[b], c.s.Steps[point].Corners[p])
		return Value{d, c.spreadOfOffset(line, point, a, b, p)}
	}
	o.GoingAfter = Sides{value(i, i-1, t.FL, u.FL, u.FR), value(i, i-1, t.FR, u.FL, u.FR)}
	if i == 1 || c.job.Flight.Steps[i-1].Landing {
		set := float64(model.NoseSetForward(*c.job))
		l, r := value(i-1, i-1, u.BL, u.FL, u.FR), value(i-1, i-1, u.BR, u.FL, u.FR)
		l.At, r.At = l.At-set, r.At-set
		o.GoingBefore = Sides{l, r}
		return
	}
	v := &c.s.Steps[i-2]
	o.GoingBefore = Sides{value(i-1, i-2, u.BL, v.BL, v.BR), value(i-1, i-2, u.BR, v.BL, v.BR)}
}

// windingFlight fills in the lengths of a flight that turns: goings at mid
// width, one after the other. Their spreads are added as if each were by itself.
func (c *computation) windingFlight() {
	sum, rise, n := c.climb(0, c.n)
	for k := range c.out.Runs {
		r := &c.out.Runs[k]
		g, up, _ := c.climb(r.First-1, r.Last)
		r.Pitch = pitchOf(up, g)
	}
	c.out.FlightGoing = sum
	c.out.SlopeLength = math.Hypot(c.out.FlightRise.At, sum.At)
	if n == 0 {
		return
	}
	c.out.MeanRise, c.out.MeanGoing = rise.At/float64(n), sum.At/float64(n)
	c.out.Pitch = pitchOf(rise, sum)
}

// pitchOf returns the angle of a rise over a going.
func pitchOf(rise, going Value) Value {
	q := rise.At*rise.At + going.At*going.At
	if q == 0 {
		return Value{}
	}
	return Value{math.Atan2(rise.At, going.At), math.Hypot(going.At*rise.Spread, rise.At*going.Spread) / q}
}

// climb adds up the goings of the steps with indices from up to to, and the
// rises that go with them, at mid width; n is how many.
func (c *computation) climb(from, to int) (sum, rise Value, n int) {
	width := math.Inf(1)
	for i := range c.out.Steps {
		width = math.Min(width, c.out.Steps[i].Width.At)
	}
	for i := from; i < to; i++ {
		o := &c.out.Steps[i]
		if !o.HasGoing {
			continue
		}
		g, r := o.GoingAfter.On(Middle), o.RiseAfter.On(Middle)
		if w := c.out.Steps[i-1].Winder; w != nil {
			g = w.Going(Walkline{Offset: width / 2})
		}
		sum = Value{sum.At + g.At, math.Hypot(sum.Spread, g.Spread)}
		rise = Value{rise.At + r.At, math.Hypot(rise.Spread, r.Spread)}
		n++
	}
	return sum, rise, n
}
