package picture

import (
	"image"
	"math"

	"risewright/view/scene"
)

// shade colours the pixels of a band.
func (p *Painter) shade(w *World, b int, eye vec, exposure vec, night float32, img *image.RGBA) {
	r0, r1 := b*bandRows, min(p.h, (b+1)*bandRows)
	last := int32(-2)
	var f *flat
	var c *chart
	var mat *surface
	var glow vec
	for r := r0; r < r1; r++ {
		y := float32(r) + 0.5
		out := img.Pix[(r-img.Rect.Min.Y)*img.Stride:]
		for x := p.from; x < p.to; x++ {
			at := r*p.w + x
			id := p.id[at]
			pix := out[4*x : 4*x+4 : 4*x+4]
			if id < 0 {
				pix[0], pix[1], pix[2], pix[3] = 22, 23, 26, 255
				continue
			}
			if id != last {
				last = id
				f = &p.flats[id]
				c = &w.chart[f.chart]
				mat = &w.mats[c.material]
				if f.lamp > 0 {
					glow = w.lampGlow[f.lamp-1]
				}
			}
			xf := float32(x) + 0.5
			wd := 1 / p.depth[at]
			u := f.su[0]*xf + f.su[1]*y + f.su[2]
			v := f.sv[0]*xf + f.sv[1]*y + f.sv[2]
			u, v = u*wd, v*wd
			var l vec
			if f.lamp > 0 {
				l = glow
			} else {
				l = w.lit(c, u, v)
				a := mat.albedo
				if c.sheet >= 0 {
					// How far the place on the grid moves from pixel to pixel.
					iwx, iwy := f.siw[0], f.siw[1]
					ux, vx := (f.su[0]-u*iwx)*wd*c.dx, (f.sv[0]-v*iwx)*wd*c.dy
					uy, vy := (f.su[1]-u*iwy)*wd*c.dx, (f.sv[1]-v*iwy)*wd*c.dy
					a = w.sheets[c.sheet].sample(u*c.dx, v*c.dy, ux, vx, uy, vy)
				}
				l = mul(times(l, a), 1/math.Pi)
				if c.probe >= 0 {
					at := add(c.origin, add(mul(c.ex, u*c.dx), mul(c.ey, v*c.dy)))
					d := unitOf(sub(at, eye))
					cosine := -dot(d, c.normal)
					m := 1 - max(0, cosine)
					m2 := m * m
					// Schlick 1994, for a film of index 1.5.
					fresnel := mat.gloss * (0.04 + 0.96*m2*m2*m)
					mirrored := sub(d, mul(c.normal, 2*dot(d, c.normal)))
					l = add(mul(l, 1-fresnel), mul(w.probes[c.probe].seen(mirrored), fresnel))
				}
			}
			l = times(l, exposure)
			// The curve takes colour out of what is bright; give it some beforehand.
			grey := luminance(l) * (1 - vivid)
			l = vec{max(0, l[0]*vivid+grey), max(0, l[1]*vivid+grey), max(0, l[2]*vivid+grey)}
			if night > 0 { // an eye used to the dark sees less colour
				y := luminance(l)
				k := night * 0.06 / (0.06 + y)
				grey := vec{0.86 * y, 0.97 * y, 1.16 * y}
				l = add(mul(l, 1-k), mul(grey, k))
			}
			// Half a count of noise, so that dark walls show no bands.
			noise := uint32(x*7919+r*104729) * 2654435761
			n := noise >> 24
			pix[0] = uint8(min(255*256, p.tone.of(l[0])+n) >> 8)
			pix[1] = uint8(min(255*256, p.tone.of(l[1])+n) >> 8)
			pix[2] = uint8(min(255*256, p.tone.of(l[2])+n) >> 8)
			pix[3] = 255
		}
	}
}

// lit returns the illuminance at a place on the grid of a chart.
func (w *World) lit(c *chart, u, v float32) vec {
	u, v = max(0, min(float32(c.nx-1), u)), max(0, min(float32(c.ny-1), v))
	i, j := min(int32(u), c.nx-2), min(int32(v), c.ny-2)
	fx, fy := u-float32(i), v-float32(j)
	k := c.first + j*c.nx + i
	p, q := w.light[k:k+2:k+2], w.light[k+c.nx:k+c.nx+2:k+c.nx+2]
	a, b, d, e := (1-fx)*(1-fy), fx*(1-fy), (1-fx)*fy, fx*fy
	return vec{
		p[0][0]*a + p[1][0]*b + q[0][0]*d + q[1][0]*e,
		p[0][1]*a + p[1][1]*b + q[0][1]*d + q[1][1]*e,
		p[0][2]*a + p[1][2]*b + q[0][2]*d + q[1][2]*e,
	}
}

// sample returns the reflectance of the grain at u, v mm on the chart, where one
// pixel goes ux, vx across and uy, vy down. What is seen at a low angle is taken
// from several places along the pixel, not blurred both ways.
func (s *sheet) sample(u, v, ux, vx, uy, vy float32) vec {
	a, b := ux*ux+vx*vx, uy*uy+vy*vy
	long, short, lu, lv := a, b, ux, vx
	if b > a {
		long, short, lu, lv = b, a, uy, vy
	}
	taps := 1
	for taps < 4 && short*float32(taps*taps)*1.7 < long && long > s.size*s.size {
		taps++
	}
	fine := max(short, long/float32(taps*taps))
	level := 0
	for size := s.size * s.size * 2; size < fine && level < len(s.levels)-1; size *= 4 {
		level++
	}
	l := &s.levels[level]
	k := 1 / (s.size * float32(int32(1)<<level))
	if taps == 1 {
		return l.at(u*k-0.5, v*k-0.5)
	}
	var sum vec
	for t := range taps {
		o := (float32(t)+0.5)/float32(taps) - 0.5
		sum = add(sum, l.at((u+lu*o)*k-0.5, (v+lv*o)*k-0.5))
	}
	return mul(sum, 1/float32(taps))
}

// squares are the reflectances of the codes of a sheet.
var squares = func() (t [256]float32) {
	for i := range t {
		f := float32(i) / 255
		t[i] = f * f
	}
	return t
}()

func (l *level) at(x, y float32) vec {
	x, y = max(0, min(float32(l.nx-1), x)), max(0, min(float32(l.ny-1), y))
	i, j := int32(x), int32(y)
	i1, j1 := min(i+1, l.nx-1), min(j+1, l.ny-1)
	fx, fy := x-float32(i), y-float32(j)
	p, q, r, s := &l.texel[j*l.nx+i], &l.texel[j*l.nx+i1], &l.texel[j1*l.nx+i], &l.texel[j1*l.nx+i1]
	a, b, d, e := (1-fx)*(1-fy), fx*(1-fy), (1-fx)*fy, fx*fy
	return vec{
		squares[p[0]]*a + squares[q[0]]*b + squares[r[0]]*d + squares[s[0]]*e,
		squares[p[1]]*a + squares[q[1]]*b + squares[r[1]]*d + squares[s[1]]*e,
		squares[p[2]]*a + squares[q[2]]*b + squares[r[2]]*d + squares[s[2]]*e,
	}
}

// Meter returns what the eye has got used to: for a grid of places that a camera
// sees, how much light makes a middle tone, darker by night, so that night stays
// night; and the colour of that light, to which an eye adapts in part.
func (w *World) Meter(c scene.Camera) Exposure {
	const side = 22
	d := vecOf(c.At.Sub(c.Eye).Normalize())
	x := unitOf(cross(d, vecOf(c.Up)))
	y := cross(x, d)
	tan := float32(math.Tan(c.Angle / 2))
	var sum, weight float64
	var lit vec
	for j := range side {
		for i := range side {
			a, b := (float32(i)+0.5)/side*2-1, (float32(j)+0.5)/side*2-1
			dir := unitOf(add(d, add(mul(x, a*tan*1.3), mul(y, b*tan))))
			h, ok := w.tree.cast(vecOf(c.Eye), dir, math.MaxFloat32)
			if !ok || h.back || w.scene.Triangles[h.id].Lamp > 0 {
				continue
			}
			k := w.pointAt(h)
			l := float64(luminance(times(w.light[k], w.point[k].albedo)) / math.Pi)
			g := math.Exp(-float64(a*a+b*b) * 0.8) // the middle counts most
			sum += g * math.Pow(l, meterPower)
			weight += g
			lit = add(lit, mul(w.light[k], float32(g*math.Pow(l+1e-6, meterPower-1))))
		}
	}
	if weight == 0 || sum == 0 {
		return Exposure{Gain: 0.02, White: vec{1, 1, 1}}
	}
	mean := math.Pow(sum/weight, 1/meterPower)
	// An eye follows the light, but not all the way.
	const bright = 25.0 // cd/m² of a room by day
	key := 0.46 * math.Pow(math.Min(1, mean/bright), 0.13)
	white := vec{1, 1, 1}
	if y := luminance(lit); y > 0 {
		for i := range white {
			white[i] = float32(math.Pow(float64(max(lit[i]/y, 0.02)), -adapted))
		}
		white = mul(white, 1/luminance(white))
	}
	return Exposure{Gain: key / mean, White: white}
}

// vivid is how much colour is given before the curve of tones, by eye.
const vivid = 1.22

// meterPower weighs bright places against dark ones: 1 would be their plain
// mean, 0 that of their logarithms. adapted is how far an eye gets used to the
// colour of the light. Both by eye.
const (
	meterPower = 0.45
	adapted    = 0.62
)

// Exposure is what an eye has got used to: what candela per square metre are
// multiplied with, and how much of each colour.
type Exposure struct {
	Gain  float64
	White [3]float32
}
