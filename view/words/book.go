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
	whole map[string]string
	holed map[string][]pattern // by the first letters of the key; "" where it begins with a hole
	mutex sync.Mutex
	known map[string]string // what has been looked up before
}

// pattern is a key with holes and what is said instead.
type pattern struct {
	parts  []string // between the holes; one more than there are holes
	letter int      // letters outside the holes
	says   string
}

// enough is how many texts are remembered before all are forgotten: figures
// change with every drag, and memory must not grow with them.
const enough = 8192

// depth bounds how deep texts within texts are looked up.
const depth = 4

// NewBook makes a book of English keys and what is said for them. A value
// names the key's holes {1}, {2} and so on, in any order, or {} in the key's
// order. An error names the pair that cannot be.
func NewBook(pairs map[string]string) (*Book, error) {
	b := &Book{whole: map[string]string{}, holed: map[string][]pattern{}, known: map[string]string{}}
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
			continue
		}
		p := pattern{parts: parts, says: numbered(says)}
		for _, s := range parts {
			p.letter += letters(s)
		}
		if p.letter < 2 {
			continue // would take anything for itself
		}
		at := head(parts[0])
		b.holed[at] = append(b.holed[at], p)
	}
	for _, list := range b.holed {
		// the key that says most comes first; the order of a map does not count
		slices.SortFunc(list, func(x, y pattern) int {
			if x.letter != y.letter {
				return y.letter - x.letter
			}
			return strings.Compare(strings.Join(x.parts, hole), strings.Join(y.parts, hole))
		})
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

// head returns what patterns are sorted by: the first letters of a text, fewer
// where there are fewer.
func head(s string) string {
	if len(s) > headSize {
		s = s[:headSize]
	}
	if len(s) < headSize {
		return "" // too short to tell; looked at for every text
	}
	return s
}

const headSize = 3

// Say returns what the book says for an English text, or the text itself. A
// nil book says everything in English.
func (b *Book) Say(text string) string {
	if b == nil || letters(text) == 0 {
		return text
	}
	b.mutex.Lock()
	said, ok := b.known[text]
	b.mutex.Unlock()
	if ok {
		return said
	}
	said, ok = b.find(text, depth)
	if !ok {
		said = text
	}
	b.mutex.Lock()
	if len(b.known) >= enough {
		clear(b.known)
	}
	b.known[text] = said
	b.mutex.Unlock()
	return said
}

// Has says whether any part of a text is in the book.
func (b *Book) Has(text string) bool {
	if b == nil {
		return false
	}
	_, ok := b.find(text, depth)
	return ok
}

// find looks a text up: as it is, without a capital, without its stop, with
// holes, and at last in parts.
func (b *Book) find(text string, depth int) (string, bool) {
	if depth == 0 || letters(text) == 0 {
		return text, false
	}
	if trimmed := strings.TrimSpace(text); trimmed != text {
		said, ok := b.find(trimmed, depth)
		at := strings.Index(text, trimmed)
		return text[:at] + said + text[at+len(trimmed):], ok
	}
	if said, ok := b.whole[text]; ok {
		return said, true
	}
	if mark, rest, ok := strings.Cut(text, " "); ok && letters(mark) == 0 && !strings.ContainsAny(mark, "0123456789{") {
		// a sign in front, such as that of a finding
		if said, ok := b.find(rest, depth); ok {
			return mark + " " + said, true
		}
	}
	said, sure := b.exact(text, depth)
	if r, n := utf8.DecodeRuneInString(text); unicode.IsUpper(r) {
		if low, surer := b.exact(string(unicode.ToLower(r))+text[n:], depth); surer > sure {
			said, sure = capital(low), surer
		}
	}
	if sure > 0 {
		return said, true
	}
	for _, stop := range []string{".", ":", "…"} {
		if short, ok := strings.CutSuffix(text, stop); ok {
			if said, ok := b.find(short, depth); ok {
				return said + stop, true
			}
		}
	}
	return b.inParts(text, depth)
}

// exact looks a text up whole and among the keys with holes. It returns how
// many letters of the text a key said, 0 for none.
func (b *Book) exact(text string, depth int) (string, int) {
	if said, ok := b.whole[text]; ok {
		return said, letters(text)
	}
	best, fills := pattern{}, []string(nil)
	for _, list := range [2][]pattern{b.holed[head(text)], b.holed[""]} {
		for _, p := range list {
			if p.letter <= best.letter {
				break
			}
			if f, ok := p.match(text); ok && (p.letter >= telling || b.filled(f, depth)) {
				best, fills = p, f
				break
			}
		}
	}
	if best.letter == 0 {
		return "", 0
	}
	said := best.says
	for i, f := range fills {
		// what is filled in must not be taken for a hole
		f = strings.ReplaceAll(f, "{", "\x00")
		if t, ok := b.find(f, depth-1); ok {
			f = t
		}
		said = strings.ReplaceAll(said, "{"+strconv.Itoa(i+1)+"}", f)
	}
	return strings.ReplaceAll(said, "\x00", "{"), best.letter
}

// telling is how many letters of its own make a key with holes sure of itself.
// One with fewer, such as "{} of {}", is only meant where all that stands in its
// holes is known, or a figure.
const telling = 5

// filled says whether all that stands in holes is known or has a figure.
func (b *Book) filled(fills []string, depth int) bool {
	for _, f := range fills {
		if strings.ContainsAny(f, "0123456789") && len(strings.Fields(f)) <= 2 || letters(f) == 0 {
			continue
		}
		if _, ok := b.find(f, depth-1); !ok {
			return false
		}
	}
	return true
}

// match returns what stands in the holes of a pattern.
func (p pattern) match(text string) ([]string, bool) {
	rest, ok := strings.CutPrefix(text, p.parts[0])
	if !ok {
		return nil, false
	}
	last := p.parts[len(p.parts)-1]
	if rest, ok = strings.CutSuffix(rest, last); !ok {
		return nil, false
	}
	fills := make([]string, 0, len(p.parts)-1)
	for _, s := range p.parts[1 : len(p.parts)-1] {
		before, after, ok := strings.Cut(rest, s)
		if !ok || s == "" {
			return nil, false
		}
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
var joints = [...]string{"\n", ". ", "; ", ": ", " · ", "   ", " (", ", "}

func (b *Book) inParts(text string, depth int) (string, bool) {
	for _, j := range joints {
		parts := strings.Split(text, j)
		if len(parts) == 1 {
			continue
		}
		found := false
		for i, p := range parts {
			body, tail := p, ""
			if j == " (" && i > 0 && strings.HasSuffix(p, ")") {
				body, tail = p[:len(p)-1], ")"
			}
			if said, ok := b.find(body, depth-1); ok {
				parts[i], found = said+tail, true
			}
		}
		if found {
			return strings.Join(parts, j), true
		}
	}
	return text, false
}

func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}
