package lux

import (
	"image/color"
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// XY is a chromaticity in the CIE 1931 diagram.
type XY struct{ X, Y float64 }

// Temperatures, in kelvin, between which CCT holds: the range of the cubic.
const (
	LowestK  = 1667
	HighestK = 25000
)

// CCT returns the chromaticity of a black body at t kelvin, and false outside
// the range of the formula, where it gives the nearest end. It is the cubic of
// Kang et al. (2002), also Kim et al., US patent 7,024,034 (electrical.md row
// 6.22, seen in three files that quote it); its error at 3000 K is 0.0003.
func CCT(t float64) (XY, bool) {
	ok := t >= LowestK && t <= HighestK
	if math.IsNaN(t) {
		t = 4000
	}
	t = math.Min(math.Max(t, LowestK), HighestK)
	var c XY
	if t <= 4000 {
		c.X = -0.2661239e9/(t*t*t) - 0.2343589e6/(t*t) + 0.8776956e3/t + 0.179910
	} else {
		c.X = -3.0258469e9/(t*t*t) + 2.1070379e6/(t*t) + 0.2226347e3/t + 0.240390
	}
	x := c.X
	switch {
	case t <= 2222:
		c.Y = -1.1063814*x*x*x - 1.34811020*x*x + 2.18555832*x - 0.20219683
	case t <= 4000:
		c.Y = -0.9549476*x*x*x - 1.37418593*x*x + 2.09137015*x - 0.16748867
	default:
		c.Y = 3.0817580*x*x*x - 5.87338670*x*x + 3.75112997*x - 0.37001483
	}
	return c, ok
}

// Primaries returns red, green and blue of sRGB, IEC 61966-2-1 (from memory). A
// red, green or blue LED lies outside what a screen can show; these stand in
// for it.
func Primaries() (red, green, blue XY) {
	return XY{0.64, 0.33}, XY{0.30, 0.60}, XY{0.15, 0.06}
}

// Lamp is light of one colour and how much of it.
type Lamp struct {
	Colour XY
	Lumens float64
}

// Mix returns the chromaticity of several lamps together, and false when they
// give no light.
func Mix(lamps ...Lamp) (XY, bool) {
	var x, y, z float64
	for _, l := range lamps {
		if !(l.Lumens > 0) || !(l.Colour.Y > 0) {
			continue
		}
		k := l.Lumens / l.Colour.Y
		x, y, z = x+k*l.Colour.X, y+l.Lumens, z+k*(1-l.Colour.X-l.Colour.Y)
	}
	sum := x + y + z
	if !(sum > 0) || math.IsInf(sum, 1) {
		return XY{}, false
	}
	return XY{x / sum, y / sum}, true
}

// Pixel returns what the three channels of a pixel give at levels from 0 to 1,
// for Mix. The lumens of full red, green and blue are 1.51, 4.71 and 1.01 for a
// common pixel: the intensities of its data sheet times π (electrical.md row
// 3.17, derived).
func Pixel(red, green, blue float64) []Lamp {
	r, g, b := Primaries()
	return []Lamp{{r, 1.51 * red}, {g, 4.71 * green}, {b, 1.01 * blue}}
}

// WhiteLumens is the light of the white channel of a common pixel, or of a white
// LED, at full: 100 lm/W (electrical.md row 6.20, weak) × 3.2 V (row 6.21) ×
// 20 mA, derived.
const WhiteLumens = 6.4

// White returns the white channel of a pixel at a level from 0 to 1, for Mix;
// kelvin is its colour temperature.
func White(kelvin, level float64) Lamp {
	c, _ := CCT(kelvin)
	return Lamp{c, WhiteLumens * level}
}

// Levels returns the levels of red, green and blue at which a pixel has a
// colour, the greatest at 1, and false for a colour that it cannot have.
func Levels(c XY) (level [3]float64, ok bool) {
	if !(c.Y > 0) {
		return level, false
	}
	tri := func(c XY, lumens float64) mgl64.Vec3 {
		return mgl64.Vec3{c.X / c.Y, 1, (1 - c.X - c.Y) / c.Y}.Mul(lumens)
	}
	var m mgl64.Mat3
	for i, l := range Pixel(1, 1, 1) {
		m.SetCol(i, tri(l.Colour, l.Lumens))
	}
	v := m.Inv().Mul3x1(tri(c, 1))
	most := math.Max(v[0], math.Max(v[1], v[2]))
	if !(most > 0) || math.IsInf(most, 1) {
		return level, false
	}
	for i := range v {
		// What rounding leaves below nil of a primary itself is nil.
		if level[i] = v[i] / most; level[i] < -1e-9 {
			return level, false
		}
		level[i] = math.Max(0, level[i])
	}
	return level, true
}

// RGB returns the linear sRGB of a chromaticity with a luminance of 1: XYZ to RGB
// by IEC 61966-2-1 (electrical.md row 6.25, seen in a file that quotes it). What a
// screen cannot show is below 0. Y must be above 0.
func RGB(c XY) [3]float64 {
	x, y, z := c.X/c.Y, 1.0, (1-c.X-c.Y)/c.Y
	return [3]float64{
		3.2404542*x - 1.5371385*y - 0.4985314*z,
		-0.9692660*x + 1.8760108*y + 0.0415560*z,
		0.0556434*x - 0.2040259*y + 1.0572252*z,
	}
}

// Preview returns the colour as a screen shows it, as bright as the screen can,
// with the greatest channel at 255 and what the screen cannot show cut off at 0. A
// chromaticity without light gives black.
func Preview(c XY) color.NRGBA {
	black := color.NRGBA{A: 255}
	if !(c.Y > 0) {
		return black
	}
	v := RGB(c)
	most := math.Max(v[0], math.Max(v[1], v[2]))
	if !(most > 0) || math.IsInf(most, 1) {
		return black
	}
	var b [3]uint8
	for i := range v {
		b[i] = uint8(math.Round(255 * Encode(math.Max(0, v[i]/most))))
	}
	return color.NRGBA{b[0], b[1], b[2], 255}
}

// Encode is the transfer function of sRGB from linear to code, 0 to 1 each (IEC
// 61966-2-1; electrical.md row 6.25).
func Encode(v float64) float64 {
	if v <= 0.0031308 {
		return 12.92 * v
	}
	return 1.055*math.Pow(v, 1/2.4) - 0.055
}
