package still

import "math"

// This file takes the noise out of an early picture without blurring its edges:
// a filter of ever wider steps (Dammertz 2010), led by what is seen and by how
// sure each pixel is (Schied 2017). Where the samples agree it does nothing, so
// with more samples the picture comes to what they say.

const (
	// levels of the filter: at 5 its widest step is 16 pixels to either side
	// twice, which is 64 pixels across.
	levels = 7
	// trust is how many standard errors two neighbours may differ and still be
	// taken for one light.
	trust = 4
	// leastBody is the reflectance below which light is not divided by it.
	leastBody = 0.02
)

// part is one part of the light of a pixel, its luminance, and the variance of
// that.
type part struct {
	light         [3]float32
	lum, variance float32
}

// parts are a pixel's light by way of its body, straight and around, both over
// the body's reflectance, and the rest.
type parts [3]part

// guide is what a pixel shows.
type guide struct {
	normal [3]float32
	at     [3]float32 // mm; the place seen
	reach  float32    // how far from its plane a place may be, mm; 0 where nothing is seen
	lum    float32    // reflectance
	edge   bool       // more than one surface is seen
	left   bool       // of the film's split
}

// smooth returns the light of the film without its noise.
func (f *Film) smooth(cam *camera, workers int) [][3]float32 {
	n := len(f.pixels)
	guides := make([]guide, n)
	bodies := make([][3]float32, n)
	from, to := make([]parts, n), make([]parts, n)
	kx, ky := cam.w/float64(f.W), cam.h/float64(f.H)
	inRows(f.H, workers, func(y int) {
		for x := range f.W {
			i := y*f.W + x
			p := &f.pixels[i]
			if p.n == 0 {
				continue
			}
			k := 1 / p.n
			g := &guides[i]
			g.left = x < f.split
			normal := vec{float64(p.normal[0] * k), float64(p.normal[1] * k), float64(p.normal[2] * k)}
			// An edge within the pixel: what lies to either side is let in.
			edge := normal.len() < 0.97
			normal = normal.unit()
			g.normal = [3]float32{float32(normal.x), float32(normal.y), float32(normal.z)}
			if p.far > 0 {
				r := cam.ray((float64(x)+0.5)*kx, (float64(y)+0.5)*ky)
				far := float64(p.far * k)
				at := r.o.along(r.d, far)
				g.at = [3]float32{float32(at.x), float32(at.y), float32(at.z)}
				g.reach = float32(1 + 1.5*far*f.angle)
				if edge {
					g.reach *= 10
					g.edge = true
				}
			}
			for c := range 3 {
				bodies[i][c] = max(p.body[c]*k, leastBody)
			}
			lum := 0.2126*bodies[i][0] + 0.7152*bodies[i][1] + 0.0722*bodies[i][2]
			g.lum = lum
			for s, sum := range [3]*[3]float32{&p.straight, &p.around, &p.rest} {
				l := &from[i][s]
				l.variance = float32(p.spread(sum, s))
				for c := range 3 {
					l.light[c] = sum[c] * k
					if s < 2 {
						l.light[c] /= bodies[i][c]
					}
				}
				if s < 2 && l.variance > 0 {
					l.variance /= lum * lum
				}
				l.lum = lum32(&l.light)
			}
		}
	})
	f.level(from, to, guides, workers)
	from, to = to, from
	for k := 1; k <= 3; k++ {
		f.widen(from, to, guides, k, workers)
		from, to = to, from
	}
	for k := range levels {
		f.pass(from, to, guides, k, workers)
		from, to = to, from
	}
	out := make([][3]float32, n)
	inRows(f.H, workers, func(y int) {
		for i := y * f.W; i < (y+1)*f.W; i++ {
			for c := range 3 {
				out[i][c] = (from[i][0].light[c]+from[i][1].light[c])*bodies[i][c] + from[i][2].light[c]
			}
		}
	})
	return out
}

func lum32(c *[3]float32) float32 { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] }

// alike returns how much two pixels show the same flat surface, 0 to 1.
func (g *guide) alike(h *guide) float32 {
	if g.left != h.left {
		return 0
	}
	if g.reach == 0 || h.reach == 0 {
		if g.reach == h.reach {
			return 1
		}
		return 0
	}
	d := g.normal[0]*h.normal[0] + g.normal[1]*h.normal[1] + g.normal[2]*h.normal[2]
	if g.edge {
		return max(d, 0) * fall(abs32(g.normal[0]*(h.at[0]-g.at[0])+g.normal[1]*(h.at[1]-g.at[1])+g.normal[2]*(h.at[2]-g.at[2]))/g.reach)
	}
	if d < 0.7 {
		return 0
	}
	d *= d // to the 16th
	d *= d
	d *= d
	d *= d
	off := g.normal[0]*(h.at[0]-g.at[0]) + g.normal[1]*(h.at[1]-g.at[1]) + g.normal[2]*(h.at[2]-g.at[2])
	return d * fall(abs32(off)/g.reach)
}

func abs32(a float32) float32 {
	if a < 0 {
		return -a
	}
	return a
}

// fall is near exp(-x), and 0 from 4 on.
func fall(x float32) float32 {
	k := 1 - x/4
	if k <= 0 {
		return 0
	}
	k *= k
	return k * k
}

// level evens out the variances over three by three pixels that show the same,
// finds one where there are too few samples to know, and takes down single
// pixels far brighter than all their neighbours, which luck has made.
func (f *Film) level(from, to []parts, guides []guide, workers int) {
	inRows(f.H, workers, func(y int) {
		var like [9]float32
		var at [9]int
		for x := range f.W {
			i := y*f.W + x
			n := 0
			for v := max(y-1, 0); v <= min(y+1, f.H-1); v++ {
				for u := max(x-1, 0); u <= min(x+1, f.W-1); u++ {
					j := v*f.W + u
					if w := guides[i].alike(&guides[j]); w > 0 {
						like[n], at[n] = w, j
						n++
					}
				}
			}
			to[i] = from[i]
			for s := range 3 {
				var known, knownWeight, sum, squares, weight, brightest float32
				for k := range n {
					w, p := like[k], &from[at[k]][s]
					sum, squares, weight = sum+w*p.lum, squares+w*p.lum*p.lum, weight+w
					if at[k] != i {
						brightest = max(brightest, p.lum)
					}
					if p.variance >= 0 {
						known, knownWeight = known+w*p.variance, knownWeight+w
					}
				}
				p := &to[i][s]
				if weight > 3 && p.lum > 2*brightest {
					for c := range 3 {
						p.light[c] *= 2 * brightest / p.lum
					}
					p.lum = 2 * brightest
				}
				switch {
				case f.pixels[i].n >= 4 && knownWeight > 0:
					p.variance = known / knownWeight
				case weight > 0:
					mean := sum / weight
					p.variance = max(squares/weight-mean*mean, 0)
					if knownWeight > 0 {
						p.variance = max(p.variance, known/knownWeight)
					}
				default:
					p.variance = 0
				}
			}
		}
	})
}

// widen evens out the variances further, over nine pixels that are 1<<level apart:
// luck that gives one pixel in a hundred its light leaves the others sure of too
// little, so each has to hear of its neighbours' luck.
func (f *Film) widen(from, to []parts, guides []guide, level, workers int) {
	step := 1 << level
	inRows(f.H, workers, func(y int) {
		for x := range f.W {
			i := y*f.W + x
			g := &guides[i]
			var sum [3]float32
			weight := float32(0)
			for v := y - step; v <= y+step; v += step {
				if v < 0 || v >= f.H {
					continue
				}
				for u := x - step; u <= x+step; u += step {
					if u < 0 || u >= f.W {
						continue
					}
					j := v*f.W + u
					if w := g.alike(&guides[j]); w > 0 {
						for s := range 3 {
							sum[s] += w * from[j][s].variance
						}
						weight += w
					}
				}
			}
			to[i] = from[i]
			if weight > 0 {
				for s := range 3 {
					to[i][s].variance = max(to[i][s].variance, sum[s]/weight)
				}
			}
		}
	})
}

// kernel is the B3 spline of Dammertz, half of it.
var kernel = [3]float32{3.0 / 8, 1.0 / 4, 1.0 / 16}

// pass filters the light, looking at 25 pixels that are 1<<level apart. What a
// coat mirrors has no guide, so it is looked at less far, and not across an edge
// of the reflectance.
func (f *Film) pass(from, to []parts, guides []guide, level, workers int) {
	step := 1 << level
	inRows(f.H, workers, func(y int) {
		for x := range f.W {
			i := y*f.W + x
			g, own := &guides[i], &from[i]
			var slack, weight, variance [3]float32
			var sum [3][3]float32
			for s := range 3 {
				p := &own[s]
				// The floor keeps pixels of no variance from standing alone for
				// rounding's sake.
				slack[s] = 0.25 / (trust*float32(math.Sqrt(float64(p.variance))) + 1e-3*p.lum + 1e-9)
				w := kernel[0] * kernel[0]
				weight[s], variance[s] = w, w*w*p.variance
				sum[s] = [3]float32{w * p.light[0], w * p.light[1], w * p.light[2]}
			}
			for dy := -2; dy <= 2; dy++ {
				v := y + dy*step
				if v < 0 || v >= f.H {
					continue
				}
				for dx := -2; dx <= 2; dx++ {
					u := x + dx*step
					if u < 0 || u >= f.W || dx == 0 && dy == 0 {
						continue
					}
					j := v*f.W + u
					like := g.alike(&guides[j])
					if like == 0 {
						continue
					}
					like *= kernel[max(dx, -dx)] * kernel[max(dy, -dy)]
					other := &from[j]
					for s := range 3 {
						q := &other[s]
						k := q.lum - own[s].lum
						if k < 0 {
							k = -k
						}
						if k = 1 - k*slack[s]; k <= 0 {
							continue
						}
						k *= k
						w := like * k * k
						if s == 2 {
							if level > 2 {
								continue
							}
							w *= fall(20 * abs32(g.lum-guides[j].lum))
						}
						sum[s][0] += w * q.light[0]
						sum[s][1] += w * q.light[1]
						sum[s][2] += w * q.light[2]
						weight[s] += w
						variance[s] += w * w * q.variance
					}
				}
			}
			for s := range 3 {
				k := 1 / weight[s]
				p := &to[i][s]
				p.light = [3]float32{sum[s][0] * k, sum[s][1] * k, sum[s][2] * k}
				p.lum, p.variance = lum32(&p.light), variance[s]*k*k
			}
		}
	})
}
