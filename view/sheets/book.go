package sheets

import (
	"fmt"
	"strings"

	"risewright/model"
	"risewright/solver/rules"
	"risewright/view/drawing"
)

// The parts of a page, in mm.
const (
	margin   = 11.0 // most printers leave 5 mm blank
	headTall = 13.5
	footTall = 9.5
	gap      = 3.5 // between blocks
)

// book is a document being laid out from the top of its first page down.
type book struct {
	meta   Meta
	f      model.Format
	title  string
	pages  []drawing.Page
	width  float64 // of the paper
	height float64
	y      float64 // from the top of the page to the next block
}

func newBook(title string, m Meta, f model.Format) *book {
	b := &book{meta: m, f: f, title: title}
	b.width, b.height = m.Paper.Millimetres()
	return b
}

// left, inner and floor are the edges of what may be written on.
func (b *book) left() float64  { return margin }
func (b *book) right() float64 { return b.width - margin }
func (b *book) inner() float64 { return b.width - 2*margin }
func (b *book) floor() float64 { return b.height - margin - footTall }

func (b *book) list() *drawing.List { return &b.pages[len(b.pages)-1].List }

// page begins a page with its head.
func (b *book) page() {
	b.pages = append(b.pages, drawing.Page{Width: b.width, Height: b.height})
	b.text(b.left(), margin+6, b.inner()*0.5, b.title, letter{size: 7.6, bold: true})
	b.text(b.right(), margin+3.2, b.inner()*0.48, printable(b.meta.Stamp()), letter{size: 3.4, align: drawing.AlignEnd})
	b.text(b.right(), margin+7.6, b.inner()*0.48, "steps from the bottom; left and right as walking up",
		letter{size: 3, align: drawing.AlignEnd, ink: drawing.LetterSoft})
	b.line(b.left(), margin+9.4, b.right(), margin+9.4, drawing.Medium)
	b.y = margin + headTall
}

// room makes sure that tall mm are free, on a new page if need be. It reports
// whether it began one.
func (b *book) room(tall float64) bool {
	if len(b.pages) > 0 && b.y+tall <= b.floor() {
		return false
	}
	b.page()
	return true
}

// finish writes the foot of the first count pages and returns them all.
func (b *book) finish(count int) []drawing.Page {
	n := len(b.pages)
	for i := range count {
		b.pages[i].Name = fmt.Sprintf("%s, page %d", b.title, i+1)
		b.foot(&b.pages[i].List, i+1, n)
	}
	return b.pages
}

func (b *book) foot(l *drawing.List, page, of int) {
	at := func(x, y float64) drawing.Point { return drawing.Point{X: x, Y: b.height - y} }
	base := b.height - margin
	number := fmt.Sprintf("page %d of %d", page, of)
	l.Line(at(b.left(), base-6.6), at(b.right(), base-6.6), drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin})
	l.Text(drawing.Text{At: at(b.left(), base-2.6), Size: 3.2, Bold: true, String: rules.Deference})
	l.Text(drawing.Text{At: at(b.right(), base-2.6), Size: 3.4, Bold: true, Align: drawing.AlignEnd, String: number})
	const apart = 4.0
	words, from, below := printable(b.meta.Stamp()), b.left()+drawing.TextWidth(rules.Deference, 3.2, true, false)+apart, base-2.6
	room := b.right() - apart - drawing.TextWidth(number, 3.4, true, false) - from
	if drawing.TextWidth(words, least, false, false) > room { // a line of its own
		from, room, below = b.left(), b.inner(), base+0.8
	}
	// The program is named where there is room for all of its name.
	if p := words + " · made by " + printable(b.meta.Program); b.meta.Program != "" && drawing.TextWidth(p, least, false, false) <= room {
		words = p
	}
	size := drawing.FitSize(words, room, 2.8, least, false, false)
	l.Text(drawing.Text{At: at(from, below), Size: size, Ink: drawing.LetterSoft, String: drawing.Shorten(words, room, size, false, false)})
}

// letter is how a text is set. The zero ink is Letter.
type letter struct {
	size  float64
	bold  bool
	align drawing.Align
	ink   drawing.Ink
	angle float64
}

// least is the smallest lettering on the sheets: 6.5 points.
const least = 2.3

func (b *book) at(x, y float64) drawing.Point { return drawing.Point{X: x, Y: b.height - y} }

// text writes s with its baseline y below the top of the page, smaller if it
// would be wider than width; 0 means any width.
func (b *book) text(x, y, width float64, s string, t letter) {
	if width > 0 {
		t.size = drawing.FitSize(s, width, t.size, least, t.bold, false)
		s = drawing.Shorten(s, width, t.size, t.bold, false)
	}
	b.list().Text(drawing.Text{At: b.at(x, y), Size: t.size, Bold: t.bold, Align: t.align, Ink: t.ink, Angle: t.angle, String: s})
}

// label writes s like text, on two lines about that baseline where one is too
// narrow for it.
func (b *book) label(x, y, width float64, s string, t letter) {
	const small = 2.7 // from here on two lines read better than one
	if drawing.TextWidth(s, min(small, t.size), t.bold, false) <= width {
		b.text(x, y, width, s, t)
		return
	}
	t.size = min(small, t.size)
	lines := wrap(s, width, t)
	if len(lines) != 2 {
		t.size = least
		lines = wrap(s, width, t)
	}
	if len(lines) != 2 {
		b.text(x, y, width, s, t)
		return
	}
	b.text(x, y-0.62*t.size, 0, lines[0], t)
	b.text(x, y+0.62*t.size, 0, lines[1], t)
}

func (b *book) line(x0, y0, x1, y1, width float64) {
	b.list().Line(b.at(x0, y0), b.at(x1, y1), drawing.Stroke{Ink: drawing.Line, Width: width})
}

func (b *book) faint(x0, y0, x1, y1 float64) {
	b.list().Line(b.at(x0, y0), b.at(x1, y1), drawing.Stroke{Ink: drawing.Faint, Width: drawing.Thin})
}

// rect outlines and fills the box with its top left corner at x, y.
func (b *book) rect(x, y, w, h float64, f drawing.Fill, width float64) {
	s := drawing.Stroke{Ink: drawing.Line, Width: width}
	if width == 0 {
		s = drawing.Stroke{}
	}
	b.list().Polygon([]drawing.Point{b.at(x, y+h), b.at(x+w, y+h), b.at(x+w, y), b.at(x, y)}, f, s)
}

// leading is the distance of baselines as a part of the font size.
const leading = 1.25

// lines sets wrapped lines from the top at y down and returns where they end.
func (b *book) lines(x, y float64, lines []string, t letter) float64 {
	for _, s := range lines {
		b.text(x, y+t.size*0.9, 0, s, t)
		y += t.size * leading
	}
	return y
}

// wrap breaks s for lettering t.
func wrap(s string, width float64, t letter) []string {
	return drawing.Wrap(printable(s), width, t.size, t.bold, false)
}

// heading begins a section, together with tall mm of what follows it.
func (b *book) heading(s string, tall float64) {
	b.room(9 + tall)
	b.text(b.left(), b.y+4.8, b.inner(), s, letter{size: 5, bold: true})
	b.line(b.left(), b.y+6.4, b.right(), b.y+6.4, drawing.Thin)
	b.y += 8
}

// unsplit is how many lines of a paragraph stay together.
const unsplit = 6

// paragraph sets text across the page, over as many pages as it takes. A short
// one is never split.
func (b *book) paragraph(s string, t letter) {
	lines := wrap(s, b.inner(), t)
	if len(lines) <= unsplit {
		b.room(float64(len(lines)) * t.size * leading)
	}
	for _, line := range lines {
		b.room(t.size * leading)
		b.y = b.lines(b.left(), b.y, []string{line}, t)
	}
}

// together writes a block that should not be split: where it would run over the
// end of this page it is written from the top of the next, unless it takes more
// than a page anyway. It may write twice, so write must depend on nothing but
// the book.
func (b *book) together(write func()) {
	if len(b.pages) == 0 {
		b.page()
	}
	pages, items, y := len(b.pages), b.list().Len(), b.y
	undo := func() {
		b.pages = b.pages[:pages]
		b.list().Truncate(items)
		b.y = y
	}
	write()
	if len(b.pages) == pages || y <= margin+headTall {
		return
	}
	undo()
	b.page()
	write()
	if len(b.pages) > pages+1 {
		undo()
		write()
	}
}

// printable puts a mark in place of characters that the font does not have, so
// that nothing a user typed is lost without trace.
func printable(s string) string {
	if drawing.MissingRunes(s, false, false) == nil && drawing.MissingRunes(s, true, false) == nil {
		return s
	}
	var out strings.Builder
	for _, r := range s {
		switch {
		case r == '\n' || r == '\t':
			out.WriteByte(' ')
		case drawing.MissingRunes(string(r), false, false) != nil || drawing.MissingRunes(string(r), true, false) != nil:
			out.WriteRune('□')
		default:
			out.WriteRune(r)
		}
	}
	return out.String()
}
