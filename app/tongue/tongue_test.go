package tongue_test

import (
	"strings"
	"testing"

	"risewright/app/tongue"
	"risewright/assets"
)

// TestEveryLanguageIsABook: the pairs of every language can be made into a book,
// and it says the names of the tabs, and figures by its marks.
func TestEveryLanguageIsABook(t *testing.T) {
	for _, l := range assets.Languages()[1:] {
		b, err := tongue.Book(l.Code)
		if err != nil {
			t.Fatalf("%s: %v", l.Name, err)
		}
		for _, name := range []string{"Readings", "Build-up", "Order", "Lights", "Sensors", "Buy", "Picture", "File", "Undo", "Save"} {
			if said := b.Say(name); said == name || strings.TrimSpace(said) == "" {
				t.Errorf("%s says %q as %q", l.Name, name, said)
			}
		}
		if got, want := b.Say("3.5 mm"), "3"+l.Decimal+"5 mm"; got != want {
			t.Errorf("%s writes 3.5 mm as %q, want %q", l.Name, got, want)
		}
	}
	if b, err := tongue.Book("en"); err != nil || b != nil {
		t.Errorf("English has a book of its own: %v", err)
	}
	if _, err := tongue.Book("xx"); err == nil || !strings.Contains(err.Error(), "de") {
		t.Errorf("a language that is not there: error %v, want one that names those that are", err)
	}
}
