package template

import (
	"fmt"
	"math"

	"risewright/view/drawing"
)

// Shape is a piece at full size, seen with its show face up: mm, x right, y up.
type Shape struct {
	ID    string // names its pages and files, such as "T07"
	Title string // what it is, such as "tread of step 7, 19 mm thick"
	// Across says which way it lies, from left to right, such as
	// "← LEFT · FACE UP · RIGHT →".
	Across string
	// Lines are in painting order. The first closed Cut line is the outline
	// that lettering is kept inside.
	Lines     []Line
	Tags      []Tag
	Registers []Register
	// Grain says that the grain runs along x.
	Grain bool
	// Held says why it must not be cut yet; empty when it may be.
	Held  string
	Notes []string
}

// Use says what a line is there for.
type Use int

// The uses.
const (
	Cut   Use = iota // saw to it
	Under            // the edge of the underside, or of the back: dashed
	Nose             // a nose: a band of ticks along the inside of it, no line
	Mark             // draw it on the piece
)

// Line is straight from point to point.
type Line struct {
	Use    Use
	Points []drawing.Point
	Closed bool // back to the first
	// Labels[i] is lettered along the stretch that begins at Points[i]; parts
	// after " · " are left out from the last on where there is no room. It may
	// be shorter than Points.
	Labels []string
}

// Tag is a word or two at a corner.
type Tag struct {
	At, Dir drawing.Point // Dir is the way from At to the word, of length 1
	Text    string
}

// Register is a named cross on the piece, to lay it against what it meets.
type Register struct {
	At   drawing.Point
	Name string
}

// Outline returns a shape of one closed line, for what is no piece of package
// pieces. Labels are those of the line.
func Outline(id, title string, points []drawing.Point, labels []string) Shape {
	return Shape{ID: id, Title: title, Lines: []Line{{Use: Cut, Closed: true, Points: points, Labels: labels}}}
}

// largest is the longest side of a shape, mm: more than any flight of stairs.
const largest = 50000

// check says why the shape cannot be drawn, or returns its box.
func (s *Shape) check() (r rect, err error) {
	r = noRect()
	n := 0
	for _, l := range s.Lines {
		for _, p := range l.Points {
			if p.X-p.X != 0 || p.Y-p.Y != 0 {
				return r, fmt.Errorf("template: %s holds a coordinate that is not a number", s.ID)
			}
			r.add(p)
		}
		if l.Use == Cut && len(l.Points) > 1 {
			n++
		}
	}
	switch {
	case n == 0:
		return r, fmt.Errorf("template: %s has no line to cut to", s.ID)
	case r.width() > largest || r.height() > largest:
		return r, fmt.Errorf("template: %s is %.0f by %.0f mm; the longest side may be %d mm", s.ID, r.width(), r.height(), largest)
	}
	return r, nil
}

// outline returns the points of the first closed Cut line, or nil.
func (s *Shape) outline() []drawing.Point {
	for _, l := range s.Lines {
		if l.Use == Cut && l.Closed && len(l.Points) > 2 {
			return l.Points
		}
	}
	return nil
}

// inside says whether p lies in the polygon; true when there is none.
func inside(polygon []drawing.Point, p drawing.Point) bool {
	return polygon == nil || drawing.Inside(polygon, p)
}

// segments calls do for each straight stretch of the line, with its number.
func (l *Line) segments(do func(i int, a, b drawing.Point)) {
	n := len(l.Points)
	last := n - 1
	if l.Closed {
		last = n
	}
	for i := 0; i < last; i++ {
		do(i, l.Points[i], l.Points[(i+1)%n])
	}
}

// rect is an upright rectangle, its sides belonging to it.
type rect struct{ min, max drawing.Point }

func noRect() rect {
	inf := math.Inf(1)
	return rect{drawing.Point{X: inf, Y: inf}, drawing.Point{X: -inf, Y: -inf}}
}

func (r *rect) add(p drawing.Point) {
	r.min.X, r.min.Y = math.Min(r.min.X, p.X), math.Min(r.min.Y, p.Y)
	r.max.X, r.max.Y = math.Max(r.max.X, p.X), math.Max(r.max.Y, p.Y)
}

func (r rect) width() float64  { return r.max.X - r.min.X }
func (r rect) height() float64 { return r.max.Y - r.min.Y }
func (r rect) centre() drawing.Point {
	return r.min.Add(r.max).Mul(0.5)
}

// grow returns r with every side moved out by d.
func (r rect) grow(d float64) rect {
	e := drawing.Point{X: d, Y: d}
	return rect{r.min.Sub(e), r.max.Add(e)}
}

func (r rect) shift(d drawing.Point) rect { return rect{r.min.Add(d), r.max.Add(d)} }

func (r rect) has(p drawing.Point) bool {
	return p.X >= r.min.X && p.X <= r.max.X && p.Y >= r.min.Y && p.Y <= r.max.Y
}

// clip returns the part of a→b that lies in r, by the parameters of its ends
// (Liang and Barsky's method).
func (r rect) clip(a, b drawing.Point) (from, to float64, ok bool) {
	from, to = 0, 1
	d := b.Sub(a)
	for _, e := range [4][2]float64{{-d.X, a.X - r.min.X}, {d.X, r.max.X - a.X}, {-d.Y, a.Y - r.min.Y}, {d.Y, r.max.Y - a.Y}} {
		switch p, q := e[0], e[1]; {
		case p == 0 && q < 0:
			return 0, 0, false
		case p < 0:
			from = math.Max(from, q/p)
		case p > 0:
			to = math.Min(to, q/p)
		}
	}
	return from, to, from <= to
}

// between returns the point at parameter t of a→b, and the ends exactly.
func between(a, b drawing.Point, t float64) drawing.Point {
	switch t {
	case 0:
		return a
	case 1:
		return b
	}
	return a.Add(b.Sub(a).Mul(t))
}

// clipped returns the runs of the line, shifted, that lie in the window. closed
// says that it is one run and the whole closed line.
func (l *Line) clipped(shift drawing.Point, window rect) (runs [][]drawing.Point, closed bool) {
	whole := true
	for _, p := range l.Points {
		whole = whole && window.has(p.Add(shift))
	}
	if whole && len(l.Points) > 1 {
		run := make([]drawing.Point, len(l.Points))
		for i, p := range l.Points {
			run[i] = p.Add(shift)
		}
		return [][]drawing.Point{run}, l.Closed
	}
	var run []drawing.Point
	end := func() {
		if len(run) > 1 {
			runs = append(runs, run)
		}
		run = nil
	}
	l.segments(func(_ int, a, b drawing.Point) {
		a, b = a.Add(shift), b.Add(shift)
		from, to, ok := window.clip(a, b)
		if !ok || from == to && a != b { // a touch shows nothing
			end()
			return
		}
		if from > 0 || run == nil {
			end()
			run = append(run, between(a, b, from))
		}
		run = append(run, between(a, b, to))
		if to < 1 {
			end()
		}
	})
	end()
	// A run over the first point of a closed line was cut there.
	if n := len(runs); l.Closed && n > 1 && runs[0][0] == l.Points[0].Add(shift) && runs[n-1][len(runs[n-1])-1] == runs[0][0] {
		runs[0] = append(runs[n-1], runs[0][1:]...)
		runs = runs[:n-1]
	}
	return runs, false
}
