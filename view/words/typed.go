package words

import (
	"strings"
	"unicode"
)

// Figure writes the decimal points of a text as the language spoken does, and
// leaves the rest: for what stands in a field, where nothing parts thousands, and
// where a comma is the person's own. A point in a text with two marks, or after a
// letter, is no decimal point.
func Figure(text string) string {
	if !DecimalComma() {
		return text
	}
	return eachFigure(text, func(runes []rune, from, end, mark int) {
		if runes[mark] == '.' && (from == 0 || !unicode.IsLetter(runes[from-1])) {
			runes[mark] = ','
		}
	})
}

// DecimalComma says whether the language spoken writes 36,5.
func DecimalComma() bool {
	b := spoken.Load()
	return b != nil && b.marks.Decimal == ","
}

// Typed returns a text of figures as English writes them: where the language
// spoken has a decimal comma, each figure with one comma and no point gets a
// point for it, rune for rune. What it says is otherwise as it was, also where it
// cannot be read.
//
// at is the place, in runes, of a point that may part thousands or decimals,
// such as that of 1.234 typed in German; -1 for none. A point after 0 or before
// other than three digits has one meaning.
func Typed(text string) (plain string, at int) {
	if !DecimalComma() {
		return text, -1
	}
	at = -1
	plain = eachFigure(text, func(runes []rune, from, end, mark int) {
		switch before, after := mark-from, end-mark-1; {
		case runes[mark] == ',':
			runes[mark] = '.'
		case after == 3 && before >= 1 && before <= 3 && runes[from] != '0' && at < 0:
			at = mark
		}
	})
	return plain, at
}

// eachFigure calls f with each figure of a text that has one point or comma, with
// a digit after it: where it begins and ends, and where the mark stands. It
// returns the text with what f has changed.
func eachFigure(text string, f func(runes []rune, from, end, mark int)) string {
	if !strings.ContainsAny(text, ".,") {
		return text
	}
	runes := []rune(text)
	for i := 0; i < len(runes); {
		if !figure(runes[i]) {
			i++
			continue
		}
		end, marks, mark := i, 0, -1
		for ; end < len(runes) && figure(runes[end]); end++ {
			if runes[end] == '.' || runes[end] == ',' {
				marks++
				mark = end
			}
		}
		if marks == 1 && end > mark+1 {
			f(runes, i, end, mark)
		}
		i = end
	}
	return string(runes)
}

func figure(r rune) bool { return r >= '0' && r <= '9' || strings.ContainsRune(".,", r) }
