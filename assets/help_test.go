package assets_test

import (
	"bytes"
	"image"
	_ "image/png" // what pictures are
	"slices"
	"strings"
	"testing"

	"risewright/assets"
)

func TestHelpPages(t *testing.T) {
	pages, err := assets.HelpPages("en")
	if err != nil {
		t.Fatal(err)
	}
	if len(pages) < 8 || pages[len(pages)-1].Name != "glossary" {
		t.Fatalf("%d pages, the last is %q", len(pages), pages[len(pages)-1].Name)
	}
	for _, p := range pages {
		if p.Title == "" || len(strings.Fields(p.Text)) < 40 {
			t.Errorf("page %s has title %q and %d words", p.Name, p.Title, len(strings.Fields(p.Text)))
		}
	}
	unknown, err := assets.HelpPages("xx")
	if err != nil || len(unknown) != len(pages) || unknown[0].Text != pages[0].Text {
		t.Errorf("a language without help does not get English: %v", err)
	}
}

// Every page of a stage has a picture that can be read and is not heavy; "bash
// .dev/pictures" makes them.
func TestHelpPictures(t *testing.T) {
	pages, err := assets.HelpPages("de")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pages {
		if p.Name == "glossary" {
			continue
		}
		c, kind, err := image.DecodeConfig(bytes.NewReader(p.Picture))
		if err != nil || kind != "png" || c.Width < 600 || c.Height < 300 || len(p.Picture) > 120<<10 {
			t.Errorf("the picture of %s is a %s of %d by %d in %d bytes: %v", p.Name, kind, c.Width, c.Height, len(p.Picture), err)
		}
	}
}

// TestGlossaryIsInOrder: whoever looks a word up goes by the alphabet.
func TestGlossaryIsInOrder(t *testing.T) {
	pages, err := assets.HelpPages("en")
	if err != nil {
		t.Fatal(err)
	}
	var words []string
	for _, line := range strings.Split(pages[len(pages)-1].Text, "\n")[1:] {
		if rest, ok := strings.CutPrefix(line, "**"); ok {
			word, _, _ := strings.Cut(rest, ".**")
			words = append(words, strings.ToLower(word))
		}
	}
	if len(words) < 25 || !slices.IsSorted(words) {
		t.Errorf("%d words, sorted: %v", len(words), slices.IsSorted(words))
	}
}

func TestTour(t *testing.T) {
	stops, err := assets.Tour("en")
	if err != nil {
		t.Fatal(err)
	}
	if len(stops) < 6 {
		t.Fatalf("%d stops", len(stops))
	}
	for _, s := range stops {
		if s.Title == "" || s.Text == "" || strings.Contains(s.Text, "tab:") || s.Step < 0 {
			t.Errorf("stop %+v", s)
		}
	}
	if stops[2].Tab != "readings" || stops[2].Step != 5 {
		t.Errorf("the third stop is at tab %q, step %d", stops[2].Tab, stops[2].Step)
	}
}
