package still

import (
	"math"

	"risewright/view/scene"
)

// This file says how a surface sends light on: a diffuse body under a clear coat.
// Directions are in the frame of the surface, away from it, with z its normal.

const (
	// coatIndex is the refractive index of a clear coat, as scene.Material says.
	coatIndex = 1.5
	// sharpest is the least spread of a mirror (α of GGX): a tenth of a degree
	// or so, below what a picture shows, above the rounding of the formulas.
	sharpest = 2e-3
	// softened is the least spread of a coat that is seen by way of a matt
	// surface: it makes a picture calm without changing how much light there is.
	softened = 0.25
	// tableSize is the number of steps of the coat's albedo over the cosine.
	tableSize = 64
	// coatSamples go into every entry of the table.
	coatSamples = 512
)

// coat is a rough mirror of one spread, and the share of light it takes.
type coat struct {
	alpha float64
	// albedo is the share of light from a direction that the whole coat
	// reflects, by the cosine: entry i is at (i+0.5)/tableSize. mean is that of
	// light from everywhere, 2 ∫ albedo(μ) μ dμ.
	albedo [tableSize]float64
	mean   float64
}

// newCoat measures a coat of spread α.
func newCoat(alpha float64) *coat {
	c := &coat{alpha: max(alpha, sharpest)}
	for i := range c.albedo {
		mu := (float64(i) + 0.5) / tableSize
		o := vec{math.Sqrt(1 - mu*mu), 0, mu}
		sum := 0.0
		for k := range coatSamples {
			p := pointsOf(1, i, k)
			a, b := p.next()
			h := c.facet(o, a, b)
			w := h.mul(2 * o.dot(h)).sub(o)
			if w.z > 0 {
				// The density of the facet leaves F G2/G1.
				sum += fresnel(o.dot(h)) * c.both(o, w) / c.one(o)
			}
		}
		c.albedo[i] = sum / coatSamples
		c.mean += 2 * c.albedo[i] * mu / tableSize
	}
	return c
}

// takes returns the share of light from a direction of cosine mu that the coat
// reflects.
func (c *coat) takes(mu float64) float64 {
	at := mu*tableSize - 0.5
	i := int(at)
	switch {
	case at <= 0:
		return c.albedo[0]
	case i >= tableSize-1:
		return c.albedo[tableSize-1]
	}
	f := at - float64(i)
	return c.albedo[i]*(1-f) + c.albedo[i+1]*f
}

// fresnel returns the share that a film reflects at a cosine to its normal, for
// light of no polarisation (Fresnel's equations; Hecht, Optics).
func fresnel(cos float64) float64 {
	cos = min(math.Abs(cos), 1)
	in2 := (1 - cos*cos) / (coatIndex * coatIndex)
	t := math.Sqrt(1 - in2)
	s := (cos - coatIndex*t) / (cos + coatIndex*t)
	p := (coatIndex*cos - t) / (coatIndex*cos + t)
	return (s*s + p*p) / 2
}

// lambda is Smith's function of GGX (Walter 2007; Heitz 2014).
func (c *coat) lambda(w vec) float64 {
	z2 := w.z * w.z
	if z2 >= 1 {
		return 0
	}
	return (math.Sqrt(1+c.alpha*c.alpha*(1-z2)/z2) - 1) / 2
}

// one and both are the shares of facets seen from o, and from o and w.
func (c *coat) one(o vec) float64     { return 1 / (1 + c.lambda(o)) }
func (c *coat) both(o, w vec) float64 { return 1 / (1 + c.lambda(o) + c.lambda(w)) }

// density of facets about h, by projected area.
func (c *coat) facets(h vec) float64 {
	a2 := c.alpha * c.alpha
	d := (h.x*h.x+h.y*h.y)/a2 + h.z*h.z
	return 1 / (math.Pi * a2 * d * d)
}

// facet returns the normal of a facet that o sees (Heitz 2018, "Sampling the GGX
// distribution of visible normals").
func (c *coat) facet(o vec, a, b float64) vec {
	v := vec{c.alpha * o.x, c.alpha * o.y, o.z}.unit()
	t1 := vec{1, 0, 0}
	if l := v.x*v.x + v.y*v.y; l > 0 {
		l = 1 / math.Sqrt(l)
		t1 = vec{-v.y * l, v.x * l, 0}
	}
	t2 := v.cross(t1)
	r := math.Sqrt(a)
	sin, cos := math.Sincos(2 * math.Pi * b)
	p1, p2 := r*cos, r*sin
	s := (1 + v.z) / 2
	p2 = (1-s)*math.Sqrt(max(0, 1-p1*p1)) + s*p2
	n := t1.mul(p1).add(t2.mul(p2)).add(v.mul(math.Sqrt(max(0, 1-p1*p1-p2*p2))))
	return vec{c.alpha * n.x, c.alpha * n.y, max(1e-9, n.z)}.unit()
}

// finish is the surface at one place: its body's reflectance and its coat.
type finish struct {
	body  rgb
	gloss float64
	coat  *coat
}

// choice returns the chance with which a direction is taken from the coat.
func (f *finish) choice(o vec) float64 {
	if f.gloss <= 0 {
		return 0
	}
	e := f.gloss * f.coat.takes(o.z)
	body := (1 - e) * f.body.luminance()
	// Never so seldom that one of the two is found by luck.
	return min(max(e/(e+body+1e-9), 0.1), 0.9)
}

// sends returns how the surface sends light from w to o, per steradian and
// without the cosine: from its body and from its coat.
func (f *finish) sends(o, w vec) (body rgb, mirror float64) {
	if o.z <= 0 || w.z <= 0 {
		return rgb{}, 0
	}
	if f.gloss <= 0 {
		return f.body.mul(1 / math.Pi), 0
	}
	c := f.coat
	h := o.add(w).unit()
	mirror = f.gloss * fresnel(o.dot(h)) * c.facets(h) * c.both(o, w) / (4 * o.z * w.z)
	k := (1 - f.gloss*c.takes(o.z)) * (1 - f.gloss*c.takes(w.z)) / (math.Pi * (1 - f.gloss*c.mean))
	return f.body.mul(k), mirror
}

// density returns how likely w is to be taken when light goes to o, per
// steradian; p is choice(o).
func (f *finish) density(o, w vec, p float64) float64 {
	if o.z <= 0 || w.z <= 0 {
		return 0
	}
	d := (1 - p) * w.z / math.Pi
	if p > 0 {
		h := o.add(w).unit()
		d += p * f.coat.facets(h) * f.coat.one(o) / (4 * o.z)
	}
	return d
}

// direction takes a direction for light that goes to o.
func (f *finish) direction(o vec, p, lobe, a, b float64) vec {
	if lobe < p {
		h := f.coat.facet(o, a, b)
		return h.mul(2 * o.dot(h)).sub(o)
	}
	return cosine(a, b)
}

// cosine returns a direction by Lambert's law.
func cosine(a, b float64) vec {
	r := math.Sqrt(a)
	sin, cos := math.Sincos(2 * math.Pi * b)
	return vec{r * cos, r * sin, math.Sqrt(max(0, 1-a))}
}

// paint is a material made ready.
type paint struct {
	scene.Material
	coat, soft *coat
}

// paintsOf readies the materials; those of one spread share a coat.
func paintsOf(s *scene.Scene) []paint {
	coats := map[float64]*coat{}
	ready := func(alpha float64) *coat {
		if coats[alpha] == nil {
			coats[alpha] = newCoat(alpha)
		}
		return coats[alpha]
	}
	out := make([]paint, len(s.Materials))
	for i, m := range s.Materials {
		out[i].Material = m
		if m.Gloss > 0 {
			// Rough is what the eye takes for even steps; its square is the spread.
			alpha := max(m.Rough*m.Rough, sharpest)
			out[i].coat, out[i].soft = ready(alpha), ready(max(alpha, softened))
		}
	}
	return out
}

// at returns the finish of a material at a place in its board.
func (p *paint) at(t *scene.Triangle, u, v float64, soft bool) finish {
	f := finish{body: rgbOf(p.Diffuse), gloss: p.Gloss, coat: p.coat}
	if p.Grain != nil {
		f.body = rgbOf(p.Grain.At(t.Board[0].Mul(1 - u - v).Add(t.Board[1].Mul(u)).Add(t.Board[2].Mul(v))))
	}
	if soft {
		f.coat = p.soft
	}
	return f
}
