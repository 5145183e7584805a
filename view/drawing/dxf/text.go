package dxf

import (
	"fmt"
	"strings"
	"unicode/utf16"

	"risewright/view/drawing"
)

// longestText is the most characters of one line of lettering: readers of this
// version may refuse lines of more than 255 bytes (from memory), and a
// character that is written as an escape takes seven.
const longestText = 36

// text returns s as the value of a TEXT entity:
//
//  1. It is one line of printable ASCII. Other characters are written as their
//     code, \U+2032, and control characters as spaces.
//  2. Neither a backslash, nor a caret, nor a run of percent signs in s starts
//     a code, as they do in this format (\U+, ^J, %%d).
//  3. A text too long for a reader's line is cut and ends in three dots.
func text(s string) string {
	s = strings.ToValidUTF8(s, "\ufffd")
	var b strings.Builder
	runes := []rune(s)
	for i, r := range runes {
		var one string
		switch {
		case r < ' ' || r == 0x7f:
			one = " "
		case r == '\\':
			one = `\U+005C`
		case r == '^':
			one = "^ " // readers strip blanks at the end, and then see half a code
			if i+1 == len(runes) {
				one += `\U+00A0`
			}
		case r == '%' && (i > 0 && runes[i-1] == '%' || i+1 < len(runes) && runes[i+1] == '%'):
			one = "%%037" // the character by its number
		case r < 0x7f:
			one = string(r)
		default:
			for _, u := range utf16.Encode([]rune{r}) {
				one += fmt.Sprintf(`\U+%04X`, u)
			}
		}
		if b.Len()+len(one) > mostBytes-len("...") && i+1 < len(runes) {
			return b.String() + "..."
		}
		b.WriteString(one)
	}
	return b.String()
}

// mostBytes is the longest value of a text: see longestText.
const mostBytes = 7*longestText - 2

// styleOf names the style of a text, after its weight and spacing.
func styleOf(t drawing.Text) string { return styles[drawing.FaceIndex(t.Bold, t.Mono)].name }

// styles are the text styles by face. A reader without these fonts takes its
// own; nothing but lettering hangs on them.
var styles = [4]struct{ name, font string }{
	{"PLAIN", "DejaVuSansCondensed.ttf"},
	{"BOLD", "DejaVuSansCondensed-Bold.ttf"},
	{"FIXED", "DejaVuSansMono.ttf"},
	{"FIXEDBOLD", "DejaVuSansMono-Bold.ttf"},
}
