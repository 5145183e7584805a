package template

import (
	"math"
	"strings"

	"risewright/model"
	"risewright/solver/rules"
	"risewright/view/drawing"
)

// Options are what a template says beside its shape.
type Options struct {
	Format model.Format
	// Stamp says which survey it belongs to, such as "Mill Lane · survey
	// revision 12 · 2 November 2026".
	Stamp   string
	Program string // name and version; may be empty
}

// The words that every page with a check bar carries.
const (
	measureFirst = "MEASURE BOTH BARS BEFORE YOU CUT. If 100 mm or 4 in is off by more than you can cut to, print again at 100%, without fitting to the page."
	measureShort = "MEASURE BOTH BARS BEFORE YOU CUT. If one is off, print again at 100%, not fitted to the page."
	// safety is common practice, no source.
	safety = "At the saw: guard on, the board clamped, eye and ear protection, a dust mask."
)

// The check bars, mm.
const (
	metricBar   = 100.0
	imperialBar = 4 * 25.4
	barsWide    = imperialBar
	barsTall    = 18.0
)

// bars draws the two check bars, one over the other, from x, y up and right.
func bars(l *drawing.List, x, y float64) {
	bar(l, x, y+10, metricBar, 20, 10, "100 mm")
	bar(l, x, y, imperialBar, 16, 4, "4 in")
}

// bar draws a line with ends and parts that are true to the middle of their
// strokes: parts in all, every major one longer.
func bar(l *drawing.List, x, y, length float64, parts, major int, name string) {
	s := drawing.Stroke{Ink: measureInk, Width: drawing.Fine}
	l.Line(drawing.Point{X: x, Y: y}, drawing.Point{X: x + length, Y: y}, s)
	for i := 0; i <= parts; i++ {
		tall := 1.6
		switch {
		case i == 0 || i == parts:
			tall = 6
		case i%major == 0:
			tall = 3.4
		case i%2 == 0:
			tall = 2.4
		}
		at := x + length*float64(i)/float64(parts)
		l.Line(drawing.Point{X: at, Y: y}, drawing.Point{X: at, Y: y + tall}, s)
	}
	l.Text(drawing.Text{At: drawing.Point{X: x + length/2, Y: y + 4.2}, Size: 3.4, Bold: true, Align: drawing.AlignMiddle, String: name})
}

// para is a paragraph of a column.
type para struct {
	text string
	size float64
	bold bool
}

const (
	lead       = 1.28 // distance of baselines as a part of the font size
	paraGap    = 0.35 // between paragraphs, as a part of the font size
	leastScale = 0.62 // the smallest that a column shrinks its lettering to
)

// tallOf returns the height of paragraphs set k times their size in a column.
func tallOf(paras []para, width, k float64) float64 {
	h := 0.0
	for _, p := range paras {
		size := p.size * k
		h += size * (lead*float64(len(drawing.Wrap(p.text, width, size, p.bold, false))) + paraGap)
	}
	return h
}

// column sets paragraphs from y down, all shrunk alike until they are no taller
// than tall; what does not fit even so is left out from the last line on. It
// returns where it ends.
func column(l *drawing.List, x, y, width, tall float64, paras []para) float64 {
	k := 1.0
	for k > leastScale && tallOf(paras, width, k) > tall {
		k *= 0.97
	}
	floor := y - tall
	for _, p := range paras {
		size := p.size * k
		for _, line := range drawing.Wrap(p.text, width, size, p.bold, false) {
			if y-size < floor-0.01 {
				return y
			}
			l.Text(drawing.Text{At: drawing.Point{X: x, Y: y - size*0.9}, Size: size, Bold: p.bold, String: line})
			y -= size * lead
		}
		y -= size * paraGap
	}
	return y
}

// printable puts a mark in place of characters that the font does not have.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r < ' ':
			return ' '
		case drawing.MissingRunes(string(r), false, false) != nil || drawing.MissingRunes(string(r), true, false) != nil:
			return '□'
		}
		return r
	}, s)
}

// said returns the shape with every word that the fonts can draw.
func (s Shape) said() Shape {
	s.ID, s.Title, s.Across, s.Held = printable(s.ID), printable(s.Title), printable(s.Across), printable(s.Held)
	s.Notes = append([]string(nil), s.Notes...)
	for i := range s.Notes {
		s.Notes[i] = printable(s.Notes[i])
	}
	s.Tags = append([]Tag(nil), s.Tags...)
	for i := range s.Tags {
		s.Tags[i].Text = printable(s.Tags[i].Text)
	}
	s.Registers = append([]Register(nil), s.Registers...)
	for i := range s.Registers {
		s.Registers[i].Name = printable(s.Registers[i].Name)
	}
	s.Lines = append([]Line(nil), s.Lines...)
	for i := range s.Lines {
		labels := append([]string(nil), s.Lines[i].Labels...)
		for j := range labels {
			labels[j] = printable(labels[j])
		}
		s.Lines[i].Labels = labels
	}
	return s
}

// about are the paragraphs on what a page belongs to and what to know.
func (s *Shape) about(o Options, head string) []para {
	var out []para
	out = append(out, para{head, 6, true})
	if s.Held != "" {
		out = append(out, para{notReleased + ": " + s.Held, 4, true})
	}
	out = append(out, para{measureFirst, 4, true})
	for _, n := range s.Notes {
		if n == "" {
			continue
		}
		out = append(out, para{model.Sentence(n), 3.4, false})
	}
	out = append(out, para{safety, 3.4, false})
	foot := printable(o.Stamp)
	if o.Program != "" {
		foot = strings.TrimPrefix(foot+" · made by "+printable(o.Program), " · ")
	}
	if foot != "" {
		out = append(out, para{foot, 3, false})
	}
	return append(out, para{rules.Deference, 3, true})
}

// The page of a whole template, mm.
const (
	wholeMargin = 15.0
	leastPage   = 230.0 // so that the bars and what is said beside them fit
	widestWords = 240.0
	betweenCols = 8.0
)

// Whole returns the shape on one page that is as large as it takes, for a
// plotter, a cutting machine or a screen.
func Whole(shape *Shape, o Options) (drawing.Page, error) {
	box, err := shape.check()
	if err != nil {
		return drawing.Page{}, err
	}
	s := shape.said()
	// Lettering may stand outside a narrow shape.
	around := wholeMargin + 12
	p := drawing.Page{Name: s.ID + " whole"}
	p.Width = math.Ceil(math.Max(leastPage, box.width()+2*around))
	words := math.Min(widestWords, p.Width-2*wholeMargin-barsWide-betweenCols)
	paras := s.about(o, s.ID+" · template at full size")
	foot := math.Max(barsTall, tallOf(paras, words, 1))
	bottom := wholeMargin + foot + wholeMargin
	p.Height = math.Ceil(bottom + box.height() + 24 + wholeMargin)

	bars(&p.List, wholeMargin, wholeMargin+foot-barsTall)
	column(&p.List, wholeMargin+barsWide+betweenCols, wholeMargin+foot, words, foot, paras)
	window := rect{drawing.Point{X: wholeMargin, Y: bottom - 2}, drawing.Point{X: p.Width - wholeMargin, Y: p.Height - wholeMargin}}
	shift := drawing.Point{X: p.Width/2 - box.centre().X, Y: bottom + 11 - box.min.Y}
	f := s.figure(&placer{list: &p.List, window: window, room: window}, shift)
	f.lines()
	f.lettering()
	return p, nil
}
