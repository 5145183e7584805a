// Package blanks draws how boards and sheets are cut up: each with its parts in
// their places, the kerfs between them and what is left over.
//
// The scene is millimetres of paper, the origin at the bottom left. What the
// shapes mean:
//
//   - filled, named: a part, with its length under the name where it has room;
//   - hatched: what is left over, with its length; the squared ends are hatched
//     too;
//   - gap between two parts: a kerf, drawn as wide as it is, and at least as
//     wide as a line.
//
// It refuses to know how the cutting was found: that is solver/stock.
package blanks

import (
	"fmt"
	"math"

	"risewright/model"
	"risewright/solver/stock"
	"risewright/view/drawing"
)

// Options say how a map is drawn. Width is in paper mm.
type Options struct {
	Format model.Format
	Width  float64
}

// Sizes in paper mm.
const (
	headTall  = 5.5 // the words over a board
	boardTall = 8.0
	apart     = 2.5
	edge      = 1.5
	nameSize  = 2.9
	wordSize  = 2.5
)

var (
	partFill  = drawing.Fill{Ink: drawing.Wood}
	leftFill  = drawing.Fill{Hatch: drawing.Hatch{Pattern: drawing.BackDiagonal, Ink: drawing.Soft}}
	boardLine = drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin}
	partLine  = drawing.Stroke{Ink: drawing.Line, Width: drawing.Thin}
)

// BoardsTall returns how tall the map of some boards is, in paper mm.
func BoardsTall(c *stock.CutPlan) float64 {
	return 2*edge + float64(len(c.Result.Layouts))*(headTall+boardTall+apart)
}

// Boards adds the map of boards, the first at the top.
func Boards(l *drawing.List, c *stock.CutPlan, o Options) {
	longest := 0.0
	for _, lay := range c.Result.Layouts {
		longest = math.Max(longest, c.Cutting.Boards[lay.Board].Length)
	}
	if longest == 0 || o.Width <= 2*edge {
		return
	}
	k := (o.Width - 2*edge) / longest
	y := BoardsTall(c) - edge
	for i, lay := range c.Result.Layouts {
		b := &c.Cutting.Boards[lay.Board]
		head := fmt.Sprintf("%d.  %s", i+1, b.Name)
		if c.Width > 0 {
			head += ", " + o.Format.Length(model.Length(c.Width)) + " wide"
		}
		if lay.Offcut > 0 {
			head += ", over: " + o.Format.Length(model.Length(lay.Offcut))
		}
		word(l, edge, y-headTall+1.6, o.Width-2*edge, drawing.Text{Size: nameSize, Bold: true}, head)
		y -= headTall
		names := make([]string, len(lay.Cuts))
		for n, cut := range lay.Cuts {
			names[n] = c.Cutting.Parts[cut.Part].Name
		}
		strip(l, edge, y-boardTall, k, b.Length, boardTall, c.Cutting.Kerf, lay.Cuts, names, o.Format)
		y -= boardTall + apart
	}
}

// sheetScale returns paper mm for a millimetre of a sheet.
func sheetScale(c *stock.SheetPlan, width float64) float64 {
	longest := 0.0
	for _, lay := range c.Result.Layouts {
		longest = math.Max(longest, c.Cutting.Sheets[lay.Sheet].Length)
	}
	if longest == 0 {
		return 0
	}
	return math.Max(0, width-2*edge) / longest
}

// SheetsTall returns how tall the map of some sheets is when it is width wide.
func SheetsTall(c *stock.SheetPlan, width float64) float64 {
	tall := 2 * edge
	k := sheetScale(c, width)
	for _, lay := range c.Result.Layouts {
		tall += headTall + c.Cutting.Sheets[lay.Sheet].Width*k + apart
	}
	return tall
}

// Sheets adds the map of sheets, the first at the top; strips are ripped first.
func Sheets(l *drawing.List, c *stock.SheetPlan, o Options) {
	k := sheetScale(c, o.Width)
	if k <= 0 {
		return
	}
	y := SheetsTall(c, o.Width) - edge
	for i, lay := range c.Result.Layouts {
		s := &c.Cutting.Sheets[lay.Sheet]
		word(l, edge, y-headTall+1.6, o.Width-2*edge, drawing.Text{Size: nameSize, Bold: true}, fmt.Sprintf("%d.  %s", i+1, s.Name))
		y -= headTall
		tall := s.Width * k
		box(l, edge, y-tall, s.Length*k, tall, leftFill, boardLine)
		for _, st := range lay.Strips {
			names := make([]string, len(st.Cuts))
			for n, cut := range st.Cuts {
				names[n] = c.Cutting.Panels[cut.Part].Name
			}
			strip(l, edge, y-(st.At+st.Width)*k, k, s.Length, st.Width*k, c.Cutting.Kerf, st.Cuts, names, o.Format)
		}
		y -= tall + apart
	}
}

// strip draws one board or strip with its parts.
func strip(l *drawing.List, x, y, k, length, tall, kerf float64, cuts []stock.Cut, names []string, f model.Format) {
	box(l, x, y, length*k, tall, leftFill, boardLine)
	for i, c := range cuts {
		at, wide := x+c.At*k, c.Length*k
		// the kerf after a part is shown as ground, so that parts stand apart
		box(l, at+wide, y, math.Max(kerf*k, 0.3), tall, drawing.Fill{Ink: drawing.Paper}, drawing.Stroke{})
		box(l, at, y, wide, tall, partFill, partLine)
		two := tall > 6.5
		name := drawing.Text{Size: nameSize, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, Bold: true}
		mid := y + tall/2
		if two {
			mid = y + tall*0.68
		}
		if word(l, at+wide/2, mid, wide-0.8, name, names[i]) && two {
			word(l, at+wide/2, y+tall*0.27, wide-0.8, drawing.Text{Size: wordSize, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle}, f.Length(model.Length(c.Length)))
		}
	}
}

// word writes a text if it is at most wide, and says whether it did.
func word(l *drawing.List, x, y, wide float64, t drawing.Text, s string) bool {
	if drawing.TextWidth(s, t.Size, t.Bold, t.Mono) > wide {
		return false
	}
	t.At, t.String = drawing.Point{X: x, Y: y}, s
	l.Text(t)
	return true
}

func box(l *drawing.List, x, y, w, h float64, f drawing.Fill, s drawing.Stroke) {
	l.Polygon([]drawing.Point{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}, f, s)
}
