package panel

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"risewright/model"
	"risewright/view/words"
)

// This file reads what is typed into fields as the language spoken writes it:
// 36,5 in German. The model's own readers take a comma in any language, but
// refuse 1,234, which is clear only to who knows the language; a job's file must
// mean the same in every language, so they are not told of it.

// typed reads a text by one of the model's readers. An error shows the text as it
// was typed.
func typed[T any](text string, read func(string) (T, error)) (T, error) {
	plain, at := words.Typed(text)
	if at >= 0 {
		var none T
		return none, thousands(text, at)
	}
	v, err := read(plain)
	var t *model.TextError
	if errors.As(err, &t) && t.Text == plain {
		shown := *t
		shown.Text = text
		return v, &shown
	}
	return v, err
}

// thousands refuses a mark that may part thousands or decimals, at a place in
// runes.
func thousands(text string, at int) error {
	runes := []rune(text)
	from, end := at, at+1
	for from > 0 && runes[from-1] >= '0' && runes[from-1] <= '9' {
		from--
	}
	for end < len(runes) && runes[end] >= '0' && runes[end] <= '9' {
		end++
	}
	whole, rest := string(runes[from:at]), string(runes[at+1:end])
	problem := "a point before three digits may be a thousands mark or a decimal point"
	if runes[at] == ',' {
		problem = "a comma before three digits may be a thousands mark or a decimal comma"
	}
	// A remedy is put into the marks of the language where it is shown.
	return &model.TextError{Text: text, At: at, Problem: problem, Remedy: fmt.Sprintf("write %s%s or %s.%s", whole, rest, whole, rest)}
}

// ReadLength is model.ParseLength for what is typed in the language spoken.
func ReadLength(text string, u model.Units) (model.Length, error) {
	return typed(text, func(s string) (model.Length, error) { return model.ParseLength(s, u) })
}

func readAngle(text string) (model.Angle, error) { return typed(text, model.ParseAngle) }

func readSlope(text string) (model.Angle, error) { return typed(text, model.ParseSlope) }

func readLean(text string) (model.Angle, error) { return typed(text, model.ParseLean) }

// readFigure reads a plain number, with a decimal point or comma; what is none is
// not a number to any limit. doubt refuses a mark that may part thousands, as in a
// length.
func readFigure(text string) (v float64, doubt error) {
	plain, at := words.Typed(text)
	if whole, rest, ok := strings.Cut(strings.TrimLeft(plain, "+-"), ","); ok && len(rest) == 3 && len(whole) >= 1 && len(whole) <= 3 && whole[0] != '0' && digits(whole) && digits(rest) {
		at = len([]rune(text[:strings.IndexByte(text, ',')]))
	}
	if at >= 0 {
		return 0, thousands(text, at)
	}
	v, err := strconv.ParseFloat(strings.Replace(plain, ",", ".", 1), 64)
	if err != nil {
		return math.NaN(), nil
	}
	return v, nil
}

func digits(s string) bool { return strings.Trim(s, "0123456789") == "" }
