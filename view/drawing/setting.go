package drawing

import (
	"unicode/utf8"

	"risewright/view/words"
)

// fractionSlash between figures asks for a set fraction: numerator raised,
// denominator on the line, both smaller than whole numbers, so that 36 5⁄16
// cannot be read as 365/16. A plain / is left as it is. The fixed-width faces
// have no such slash: there the figures stay whole, and in their columns.
const fractionSlash = '⁄'

// The shape of a set fraction, in parts of the font size. The figures are as
// small as they can be and still be told apart at a screen's usual 12 pixels.
const (
	fractionScale = 0.74
	fractionRaise = capHeight * (1 - fractionScale) // tops level with capitals
	fractionSpace = 0.06                            // kept free on each side of the slash
)

// missing is written for a character no embedded face can draw.
const missing = '□'

// Placed is one character of a line of lettering, where it stands and how
// large. Places and sizes are parts of the font size, measured from the start
// of the baseline.
type Placed struct {
	Rune  rune // what to write, which the face can draw
	Glyph Glyph
	X, Y  float64
	Scale float64
}

// Set calls do for each character of s in order and returns the width of the
// whole, in parts of the font size. All writers place lettering by it, so that
// every output is the same. There is no kerning. Control characters become
// spaces, and characters without a glyph a white square; see MissingRunes.
func (f *Face) Set(s string, do func(Placed)) float64 {
	x := 0.0
	put := func(r rune, y, scale float64) {
		if r < ' ' {
			r = ' '
		}
		g := f.Glyph(r)
		if g == 0 {
			r = missing
			g = f.Glyph(r)
		}
		if do != nil {
			do(Placed{Rune: r, Glyph: g, X: x, Y: y, Scale: scale})
		}
		x += float64(f.advance[g]) * scale
	}
	for i := 0; i < len(s); {
		above, below := fraction(s[i:])
		if above == 0 || f.Glyph(fractionSlash) == 0 {
			r, size := utf8.DecodeRuneInString(s[i:])
			if r == fractionSlash {
				r = '/' // not within a fraction, or in a fixed width
			}
			put(r, 0, 1)
			i += size
			continue
		}
		for _, r := range s[i : i+above] {
			put(r, fractionRaise, fractionScale)
		}
		i += above + utf8.RuneLen(fractionSlash)
		x += fractionSpace
		put(fractionSlash, 0, 1)
		x += fractionSpace
		for _, r := range s[i : i+below] {
			put(r, 0, fractionScale)
		}
		i += below
	}
	return x
}

// fraction returns the numbers of figures before and after the slash of the
// fraction that s begins with, or zeros. Since setting goes from left to right,
// s never begins in the middle of a number.
func fraction(s string) (above, below int) {
	for above < len(s) && isFigure(s[above]) {
		above++
	}
	rest := s[above:]
	r, size := utf8.DecodeRuneInString(rest)
	if above == 0 || r != fractionSlash {
		return 0, 0
	}
	rest = rest[size:]
	for below < len(rest) && isFigure(rest[below]) {
		below++
	}
	if below == 0 {
		return 0, 0
	}
	return above, below
}

func isFigure(b byte) bool { return '0' <= b && b <= '9' }

// TextWidth returns the width of s in paper millimetres at the given font
// size, from the embedded font, in the language spoken (package words).
func TextWidth(s string, size float64, bold, mono bool) float64 {
	return setWidth(words.Say(s), size, bold, mono)
}

// setWidth is TextWidth of a text already in the language spoken.
func setWidth(s string, size float64, bold, mono bool) float64 {
	return FaceFor(bold, mono).Set(s, nil) * size
}

// Width returns how wide, in paper millimetres, the lettering of a text is that
// has been put into a list, where it is in the language spoken already.
func (t Text) Width() float64 { return setWidth(t.String, t.Size, t.Bold, t.Mono) }
