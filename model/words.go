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

// Plural returns n and the word, with an s unless n is 1.
func Plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}
