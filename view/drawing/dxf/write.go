// Package dxf writes one page as an ASCII drawing exchange file of version
// AC1015, which says that its unit is the millimetre. Lines stay lines and
// arcs stay arcs, so that a cutting machine can follow them.
//
// It refuses to fill and to hatch: a machine has no ink. Filled heads of
// arrows are the one exception. It refuses to write lettering as outlines, so
// that a machine can be told to leave it out.
//
// # What is always true
//
//  1. The same page gives the same bytes.
//  2. One unit of the file is one millimetre of paper, y up, to six decimals.
//  3. What is drawn lies on the layer of its ink: see [LayerOf].
//  4. Nothing in a text can end the line it stands on or be taken for a code.
package dxf

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"

	"risewright/view/drawing"
)

// Layer is a layer of the file. Its name is the string.
type Layer string

// The layers, in the order of the file.
const (
	Cut       Layer = "CUT"       // outlines to saw to
	Mark      Layer = "MARK"      // what to mark and not to saw
	Lettering Layer = "TEXT"      // all lettering
	Dimension Layer = "DIMENSION" // dimensions and check bars
)

// LayerOf returns the layer of lines drawn in an ink: main outlines are to be
// cut, secondary ones are dimensions, everything else is a mark. Lettering
// always lies on its own layer.
func LayerOf(i drawing.Ink) Layer {
	switch i {
	case drawing.Line:
		return Cut
	case drawing.Soft:
		return Dimension
	}
	return Mark
}

// layers are all layers with their colours by the format's own numbers: 7 is
// black or white, 1 red, 3 green, 5 blue (from memory).
var layers = [...]struct {
	name   Layer
	colour int
}{{Cut, 7}, {Mark, 1}, {Lettering, 5}, {Dimension, 3}}

// longest is the longest side of a page, mm: a kilometre. Coordinates of seven
// figures before the point and six after it are exact in float64.
const longest = 1e6

// Write writes p to w. Nothing is written unless the whole page can be.
func Write(w io.Writer, p *drawing.Page) error {
	if !(p.Width > 0 && p.Height > 0 && p.Width <= longest && p.Height <= longest) {
		return fmt.Errorf("dxf: page %q is %g by %g mm; both sides must be above 0 and at most %g", p.Name, p.Width, p.Height, longest)
	}
	if err := p.Check(); err != nil {
		return fmt.Errorf("dxf: page %q: %w", p.Name, err)
	}
	s := &sheet{next: firstFree}
	var lower drawing.Lowering // without a limit, so that there are no hatches
	lower.Run(&p.List, drawing.Identity(), s)

	// The head needs what only writing the body finds out: the dashes that are
	// used, and the first handle that is free.
	var f file
	f.header(p, s.next)
	f.tables(s.dashes)
	f.blocks()
	f.section("ENTITIES")
	f.Write(s.body.Bytes())
	f.pair(0, "ENDSEC")
	f.objects()
	f.pair(0, "EOF")
	if _, err := w.Write(f.Bytes()); err != nil {
		return fmt.Errorf("dxf: %w", err)
	}
	return nil
}

// file is a buffer of group codes and values.
type file struct{ bytes.Buffer }

// pair writes one code and its value, which has been made safe.
func (f *file) pair(code int, value string) {
	fmt.Fprintf(f, "%3d\n%s\n", code, value)
}

func (f *file) count(code, value int)        { f.pair(code, strconv.Itoa(value)) }
func (f *file) handle(code, value int)       { f.pair(code, fmt.Sprintf("%X", value)) }
func (f *file) number(code int, v float64)   { f.pair(code, number(v)) }
func (f *file) section(name string)          { f.pair(0, "SECTION"); f.pair(2, name) }
func (f *file) point(code int, x, y float64) { f.number(code, x); f.number(code+10, y) }

// number writes v to six decimals, always with a point, as the format's reals
// have it, and never as minus zero.
func number(v float64) string {
	s := strconv.FormatFloat(v, 'f', 6, 64)
	for s[len(s)-1] == '0' && s[len(s)-2] != '.' {
		s = s[:len(s)-1]
	}
	if s == "-0.0" {
		return "0.0"
	}
	return s
}

// sheet is a drawing.Sink that writes entities of model space.
type sheet struct {
	body   file
	next   int // the next free handle
	dashes [][]float64
}

var _ drawing.Sink = (*sheet)(nil)

// entity begins an entity on a layer; stroke is nil for what has no line.
func (s *sheet) entity(kind string, on Layer, stroke *drawing.Stroke) {
	s.body.pair(0, kind)
	s.body.handle(5, s.next)
	s.next++
	s.body.handle(330, modelSpace)
	s.body.pair(100, "AcDbEntity")
	s.body.pair(8, string(on))
	if stroke == nil {
		return
	}
	if n := s.dash(stroke.Dash); n >= 0 {
		s.body.pair(6, dashName(n))
	}
	s.body.count(370, weight(stroke.Width))
}

// dash returns the number of a pattern of dashes, or -1 for an unbroken line.
func (s *sheet) dash(pattern []float64) int {
	sum := 0.0
	for _, d := range pattern {
		if d < 0 {
			return -1
		}
		sum += d
	}
	if sum < leastDash {
		return -1
	}
next:
	for n, known := range s.dashes {
		if len(known) != len(pattern) {
			continue
		}
		for i := range known {
			if known[i] != pattern[i] {
				continue next
			}
		}
		return n
	}
	if firstDash+len(s.dashes) == firstFree {
		return -1
	}
	s.dashes = append(s.dashes, append([]float64(nil), pattern...))
	return len(s.dashes) - 1
}

// leastDash is the shortest pattern of dashes, mm, that is drawn as such: the
// same as the PDF writer's.
const leastDash = 0.01

func dashName(n int) string { return "DASH" + strconv.Itoa(n+1) }

// weights are the line widths the format knows, in hundredths of a millimetre
// (from memory; ezdxf's audit refuses others).
var weights = [...]int{5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211}

// weight returns the known line width nearest to width mm.
func weight(width float64) int {
	best := weights[0]
	for _, w := range weights {
		if math.Abs(float64(w)-100*width) < math.Abs(float64(best)-100*width) {
			best = w
		}
	}
	return best
}

// Path implements drawing.Sink.
func (s *sheet) Path(pts []drawing.Point, closed bool, fill drawing.Ink, stroke drawing.Stroke) {
	if stroke.Ink == drawing.None {
		s.solid(pts, closed, fill)
		return
	}
	if len(pts) < 2 || stroke.Ink == drawing.Paper {
		return
	}
	on := LayerOf(stroke.Ink)
	if len(pts) == 2 {
		s.entity("LINE", on, &stroke)
		s.body.pair(100, "AcDbLine")
		s.place(10, pts[0])
		s.place(11, pts[1])
		return
	}
	s.entity("LWPOLYLINE", on, &stroke)
	s.body.pair(100, "AcDbPolyline")
	s.body.count(90, len(pts))
	flag := 0
	if closed {
		flag = 1
	}
	s.body.count(70, flag)
	for _, p := range pts {
		s.body.point(10, p.X, p.Y)
	}
}

// solid writes a filled triangle, such as the head of an arrow. Other fills
// are left out.
func (s *sheet) solid(pts []drawing.Point, closed bool, fill drawing.Ink) {
	if len(pts) != 3 || !closed || fill == drawing.None || fill == drawing.Paper {
		return
	}
	s.entity("SOLID", LayerOf(fill), nil)
	s.body.pair(100, "AcDbTrace")
	for i, p := range [4]drawing.Point{pts[0], pts[1], pts[2], pts[2]} {
		s.place(10+i, p)
	}
}

// place writes a point in space, in the plane of the paper.
func (s *sheet) place(code int, p drawing.Point) {
	s.body.point(code, p.X, p.Y)
	s.body.number(code+20, 0)
}

// wholeTurn is how near to a whole turn, in radians, an arc is a circle: far
// above the rounding of float64 and far below what six decimals can show.
const wholeTurn = 1e-9

// Arc implements drawing.Sink. Arcs of the format always run anticlockwise.
func (s *sheet) Arc(c drawing.Point, r, from, to float64, _ drawing.Ink, stroke drawing.Stroke) {
	if stroke.Ink == drawing.None || stroke.Ink == drawing.Paper || !(r > 0) {
		return
	}
	whole := math.Abs(to-from) >= 2*math.Pi-wholeTurn
	kind := "ARC"
	if whole {
		kind = "CIRCLE"
	}
	s.entity(kind, LayerOf(stroke.Ink), &stroke)
	s.body.pair(100, "AcDbCircle")
	s.place(10, c)
	s.body.number(40, r)
	if whole {
		return
	}
	if to < from {
		from, to = to, from
	}
	s.body.pair(100, "AcDbArc")
	s.body.number(50, turn(from))
	s.body.number(51, turn(to))
}

// turn returns an angle in degrees from 0 up to 360.
func turn(a float64) float64 {
	d := math.Mod(a*180/math.Pi, 360)
	if d < 0 {
		d += 360
	}
	return d
}

// Text implements drawing.Sink. The height of the format's lettering is that
// of its capitals.
func (s *sheet) Text(t drawing.Text) {
	if t.Ink == drawing.Paper {
		return
	}
	s.entity("TEXT", Lettering, nil)
	s.body.pair(100, "AcDbText")
	s.place(10, t.At)
	s.body.number(40, drawing.CapHeight(t.Size))
	s.body.pair(1, text(t.String))
	if t.Angle != 0 {
		s.body.number(50, turn(t.Angle))
	}
	s.body.pair(7, styleOf(t))
	s.body.pair(100, "AcDbText")
}
