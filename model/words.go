package model

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Capital returns s with its first letter a capital.
func Capital(s string) string {
	if s == "" {
		return s
	}
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// Sentence returns s with a capital and a full stop, unless it ends in a mark
// of its own. Findings, reasons and remedies are written without either, so
// that they can stand inside another sentence.
func Sentence(s string) string {
	if s = strings.TrimSpace(s); s == "" {
		return s
	}
	if s = Capital(s); !strings.ContainsAny(s[len(s)-1:], ".!?:") {
		s += "."
	}
	return s
}

// Listed returns the parts as people list them: a, b and c.
func Listed(parts []string) string {
	if n := len(parts); n > 1 {
		return strings.Join(parts[:n-1], ", ") + " and " + parts[n-1]
	}
	return strings.Join(parts, "")
}

// Plural returns n and the word, with an s unless n is 1.
func Plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}
