package model

import (
	"math"
	"strconv"
)

// Angle is in radians. The zero value is no angle. What it is measured from
// (a square corner, plumb, level) is the reading's affair.
type Angle float64

// Degree is one degree as an Angle.
const Degree Angle = math.Pi / 180

// LeanHeight is the height over which a side's lean is read as a length: the
// tongue or blade of a small square laid off the tread. Common practice, no
// source.
const LeanHeight Length = 200

// Bounds on what is typed; more is a slip of the finger.
const (
	// MaxTypedAngle is a full turn.
	MaxTypedAngle = 360 * Degree
	// MaxTypedSlope bounds slopes and leans to 1 in 1. A tread or wall past
	// 45° is no tread or wall.
	MaxTypedSlope = 45 * Degree
)

// Degrees returns a in degrees.
func (a Angle) Degrees() float64 { return float64(a) * (180 / math.Pi) }

// maxPrintedCount is the largest count of last decimals an angle is printed
// with: 2⁵³, above which float64 has no room for the unit itself.
const maxPrintedCount = 1 << 53

// FormatDegrees returns a in degrees with 0 to 6 decimals: 91.0°. Halves are
// rounded away from zero, minus zero is never printed, and what is not an
// angle prints as ?. ParseAngle reads it back to the same text, to a full
// turn.
func FormatDegrees(a Angle, decimals int) string {
	var room [32]byte
	b, ok := appendDecimals(room[:0], a.Degrees(), min(max(decimals, 0), 6))
	if !ok {
		return unknownText
	}
	return string(append(b, "°"...))
}

// FormatSlope returns the slope of a from level in millimetres to the metre,
// with one decimal: 2.0 mm/m. Angles past 1 in 1 are given in degrees.
// ParseSlope reads it back to the same text, to 1 in 1.
func FormatSlope(a Angle) string {
	// The slack lets 1 in 1 itself, atan 1 and back, print as a slope.
	const slack = 1e-9
	if !(math.Abs(float64(a)) <= float64(MaxTypedSlope)+slack) {
		return FormatDegrees(a, 1)
	}
	var room [32]byte
	b, _ := appendDecimals(room[:0], math.Tan(float64(a))*1000, 1)
	return string(append(b, " mm/m"...))
}

// appendDecimals appends v with a fixed number of decimals. It reports false
// when v is not finite or too large to show.
func appendDecimals(b []byte, v float64, decimals int) ([]byte, bool) {
	scale := math.Pow10(decimals)
	if !(math.Abs(v)*scale < maxPrintedCount) {
		return b, false
	}
	return strconv.AppendFloat(b, roundAway(v*scale)/scale, 'f', decimals, 64), true
}
