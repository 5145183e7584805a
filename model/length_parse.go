package model

import (
	"fmt"
	"math"
	"strconv"
)

// maxBareInches is the longest bare number read as inches: 20 ft, longer than
// any board or flight a tape is pulled over in inches alone. Beyond it the
// number is far more likely a millimetre reading typed in the wrong system.
// Common practice, no source.
const maxBareInches = 240

// lengthExample is the right length shown when a text cannot be guessed at.
const lengthExample = `36 5/16" or 918.5 mm`

// ParseLength returns the length that text says.
//
// It reads inches (36 5/16, 36-5/16", 36⅝″, 36.3125 in), feet and inches
// (3' 0 5/16", 3'-0 5/16", 3ft 5/16in, 3') and metric (918.5 mm, 91.8 cm,
// 0.918 m), with straight or typographic marks, any kind of space, a decimal
// point or comma, and a leading minus. Unit words may be in any case.
//
//  1. A bare number is inches when u is Imperial, else millimetres. A bare
//     fraction (5/16, 36 5/16) is inches in either.
//  2. It never guesses: a bare number over 240 in Imperial, 1,234 (thousands
//     or decimals?), 36 - 5/16 (joined or taken away?) and 15/8 (1 5/8?) are
//     refused. The quarters of rough lumber, 4/4 to 16/4, are read.
//  3. Every error is a *TextError; a result is finite, within MaxTypedLength
//     and never minus zero.
func ParseLength(text string, u Units) (Length, error) {
	s, err := newScanner(text)
	if err != nil {
		return 0, err
	}
	return s.length(u)
}

// lengthUnit returns the unit that a token names.
func lengthUnit(t token) (Length, bool) {
	switch t.kind {
	case tokPrime:
		return Foot, true
	case tokDoublePrime:
		return Inch, true
	case tokWord:
		switch t.word {
		case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
			return Millimetre, true
		case "cm", "centimetre", "centimetres", "centimeter", "centimeters":
			return 10 * Millimetre, true
		case "m", "metre", "metres", "meter", "meters":
			return 1000 * Millimetre, true
		case "in", "inch", "inches":
			return Inch, true
		case "ft", "foot", "feet":
			return Foot, true
		}
	}
	return 0, false
}

// length reads the whole text as one length.
func (s *scanner) length(u Units) (Length, error) {
	sign := s.sign()
	n, unit, err := s.measure()
	if err != nil {
		return 0, err
	}
	l := Length(n.value) * unit
	switch unit {
	case 0:
		if err := s.lengthEnd(); err != nil {
			return 0, err
		}
		switch {
		case n.fraction:
			l = Length(n.value) * Inch
		case u != Imperial:
			l = Length(n.value)
		case n.value > maxBareInches:
			return 0, s.bareInches(n)
		default:
			l = Length(n.value) * Inch
		}
	case Foot:
		if s.peek(0).kind != tokEnd {
			in, err := s.inchesAfterFeet(n)
			if err != nil {
				return 0, err
			}
			l = Length(n.value*12+in) * Inch
		}
	default:
		if err := s.lengthEnd(); err != nil {
			return 0, err
		}
	}
	if !(l <= MaxTypedLength) { // also catches what is not a number
		return 0, s.fail(n.at, fmt.Sprintf("this is more than %.0f m", float64(MaxTypedLength)/1000), "check the number and its unit")
	}
	if l == 0 {
		return 0, nil
	}
	return Length(sign) * l, nil
}

// measure takes a number and the unit after it; unit is 0 when there is none.
func (s *scanner) measure() (n number, unit Length, err error) {
	if n, err = s.number(lengthExample); err != nil {
		return n, 0, err
	}
	mark := s.peek(0)
	unit, ok := lengthUnit(mark)
	if !ok {
		return n, 0, s.ruled(n)
	}
	s.take()
	if n.fraction && unit != Inch && unit != Foot {
		return n, 0, s.fail(mark.at, "a fraction is given in "+s.spelling(mark), "write decimals, like 918.5 mm, or use inches")
	}
	return n, unit, s.ruled(n)
}

// inchesAfterFeet takes the inches that follow a count of feet.
func (s *scanner) inchesAfterFeet(feet number) (float64, error) {
	if t := s.peek(0); t.kind == tokDash { // 3'-0 5/16"
		s.take()
	} else if t.kind != tokNumber && t.kind != tokGlyph {
		return 0, s.lengthEnd()
	}
	n, unit, err := s.measure()
	if err != nil {
		return 0, err
	}
	switch unit {
	case 0, Inch:
	case Foot:
		return 0, s.fail(n.at, "feet are given twice", `write feet then inches, like 3' 5"`)
	default:
		return 0, s.fail(n.at, "feet are followed by a metric length", "use one system at a time")
	}
	if !feet.whole() {
		return 0, s.fail(feet.at, "the feet before inches are not a whole number", `write whole feet then inches, like 3' 6"`)
	}
	if n.value >= 12 {
		return 0, s.fail(n.at, "the inches after feet are 12 or more", "carry them into the feet, or write inches alone")
	}
	return n.value, s.lengthEnd()
}

// lengthEnd refuses what is left over after a length, saying what it may have
// been meant for.
func (s *scanner) lengthEnd() error {
	t := s.peek(0)
	if s.next == 0 || t.kind == tokEnd {
		return s.end()
	}
	before, given := lengthUnit(s.tokens[s.next-1])
	switch t.kind {
	case tokNumber, tokGlyph:
		switch {
		case !given && t.gap && s.runesAreDigits(t, 3):
			return s.fail(t.at, "another number follows", "write thousands without a space, like 1234; and a fraction with a slash, like 36 5/16")
		case before == Inch && s.fractionStarts(0):
			return s.fail(t.at, "a fraction follows the inch mark", `put the mark last, like 36 5/16"`)
		case before == Inch:
			return s.fail(t.at, "a number follows the inches", `write feet first, like 3' 5"`)
		case given && before != Foot:
			return s.fail(t.at, "a number follows the unit", "write one number with one unit, like 918.5 mm")
		}
	case tokWord:
		if _, ok := lengthUnit(t); !ok && !given && t.word != "x" && t.word != "by" {
			remedy := "use mm, cm, m, in or ft"
			if t.word == "e" {
				remedy = "write the number out in full"
			}
			return s.fail(t.at, fmt.Sprintf("%s is not a unit of length used here", s.spelling(t)), remedy)
		}
	case tokDegree:
		return s.fail(t.at, "this is an angle, and a length is wanted", "write it like "+lengthExample)
	case tokPercent, tokPermille, tokColon:
		return s.fail(t.at, "this is a slope, and a length is wanted", "write it like "+lengthExample)
	}
	return s.end()
}

// runesAreDigits reports whether t was typed as exactly n plain digits.
func (s *scanner) runesAreDigits(t token, n int) bool {
	return t.kind == tokNumber && !t.decimal && t.script == 0 && t.end-t.at == n
}

// bareInches refuses a bare number too long to be inches.
func (s *scanner) bareInches(n number) error {
	typed := strconv.FormatFloat(n.value, 'f', -1, 64)
	problem := fmt.Sprintf("%s without a unit is more than 100 m in inches", typed)
	if l := Length(n.value) * Inch; l <= MaxTypedLength {
		feet := math.Floor(n.value / 12)
		problem = fmt.Sprintf("%s inches is %.0f ft %s in", typed, feet, strconv.FormatFloat(n.value-12*feet, 'f', -1, 64))
	}
	return s.fail(n.at, problem, fmt.Sprintf("write %s mm or %s in", typed, typed))
}
