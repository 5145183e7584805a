package demo

import (
	"math"
	"math/rand/v2"
	"time"

	"risewright/model"
)

// turnedPlan is a stair of our own invention that turns, before anybody measures
// it: a straight one to which edits are made, that then strays as site-built
// stairs do. Lengths are millimetres, angles radians.
type turnedPlan struct {
	risers             int
	rise, going, width float64
	// turns are made one after the other; at gives the id of a step, counted
	// from 1.
	turns func(at func(step int) model.ID) []model.Edit
	rough rough
	wall  float64 // how far one side strays in or out from step to step
	seed  uint64
}

// built returns j with the stair as it was meant, before it strays.
func (p turnedPlan) built(j model.Job, newID func(string) model.ID) (model.Job, error) {
	at := func(step int) model.ID { return stepID(newID, step-1) }
	j = model.Sketch(model.SketchSpec{Risers: p.risers, Width: model.Length(p.width), Rise: model.Length(p.rise), Going: model.Length(p.going), Base: j,
		IDs: func(i int) model.ID { return at(i + 1) }})
	for _, e := range p.turns(at) {
		var err error
		if j, err = e.Apply(j); err != nil {
			return j, err
		}
	}
	return j, nil
}

// motion is how one riser face strays in plan: turned about a place, then moved.
type motion struct {
	about, by model.Corner
	turn      float64
}

func (m motion) of(c model.Corner) model.Corner {
	sin, cos := math.Sincos(m.turn)
	x, y := float64(c.X-m.about.X), float64(c.Y-m.about.Y)
	return model.Corner{
		X: m.about.X + m.by.X + model.Length(x*cos-y*sin),
		Y: m.about.Y + m.by.Y + model.Length(x*sin+y*cos),
	}
}

// truth returns the openings of the stair j as it came out. A riser face strays
// with the nose line in front of it, so that the two stay parallel; a side
// strays from step to step; corners lie where the lines then meet.
func (p turnedPlan) truth(j model.Job) []opening {
	rng := rand.New(rand.NewPCG(p.seed, 1))
	wander := func(spread float64) float64 { return spread * clipped(rng) }
	steps := j.Flight.Steps
	n := len(steps)
	faces := make([]motion, n)
	out := make([]opening, n)
	z := 0.0
	for i := range steps {
		s := &steps[i]
		a, b := s.Corners[s.FrontLeft()], s.Corners[s.FrontRight()]
		w := b.Distance(a)
		up := model.Corner{X: -(b.Y - a.Y) / w, Y: (b.X - a.X) / w}
		step := model.Length(wander(p.rough.going))
		faces[i] = motion{about: model.Corner{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}, by: model.Corner{X: up.X * step, Y: up.Y * step}, turn: wander(p.rough.skew)}
		z += p.rise + wander(p.rough.rise)
		half := wander(p.rough.tilt) * float64(w) / 2
		out[i] = opening{edges: s.Edges, left: z - half, right: z + half, fall: wander(p.rough.fall)}
		for side := range out[i].lean {
			out[i].lean[side] = wander(p.rough.lean)
		}
	}
	for i := range steps {
		s := &steps[i]
		m := len(s.Corners)
		lines := make([][2]model.Corner, m)
		for c, e := range s.Edges {
			a, b := s.Corners[c], s.Corners[(c+1)%m]
			switch {
			case e == model.Front || e == model.Back && i == n-1:
				a, b = faces[i].of(a), faces[i].of(b)
			case e == model.Back:
				a, b = faces[i+1].of(a), faces[i+1].of(b)
			default:
				l, off := a.Distance(b), model.Length(wander(p.wall))
				x, y := off*(b.Y-a.Y)/l, off*(a.X-b.X)/l
				a, b = model.Corner{X: a.X + x, Y: a.Y + y}, model.Corner{X: b.X + x, Y: b.Y + y}
			}
			lines[c] = [2]model.Corner{a, b}
		}
		out[i].corner = make([]model.Corner, m)
		for c := range lines {
			before, after := lines[(c+m-1)%m], lines[c]
			if s.Edges[c] == model.Back { // which keeps its place
				before, after = after, before
			}
			out[i].corner[c] = meeting(before, after, s.Corners[c])
		}
	}
	return out
}

// meeting returns where two lines, each through two places, meet. Where one runs
// on in the line of the other, as the side of a landing in that of the riser
// behind it, it is the place of the first that lies beside near.
func meeting(p, q [2]model.Corner, near model.Corner) model.Corner {
	ux, uy := float64(p[1].X-p[0].X), float64(p[1].Y-p[0].Y)
	vx, vy := float64(q[1].X-q[0].X), float64(q[1].Y-q[0].Y)
	cross := ux*vy - uy*vx
	const inLine = 0.02 // as a sine: no two edges of an opening meet so flatly but in one line
	if math.Abs(cross) < inLine*math.Hypot(ux, uy)*math.Hypot(vx, vy) {
		x, y := float64(near.X-p[0].X), float64(near.Y-p[0].Y)
		t := model.Length((x*ux + y*uy) / (ux*ux + uy*uy))
		return model.Corner{X: p[0].X + t*model.Length(ux), Y: p[0].Y + t*model.Length(uy)}
	}
	dx, dy := float64(q[0].X-p[0].X), float64(q[0].Y-p[0].Y)
	t := model.Length((dx*vy - dy*vx) / cross)
	return model.Corner{X: p[0].X + t*model.Length(ux), Y: p[0].Y + t*model.Length(uy)}
}

// winding is a stair round a hall: a starting step that runs round to an open
// side, three winders, a flight that rises to a quarter landing, and a last one
// above it. All is read on bare wood, to be cut.
func winding() (Demo, error) {
	j, newID, err := begin("Chapel Row, winding", model.Metric)
	if err != nil {
		return Demo{}, err
	}
	j.Place = "a house on Chapel Row, stair round the hall (invented)"
	j.Notes = "Starting step with a quarter circle at the open side, three winders, a quarter landing. Balusters are numbered and off; the newels stay. All carpet is off and the noses are cut."
	j.Code, j.CodeClass = "irc", "dwelling"
	j.Overlay.Riser, j.Overlay.Overhang = 9, 22
	j.Overlay.FloorBottom, j.Overlay.FloorTop = 20, 20
	p := turnedPlan{
		risers: 15, rise: 182, going: 262, width: 952, wall: 1,
		rough: rough{rise: 0.7, going: 0.8, skew: 0.08 * degree, tilt: 0.0005, fall: 0.001, lean: 0.1 * degree},
		turns: func(at func(int) model.ID) []model.Edit {
			return []model.Edit{
				model.OpenSide{From: at(1), To: at(3), Side: model.Right, Returned: true, Balusters: 2, Length: 840},
				model.StartingStep{Width: 1100, Radius: 150},
				model.TurnToWinders{From: at(4), Count: 3, Angle: 90 * model.Degree, Side: model.Left, Well: 330},
				model.InsertLanding{At: at(10), Turn: model.QuarterTurn, Side: model.Left},
			}
		},
		seed: 1505,
	}
	if j, err = p.built(j, newID); err != nil {
		return Demo{}, err
	}
	c := sendTo(&j, p.truth(j), p.seed, time.Date(2026, 11, 9, 8, 15, 0, 0, time.UTC), newID)
	c.flight(model.Bare, model.TotalRise)
	for i := range j.Flight.Steps {
		c.step(i, model.Bare, false, everything...)
	}
	// what turns is read a second time, by the tools that fix its shape
	for _, step := range []int{4, 5, 6, 10} {
		c.step(step-1, model.Checked, false, model.FrontWidth, model.BackWidth, model.DiagonalLeft, model.DiagonalRight,
			model.GaugeFrontLeft, model.GaugeFrontRight, model.GaugeBackLeft, model.GaugeBackRight)
	}
	j.Flight.Rail = []model.Height{c.height("rail", 0, "925"), c.height("rail", 7, "930"), c.height("rail", 12, "928")}
	j.Flight.Headroom = []model.Height{c.height("headroom", 2, "2300"), c.height("headroom", 5, "2190")}
	j.Flight.Doors = []model.Door{{ID: newID("door"), Name: "hall door", Gap: 28, Clearance: 5}}
	return Demo{Job: j, stair: c.stair}, c.err
}
