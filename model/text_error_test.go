package model_test

import (
	"errors"
	"fmt"
	"testing"

	"risewright/model"
)

func TestTextError(t *testing.T) {
	for _, row := range []struct {
		err         model.TextError
		line, caret string
	}{
		{
			model.TextError{`36 5/0`, 5, "the bottom is 0", "write 5/16"},
			`“36 5/0”, character 6 (0): the bottom is 0; write 5/16`,
			"36 5/0\n     ^",
		},
		{
			model.TextError{`36 5/`, 5, "the bottom is missing", "write 5/16"},
			`“36 5/”, at the end: the bottom is missing; write 5/16`,
			"36 5/\n     ^",
		},
		{model.TextError{``, 0, "nothing was typed", "type a length"}, `nothing was typed; type a length`, "\n^"},
		// Places count characters, not bytes.
		{model.TextError{`⅝″x`, 2, "p", "r"}, `“⅝″x”, character 3 (x): p; r`, "⅝″x\n  ^"},
		// Line breaks and direction marks cannot break the line or turn it.
		{model.TextError{"3\n\u202e4\x00", 1, "p", "r"}, "“3 \ufffd4\ufffd”, character 2 ( ): p; r", "3 \ufffd4\ufffd\n ^"},
		// A wide character takes two columns, a combining mark none.
		{model.TextError{"三e\u0301x", 3, "p", "r"}, "“三e\u0301x”, character 4 (x): p; r", "三e\u0301x\n\u3000 ^"},
		{model.TextError{"3", 0, "p", ""}, "“3”, character 1 (3): p", "3\n^"},
	} {
		if got := row.err.Error(); got != row.line {
			t.Errorf("Error() = %q\nwant      %q", got, row.line)
		}
		if got := row.err.Caret(); got != row.caret {
			t.Errorf("Caret() = %q, want %q", got, row.caret)
		}
	}
}

func ExampleTextError() {
	_, err := model.ParseLength(`36 5/0`, model.Imperial)
	fmt.Println(err)
	var te *model.TextError
	if errors.As(err, &te) {
		fmt.Println(te.Caret())
	}
	// Output:
	// “36 5/0”, character 6 (0): the fraction's bottom is 0; write a fraction like 5/16
	// 36 5/0
	//      ^
}
