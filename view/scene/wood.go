package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// Wood is the figure of one board: the years of a tree, sawn. It is made from
// nothing but its numbers and its seed, so that a board looks the same in every
// picture of it, and no two boards alike. How the years and pores of a wood lie
// is common knowledge of timber, from memory; the figures are chosen by eye.
type Wood struct {
	early, late, pore Colour
	figure            model.WoodFigure
	ring              float64 // mm
	contrast, rays    float64
	cover             float64 // of the stain
	stain             Colour
	vary              float64
	strip             float64 // width of the staves a board is glued from, mm
	long              float64 // of the boards a floor is laid from; 0: the whole
	seed              uint64
	turn              bool // the grain runs across instead
}

// NewWood returns the figure of a board.
func NewWood(w model.WoodLook, stain model.Finish, seed uint64) *Wood {
	return &Wood{early: Linear(w.Early), late: Linear(w.Late), pore: Linear(w.Pore), figure: w.Figure, ring: w.Ring, contrast: w.Contrast, rays: w.Rays,
		cover: stain.Cover, stain: Linear(stain.Colour), vary: w.Vary, strip: stave, seed: seed}
}

// stave is the usual width of the staves a tread is glued up from, mm: common
// practice, no source.
const stave = 82

// Linear returns the linear colour of an sRGB one (IEC 61966-2-1).
func Linear(c model.RGB) (out Colour) {
	for i, v := range c {
		f := float64(v) / 255
		if f <= 0.04045 {
			out[i] = f / 12.92
		} else {
			out[i] = math.Pow((f+0.055)/1.055, 2.4)
		}
	}
	return out
}

// At returns the reflectance at a place in the board's own axes, mm.
func (w *Wood) At(p mgl64.Vec3) Colour {
	if w.turn {
		p[0], p[1] = p[1], p[0]
	}
	// Which stave: neighbouring ones come from other trees.
	lane := math.Floor(p[1] / w.strip)
	edge := p[1] - lane*w.strip
	own := mix(w.seed, uint64(int64(lane)))
	if w.long > 0 {
		shift := unit(own, 9) * w.long
		lap := math.Floor((p[0] + shift) / w.long)
		own = mix(own, uint64(int64(lap)))
	}
	n := noise{own}
	// The pith lies below the board and off its middle; a little out of line
	// with it, which is what draws arches on a flat-sawn face.
	deep := 14 + 70*unit(own, 1)*unit(own, 1)*2
	aside := (unit(own, 2) - 0.5) * 1.5 * w.strip
	rise := (unit(own, 3) - 0.5) * 0.09
	drift := (unit(own, 4) - 0.5) * 0.05
	x := p[0] + 3000*unit(own, 5)
	y := edge - w.strip/2 - aside - drift*p[0]
	z := p[2] + deep + rise*p[0]
	y += 6 * n.smooth(x/520, y/90, z/90, 11)
	z += 7 * n.smooth(x/430, y/80, z/80, 12)
	r := math.Hypot(y, z)
	r += 0.8*n.smooth(x/260, y/26, z/26, 13) + 0.16*n.smooth(x/90, y/8, z/8, 14)
	// Years differ in width: slow noise along the radius stretches them.
	t := r/w.ring + 0.9*n.smooth(r/(4*w.ring), 0.5, 0.5, 15)
	year := math.Floor(t)
	in := t - year
	strength := 0.65 + 0.35*unit(own, 100+uint64(int64(year)))

	var late, pores float64
	switch w.figure {
	case model.RingPorous: // the year begins with a band of open pores, then dense wood
		late = ramp(in, 0.25, 0.55)
		pores = (1 - ramp(in, 0.18, 0.4)) * strength
	case model.SemiPorous:
		late = ramp(in, 0.3, 0.95)
		pores = (1 - ramp(in, 0.1, 0.8)) * 0.7
	case model.Softwood: // pale, then darker and darker, and a sharp end
		late = math.Pow(in, 3) * strength
		if in > 0.97 {
			late *= (1 - in) / 0.03
		}
	default: // a fine darker line at the end of the year
		late = 0.35*in + 0.65*ramp(in, 0.82, 0.98)*(1-ramp(in, 0.985, 1))
		pores = 0.25
	}
	c := lerp(w.early, w.late, 0.5+(late-0.5)*w.contrast)
	if w.figure == model.Softwood || w.figure == model.DiffusePorous {
		c = lerp(w.early, w.late, late*w.contrast*1.2)
	}
	// Pores are cut open along the grain: short dark dashes.
	if pores > 0 {
		dash := n.smooth(x/9, y/0.55, z/0.55, 21) + 0.6*n.smooth(x/4, y/0.3, z/0.3, 22)
		if k := ramp(dash, 0.18, 0.75) * pores; k > 0 {
			deepness := 0.75
			if w.figure == model.DiffusePorous {
				deepness = 0.25
			}
			c = lerp(c, w.pore, k*deepness)
		}
	}
	// Rays stand square to the years: short flecks, brighter where the saw ran
	// along them.
	if w.rays > 0 {
		round := math.Atan2(y, z) * r
		fleck := n.smooth(x/16, round/0.9, r/14, 31)
		if k := ramp(fleck, 0.35, 0.7) * w.rays; k > 0 {
			c = lerp(c, w.early, 0.22*k)
			for i := range c {
				c[i] *= 1 - 0.10*k
			}
		}
	}
	// Fibres, and clouds that go over the whole stave.
	fine := 1 + 0.055*n.smooth(x/22, y/0.9, z/0.9, 41) + 0.05*n.smooth(x/140, y/9, z/9, 42)
	cloud := 1 + 0.06*n.smooth(x/420, y/60, 0, 43)
	tone := 1 + 0.28*w.vary*(unit(own, 6)-0.5)
	warm := 0.07 * w.vary * (unit(own, 7) - 0.5)
	k := fine * cloud * tone
	c = Colour{c[0] * k * (1 + warm), c[1] * k, c[2] * k * (1 - 1.4*warm)}
	if w.cover > 0 {
		// A stain lies deeper in open pores and early wood.
		l := c.Luminance()
		base := (w.early.Luminance() + w.late.Luminance()) / 2
		rel := 1.0
		if base > 0 {
			rel = l / base
		}
		s := Colour{w.stain[0] * math.Pow(rel, 1.25), w.stain[1] * math.Pow(rel, 1.25), w.stain[2] * math.Pow(rel, 1.25)}
		c = lerp(c, s, w.cover)
	}
	// A hair of shadow where two staves or boards meet.
	if e := math.Min(edge, w.strip-edge); e < 0.35 {
		f := 0.86
		if w.long > 0 {
			f = 0.55
		}
		for i := range c {
			c[i] *= f
		}
	}
	for i := range c {
		c[i] = math.Max(0.004, math.Min(0.95, c[i]))
	}
	return c
}

// Pile is the look of carpet.
type Pile struct {
	colour Colour
	seed   uint64
}

// At returns the reflectance of the pile at a place, mm.
func (c *Pile) At(p mgl64.Vec3) Colour {
	n := noise{c.seed}
	k := 1 + 0.22*n.smooth(p[0]/2.6, p[1]/2.6, p[2]/2.6, 1) + 0.12*n.smooth(p[0]/7, p[1]/7, p[2]/7, 2) + 0.07*n.smooth(p[0]/160, p[1]/90, p[2]/90, 3)
	out := c.colour
	for i := range out {
		out[i] = math.Max(0.01, math.Min(0.9, out[i]*k))
	}
	return out
}

// tiles is a floor of square tiles with joints.
type tiles struct {
	colour, joint Colour
	side          float64
	seed          uint64
}

// At returns the reflectance of the tiles at a place, mm.
func (t *tiles) At(p mgl64.Vec3) Colour {
	i, j := math.Floor(p[0]/t.side), math.Floor(p[1]/t.side)
	x, y := p[0]-i*t.side, p[1]-j*t.side
	own := mix(mix(t.seed, uint64(int64(i))), uint64(int64(j)))
	n := noise{t.seed}
	if math.Min(math.Min(x, t.side-x), math.Min(y, t.side-y)) < 1.6 {
		return t.joint
	}
	k := 1 + 0.07*(unit(own, 1)-0.5) + 0.05*n.smooth(p[0]/140, p[1]/140, unit(own, 2)*9, 1) + 0.03*n.smooth(p[0]/18, p[1]/18, 0, 2)
	return Colour{t.colour[0] * k, t.colour[1] * k, t.colour[2] * k}
}

func lerp(a, b Colour, t float64) Colour {
	return Colour{a[0] + (b[0]-a[0])*t, a[1] + (b[1]-a[1])*t, a[2] + (b[2]-a[2])*t}
}

// ramp goes smoothly from 0 at a to 1 at b.
func ramp(v, a, b float64) float64 {
	t := (v - a) / (b - a)
	if t <= 0 {
		return 0
	}
	if t >= 1 {
		return 1
	}
	return t * t * (3 - 2*t)
}

// mix makes one number of two: the finaliser of splitmix64 (Steele, Lea and
// Flood 2014; constants from memory).
func mix(a, b uint64) uint64 {
	x := a + 0x9e3779b97f4a7c15*(b+1)
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// unit returns a number from 0 up to 1 of its own for a seed and a place.
func unit(seed, at uint64) float64 { return float64(mix(seed, at)>>11) / (1 << 53) }

// noise is smooth noise from -1 to 1.
type noise struct{ seed uint64 }

// smooth returns value noise at a place: eased between random corners of a
// lattice of side 1.
func (n noise) smooth(x, y, z float64, layer uint64) float64 {
	fx, fy, fz := math.Floor(x), math.Floor(y), math.Floor(z)
	tx, ty, tz := ease(x-fx), ease(y-fy), ease(z-fz)
	h := n.seed ^ layer*0x9e3779b97f4a7c15
	x0 := uint64(int64(fx)) * 0x9e3779b185ebca87
	x1 := x0 + 0x9e3779b185ebca87
	y0 := uint64(int64(fy)) * 0xc2b2ae3d27d4eb4f
	y1 := y0 + 0xc2b2ae3d27d4eb4f
	z0 := h + uint64(int64(fz))*0x165667b19e3779f9
	z1 := z0 + 0x165667b19e3779f9
	a := corner(x0^y0, z0)
	a += (corner(x1^y0, z0) - a) * tx
	b := corner(x0^y1, z0)
	b += (corner(x1^y1, z0) - b) * tx
	c := corner(x0^y0, z1)
	c += (corner(x1^y0, z1) - c) * tx
	d := corner(x0^y1, z1)
	d += (corner(x1^y1, z1) - d) * tx
	a += (b - a) * ty
	c += (d - c) * ty
	return a + (c-a)*tz
}

// corner is the noise at a corner of the lattice.
func corner(xy, z uint64) float64 {
	h := xy ^ z
	h = (h ^ h>>29) * 0xbf58476d1ce4e5b9
	h ^= h >> 32
	return float64(int32(h)) * (1.0 / (1 << 31))
}

func ease(t float64) float64 { return t * t * (3 - 2*t) }

// Key tells this figure from others: two with the same key look the same.
func (w *Wood) Key() any { return *w }

// Key tells this pile from others.
func (c *Pile) Key() any { return *c }

// Key tells these tiles from others.
func (t *tiles) Key() any { return *t }
