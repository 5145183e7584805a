package window

import (
	"strings"
	"testing"

	"risewright/assets"
	"risewright/view/words"
)

// TestEveryLanguageIsABook: the pairs of every language can be made into a book,
// and it says the names of the tabs.
func TestEveryLanguageIsABook(t *testing.T) {
	for _, l := range assets.Languages()[1:] {
		pairs, err := assets.Words(l.Code)
		if err != nil {
			t.Fatal(err)
		}
		b, err := words.NewBook(pairs)
		if err != nil {
			t.Fatalf("%s: %v", l.Name, err)
		}
		for _, name := range []string{"Readings", "Build-up", "Order", "Lights", "Sensors", "Buy", "Picture", "File", "Undo", "Save"} {
			if said := b.Say(name); said == name || strings.TrimSpace(said) == "" {
				t.Errorf("%s says %q as %q", l.Name, name, said)
			}
		}
	}
	if pairs, err := assets.Words("en"); err != nil || pairs != nil {
		t.Errorf("English has words of its own: %v", err)
	}
	if _, err := assets.Words("xx"); err == nil {
		t.Error("a language that is not there has words")
	}
}
