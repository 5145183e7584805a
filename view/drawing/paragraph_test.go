package drawing_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"risewright/view/drawing"
)

func TestWrap(t *testing.T) {
	const size = 4
	wide := func(s string) float64 { return drawing.TextWidth(s, size, false, false) }
	for _, row := range []struct {
		text  string
		width float64
		want  string // lines parted by |
	}{
		{"", 50, ""},
		{"one", 50, "one"},
		{"one two", wide("one two"), "one two"},
		{"one two", wide("one two") - 0.01, "one|two"},
		{"mark 36 5⁄16 along", wide("mark 36"), "mark|36 5⁄16|along"},
		{"mark 914.0 mm, then", wide("mark 914.0"), "mark|914.0 mm,|then"},
		{"mark 3.2 A, then", wide("mark 3.2"), "mark|3.2 A,|then"},
		{"mark A then", wide("mark A"), "mark A|then"},
		{"a\nb", 50, "a|b"},
		{"abcdef", wide("abc"), "abc|def"},
		{"ab", 0, "a|b"},
	} {
		got := strings.Join(drawing.Wrap(row.text, row.width, size, false, false), "|")
		if got != row.want {
			t.Errorf("Wrap(%q, %.2f) = %q, want %q", row.text, row.width, got, row.want)
		}
	}
}

func TestWrapLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOfN(rapid.RuneFrom([]rune("ab 1⁄6m.\n")), 0, 60, -1).Draw(t, "text")
		width := rapid.Float64Range(0, 60).Draw(t, "width")
		lines := drawing.Wrap(s, width, 3.2, true, false)
		bare := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if bare(strings.Join(lines, " ")) != bare(s) {
			t.Fatalf("letters of %q became %q", s, lines)
		}
		for _, l := range lines {
			if w := drawing.TextWidth(l, 3.2, true, false); w > width+1e-9 && len([]rune(l)) > 1 {
				t.Fatalf("line %q is %.2f wide, more than %.2f", l, w, width)
			}
		}
	})
}

func TestFitSize(t *testing.T) {
	w := drawing.TextWidth("tread", 5, true, false)
	for _, row := range []struct{ width, want float64 }{{w, 5}, {2 * w, 5}, {w / 2, 2.5}, {w / 10, 2}} {
		if got := drawing.FitSize("tread", row.width, 5, 2, true, false); got != row.want {
			t.Errorf("FitSize in %.2f = %v, want %v", row.width, got, row.want)
		}
	}
}
