package still

import (
	"math"

	"risewright/view/scene"
)

// pixel is what the samples of one pixel add up to. Light is kept apart as in
// look, because each part wants another filter.
type pixel struct {
	straight, around, rest [3]float32
	squares                [3]float32 // of the luminance of each
	body, normal           [3]float32
	far                    float32
	n                      float32
}

// add adds a sample.
func (p *pixel) add(l *look) {
	plus := func(sum *[3]float32, c rgb) {
		sum[0] += float32(c.r)
		sum[1] += float32(c.g)
		sum[2] += float32(c.b)
	}
	plus(&p.straight, l.straight)
	plus(&p.around, l.around)
	plus(&p.rest, l.rest)
	plus(&p.body, l.body)
	plus(&p.normal, rgb{l.normal.x, l.normal.y, l.normal.z})
	for i, c := range [3]rgb{l.straight, l.around, l.rest} {
		y := float32(c.luminance())
		p.squares[i] += y * y
	}
	p.far += float32(l.far)
	p.n++
}

// merge adds the samples of another pixel.
func (p *pixel) merge(q *pixel) {
	for i := range 3 {
		p.straight[i] += q.straight[i]
		p.around[i] += q.around[i]
		p.rest[i] += q.rest[i]
		p.squares[i] += q.squares[i]
		p.body[i] += q.body[i]
		p.normal[i] += q.normal[i]
	}
	p.far += q.far
	p.n += q.n
}

// light returns the mean of all light.
func (p *pixel) light() rgb {
	if p.n == 0 {
		return rgb{}
	}
	k := 1 / float64(p.n)
	return rgb{
		float64(p.straight[0]+p.around[0]+p.rest[0]) * k,
		float64(p.straight[1]+p.around[1]+p.rest[1]) * k,
		float64(p.straight[2]+p.around[2]+p.rest[2]) * k,
	}
}

// spread returns the variance of the mean luminance of one part, as if the
// samples were independent. With fewer than two samples it is unknown: -1.
func (p *pixel) spread(sum *[3]float32, i int) float64 {
	if p.n < 2 {
		return -1
	}
	n := float64(p.n)
	mean := rgb{float64(sum[0]), float64(sum[1]), float64(sum[2])}.luminance() / n
	return max(0, float64(p.squares[i])/n-mean*mean) / (n - 1)
}

// Film is light as it fell on the picture, before it is made fit for a screen.
// It is a copy and read-only.
type Film struct {
	W, H   int
	pixels []pixel // row by row from the top left
	angle  float64 // between neighbouring pixels, rad
	split  int     // the first column of another scene than at its left; 0: none
}

// At returns the mean light of the samples of a pixel, linear RGB in cd/m².
func (f *Film) At(x, y int) scene.Colour { return f.pixels[y*f.W+x].light().colour() }

// Lux returns the illuminance of what a pixel shows, read off the light that its
// body sends back: luminance × π / reflectance. It is right for a surface
// without a coat; a body under one gets a little less. Ok is false where the
// pixel shows nothing, or something black.
func (f *Film) Lux(x, y int) (lux float64, ok bool) {
	p := &f.pixels[y*f.W+x]
	body := rgb{float64(p.body[0]), float64(p.body[1]), float64(p.body[2])}.luminance()
	if p.n == 0 || !(body > 1e-3*float64(p.n)) {
		return 0, false
	}
	back := rgb{
		float64(p.straight[0] + p.around[0]), float64(p.straight[1] + p.around[1]), float64(p.straight[2] + p.around[2]),
	}.luminance()
	return math.Pi * back / body, true
}

// Samples returns the mean number of samples of a pixel.
func (f *Film) Samples() float64 {
	sum := 0.0
	for i := range f.pixels {
		sum += float64(f.pixels[i].n)
	}
	return sum / float64(max(len(f.pixels), 1))
}

// Grain returns how uneven the picture still is: the root of the mean of the
// squared standard error over the luminance of each pixel, where what is dark
// counts as a tenth of the mean, because the eye takes noise by ratio but sees
// none in the dark. 0.1 is as coarse as a fast film, 0.02 hardly seen. The even
// spread of the samples, and the filter, make the true error smaller. It is
// infinite while no pixel has two samples.
func (f *Film) Grain() float64 {
	mean, n := 0.0, 0
	for i := range f.pixels {
		if p := &f.pixels[i]; p.n > 0 && p.far > 0 {
			mean += min(p.light().luminance(), 1e6)
			n++
		}
	}
	if n == 0 {
		return math.Inf(1)
	}
	floor := 0.1 * mean / float64(n)
	sum, m := 0.0, 0
	for i := range f.pixels {
		p := &f.pixels[i]
		if p.n < 2 || p.far == 0 {
			continue
		}
		v := p.spread(&p.straight, 0) + p.spread(&p.around, 1) + p.spread(&p.rest, 2)
		l := p.light().luminance() + floor
		if l > 0 {
			sum += min(v/(l*l), 1) // one lucky pixel is one pixel
		}
		m++
	}
	if m == 0 {
		return math.Inf(1)
	}
	return math.Sqrt(sum / float64(m))
}

// shrunk returns the film with every by × by pixels made one. Pixels without
// samples take no part, so a film that is only begun shows all that is there.
func (f *Film) shrunk(by int) *Film {
	w, h := max(f.W/by, 1), max(f.H/by, 1)
	out := &Film{W: w, H: h, pixels: make([]pixel, w*h), angle: f.angle * float64(by), split: (f.split + by/2) / by}
	inRows(h, 0, func(y int) {
		for x := range w {
			p := &out.pixels[y*w+x]
			for j := y * by; j < min((y+1)*by, f.H); j++ {
				for i := x * by; i < min((x+1)*by, f.W); i++ {
					p.merge(&f.pixels[j*f.W+i])
				}
			}
		}
	})
	return out
}

// filled returns the film with pixels that have no sample yet showing the one
// nearest in their block of four by four.
func (f *Film) filled() {
	for i := range f.pixels {
		if f.pixels[i].n > 0 {
			continue
		}
		x, y := i%f.W, i/f.W
		best, at := 1<<30, -1
		for v := y &^ 3; v < min(y&^3+4, f.H); v++ {
			for u := x &^ 3; u < min(x&^3+4, f.W); u++ {
				d := (u-x)*(u-x) + (v-y)*(v-y)
				// A pixel filled a moment ago has a fraction of a sample.
				if p := &f.pixels[v*f.W+u]; p.n >= 1 && d < best {
					best, at = d, v*f.W+u
				}
			}
		}
		if at >= 0 {
			p := f.pixels[at]
			k := 0.5 / p.n
			q := pixel{n: 0.5, far: p.far * k}
			for c := range 3 {
				q.straight[c], q.around[c], q.rest[c] = p.straight[c]*k, p.around[c]*k, p.rest[c]*k
				q.body[c], q.normal[c], q.squares[c] = p.body[c]*k, p.normal[c]*k, p.squares[c]*k
			}
			f.pixels[i] = q
		}
	}
}
