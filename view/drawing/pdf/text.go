package pdf

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf16"

	"risewright/view/drawing"
)

// haloWidth is how far a halo reaches, in paper millimetres, as on the screen.
const haloWidth = 0.45

// Text implements drawing.Sink. Characters that follow each other on one line
// and in one size are written together, so that they are found together.
func (s *sheet) Text(t drawing.Text) {
	face := drawing.FaceFor(t.Bold, t.Mono)
	x, y := t.At.X, s.height-t.At.Y
	if t.Angle != 0 {
		s.f.TransformBegin()
		s.f.TransformRotate(t.Angle*180/math.Pi, x, y)
		defer s.f.TransformEnd()
	}
	if t.Halo {
		s.halo(face, t, x, y)
	}
	if strings.ContainsRune(t.String, '⁄') {
		// A set fraction is three pieces in two sizes, which readers would
		// take for separate words; this tells them the text as it was meant.
		s.f.RawWriteStr("/Span << /ActualText <" + utf16Hex(written(face, t.String)) + "> >> BDC")
		defer s.f.RawWriteStr("EMC")
	}
	c := s.palette[t.Ink]
	s.f.SetTextColor(int(c.R), int(c.G), int(c.B))
	s.opacity(c.A)
	var run []rune
	var first drawing.Placed
	write := func() {
		if len(run) == 0 {
			return
		}
		s.font(t.Bold, t.Mono, t.Size*first.Scale)
		s.f.Text(x+first.X*t.Size, y-first.Y*t.Size, string(run))
		run = run[:0]
	}
	end := 0.0
	face.Set(t.String, func(p drawing.Placed) {
		// A gap, as round a fraction's slash, also begins a new run.
		if len(run) > 0 && (p.Scale != first.Scale || p.Y != first.Y || math.Abs(p.X-end) > 1e-9) {
			write()
		}
		if len(run) == 0 {
			first = p
		}
		run = append(run, p.Rune)
		end = p.X + face.Advance(p.Glyph)*p.Scale
	})
	write()
}

// written returns s with the characters that are really written.
func written(face *drawing.Face, s string) string {
	var b strings.Builder
	face.Set(s, func(p drawing.Placed) {
		b.WriteRune(p.Rune)
	})
	return b.String()
}

// utf16Hex returns s as the inside of a PDF text string in hexadecimal, with
// the mark of its byte order first (ISO 32000-1, 7.9.2.2, from memory).
func utf16Hex(s string) string {
	var b strings.Builder
	b.WriteString("FEFF")
	for _, u := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&b, "%04X", u)
	}
	return b.String()
}

// halo draws the letters' outlines with a broad paper-coloured pen. Outlines
// and not text, so that searching and copying meets every letter once.
func (s *sheet) halo(face *drawing.Face, t drawing.Text, x, y float64) {
	s.f.SetLineJoinStyle("round")
	var outline []drawing.Segment
	s.paint(drawing.Paper, drawing.Stroke{Ink: drawing.Paper, Width: 2 * haloWidth}, func() {
		face.Set(t.String, func(p drawing.Placed) {
			outline = face.Outline(p.Glyph, outline[:0])
			k := t.Size * p.Scale
			ox, oy := x+p.X*t.Size, y-p.Y*t.Size
			var cur drawing.Point
			at := func(q drawing.Point) (float64, float64) { return ox + q.X*k, oy - q.Y*k }
			for i, seg := range outline {
				end := seg.P[0]
				switch seg.Op {
				case drawing.MoveTo:
					if i > 0 {
						s.f.ClosePath()
					}
					px, py := at(end)
					s.f.MoveTo(px, py)
				case drawing.LineTo:
					px, py := at(end)
					s.f.LineTo(px, py)
				case drawing.QuadTo:
					// The cubic that is the same curve.
					end = seg.P[1]
					ax, ay := at(cur.Add(seg.P[0].Sub(cur).Mul(2.0 / 3)))
					bx, by := at(end.Add(seg.P[0].Sub(end).Mul(2.0 / 3)))
					ex, ey := at(end)
					s.f.CurveBezierCubicTo(ax, ay, bx, by, ex, ey)
				}
				cur = end
			}
			if len(outline) > 0 {
				s.f.ClosePath()
			}
		})
	})
	s.f.SetLineJoinStyle("miter")
}
