package model_test

import (
	"testing"

	"risewright/model"
)

func TestWords(t *testing.T) {
	for _, row := range []struct{ got, want string }{
		{model.Capital(""), ""},
		{model.Capital("riser 1"), "Riser 1"},
		{model.Capital("éclair"), "Éclair"},
		{model.Capital("±0.4 mm"), "±0.4 mm"},
		{model.Sentence("  "), ""},
		{model.Sentence(" read it again "), "Read it again."},
		{model.Sentence("is it bare?"), "Is it bare?"},
		{model.Sentence("best first:"), "Best first:"},
		{model.Plural(1, "riser"), "1 riser"},
		{model.Plural(0, "riser"), "0 risers"},
		{model.Plural(14, "riser"), "14 risers"},
	} {
		if row.got != row.want {
			t.Errorf("got %q, want %q", row.got, row.want)
		}
	}
}
