package words

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// Book holds the pairs of one language. It may be used by several goroutines.
type Book struct {
	whole   map[string]string
	longest int // of the keys of whole, in bytes
	holed   map[ends][]pattern
	mutex   sync.Mutex
	marks   Marks
	known   map[string]string                 // what has been looked up before
	heard   func(text, said string, left int) // told of what is said; nil for nobody
}

// ends is what keys with holes are kept by, so that few have to be tried for a
// text: the first and the last letters of a key, "" where a hole or too little
// stands there, and whether it is sure of itself.
type ends struct {
	head, tail string
	sure       bool
}

// pattern is a key with holes and what is said instead.
type pattern struct {
	parts  []string // between the holes; one more than there are holes
	letter int      // letters outside the holes
	rank   int      // among all keys with holes; the first is tried first
	says   string
}

// enough is how many texts are remembered before all are forgotten: figures
// change with every drag, and memory must not grow with them.
const enough = 8192

// depth bounds how deep texts within texts are looked up.
const depth = 6

// NewBook makes a book of English keys and what is said for them. A value
// names the key's holes {1}, {2} and so on, in any order, or {} in the key's
// order. An error names the pair that cannot be.
func NewBook(pairs map[string]string) (*Book, error) {
	b := &Book{whole: map[string]string{}, holed: map[ends][]pattern{}, known: map[string]string{}}
	var all []pattern
	for key, says := range pairs {
		if says == "" {
			continue // not translated yet
		}
		parts := strings.Split(key, hole)
		if err := check(parts, says); err != nil {
			return nil, fmt.Errorf("%q: %w", key, err)
		}
		if len(parts) == 1 {
			b.whole[key] = says
			b.longest = max(b.longest, len(key))
			continue
		}
		p := pattern{parts: parts, says: numbered(says)}
		for _, s := range parts {
			p.letter += letters(s)
		}
		if p.letter < 2 {
			continue // would take anything for itself
		}
		all = append(all, p)
	}
	// the key that says most comes first, and of those alike the one that does not
	// begin with a hole; the order of a map does not count
	slices.SortFunc(all, func(x, y pattern) int {
		if x.letter != y.letter {
			return y.letter - x.letter
		}
		if hx, hy := head(x.parts[0]) != "", head(y.parts[0]) != ""; hx != hy {
			if hx {
				return -1
			}
			return 1
		}
		return strings.Compare(strings.Join(x.parts, hole), strings.Join(y.parts, hole))
	})
	for i, p := range all {
		p.rank = i
		at := ends{head(p.parts[0]), tail(p.parts[len(p.parts)-1]), p.letter >= telling}
		b.holed[at] = append(b.holed[at], p)
	}
	return b, nil
}

const hole = "{}"

// check says what is wrong with the holes of a pair.
func check(parts []string, says string) error {
	holes := len(parts) - 1
	for _, s := range parts[1:max(holes, 1)] {
		if s == "" {
			return fmt.Errorf("two of its holes touch, so nobody can tell where one ends")
		}
	}
	if n := strings.Count(says, hole); n > 0 && n != holes {
		return fmt.Errorf("it has %d holes and the translation %d", holes, n)
	}
	for _, m := range named.FindAllStringSubmatch(says, -1) {
		if n, err := strconv.Atoi(m[1]); err != nil || n < 1 || n > max(holes, 0) {
			return fmt.Errorf("the translation names hole {%s} of %d", m[1], holes)
		}
	}
	return nil
}

// named finds holes with a number.
var named = regexp.MustCompile(`\{(\d+)\}`)

// numbered gives holes without a number theirs.
func numbered(says string) string {
	for n := 1; strings.Contains(says, hole); n++ {
		says = strings.Replace(says, hole, "{"+strconv.Itoa(n)+"}", 1)
	}
	return says
}

func letters(s string) int {
	n := 0
	for _, r := range s {
		if unicode.IsLetter(r) {
			n++
		}
	}
	return n
}

// head returns the first letters of a text, and tail the last, "" where there are
// too few to tell.
func head(s string) string {
	if len(s) < endSize {
		return ""
	}
	return s[:endSize]
}

func tail(s string) string {
	if len(s) < endSize {
		return ""
	}
	return s[len(s)-endSize:]
}

const endSize = 3

// Write makes the book write figures with these marks. It is set before the book
// is used.
func (b *Book) Write(m Marks) { b.marks = m }

// Heard has tell told of every text that is looked up anew, what is said for it,
// and how many letters of that stay English because no pair covers them: for
// those who translate, and for tests. tell may be called by several goroutines.
// It is set before the book is used.
func (b *Book) Heard(tell func(text, said string, left int)) { b.heard = tell }

// Say returns what the book says for an English text, or the text itself. A
// nil book says everything in English.
func (b *Book) Say(text string) string {
	if b == nil {
		return text
	}
	if letters(text) == 0 {
		return b.marks.write(text)
	}
	b.mutex.Lock()
	said, ok := b.known[text]
	b.mutex.Unlock()
	if ok {
		return said
	}
	said, left := b.look().find(text, depth)
	said = b.marks.write(said)
	if b.heard != nil {
		b.heard(text, said, left)
	}
	b.mutex.Lock()
	if len(b.known) >= enough {
		clear(b.known)
	}
	b.known[text] = said
	b.mutex.Unlock()
	return said
}

// english counts the letters of a text that another language would write
// otherwise: those of words, not of figures with their units or of names such as
// T05.
func english(text string) int {
	n := 0
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune(";:,()/·→×", r) }) {
		if k := letters(w); k > 1 && !strings.ContainsAny(w, "0123456789") && !slices.Contains(units, w) {
			n += k
		}
	}
	return n
}

// units are words that are the same in every language.
var units = []string{"mm", "mm²", "m²", "cm", "in", "ft", "ms", "mA", "Hz", "lx", "lm", "kWh", "Wh", "ml", "ft²", "fl", "oz", "lb", "kg", "AWG", "LED", "LEDs"}

// look is one search; it remembers the parts that it has met.
type look struct {
	*Book
	met map[part]found
}

type part struct {
	text  string
	depth int
}

// found is what is said, and how many letters of it are still English.
type found struct {
	said string
	left int
}

func (b *Book) look() look { return look{b, map[part]found{}} }

// find says a text so that as little of it as possible stays English, and
// returns how many letters do: as it is, without a capital, without its stop,
// with holes, after a label, in brackets, and in parts.
func (b look) find(text string, depth int) (string, int) {
	if letters(text) == 0 {
		return text, 0
	}
	if said, ok := b.whole[text]; ok {
		return said, 0
	}
	all := english(text)
	if depth == 0 {
		return text, all
	}
	at := part{text, depth}
	if f, ok := b.met[at]; ok {
		return f.said, f.left
	}
	b.met[at] = found{text, all} // a text within itself says nothing new
	f := b.best(text, all, depth)
	b.met[at] = f
	return f.said, f.left
}

func (b look) best(text string, all, depth int) found {
	if trimmed := strings.TrimSpace(text); trimmed != text {
		said, left := b.find(trimmed, depth)
		at := strings.Index(text, trimmed)
		return found{text[:at] + said + text[at+len(trimmed):], left}
	}
	if mark, rest, ok := strings.Cut(text, " "); ok && letters(mark) == 0 && !strings.ContainsAny(mark, "0123456789{") {
		// a sign in front, such as that of a finding
		said, left := b.find(rest, depth)
		return found{mark + " " + said, left}
	}
	if inner, ok := bracketed(text); ok {
		said, left := b.find(inner, depth)
		return found{text[:1] + said + text[len(text)-1:], left}
	}
	out := found{text, all}
	better := func(said string, left int) bool {
		if left < out.left || said != text && out.said == text && left == out.left {
			out = found{said, left}
		}
		return out.left == 0 && out.said != text
	}
	if better(b.holes(text, all, depth, true)) {
		return out
	}
	if low := small(text); low != text {
		if said, ok := b.whole[low]; ok {
			return found{capital(said), 0}
		}
		if said, left := b.holes(low, english(low), depth, true); said != low && better(capital(said), left) {
			return out
		}
	}
	for _, stop := range []string{".", ":", "…"} {
		if short, ok := strings.CutSuffix(text, stop); ok {
			if said, left := b.find(short, depth); said != short && better(said+stop, left) {
				return out
			}
		}
	}
	if label, rest, ok := strings.Cut(text, ": "); ok && !strings.Contains(label, ". ") {
		saidLabel, left := b.find(label, depth-1)
		saidRest, more := b.find(rest, depth-1)
		if better(saidLabel+": "+saidRest, left+more) {
			return out
		}
	}
	for _, j := range joints {
		if strings.Contains(text, j) && better(b.inParts(text, j, depth)) {
			return out
		}
	}
	if better(b.holes(text, all, depth, false)) {
		return out
	}
	if low := small(text); low != text {
		if said, left := b.holes(low, english(low), depth, false); said != low {
			better(capital(said), left)
		}
	}
	return out
}

// bracketed returns what stands in the brackets that go round a whole text.
func bracketed(text string) (string, bool) {
	inner, ok := strings.CutPrefix(text, "(")
	if !ok {
		return "", false
	}
	inner, ok = strings.CutSuffix(inner, ")")
	return inner, ok && !strings.ContainsAny(inner, "()")
}

// tries is how many keys with holes that fit a text are tried.
const tries = 12

// holes says a text by the key with holes that leaves the least in English; the
// text itself where none fits. sure takes keys that are sure of themselves, the
// others are only meant where all that stands in their holes is known.
func (b look) holes(text string, all, depth int, sure bool) (string, int) {
	out := found{text, all}
	// the lists that a key for this text can be in
	var lists [4][]pattern
	for i := range lists {
		at := ends{sure: sure}
		if i&1 != 0 {
			at.head = head(text)
		}
		if i&2 != 0 {
			at.tail = tail(text)
		}
		if (i&1 == 0 || at.head != "") && (i&2 == 0 || at.tail != "") {
			lists[i] = b.holed[at]
		}
	}
	for tried := 0; tried < tries; {
		next := -1
		for i := range lists {
			if len(lists[i]) > 0 && (next < 0 || lists[i][0].rank < lists[next][0].rank) {
				next = i
			}
		}
		if next < 0 {
			break
		}
		p := &lists[next][0]
		lists[next] = lists[next][1:]
		fills, ok := p.match(text)
		if !ok {
			continue
		}
		tried++
		said, left := b.fill(p, fills, depth)
		if !sure && left > 0 {
			continue
		}
		if left < out.left || out.said == text && left == out.left {
			out = found{said, left}
		}
		if left == 0 {
			break
		}
	}
	return out.said, out.left
}

// fill says a key with holes, what stands in them said as well.
func (b look) fill(p *pattern, fills []string, depth int) (said string, left int) {
	said = p.says
	for i, f := range fills {
		t, n := b.find(f, depth-1)
		left += n
		// what is filled in must not be taken for a hole
		said = strings.ReplaceAll(said, "{"+strconv.Itoa(i+1)+"}", strings.ReplaceAll(t, "{", "\x00"))
	}
	return strings.ReplaceAll(said, "\x00", "{"), left
}

// telling is how many letters of its own make a key with holes sure of itself;
// "{} of {}" is not.
const telling = 5

// match returns what stands in the holes of a pattern.
func (p *pattern) match(text string) ([]string, bool) {
	rest, ok := strings.CutPrefix(text, p.parts[0])
	if !ok {
		return nil, false
	}
	if rest, ok = strings.CutSuffix(rest, p.parts[len(p.parts)-1]); !ok {
		return nil, false
	}
	inner := p.parts[1 : len(p.parts)-1]
	// Most keys do not fit, which is found out before anything is made.
	left := rest
	for _, s := range inner {
		at := strings.Index(left, s)
		if at < 0 || s == "" {
			return nil, false
		}
		left = left[at+len(s):]
	}
	fills := make([]string, 0, len(inner)+1)
	for _, s := range inner {
		before, after, _ := strings.Cut(rest, s)
		fills, rest = append(fills, before), after
	}
	fills = append(fills, rest)
	for _, f := range fills {
		// A hole holds a word or a phrase; what holds the end of a sentence is
		// more than was meant, and is looked up in parts.
		if strings.Contains(f, ". ") {
			return nil, false
		}
	}
	return fills, true
}

// joints part a text into what may have been put together, the strongest first.
var joints = [...]string{"\n", ". ", "; ", ": ", " · ", "   ", " (", ", ", " × "}

// inParts says what a joint parts, each by itself or several as one key.
func (b look) inParts(text, joint string, depth int) (string, int) {
	parts := strings.Split(text, joint)
	said, left := make([]string, 0, len(parts)), 0
	for i := 0; i < len(parts); {
		if s, n := b.run(parts[i:], joint); n > 1 {
			// several together are one key, such as a caution of three sentences
			said, i = append(said, s), i+n
			continue
		}
		body, tail := parts[i], ""
		if joint == " (" && i > 0 && strings.HasSuffix(body, ")") {
			body, tail = body[:len(body)-1], ")"
		}
		s, n := b.find(body, depth-1)
		said, left, i = append(said, s+tail), left+n, i+1
	}
	return strings.Join(said, joint), left
}

// run returns what is said for the longest run of parts, from the first, that
// together are one key without holes, and how many parts that is; less than 2
// where there is none.
func (b *Book) run(parts []string, joint string) (string, int) {
	for n := len(parts); n > 1; n-- {
		text := strings.Join(parts[:n], joint)
		if len(text) > b.longest {
			continue
		}
		if said, ok := b.whole[text]; ok {
			return said, n
		}
		if said, ok := b.whole[text+"."]; ok {
			return strings.TrimSuffix(said, "."), n
		}
	}
	return "", 0
}

func small(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(r)) + s[n:]
}

func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}
