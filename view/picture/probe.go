package picture

import "math"

// probe is what is seen in all directions from a place over a shiny surface,
// blurred: what its clear coat mirrors. Directions lie on a square by the
// octahedral map (Meyer and others 2010; from memory).
type probe struct {
	at    vec
	grit  float32
	ways  []int32 // of each direction, as in World.ways; fromLamp and below is a lamp
	light []vec   // probeSide² luminances
}

const (
	probeSide = 24
	fromLamp  = -10 // less the place of the lamp
)

// placeProbes puts a probe over every level surface that has a clear coat.
func (w *World) placeProbes() {
	for i := range w.chart {
		c := &w.chart[i]
		m := &w.mats[c.material]
		area := c.dx * float32(c.nx-1) * c.dy * float32(c.ny-1)
		if m.gloss <= 0.2 || !m.grain || c.normal[2] < 0.8 || area < 2e4 {
			continue
		}
		at := add(c.origin, add(mul(c.ex, c.dx*float32(c.nx-1)/2), mul(c.ey, c.dy*float32(c.ny-1)/2)))
		// Close to the surface, or a coat would mirror what is as high as the
		// probe: on a tread the light bar over it, and not the foot of the riser.
		p := probe{at: add(at, mul(c.normal, 5)), grit: m.grit}
		p.ways = make([]int32, probeSide*probeSide)
		for j := range probeSide {
			for k := range probeSide {
				d := unfold((float32(k)+0.5)/probeSide*2-1, (float32(j)+0.5)/probeSide*2-1)
				way := int32(fromSky)
				if h, ok := w.tree.cast(p.at, d, math.MaxFloat32); ok {
					switch l := w.scene.Triangles[h.id].Lamp; {
					case h.back:
						way = fromDark
					case l > 0:
						way = fromLamp - int32(l-1)
					default:
						way = w.pointAt(h)
					}
				}
				p.ways[j*probeSide+k] = way
			}
		}
		c.probe = int32(len(w.probes))
		w.probes = append(w.probes, p)
	}
}

// unfold returns the unit direction of a place on the square from -1 to 1.
func unfold(u, v float32) vec {
	z := 1 - abs(u) - abs(v)
	if z < 0 {
		u, v = (1-abs(v))*sign(u), (1-abs(u))*sign(v)
	}
	return unitOf(vec{u, v, z})
}

// fold returns the place of a direction on the square.
func fold(d vec) (u, v float32) {
	k := 1 / (abs(d[0]) + abs(d[1]) + abs(d[2]))
	u, v = d[0]*k, d[1]*k
	if d[2] < 0 {
		u, v = (1-abs(v))*sign(u), (1-abs(u))*sign(v)
	}
	return u, v
}

func abs(v float32) float32 {
	if v < 0 {
		return -v
	}
	return v
}

func sign(v float32) float32 {
	if v < 0 {
		return -1
	}
	return 1
}

// fillProbe works out what a probe sees, from the light at hand.
func (w *World) fillProbe(p *probe, power []vec) {
	raw := make([]vec, probeSide*probeSide)
	s := w.scene
	for i, way := range p.ways {
		switch {
		case way >= 0:
			raw[i] = mul(times(w.light[way], w.point[way].albedo), 1/math.Pi)
		case way == fromSky:
			raw[i] = vec{float32(s.Sky[0]), float32(s.Sky[1]), float32(s.Sky[2])}
		case way <= fromLamp:
			raw[i] = w.glow(int(fromLamp-way), power)
		}
	}
	// The coat blurs what it mirrors by its roughness.
	p.light = make([]vec, len(raw))
	spread := 0.06 + 0.55*float64(p.grit)*float64(p.grit)*2
	r := int(math.Ceil(spread * probeSide / 2 * 1.2))
	for j := range probeSide {
		for i := range probeSide {
			d := unfold((float32(i)+0.5)/probeSide*2-1, (float32(j)+0.5)/probeSide*2-1)
			var sum vec
			weight := float32(0)
			for dj := -r; dj <= r; dj++ {
				for di := -r; di <= r; di++ {
					x, y := i+di, j+dj
					if x < 0 || y < 0 || x >= probeSide || y >= probeSide {
						continue
					}
					e := unfold((float32(x)+0.5)/probeSide*2-1, (float32(y)+0.5)/probeSide*2-1)
					k := float32(math.Exp(-float64(1-dot(d, e)) / (spread * spread)))
					sum = add(sum, mul(raw[y*probeSide+x], k))
					weight += k
				}
			}
			p.light[j*probeSide+i] = mul(sum, 1/max(weight, 1e-9))
		}
	}
}

// glow is the luminance of a lamp's face.
func (w *World) glow(i int, power []vec) vec {
	l := &w.scene.Lamps[i]
	area := l.U.Len() * l.V.Len() * 1e-6
	if !(area > 0) {
		return vec{}
	}
	return mul(power[i], float32(1/(math.Pi*area)))
}

// seen returns what a probe has along a direction.
func (p *probe) seen(d vec) vec {
	u, v := fold(d)
	x, y := (u+1)*(probeSide/2)-0.5, (v+1)*(probeSide/2)-0.5
	x, y = max(0, min(probeSide-1.001, x)), max(0, min(probeSide-1.001, y))
	i, j := int(x), int(y)
	fx, fy := x-float32(i), y-float32(j)
	k := j*probeSide + i
	a, b, c, e := p.light[k], p.light[k+1], p.light[k+probeSide], p.light[k+probeSide+1]
	return add(mul(add(mul(a, 1-fx), mul(b, fx)), 1-fy), mul(add(mul(c, 1-fx), mul(e, fx)), fy))
}
