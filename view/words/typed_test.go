package words_test

import (
	"testing"
	"unicode/utf8"

	"risewright/view/words"
)

// comma has a language spoken that writes 1 234,5, until the test ends.
func comma(t testing.TB) {
	t.Helper()
	b, err := words.NewBook(nil)
	if err != nil {
		t.Fatal(err)
	}
	b.Write(words.Marks{Decimal: ",", Thousands: "\u202f"})
	words.Speak(b)
	t.Cleanup(func() { words.Speak(nil) })
}

func TestTypedWithAComma(t *testing.T) {
	for _, text := range []string{"36,5", "1,234", "1.234"} {
		if got, at := words.Typed(text); got != text || at != -1 {
			t.Errorf("in English %q is %q, doubtful at %d", text, got, at)
		}
	}
	comma(t)
	for _, row := range []struct {
		text, plain string
		at          int
	}{
		{"36,5", "36.5", -1},
		{"36.5", "36.5", -1},
		{"-0,5°", "-0.5°", -1},
		{",5", ".5", -1},
		{"1,234 m", "1.234 m", -1},
		{"0.918 m", "0.918 m", -1}, // after 0 it parts no thousands
		{"1.234", "1.234", 1},
		{"918.500 mm", "918.500 mm", 3},
		{"1234.567", "1234.567", -1},
		{"36.3125", "36.3125", -1},
		{"2,5 mm/1,2 m", "2.5 mm/1.2 m", -1},
		{"1.234,5", "1.234,5", -1}, // two marks, which no reader takes
		{"12,5,5", "12,5,5", -1},
		{"36,", "36,", -1},
		{"1:48", "1:48", -1},
		{"3' 0 5/16\"", "3' 0 5/16\"", -1},
		{"", "", -1},
		{"½, ¼", "½, ¼", -1},
	} {
		got, at := words.Typed(row.text)
		if got != row.plain || at != row.at {
			t.Errorf("%q is %q, doubtful at %d; want %q at %d", row.text, got, at, row.plain, row.at)
		}
	}
	for text, want := range map[string]string{"918.5 mm": "918,5 mm", "1,234 m": "1,234 m", "1.234 m": "1,234 m", "R311.7": "R311.7", "6.2.1": "6.2.1", "0.5°": "0,5°"} {
		if got := words.Figure(text); got != want {
			t.Errorf("%q stands in a field as %q, want %q", text, got, want)
		}
	}
}

// Whatever is typed keeps its length, so that an error is shown at its place.
func FuzzTyped(f *testing.F) {
	for _, s := range []string{"36,5", "1.234", "1.2,3", ",,..", "½,5", "\xff,5", "9,9.9"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		comma(t)
		got, at := words.Typed(s)
		if utf8.RuneCountInString(got) != utf8.RuneCountInString(s) || at >= utf8.RuneCountInString(s) {
			t.Errorf("%q is %q, doubtful at %d", s, got, at)
		}
		if twice, _ := words.Typed(got); twice != got {
			t.Errorf("%q is %q, and that is %q", s, got, twice)
		}
	})
}
