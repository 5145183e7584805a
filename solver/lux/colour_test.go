package lux_test

import (
	"image/color"
	"math"
	"testing"

	"risewright/solver/lux"
)

func near255(a, b uint8) bool { return math.Abs(float64(a)-float64(b)) <= 1 }

// Row 6.23 (T20, T21), Tim Kang, calibrated white light values in sRGB, and the
// rows of the table under it (derived there).
func TestWhites(t *testing.T) {
	for _, r := range []struct {
		kelvin float64
		want   [3]uint8
	}{
		{2000, [3]uint8{255, 139, 22}}, {2700, [3]uint8{255, 172, 89}}, {3000, [3]uint8{255, 184, 109}},
		{3200, [3]uint8{255, 190, 122}}, {4000, [3]uint8{255, 211, 165}}, {4300, [3]uint8{255, 219, 178}},
		{2200, [3]uint8{255, 150, 47}}, {5000, [3]uint8{255, 230, 208}}, {6500, [3]uint8{255, 249, 254}},
	} {
		c, ok := lux.CCT(r.kelvin)
		got := lux.Preview(c)
		if !ok || !near255(got.R, r.want[0]) || !near255(got.G, r.want[1]) || !near255(got.B, r.want[2]) {
			t.Errorf("%g K: %v, published %v ± 1", r.kelvin, got, r.want)
		}
	}
	// D50 and D65 of the same listing; their chromaticities are from memory.
	for _, r := range []struct {
		xy   lux.XY
		want [3]uint8
	}{{lux.XY{X: 0.34567, Y: 0.35850}, [3]uint8{255, 235, 205}}, {lux.XY{X: 0.31271, Y: 0.32902}, [3]uint8{255, 255, 255}}} {
		got := lux.Preview(r.xy)
		if !near255(got.R, r.want[0]) || !near255(got.G, r.want[1]) || !near255(got.B, r.want[2]) {
			t.Errorf("%v: %v, published %v ± 1", r.xy, got, r.want)
		}
	}
}

func TestChromaticity(t *testing.T) {
	// Table under row 6.23 (derived from the cubic by other hands).
	for _, r := range []struct{ k, x, y float64 }{
		{2000, 0.52690, 0.41326}, {2200, 0.50545, 0.41521}, {2700, 0.45931, 0.41066}, {3000, 0.43658, 0.40417},
		{4000, 0.38053, 0.37673}, {5000, 0.34499, 0.35159}, {6500, 0.31349, 0.32366}, {2856, 0.44707, 0.40751},
	} {
		c, _ := lux.CCT(r.k)
		within(t, "x", c.X, r.x, 6e-6)
		within(t, "y", c.Y, r.y, 6e-6)
	}
	// Row 6.24 (T19): a 3000 K black body by specrend, quoted by M. Charity.
	c, _ := lux.CCT(3000)
	within(t, "3000 K x", c.X, 0.4369, 0.0005)
	within(t, "3000 K y", c.Y, 0.4041, 0.0005)
	within(t, "3000 K z", 1-c.X-c.Y, 0.1590, 0.0008)
	// CIE illuminant A, row 6.24.
	c, _ = lux.CCT(2856)
	within(t, "A x", c.X, 0.44757, 0.0006)
	within(t, "A y", c.Y, 0.40745, 0.0006)
	for _, k := range []float64{-1, 0, 1666, 25001, math.Inf(1), math.NaN()} {
		if c, ok := lux.CCT(k); ok || !(c.X > 0.2 && c.X < 0.6 && c.Y > 0.2 && c.Y < 0.45) {
			t.Errorf("%g K gives %v, %v", k, c, ok)
		}
	}
	// The bands meet: both sides of 2222 and 4000 K.
	for _, k := range []float64{2222, 4000} {
		a, _ := lux.CCT(k - 1e-6)
		b, _ := lux.CCT(k + 1e-6)
		within(t, "x across bands", a.X, b.X, 1e-4)
		within(t, "y across bands", a.Y, b.Y, 1e-4)
	}
}

func TestMix(t *testing.T) {
	show := func(l ...lux.Lamp) color.NRGBA {
		c, ok := lux.Mix(l...)
		if !ok {
			return color.NRGBA{}
		}
		return lux.Preview(c)
	}
	for name, r := range map[string]struct {
		got, want color.NRGBA
	}{
		"red":   {show(lux.Pixel(1, 0, 0)...), color.NRGBA{255, 0, 0, 255}},
		"green": {show(lux.Pixel(0, 0.4, 0)...), color.NRGBA{0, 255, 0, 255}},
		"blue":  {show(lux.Pixel(0, 0, 1)...), color.NRGBA{0, 0, 255, 255}},
	} {
		if r.got != r.want {
			t.Errorf("%s: %v", name, r.got)
		}
	}
	// In the shares of luminance of sRGB (row 6.25: 0.2126, 0.7152, 0.0722 by
	// inverting the matrix) the primaries make its white.
	r, g, b := lux.Primaries()
	w, _ := lux.Mix(lux.Lamp{Colour: r, Lumens: 0.2126}, lux.Lamp{Colour: g, Lumens: 0.7152}, lux.Lamp{Colour: b, Lumens: 0.0722})
	within(t, "white x", w.X, 0.3127, 1e-4)
	within(t, "white y", w.Y, 0.3290, 1e-4)
	// The pixel's own white leans to blue, for it gives twice as much blue.
	if c := show(lux.Pixel(1, 1, 1)...); c.B != 255 || c.R >= 230 {
		t.Errorf("a pixel's white is shown as %v", c)
	}
	if _, ok := lux.Mix(lux.Pixel(0, 0, 0)...); ok {
		t.Error("no light has a colour")
	}
	for _, c := range []lux.XY{{}, {X: 0.3, Y: -1}, {X: math.NaN(), Y: math.NaN()}, {X: 0.3, Y: 1e-320}} {
		if got := lux.Preview(c); got != (color.NRGBA{A: 255}) {
			t.Errorf("%v is shown as %v", c, got)
		}
	}
}

// TestLevels: a pixel at the levels found has the colour asked for; a colour
// outside its triangle is refused.
func TestLevels(t *testing.T) {
	for _, k := range []float64{2000, 2700, 3000, 4000, 6500, 9000} {
		want, _ := lux.CCT(k)
		v, ok := lux.Levels(want)
		if !ok {
			t.Fatalf("%g K cannot be made", k)
		}
		got, _ := lux.Mix(lux.Pixel(v[0], v[1], v[2])...)
		within(t, "x", got.X, want.X, 1e-9)
		within(t, "y", got.Y, want.Y, 1e-9)
		if most := max(v[0], v[1], v[2]); math.Abs(most-1) > 1e-12 {
			t.Errorf("%g K: levels %v", k, v)
		}
	}
	r, _, b := lux.Primaries()
	for i, c := range []lux.XY{r, b} {
		if v, ok := lux.Levels(c); !ok || math.Abs(v[2*i]-1) > 1e-9 || v[1] > 1e-9 {
			t.Errorf("a primary alone: %v, %v", v, ok)
		}
	}
	for _, c := range []lux.XY{{}, {X: 0.74, Y: 0.25}, {X: 0.1, Y: 0.8}, {X: math.NaN(), Y: 0.3}, {X: 0.3, Y: math.NaN()}} {
		if v, ok := lux.Levels(c); ok {
			t.Errorf("%v is made of %v", c, v)
		}
	}
}
