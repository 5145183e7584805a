package template

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"risewright/view/drawing"
)

// The parts of a sheet of a tiled template, mm.
const (
	// Overlap is how much two neighbouring sheets both show.
	Overlap = 10.0

	sheetMargin = 8.0 // most printers leave 5 mm blank
	sheetFoot   = 36.0
	footGap     = 2.0
	// clear is kept between the shape and the join lines round all sheets, so
	// that an edge never falls on them.
	clear = 3.0
	// mostSheets bounds a template: above it something is wrong, or a plotter
	// is wanted.
	mostSheets = 300
)

// grid is how a shape is cut up into sheets. Rows count from the top, columns
// from the left, both from 0.
type grid struct {
	paper      drawing.Point // width and height of the sheet
	rows, cols int
	pitch      drawing.Point // from join line to join line
	top, left  float64       // of the outermost join lines, in the shape
	corner     drawing.Point // on paper: where the lower left cross stands
	printed    []bool        // by row and column
}

// newGrid tiles the box on upright or turned paper.
func newGrid(s *Shape, box rect, width, height float64) grid {
	g := grid{paper: drawing.Point{X: width, Y: height}}
	// Whole millimetres, so that the distance of the crosses can be checked
	// with a rule.
	g.pitch.X = math.Floor(width - 2*sheetMargin - Overlap)
	g.pitch.Y = math.Floor(height - 2*sheetMargin - sheetFoot - footGap - Overlap)
	g.corner = drawing.Point{X: (width - g.pitch.X) / 2, Y: sheetMargin + sheetFoot + footGap + Overlap/2}
	need := box.grow(clear)
	g.cols = max(1, int(math.Ceil(need.width()/g.pitch.X)))
	g.rows = max(1, int(math.Ceil(need.height()/g.pitch.Y)))
	c := box.centre()
	g.left = c.X - float64(g.cols)*g.pitch.X/2
	g.top = c.Y + float64(g.rows)*g.pitch.Y/2
	if g.rows*g.cols > mostCells {
		return g
	}
	g.printed = make([]bool, g.rows*g.cols)
	outline := s.outline()
	for i := range g.printed {
		cell := g.cell(i/g.cols, i%g.cols)
		used := outline != nil && inside(outline, cell.centre())
		for k := range s.Lines {
			s.Lines[k].segments(func(_ int, a, b drawing.Point) {
				if !used {
					_, _, used = cell.clip(a, b)
				}
			})
		}
		g.printed[i] = used
	}
	return g
}

// mostCells bounds the sheets, printed and blank, that are looked at.
const mostCells = 20 * mostSheets

func (g *grid) count() int {
	n := 0
	for _, p := range g.printed {
		if p {
			n++
		}
	}
	return n
}

// cell is what lies between the join lines of a sheet, in the shape.
func (g *grid) cell(row, col int) rect {
	min := drawing.Point{X: g.left + float64(col)*g.pitch.X, Y: g.top - float64(row+1)*g.pitch.Y}
	return rect{min, min.Add(g.pitch)}
}

// has says whether there is a printed sheet there.
func (g *grid) has(row, col int) bool {
	return row >= 0 && row < g.rows && col >= 0 && col < g.cols && g.printed[row*g.cols+col]
}

// name is the name of a sheet: A1 is the top left one, A2 right of it, B1 below.
func (g *grid) name(row, col int) string {
	letters := string(rune('A' + row%26))
	if row >= 26 {
		letters = string(rune('A'+row/26-1)) + letters
	}
	return letters + strconv.Itoa(col+1)
}

// neighbour is the name of the sheet there, or "none".
func (g *grid) neighbour(row, col int) string {
	if !g.has(row, col) {
		return "none"
	}
	return g.name(row, col)
}

// cross is the number of the cross at the upper left of a cell.
func (g *grid) cross(row, col int) int { return row*(g.cols+1) + col + 1 }

// Tiled returns the shape cut up over sheets of the given upright paper, mm,
// turned where that takes fewer: first a page that shows how they go together,
// then the sheets row by row from the top left. Sheets that would be blank are
// left out.
func Tiled(shape *Shape, width, height float64, o Options) ([]drawing.Page, error) {
	g, err := tiling(shape, width, height)
	if err != nil {
		return nil, err
	}
	s := shape.said()
	pages := []drawing.Page{g.assembly(&s, o)}
	for row := range g.rows {
		for col := range g.cols {
			if g.has(row, col) {
				pages = append(pages, g.sheet(&s, row, col, o))
			}
		}
	}
	return pages, nil
}

// Sheets returns how many sheets of the given upright paper, mm, the shape
// takes, without the page that shows how they go together; 0 when [Tiled] would
// refuse.
func Sheets(s *Shape, width, height float64) int {
	g, err := tiling(s, width, height)
	if err != nil {
		return 0
	}
	return g.count()
}

// tiling chooses which way the paper lies, and cuts the shape up.
func tiling(s *Shape, width, height float64) (grid, error) {
	box, err := s.check()
	if err != nil {
		return grid{}, err
	}
	if !(math.Min(width, height) >= leastPaper && math.Max(width, height) <= largest) {
		return grid{}, fmt.Errorf("template: paper of %g by %g mm; each side must be at least %g mm", width, height, leastPaper)
	}
	g := newGrid(s, box, width, height)
	if turned := newGrid(s, box, height, width); turned.printed != nil && (g.printed == nil || turned.count() < g.count()) {
		g = turned
	}
	if n := g.count(); g.printed == nil || n > mostSheets {
		return grid{}, fmt.Errorf("template: %s would take more than %d sheets of %g by %g mm; make it whole, for a plotter", s.ID, mostSheets, width, height)
	}
	return g, nil
}

// leastPaper is the least side of paper on which the bars and words fit, mm.
const leastPaper = 190.0

// sheet draws one sheet.
func (g *grid) sheet(s *Shape, row, col int, o Options) drawing.Page {
	name := g.name(row, col)
	p := drawing.Page{Name: s.ID + " " + name, Width: g.paper.X, Height: g.paper.Y}
	cell := g.cell(row, col)
	shift := g.corner.Sub(cell.min)
	window := cell.grow(Overlap / 2).shift(shift)
	at := &placer{list: &p.List, window: window, room: cell.grow(-0.5).shift(shift)}
	f := s.figure(at, shift)
	g.crosses(at)
	f.lines()
	g.numbers(at, row, col)
	f.lettering()
	at.room = window
	g.joins(at, row, col)

	top := sheetMargin + sheetFoot
	bars(&p.List, sheetMargin, top-barsTall)
	paras := []para{{s.ID + " · sheet " + name, 6, true}}
	if s.Held != "" {
		paras = append(paras, para{notReleased, 4.4, true})
	}
	paras = append(paras,
		para{fmt.Sprintf("Row %d of %d, column %d of %d. Neighbours: left %s, right %s, above %s, below %s.", row+1, g.rows, col+1, g.cols,
			g.neighbour(row, col-1), g.neighbour(row, col+1), g.neighbour(row-1, col), g.neighbour(row+1, col)), 3.2, false},
		para{measureShort, 3.2, true},
		para{g.spans(), 3.2, false},
		para{printable(o.Stamp), 2.8, false})
	x := sheetMargin + barsWide + betweenCols
	column(&p.List, x, top, p.Width-sheetMargin-x, sheetFoot, paras)
	under := "Tuck this strip under the sheet below."
	if !g.has(row+1, col) {
		under = "Steps from the bottom; left and right as walking up."
	}
	p.List.Text(drawing.Text{At: drawing.Point{X: sheetMargin, Y: sheetMargin + 6}, Size: 3.2, String: under})
	return p
}

// spans says how far the crosses stand apart, which shows a printer that
// stretches one way only.
func (g *grid) spans() string {
	return fmt.Sprintf("Crosses stand %.0f mm apart across and %.0f mm down: check one of each.", g.pitch.X, g.pitch.Y)
}

// crossArm is half of a cross, mm: it ends where the window does.
const crossArm = Overlap / 2

// crossAt returns where the cross at a corner of a sheet stands on paper: row
// and column 0 are the upper and left ones.
func (g *grid) crossAt(row, col int) drawing.Point {
	return g.corner.Add(drawing.Point{X: float64(col) * g.pitch.X, Y: float64(1-row) * g.pitch.Y})
}

// crosses draws the four crosses of a sheet.
func (g *grid) crosses(p *placer) {
	s := drawing.Stroke{Ink: markInk, Width: drawing.Fine}
	for i := range 4 {
		at := g.crossAt(i/2, i%2)
		for _, arm := range [2]drawing.Point{{X: crossArm}, {Y: crossArm}} {
			p.list.Line(at.Sub(arm), at.Add(arm), s)
			p.off = append(p.off, [2]drawing.Point{at.Sub(arm), at.Add(arm)})
		}
		p.list.Circle(at, 2, drawing.Fill{}, s)
	}
}

// numberPlaces are tried for a cross's number: mm from it across and up into
// the sheet, where it is not cut away.
var numberPlaces = [...]drawing.Point{{X: 5.5, Y: 4}, {X: 10, Y: 4}, {X: 5.5, Y: 8}, {X: 10, Y: 8}, {X: 14, Y: 4}, {X: 5.5, Y: 12}, {X: 14, Y: 12}}

// numbers letters the four crosses of a sheet.
func (g *grid) numbers(p *placer, row, col int) {
	for i := range 4 {
		dr, dc := i/2, i%2
		t := drawing.Text{Size: 3, String: strconv.Itoa(g.cross(row+dr, col+dc))}
		found := false
		for _, place := range numberPlaces {
			t.At = g.crossAt(dr, dc).Add(drawing.Point{X: place.X * float64(1-2*dc), Y: place.Y * float64(2*dr-1)})
			if found = p.put(t); found {
				break
			}
		}
		if !found { // over a line, for a cross without its number is of no use
			t.Align, t.Baseline = drawing.AlignMiddle, drawing.BaseMiddle
			p.list.Text(t)
		}
	}
}

// joins draws the join lines towards printed neighbours and says which they are.
func (g *grid) joins(p *placer, row, col int) {
	s := drawing.Stroke{Ink: markInk, Width: drawing.Fine, Dash: []float64{8, 2, 1, 2}}
	lo, hi := g.corner, g.corner.Add(g.pitch)
	side := func(r, c int, a, b, out drawing.Point, arrow string, cut bool) {
		if !g.has(r, c) {
			return
		}
		d := b.Sub(a)
		u := d.Mul(1 / d.Len())
		p.list.Line(a.Add(u.Mul(crossArm)), b.Sub(u.Mul(crossArm)), s)
		words := fmt.Sprintf("%s %s", arrow, g.name(r, c))
		if cut {
			words += " · cut off here"
		}
		// In the strip outside the join line, where there is the least to hide.
		for _, t := range [...]float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
			at := a.Add(d.Mul(t)).Add(out.Mul(2.5))
			if p.put(drawing.Text{At: at, Size: 2.8, Angle: readable(math.Atan2(u.Y, u.X)), String: words}) {
				return
			}
		}
	}
	side(row, col-1, drawing.Point{X: lo.X, Y: lo.Y}, drawing.Point{X: lo.X, Y: hi.Y}, drawing.Point{X: -1}, "to", true)
	side(row, col+1, drawing.Point{X: hi.X, Y: lo.Y}, drawing.Point{X: hi.X, Y: hi.Y}, drawing.Point{X: 1}, "to", false)
	side(row-1, col, drawing.Point{X: lo.X, Y: hi.Y}, drawing.Point{X: hi.X, Y: hi.Y}, drawing.Point{Y: 1}, "to", true)
	side(row+1, col, drawing.Point{X: lo.X, Y: lo.Y}, drawing.Point{X: hi.X, Y: lo.Y}, drawing.Point{Y: -1}, "to", false)
}

// assembly draws the page that shows how the sheets go together.
func (g *grid) assembly(s *Shape, o Options) drawing.Page {
	p := drawing.Page{Name: s.ID + " sheets", Width: g.paper.X, Height: g.paper.Y}
	wide := p.Width - 2*sheetMargin
	how := []string{
		"1. Print at 100% on one side. On every sheet measure both bars, and the crosses: " + strings.ToLower(g.spans()[:1]) + g.spans()[1:],
		"2. Start with the sheet at the top left. Cut each other sheet off along its join lines at the left and at the top, through the middle of the crosses.",
		"3. Lay it over its neighbours, cross on cross: the same number is the same place. Hold it to the light or a window, then tape it.",
		"4. Check the whole: the figures along the edges, and the diagonals of the crosses. Then glue it to thin board and cut that to the unbroken line.",
	}
	paras := s.about(o, fmt.Sprintf("%s · template at full size on %d sheets", s.ID, g.count()))
	first := 1
	if s.Held != "" {
		first = 2
	}
	// The hold and the caution stand beside the bars; what to do comes before
	// the notes.
	beside := paras[1 : first+1]
	var below []para
	for _, h := range how {
		below = append(below, para{h, 3.4, false})
	}
	below = append(below, paras[first+1:]...)

	y := column(&p.List, sheetMargin, p.Height-sheetMargin, wide, 24, []para{paras[0], {s.Title, 4, false}}) - 2
	x := sheetMargin + barsWide + betweenCols
	narrow := p.Width - sheetMargin - x
	barRow := math.Max(barsTall, tallOf(beside, narrow, 1))
	words := math.Min(tallOf(below, wide, 1), p.Height*0.4)
	foot := words + barRow + 4
	bars(&p.List, sheetMargin, sheetMargin+foot-barsTall)
	column(&p.List, x, sheetMargin+foot, narrow, barRow, beside)
	column(&p.List, sheetMargin, sheetMargin+words, wide, words, below)
	g.sketch(&p.List, s, rect{drawing.Point{X: sheetMargin, Y: sheetMargin + foot + 5}, drawing.Point{X: p.Width - sheetMargin - 5, Y: y - 3}})
	return p
}

// sketch draws the sheets and the shape over them, small, in a box.
func (g *grid) sketch(l *drawing.List, s *Shape, in rect) {
	all := rect{drawing.Point{X: g.left, Y: g.top - float64(g.rows)*g.pitch.Y}, drawing.Point{X: g.left + float64(g.cols)*g.pitch.X, Y: g.top}}
	k := math.Min(0.5, math.Min(in.width()/all.width(), in.height()/all.height()))
	place := func(q drawing.Point) drawing.Point { return q.Sub(all.centre()).Mul(k).Add(in.centre()) }
	cellW, cellH := g.pitch.X*k, g.pitch.Y*k
	join := drawing.Stroke{Ink: measureInk, Width: drawing.Fine}
	for row := range g.rows {
		for col := range g.cols {
			if !g.has(row, col) {
				continue
			}
			c := g.cell(row, col)
			a, b := place(c.min), place(c.max)
			l.Polygon([]drawing.Point{a, {X: b.X, Y: a.Y}, b, {X: a.X, Y: b.Y}}, drawing.Fill{Ink: drawing.Wood}, join)
		}
	}
	for i := range s.Lines {
		n := &s.Lines[i]
		if n.Use != Cut {
			continue
		}
		pts := make([]drawing.Point, len(n.Points))
		for j, q := range n.Points {
			pts[j] = place(q)
		}
		l.Polyline(pts, n.Closed, drawing.Stroke{Ink: cutInk, Width: drawing.Thin})
	}
	size := math.Min(6, math.Min(cellW*0.3, cellH*0.3))
	small := math.Min(2.6, size*0.55)
	if size < 1.2 {
		return
	}
	numbered := map[int]bool{}
	for row := range g.rows {
		for col := range g.cols {
			if !g.has(row, col) {
				continue
			}
			c := g.cell(row, col)
			l.Text(drawing.Text{At: place(c.centre()), Size: size, Bold: true, Halo: true, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, String: g.name(row, col)})
			if small < 1.6 {
				continue
			}
			for i := range 4 {
				dr, dc := i/2, i%2
				n := g.cross(row+dr, col+dc)
				if numbered[n] {
					continue
				}
				numbered[n] = true
				at := place(drawing.Point{X: c.min.X + float64(dc)*g.pitch.X, Y: c.max.Y - float64(dr)*g.pitch.Y})
				l.Dot(at, 0.5, drawing.Fill{Ink: markInk}, drawing.Stroke{})
				l.Text(drawing.Text{At: at.Add(drawing.Point{X: 0.9, Y: 0.9}), Size: small, Halo: true, String: strconv.Itoa(n)})
			}
		}
	}
}
