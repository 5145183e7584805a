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
	// groups head columns that belong together, in order; they cover all
	// columns, or there are none.
	groups []group
}

// group is the heading over some columns; an empty text heads none.
type group struct {
	text    string
	columns int
}

// gap is the blanks between columns.
const gap = 2

func (t *table) add(cells ...string) { t.rows = append(t.rows, cells) }

// lines returns the table, each line indented by two blanks. Blanks at the end
// of a line are dropped.
func (t *table) lines() []string {
	var widths []int
	for _, row := range t.rows {
		for c, cell := range row {
			if c == len(widths) {
				widths = append(widths, 0)
			}
			widths[c] = max(widths[c], utf8.RuneCountInString(cell))
		}
	}
	var out []string
	if len(t.groups) > 0 {
		out = append(out, t.groupLine(widths))
	}
	for _, row := range t.rows {
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
		out = append(out, strings.TrimRight(b.String(), " "))
	}
	return out
}

// groupLine sets each group's text in the middle above its columns, with a rule
// to both sides.
func (t *table) groupLine(widths []int) string {
	var b strings.Builder
	b.WriteString(" ")
	c := 0
	for _, g := range t.groups {
		room := gap * (g.columns - 1)
		for range g.columns {
			room += widths[c]
			c++
		}
		fill, text := " ", ""
		if g.text != "" {
			fill, text = "─", " "+g.text+" "
		}
		spare := max(0, room-utf8.RuneCountInString(text))
		b.WriteString(strings.Repeat(" ", gap-1) + strings.Repeat(fill, spare/2) + text + strings.Repeat(fill, spare-spare/2) + strings.Repeat(" ", 1))
	}
	return strings.TrimRight(b.String(), " ")
}

// wrap breaks s at blanks into lines of at most width characters. A word that is
// longer is broken.
func wrap(s string, width int) []string {
	var out []string
	line, n := "", 0
	for _, word := range words(s) {
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

// words splits s at blanks, but not between a whole number and its fraction,
// since 11 at the end of a line and 5/16 on the next would be read as 11, nor
// before a per cent sign.
func words(s string) []string {
	var out []string
	for _, w := range strings.Fields(s) {
		if n := len(out) - 1; n >= 0 && figure(out[n][len(out[n])-1]) && (strings.HasPrefix(w, "%") || strings.Contains(w, "/") && figure(w[0])) {
			out[n] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

func figure(c byte) bool { return '0' <= c && c <= '9' }

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

// beside sets b after a, or below it where there is no room. Blanks inside a
// stay.
func beside(a, b string, width int) []string {
	if utf8.RuneCountInString(a)+gap+utf8.RuneCountInString(b) <= width {
		return []string{a + strings.Repeat(" ", gap) + b}
	}
	return append([]string{strings.TrimRight(a, " ")}, wrap(b, width)...)
}
