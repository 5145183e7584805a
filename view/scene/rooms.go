package scene

import (
	"errors"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// Sizes of the rooms round the stair, mm, which no survey knows: usual ones,
// common practice, no source.
const (
	hallDeep    = 3900.0 // in front of the first nose
	hallWide    = 1500.0 // beside an open side
	hallNarrow  = 320.0  // beside a wall
	besideOpen  = 950.0  // beside an open side of a flight that turns
	landingDeep = 2300.0 // behind the last nose
	roomHigh    = 2400.0
	floorThick  = 290.0
	usualClear  = 2050.0 // under the ceiling edge, where none was measured
)

// place is where the stair stands in the house.
type place struct {
	straight bool
	o, d, r  mgl64.Vec3 // middle of the first nose in plan; up the flight; to the right
	p, e, s  mgl64.Vec3 // the same at the last nose
	floor    float64    // of the hall
	top      float64    // of the landing
	high     float64    // ceiling over the landing
	ceiling  float64    // of the hall
	edge     float64    // where that ends over the flight, along d from o
	open     [2]bool
	left     float64 // across, of the walls along a straight flight
	right    float64
	last     float64 // along d from o, of the last nose
	walls    [4]float64
}

var errFlat = errors.New("the first or the last nose has no width, so there is no picture; check the corners there")

// findPlace finds out where walls, floors and ceilings are.
func (m *maker) findPlace() error {
	s := m.a.Survey.Steps
	nose := func(i int) (o, d, r mgl64.Vec3, ok bool) {
		a, z := s[i].Corners[s[i].FL], s[i].Corners[s[i].FR]
		w := z.Sub(a)
		if !(w.Len() > 1) || !finite(a.Vec3(0)) || !finite(z.Vec3(0)) {
			return o, d, r, false
		}
		w = w.Normalize()
		return a.Add(z).Mul(0.5).Vec3(0), mgl64.Vec3{-w[1], w[0], 0}, w.Vec3(0), true
	}
	p := &m.place
	var ok, ok2 bool
	p.o, p.d, p.r, ok = nose(0)
	p.p, p.e, p.s, ok2 = nose(len(s) - 1)
	if !ok || !ok2 {
		return errFlat
	}
	p.straight = p.d.Dot(p.e) > 0.99
	if p.straight {
		// The whole flight's direction is steadier than one nose's.
		if d := p.p.Sub(p.o); d.Len() > 500 && d.Normalize().Dot(p.d) > 0.97 {
			p.d = d.Normalize()
			p.r = mgl64.Vec3{p.d[1], -p.d[0], 0}
		}
		for i := range m.a.Job.Flight.Steps {
			p.straight = p.straight && !m.a.Job.Flight.Steps[i].Landing
		}
	}
	p.floor, p.top = m.hallFloor(), m.topFloor()
	p.high = m.a.Survey.Steps[len(s)-1].TopLeft + roomHigh
	for side := range m.sides {
		for _, q := range m.sides[side] {
			p.open[side] = p.open[side] || q.kind == model.Open
		}
	}
	p.last = p.p.Sub(p.o).Dot(p.d)
	p.left, p.right = math.Inf(1), math.Inf(-1)
	for side := range m.sides {
		for _, q := range m.sides[side] {
			u := q.at.Sub(p.o).Dot(p.r)
			if side == 0 {
				p.left = math.Min(p.left, u-m.behind(0, q.kind))
			} else {
				p.right = math.Max(p.right, u+m.behind(1, q.kind))
			}
		}
	}
	m.findCeiling()
	return nil
}

// findCeiling finds where the hall's ceiling ends over the flight: at the
// tightest headroom that was read, or where it leaves the usual clear height.
func (m *maker) findCeiling() {
	p := &m.place
	s := m.a.Survey.Steps
	p.ceiling = s[len(s)-1].TopLeft - floorThick
	best := math.Inf(1)
	for _, h := range m.a.Job.Flight.Headroom {
		i := m.a.Job.StepIndex(h.Step)
		if i < 0 || i >= len(s) || float64(h.Value) >= best {
			continue
		}
		z := (s[i].TopLeft+s[i].TopRight)/2 + float64(h.Value)
		if z > s[len(s)-1].TopLeft-50 || z < 1900 {
			continue // hung from the roof, not from the floor above
		}
		best = float64(h.Value)
		l, r := m.oldNose(i)
		p.ceiling = z
		p.edge = l.Add(r).Mul(0.5).Vec3(0).Sub(p.o).Dot(p.d)
	}
	if math.IsInf(best, 1) {
		p.edge = -100
		for i := range s {
			z := (s[i].TopLeft + s[i].TopRight) / 2
			if p.ceiling-z < usualClear {
				break
			}
			l, r := m.oldNose(i)
			p.edge = l.Add(r).Mul(0.5).Vec3(0).Sub(p.o).Dot(p.d)
		}
	}
	p.edge = math.Max(p.edge, -200)
}

// at returns the place u to the right and v up from the first nose, z high.
func (p *place) at(u, v, z float64) mgl64.Vec3 {
	return p.o.Add(p.r.Mul(u)).Add(p.d.Mul(v)).Add(up.Mul(z))
}

// rooms adds the walls, floors and ceilings about the stair, and their lamps.
func (m *maker) rooms() {
	if m.place.straight {
		m.straightRooms()
	} else {
		m.turnedRooms()
	}
	m.sideWalls()
	m.underOpen()
	m.furnish()
	m.roomLamps()
}

// level adds a level rectangle, seen from above or from below.
func (m *maker) level(k skin, u0, u1, v0, v1, z float64, below bool) {
	p := &m.place
	if !(u1-u0 > 1 && v1-v0 > 1) {
		return
	}
	q := [4]mgl64.Vec3{p.at(u0, v0, z), p.at(u1, v0, z), p.at(u1, v1, z), p.at(u0, v1, z)}
	if below {
		q = [4]mgl64.Vec3{q[3], q[2], q[1], q[0]}
	}
	m.b.quad(k, q, nil)
}

// upright adds a plumb rectangle from one place to another, whose front is at
// the left of the way.
func (m *maker) upright(k skin, u0, v0, u1, v1, z0, z1 float64) {
	p := &m.place
	if !(z1-z0 > 1) || math.Hypot(u1-u0, v1-v0) < 1 {
		return
	}
	m.b.quad(k, [4]mgl64.Vec3{p.at(u1, v1, z0), p.at(u0, v0, z0), p.at(u0, v0, z1), p.at(u1, v1, z1)}, nil)
}

// base adds a baseboard along a wall, front at the left of the way.
func (m *maker) base(name string, u0, v0, u1, v1, z float64) {
	const high, thick = 118.0, 15.0
	p := &m.place
	a, b := p.at(u0, v0, z), p.at(u1, v1, z)
	d := b.Sub(a)
	if d.Len() < 40 {
		return
	}
	in := up.Cross(d.Normalize()).Mul(thick)
	m.b.box(skin{part: name, material: m.trim()}, a, d, in, up.Mul(high))
}

// floorSkin is what the hall's floor is of.
func (m *maker) floorSkin(hall bool) skin {
	p := &m.place
	axes := func(q mgl64.Vec3) mgl64.Vec3 {
		d := q.Sub(p.o)
		return mgl64.Vec3{d.Dot(p.r), d.Dot(p.d), d[2]}
	}
	if hall {
		if m.a.Job.Overlay.FloorBottom > 0 && !m.o.Before {
			return skin{part: "hall floor", material: m.stripFloor("hall"), board: axes}
		}
		return skin{part: "hall floor", board: axes, material: m.b.material("tiles", func() Material {
			return Material{Diffuse: Colour{0.40, 0.37, 0.32}, Gloss: 0.5, Rough: 0.3,
				Grain: &tiles{colour: Colour{0.42, 0.385, 0.335}, joint: Colour{0.24, 0.225, 0.2}, side: 402, seed: seed("tiles")}}
		})}
	}
	if m.a.Job.Overlay.FloorTop > 0 && !m.o.Before {
		return skin{part: "landing floor", material: m.stripFloor("landing"), board: axes}
	}
	return skin{part: "landing floor", material: m.carpet(), board: axes}
}

// ceilingPaint is the white of ceilings.
func (m *maker) ceilingPaint() int {
	return m.b.material("ceiling", func() Material { return Material{Diffuse: Colour{0.83, 0.82, 0.79}, Rough: 1} })
}

// straightRooms adds hall, landing and the well of a straight flight.
func (m *maker) straightRooms() {
	p := &m.place
	wall, ceiling := m.wall(), m.ceilingPaint()
	// The hall is wide at the right, or at every open side; it stops at the foot
	// of a flight between walls, and runs on beside an open one.
	u0, u1 := p.left-hallNarrow, p.right+2*hallNarrow
	if p.open[0] {
		u0 = p.left - hallWide
	}
	if p.open[1] {
		u1 = p.right + hallWide
	}
	// Where the walls along the flight begin and end.
	footL, footR := m.wallEnd(0, true), m.wallEnd(1, true)
	headL, headR := m.wallEnd(0, false), m.wallEnd(1, false)
	v0 := -hallDeep
	front := -70.0 // where the wall beside the stair begins
	end := front   // how far the hall goes on
	if p.open[0] || p.open[1] {
		end = p.last + 60
	}
	p.walls = [4]float64{u0, u1, v0, end}
	m.level(m.floorSkin(true), u0, u1, v0, end, p.floor, false)
	if end < 60 {
		m.level(m.floorSkin(true), p.left, p.right, end, 60, p.floor, false)
	}
	// Its ceiling: beside the stair, and over it as far as the edge.
	c := skin{part: "hall ceiling", material: ceiling}
	if p.edge < end {
		m.level(c, u0, u1, v0, p.edge, p.ceiling, true)
		m.level(c, u0, footL, p.edge, end, p.ceiling, true)
		m.level(c, footR, u1, p.edge, end, p.ceiling, true)
	} else {
		m.level(c, u0, u1, v0, end, p.ceiling, true)
		m.level(c, p.left, p.right, end, p.edge, p.ceiling, true)
	}
	// Round the hall; the room lies at the left of the way.
	k := skin{part: "hall end wall", material: wall}
	m.uprightAround(k, u0, v0, u1, p.floor, p.ceiling, p.frontDoor())
	m.base("base hall end", u0, v0, u1, v0, p.floor)
	k.part = "hall wall right"
	m.upright(k, u1, v0, u1, end, p.floor, p.ceiling)
	m.base("base hall right", u1, v0, u1, end, p.floor)
	k.part = "hall wall left"
	m.upright(k, u0, end, u0, v0, p.floor, p.ceiling)
	m.base("base hall left", u0, end, u0, v0, p.floor)
	k.part = "hall wall front right"
	m.upright(k, u1, end, footR, end, p.floor, p.ceiling)
	m.base("base front right", u1, end, footR, end, p.floor)
	k.part = "hall wall front left"
	m.upright(k, footL, end, u0, end, p.floor, p.ceiling)
	m.base("base front left", footL, end, u0, end, p.floor)
	m.door(p.at(u1, -780, p.floor), p.d, p.r.Mul(-1))
	// The edge of the ceiling, and the wall over it.
	k.part = "ceiling edge"
	m.upright(k, p.left, p.edge, p.right, p.edge, p.ceiling, p.high)

	// The landing, wider than the stair at both sides.
	lu0, lu1 := p.left-700, p.right+900
	at, far := p.last+60, p.last+landingDeep
	f := m.floorSkin(false)
	rear := p.last + m.nosingDeep()
	m.level(f, p.left, p.right, rear, far, p.top, false)
	m.level(f, lu0, p.left, at, far, p.top, false)
	m.level(f, p.right, lu1, at, far, p.top, false)
	k.part = "landing end wall"
	m.upright(k, lu1, far, lu0, far, p.top, p.high)
	m.base("base landing end", lu1, far, lu0, far, p.top)
	k.part = "landing wall left"
	m.upright(k, lu0, far, lu0, at, p.top, p.high)
	m.base("base landing left", lu0, far, lu0, at, p.top)
	k.part = "landing wall right"
	m.upright(k, lu1, at, lu1, far, p.top, p.high)
	m.base("base landing right", lu1, at, lu1, far, p.top)
	k.part = "landing front left"
	m.upright(k, lu0, at, headL, at, p.top, p.high)
	m.base("base landing front left", lu0, at, headL, at, p.top)
	k.part = "landing front right"
	m.upright(k, headR, at, lu1, at, p.top, p.high)
	m.base("base landing front right", headR, at, lu1, at, p.top)
	c.part = "upper ceiling"
	m.level(c, p.left, p.right, p.edge, at, p.high, true)
	m.level(c, lu0, lu1, at, far, p.high, true)
	// Over an open side the floor above ends at the well, with a wall on it.
	for side, open := range p.open {
		if open {
			k.part = "well wall " + sideNames[side]
			if side == 0 {
				m.upright(k, p.left, at, p.left, p.edge, p.ceiling, p.high)
			} else {
				m.upright(k, p.right, p.edge, p.right, at, p.ceiling, p.high)
			}
		}
	}
}

// door adds a shut door in a wall: at is the middle of its foot, x along the
// wall to the right as seen from the room, in out of the wall.
func (m *maker) door(at, x, in mgl64.Vec3) {
	const wide, high, trimmed, proud = 780.0, 1990.0, 78.0, 24.0
	k := skin{part: "door", material: m.trim()}
	box := func(u0, u1, z0, z1, from, to float64) {
		m.b.box(k, at.Add(x.Mul(u0)).Add(up.Mul(z0)).Add(in.Mul(from)), x.Mul(u1-u0), up.Mul(z1-z0), in.Mul(to-from))
	}
	box(-wide/2, wide/2, 4, high, 0.5, 6)
	k.part = "door casing"
	box(-wide/2-trimmed, -wide/2, 0, high+trimmed, 0.5, proud)
	box(wide/2, wide/2+trimmed, 0, high+trimmed, 0.5, proud)
	box(-wide/2, wide/2, high, high+trimmed, 0.5, proud)
	k.part = "door panels"
	for _, z := range [3][2]float64{{150, 880}, {980, 1350}, {1450, 1870}} {
		for _, u := range [2]float64{-wide/2 + 85, 35} {
			box(u, u+wide/2-120, z[0], z[1], 6, 13)
		}
	}
	k.part, k.material = "door knob", m.b.material("bracket", bracketMetal)
	knob := at.Add(x.Mul(-wide/2 + 55)).Add(up.Mul(960)).Add(in.Mul(6))
	m.b.rod(k, knob, knob.Add(in.Mul(30)), 9, 10)
	k.part = "door knob head"
	m.b.rod(k, knob.Add(in.Mul(30)), knob.Add(in.Mul(52)), 25, 14)
}

// wallEnd is how far across the wall of a side stands at the foot or the head of
// a straight flight; an open side has the side itself.
func (m *maker) wallEnd(side int, foot bool) float64 {
	pts, in := m.sides[side], m.facing(side)
	i := 0
	if !foot {
		i = len(pts) - 1
	}
	return flat(pts[i].at).Sub(in[i].Mul(m.behind(side, pts[i].kind))).Sub(m.place.o).Dot(m.place.r)
}

// nosingDeep is how far the landing nosing reaches behind the last nose, or what
// the carpet covers before.
func (m *maker) nosingDeep() float64 {
	s := &m.a.Survey.Steps[len(m.a.Survey.Steps)-1]
	deep := 0.0
	for _, c := range [2]int{s.BL, s.BR} {
		deep = math.Max(deep, s.Corners[c].Vec3(0).Sub(m.place.p).Dot(m.place.e))
	}
	return deep
}

// turnedRooms adds one tall room about a flight that turns, with the landing as
// a floor in it.
func (m *maker) turnedRooms() {
	p := &m.place
	lo, hi := mgl64.Vec2{math.Inf(1), math.Inf(1)}, mgl64.Vec2{math.Inf(-1), math.Inf(-1)}
	put := func(q mgl64.Vec3, by float64) {
		d := q.Sub(p.o)
		for i, v := range [2]float64{d.Dot(p.r), d.Dot(p.d)} {
			lo[i], hi[i] = math.Min(lo[i], v-by), math.Max(hi[i], v+by)
		}
	}
	for side := range m.sides {
		for _, q := range m.sides[side] {
			by := m.behind(side, q.kind) + 2
			if q.kind == model.Open {
				by = besideOpen
			}
			put(q.at, by)
		}
	}
	deep := m.nosingDeep()
	landing := [4]mgl64.Vec3{}
	for i, c := range [4][2]float64{{-1, deep}, {1, deep}, {1, 1700}, {-1, 1700}} {
		half := m.noseHalf()
		landing[i] = p.p.Add(p.s.Mul(c[0] * half)).Add(p.e.Mul(c[1]))
		put(landing[i], 40)
	}
	put(p.at(0, -2900, 0), 0)
	put(p.at(p.left, 0, 0), 0)
	put(p.at(p.right, 0, 0), 0)
	u0, u1, v0, v1 := lo[0], hi[0], lo[1], hi[1]
	if u1-u0 < 2800 {
		u1 = u0 + 2800
	}
	p.walls = [4]float64{u0, u1, v0, v1}
	wall := skin{part: "room wall 1", material: m.wall()}
	m.level(m.floorSkin(true), u0, u1, v0, v1, p.floor, false)
	m.uprightAround(wall, u0, v0, u1, p.floor, p.high, p.frontDoor())
	wall.part = "room wall 2"
	m.upright(wall, u1, v0, u1, v1, p.floor, p.high)
	wall.part = "room wall 3"
	m.upright(wall, u1, v1, u0, v1, p.floor, p.high)
	wall.part = "room wall 4"
	m.upright(wall, u0, v1, u0, v0, p.floor, p.high)
	for i, w := range [4][4]float64{{u0, v0, u1, v0}, {u1, v0, u1, v1}, {u1, v1, u0, v1}, {u0, v1, u0, v0}} {
		m.base("base room "+number(i+1), w[0], w[1], w[2], w[3], p.floor)
	}
	m.level(skin{part: "upper ceiling", material: m.ceilingPaint()}, u0, u1, v0, v1, p.high, true)
	p.ceiling = p.high
	// The landing as a slab.
	f := m.floorSkin(false)
	for i := range landing {
		landing[i] = flat(landing[i]).Add(up.Mul(p.top))
	}
	m.b.quad(f, landing, nil)
	low := skin{part: "landing underside", material: m.ceilingPaint()}
	m.b.quad(low, [4]mgl64.Vec3{landing[3].Sub(up.Mul(floorThick)), landing[2].Sub(up.Mul(floorThick)), landing[1].Sub(up.Mul(floorThick)), landing[0].Sub(up.Mul(floorThick))}, nil)
	for i := range landing {
		a, b := landing[i], landing[(i+1)%4]
		m.b.quad(skin{part: "landing edge " + number(i), material: m.trim()}, [4]mgl64.Vec3{a.Sub(up.Mul(floorThick)), b.Sub(up.Mul(floorThick)), b, a}, nil)
	}
}

// noseHalf is half the width of the last nose, with what is behind its sides.
func (m *maker) noseHalf() float64 {
	s := &m.a.Survey.Steps[len(m.a.Survey.Steps)-1]
	return s.Corners[s.FR].Sub(s.Corners[s.FL]).Len()/2 + 10
}

// sideWalls adds the walls that go along the flight at its closed sides.
func (m *maker) sideWalls() {
	p := &m.place
	for side := range m.sides {
		pts := m.sides[side]
		normals := m.facing(side)
		k := skin{part: "wall " + sideNames[side], material: m.wall()}
		at := func(i int) mgl64.Vec3 { // on the wall, behind the skirt
			return flat(pts[i].at).Sub(normals[i].Mul(m.behind(side, pts[i].kind)))
		}
		strip := func(a, z mgl64.Vec3, a0, z0 float64, na, nz mgl64.Vec3) {
			if flat(z.Sub(a)).Len() < 0.5 {
				return
			}
			q := [4]mgl64.Vec3{a.Add(up.Mul(a0)), z.Add(up.Mul(z0)), z.Add(up.Mul(p.high)), a.Add(up.Mul(p.high))}
			ns := [4]mgl64.Vec3{na, nz, nz, na}
			if side == 1 {
				q, ns = [4]mgl64.Vec3{q[1], q[0], q[3], q[2]}, [4]mgl64.Vec3{nz, na, na, nz}
			}
			m.b.quad(k, q, &ns)
		}
		n := len(pts)
		for i := 0; i+1 < n; i++ {
			if pts[i].kind == model.Open {
				continue
			}
			strip(at(i), at(i+1), math.Max(p.floor, pts[i].old-520), math.Max(p.floor, pts[i+1].old-520), normals[i], normals[i+1])
		}
		if !p.straight {
			continue
		}
		// On to the hall's wall at the foot, and to the landing's at the head.
		if pts[0].kind != model.Open {
			foot := at(0)
			v := foot.Sub(p.o).Dot(p.d)
			to := foot.Sub(p.d.Mul(v - math.Min(p.walls[3], v)))
			if p.edge < p.walls[3] && p.edge < v { // over the hall's ceiling, as far as its edge
				at := foot.Sub(p.d.Mul(v - p.edge))
				strip(at, to, p.ceiling, p.ceiling, normals[0], normals[0])
			}
			if p.walls[3] < v {
				strip(to, foot, p.floor, p.floor, normals[0], normals[0])
			}
		}
		if pts[n-1].kind != model.Open {
			head := at(n - 1)
			v := head.Sub(p.o).Dot(p.d)
			if want := p.last + 60; want > v {
				strip(head, head.Add(p.d.Mul(want-v)), p.top-300, p.top-300, normals[n-1], normals[n-1])
			}
		}
	}
}

// underOpen closes the room under the treads at an open side.
func (m *maker) underOpen() {
	p := &m.place
	for side := range m.sides {
		pts := m.sides[side]
		out := m.outward(side)
		k := skin{part: "stringer " + sideNames[side], material: m.trim()}
		for i := 0; i+1 < len(pts); i++ {
			if pts[i].kind != model.Open || pts[i+1].step < pts[i].step {
				continue
			}
			tread := m.a.Job.TreadThickness(pts[i].step - 1)
			thick := float64(tread)
			if m.o.Before {
				thick = -carpetThick + 2
			}
			z := m.surface(pts[i].step-1, pts[i].at.Vec2()) - thick
			back := m.a.Job.Overlay.Overhang
			in := out[i].Mul(-2)
			a, b := flat(pts[i].at).Add(in), flat(pts[i+1].at).Add(in)
			d := b.Sub(a)
			if d.Len() < 1 {
				continue
			}
			by := d.Normalize().Mul(float64(back))
			a, b = a.Add(by), b.Add(by)
			q := [4]mgl64.Vec3{a.Add(up.Mul(p.floor)), b.Add(up.Mul(p.floor)), b.Add(up.Mul(z)), a.Add(up.Mul(z))}
			if side == 0 {
				q = [4]mgl64.Vec3{q[1], q[0], q[3], q[2]}
			}
			m.b.quad(k, q, nil)
		}
	}
}
