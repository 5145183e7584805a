package sensing

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// rails works out the handrails: their height above the noses from what was
// measured, else the usual; on each side that is open or has a sensor under its
// rail.
func (st *Stair) rails(job *model.Job) {
	usual := st.t.Practised("rail_height")
	st.RailHeight = make([]float64, st.Risers)
	st.RailStanding = usual.Standing
	// The measured heights are of the old noses; the rail stays where it is
	// while the noses rise.
	type mark struct {
		at     int
		height float64
	}
	var marks []mark
	for _, h := range job.Flight.Rail {
		if i := job.StepIndex(h.Step); i >= 0 {
			old := float64(job.Flight.Steps[i].TopLeft+job.Flight.Steps[i].TopRight) / 2
			v := st.Nose[i]
			if z := old + float64(h.Value) - (v[0][2]+v[1][2])/2; z > 0 {
				marks = append(marks, mark{i, z})
			}
		}
	}
	for i := range st.RailHeight {
		st.RailHeight[i] = usual.Value
		best := math.MaxInt
		for _, m := range marks {
			if d := max(m.at-i, i-m.at); d < best {
				best, st.RailHeight[i] = d, m.height
			}
		}
	}
	if len(marks) > 0 {
		st.RailStanding = ""
	}
	for e, side := range [2]model.Edge{model.Left, model.Right} {
		for _, s := range job.Sensing.Sensors {
			st.railed[e] = st.railed[e] || s.Mount.AtRail() && s.Mount.Side() == side
		}
		for _, k := range st.sides[e] {
			st.railed[e] = st.railed[e] || k == model.Open
		}
		if !st.railed[e] {
			continue
		}
		// one piece from nose to nose, upright and flat through its middle
		for i := 0; i+1 < st.Risers; i++ {
			a, b := st.rail(e, float64(i)), st.rail(e, float64(i+1))
			down := mgl64.Vec3{0, 0, -st.deep}
			if a.Sub(b).Vec2().Len() < 1 {
				continue
			}
			st.sheets = append(st.sheets, sheetOf(a, b, b.Add(down), a.Add(down)))
			out := square2(b.Sub(a)).Mul(st.deep / 2).Vec3(0)
			mid := down.Mul(0.5)
			a, b = a.Add(mid), b.Add(mid)
			st.sheets = append(st.sheets, sheetOf(a.Sub(out), b.Sub(out), b.Add(out), a.Add(out)))
		}
	}
}

// rail returns the middle of the rail's top at a place along the flight, in from
// the side. Past the last nose line it runs on level; before the first it goes
// on down by one step, to as high above the floor, and then level.
func (st *Stair) rail(side int, along float64) mgl64.Vec3 {
	p, h := st.besideNoses(side, along, st.out)
	p[2] += h
	return p
}

// railUnder returns the height of the rail's underside over the nose line at
// index i.
func (st *Stair) railUnder(i int) float64 {
	i = min(max(i, 0), st.Risers-1)
	return (st.Nose[i][0][2]+st.Nose[i][1][2])/2 + st.RailHeight[i] - st.deep
}

// besideNoses returns the place on the line of the noses beside a side of the
// flight, in from it by so much, and the rail's height above it.
func (st *Stair) besideNoses(side int, along, in float64) (p mgl64.Vec3, rail float64) {
	n := st.Risers
	at := func(i int) mgl64.Vec3 { // on the nose line at index i
		v := st.Nose[i]
		d := v[1].Sub(v[0])
		s := min(in, d.Len()/2) / d.Len()
		if side == 1 {
			s = 1 - s
		}
		return v[0].Add(d.Mul(s))
	}
	switch {
	case along <= 0:
		p = at(0)
		out := st.square(0).Mul(along * st.Going[0])
		p = p.Add(out.Vec3(0))
		p[2] += (p[2] - st.floor) * max(along, -1)
		return p, st.RailHeight[0]
	case along >= float64(n-1):
		p = at(n - 1)
		out := st.square(n - 1).Mul((along - float64(n-1)) * st.Going[n-2])
		return p.Add(out.Vec3(0)), st.RailHeight[n-1]
	}
	i := int(along)
	t := along - float64(i)
	a, b := at(i), at(i+1)
	return a.Add(b.Sub(a).Mul(t)), st.RailHeight[i] + t*(st.RailHeight[i+1]-st.RailHeight[i])
}

// wallIn is how far a sensor on a wall stands out from it: half of a small
// housing, from memory.
const wallIn = 20

// Eye returns where a sensor's lens is and how it looks, with its class from
// the tables, or an error that says what is wrong with it.
func (st *Stair) Eye(s *model.Sensor) (Eye, error) {
	c, ok := st.t.Class(s.Class)
	if !ok {
		return Eye{}, fmt.Errorf("its class %q is not in the table", s.Class)
	}
	if why := c.Fault(); why != "" {
		return Eye{}, fmt.Errorf("its class cannot be used: %s", why)
	}
	p, ahead := st.Lens(s)
	return EyeOf(s, &c, p, ahead), nil
}

// Lens returns where a sensor's lens is, and the direction in plan in which it
// looks without yaw.
func (st *Stair) Lens(s *model.Sensor) (at mgl64.Vec3, ahead mgl64.Vec2) {
	if !s.Mount.Beside() {
		return mgl64.Vec3{float64(s.At.X), float64(s.At.Y), float64(s.At.Z)}, mgl64.Vec2{0, 1}
	}
	side, turn := 0, -1.0 // to the right of the way up
	if s.Mount.Side() == model.Right {
		side, turn = 1, 1
	}
	if s.Mount.AtRail() {
		at = st.rail(side, s.Along)
		at[2] -= st.deep + float64(s.Below)
	} else {
		at, _ = st.besideNoses(side, s.Along, wallIn)
		at[2] += float64(s.Below)
	}
	way := st.way(s.Along)
	return at, mgl64.Vec2{-way[1] * turn, way[0] * turn}
}
