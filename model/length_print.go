package model

import (
	"math"
	"strconv"
)

// unknownText stands for a length or angle that cannot be shown.
const unknownText = "?"

// Length returns l with its unit: 36 5/16", 3' 0 5/16" or 918.5 mm.
func (f Format) Length(l Length) string {
	var room [48]byte
	return string(f.appendLength(room[:0], l, true))
}

// Number returns l without its unit, for tables: 36 5/16, 3' 0 5/16 or 918.5.
// Whole inches too many to be read back bare keep their mark: 300".
func (f Format) Number(l Length) string {
	var room [48]byte
	return string(f.appendLength(room[:0], l, false))
}

// appendLength appends l to b.
func (f Format) appendLength(b []byte, l Length, mark bool) []byte {
	if !printable(l) {
		return append(b, unknownText...)
	}
	if f.Units == Imperial {
		den := int64(f.fraction())
		return f.appendInches(b, int64(roundAway(float64(l/Inch)*float64(den))), den, mark)
	}
	step := f.step()
	n := roundAway(float64(l / step))
	if n < 0 {
		b = append(b, '-')
		n = -n
	}
	b = strconv.AppendFloat(b, n*float64(step), 'f', decimalsOf(step), 64)
	if mark {
		b = append(b, " mm"...)
	}
	return b
}

// appendInches appends parts/den inches.
func (f Format) appendInches(b []byte, parts, den int64, mark bool) []byte {
	if parts < 0 {
		b = append(b, '-')
		parts = -parts
	}
	whole, num := parts/den, parts%den
	if f.Feet && whole >= 12 {
		b = strconv.AppendInt(b, whole/12, 10)
		b = append(b, "' "...)
		b = strconv.AppendInt(b, whole%12, 10)
		if num > 0 {
			b = append(b, ' ')
		}
	} else {
		if whole > 0 || num == 0 {
			b = strconv.AppendInt(b, whole, 10)
			if num > 0 {
				b = append(b, ' ')
			}
		}
		mark = mark || num == 0 && whole > maxBareInches
	}
	if num > 0 {
		for num%2 == 0 { // den is a power of two, so halving reaches lowest terms
			num, den = num/2, den/2
		}
		b = strconv.AppendInt(b, num, 10)
		b = append(b, '/')
		b = strconv.AppendInt(b, den, 10)
	}
	if mark {
		b = append(b, '"')
	}
	return b
}

// decimalsOf returns how many decimals show every multiple of step, at most 3.
func decimalsOf(step Length) int {
	// A step typed as a decimal is off by less than 10⁻¹⁶ of itself, which the
	// largest factor, 1,000, and step, 1,000 mm, make 10⁻¹⁰.
	const whole = 1e-9
	d, scaled := 0, float64(step)
	for d < 3 && math.Abs(scaled-math.Round(scaled)) > whole {
		d++
		scaled *= 10
	}
	return d
}

// PlusMinus returns the half width l of a band, with its sign and unit:
// ±0.4 mm, ±1/64", ±0.004". The sign of l does not matter.
//
// It is rounded up, never down, because wood is cut by it: the text never
// claims more than is known, and only exact zero prints as ±0. Metric: tenths
// of a millimetre, hundredths below 0.1, thousandths below 0.01, whole ones
// from 10. Imperial: 64ths of an inch, thousandths below 1/128", 16ths from
// 1/2"; a 64th is passed by up to a twentieth of itself before the next is
// taken (see slack64), so that 0.4 mm is ±1/64".
func (f Format) PlusMinus(l Length) string {
	var room [48]byte
	b := append(room[:0], "±"...)
	l = Length(math.Abs(float64(l)))
	switch {
	case !printable(l):
		return string(append(b, unknownText...))
	case f.Units == Imperial:
		b = f.appendBandInches(b, l)
	case l == 0:
		b = append(b, "0 mm"...)
	default:
		b = appendBandMillimetres(b, l)
	}
	return string(b)
}

// slack64 is how far past a 64th, in 64ths, a band may be and still print as
// that 64th. A twentieth is 0.02 mm, a fifth of a sheet of paper and below
// anything a tape or a pencil line can show.
const slack64 = 0.05

// appendBandInches appends a band in inches.
func (f Format) appendBandInches(b []byte, l Length) []byte {
	plain := Format{Units: Imperial}
	in := float64(l / Inch)
	switch {
	case in == 0 || in >= 0.5:
		return plain.appendInches(b, int64(roundUp(in*16)), 16, true)
	case in < 1.0/128:
		b = strconv.AppendFloat(b, roundUp(in*1000)/1000, 'f', 3, 64)
		return append(b, '"')
	}
	return plain.appendInches(b, int64(max(1, math.Ceil(in*64-slack64))), 64, true)
}

// appendBandMillimetres appends a band in millimetres; l is above 0.
func appendBandMillimetres(b []byte, l Length) []byte {
	decimals, scale := 0, 1.0
	switch {
	case l < 0.01:
		decimals, scale = 3, 1000
	case l < 0.1:
		decimals, scale = 2, 100
	case l < 10:
		decimals, scale = 1, 10
	}
	b = strconv.AppendFloat(b, roundUp(float64(l)*scale)/scale, 'f', decimals, 64)
	return append(b, " mm"...)
}

// roundUp rounds a count that is not negative up to a whole number, passing
// over what is only float64's rounding (see halfSlack).
func roundUp(x float64) float64 {
	up := math.Ceil(x - halfSlack - x*halfSlackPer)
	if up == 0 && x > 0 {
		return 1
	}
	return math.Abs(up) // Ceil gives minus zero between -1 and 0
}
