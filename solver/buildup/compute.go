package buildup

import (
	"math"

	"risewright/model"
	"risewright/solver/survey"
)

const (
	// heightSpread is one standard deviation of a rail height or a headroom,
	// which carry no instrument of their own. A tape held plumb by hand is
	// given as ±2 mm; from memory.
	heightSpread = 2.0
	// Bedding is the least room an overlay board needs beside its own
	// thickness, for glue and shims. Common practice, no source.
	Bedding = 1.0
	// taperedGoing is the difference of left and right going beyond which a
	// tread is a winder, not a straight tread out of square: 2 degrees of skew
	// over a 914 mm flight is 32 mm, and no carpenter leaves more. Common
	// practice, no source.
	taperedGoing = 50.0
)

// Compute returns the build-up of the job on the estimated flight s. The
// survey must be of this job; otherwise the result has no steps.
func Compute(job model.Job, s *survey.Result) Result {
	n := len(job.Flight.Steps)
	if s == nil || n == 0 || len(s.Steps) != n {
		return Result{}
	}
	c := computation{job: &job, s: s, n: n}
	c.heights = newChain(s,
		func(t *survey.Step) int { return 2 * len(t.Corners) },
		func(t *survey.Step) int { return 2*len(t.Corners) + 1 })
	c.noses = newChain(s,
		func(t *survey.Step) int { return 2*t.FL + 1 },
		func(t *survey.Step) int { return 2*t.FR + 1 })
	c.faces = newChain(s,
		func(t *survey.Step) int { return 2*t.BL + 1 },
		func(t *survey.Step) int { return 2*t.BR + 1 })
	c.out.Steps = make([]Step, n)
	c.out.FloorBottom = float64(job.Overlay.FloorBottom)
	c.out.FloorTop = float64(job.Overlay.FloorTop)
	c.out.Runs = runsOf(&job)
	c.winds = winds(&job, s)
	c.tops()
	c.feet()
	c.rises()
	c.goings()
	c.winders()
	c.landings()
	c.treads()
	c.runs()
	c.flight()
	c.checks()
	return c.out
}

// computation is a result being made.
type computation struct {
	job                   *model.Job
	s                     *survey.Result
	n                     int
	heights, noses, faces chain
	winds                 bool // turns, or is broken by a landing
	out                   Result
}

// laid returns how much the tread of the step at index i is raised at its left
// and at its right.
func laid(job *model.Job, i int) (left, right float64) {
	if i == len(job.Flight.Steps)-1 {
		return float64(job.Overlay.FloorTop), float64(job.Overlay.FloorTop)
	}
	s, board := &job.Flight.Steps[i], job.TreadThickness(i)
	return float64(s.PackLeft + board), float64(s.PackRight + board)
}

func (c *computation) tops() {
	for i := range c.out.Steps {
		o, t := &c.out.Steps[i], &c.s.Steps[i]
		o.Number = i + 1
		l, r := c.heights.spread(term{i, Left, 1}), c.heights.spread(term{i, Right, 1})
		left, right := laid(c.job, i)
		o.OldTop = Sides{Value{t.TopLeft, l}, Value{t.TopRight, r}}
		o.NewTop = Sides{Value{t.TopLeft + left, l}, Value{t.TopRight + right, r}}
	}
}

func (c *computation) rises() {
	old := [2]float64{}
	now := [2]float64{c.out.FloorBottom, c.out.FloorBottom}
	for i := range c.out.Steps {
		o := &c.out.Steps[i]
		l := c.heights.spread(term{i, Left, 1}, term{i - 1, Left, -1})
		r := c.heights.spread(term{i, Right, 1}, term{i - 1, Right, -1})
		o.RiseBefore = Sides{Value{o.OldTop.Left.At - old[0], l}, Value{o.OldTop.Right.At - old[1], r}}
		o.RiseAfter = Sides{Value{o.NewTop.Left.At - now[0], l}, Value{o.NewTop.Right.At - now[1], r}}
		old = [2]float64{o.OldTop.Left.At, o.OldTop.Right.At}
		now = [2]float64{o.NewTop.Left.At, o.NewTop.Right.At}
	}
}

func (c *computation) goings() {
	forward := float64(model.NoseSetForward(*c.job))
	for i := 1; i < c.n; i++ {
		o, t, u := &c.out.Steps[i], &c.s.Steps[i], &c.s.Steps[i-1]
		if c.job.Flight.Steps[i-1].Landing {
			continue // what is walked there is the landing
		}
		o.HasGoing = true
		if c.winds {
			c.windingGoings(i)
			o.Tapered = math.Abs(o.GoingAfter.Left.At-o.GoingAfter.Right.At) > taperedGoing
			continue
		}
		o.GoingAfter = Sides{
			Value{t.Corners[t.FL][1] - u.Corners[u.FL][1], c.noses.spread(term{i, Left, 1}, term{i - 1, Left, -1})},
			Value{t.Corners[t.FR][1] - u.Corners[u.FR][1], c.noses.spread(term{i, Right, 1}, term{i - 1, Right, -1})},
		}
		// the survey's own figure is square to the nose line below, as it is read
		if f, ok := t.Figure(model.GoingLeft); ok {
			o.GoingAfter.Left = Value{f.Value, f.Spread}
		}
		if f, ok := t.Figure(model.GoingRight); ok {
			o.GoingAfter.Right = Value{f.Value, f.Spread}
		}
		o.Tapered = math.Abs(o.GoingAfter.Left.At-o.GoingAfter.Right.At) > taperedGoing
		// The old riser face k stands at the back of the opening below it. The
		// first has none: it is taken to stand behind the first nose line by
		// what the nose line was set forward.
		face := Sides{Value{At: u.Corners[u.BL][1]}, Value{At: u.Corners[u.BR][1]}}
		if i == 1 {
			o.GoingBefore = Sides{
				Value{face.Left.At - u.Corners[u.FL][1] - forward, within(u, part{2*u.BL + 1, 1}, part{2*u.FL + 1, -1})},
				Value{face.Right.At - u.Corners[u.FR][1] - forward, within(u, part{2*u.BR + 1, 1}, part{2*u.FR + 1, -1})},
			}
			continue
		}
		v := &c.s.Steps[i-2]
		o.GoingBefore = Sides{
			Value{face.Left.At - v.Corners[v.BL][1], c.faces.spread(term{i - 1, Left, 1}, term{i - 2, Left, -1})},
			Value{face.Right.At - v.Corners[v.BR][1], c.faces.spread(term{i - 1, Right, 1}, term{i - 2, Right, -1})},
		}
	}
}

// treads fills in what belongs to one tread.
func (c *computation) treads() {
	o := c.out.Steps
	ahead := float64(model.NoseSetForward(*c.job))
	for i := range o {
		t, s := &c.s.Steps[i], &c.job.Flight.Steps[i]
		k := &o[i]
		want := c.even(i)
		board := float64(c.job.TreadThickness(i))
		k.Packing = Sides{
			Value{want - k.OldTop.Left.At, k.OldTop.Left.Spread},
			Value{want - k.OldTop.Right.At, k.OldTop.Right.Spread},
		}
		k.Shim = k.Packing
		k.Shim.Left.At -= board
		k.Shim.Right.At -= board
		k.Room = i == c.n-1 || s.Landing || math.Min(k.Shim.Left.At, k.Shim.Right.At) >= Bedding

		front, frontSpread := between(t, t.FL, t.FR)
		back, backSpread := between(t, t.BL, t.BR)
		k.Width = Value{front, frontSpread}
		if back < front && t.BL != t.BR {
			k.Width = Value{back, backSpread}
		}
		left, right := laid(c.job, i)
		c.slopes(k, t, front, right-left)

		k.Nosing = float64(c.job.Overlay.Overhang)
		k.Forward = ahead - float64(c.job.Existing.Overhang)
		if s.Nosing == model.NosingPacked {
			// the face that was surveyed already stands where the old nose was
			k.Forward = ahead
		}
		k.Surveyed = Sides{Value{At: k.Nosing}, Value{At: k.Nosing}}
		if i > 0 {
			u := &c.s.Steps[i-1]
			k.Surveyed = Sides{c.projection(i, t, u, t.FL), c.projection(i, t, u, t.FR)}
		}
	}
}

// slopes fills in how level the tread lies, raised by pack more at its right end
// than at its left.
func (c *computation) slopes(k *Step, t *survey.Step, front, pack float64) {
	topLeft, topRight, fall, _, _, _ := survey.Unknowns(len(t.Corners))
	across := t.TopRight - t.TopLeft + pack
	k.Across = Value{across, within(t, part{topRight, 1}, part{topLeft, -1})}
	k.Fall = Value{t.Fall, within(t, part{fall, 1})}
	if front <= 0 {
		k.Slope = Value{math.Abs(t.Fall), k.Fall.Spread}
		return
	}
	x := across / front
	steep := math.Hypot(x, t.Fall)
	if steep == 0 {
		k.Slope = Value{0, math.Max(k.Across.Spread/front, k.Fall.Spread)}
		return
	}
	g := x / steep / front
	e := t.Corners[t.FR].Sub(t.Corners[t.FL]).Mul(g * x / front) // a wider tread is flatter
	k.Slope = Value{steep, within(t,
		part{topRight, g}, part{topLeft, -g}, part{fall, t.Fall / steep},
		part{2 * t.FR, -e[0]}, part{2*t.FR + 1, -e[1]}, part{2 * t.FL, e[0]}, part{2*t.FL + 1, e[1]})}
}

// projection returns how far corner f of t stands in front of the new riser,
// which covers the back edge of the opening u below.
func (c *computation) projection(i int, t, u *survey.Step, f int) Value {
	bl, br := u.Corners[u.BL], u.Corners[u.BR]
	e := br.Sub(bl)
	w := e.Len()
	riser := float64(c.job.Overlay.Riser)
	if w == 0 {
		return Value{At: float64(c.job.Overlay.Overhang)}
	}
	nx, ny := -e[1]/w, e[0]/w // up the flight, from the nose to the face
	d := t.Corners[f].Sub(bl)
	share := d.Dot(e) / (w * w) // place along the back edge, 0 at the left
	out := Value{At: -(d[0]*nx + d[1]*ny) - riser}
	nt, nu := unknowns(t), unknowns(u)
	if len(t.Cov) != nt*nt || len(u.Cov) != nu*nu || len(t.Cross) != nt*nu {
		return out
	}
	a := [2]part{{2 * f, -nx}, {2*f + 1, -ny}}
	b := [4]part{
		{2 * u.BL, nx * (1 - share)}, {2*u.BL + 1, ny * (1 - share)},
		{2 * u.BR, nx * share}, {2*u.BR + 1, ny * share},
	}
	v := 0.0
	for _, p := range a {
		for _, q := range a {
			v += p.weight * q.weight * t.Cov[p.at*nt+q.at]
		}
		for _, q := range b {
			v += 2 * p.weight * q.weight * t.Cross[p.at*nu+q.at]
		}
	}
	for _, p := range b {
		for _, q := range b {
			v += p.weight * q.weight * u.Cov[p.at*nu+q.at]
		}
	}
	out.Spread = math.Sqrt(math.Max(0, v))
	return out
}

// flight fills in what belongs to the flight as a whole.
func (c *computation) flight() {
	o := c.out.Steps
	first, last := &o[0], &o[c.n-1]
	end := c.n - 1
	half := func(i int, w float64) (term, term) { return term{i, Left, w / 2}, term{i, Right, w / 2} }
	al, ar := half(end, 1)
	bl, br := half(0, -1)
	total := c.heights.spread(al, ar)
	c.out.FlightRiseBefore = Value{last.OldTop.Mean(), total}
	c.out.FlightRise = Value{last.NewTop.Mean() - c.out.FloorBottom, total}
	t, u := &c.s.Steps[end], &c.s.Steps[0]
	c.out.FlightGoing = Value{
		(t.Corners[t.FL][1] + t.Corners[t.FR][1] - u.Corners[u.FL][1] - u.Corners[u.FR][1]) / 2,
		c.noses.spread(al, ar, bl, br),
	}
	c.out.SlopeLength = math.Hypot(c.out.FlightRise.At, c.out.FlightGoing.At)
	if c.n < 2 {
		return
	}
	if c.winds {
		c.windingFlight()
		c.bothTogether()
		return
	}
	rise := Value{last.NewTop.Mean() - first.NewTop.Mean(), c.heights.spread(al, ar, bl, br)}
	going := c.out.FlightGoing
	c.out.MeanRise = rise.At / float64(c.n-1)
	c.out.MeanGoing = going.At / float64(c.n-1)
	c.out.Pitch.At = math.Atan2(rise.At, going.At)
	if q := rise.At*rise.At + going.At*going.At; q > 0 {
		c.out.Pitch.Spread = math.Hypot(going.At*rise.Spread, rise.At*going.Spread) / q
	}
	c.out.Runs[0].Pitch = c.out.Pitch
	c.bothTogether()
}

// bothTogether fills in twice the rise plus the going of every riser.
func (c *computation) bothTogether() {
	for i := range c.out.Steps {
		k := c.out.GoingAt(i + 1)
		if k == 0 {
			continue
		}
		r, e := c.out.Steps[i].RiseAfter.On(Middle), c.out.Steps[k-1].GoingAfter.On(Middle)
		c.out.Steps[i].TwoRisePlusGoing = Value{2*r.At + e.At, math.Hypot(2*r.Spread, e.Spread)}
	}
}

// checks fills in rails, headroom and doors.
func (c *computation) checks() {
	c.out.Headroom = c.heightChanges(c.job.Flight.Headroom)
	c.out.Rail = c.heightChanges(c.job.Flight.Rail)
	if len(c.job.Flight.Doors) > 0 {
		c.out.Doors = make([]DoorChange, len(c.job.Flight.Doors))
	}
	for i, d := range c.job.Flight.Doors {
		up := c.out.FloorBottom
		if d.Top {
			up = c.out.FloorTop
		}
		after := float64(d.Gap) - up
		c.out.Doors[i] = DoorChange{
			ID: d.ID, Name: d.Name, Top: d.Top,
			Before: float64(d.Gap), After: after,
			Undercut: math.Max(0, float64(d.Clearance)-after),
		}
	}
}

// heightChanges returns heights above the noses after the overlay. A point
// stands still while the nose rises below it and the pitch line, moved forward
// by f, gains f·R/G. Points of a step the flight does not have are left out.
func (c *computation) heightChanges(hs []model.Height) []HeightChange {
	if len(hs) == 0 {
		return nil
	}
	out := make([]HeightChange, 0, len(hs))
	for _, h := range hs {
		i := c.job.StepIndex(h.Step)
		if i < 0 {
			continue
		}
		left, right := laid(c.job, i)
		ch := HeightChange{
			ID: h.ID, Step: i + 1,
			Before: Value{float64(h.Value), heightSpread},
			Raised: (left + right) / 2,
		}
		if c.out.MeanGoing > 0 {
			ch.Advanced = c.out.Steps[i].Forward * c.out.MeanRise / c.out.MeanGoing
		}
		ch.After = Value{ch.Before.At - ch.Raised - ch.Advanced, heightSpread}
		out = append(out, ch)
	}
	return out
}

// part is a weight on one unknown of a step's block.
type part struct {
	at     int
	weight float64
}

// within returns one standard deviation of a weighted sum of unknowns of one
// step, or 0 when the step has no covariance.
func within(t *survey.Step, parts ...part) float64 {
	n := unknowns(t)
	if len(t.Cov) != n*n {
		return 0
	}
	v := 0.0
	for _, p := range parts {
		for _, q := range parts {
			v += p.weight * q.weight * t.Cov[p.at*n+q.at]
		}
	}
	return math.Sqrt(math.Max(0, v))
}

// between returns the plan distance of two corners and its spread.
func between(t *survey.Step, a, b int) (distance, spread float64) {
	d := t.Corners[b].Sub(t.Corners[a])
	w := d.Len()
	if w == 0 {
		return 0, 0
	}
	x, y := d[0]/w, d[1]/w
	return w, within(t, part{2 * b, x}, part{2*b + 1, y}, part{2 * a, -x}, part{2*a + 1, -y})
}
