package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/lux"
	"risewright/view/lights"
)

// Light of the rooms: by eye, common practice, no source. Luminances of glass
// in cd/m², lamps in lumens.
var roomLight = map[Time]struct {
	door, window Colour
	hall, head   float64
}{
	Day:     {door: Colour{2100, 2250, 2500}, window: Colour{2900, 3050, 3300}, hall: 0, head: 0},
	Evening: {door: Colour{1.5, 1.8, 2.5}, window: Colour{2.1, 2.6, 3.7}, hall: 540, head: 430},
	Night:   {door: Colour{0.035, 0.05, 0.085}, window: Colour{0.05, 0.075, 0.13}, hall: 0, head: 0},
}

// Tint returns the linear colour, of luminance 1, of a chromaticity,
// with what a screen cannot show cut off at 0.
func Tint(c lux.XY) Colour {
	if !(c.Y > 0) {
		return Colour{1, 1, 1}
	}
	out := Colour(lux.RGB(c))
	for i := range out {
		out[i] = math.Max(0, out[i])
	}
	l := out.Luminance()
	if !(l > 0) {
		return Colour{1, 1, 1}
	}
	for i := range out {
		out[i] /= l
	}
	return out
}

// White returns the tint of a black body at so many kelvin.
func White(kelvin float64) Colour {
	c, _ := lux.CCT(kelvin)
	return Tint(c)
}

// lightTint is the colour in which the bars are shown.
func (m *maker) lightTint() Colour {
	c := pick(m.t.Looks.Lights, m.o.Look.Light, func(l model.LightColour) string { return l.ID })
	switch {
	case c.Kelvin > 0:
		return White(c.Kelvin)
	case c.Colour != (model.RGB{}):
		t := Linear(c.Colour)
		l := t.Luminance()
		return Colour{t[0] / l, t[1] / l, t[2] / l}
	}
	return White(lights.WhiteOf(&m.a.Job.Lighting))
}

// lamp adds a lamp with its face.
func (m *maker) lamp(l Lamp, k skin) {
	if !(l.U.Len() > 1e-3 && l.V.Len() > 1e-3) {
		return
	}
	m.b.s.Lamps = append(m.b.s.Lamps, l)
	k.lamp = len(m.b.s.Lamps)
	m.b.quad(k, [4]mgl64.Vec3{l.Corner, l.Corner.Add(l.U), l.Corner.Add(l.U).Add(l.V), l.Corner.Add(l.V)}, nil)
}

// bars adds the light bars: each a base under its nose with a bright face.
func (m *maker) bars() {
	if !m.a.Job.Lighting.On() || m.a.Power == nil {
		return
	}
	tint := m.lightTint()
	level := m.o.Level
	if level == nil {
		level, m.b.s.LitBy = Lit(m.a, m.t, m.o)
	}
	full := map[int]float64{}
	pr := lights.Problem(m.a, func(step int) float64 { full[step] = lights.LumensOf(m.a, step, 1); return full[step] })
	body := m.b.material("bar", func() Material { return Material{Diffuse: Colour{0.5, 0.49, 0.47}, Gloss: 0.5, Rough: 0.5} })
	shade := m.b.material("diffuser", func() Material { return Material{Diffuse: Colour{0.72, 0.71, 0.68}, Rough: 1} })
	hang := map[int]float64{}
	for i := range m.a.Bars.Bars {
		hang[m.a.Bars.Bars[i].Step] = m.a.Bars.Bars[i].Hang
	}
	for i := range pr.Bars {
		b := &pr.Bars[i]
		front := b.Normal()
		name := number(b.Step)
		// The base reaches from the bright face up to the tread.
		if h := hang[b.Step]; h > 0.5 {
			const rim = 0.2 // so that the lamp's face is its own
			at := b.Corner.Sub(front.Mul(h))
			m.b.openBox(skin{part: "bar " + name, material: body}, at, b.Along, b.Across, front.Mul(h-rim))
		}
		if b.Lip > 0 {
			m.b.box(skin{part: "lip " + name, material: body}, b.Corner.Sub(b.Across.Normalize().Mul(2)), b.Along, b.Across.Normalize().Mul(2), front.Mul(b.Lip))
		}
		m.lamp(Lamp{Name: "bar " + name, Corner: b.Corner, U: b.Along, V: b.Across, Lumens: full[b.Step], Level: math.Max(0, math.Min(1, level(b.Step))), Tint: tint, Bar: b.Step},
			skin{part: "lamp " + name, material: shade})
	}
}

// openBox adds the four sides of a box, without its bottom and top.
func (b *builder) openBox(k skin, at, x, y, z mgl64.Vec3) {
	p := func(i, j, l float64) mgl64.Vec3 { return at.Add(x.Mul(i)).Add(y.Mul(j)).Add(z.Mul(l)) }
	for _, f := range [4][4]mgl64.Vec3{
		{p(0, 0, 0), p(1, 0, 0), p(1, 0, 1), p(0, 0, 1)},
		{p(1, 0, 0), p(1, 1, 0), p(1, 1, 1), p(1, 0, 1)},
		{p(1, 1, 0), p(0, 1, 0), p(0, 1, 1), p(1, 1, 1)},
		{p(0, 1, 0), p(0, 0, 0), p(0, 0, 1), p(0, 1, 1)},
	} {
		b.quad(k, f, nil)
	}
}

// roomLamps adds the glazed door of the hall, the window of the landing and the
// ceiling lamps.
func (m *maker) roomLamps() {
	p := &m.place
	light := roomLight[m.o.Time]
	// The house is shut: no light comes in but through its panes.
	m.b.s.Sky = Colour{}
	glass := m.b.material("glass", func() Material { return Material{Diffuse: Colour{0.12, 0.12, 0.12}, Gloss: 0.6, Rough: 0.1} })
	pane_ := m.b.material("pane", func() Material {
		return Material{Diffuse: Colour{0.12, 0.12, 0.12}, Gloss: 0.6, Rough: 0.1, Pane: true}
	})
	frame := m.trim()
	// pane adds a window in an upright wall: at is the middle of its foot on the
	// wall, x along it to the right as seen from the room, in the way out of it.
	pane := func(name string, at, x, in mgl64.Vec3, wide, high float64, cols, rows int, c Colour) {
		const bar, proud = 28.0, 26.0
		k := skin{part: name + " frame", material: frame}
		box := func(u0, u1, z0, z1, out float64) {
			m.b.box(k, at.Add(x.Mul(u0)).Add(up.Mul(z0)).Add(in.Mul(0.5)), x.Mul(u1-u0), up.Mul(z1-z0), in.Mul(out))
		}
		const case_ = 74.0
		box(-wide/2-case_, -wide/2, -case_*0.6, high+case_, proud)
		box(wide/2, wide/2+case_, -case_*0.6, high+case_, proud)
		box(-wide/2, wide/2, high, high+case_, proud)
		box(-wide/2-case_*0.25, wide/2+case_*0.25, -case_*0.6, 0, proud*1.8)
		for i := 1; i < cols; i++ {
			u := -wide/2 + wide*float64(i)/float64(cols)
			box(u-bar/2, u+bar/2, 0, high, proud*0.6)
		}
		for j := 1; j < rows; j++ {
			z := high * float64(j) / float64(rows)
			for i := range cols { // between the uprights, so that nothing lies twice
				a, b := -wide/2+wide*float64(i)/float64(cols), -wide/2+wide*float64(i+1)/float64(cols)
				if i > 0 {
					a += bar / 2
				}
				if i < cols-1 {
					b -= bar / 2
				}
				box(a, b, z-bar/2, z+bar/2, proud*0.6)
			}
		}
		l := c.Luminance()
		corner := at.Sub(x.Mul(wide / 2)).Add(in.Mul(3))
		m.lamp(Lamp{Name: name, Corner: corner, U: x.Mul(wide), V: up.Mul(high), Lumens: l * math.Pi * wide * high * 1e-6, Level: 1, Tint: Colour{c[0] / l, c[1] / l, c[2] / l}},
			skin{part: name, material: pane_})
	}
	ceilingLamp := func(name string, at mgl64.Vec3, lumens float64) {
		if lumens <= 0 {
			return
		}
		const half = 130.0
		k := skin{part: name + " rim", material: frame}
		at = at.Sub(up.Mul(38))
		m.b.openBox(k, at.Add(mgl64.Vec3{-half, -half, 0.2}), mgl64.Vec3{2 * half, 0, 0}, mgl64.Vec3{0, 2 * half, 0}, mgl64.Vec3{0, 0, 38})
		m.lamp(Lamp{Name: name, Corner: at.Add(mgl64.Vec3{-half, half, 0}), U: mgl64.Vec3{2 * half, 0, 0}, V: mgl64.Vec3{0, -2 * half, 0}, Lumens: lumens, Level: 1, Tint: White(2700)},
			skin{part: name, material: glass})
	}
	if !p.straight {
		u0, u1, v0, v1 := p.walls[0], p.walls[1], p.walls[2], p.walls[3]
		door := p.frontDoor()
		pane("front door glass", p.at(door.at, v0, p.floor+door.z0), p.r.Mul(-1), p.d, door.wide, door.z1-door.z0, 2, 4, light.door)
		m.sun(door)
		pane("landing window", p.at(u0+(u1-u0)*0.5, v1, p.top+500), p.r, p.d.Mul(-1), 1300, 1250, 3, 2, light.window)
		ceilingLamp("room lamp", p.at((u0+u1)/2, (v0+v1)/2, p.high), light.hall+light.head)
		return
	}
	door := p.frontDoor()
	pane("front door glass", p.at(door.at, p.walls[2], p.floor+door.z0), p.r.Mul(-1), p.d, door.wide, door.z1-door.z0, 3, 4, light.door)
	m.sun(door)
	far := p.last + landingDeep
	pane("landing window", p.at((p.left+p.right)/2, far, p.top+780), p.r, p.d.Mul(-1), 1100, 1150, 2, 2, light.window)
	ceilingLamp("hall lamp", p.at((p.left+p.right)/2+450, -1900, p.ceiling), light.hall)
	ceilingLamp("landing lamp", p.at((p.left+p.right)/2, p.last+1100, p.high), light.head)
}
