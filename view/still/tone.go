package still

import (
	"image"
	"math"
	"slices"

	"risewright/solver/lux"
	"risewright/view/scene"
)

// This file makes light fit for a screen, as an eye or a camera would: it
// chooses an exposure, takes part of the light's tint for white, and bends what
// is too bright.

// Tone says how light becomes the colours of a screen. The zero value is black;
// see Film.Tone.
type Tone struct {
	// Exposure is what a luminance, cd/m², is multiplied with before the curve.
	Exposure float64
	// White is what each channel is multiplied with besides, so that white under
	// the light of the scene does not look as tinted as a camera would show it.
	White [3]float64
}

const (
	// middle is where the mean luminance of a scene of dayFrom cd/m² and more
	// goes before the curve, which shows it as a light grey, as interiors are
	// shown.
	middle  = 0.40
	dayFrom = 20
	// dusk is how much darker than that a dimmer scene is shown: its luminance
	// to this power. Eyes adapt almost wholly, and night should look like night.
	dusk     = 0.12
	darkest  = 0.045 // the least middle
	adapting = 0.66  // share of the tint that is taken for white, as an exponent
	// block is how many pixels a side are taken together when exposing, so that
	// noise does not count as darkness.
	block = 8
	// faintest is the luminance, cd/m², that counts as black: starlight on grey.
	faintest = 1e-4
	// brightest is where the brightest twentieth of the picture goes before the
	// curve at most, so that what the lamps light keeps its colour.
	brightest = 1.35
)

// Tone returns an exposure for the film: the geometric mean of its luminance, by
// blocks, goes to a middle grey that is lower for dim scenes, and white is
// taken to lie between the screen's and that of the light on the surfaces.
// Pixels that show nothing take no part, nor do those at the left of a split.
func (f *Film) Tone() Tone {
	var logs []float64
	var tint rgb
	for y := 0; y < f.H; y += block {
		for x := f.split; x < f.W; x += block {
			var sum pixel
			for v := y; v < min(y+block, f.H); v++ {
				for u := x; u < min(x+block, f.W); u++ {
					if p := &f.pixels[v*f.W+u]; p.n > 0 && p.far > 0 {
						sum.merge(p)
					}
				}
			}
			if sum.n == 0 {
				continue
			}
			logs = append(logs, math.Log(max(sum.light().luminance(), faintest)))
			for c, at := range [3]*float64{&tint.r, &tint.g, &tint.b} {
				// What falls on a surface, each block by its brightness's root, so
				// that neither the lamp's own spot nor the dark corners decide.
				e := float64(sum.straight[c]+sum.around[c]) / max(float64(sum.body[c]), leastBody*float64(sum.n))
				*at += math.Sqrt(max(e, 0))
			}
		}
	}
	t := Tone{Exposure: 1, White: [3]float64{1, 1, 1}}
	if len(logs) == 0 {
		return t
	}
	// The darkest and the brightest twentieth are left out: a wall of sky or a
	// black hall would turn the stair dark or pale.
	slices.Sort(logs)
	high := math.Exp(logs[len(logs)*19/20])
	cut := len(logs) / 20
	logs = logs[cut : len(logs)-cut]
	mean := 0.0
	for _, l := range logs {
		mean += l
	}
	mean = math.Exp(mean / float64(len(logs)))
	goal := middle * math.Pow(min(mean/dayFrom, 1), dusk)
	t.Exposure = min(max(goal, darkest)/mean, brightest/high)
	if y := tint.luminance(); y > 0 {
		for c, v := range [3]float64{tint.r, tint.g, tint.b} {
			// Squared, as the roots were summed.
			t.White[c] = math.Pow(max(v/y, 0.05), -2*adapting)
		}
		k := rgb{t.White[0], t.White[1], t.White[2]}.times(rgb{tint.r * tint.r, tint.g * tint.g, tint.b * tint.b}).luminance() /
			rgb{tint.r * tint.r, tint.g * tint.g, tint.b * tint.b}.luminance()
		for c := range 3 {
			t.White[c] /= k
		}
	}
	return t
}

// Colour returns what a screen shows for light in cd/m², each 0 to 1.
func (t Tone) Colour(c [3]float64) [3]float64 {
	for i := range c {
		c[i] = lux.Encode(scene.Curve(c[i] * t.Exposure * t.White[i]))
	}
	return c
}

// shades is a table of the curve and the encoding over the logarithm.
type shades [4096]float32

const (
	shadeFrom = -14.0 // log2 of what is black on a screen
	shadeTo   = 10.0
)

func newShades() *shades {
	var t shades
	for i := range t {
		v := math.Exp2(shadeFrom + (shadeTo-shadeFrom)*float64(i)/float64(len(t)-1))
		t[i] = float32(255 * lux.Encode(scene.Curve(v)))
	}
	return &t
}

func (t *shades) at(v float64) float32 {
	if !(v > 0) {
		return 0
	}
	x := (math.Log2(v) - shadeFrom) * float64(len(t)-1) / (shadeTo - shadeFrom)
	switch {
	case x <= 0:
		return float32(math.Exp2(x)) * t[0]
	case x >= float64(len(t)-1):
		return t[len(t)-1]
	}
	i := int(x)
	k := float32(x - float64(i))
	return t[i]*(1-k) + t[i+1]*k
}

// develop makes the picture. Half a step of even noise, the same each time, keeps
// a plain wall from showing bands.
func develop(light [][3]float32, w, h int, t Tone, workers int) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	table := newShades()
	inRows(h, workers, func(y int) {
		for x := range w {
			i := y*w + x
			for c := range 3 {
				v := table.at(float64(light[i][c]) * t.Exposure * t.White[c])
				v += float32(to32(mix(uint32(3*i + c)))) // rounds down below
				img.Pix[4*i+c] = uint8(min(max(v, 0), 255))
			}
			img.Pix[4*i+3] = 255
		}
	})
	return img
}
