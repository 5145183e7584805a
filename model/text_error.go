package model

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// TextError says why a typed text was refused, where, and what to type
// instead. ParseLength, ParseAngle, ParseSlope and ParseLean return no other
// kind of error.
//
// At counts characters (runes, not bytes) from 0; it equals the number of
// characters when something is missing at the end. Problem and Remedy are
// each one line without a full stop.
type TextError struct {
	Text    string // as typed; cut off after maxTextRunes characters when longer
	At      int
	Problem string
	Remedy  string
}

var _ error = (*TextError)(nil)

// Error returns one line: the text, the character's place counted from 1, the
// character, the problem and the remedy.
func (e *TextError) Error() string {
	var b strings.Builder
	shown := []rune(visible(e.Text))
	if len(shown) > 0 {
		fmt.Fprintf(&b, "“%s”, ", string(shown))
		if e.At >= 0 && e.At < len(shown) {
			fmt.Fprintf(&b, "character %d (%c): ", e.At+1, shown[e.At])
		} else {
			b.WriteString("at the end: ")
		}
	}
	b.WriteString(e.Problem)
	if e.Remedy != "" {
		b.WriteString("; ")
		b.WriteString(e.Remedy)
	}
	return b.String()
}

// Caret returns two lines for a fixed-width font: the text, and below it a ^
// under the character at fault.
func (e *TextError) Caret() string {
	var b strings.Builder
	shown := visible(e.Text)
	b.WriteString(shown)
	b.WriteByte('\n')
	n := 0
	for _, r := range shown {
		if n >= e.At {
			break
		}
		n++
		switch {
		case unicode.In(r, unicode.Mn, unicode.Me):
			// A combining mark sits on the character before it.
		case unicode.In(r, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Hangul), r >= 0xff01 && r <= 0xff60:
			b.WriteRune('\u3000') // a blank as wide as the wide character above it
		default:
			b.WriteByte(' ')
		}
	}
	b.WriteByte('^')
	return b.String()
}

// visible returns text with one printable character for each of its own, so
// that a pasted line break or a direction mark cannot break a message in two
// or turn it round.
func visible(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r) && r != '\u2028' && r != '\u2029':
			return ' '
		case r == utf8.RuneError, unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Cs, unicode.Zl, unicode.Zp):
			return '\ufffd'
		}
		return r
	}, text)
}
