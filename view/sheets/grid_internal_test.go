package sheets

import (
	"slices"
	"strings"
	"testing"

	"risewright/model"
	"risewright/view/drawing"
)

// TestColumnsHoldTheirWords: no title is broken within a word, nor what a column
// says it holds, and the columns share the page out without rest.
func TestColumnsHoldTheirWords(t *testing.T) {
	b := newBook("Test", Meta{}, model.Format{})
	b.page()
	long := "Sammelleitungsverteiler"
	g := b.grid(3.3, column{title: "#", width: 1}, column{title: "Trittstufenvorderkante", width: 1, bold: true}, column{title: "what", width: 2, holds: []string{"an " + long}}, column{title: "why", width: 60})
	for i, lines := range g.wraps() {
		for _, line := range lines {
			for _, word := range strings.Fields(line) {
				if !slices.Contains(strings.Fields(g.cols[i].title), word) {
					t.Errorf("title %q is broken: %q", g.cols[i].title, lines)
				}
			}
		}
	}
	if w := drawing.TextWidth(long, 3.3, false, false); g.width(2) < w {
		t.Errorf("the column is %.1f mm wide, its word %.1f", g.width(2), w)
	}
	if end := g.x[len(g.x)-1]; end < b.right()-0.01 || end > b.right()+0.01 {
		t.Errorf("the columns end at %.2f, the page at %.2f", end, b.right())
	}
	// A word that no column was told of is set smaller, not broken.
	g = b.grid(3.3, column{title: "a", width: 34}, column{title: "b", width: 154})
	before := b.list().Len()
	g.row(long, "")
	var words []string
	for _, it := range b.list().Items()[before:] {
		if it.Kind == drawing.KindText {
			words = append(words, it.Text.String)
		}
	}
	if len(words) != 1 || !strings.Contains(words[0], long) {
		t.Errorf("the word came out as %q", words)
	}
}

// TestTogether: a block that fits a page is not split, one that fits none runs on
// from where it began.
func TestTogether(t *testing.T) {
	lines := func(n int) (*book, int) {
		b := newBook("Test", Meta{}, model.Format{})
		b.page()
		b.y = b.floor() - 30
		runs := 0
		b.together(func() {
			runs++
			for range n {
				b.room(5)
				b.text(b.left(), b.y+4, 0, "line", letter{size: 3})
				b.y += 5
			}
		})
		return b, runs
	}
	count := func(b *book, page int) int {
		n := 0
		for _, it := range b.pages[page].Items() {
			if it.Kind == drawing.KindText && it.Text.String == "line" {
				n++
			}
		}
		return n
	}
	for _, row := range []struct{ lines, pages, first, runs int }{{6, 1, 6, 1}, {7, 2, 0, 2}, {20, 2, 0, 2}, {80, 3, 6, 3}} {
		b, runs := lines(row.lines)
		if len(b.pages) != row.pages || count(b, 0) != row.first || runs != row.runs {
			t.Errorf("%d lines: %d pages with %d on the first in %d runs, want %d, %d, %d", row.lines, len(b.pages), count(b, 0), runs, row.pages, row.first, row.runs)
		}
		all := 0
		for i := range b.pages {
			all += count(b, i)
		}
		if all != row.lines {
			t.Errorf("%d lines were written as %d", row.lines, all)
		}
	}
}
