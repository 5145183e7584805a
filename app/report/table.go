package report

import (
	"strings"
	"unicode/utf8"
)

// Width is the widest line of the text, in characters.
const Width = 100

// table is rows of cells, each column as wide as its widest cell. Columns are
// set to the right, but for those named in left.
type table struct {
	rows [][]string
	left map[int]bool
	gap  int // blanks between columns; 0 means 2
}

func (t *table) add(cells ...string) { t.rows = append(t.rows, cells) }

// lines returns the table, each line indented by two blanks. Blanks at the end
// of a line are dropped.
func (t *table) lines() []string {
	gap := t.gap
	if gap == 0 {
		gap = 2
	}
	var widths []int
	for _, row := range t.rows {
		for c, cell := range row {
			if c == len(widths) {
				widths = append(widths, 0)
			}
			widths[c] = max(widths[c], utf8.RuneCountInString(cell))
		}
	}
	out := make([]string, len(t.rows))
	for i, row := range t.rows {
		var b strings.Builder
		b.WriteString("  ")
		for c, cell := range row {
			if c > 0 {
				b.WriteString(strings.Repeat(" ", gap))
			}
			pad := strings.Repeat(" ", widths[c]-utf8.RuneCountInString(cell))
			if t.left[c] {
				b.WriteString(cell + pad)
			} else {
				b.WriteString(pad + cell)
			}
		}
		out[i] = strings.TrimRight(b.String(), " ")
	}
	return out
}

// wrap breaks s at blanks into lines of at most width characters. A word that is
// longer is broken.
func wrap(s string, width int) []string {
	var out []string
	line, n := "", 0
	for _, word := range strings.Fields(s) {
		for {
			w := utf8.RuneCountInString(word)
			if n > 0 && n+1+w <= width {
				line += " " + word
				n += 1 + w
				break
			}
			if n > 0 {
				out = append(out, line)
				line, n = "", 0
			}
			if w <= width {
				line, n = word, w
				break
			}
			r := []rune(word)
			out = append(out, string(r[:width]))
			word = string(r[width:])
		}
	}
	if n > 0 {
		out = append(out, line)
	}
	return out
}

// join sets parts one after the other with a dot between, and breaks lines only
// between parts unless one is too long for a line.
func join(parts []string, width int) []string {
	const dot = " · "
	var out []string
	line := ""
	for _, p := range parts {
		if p == "" {
			continue
		}
		switch {
		case line == "":
			line = p
		case utf8.RuneCountInString(line)+len([]rune(dot))+utf8.RuneCountInString(p) <= width:
			line += dot + p
		default:
			out = append(out, wrap(line, width)...)
			line = p
		}
	}
	return append(out, wrap(line, width)...)
}
