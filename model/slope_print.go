package model

import (
	"math"
	"strings"
)

// slopeParts is the fraction of an inch to which slopes are shown: a 64th to the
// foot is 1.3 mm/m, about what a spirit level shows.
const slopeParts = 64

// Slope returns a slope from level as somebody reads it on a level: millimetres to
// the metre, 2.0 mm/m, or inches to the foot, 1/8 in/ft. Angles past 1 in 1 are
// given in degrees. ParseSlope reads it back to the same text, to 1 in 1.
func (f Format) Slope(a Angle) string {
	if rise, ok := f.rise(a); ok {
		return Format{Units: Imperial, Fraction: slopeParts}.perFoot(rise, Format.Length)
	}
	return FormatSlope(a)
}

// SlopePlusMinus returns the half width of a band of slopes. In inches to the
// foot it is rounded as a length's is.
func (f Format) SlopePlusMinus(a Angle) string {
	a = Angle(math.Abs(float64(a)))
	if rise, ok := f.rise(a); ok {
		return Format{Units: Imperial, Fraction: slopeParts}.perFoot(rise, Format.PlusMinus)
	}
	return "±" + FormatSlope(a)
}

// rise is how far a slope rises in a foot, where that is how it is read.
func (f Format) rise(a Angle) (Length, bool) {
	return Length(math.Tan(float64(a))) * Foot, f.Units == Imperial && math.Abs(float64(a)) <= float64(MaxTypedSlope)
}

func (f Format) perFoot(rise Length, write func(Format, Length) string) string {
	return strings.TrimSuffix(write(f, rise), `"`) + " in/ft"
}
