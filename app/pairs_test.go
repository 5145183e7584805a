package main_test

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"risewright/assets"
)

// TestEveryTextHasItsPair: each language has something for every text that can
// be said, but for those that are the same in every language: names, codes,
// keys of files. Those are listed by hand, so that a text that is added is not
// forgotten.
func TestEveryTextHasItsPair(t *testing.T) {
	said, same := quoted(t, saidFile), quoted(t, "../assets/words/same.txt")
	for text := range same {
		if !said[text] {
			t.Errorf("same.txt has %q, which is no longer said", text)
		}
	}
	for _, l := range assets.Languages()[1:] {
		pairs, err := assets.Words(l.Code)
		if err != nil {
			t.Fatal(err)
		}
		for text := range said {
			switch says := pairs[text]; {
			case says == "" && !same[text]:
				t.Errorf("%s has nothing for %q: put a pair into assets/words/%s.json, or the text into same.txt if no language says it otherwise", l.Name, text, l.Code)
			case says != "" && same[text]:
				t.Errorf("%s has a pair for %q, which same.txt says is the same in every language", l.Name, text)
			}
		}
	}
}

// quoted reads a list of quoted texts, a line each.
func quoted(t *testing.T, name string) map[string]bool {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]bool{}
	for i, line := range strings.Split(strings.TrimSpace(string(data)), "\n") {
		text, err := strconv.Unquote(line)
		if err != nil {
			t.Fatalf("%s, line %d: %v", name, i+1, err)
		}
		out[text] = true
	}
	return out
}
