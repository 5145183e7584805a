package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// This file puts a few things in the hall, so that the stair is seen in a house
// and not in a box: a narrow table with a vase, some prints and a switch. They
// are our own invention, stand clear of the flight and are the same before and
// after.

// stand is a place at a wall: its foot, along the wall to the right as seen from
// the room, and out of the wall.
type stand struct{ at, x, in mgl64.Vec3 }

// to returns the place u along, out of the wall, and z high.
func (s stand) to(u, out, z float64) mgl64.Vec3 {
	return s.at.Add(s.x.Mul(u)).Add(s.in.Mul(out)).Add(up.Mul(z))
}

// furnish adds the things. What would stand in the way of the flight is left out.
func (m *maker) furnish() {
	p := &m.place
	v := -490.0
	if !p.straight {
		v = p.walls[2] + 0.42*(p.walls[3]-p.walls[2])
	}
	left := stand{p.at(p.walls[0], v, p.floor), p.d, p.r}
	if m.clear(left.to(0, 150, 0), 700) {
		m.table(left, 700, 240)
		m.print(left, 0, 1560, 470, 620, 1)
	}
	if p.straight && !p.open[1] {
		foot := m.wallEnd(1, true)
		wide := p.walls[1] - foot
		front := stand{p.at(foot+wide/2, p.walls[3], p.floor), p.r, p.d.Mul(-1)}
		if wide > 420 {
			m.print(front, 0.06*wide, 1790, 250, 310, 2)
			m.print(front, 0.06*wide, 1410, 250, 310, 3)
			m.lightSwitch(front, 95-wide/2, 1080)
		}
	}
}

// clear says whether a place in plan is at least so far from the sides of a flight
// that turns: a straight one has its hall before it.
func (m *maker) clear(at mgl64.Vec3, far float64) bool {
	if m.place.straight {
		return true
	}
	for side := range m.sides {
		for _, q := range m.sides[side] {
			if flat(q.at.Sub(at)).Len() < far {
				return false
			}
		}
	}
	return true
}

// table adds a narrow table at a wall, with a shelf, a vase, a bowl and books.
func (m *maker) table(s stand, wide, deep float64) {
	const high, thick, leg, off = 810.0, 26.0, 34.0, 12.0
	wood := m.b.material("table", func() Material { return Material{Diffuse: Colour{0.19, 0.115, 0.065}, Gloss: 0.5, Rough: 0.4} })
	k := skin{part: "table", material: wood}
	box := func(k skin, u0, u1, o0, o1, z0, z1 float64) {
		m.b.box(k, s.to(u0, o0, z0), s.x.Mul(u1-u0), s.in.Mul(o1-o0), up.Mul(z1-z0))
	}
	box(k, -wide/2, wide/2, off, off+deep, high-thick, high)
	for _, u := range [2]float64{-wide/2 + 22, wide/2 - 22 - leg} {
		for _, o := range [2]float64{off + 16, off + deep - 16 - leg} {
			k.part = "table leg"
			box(k, u, u+leg, o, o+leg, 0, high-thick)
		}
	}
	k.part = "table shelf"
	box(k, -wide/2+30, wide/2-30, off+20, off+deep-20, 190, 208)
	// Books that lie on the table, and a basket on the shelf.
	z := high
	for i, b := range [3]struct {
		c          Colour
		wide, high float64
		turned     float64
	}{{Colour{0.10, 0.17, 0.21}, 205, 32, 0.03}, {Colour{0.47, 0.40, 0.29}, 190, 24, -0.06}, {Colour{0.33, 0.10, 0.07}, 165, 19, 0.1}} {
		c := b.c
		book := skin{part: "book " + number(i+1), material: m.b.material("book "+number(i+1), func() Material { return Material{Diffuse: c, Gloss: 0.2, Rough: 0.6} })}
		sn, cs := math.Sincos(b.turned)
		x, y := s.x.Mul(cs).Add(s.in.Mul(sn)), s.in.Mul(cs).Sub(s.x.Mul(sn))
		at := s.to(wide/2-250, off+45, z)
		m.b.box(book, at, x.Mul(b.wide), y.Mul(140), up.Mul(b.high))
		z += b.high
	}
	basket := skin{part: "basket", material: m.b.material("basket", func() Material { return Material{Diffuse: Colour{0.36, 0.26, 0.15}, Rough: 1} })}
	m.turned(basket, s.to(-wide/2+205, off+deep/2, 208), [][2]float64{{88, 0}, {104, 60}, {112, 165}, {106, 172}, {96, 165}, {90, 40}}, 20)
	vase := skin{part: "vase", material: m.b.material("vase", func() Material { return Material{Diffuse: Colour{0.55, 0.53, 0.49}, Gloss: 0.8, Rough: 0.25} })}
	foot := s.to(-wide/2+150, off+deep/2, high)
	m.turned(vase, foot, [][2]float64{{44, 0}, {62, 22}, {78, 80}, {76, 130}, {54, 182}, {30, 215}, {27, 238}, {34, 252}, {29, 252}, {22, 232}}, 20)
	m.twigs(foot.Add(up.Mul(225)), s)
}

// turned adds a turned body: radii and heights over its foot, closed at the ends.
func (m *maker) turned(k skin, foot mgl64.Vec3, profile [][2]float64, n int) {
	var rings [][]mgl64.Vec3
	for _, c := range profile {
		rings = append(rings, ring(foot.Add(up.Mul(c[1])), mgl64.Vec3{c[0], 0, 0}, mgl64.Vec3{0, c[0], 0}, n))
	}
	m.b.tube(k, rings, true)
}

// twigs adds dry twigs with buds, out of a place upwards.
func (m *maker) twigs(at mgl64.Vec3, s stand) {
	bark := skin{part: "twigs", material: m.b.material("twigs", func() Material { return Material{Diffuse: Colour{0.16, 0.10, 0.06}, Rough: 1} })}
	bud := skin{part: "buds", material: m.b.material("buds", func() Material { return Material{Diffuse: Colour{0.62, 0.55, 0.42}, Rough: 1} })}
	own := seed("twigs")
	for i := range uint64(7) {
		turn := 2*math.Pi*float64(i)/7 + 0.7*unit(own, 4*i)
		lean := 0.16 + 0.34*unit(own, 4*i+1)
		long := 300 + 190*unit(own, 4*i+2)
		sn, cs := math.Sincos(turn)
		// Less out of the wall and into it than along it.
		side := s.x.Mul(cs).Add(s.in.Mul(0.45 * sn))
		tip := at.Add(up.Mul(long * math.Cos(lean))).Add(side.Mul(long * math.Sin(lean)))
		mid := at.Add(tip).Mul(0.5).Sub(side.Mul(0.05 * long))
		path := []mgl64.Vec3{at.Sub(up.Mul(90)), at.Add(mid).Mul(0.5), mid, tip}
		var rings [][]mgl64.Vec3
		for j, q := range path {
			r := 3.2 - 0.6*float64(j)
			rings = append(rings, ring(q, s.x.Mul(r), s.in.Mul(r), 5))
		}
		m.b.tube(bark, rings, true)
		for j := range 4 {
			q := mid.Mul(1 - float64(j)/3).Add(tip.Mul(float64(j) / 3))
			q = q.Add(side.Mul(6 * (float64(j%2)*2 - 1)))
			m.turned(bud, q.Sub(up.Mul(13)), [][2]float64{{2, 0}, {8, 9}, {7, 19}, {1.5, 28}}, 8)
		}
	}
}

// print adds a framed print on a wall, its middle u along and z high.
func (m *maker) print(s stand, u, z, wide, high float64, nth int) {
	const bar, proud, mount = 22.0, 24.0, 52.0
	frame := skin{part: "frame " + number(nth), material: m.b.material("frame", func() Material { return Material{Diffuse: Colour{0.075, 0.06, 0.05}, Gloss: 0.5, Rough: 0.35} })}
	box := func(u0, u1, z0, z1 float64) {
		m.b.box(frame, s.to(u+u0, 0.5, z+z0), s.x.Mul(u1-u0), s.in.Mul(proud), up.Mul(z1-z0))
	}
	w, h := wide/2, high/2
	box(-w, w, h-bar, h)
	box(-w, w, -h, -h+bar)
	box(-w, -w+bar, -h+bar, h-bar)
	box(w-bar, w, -h+bar, h-bar)
	paper := skin{part: "mount " + number(nth), material: m.b.material("mount", func() Material { return Material{Diffuse: Colour{0.80, 0.785, 0.75}, Rough: 1} })}
	sheet := func(k skin, w, h, out float64) {
		m.b.quad(k, [4]mgl64.Vec3{s.to(u-w, out, z-h), s.to(u+w, out, z-h), s.to(u+w, out, z+h), s.to(u-w, out, z+h)}, nil)
	}
	edge := mount * math.Min(1, wide/400)
	sheet(paper, w-bar, h-bar, 12)
	art := &hills{wide: wide - 2*bar - 2*edge, high: high - 2*bar - 2*edge, seed: seed("print " + number(nth))}
	sheet(skin{part: "print " + number(nth), board: func(q mgl64.Vec3) mgl64.Vec3 {
		d := q.Sub(s.to(u, 0, z))
		return mgl64.Vec3{d.Dot(s.x) + art.wide/2, d[2] + art.high/2, 0}
	}, material: m.b.material("print "+number(nth), func() Material { return Material{Diffuse: Colour{0.42, 0.40, 0.36}, Grain: art, Rough: 1} })}, art.wide/2, art.high/2, 13.5)
}

// lightSwitch adds a switch on a wall.
func (m *maker) lightSwitch(s stand, u, z float64) {
	k := skin{part: "switch", material: m.b.material("switch", func() Material { return Material{Diffuse: Colour{0.78, 0.77, 0.74}, Gloss: 0.5, Rough: 0.3} })}
	m.b.box(k, s.to(u-41, 0.5, z-41), s.x.Mul(82), s.in.Mul(8), up.Mul(82))
	m.b.box(k, s.to(u-24, 8.5, z-24), s.x.Mul(48), s.in.Mul(4), up.Mul(48))
}

// hills is a print of flat washes: some ranges of hills under a pale sky with a
// low sun, or at dusk.
type hills struct {
	wide, high float64 // mm
	seed       uint64
}

// Key tells this print from others.
func (h *hills) Key() any { return *h }

// At returns the reflectance of the print at a place from its lower left, mm.
func (h *hills) At(p mgl64.Vec3) Colour {
	u, v := p[0]/h.wide, p[1]/h.high
	n := noise{h.seed}
	wash := 1 + 0.05*n.smooth(p[0]/9, p[1]/9, 0, 7) + 0.04*n.smooth(p[0]/45, p[1]/45, 0, 8)
	c := lerp(Colour{0.66, 0.60, 0.49}, Colour{0.50, 0.56, 0.58}, ramp(v, 0.55, 1))
	su, sv := 0.25+0.5*unit(h.seed, 1), 0.70+0.12*unit(h.seed, 2)
	sun := true
	ranges := [4]Colour{{0.42, 0.45, 0.43}, {0.26, 0.34, 0.34}, {0.15, 0.235, 0.235}, {0.085, 0.12, 0.115}}
	if h.seed%2 == 1 { // at dusk, the sun is down
		c = lerp(Colour{0.68, 0.47, 0.31}, Colour{0.36, 0.34, 0.40}, ramp(v, 0.45, 1))
		sun = false
		ranges = [4]Colour{{0.44, 0.33, 0.30}, {0.31, 0.22, 0.225}, {0.19, 0.14, 0.155}, {0.095, 0.08, 0.09}}
	}
	if sun && math.Hypot((u-su)*h.wide, (v-sv)*h.high) < 0.085*h.wide {
		c = Colour{0.70, 0.33, 0.14}
	}
	for i, r := range ranges {
		f := 1.1 + 0.8*float64(i)
		top := 0.60 - 0.15*float64(i) + 0.085*n.smooth(u*f*1.6, float64(i)*7.3, 0, uint64(10+i)) + 0.03*n.smooth(u*f*6, float64(i)*3.1, 0, uint64(20+i))
		if v < top {
			c = r
		}
	}
	for i := range c {
		c[i] *= wash
	}
	return c
}
