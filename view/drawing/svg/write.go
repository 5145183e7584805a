// Package svg writes one page as an SVG document in millimetres.
//
// Letters are written as outlines, so that every program shows and cuts the
// same shapes whatever fonts it has; each line of lettering carries its text
// as a label.
//
// # What is always true
//
//  1. The same page gives the same bytes.
//  2. One unit of the document is one millimetre of paper.
package svg

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"fmt"
	"image/color"
	"io"
	"math"
	"slices"
	"strconv"

	"risewright/view/drawing"
)

// Write writes p to w in the colours of palette. The title may be empty.
func Write(w io.Writer, p *drawing.Page, palette drawing.Palette, title string) error {
	if !(p.Width > 0 && p.Height > 0 && p.Width < math.MaxFloat64 && p.Height < math.MaxFloat64) {
		return fmt.Errorf("svg: page %q is %g by %g mm; both sides must be above 0", p.Name, p.Width, p.Height)
	}
	if err := p.Check(); err != nil {
		return fmt.Errorf("svg: page %q: %w", p.Name, err)
	}
	s := &sheet{palette: palette, height: p.Height, used: map[letter]bool{}}
	lower := drawing.Lowering{Max: drawing.Point{X: p.Width, Y: p.Height}}
	lower.Run(&p.List, drawing.Identity(), s)

	var head bytes.Buffer
	width, height := number(p.Width), number(p.Height)
	fmt.Fprintf(&head, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="%smm" height="%smm" viewBox="0 0 %s %s">
`, width, height, width, height)
	if title != "" {
		head.WriteString("<title>")
		escape(&head, title)
		head.WriteString("</title>\n")
	}
	s.defs(&head)
	fmt.Fprintf(&head, `<rect width="%s" height="%s"%s/>
<g fill="none" stroke-linecap="butt" stroke-linejoin="miter" stroke-miterlimit="1.643">
`, width, height, paint("fill", palette[drawing.Paper]))
	for _, part := range [][]byte{head.Bytes(), s.body.Bytes(), []byte("</g>\n</svg>\n")} {
		if _, err := w.Write(part); err != nil {
			return fmt.Errorf("svg: %w", err)
		}
	}
	return nil
}

// sheet is a drawing.Sink that collects the body of the document.
type sheet struct {
	palette drawing.Palette
	height  float64
	body    bytes.Buffer
	used    map[letter]bool
}

var _ drawing.PictureSink = (*sheet)(nil)

// Path implements drawing.Sink.
func (s *sheet) Path(pts []drawing.Point, closed bool, fill drawing.Ink, stroke drawing.Stroke) {
	if len(pts) < 2 || (fill == drawing.None && stroke.Ink == drawing.None) {
		return
	}
	s.body.WriteString(`<path d="`)
	for i, p := range pts {
		s.body.WriteByte("ML"[min(i, 1)])
		s.body.WriteString(number(p.X) + " " + number(s.height-p.Y))
	}
	if closed {
		s.body.WriteByte('Z')
	} else {
		fill = drawing.None
	}
	s.body.WriteByte('"')
	s.finish(fill, stroke)
}

// Picture implements drawing.PictureSink: the picture is inside the document.
func (s *sheet) Picture(min, max drawing.Point, p *drawing.Picture) {
	fmt.Fprintf(&s.body, `<image x="%s" y="%s" width="%s" height="%s" preserveAspectRatio="none" xlink:href="data:image/jpeg;base64,%s"/>`+"\n",
		number(min.X), number(s.height-max.Y), number(max.X-min.X), number(max.Y-min.Y), base64.StdEncoding.EncodeToString(p.JPEG))
}

// Arc implements drawing.Sink.
func (s *sheet) Arc(c drawing.Point, r, from, to float64, fill drawing.Ink, stroke drawing.Stroke) {
	if fill == drawing.None && stroke.Ink == drawing.None {
		return
	}
	if math.Abs(to-from) >= 2*math.Pi-1e-9 {
		fmt.Fprintf(&s.body, `<circle cx="%s" cy="%s" r="%s"`, number(c.X), number(s.height-c.Y), number(r))
		s.finish(fill, stroke)
		return
	}
	at := func(a float64) string {
		sin, cos := math.Sincos(a)
		return number(c.X+r*cos) + " " + number(s.height-(c.Y+r*sin))
	}
	large, sweep := 0, 0
	if math.Abs(to-from) > math.Pi {
		large = 1
	}
	if to < from {
		sweep = 1 // clockwise, with y down
	}
	fmt.Fprintf(&s.body, `<path d="M%sA%s %s 0 %d %d %s"`, at(from), number(r), number(r), large, sweep, at(to))
	s.finish(drawing.None, stroke)
}

func (s *sheet) finish(fill drawing.Ink, stroke drawing.Stroke) {
	if fill != drawing.None {
		s.body.WriteString(paint("fill", s.palette[fill]))
	}
	if stroke.Ink != drawing.None {
		s.body.WriteString(paint("stroke", s.palette[stroke.Ink]))
		s.body.WriteString(` stroke-width="` + number(stroke.Width) + `"`)
		for i, d := range stroke.Dash {
			if i == 0 {
				s.body.WriteString(` stroke-dasharray="`)
			} else {
				s.body.WriteByte(' ')
			}
			s.body.WriteString(number(math.Max(0, d)))
		}
		if len(stroke.Dash) > 0 {
			s.body.WriteByte('"')
		}
	}
	s.body.WriteString("/>\n")
}

// letter names a glyph's definition.
type letter struct {
	face  int
	glyph drawing.Glyph
}

func (l letter) id() string { return fmt.Sprintf("f%dg%d", l.face, l.glyph) }

// unitsPerEm is the size letters are defined at: that of the font, so that
// their outlines are whole numbers.
const unitsPerEm = 2048

// haloWidth is how far a halo reaches, in paper millimetres, as on the screen.
const haloWidth = 0.45

// Text implements drawing.Sink.
func (s *sheet) Text(t drawing.Text) {
	k := t.Size / unitsPerEm
	fmt.Fprintf(&s.body, `<g role="img" aria-label="`)
	escape(&s.body, t.String)
	fmt.Fprintf(&s.body, `" transform="translate(%s %s)`, number(t.At.X), number(s.height-t.At.Y))
	if t.Angle != 0 {
		fmt.Fprintf(&s.body, ` rotate(%s)`, number(-t.Angle*180/math.Pi))
	}
	fmt.Fprintf(&s.body, ` scale(%s)">`, strconv.FormatFloat(k, 'g', 7, 64))
	if t.Halo {
		c := s.palette[drawing.Paper]
		// Letters of a fraction are scaled, and their halo with them, so each
		// use says its own width.
		fmt.Fprintf(&s.body, `<g%s%s stroke-linejoin="round">`, paint("fill", c), paint("stroke", c))
		s.letters(t, 2*haloWidth/k)
		s.body.WriteString("</g>")
	}
	fmt.Fprintf(&s.body, `<g%s>`, paint("fill", s.palette[t.Ink]))
	s.letters(t, 0)
	s.body.WriteString("</g></g>\n")
}

func (s *sheet) letters(t drawing.Text, halo float64) {
	face := drawing.FaceFor(t.Bold, t.Mono)
	face.Set(t.String, func(p drawing.Placed) {
		if p.Rune == ' ' {
			return
		}
		l := letter{drawing.FaceIndex(t.Bold, t.Mono), p.Glyph}
		s.used[l] = true
		x, y := number(p.X*unitsPerEm), number(-p.Y*unitsPerEm)
		if p.Scale == 1 {
			fmt.Fprintf(&s.body, `<use xlink:href="#%s" x="%s" y="%s"`, l.id(), x, y)
		} else {
			fmt.Fprintf(&s.body, `<use xlink:href="#%s" transform="translate(%s %s) scale(%s)"`, l.id(), x, y, number(p.Scale))
		}
		if halo > 0 {
			s.body.WriteString(` stroke-width="` + number(halo/p.Scale) + `"`)
		}
		s.body.WriteString("/>")
	})
}

// defs writes the outline of every letter used, in order.
func (s *sheet) defs(b *bytes.Buffer) {
	if len(s.used) == 0 {
		return
	}
	letters := make([]letter, 0, len(s.used))
	for l := range s.used {
		letters = append(letters, l)
	}
	slices.SortFunc(letters, func(a, b letter) int {
		if a.face != b.face {
			return a.face - b.face
		}
		return int(a.glyph) - int(b.glyph)
	})
	b.WriteString("<defs>\n")
	var outline []drawing.Segment
	for _, l := range letters {
		outline = drawing.FaceFor(l.face&1 != 0, l.face&2 != 0).Outline(l.glyph, outline[:0])
		fmt.Fprintf(b, `<path id="%s" d="`, l.id())
		at := func(p drawing.Point) string { return number(p.X*unitsPerEm) + " " + number(-p.Y*unitsPerEm) }
		for i, seg := range outline {
			switch seg.Op {
			case drawing.MoveTo:
				if i > 0 {
					b.WriteByte('Z')
				}
				b.WriteString("M" + at(seg.P[0]))
			case drawing.LineTo:
				b.WriteString("L" + at(seg.P[0]))
			case drawing.QuadTo:
				b.WriteString("Q" + at(seg.P[0]) + " " + at(seg.P[1]))
			}
		}
		if len(outline) > 0 {
			b.WriteByte('Z')
		}
		b.WriteString("\"/>\n")
	}
	b.WriteString("</defs>\n")
}

// paint returns the attributes that give what ("fill" or "stroke") the colour.
func paint(what string, c color.NRGBA) string {
	s := fmt.Sprintf(` %s="#%02x%02x%02x"`, what, c.R, c.G, c.B)
	if c.A != 255 {
		s += fmt.Sprintf(` %s-opacity="%s"`, what, number(float64(c.A)/255))
	}
	return s
}

// number writes v to four decimals at most: a ten-thousandth of a millimetre.
func number(v float64) string {
	v = math.Round(v*1e4) / 1e4
	if v == 0 {
		return "0" // and never -0
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func escape(b *bytes.Buffer, s string) {
	// Writing to a bytes.Buffer cannot fail. Characters that XML does not
	// allow come out as U+FFFD.
	_ = xml.EscapeText(b, []byte(s))
}
