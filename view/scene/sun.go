package scene

import (
	"math"
)

// This file lets the sun in by day: low, through the glass of the front door,
// so that its bars throw their shadows on the lowest steps.

// The sun: by eye, common practice, no source. Haze and the glass leave it less
// than a tenth of its light, so that it does not drown the room.
const (
	sunHigh  = 12.5 * math.Pi / 180 // over the horizon
	sunAside = 7 * math.Pi / 180    // to the right of the way up, as seen from behind
	sunLux   = 2800.0               // on a surface that faces it
	sunFar   = 12000.0
	sunSide  = 150.0 // of the lamp that stands for it, so that shadows are a little soft
	sunKelv  = 4300.0
)

// opening is a hole in a wall: its middle across, and its height over the floor.
type opening struct{ at, wide, z0, z1 float64 }

// frontDoor is the glass of the front door, in the wall that the flight faces.
func (p *place) frontDoor() opening {
	// A little to the right of the way up, so that the light reaches the steps.
	o := opening{160, 1150, 300, 2100}
	ceiling := p.ceiling
	if !p.straight {
		o, ceiling = opening{320, 900, 350, 2100}, p.high
	}
	o.z1 = math.Min(o.z1, ceiling-p.floor-140) // with its casing under a low ceiling
	free := o.wide/2 + 100
	o.at = math.Max(p.walls[0]+free, math.Min(p.walls[1]-free, o.at))
	return o
}

// sun adds the sun behind a glass in the wall that the flight faces.
func (m *maker) sun(glass opening) {
	if m.o.Time != Day {
		return
	}
	p := &m.place
	to := p.d.Mul(-math.Cos(sunHigh) * math.Cos(sunAside)).Add(p.r.Mul(math.Cos(sunHigh) * math.Sin(sunAside))).Add(up.Mul(math.Sin(sunHigh)))
	at := p.at(glass.at, p.walls[2], p.floor+(glass.z0+glass.z1)/2).Add(to.Mul(sunFar))
	front := to.Mul(-1)
	u := up.Cross(front).Normalize()
	v := front.Cross(u)
	const far = sunFar / 1000 // m
	m.b.s.Lamps = append(m.b.s.Lamps, Lamp{
		Name: "sun", Corner: at.Sub(u.Mul(sunSide / 2)).Sub(v.Mul(sunSide / 2)), U: u.Mul(sunSide), V: v.Mul(sunSide),
		// A Lambertian lamp gives a candela before it for every pi lumens.
		Lumens: math.Pi * sunLux * far * far, Level: 1, Tint: White(sunKelv),
	})
}

// uprightAround adds a plumb rectangle as upright does, along the way across,
// around a hole in it.
func (m *maker) uprightAround(k skin, u0, v, u1, z0, z1 float64, hole opening) {
	a, b := hole.at-hole.wide/2, hole.at+hole.wide/2
	low, high := z0+hole.z0, z0+hole.z1
	if !(u0 < a && b < u1 && high < z1) {
		m.upright(k, u0, v, u1, v, z0, z1)
		return
	}
	m.upright(k, u0, v, a, v, z0, z1)
	m.upright(k, b, v, u1, v, z0, z1)
	m.upright(k, a, v, b, v, z0, low)
	m.upright(k, a, v, b, v, high, z1)
}
