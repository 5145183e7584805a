package sensing

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// End is one end of a zone.
type End int

// The ends of a zone.
const (
	Lower End = iota
	Upper
)

// String returns "lower" or "upper".
func (e End) String() string {
	if e == Upper {
		return "upper"
	}
	return "lower"
}

const (
	// nearEnough is how near, in steps, a zone's end must come to where it was
	// dragged.
	nearEnough = 0.06
	// pastAxis is how far past the axis tape is put: beyond it hardly any lens is
	// left.
	pastAxis = 40 * model.Degree
	// turnMost is how far a drag turns a sensor.
	turnMost = 60 * model.Degree
	// halvings of a stretch of angles: 100° to 0.01°.
	halvings = 14
	// fineAngle and fineHood, in mm, are how finely tape and hoods are found.
	fineAngle = 0.01 * model.Degree
	fineHood  = 0.002
)

// DragEnd returns the zone of the sensor of z changed so that one end of its sure
// zone comes to a place along the flight: by tape on that side of its lens, or,
// where the lens does not see so far, by a shorter hood, or by turning it; From
// is the sensor as it is then. The other end keeps its place as far as tape can
// do that. When no change brings it there, it returns z and why.
func (st *Stair) DragEnd(z Zone, end End, to float64) (Zone, error) {
	w := st.watcher()
	s, e := z.From, z.Eye
	if z.Err != "" {
		return z, fmt.Errorf("sensor %s: %s", s.Name, z.Err)
	}
	if z.Sure.Len() == 0 {
		return z, fmt.Errorf("sensor %s is sure of no step, so that its zone has no end to drag; turn it to the stair first", s.Name)
	}
	way, at, other := -1.0, z.SureAt.From, z.SureAt.To
	if end == Upper {
		way, at, other = 1, z.SureAt.To, z.SureAt.From
	}
	if (to-other)*way < 2*along {
		return z, fmt.Errorf("the %s end of %s cannot pass its other end", end, s.Name)
	}
	if (to-w.from)*(to-w.to) > 0 {
		return z, fmt.Errorf("nothing is looked at so far out over the floor")
	}
	// One place just inside says whether the zone reaches; that its end is there
	// is looked at after.
	probe := to - way*along
	side, far, across := st.sideOf(&e, &z, way)
	tries := []func() (model.Sensor, bool){
		func() (model.Sensor, bool) { return st.byMask(w, s, side, probe) },
		func() (model.Sensor, bool) { return st.byMask(w, s, across, probe) },
		func() (model.Sensor, bool) { return st.byHood(w, s, side, probe) },
		func() (model.Sensor, bool) { return st.byTurn(w, s, side, probe) },
	}
	best, least := at, math.Inf(1)
	for i, try := range tries {
		t, ok := try()
		if !ok {
			continue
		}
		if i > 1 {
			t = st.hold(w, t, far, other, way)
		}
		y := w.of(z.Sensor, &t)
		if y.Sure.Len() == 0 {
			continue
		}
		got := y.SureAt.From
		if end == Upper {
			got = y.SureAt.To
		}
		if math.Abs(got-to) <= nearEnough {
			return y, nil
		}
		if d := math.Abs(got - to); d < least {
			best, least = got, d
		}
	}
	if (to-at)*way > 0 {
		return z, fmt.Errorf("sensor %s does not see so far: its %s end comes to %.1f at best; move it, or add a neighbour", s.Name, end, best)
	}
	return z, fmt.Errorf("sensor %s cannot be made to end there: it comes to %.1f; move it, or deepen its hood", s.Name, best)
}

// reaches says whether a sensor sees everybody at a place.
func (w *watcher) reaches(s *model.Sensor, at float64) bool {
	e, err := w.st.Eye(s)
	return err == nil && w.everybody(&e, at)
}

// everybody says whether everybody is seen at a place.
func (w *watcher) everybody(e *Eye, at float64) bool {
	n := w.combos()
	start := w.first
	for i := range n {
		c := (start + i) % n
		if !w.sure(w.view(e, c, at)) {
			w.first = c
			return false
		}
	}
	return n > 0
}

// The sides of a lens, as they are indexed in Eye.Sides.
const (
	leftSide = iota
	rightSide
	upSide
	downSide
)

// sideOf returns the side of the lens towards one end of a zone, the one
// opposite, and the better of the two square to them.
func (st *Stair) sideOf(e *Eye, z *Zone, way float64) (side, far, across int) {
	mid := (z.SureAt.From + z.SureAt.To) / 2
	a, _ := st.Foot(&Line{side: 0.5}, nil, mid)
	b, _ := st.Foot(&Line{side: 0.5}, nil, mid+way*max(0.5, z.SureAt.Len()/2))
	// as the lens sees them: where they lie off its axis
	off := func(p mgl64.Vec3) (r, u float64) {
		d := p.Add(mgl64.Vec3{0, 0, 900}).Sub(e.At)
		f := max(d.Dot(e.Axis), 1)
		return d.Dot(e.Right) / f, d.Dot(e.Up) / f
	}
	ra, ua := off(a)
	rb, ub := off(b)
	level, other, plumb, under := rightSide, leftSide, upSide, downSide
	if rb < ra {
		level, other = other, level
	}
	if ub < ua {
		plumb, under = under, plumb
	}
	if math.Abs(rb-ra) >= math.Abs(ub-ua) {
		return level, other, plumb
	}
	return plumb, under, level
}

// mask returns the tape on a side.
func mask(m *model.Mask, side int) *model.Angle {
	return [...]*model.Angle{&m.Left, &m.Right, &m.Up, &m.Down}[side]
}

// tightest returns the least value, between lose and hold, of what is set on a
// sensor at which everybody at a place is still seen, given that the more of it
// the more is seen and that hold is enough. One body and line decides; the others
// are only asked whether they are still seen.
func (w *watcher) tightest(at, lose, hold, fine float64, set func(v float64) model.Sensor) float64 {
	n := w.combos()
	start := w.first
	best := lose
	for i := range n {
		c := (start + i) % n
		seen := func(v float64) bool {
			s := set(v)
			e, err := w.st.Eye(&s)
			return err == nil && w.sure(w.view(&e, c, at))
		}
		if seen(best) {
			continue
		}
		a, b := best, hold
		for b-a > fine {
			if m := (a + b) / 2; seen(m) {
				b = m
			} else {
				a = m
			}
		}
		best, w.first = b, c
	}
	return best
}

// byMask tapes a side off as far as everybody at a place is still seen, or takes
// tape off. ok is false when they are not all seen with no tape at all.
func (st *Stair) byMask(w *watcher, s model.Sensor, side int, at float64) (model.Sensor, bool) {
	m := mask(&s.Mask, side)
	*m = 0
	if !w.reaches(&s, at) {
		return s, false
	}
	c, _ := st.t.Class(s.Class)
	open := 90 * model.Degree * 0.999
	if h := model.Angle(c.H.Value/2) * model.Degree; side < upSide || c.V.Value == 0 {
		open = min(open, h)
	} else {
		open = min(open, model.Angle(c.V.Value/2)*model.Degree)
	}
	taped := func(v float64) model.Sensor {
		t := s
		if v == 0 {
			v = 1e-6 // 0 is no tape
		}
		*mask(&t.Mask, side) = model.Angle(v)
		return t
	}
	hold := w.tightest(at, float64(-pastAxis), float64(open), float64(fineAngle), taped)
	if model.Angle(hold) >= open {
		return s, true
	}
	return taped(hold), true
}

// byHood shortens the hood until everybody at a place is seen, with no tape on
// that side.
func (st *Stair) byHood(w *watcher, s model.Sensor, side int, at float64) (model.Sensor, bool) {
	if s.Hood.Depth <= 0 {
		return s, false
	}
	*mask(&s.Mask, side) = 0
	deep := s.Hood.Depth
	s.Hood.Depth = 0
	if !w.reaches(&s, at) {
		return s, false
	}
	// the less deep the more is seen
	hooded := func(v float64) model.Sensor {
		t := s
		t.Hood.Depth = model.Length(-v)
		return t
	}
	return hooded(w.tightest(at, float64(-deep), 0, fineHood, hooded)), true
}

// byTurn turns the sensor towards a side until everybody at a place is seen, with
// no tape on it.
func (st *Stair) byTurn(w *watcher, s model.Sensor, side int, at float64) (model.Sensor, bool) {
	*mask(&s.Mask, side) = 0
	was := s
	turned := func(by model.Angle) model.Sensor {
		t := was
		switch side {
		case leftSide:
			t.Yaw += by
		case rightSide:
			t.Yaw -= by
		case upSide:
			t.Tilt = max(-90*model.Degree, t.Tilt-by)
		case downSide:
			t.Tilt = min(90*model.Degree, t.Tilt+by)
		}
		t.Yaw = model.Angle(within(float64(t.Yaw)))
		return t
	}
	// the first of even turns that reaches, then between it and the one before
	const turns = 12
	for i := 1; i <= turns; i++ {
		hold := turnMost * model.Angle(i) / turns
		s = turned(hold)
		if !w.reaches(&s, at) {
			continue
		}
		lose := turnMost * model.Angle(i-1) / turns
		for range halvings {
			mid := (hold + lose) / 2
			if t := turned(mid); w.reaches(&t, at) {
				hold = mid
			} else {
				lose = mid
			}
		}
		return turned(hold), true
	}
	return was, false
}

// hold tapes the far side so that the other end of the zone stays where it was,
// if it has moved out.
func (st *Stair) hold(w *watcher, s model.Sensor, far int, at, way float64) model.Sensor {
	out := at - way*3*along // a little further out than it was
	if !w.reaches(&s, out) {
		return s
	}
	t, ok := st.byMask(w, s, far, at+way*along)
	if !ok {
		return s
	}
	return t
}
