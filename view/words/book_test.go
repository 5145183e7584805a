package words_test

import (
	"fmt"
	"strings"
	"testing"

	"risewright/view/words"
)

func book(t *testing.T, pairs map[string]string) *words.Book {
	t.Helper()
	b, err := words.NewBook(pairs)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestSay(t *testing.T) {
	b := book(t, map[string]string{
		"riser":                      "Setzstufe",
		"left":                       "links",
		"{} is {} too wide":          "{} ist {} zu breit",
		"retake {} of {}":            "{2}: {1} noch einmal messen",
		"the front width":            "die vordere Breite",
		"cut the blank {} long":      "den Rohling {} lang schneiden",
		"cut {}":                     "schneiden: {}",
		"undo {}":                    "{} rückgängig machen",
		"not yet translated":         "",
		"saved in {}":                "gespeichert in {}",
		"Open…":                      "Öffnen …",
		"{} of {}":                   "{} von {}",
		"keep":                       "behalten",
		"this is a text with a stop": "das ist ein Text mit Punkt",
	})
	for _, c := range []struct{ name, text, want string }{
		{"whole", "riser", "Setzstufe"},
		{"capital", "Left", "Links"},
		{"stop", "This is a text with a stop.", "Das ist ein Text mit Punkt."},
		{"holes, one of them looked up", "the front width is 3 mm too wide", "die vordere Breite ist 3 mm zu breit"},
		{"holes in another order", "Retake the front width of T05", "T05: die vordere Breite noch einmal messen"},
		{"the key that says more wins", "cut the blank 900 mm long", "den Rohling 900 mm lang schneiden"},
		{"the key that says less", "cut T05", "schneiden: T05"},
		{"parts", "left; riser 5; riser", "links; riser 5; Setzstufe"},
		{"brackets", "riser (left)", "Setzstufe (links)"},
		{"spaces kept", "  left   ", "  links   "},
		{"unknown stays", "wainscot", "wainscot"},
		{"empty translation stays", "not yet translated", "not yet translated"},
		{"figures stay", "12 3/4", "12 3/4"},
		{"ellipsis", "Open…", "Öffnen …"},
		{"braces in a name are no holes", "saved in {1}.job", "gespeichert in {1}.job"},
		{"nothing", "", ""},
		{"a short key is sure of what it knows", "3 of 14", "3 von 14"},
		{"and of nothing else", "most of it", "most of it"},
		{"a sign in front", "▲ left", "▲ links"},
		{"a hole holds no end of a sentence", "Cut T05. Riser is 3 mm too wide", "Schneiden: T05. Setzstufe ist 3 mm zu breit"},
	} {
		t.Run(c.name, func(t *testing.T) {
			for range 2 { // the second time it is remembered
				if got := b.Say(c.text); got != c.want {
					t.Errorf("%q is said as %q, want %q", c.text, got, c.want)
				}
			}
		})
	}
}

func TestNoBookIsEnglish(t *testing.T) {
	var b *words.Book
	if got := b.Say("left"); got != "left" {
		t.Errorf("got %q", got)
	}
}

func TestNewBookRefuses(t *testing.T) {
	for key, says := range map[string]string{
		"{} and {}": "{} und",
		"at {}":     "bei {2}",
		"from {}":   "von {1} bis {0}",
		"{}{} wide": "{}{} breit",
	} {
		if _, err := words.NewBook(map[string]string{key: says}); err == nil || !strings.Contains(err.Error(), key) {
			t.Errorf("%q with %q: error %v, want one that names the key", key, says, err)
		}
	}
}

// A drag shows new figures sixty times a second; what is remembered of them
// must not grow.
func TestManyFigures(t *testing.T) {
	b := book(t, map[string]string{"{} mm wide": "{} mm breit"})
	for i := range 30_000 {
		if got, want := b.Say(fmt.Sprintf("%d mm wide", i)), fmt.Sprintf("%d mm breit", i); got != want {
			t.Fatalf("got %q, want %q", got, want)
		}
	}
}

func BenchmarkSayNew(b *testing.B) {
	pairs := map[string]string{}
	for i := range 2000 {
		pairs[fmt.Sprintf("%c%c%c sentence number %d says {} of {}", 'a'+i%26, 'a'+i/26%26, 'a'+i/676, i)] = "{2}, {1}"
	}
	bk, err := words.NewBook(pairs)
	if err != nil {
		b.Fatal(err)
	}
	for i := 0; b.Loop(); i++ {
		bk.Say(fmt.Sprintf("bca sentence number 53 says %d of that", i))
	}
}
