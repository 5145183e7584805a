package sheets

import (
	"slices"
	"strings"

	"risewright/model"
	"risewright/view/drawing"
	"risewright/view/words"
)

// column is a column of a grid: its heading, and its width as a part of all
// widths together.
type column struct {
	title string
	width float64
	align drawing.Align
	bold  bool
	// holds are texts of its cells whose words it must be wide enough for.
	holds []string
}

// cell is what stands in a column. The zero bold follows the column.
type cell struct {
	s    string
	bold bool
}

// grid is a table of rows whose cells are wrapped, with its head again on every
// page it reaches.
type grid struct {
	b    *book
	cols []column
	size float64
	// padding stands between the columns.
	padding float64
	x       []float64 // left edges, and the right edge of the last
}

// grid returns a table across the page, with its head drawn.
func (b *book) grid(size float64, cols ...column) *grid {
	g := &grid{b: b, cols: cols, size: size, padding: 2.6}
	x := b.left()
	for _, w := range g.widths() {
		g.x = append(g.x, x)
		x += w
	}
	g.x = append(g.x, x)
	b.room(g.headTall() + 2*size*leading)
	g.head()
	return g
}

// widths shares the page out among the columns. None gets less than the longest
// word of its title and of what it holds, which some languages make long: a word
// in two is misread.
func (g *grid) widths() []float64 {
	const slack = 0.05
	least, out := make([]float64, len(g.cols)), make([]float64, len(g.cols))
	for i, c := range g.cols {
		for _, word := range strings.Fields(words.Say(c.title)) {
			least[i] = max(least[i], drawing.TextWidth(words.Done(word), headSize, true, false)+g.padding+slack)
		}
		for _, s := range c.holds {
			for _, word := range strings.Fields(words.Say(printable(s))) {
				least[i] = max(least[i], drawing.TextWidth(words.Done(word), g.size, c.bold, false)+g.padding+slack)
			}
		}
	}
	held := make([]bool, len(g.cols))
	for {
		parts, room := 0.0, g.b.inner()
		for i, c := range g.cols {
			if held[i] {
				room -= least[i]
			} else {
				parts += c.width
			}
		}
		again := false
		for i, c := range g.cols {
			switch {
			case held[i]:
				out[i] = least[i]
			case room > 0 && c.width/parts*room >= least[i]:
				out[i] = c.width / parts * room
			default:
				held[i], again = true, true
			}
		}
		if !again {
			return out
		}
		if !slices.Contains(held, false) { // no page is wide enough: as asked
			total := 0.0
			for _, c := range g.cols {
				total += c.width
			}
			for i, c := range g.cols {
				out[i] = c.width / total * g.b.inner()
			}
			return out
		}
	}
}

const headSize = 2.8

func (g *grid) wraps() [][]string {
	out := make([][]string, len(g.cols))
	for i, c := range g.cols {
		out[i] = wrap(c.title, g.width(i), letter{size: headSize, bold: true})
	}
	return out
}

func (g *grid) width(i int) float64 { return g.x[i+1] - g.x[i] - g.padding }

func tallest(cells [][]string) int {
	n := 1
	for _, c := range cells {
		n = max(n, len(c))
	}
	return n
}

func (g *grid) headTall() float64 { return float64(tallest(g.wraps()))*headSize*leading + 1.6 }

func (g *grid) head() {
	cells := g.wraps()
	tall := float64(tallest(cells)) * headSize * leading
	for i, c := range cells {
		y := g.b.y + tall - float64(len(c))*headSize*leading
		g.set(i, y, c, letter{size: headSize, bold: true})
	}
	g.b.y += tall + 0.8
	g.b.line(g.b.left(), g.b.y, g.b.right(), g.b.y, drawing.Thin)
	g.b.y += 0.8
}

// set writes the lines of column i from y down.
func (g *grid) set(i int, y float64, lines []string, t letter) {
	x := g.x[i]
	t.align = g.cols[i].align
	switch t.align {
	case drawing.AlignEnd:
		x = g.x[i+1] - g.padding
	case drawing.AlignMiddle:
		x = (g.x[i] + g.x[i+1] - g.padding) / 2
	}
	for _, s := range lines {
		g.b.text(x, y+t.size*0.9, g.width(i)+g.padding/2, s, t)
		y += t.size * leading
	}
}

// row writes one row of texts.
func (g *grid) row(texts ...string) {
	cells := make([]cell, len(texts))
	for i, s := range texts {
		cells[i] = cell{s: s}
	}
	g.cells(cells...)
}

// cells writes one row and a faint line below it. A row is never split, unless
// it is taller than a page.
func (g *grid) cells(cells ...cell) {
	wrapped, looks := make([][]string, len(cells)), make([]letter, len(cells))
	for i, c := range cells {
		t := letter{size: g.size, bold: c.bold || g.cols[i].bold}
		for _, word := range strings.Fields(words.Say(printable(c.s))) { // smaller before a word is broken
			t.size = drawing.FitSize(words.Done(word), g.width(i), t.size, least, t.bold, false)
		}
		wrapped[i], looks[i] = wrap(c.s, g.width(i), t), t
		if g.cols[i].align == drawing.AlignEnd && len(wrapped[i]) > 1 && !strings.Contains(c.s, " ") && strings.ContainsAny(c.s, "0123456789") {
			wrapped[i] = []string{printable(c.s)} // a figure is never broken; set makes it smaller
		}
	}
	const most = 40 // lines of a row: half a page
	tall := g.size * leading
	for i := range wrapped {
		if len(wrapped[i]) > most {
			wrapped[i] = append(wrapped[i][:most-1], "…")
		}
		tall = max(tall, float64(len(wrapped[i]))*looks[i].size*leading)
	}
	tall += 1.2
	if g.b.room(tall) {
		g.head()
	}
	for i, lines := range wrapped {
		g.set(i, g.b.y+0.2, lines, looks[i])
	}
	g.b.y += tall
	g.b.faint(g.b.left(), g.b.y-0.5, g.b.right(), g.b.y-0.5)
}

// framed sets text in a heavy box across the page with a title in a black bar,
// for what must not be overlooked.
func (b *book) framed(title string, texts ...string) {
	t := letter{size: 3.6}
	bar := drawing.TextWidth(title, 4, true, false) + 5
	var lines []string
	for _, s := range texts {
		lines = append(lines, wrap(s, b.inner()-bar-5, t)...)
	}
	// A text longer than a page cannot be kept in one box.
	const most = 40
	for len(lines) > most {
		b.box(title, bar, lines[:most], t)
		lines = lines[most:]
	}
	b.box(title, bar, lines, t)
}

func (b *book) box(title string, bar float64, lines []string, t letter) {
	tall := max(7.5, float64(len(lines))*t.size*leading+3)
	b.room(tall + 1.5)
	b.rect(b.left(), b.y, b.inner(), tall, drawing.Fill{}, drawing.Heavy)
	b.rect(b.left(), b.y, bar, tall, drawing.Fill{Ink: drawing.Line}, 0)
	b.text(b.left()+bar/2, b.y+5.1, 0, title, letter{size: 4, bold: true, align: drawing.AlignMiddle, ink: drawing.Paper})
	b.lines(b.left()+bar+2.5, b.y+1.5, lines, t)
	b.y += tall + 1.5
}

// missing is a page's word for what cannot be said yet, and what would help.
func (b *book) missing(what, do string) { b.framed("MISSING", model.Sentence(what), remedy(do)) }
