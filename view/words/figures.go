package words

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Marks is how a language writes figures. The zero Marks writes them as English
// does: 1,234.5.
type Marks struct {
	Decimal   string // between the whole and its part; "" for a point
	Thousands string // between groups of three; used where Decimal is set
}

// sections are the words before a number whose points part chapters, not
// decimals, such as section 6.2.
var sections = []string{"section", "clause", "table", "figure", "part", "annex", "version", "abschnitt", "tabelle", "bild", "anhang", "teil", "§", "nr."}

// write gives figures their marks. Numbers with two points (chapters, versions),
// with a letter before (R311.7) or after the word for a chapter stay.
func (m Marks) write(s string) string {
	if m.Decimal == "" || !strings.ContainsAny(s, ".,") {
		return s
	}
	var out strings.Builder
	for i := 0; i < len(s); {
		if !digit(s[i]) {
			_, n := utf8.DecodeRuneInString(s[i:])
			out.WriteString(s[i : i+n])
			i += n
			continue
		}
		end := i
		for end < len(s) && (digit(s[end]) || (s[end] == '.' || s[end] == ',') && end+1 < len(s) && digit(s[end+1])) {
			end++
		}
		if number := s[i:end]; isName(s[:i]) || !plain(number) {
			out.WriteString(number)
		} else {
			whole, part, has := strings.Cut(number, ".")
			out.WriteString(strings.ReplaceAll(whole, ",", m.Thousands))
			if has {
				out.WriteString(m.Decimal + part)
			}
		}
		i = end
	}
	return out.String()
}

func digit(b byte) bool { return '0' <= b && b <= '9' }

// plain says whether a run of digits, points and commas is a figure as English
// writes it: groups of three before at most one point.
func plain(number string) bool {
	whole, part, has := strings.Cut(number, ".")
	if has && strings.ContainsAny(part, ".,") {
		return false
	}
	groups := strings.Split(whole, ",")
	for i, g := range groups {
		if i > 0 && len(g) != 3 || i == 0 && len(groups) > 1 && len(g) > 3 {
			return false
		}
	}
	return true
}

// isName says whether what stands before a number makes it a name and not a
// figure: a letter or _ against it, or the word for a chapter.
func isName(before string) bool {
	if r, _ := utf8.DecodeLastRuneInString(before); unicode.IsLetter(r) || r == '_' {
		return true
	}
	fields := strings.Fields(before)
	if len(fields) == 0 || !strings.HasSuffix(before, " ") {
		return false
	}
	last := strings.ToLower(strings.TrimLeft(fields[len(fields)-1], "([\""))
	return slices.Contains(sections, last)
}
