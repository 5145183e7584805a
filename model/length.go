package model

import "math"

// Length is a distance or a coordinate in millimetres. The zero value is no
// distance.
type Length float64

// Units of length, as Lengths. The inch is 25.4 mm exactly: international
// yard and pound agreement, 1959; NIST Special Publication 811 (2008),
// appendix B.8 (both from memory).
const (
	Millimetre Length = 1
	Inch       Length = 25.4
	Foot       Length = 304.8
)

// MaxTypedLength bounds what ParseLength accepts: 100 m, over twice the going
// of the 40 risers a flight may have. More is a slip of the finger.
const MaxTypedLength Length = 100_000

// Units is the system in which lengths are shown and in which a bare number is
// read. Any value but Imperial counts as metric, the empty one too.
type Units string

// The two systems.
const (
	Imperial Units = "imperial"
	Metric   Units = "metric"
)

// Format says how lengths are printed. The zero value prints metric to half a
// millimetre.
//
// Guarantees, for lengths whose print is within MaxTypedLength:
//
//  1. What Length or Number prints, ParseLength reads in the same Units, and
//     it then prints the same text again: showing and reading back any number
//     of times never drifts.
//  2. A printed length differs from the length by at most half a Fraction or
//     half a Step (and 0.0005 mm, where a Step such as 1/3 mm has endless
//     decimals). Halves go away from zero.
//  3. Fractions are in lowest terms, and minus zero is never printed.
//
// A length that is not a number, infinite or beyond 10⁹ mm prints as ? so that
// nobody cuts to it.
type Format struct {
	Units    Units
	Fraction int    // imperial: parts to the inch, 2 to 128 by doubling; any other means 16
	Step     Length // metric: rounded to this; 0, or anything outside 0.01 to 1,000 mm, means 0.5 mm
	Feet     bool   // imperial: 3' 0 5/16" instead of 36 5/16"
}

const (
	// defaultFraction is the finest mark on every tape. Common practice, no
	// source.
	defaultFraction = 16
	// defaultStep is half a millimetre, the finest a tape is read to by eye.
	// Common practice, no source.
	defaultStep Length = 0.5

	// minStep and maxStep bound Format.Step. At three decimals a print is off
	// by up to 0.0005 mm; at minStep that is a twentieth of a step, far from
	// the half that would make a reading drift.
	minStep Length = 0.01
	maxStep Length = 1000

	// maxPrinted bounds what is printed as a length at all. Below it, at the
	// finest step, counts stay under 10¹¹, where float64 is exact to 10⁻⁵.
	maxPrinted Length = 1e9
)

// fraction returns the parts to the inch, with the default put in.
func (f Format) fraction() int {
	switch f.Fraction {
	case 2, 4, 8, 16, 32, 64, 128:
		return f.Fraction
	}
	return defaultFraction
}

// step returns the metric step, with the default put in.
func (f Format) step() Length {
	if f.Step >= minStep && f.Step <= maxStep {
		return f.Step
	}
	return defaultStep
}

// Round returns l as it will be read from its print: a whole number of
// fractions or steps. A length that prints as ? is returned unchanged.
func (f Format) Round(l Length) Length {
	if !printable(l) {
		return l
	}
	if f.Units == Imperial {
		return Length(roundAway(float64(l/Inch)*float64(f.fraction()))) / Length(f.fraction()) * Inch
	}
	return Length(roundAway(float64(l/f.step()))) * f.step()
}

// printable reports whether l can be shown as a length.
func printable(l Length) bool { return math.Abs(float64(l)) <= float64(maxPrinted) }

const (
	// halfSlack lets a count that is a half but for float64's rounding still
	// be taken as the half. A count of 5·10⁵ (100 m in 128ths) carries about
	// 2·10⁻¹⁰ of error after a division and a multiplication; 10⁻⁹ of a 16th
	// is 2·10⁻⁹ mm.
	halfSlack = 1e-9
	// halfSlackPer is the same in proportion: four float64 spacings, for
	// counts too large for halfSlack.
	halfSlackPer = 4 * 0x1p-52
)

// roundAway rounds to the nearest whole number, halves away from zero. It
// never returns minus zero.
func roundAway(x float64) float64 {
	a := math.Abs(x)
	r := math.Floor(a + 0.5 + halfSlack + a*halfSlackPer)
	if x < 0 && r > 0 {
		return -r
	}
	return r
}
