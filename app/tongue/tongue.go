// Package tongue makes the book of a language out of what ships with the
// program.
package tongue

import (
	"fmt"
	"strings"

	"risewright/assets"
	"risewright/view/words"
)

// Codes returns the codes of the languages, English first.
func Codes() []string {
	var out []string
	for _, l := range assets.Languages() {
		out = append(out, l.Code)
	}
	return out
}

// Book returns the book of a language by its code, such as "de"; English has
// none. An error names a language that is not there, or a pair that cannot be.
func Book(code string) (*words.Book, error) {
	for _, l := range assets.Languages() {
		if l.Code != code {
			continue
		}
		pairs, err := assets.Words(code)
		if err != nil || pairs == nil {
			return nil, err
		}
		b, err := words.NewBook(pairs)
		if err != nil {
			return nil, fmt.Errorf("the words of %s: %w", l.Name, err)
		}
		b.Write(words.Marks{Decimal: l.Decimal, Thousands: l.Thousands})
		return b, nil
	}
	return nil, fmt.Errorf("there is no language %q; there are %s", code, strings.Join(Codes(), ", "))
}
