package model

import (
	"fmt"
	"math"
	"strconv"
)

// Right values shown when a text cannot be guessed at.
const (
	angleExample = "91.0 or 89° 30'"
	slopeExample = "2 mm/m, 0.3° or 1:48"
	leanExample  = "0.6°, 3 mm or 1/8 in"
)

// ParseAngle returns the angle that text says in degrees, as a gauge or
// protractor shows it: 91, 91°, 89.5 deg, 89½, 89 30', 89° 30' 15", -0.5.
//
// A bare number is degrees. Radians and gradians are refused, because no
// gauge on a stair shows them. Every error is a *TextError; a result is
// finite, within MaxTypedAngle and never minus zero.
func ParseAngle(text string) (Angle, error) {
	s, err := newScanner(text)
	if err != nil {
		return 0, err
	}
	sign := s.sign()
	n, err := s.number(angleExample)
	if err != nil {
		return 0, err
	}
	deg, err := s.degrees(n)
	if err != nil {
		return 0, err
	}
	if err := s.angleEnd(); err != nil {
		return 0, err
	}
	// 360° itself may come out a rounding above MaxTypedAngle, so degrees are
	// compared.
	if !(deg <= 360) {
		return 0, s.fail(n.at, "this is more than a full turn of 360°", "check the number")
	}
	return signedAngle(sign, min(Angle(deg)*Degree, MaxTypedAngle)), nil
}

// signedAngle returns sign times a, without minus zero.
func signedAngle(sign float64, a Angle) Angle {
	if a == 0 {
		return 0
	}
	return Angle(sign) * a
}

// degreeMark reports whether t says that the number before it is degrees.
func degreeMark(t token) bool {
	return t.kind == tokDegree || t.kind == tokWord && (t.word == "deg" || t.word == "degree" || t.word == "degrees")
}

// degrees takes what follows n in an angle: its mark, minutes and seconds.
func (s *scanner) degrees(n number) (float64, error) {
	if err := s.ruled(n); err != nil {
		return 0, err
	}
	marked := degreeMark(s.peek(0))
	if marked {
		s.take()
	}
	if !marked {
		switch t := s.peek(0); t.kind {
		case tokPrime, tokDoublePrime:
			return 0, s.fail(t.at, "there are no degrees before this mark", "write 0° 30' for minutes alone; a length does not belong here")
		}
	}
	deg, last := n.value, n
	for _, part := range [...]struct {
		mark  tokenKind
		name  string
		parts float64
	}{{tokPrime, "minutes", 60}, {tokDoublePrime, "seconds", 3600}} {
		t := s.peek(0)
		if t.kind != tokNumber && t.kind != tokGlyph {
			break
		}
		m, err := s.number(angleExample)
		if err != nil {
			return 0, err
		}
		mark := s.peek(0)
		if mark.kind != part.mark {
			if part.name == "minutes" && mark.kind == tokDoublePrime {
				return 0, s.fail(mark.at, "seconds follow degrees without minutes", `write 89° 0' 15"`)
			}
			if !marked && part.name == "minutes" {
				return 0, s.fail(m.at, "another number follows", "write one number, or mark degrees and minutes like 89° 30'")
			}
			return 0, s.fail(m.at, fmt.Sprintf("the %s have no mark after them", part.name), `write it like 89° 30' 15"`)
		}
		s.take()
		switch {
		case !last.whole():
			return 0, s.fail(m.at, fmt.Sprintf("%s follow a number that is not whole", part.name), "write decimal degrees or minutes, not both")
		case m.fraction:
			return 0, s.fail(m.at, fmt.Sprintf("the %s are a fraction", part.name), `write whole ones, like 89° 30' 15"`)
		case m.value >= 60:
			return 0, s.fail(m.at, fmt.Sprintf("the %s are 60 or more", part.name), "carry them into the part before")
		}
		deg += m.value / part.parts
		last = m
	}
	return deg, nil
}

// angleEnd refuses what is left over after an angle.
func (s *scanner) angleEnd() error {
	t := s.peek(0)
	switch t.kind {
	case tokWord:
		switch t.word {
		case "rad", "rads", "radian", "radians":
			return s.radians(t)
		case "grad", "grads", "gon", "gons":
			return s.fail(t.at, s.spelling(t)+" is not used here", "write degrees, like 91.0")
		}
		if _, ok := lengthUnit(t); ok {
			return s.fail(t.at, "this is a length, and an angle is wanted", "write degrees, like 91.0")
		}
	case tokColon:
		return s.fail(t.at, "this is a ratio, and an angle is wanted", "write degrees and minutes like 89° 30'")
	case tokPercent, tokPermille:
		return s.fail(t.at, "this is a slope, and an angle is wanted", "write degrees, like 91.0")
	}
	return s.end()
}

// radians refuses radians, with the degrees to type instead when there are
// any to tell.
func (s *scanner) radians(t token) error {
	remedy := "write degrees, like 91.0"
	if len(s.tokens) == 3 && s.tokens[0].kind == tokNumber {
		if deg := Angle(s.tokens[0].value).Degrees(); deg <= 360 {
			remedy = "write " + strconv.FormatFloat(deg, 'f', 2, 64) + "°"
		}
	}
	return s.fail(t.at, "radians are not used here", remedy)
}

// ParseSlope returns the slope from level that text says, as an angle. A bare
// number is millimetres to the metre, as a spirit level states it; also read
// are 2 mm/m, 1/8 in/ft, 1/8" per foot, 3 mm/200 mm, 1:48, 1 in 48, 0.2 %,
// 2 ‰ and 0.3°.
//
// A bare fraction is refused: 1/8 may be a ratio or inches to the foot. Every
// error is a *TextError; a result is finite, within MaxTypedSlope and never
// minus zero.
func ParseSlope(text string) (Angle, error) {
	return parseTilt(text, tiltForm{
		example: slopeExample,
		bare: func(s *scanner, n number) (Angle, error) {
			if n.fraction {
				return 0, s.fail(n.at, "a fraction without a unit may be a ratio or inches to the foot", "write 1/8 in/ft, or 1:48")
			}
			return slopeAngle(n.value, 1000), nil
		},
		length: func(s *scanner, n number, unit token, _ Length) (Angle, error) {
			return 0, s.fail(unit.end, "a length is given without what it falls over", "write it like 2 mm/m or 1/8 in/ft")
		},
	})
}

// ParseLean returns the lean from plumb that text says, as an angle. A bare
// number is degrees. A length alone, 3 mm or 1/8 in, is over LeanHeight
// (200 mm) of height. Also read are 3/200, 3:200, 3 mm/m, 0.6° and 1 %.
//
// A bare fraction with an inch's bottom (1/8) is refused: it may be a ratio or
// an eighth of an inch. Every error is a *TextError; a result is finite,
// within MaxTypedSlope and never minus zero.
func ParseLean(text string) (Angle, error) {
	return parseTilt(text, tiltForm{
		example: leanExample,
		bare: func(s *scanner, n number) (Angle, error) {
			switch {
			case !n.fraction:
				return Angle(n.value) * Degree, nil
			case n.mixed || inchDivision(n.den):
				return 0, s.fail(n.at, "a fraction without a unit may be inches or a ratio", "write 1/8 in, 3:200 or degrees")
			}
			return slopeAngle(n.num, n.den), nil
		},
		length: func(_ *scanner, n number, _ token, l Length) (Angle, error) {
			return slopeAngle(float64(l), float64(LeanHeight)), nil
		},
	})
}

// tiltForm is what slopes and leans read differently.
type tiltForm struct {
	example string
	bare    func(*scanner, number) (Angle, error)                // a number alone
	length  func(*scanner, number, token, Length) (Angle, error) // a length alone, and its unit's token
}

// slopeAngle returns the angle of rise over run.
func slopeAngle(rise, run float64) Angle { return Angle(math.Atan2(rise, run)) }

// parseTilt reads a text as a slope or lean.
func parseTilt(text string, form tiltForm) (Angle, error) {
	s, err := newScanner(text)
	if err != nil {
		return 0, err
	}
	sign := s.sign()
	n, err := s.number(form.example)
	if err != nil {
		return 0, err
	}
	a, err := s.tilt(n, form)
	if err != nil {
		return 0, err
	}
	if t := s.peek(0); t.kind == tokWord && (t.word == "rad" || t.word == "radians") {
		return 0, s.radians(t)
	}
	if err := s.end(); err != nil {
		return 0, err
	}
	const slack = 1e-12 // 45° itself may come out a rounding steeper
	if !(a <= MaxTypedSlope+slack) {
		return 0, s.fail(n.at, "this is steeper than 1 in 1 (45°)", "check the number and its unit")
	}
	return signedAngle(sign, min(a, MaxTypedSlope)), nil
}

// tilt takes what follows n and returns the angle they make together.
func (s *scanner) tilt(n number, form tiltForm) (Angle, error) {
	mark := s.peek(0)
	if unit, ok := lengthUnit(mark); ok {
		s.take()
		if mark.word == "in" && !n.fraction && s.peek(0).kind == tokNumber {
			return s.ratio(n) // 1 in 48
		}
		return s.lengthTilt(n, mark, unit, form)
	}
	switch {
	case degreeMark(mark):
		deg, err := s.degrees(n)
		return Angle(deg) * Degree, err
	case mark.kind == tokPercent, mark.kind == tokPermille, mark.kind == tokColon:
		s.take()
		if n.fraction {
			return 0, s.fail(n.at, "a fraction is given before "+s.spelling(mark), "write it in decimals")
		}
		switch mark.kind {
		case tokPercent:
			return slopeAngle(n.value, 100), nil
		case tokPermille:
			return slopeAngle(n.value, 1000), nil
		}
		return s.ratio(n)
	}
	return form.bare(s, n)
}

// ratio takes the second number of 1:48.
func (s *scanner) ratio(rise number) (Angle, error) {
	run, err := s.number("1:48")
	if err != nil {
		return 0, err
	}
	if run.fraction {
		return 0, s.fail(run.at, "a fraction is given in the ratio", "write it in whole numbers, like 1:48")
	}
	if run.value == 0 {
		return 0, s.fail(run.at, "the ratio's second number is 0", "write it like 1:48")
	}
	return slopeAngle(rise.value, run.value), nil
}

// lengthTilt takes what a length falls or leans over, if that is said.
func (s *scanner) lengthTilt(n number, mark token, unit Length, form tiltForm) (Angle, error) {
	if n.fraction && unit != Inch {
		return 0, s.fail(n.at, "a fraction is given in "+s.spelling(mark), "write decimals, or use inches")
	}
	if err := s.ruled(n); err != nil {
		return 0, err
	}
	rise := Length(n.value) * unit
	per := s.peek(0)
	if per.kind != tokSlash && (per.kind != tokWord || per.word != "per") {
		if per.kind == tokEnd {
			return form.length(s, n, mark, rise)
		}
		return 0, s.end()
	}
	s.take()
	over := number{value: 1, at: s.peek(0).at}
	if _, bare := lengthUnit(s.peek(0)); !bare {
		var err error
		if over, err = s.number("3 mm/200 mm"); err != nil {
			return 0, err
		}
		if err := s.ruled(over); err != nil {
			return 0, err
		}
	}
	t := s.peek(0)
	overUnit, ok := lengthUnit(t)
	switch {
	case !ok:
		return 0, s.fail(t.at, "what it falls over has no unit", "write it like 2 mm/m or 1/8 in/ft")
	case over.value == 0:
		return 0, s.fail(over.at, "what it falls over is 0", "write it like 2 mm/m or 3 mm/200 mm")
	}
	s.take()
	return slopeAngle(float64(rise), over.value*float64(overUnit)), nil
}
