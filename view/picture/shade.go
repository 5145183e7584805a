package picture

import (
	"image"
	"math"
	"slices"

	"risewright/view/scene"
)

// shade colours the pixels of a band, run by run of what shows the same triangle.
func (p *Painter) shade(w *World, b int, eye vec, exposure vec, night float32, img *image.RGBA) {
	s := shader{w: w, tone: p.tone, eye: eye, exposure: exposure, night: night}
	for r := b * bandRows; r < min(p.h, (b+1)*bandRows); r++ {
		out := img.Pix[(r-img.Rect.Min.Y)*img.Stride:]
		ids, depths := p.id[r*p.w:(r+1)*p.w], p.depth[r*p.w:(r+1)*p.w]
		for x := p.from; x < p.to; {
			id, end := ids[x], x+1
			for end < p.to && ids[end] == id {
				end++
			}
			pix := out[4*x : 4*end : 4*end]
			switch {
			case id < 0:
				for i := 0; i < len(pix); i += 4 {
					pix[i], pix[i+1], pix[i+2], pix[i+3] = 22, 23, 26, 255
				}
			case p.flats[id].lamp > 0:
				l := times(w.lampGlow[p.flats[id].lamp-1], exposure)
				for i := x; i < end; i++ {
					s.pixel(l[0], l[1], l[2], i, r, pix[4*(i-x):])
				}
			default:
				s.run(&p.flats[id], x, r, depths[x:end], pix)
			}
			x = end
		}
	}
}

// shader colours runs of pixels. Where it goes through every pixel, colours are
// single numbers and not vectors, because the compiler keeps those in registers.
type shader struct {
	w             *World
	tone          *tone
	eye, exposure vec
	night         float32
}

// spot is what is known where a pixel lies: the place on the chart's grid, the
// light that a body of reflectance 1 sends to the eye, and what its coat mirrors.
type spot struct {
	u, v         float32
	body, mirror vec
}

// apart is how many pixels lie between two spots of a run. Between them all but
// the grain is taken for linear: they lie closer than the points of light, but
// for what is too far away to show it.
const apart = 4

// spot returns what is known at a pixel.
func (s *shader) spot(f *flat, c *chart, mat *surface, x, y, depth float32) (at spot) {
	wd := 1 / depth
	at.u, at.v = (f.su[0]*x+f.su[1]*y+f.su[2])*wd, (f.sv[0]*x+f.sv[1]*y+f.sv[2])*wd
	through := float32(1)
	if c.probe >= 0 {
		d := unitOf(sub(add(c.origin, add(mul(c.ex, at.u*c.dx), mul(c.ey, at.v*c.dy))), s.eye))
		cosine := dot(d, c.normal)
		share := mat.mirrors(-cosine)
		at.mirror = mul(times(s.w.probes[c.probe].seen(sub(d, mul(c.normal, 2*cosine))), s.exposure), share)
		through -= share
	}
	at.body = mul(times(s.w.lit(c, at.u, at.v), s.exposure), through/math.Pi)
	return at
}

// run colours the pixels of one triangle in a row.
func (s *shader) run(f *flat, x, r int, depths []float32, pix []uint8) {
	c := &s.w.chart[f.chart]
	mat := &s.w.mats[c.material]
	red, green, blue := mat.albedo[0], mat.albedo[1], mat.albedo[2]
	y := float32(r) + 0.5
	last := len(depths) - 1
	a := s.spot(f, c, mat, float32(x)+0.5, y, depths[0])
	for i := 0; i <= last; {
		j, b, k := min(i+apart, last), a, float32(0)
		if j > i {
			b = s.spot(f, c, mat, float32(x+j)+0.5, y, depths[j])
			k = 1 / float32(j-i)
		}
		l0, l1, l2, m0, m1, m2 := a.body[0], a.body[1], a.body[2], a.mirror[0], a.mirror[1], a.mirror[2]
		dl0, dl1, dl2 := (b.body[0]-l0)*k, (b.body[1]-l1)*k, (b.body[2]-l2)*k
		dm0, dm1, dm2 := (b.mirror[0]-m0)*k, (b.mirror[1]-m1)*k, (b.mirror[2]-m2)*k
		var g grain
		u, v := a.u*c.dx, a.v*c.dy
		du, dv := (b.u-a.u)*c.dx*k, (b.v-a.v)*c.dy*k
		if c.sheet >= 0 {
			// How far the place on the grid moves from pixel to pixel.
			wd := 1 / depths[i]
			g = s.w.sheets[c.sheet].grain((f.su[0]-a.u*f.siw[0])*wd*c.dx, (f.sv[0]-a.v*f.siw[0])*wd*c.dy,
				(f.su[1]-a.u*f.siw[1])*wd*c.dx, (f.sv[1]-a.v*f.siw[1])*wd*c.dy)
		}
		end := j
		if j == last {
			end++
		}
		for n := i; n < end; n++ {
			if c.sheet >= 0 {
				red, green, blue = g.at(u, v)
			}
			s.pixel(l0*red+m0, l1*green+m1, l2*blue+m2, x+n, r, pix[4*n:])
			u, v = u+du, v+dv
			l0, l1, l2 = l0+dl0, l1+dl1, l2+dl2
			m0, m1, m2 = m0+dm0, m1+dm1, m2+dm2
		}
		i, a = end, b
	}
}

// pixel writes the code of a colour as the eye sees it.
func (s *shader) pixel(red, green, blue float32, x, r int, pix []uint8) {
	// The curve takes colour out of what is bright; give it some beforehand.
	grey := (0.2126*red + 0.7152*green + 0.0722*blue) * (1 - vivid)
	red, green, blue = max(0, red*vivid+grey), max(0, green*vivid+grey), max(0, blue*vivid+grey)
	if s.night > 0 { // an eye used to the dark sees less colour
		y := 0.2126*red + 0.7152*green + 0.0722*blue
		k := s.night * 0.06 / (0.06 + y)
		red += (0.86*y - red) * k
		green += (0.97*y - green) * k
		blue += (1.16*y - blue) * k
	}
	// Half a count of noise, so that dark walls show no bands.
	n := uint32(x*7919+r*104729) * 2654435761 >> 24
	pix = pix[:4:4]
	pix[0] = uint8(min(255*256, s.tone.of(red)+n) >> 8)
	pix[1] = uint8(min(255*256, s.tone.of(green)+n) >> 8)
	pix[2] = uint8(min(255*256, s.tone.of(blue)+n) >> 8)
	pix[3] = 255
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

// grain is how a pixel reads a sheet: from which level, in how many taps along
// its longer side, and how far that reaches, in texels.
type grain struct {
	level  *level
	k      float32 // texels a mm
	taps   int
	lu, lv float32
}

// grain returns how to read a sheet where one pixel goes ux, vx mm across and uy,
// vy down. What is seen at a low angle is taken from several places along the
// pixel, not blurred both ways.
func (s *sheet) grain(ux, vx, uy, vy float32) grain {
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
	k := 1 / (s.size * float32(int32(1)<<level))
	return grain{&s.levels[level], k, taps, lu * k, lv * k}
}

// at returns the reflectance at u, v mm on the chart.
func (g *grain) at(u, v float32) (red, green, blue float32) {
	u, v = u*g.k-0.5, v*g.k-0.5
	if g.taps == 1 {
		return g.level.at(u, v)
	}
	k := 1 / float32(g.taps)
	for t := range g.taps {
		o := (float32(t)+0.5)*k - 0.5
		r1, g1, b1 := g.level.at(u+g.lu*o, v+g.lv*o)
		red, green, blue = red+r1, green+g1, blue+b1
	}
	return red * k, green * k, blue * k
}

// squares are the reflectances of the codes of a sheet.
var squares = func() (t [256]float32) {
	for i := range t {
		f := float32(i) / 255
		t[i] = f * f
	}
	return t
}()

func (l *level) at(x, y float32) (red, green, blue float32) {
	x, y = max(0, min(float32(l.nx-1), x)), max(0, min(float32(l.ny-1), y))
	i, j := int(x), int(y)
	fx, fy := x-float32(i), y-float32(j)
	k := j*int(l.nx) + i
	right, down := 1, int(l.nx)
	if i+1 >= int(l.nx) {
		right = 0
	}
	if j+1 >= int(l.ny) {
		down = 0
	}
	p, q, r, s := &l.texel[k], &l.texel[k+right], &l.texel[k+down], &l.texel[k+down+right]
	b, d, e := fx*(1-fy), (1-fx)*fy, fx*fy
	a := 1 - b - d - e
	return squares[p[0]]*a + squares[q[0]]*b + squares[r[0]]*d + squares[s[0]]*e,
		squares[p[1]]*a + squares[q[1]]*b + squares[r[1]]*d + squares[s[1]]*e,
		squares[p[2]]*a + squares[q[2]]*b + squares[r[2]]*d + squares[s[2]]*e
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
	var seen []float64
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
			seen = append(seen, l)
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
	// What is brightest keeps its colour and its edges.
	slices.Sort(seen)
	return Exposure{Gain: math.Min(key/mean, brightest/seen[len(seen)*19/20]), White: white}
}

// vivid is how much colour is given before the curve of tones, by eye.
const vivid = 1.22

// brightest is where the brightest twentieth of what is seen goes before the
// curve of tones at most, by eye.
const brightest = 1.5

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
