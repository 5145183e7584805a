package handle

import (
	"errors"
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/survey"
	"risewright/view/drawing"
)

// Drag returns the edit that a drag of handle id from one point of its drawing
// to another makes of job. a answers job as it was at the press, and from is
// the pointer then; see the package comment for what follows the pointer. The
// edit of a drag too small to change anything is nil.
func Drag(job model.Job, a *solver.Answer, id ID, from, to drawing.Point, o Options) (model.Edit, error) {
	switch id.Kind {
	case Rail:
		return dragRail(job, id, to.Y-from.Y, o)
	case FloorBottom, FloorTop:
		return dragFloor(job, id, to.Y-from.Y, o), nil
	}
	g, err := gripOf(Steps(a), id, o.WholeSide)
	if err != nil {
		return nil, fmt.Errorf("drag %s: %w", id.Kind, err)
	}
	if err := g.suits(job); err != nil {
		return nil, fmt.Errorf("drag %s: %w", id.Kind, err)
	}
	d := g.along(id, from, to, o)
	if d == ([2]float64{}) {
		return nil, nil
	}
	if len(g.held(a, nil)) > 0 || id.Kind == Overhang || id.Kind == LandingDepth {
		return g.edit(job, id, d), nil
	}
	return g.edit(job, id, g.lead(job, id, d, o)), nil
}

// Release is Drag for a handle that readings hold: it sets them aside and moves
// the sketch so that the handle comes to lie under the pointer, in one edit.
func Release(job model.Job, a *solver.Answer, id ID, from, to drawing.Point, o Options) (model.Edit, error) {
	held := heldBy(a, id, o.WholeSide)
	if len(held) == 0 {
		return Drag(job, a, id, from, to, o)
	}
	g, err := gripOf(Steps(a), id, o.WholeSide)
	if err != nil {
		return nil, fmt.Errorf("release %s: %w", id.Kind, err)
	}
	// Without the readings the estimate goes back towards the sketch; what it
	// goes is added to the way of the pointer. It may turn on its way, so that
	// others hold it: they are set aside as well.
	var aside model.SetAside
	var freed model.Job
	var h *grip
	for range releaseRounds {
		aside = model.SetAside{IDs: held, Aside: true}
		if freed, err = aside.Apply(job); err != nil {
			return nil, fmt.Errorf("release %s: %w", id.Kind, err)
		}
		b := &solver.Answer{Job: freed, Survey: survey.Solve(freed)}
		if h, err = gripOf(b.Survey.Steps, id, o.WholeSide); err != nil {
			return nil, fmt.Errorf("release %s: %w", id.Kind, err)
		}
		still := len(held)
		held = h.held(b, held)
		if len(held) == still {
			break
		}
	}
	d := g.along(id, from, to, o)
	if g.heights != nil {
		s, t := &g.steps[g.step], &h.steps[g.step]
		d[0] += (s.TopLeft + s.TopRight - t.TopLeft - t.TopRight) / 2
	} else {
		gone := g.at().Sub(h.at())
		for i := 0; i < g.n; i++ {
			d[i] += gone.Dot(g.axes[i])
		}
		h.axes, h.n = g.axes, g.n
	}
	if err := h.suits(freed); err != nil {
		return nil, fmt.Errorf("release %s: %w", id.Kind, err)
	}
	edit := h.edit(freed, id, h.lead(freed, id, d, o))
	return model.Batch{Name: "free and move " + id.words(g.steps), Edits: []model.Edit{aside, edit}}, nil
}

// releaseRounds bounds how often setting readings aside may bring out others.
const releaseRounds = 4

// suits returns an error when the grip is not of this job.
func (g *grip) suits(job model.Job) error {
	ok := len(g.steps) == len(job.Flight.Steps)
	for i := 0; ok && i < len(g.steps); i++ {
		ok = len(g.steps[i].Corners) == len(job.Flight.Steps[i].Corners)
	}
	if !ok {
		return errors.New("the answer is not of this job; solve it again")
	}
	return nil
}

// along returns how far the grip is to move along its axes, in true mm and
// snapped.
func (g *grip) along(id ID, from, to drawing.Point, o Options) [2]float64 {
	var d [2]float64
	switch id.Kind {
	case TreadHeight:
		d[0] = to.Y - from.Y
	case Overhang: // on the section: X is up the flight
		d[0] = to.X - from.X
	default:
		way := o.unturn(to).Sub(o.unturn(from))
		for i := 0; i < g.n; i++ {
			d[i] = way.Dot(g.axes[i])
		}
		d = over(g.gain(&o), d, g.n)
	}
	for i := range d {
		if o.Snap > 0 {
			d[i] = math.Round(d[i]/float64(o.Snap)) * float64(o.Snap)
		}
	}
	return d
}

// gain returns how far the shown handle moves along axis a when the grip moves
// by 1 along axis b: 1 on the diagonal, and more for a corner where what is out
// of square is exaggerated.
func (g *grip) gain(o *Options) (m [2][2]float64) {
	m = [2][2]float64{{1, 0}, {0, 1}}
	if o.Factor() == 1 || g.heights != nil {
		return m
	}
	for k := 0; k < g.n; k++ {
		d := g.shownAt(g.displaced(k, probe), o).Sub(g.shownAt(g.displaced(k, -probe), o)).Mul(1 / (2 * probe))
		for i := 0; i < g.n; i++ {
			m[i][k] = d.Dot(g.axes[i])
		}
	}
	return m
}

// shownAt returns where the plan shows the handle on the given shape.
func (g *grip) shownAt(steps []survey.Step, o *Options) mgl64.Vec2 {
	var sum mgl64.Vec2
	var room [model.MaxCorners]mgl64.Vec2
	shown := o.Shown(room[:0], &steps[g.step]) // all anchors are corners of the grip's own step
	for _, a := range g.anchors {
		sum = sum.Add(shown[a.corner])
	}
	return sum.Mul(1 / float64(max(1, len(g.anchors))))
}

// over returns the x with m x = d, for n unknowns; d itself when m has no
// inverse to speak of.
func over(m [2][2]float64, d [2]float64, n int) [2]float64 {
	if n < 2 {
		return [2]float64{d[0] / math.Max(m[0][0], leastResponse)}
	}
	det := m[0][0]*m[1][1] - m[0][1]*m[1][0]
	if det < leastResponse*leastResponse {
		return d
	}
	return [2]float64{(m[1][1]*d[0] - m[0][1]*d[1]) / det, (m[0][0]*d[1] - m[1][0]*d[0]) / det}
}

// leastResponse bounds how much further than the pointer the sketch is moved.
// A free handle follows its sketch by six tenths and more; less means that
// something else holds it, and the sketch is not torn away after it.
const leastResponse = 0.2

const (
	// leadRounds bounds how often the move of a free handle is tried out. Each
	// takes a survey, and the miss shrinks tenfold each time or faster.
	leadRounds = 4
	// leadWithin is how near the handle has to come to the pointer, in mm.
	leadWithin = 0.25
)

// lead returns the move of the sketch that makes the estimate's handle move by
// d. The covariance gives it to first order; what bends is made good by trying.
func (g *grip) lead(job model.Job, id ID, d [2]float64, o Options) [2]float64 {
	spread := float64(job.SketchSpread)
	m, known := g.response(spread)
	if !known {
		return d
	}
	n := max(1, g.n)
	p := over(m, d, n)
	if g.heights != nil { // heights are linear
		return p
	}
	// m becomes how the shown handle answers the sketch, bettered each round by
	// what was seen (C. G. Broyden's good update; from memory).
	gain := g.gain(&o)
	m = product(gain, m)
	want := times(gain, d)
	was := g.shownAt(g.steps, &o)
	var before, step [2]float64
	for round := range leadRounds {
		moved, err := g.edit(job, id, p).Apply(job)
		if err != nil { // crossed: the caller finds out when applying the edit
			return p
		}
		way := g.shownAt(survey.Solve(moved).Steps, &o).Sub(was)
		var now, miss [2]float64
		for i := 0; i < n; i++ {
			now[i] = way.Dot(g.axes[i])
			miss[i] = want[i] - now[i]
		}
		if math.Hypot(miss[0], miss[1]) < leadWithin {
			break
		}
		if round == 0 {
			step = p
		}
		if q := step[0]*step[0] + step[1]*step[1]; q > 0 {
			guess := times(m, step)
			for i := 0; i < n; i++ {
				for k := 0; k < n; k++ {
					m[i][k] += (now[i] - before[i] - guess[i]) * step[k] / q
				}
			}
		}
		before, step = now, over(m, miss, n)
		p[0] += step[0]
		p[1] += step[1]
	}
	return p
}

func times(m [2][2]float64, d [2]float64) [2]float64 {
	return [2]float64{m[0][0]*d[0] + m[0][1]*d[1], m[1][0]*d[0] + m[1][1]*d[1]}
}

func product(a, b [2][2]float64) (m [2][2]float64) {
	for i := range 2 {
		for k := range 2 {
			m[i][k] = a[i][0]*b[0][k] + a[i][1]*b[1][k]
		}
	}
	return m
}

// edit returns the edit that moves the sketch of the grip by d. The job must
// suit the grip.
func (g *grip) edit(job model.Job, id ID, d [2]float64) model.Edit {
	name := id.words(g.steps)
	if g.heights != nil {
		e := model.MoveHeights{Name: name}
		for _, i := range g.heights {
			s := &job.Flight.Steps[i]
			e.Moves = append(e.Moves, model.HeightMove{Step: s.ID,
				Left: s.TopLeft + model.Length(d[0]), Right: s.TopRight + model.Length(d[0])})
		}
		return e
	}
	overlay := job.Overlay
	switch id.Kind {
	case Overhang:
		// The nose goes forward, down the flight, as the overhang grows.
		was := float64(overlay.Overhang)
		overlay.Overhang = model.Length(math.Max(0, was-d[0]))
		d[0] = was - float64(overlay.Overhang)
	case LandingDepth:
		was := float64(overlay.LandingDepth)
		overlay.LandingDepth = model.Length(math.Max(1, was+d[0]))
		d[0] = float64(overlay.LandingDepth) - was
	}
	e := model.MoveCorners{Name: name}
	for _, p := range g.corners {
		s := &job.Flight.Steps[p.step]
		axes := g.axes
		if id.Kind == Overhang {
			_, axes[0] = Axes(&g.steps[p.step])
		}
		by := mgl64.Vec2{}
		for i := 0; i < g.n; i++ {
			by = by.Add(axes[i].Mul(d[i]))
		}
		c := s.Corners[p.corner]
		e.Moves = append(e.Moves, model.CornerMove{Step: s.ID, Corner: p.corner,
			To: model.Corner{X: c.X + model.Length(by[0]), Y: c.Y + model.Length(by[1])}})
	}
	if overlay == job.Overlay {
		return e
	}
	return model.Batch{Name: "move " + name, Edits: []model.Edit{model.SetOverlay{Overlay: overlay}, e}}
}

// dragFloor returns the edit that moves the finish of a floor by dz; not below
// the old floor.
func dragFloor(job model.Job, id ID, dz float64, o Options) model.Edit {
	overlay := job.Overlay
	floor := &overlay.FloorBottom
	if id.Kind == FloorTop {
		floor = &overlay.FloorTop
	}
	*floor = max(0, snapped(*floor+model.Length(dz), o.Snap))
	if overlay == job.Overlay {
		return nil
	}
	return model.SetOverlay{Overlay: overlay}
}

// snapped returns l on the nearest multiple of snap.
func snapped(l, snap model.Length) model.Length {
	if snap <= 0 {
		return l
	}
	return model.Length(math.Round(float64(l/snap))) * snap
}

func dragRail(job model.Job, id ID, dz float64, o Options) (model.Edit, error) {
	f := &job.Flight
	e := model.SetChecks{Rail: append([]model.Height(nil), f.Rail...), Headroom: f.Headroom, Doors: f.Doors}
	for i := range e.Rail {
		h := &e.Rail[i]
		if h.ID != id.Height {
			continue
		}
		v := snapped(h.Value+model.Length(dz), o.Snap)
		if v < 0 {
			v = 0
		}
		if v == h.Value {
			return nil, nil
		}
		h.Value, h.Typed = v, ""
		return e, nil
	}
	return nil, fmt.Errorf("drag rail: the job has no such rail height; it may have been removed by another edit")
}
