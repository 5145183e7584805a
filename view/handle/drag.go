package handle

import (
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
	case FloorBottom:
		return dragOverlay(job, &job.Overlay.FloorBottom, to.Y-from.Y, o), nil
	case FloorTop:
		return dragOverlay(job, &job.Overlay.FloorTop, to.Y-from.Y, o), nil
	}
	g, err := gripOf(Steps(a), id, o.WholeSide)
	if err != nil {
		return nil, fmt.Errorf("drag %s: %w", id.Kind, err)
	}
	d := g.along(id, from, to, o)
	if d == ([2]float64{}) {
		return nil, nil
	}
	if len(g.held(a, nil)) == 0 {
		d = g.lead(d, float64(job.SketchSpread))
	}
	return g.edit(job, id, d)
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
	aside := model.SetAside{IDs: held, Aside: true}
	freed, err := aside.Apply(job)
	if err != nil {
		return nil, fmt.Errorf("release %s: %w", id.Kind, err)
	}
	// Without the readings the estimate goes back towards the sketch; what it
	// goes is added to the way of the pointer.
	h, err := gripOf(survey.Solve(freed).Steps, id, o.WholeSide)
	if err != nil {
		return nil, fmt.Errorf("release %s: %w", id.Kind, err)
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
	edit, err := h.edit(freed, id, h.lead(d, float64(job.SketchSpread)))
	if err != nil {
		return nil, err
	}
	return model.Batch{Name: "free and move " + id.words(g.steps), Edits: []model.Edit{aside, edit}}, nil
}

// along returns the way of the pointer along the axes of the grip, in true mm
// and snapped.
func (g *grip) along(id ID, from, to drawing.Point, o Options) [2]float64 {
	var d [2]float64
	switch id.Kind {
	case TreadHeight:
		d[0] = to.Y - from.Y
	case Overhang: // on the section: X is up the flight
		d[0] = to.X - from.X
	default:
		way := o.unturn(to).Sub(o.unturn(from))
		if id.Kind == Corner {
			way = way.Mul(1 / o.cornerGain(&g.steps[g.step]))
		}
		for i := 0; i < g.n; i++ {
			d[i] = way.Dot(g.axes[i])
		}
	}
	for i := range d {
		if o.Snap > 0 {
			d[i] = math.Round(d[i]/float64(o.Snap)) * float64(o.Snap)
		}
	}
	return d
}

// leastResponse bounds how much further than the pointer the sketch is moved.
// A free handle follows its sketch by six tenths and more; less means that
// something else holds it, and the sketch is not torn away after it.
const leastResponse = 0.2

// lead returns the move of the sketch that makes the estimate move by d.
func (g *grip) lead(d [2]float64, spread float64) [2]float64 {
	r, known := g.response(spread)
	if !known {
		return d
	}
	if g.n < 2 {
		d[0] /= math.Max(r[0][0], leastResponse)
		return d
	}
	det := r[0][0]*r[1][1] - r[0][1]*r[1][0]
	if det < leastResponse*leastResponse {
		return d
	}
	return [2]float64{
		(r[1][1]*d[0] - r[0][1]*d[1]) / det,
		(r[0][0]*d[1] - r[1][0]*d[0]) / det,
	}
}

// edit returns the edit that moves the sketch of the grip by d.
func (g *grip) edit(job model.Job, id ID, d [2]float64) (model.Edit, error) {
	if len(g.steps) != len(job.Flight.Steps) {
		return nil, fmt.Errorf("drag %s: the answer is not of this job", id.Kind)
	}
	name := id.words(g.steps)
	if g.heights != nil {
		e := model.MoveHeights{Name: name}
		for _, i := range g.heights {
			s := &job.Flight.Steps[i]
			e.Moves = append(e.Moves, model.HeightMove{Step: s.ID,
				Left: s.TopLeft + model.Length(d[0]), Right: s.TopRight + model.Length(d[0])})
		}
		return e, nil
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
		if p.corner >= len(s.Corners) {
			return nil, fmt.Errorf("drag %s: the answer is not of this job", id.Kind)
		}
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
		return e, nil
	}
	return model.Batch{Name: "move " + name, Edits: []model.Edit{model.SetOverlay{Overlay: overlay}, e}}, nil
}

// dragOverlay returns the edit that moves one height of the overlay, which
// field points to within job, by dz; not below zero.
func dragOverlay(job model.Job, field *model.Length, dz float64, o Options) model.Edit {
	overlay, was := job.Overlay, *field
	to := &overlay.FloorBottom
	if field == &job.Overlay.FloorTop {
		to = &overlay.FloorTop
	}
	*to = snapped(was+model.Length(dz), o.Snap)
	if *to < 0 {
		*to = 0
	}
	if *to == was {
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
