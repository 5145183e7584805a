package report

import (
	"slices"
	"strings"
	"testing"
)

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		text  string
		width int
		want  string
	}{
		{"one two three", 7, "one two|three"},
		{"one two three", 13, "one two three"},
		{"", 5, ""},
		{"  a   b ", 5, "a b"},
		{"abcdefgh ij", 5, "abcde|fgh|ij"},
		{"cut 11 5/16 now", 8, "cut|11 5/16|now"},       // a number stays with its fraction
		{"cut 11 5/16 now", 11, "cut 11 5/16|now"},      //
		{"±1/64 at 5 and 6/8", 9, "±1/64 at|5 and 6/8"}, // and is what stands before it
		{"take 47 % off", 7, "take|47 %|off"},           // as does a per cent sign
		{"über größe", 5, "über|größe"},                 // width in characters, not bytes
	} {
		if got := strings.Join(wrap(c.text, c.width), "|"); got != c.want {
			t.Errorf("%q in %d: %q, want %q", c.text, c.width, got, c.want)
		}
	}
}

func TestJoin(t *testing.T) {
	if got, want := strings.Join(join([]string{"ab", "", "cd", "efgh"}, 7), "|"), "ab · cd|efgh"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := join(nil, 7); len(got) != 0 {
		t.Errorf("nothing gives %q", got)
	}
}

func TestTable(t *testing.T) {
	tb := &table{left: map[int]bool{2: true}, groups: []group{{"", 1}, {"both", 2}}}
	tb.add("step", "±", "good for")
	tb.add("1", "3/64", "the saw")
	want := []string{
		"        ──── both ────",
		"  step     ±  good for",
		"     1  3/64  the saw",
	}
	if got := tb.lines(); !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestBeside(t *testing.T) {
	if got := beside("a  b ", "c", 8); !slices.Equal(got, []string{"a  b   c"}) {
		t.Errorf("%q", got)
	}
	if got := beside("a  b ", "cd", 8); !slices.Equal(got, []string{"a  b", "cd"}) {
		t.Errorf("%q", got)
	}
}
