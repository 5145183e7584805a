package model

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// This file cuts a typed measure into tokens: numbers, fractions, marks and
// unit words. It folds the typographic forms onto plain ones. What the tokens
// mean together is decided in length_parse.go and angle_parse.go.

// maxTextRunes bounds a typed measure. The longest sensible one, such as
// 89 degrees 30 minutes 15 seconds, has 32 characters; twice that leaves room
// for spaces, and a pasted page is refused before it is looked at.
const maxTextRunes = 64

type tokenKind int

const (
	tokEnd         tokenKind = iota
	tokNumber                // 36, 36.5, .5
	tokGlyph                 // ⅝: one character that is a whole fraction
	tokSlash                 // / or the fraction slash
	tokDash                  // hyphen, minus or dash
	tokPlus                  // +
	tokPrime                 // ' feet or minutes
	tokDoublePrime           // " inches or seconds
	tokDegree                // °
	tokPercent               // %
	tokPermille              // ‰
	tokColon                 // :
	tokWord                  // a run of letters, lower case, without an abbreviation's full stop
	tokOther                 // anything else
)

// token is one piece of a typed measure. at and end are rune offsets.
type token struct {
	kind     tokenKind
	at, end  int
	gap      bool    // a space stands before it
	value    float64 // tokNumber
	decimal  bool    // tokNumber with a decimal mark
	script   int     // tokNumber in superscript (1) or subscript (-1) digits
	num, den int     // tokGlyph
	word     string  // tokWord
}

// scanner walks over the tokens of one text.
type scanner struct {
	text   string
	runes  []rune
	tokens []token // always ends with a tokEnd
	next   int
}

// newScanner cuts text into tokens or says which character cannot belong to
// any measure.
func newScanner(text string) (*scanner, error) {
	if cut, long := cutRunes(text, maxTextRunes); long {
		return nil, &TextError{
			Text: cut + "…", At: maxTextRunes,
			Problem: fmt.Sprintf("the text is longer than %d characters", maxTextRunes),
			Remedy:  `type one measure, such as 36 5/16" or 918.5 mm`,
		}
	}
	s := &scanner{text: text, runes: []rune(text)}
	gap := false
	for i := 0; i < len(s.runes); {
		if isBlank(s.runes[i]) {
			gap = true
			i++
			continue
		}
		t, err := s.scan(i)
		if err != nil {
			return nil, err
		}
		t.at, t.gap = i, gap
		gap = false
		if t.kind == tokGlyph && t.den == 0 { // ⅟ opens a fraction whose top is 1
			s.tokens = append(s.tokens, token{kind: tokNumber, at: i, end: t.end, gap: t.gap, value: 1, script: 1})
			t = token{kind: tokSlash, at: i, end: t.end}
		}
		s.tokens = append(s.tokens, t)
		i = t.end
	}
	s.tokens = append(s.tokens, token{kind: tokEnd, at: len(s.runes), end: len(s.runes), gap: gap})
	return s, nil
}

// cutRunes returns the first n runes of text and whether there were more. It
// looks no further than it must.
func cutRunes(text string, n int) (string, bool) {
	if len(text) <= n {
		return text, false
	}
	count := 0
	for i := range text {
		if count == n {
			return text[:i], true
		}
		count++
	}
	return text, false
}

// isBlank reports whether r only separates: any space, also the non-breaking
// and thin ones, and the zero-width marks that copying leaves behind.
func isBlank(r rune) bool {
	switch r {
	case '\u200b', '\u200c', '\u200d', '\u200e', '\u200f', '\u2060', '\ufeff':
		return true
	}
	return unicode.IsSpace(r)
}

// scan reads the token that starts at rune i. It sets everything but at and
// gap.
func (s *scanner) scan(i int) (token, error) {
	r := s.runes[i]
	one := func(k tokenKind) (token, error) { return token{kind: k, end: i + 1}, nil }
	if isDigit(r) || (r == '.' || r == ',') && i+1 < len(s.runes) && isDigit(s.runes[i+1]) {
		return s.scanNumber(i)
	}
	if script, _ := scriptDigit(r); script != 0 {
		return s.scanScript(i, script)
	}
	if num, den, ok := glyphFraction(r); ok {
		return token{kind: tokGlyph, end: i + 1, num: num, den: den}, nil
	}
	if isSingleMark(r) {
		if i+1 < len(s.runes) && isSingleMark(s.runes[i+1]) {
			return token{kind: tokDoublePrime, end: i + 2}, nil // '' is one inch mark
		}
		return one(tokPrime)
	}
	switch r {
	case '/', '⁄', '∕', '／':
		return one(tokSlash)
	case '-', '−', '–', '—', '‐', '‑', '‒', '﹣', '－':
		return one(tokDash)
	case '+', '＋':
		return one(tokPlus)
	case '"', '″', '”', '“', '‟', 'ʺ', '〃', '＂', '„':
		return one(tokDoublePrime)
	case '°', 'º', '˚':
		return one(tokDegree)
	case '%':
		return one(tokPercent)
	case '‰':
		return one(tokPermille)
	case ':', '∶':
		return one(tokColon)
	case '㎜':
		return token{kind: tokWord, end: i + 1, word: "mm"}, nil
	case '㎝':
		return token{kind: tokWord, end: i + 1, word: "cm"}, nil
	case '㏌':
		return token{kind: tokWord, end: i + 1, word: "in"}, nil
	case '\\':
		return token{}, s.fail(i, "a backslash makes no fraction", "write a fraction with /, like 5/16")
	case utf8.RuneError:
		return token{}, s.fail(i, "this character cannot be read", "delete it and type it again")
	}
	if unicode.IsDigit(r) {
		return token{}, s.fail(i, "this digit is from another script", "type it with the digits 0 to 9")
	}
	if unicode.IsLetter(r) {
		end := i
		for end < len(s.runes) && unicode.IsLetter(s.runes[end]) {
			end++
		}
		t := token{kind: tokWord, word: strings.ToLower(string(s.runes[i:end]))}
		if end < len(s.runes) && s.runes[end] == '.' { // ft. and in.
			end++
		}
		t.end = end
		return t, nil
	}
	return one(tokOther)
}

// isSingleMark reports whether r is typed for feet or minutes.
func isSingleMark(r rune) bool {
	switch r {
	case '\'', '′', '’', '‘', '‛', 'ʹ', 'ʼ', '´', '`', '＇':
		return true
	}
	return false
}

// scanNumber reads digits with at most one decimal point or comma.
func (s *scanner) scanNumber(i int) (token, error) {
	t := token{kind: tokNumber, end: i}
	digits := func() int {
		n := 0
		for t.end < len(s.runes) && isDigit(s.runes[t.end]) {
			t.end++
			n++
		}
		return n
	}
	before := digits()
	if t.end < len(s.runes) && (s.runes[t.end] == '.' || s.runes[t.end] == ',') {
		mark := t.end
		name := "point"
		if s.runes[mark] == ',' {
			name = "comma"
		}
		t.decimal = true
		t.end++
		after := digits()
		if after == 0 {
			return t, s.fail(mark, fmt.Sprintf("the decimal %s has no digit after it", name), "delete it, or write the decimals")
		}
		if t.end < len(s.runes) && (s.runes[t.end] == '.' || s.runes[t.end] == ',') {
			return t, s.fail(t.end, "the number has a second point or comma", "write thousands without a mark, and one decimal point, like 1234.5")
		}
		// 1,234 is one thousand to one reader and one and a quarter to
		// another. 0,918 and 1234,567 have only one meaning.
		if name == "comma" && after == 3 && before >= 1 && before <= 3 && s.runes[i] != '0' {
			whole, rest := string(s.runes[i:mark]), string(s.runes[mark+1:t.end])
			return t, s.fail(mark, "a comma before three digits may be a thousands mark or a decimal comma",
				fmt.Sprintf("write %s%s or %s.%s", whole, rest, whole, rest))
		}
	}
	v, err := strconv.ParseFloat(strings.Replace(string(s.runes[i:t.end]), ",", ".", 1), 64)
	if err != nil {
		// Cannot happen, because at most 64 digits with one point are always
		// in range; refuse rather than trust that.
		return t, s.fail(i, "the number cannot be read", "write it in fewer digits")
	}
	t.value = v
	return t, nil
}

// scanScript reads raised or lowered digits, as in 36⁵⁄₁₆.
func (s *scanner) scanScript(i, script int) (token, error) {
	t := token{kind: tokNumber, end: i, script: script}
	for t.end < len(s.runes) {
		sc, digit := scriptDigit(s.runes[t.end])
		if sc != script {
			break
		}
		t.value = t.value*10 + float64(digit)
		t.end++
	}
	return t, nil
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

// scriptDigit returns 1 and the digit for a superscript digit, -1 and the
// digit for a subscript one, and 0 for any other rune.
func scriptDigit(r rune) (script, digit int) {
	switch {
	case r == '¹':
		return 1, 1
	case r == '²':
		return 1, 2
	case r == '³':
		return 1, 3
	case r == '⁰' || r >= '⁴' && r <= '⁹':
		return 1, int(r - '⁰')
	case r >= '₀' && r <= '₉':
		return -1, int(r - '₀')
	}
	return 0, 0
}

// glyphFraction returns the fraction that one character stands for. The
// character ⅟ (one over) has den 0. Values: the Unicode Standard, code charts
// "Latin-1 Supplement" and "Number Forms".
func glyphFraction(r rune) (num, den int, ok bool) {
	switch r {
	case '½':
		return 1, 2, true
	case '⅓':
		return 1, 3, true
	case '⅔':
		return 2, 3, true
	case '¼':
		return 1, 4, true
	case '¾':
		return 3, 4, true
	case '⅕':
		return 1, 5, true
	case '⅖':
		return 2, 5, true
	case '⅗':
		return 3, 5, true
	case '⅘':
		return 4, 5, true
	case '⅙':
		return 1, 6, true
	case '⅚':
		return 5, 6, true
	case '⅐':
		return 1, 7, true
	case '⅛':
		return 1, 8, true
	case '⅜':
		return 3, 8, true
	case '⅝':
		return 5, 8, true
	case '⅞':
		return 7, 8, true
	case '⅑':
		return 1, 9, true
	case '⅒':
		return 1, 10, true
	case '↉':
		return 0, 3, true
	case '⅟':
		return 1, 0, true
	}
	return 0, 0, false
}

// fail returns the error at rune offset at.
func (s *scanner) fail(at int, problem, remedy string) error {
	return &TextError{Text: s.text, At: at, Problem: problem, Remedy: remedy}
}

// peek returns the token n places ahead without taking it.
func (s *scanner) peek(n int) token {
	if i := s.next + n; i < len(s.tokens) {
		return s.tokens[i]
	}
	return s.tokens[len(s.tokens)-1]
}

// take returns the next token and steps over it. The end is never passed.
func (s *scanner) take() token {
	t := s.peek(0)
	if t.kind != tokEnd {
		s.next++
	}
	return t
}

// spelling returns a token as it was typed.
func (s *scanner) spelling(t token) string { return string(s.runes[t.at:t.end]) }

// number is a count read from the text: whole, decimal, fraction or both.
type number struct {
	value    float64
	at       int
	decimal  bool
	fraction bool // it has a fraction part
	mixed    bool // it has a whole part before the fraction
	num, den float64
	denAt    int // where the fraction's bottom stands
}

// whole reports whether n was written as a plain whole number.
func (n number) whole() bool { return !n.decimal && !n.fraction }

// sign takes a leading plus or minus. It returns -1 or 1.
func (s *scanner) sign() float64 {
	switch s.peek(0).kind {
	case tokDash:
		s.take()
		return -1
	case tokPlus:
		s.take()
	}
	return 1
}

// number takes a whole number, a decimal, a fraction or a mixed number.
// example is a right one, for the remedies.
func (s *scanner) number(example string) (number, error) {
	t := s.peek(0)
	switch t.kind {
	case tokGlyph:
		s.take()
		n := number{at: t.at, fraction: true, num: float64(t.num), den: float64(t.den), denAt: t.at}
		n.value = n.num / n.den
		return n, s.afterFraction()
	case tokNumber:
		s.take()
	default:
		return number{}, s.noNumber(t, example)
	}
	if s.peek(0).kind == tokSlash && !s.unitFollows(1) {
		return s.fraction(t)
	}
	if t.script != 0 {
		return number{}, s.loneScript(t)
	}
	n := number{value: t.value, at: t.at, decimal: t.decimal}
	joint := s.peek(0)
	if joint.kind == tokDash && s.fractionStarts(1) {
		if joint.gap || s.peek(1).gap {
			return n, s.fail(joint.at, "a dash with a space beside it may join or take away", "write 36 5/16 or 36-5/16")
		}
		s.take()
	} else if !s.fractionStarts(0) {
		return n, nil
	}
	if n.decimal {
		return n, s.fail(s.peek(0).at, "a fraction follows a decimal number", "write decimals or a fraction, not both")
	}
	f, err := s.number(example)
	if err != nil {
		return n, err
	}
	if f.num >= f.den {
		return n, s.fail(f.at, "the fraction after a whole number is one or more", "check the tape: the fraction's top must be less than its bottom")
	}
	return number{value: n.value + f.value, at: n.at, fraction: true, mixed: true, num: f.num, den: f.den, denAt: f.denAt}, nil
}

// loneScript refuses a raised or lowered number that is no part of a fraction.
func (s *scanner) loneScript(t token) error {
	return s.fail(t.at, "a raised or lowered digit stands alone", "write an ordinary number, or a fraction like 5/16")
}

// fractionStarts reports whether a fraction begins i tokens ahead.
func (s *scanner) fractionStarts(i int) bool {
	switch s.peek(i).kind {
	case tokGlyph:
		return true
	case tokNumber:
		return s.peek(i+1).kind == tokSlash && !s.unitFollows(i+2)
	}
	return false
}

// unitFollows reports whether the token i ahead is a length unit's word, so
// that the slash before it means "per" (mm/m) rather than a fraction.
func (s *scanner) unitFollows(i int) bool {
	t := s.peek(i)
	_, ok := lengthUnit(t)
	return ok && t.kind == tokWord
}

// fraction takes the slash and the bottom of a fraction whose top is given.
func (s *scanner) fraction(top token) (number, error) {
	const like = "write a fraction like 5/16"
	n := number{at: top.at, fraction: true, num: top.value}
	if top.decimal {
		return n, s.fail(top.at, "the fraction's top is not a whole number", like)
	}
	if top.script < 0 {
		return n, s.fail(top.at, "the fraction's top is in lowered digits", like)
	}
	slash := s.take()
	bottom := s.peek(0)
	n.denAt = bottom.at
	if slash.gap && bottom.kind == tokNumber && !bottom.gap { // 36 /16
		return n, s.fail(slash.at, "a space parts the slash from the fraction's top", "check that the top is there, and "+like)
	}
	switch {
	case bottom.kind != tokNumber:
		return n, s.fail(bottom.at, "the fraction has no bottom", like)
	case bottom.decimal:
		return n, s.fail(bottom.at, "the fraction's bottom is not a whole number", like)
	case bottom.script > 0:
		return n, s.fail(bottom.at, "the fraction's bottom is in raised digits", like)
	case bottom.value == 0:
		return n, s.fail(bottom.at, "the fraction's bottom is 0", like)
	}
	s.take()
	n.den = bottom.value
	n.value = n.num / n.den
	return n, s.afterFraction()
}

// afterFraction refuses a second fraction or slash hard behind a fraction.
func (s *scanner) afterFraction() error {
	t := s.peek(0)
	switch {
	case t.kind == tokSlash && !s.unitFollows(1):
		return s.fail(t.at, "a second slash follows the fraction", "write one fraction, like 5/16")
	case s.fractionStarts(0):
		return s.fail(t.at, "a second fraction follows the first", "write one fraction, like 5/16")
	}
	return nil
}

// noNumber says why a number was expected where t stands.
func (s *scanner) noNumber(t token, example string) error {
	remedy := "write it like " + example
	switch t.kind {
	case tokEnd:
		if s.next == 0 {
			return s.fail(t.at, "nothing was typed", "type a value like "+example)
		}
		return s.fail(t.at, "a number is missing", remedy)
	case tokDash, tokPlus:
		return s.fail(t.at, "there are two signs", "write one sign, or none")
	case tokSlash:
		return s.fail(t.at, "the fraction has no top", "write a fraction like 5/16")
	case tokPrime, tokDoublePrime, tokDegree, tokPercent, tokPermille:
		return s.fail(t.at, "the mark has no number before it", remedy)
	case tokWord:
		if _, ok := lengthUnit(t); ok {
			return s.fail(t.at, fmt.Sprintf("the unit %s has no number before it", s.spelling(t)), remedy)
		}
		return s.fail(t.at, fmt.Sprintf("%s is not a number", s.spelling(t)), remedy)
	}
	if r := s.runes[t.at]; r == '±' {
		return s.fail(t.at, "a plus-or-minus cannot be entered here", "type the value alone")
	} else if r == '.' || r == ',' {
		return s.fail(t.at, "the decimal mark has no digit after it", remedy)
	}
	return s.fail(t.at, "this character does not belong here", remedy)
}

// ruled refuses a fraction that is nearly always a slip of the finger: one no
// rule is divided into (5/15 for 5/16), or a top-heavy one that may lack a
// space (36/16 for 3 6/16).
func (s *scanner) ruled(n number) error {
	switch {
	case !n.fraction:
		return nil
	case n.num >= n.den && !lumberQuarters(n):
		return s.fail(n.at, "the fraction is one or more", "a space may be missing: write a whole number and a fraction, like 1 5/16")
	case !ruleDivision(n.den):
		return s.fail(n.denAt, fmt.Sprintf("no rule is divided into %sths", strconv.FormatFloat(n.den, 'f', -1, 64)),
			"check it; halves, 4ths, 8ths, 16ths, 32nds and 64ths are read")
	}
	return nil
}

// lumberQuarters reports whether n is one of the quarters in which rough
// hardwood is sold, 4/4 to 16/4. Common practice, no source. None of them can
// be a mixed number that lost its space, as 13/4 can.
func lumberQuarters(n number) bool {
	if n.den != 4 {
		return false
	}
	switch n.num {
	case 4, 5, 6, 8, 10, 12, 16:
		return true
	}
	return false
}

// ruleDivision reports whether rules are divided into den parts to the inch:
// halving down to 128ths, thirds and twelfths of a framing square, tenths and
// hundredths of an engineer's rule. Common practice, no source.
func ruleDivision(den float64) bool {
	switch den {
	case 1, 3, 5, 6, 10, 12, 20, 50, 100:
		return true
	}
	return inchDivision(den)
}

// inchDivision reports whether den is a halving of the inch: 2, 4, … 128.
func inchDivision(den float64) bool {
	return den >= 2 && den <= 128 && math.Exp2(math.Round(math.Log2(den))) == den
}

// end refuses whatever is left over.
func (s *scanner) end() error {
	t := s.peek(0)
	switch t.kind {
	case tokEnd:
		return nil
	case tokNumber, tokGlyph:
		if t.script != 0 {
			return s.loneScript(t)
		}
		return s.fail(t.at, "another number follows", `write one value; thousands take no space, and fractions a slash, like 36 5/16`)
	case tokDash, tokPlus:
		if s.peek(1).kind == tokEnd {
			return s.fail(t.at, "a sign stands at the end", "for a strong or shy mark write the next finer fraction, like 36 11/32")
		}
		return s.fail(t.at, "sums are not worked out here", "type the result")
	case tokSlash:
		return s.fail(t.at, "the slash does not belong here", "write a fraction like 5/16")
	case tokPrime, tokDoublePrime:
		return s.fail(t.at, "this mark does not belong here", `one ' for feet and one " for inches, like 3' 0 5/16"`)
	case tokWord:
		if t.word == "x" || t.word == "by" {
			return s.fail(t.at, "there is more than one measure", "type one measure at a time")
		}
		if _, ok := lengthUnit(t); ok {
			return s.fail(t.at, fmt.Sprintf("the unit %s does not belong here", s.spelling(t)), "write the value with one unit")
		}
		return s.fail(t.at, fmt.Sprintf("%s is not a unit used here", s.spelling(t)), "delete it")
	case tokDegree, tokPercent, tokPermille, tokColon:
		return s.fail(t.at, fmt.Sprintf("the mark %s does not belong here", s.spelling(t)), "delete it")
	}
	switch s.runes[t.at] {
	case '×', '*':
		return s.fail(t.at, "there is more than one measure", "type one measure at a time")
	case '±':
		return s.fail(t.at, "a plus-or-minus cannot be entered here", "type the value alone")
	}
	return s.fail(t.at, "this character does not belong here", "delete it")
}
