package lightmap

import (
	"fmt"
	"image/color"

	"risewright/view/drawing"
)

// levels part the bands, in lux: 1, 2, 5 to the decade, over what light bars
// give.
var levels = [...]float64{1, 2, 5, 10, 20, 50, 100, 200}

// bands is the number of bands, from below the first level to above the last.
const bands = len(levels) + 1

// inks are the inks that stand for the bands, from dark to bright.
var inks = [bands]drawing.Ink{
	drawing.Existing, drawing.BadWash, drawing.HoldWash, drawing.SelectWash, drawing.GoodWash,
	drawing.CautionWash, drawing.WoodDark, drawing.Wood, drawing.Painted,
}

// ramp runs from slate blue over grey to pale yellow: blue and yellow are told
// apart by nearly everyone, and the lightness alone tells the bands apart.
var ramp = [bands]uint32{0x2B3A67, 0x41507A, 0x5C6887, 0x79818F, 0x979A93, 0xB6B28F, 0xD3CA86, 0xEDE08B, 0xFFF7C2}

// greys is the same for paper without colour.
var greys = [bands]uint32{0x585858, 0x6C6C6C, 0x818181, 0x969696, 0xABABAB, 0xC0C0C0, 0xD5D5D5, 0xEAEAEA, 0xFFFFFF}

// Palette returns base with the colours of the bands put in: greys when base
// has none but greys.
func Palette(base drawing.Palette) drawing.Palette {
	values := ramp
	if grey(base) {
		values = greys
	}
	for i, ink := range inks {
		v := values[i]
		base[ink] = color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}
	}
	return base
}

func grey(p drawing.Palette) bool {
	for _, c := range p {
		if c.R != c.G || c.G != c.B {
			return false
		}
	}
	return true
}

// bandName returns what the legend says of a band.
func bandName(i int) string {
	switch i {
	case 0:
		return fmt.Sprintf("under %g", levels[0])
	case bands - 1:
		return fmt.Sprintf("over %g", levels[i-1])
	}
	return fmt.Sprintf("%g to %g", levels[i-1], levels[i])
}

// major says whether the contour of a level is drawn thicker.
func major(level float64) bool { return level == 10 || level == 100 }
