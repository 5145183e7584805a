package panel

import (
	"slices"
	"strings"

	"risewright/model"
)

// standings are the words for how far a value can be trusted, best first, and
// what each of them means.
var standings = [...]struct {
	of           model.Standing
	short, means string
}{
	{model.Yours, "yours", "set by you"},
	{model.Seen, "text seen", "read in the publication itself"},
	{model.Transcription, "transcribed", "read in someone else's copy of the text"},
	{model.Secondary, "restated", "read in a page that retells the text"},
	{model.Memory, "from memory", "not looked up: check it before you rely on it"},
}

// standingShort says in a word or two how far a value can be trusted; "" for
// a value without a standing.
func standingShort(s model.Standing) string {
	for _, x := range standings {
		if x.of == s {
			return x.short
		}
	}
	return ""
}

// standingWords says the word and what it means; "" for a value without a
// standing.
func standingWords(s model.Standing) string {
	for _, x := range standings {
		if x.of == s {
			return "“" + model.Capital(x.short) + "” means " + x.means + "."
		}
	}
	return ""
}

// standingKey explains the words that a table uses, each once.
func standingKey(used []model.Standing) string {
	var parts []string
	for _, x := range standings {
		if slices.Contains(used, x.of) {
			parts = append(parts, "“"+x.short+"”: "+x.means)
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return model.Capital(strings.Join(parts, "; ")) + "."
}
