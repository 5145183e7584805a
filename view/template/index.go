package template

import (
	"fmt"
	"math"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/pieces"
	"risewright/solver/rules"
	"risewright/solver/skirt"
	"risewright/view/card"
	"risewright/view/drawing"
)

// Item is a piece that a template may be made of.
type Item struct {
	// Shape is the piece at full size. When Why is not empty it has no lines.
	Shape Shape
	// Needed says that no card makes the piece, so that it has to be made by
	// its template.
	Needed bool
	// Why says why there is no template.
	Why string
}

// Items returns all pieces of an answer from the bottom up, and then the skirt
// boards that are not kept; nosing is the one that they were made for.
func Items(a *solver.Answer, boards []skirt.Board, nosing skirt.Profile) []Item {
	f := a.Job.Format()
	var out []Item
	for i := range a.Pieces {
		p := &a.Pieces[i]
		s, err := Piece(p, f, Held(a, i))
		it := Item{Shape: s, Needed: p.Template != "" || i < len(a.Cards) && card.StateOf(p, &a.Cards[i]) == card.Refused}
		if err != nil {
			it = Item{Shape: Shape{ID: p.ID, Title: card.Name(p)}, Why: whyNot(p, err)}
		}
		out = append(out, it)
	}
	held := HeldSkirt(a)
	for i := range boards {
		b := &boards[i]
		if b.Treatment == skirt.Kept {
			continue
		}
		s, err := Skirt(b, f, held)
		if b.Lower == skirt.OverFinished {
			s.Notes = append(s.Notes, fmt.Sprintf("Drawn for a nosing that is %s. Hold the template to your own nosing before you cut.", nosingWord(nosing)))
		}
		it := Item{Shape: s, Needed: true}
		if err != nil {
			it = Item{Shape: Shape{ID: SkirtID(b), Title: b.Side.String() + " skirt board"}, Why: err.Error()}
			if b.Impossible != "" {
				it.Why = b.Impossible
			}
		}
		out = append(out, it)
	}
	return out
}

// nosingWord names the shape of a nosing; the zero profile is square.
func nosingWord(p skirt.Profile) skirt.Shape {
	if p.Shape == "" {
		return skirt.Square
	}
	return p.Shape
}

func whyNot(p *pieces.Piece, err error) string {
	if p.Impossible != "" {
		return p.Impossible
	}
	return err.Error()
}

// The columns of the index, as parts of its width, and its rows, mm.
var indexColumns = [...]struct {
	head string
	at   float64
}{{"piece", 0}, {"what it is", 0.24}, {"size", 0.55}, {"made by", 0.72}, {"sheets", 0.83}, {"state", 0.9}}

const (
	indexHead = 34.0
	indexRow  = 6.4
	indexFoot = 26.0
)

// Index returns the list of all templates on upright paper: what there is, how
// large, on how many sheets of this paper, and what has to be made by template
// because no card makes it.
func Index(items []Item, width, height float64, f model.Format, o Options) []drawing.Page {
	const margin = 11.0
	inner := width - 2*margin
	rows := max(1, int((height-2*margin-indexHead-indexFoot)/indexRow))
	count := max(1, (len(items)+rows-1)/rows)
	needed := 0
	for i := range items {
		if items[i].Needed {
			needed++
		}
	}
	var pages []drawing.Page
	for n := range count {
		p := drawing.Page{Name: fmt.Sprintf("Templates, page %d", n+1), Width: width, Height: height}
		y := height - margin
		text := func(x, y, room, size float64, s string, bold bool, align drawing.Align) {
			s = printable(s)
			size = drawing.FitSize(s, room, size, 2.1, bold, false)
			s = drawing.Shorten(s, room, size, bold, false)
			p.List.Text(drawing.Text{At: drawing.Point{X: x, Y: y}, Size: size, Bold: bold, Align: align, String: s})
		}
		text(margin, y-6, inner*0.5, 7.6, "Templates", true, drawing.AlignStart)
		text(width-margin, y-3.2, inner*0.48, 3.4, o.Stamp, false, drawing.AlignEnd)
		intro := fmt.Sprintf("Every piece can be had at full size, whole or on sheets of paper. %s. Measure the check bars before you cut.", neededWords(needed))
		column(&p.List, margin, y-11, inner, 12, []para{{intro, 3.4, false}})
		line := func(y, w float64) {
			p.List.Line(drawing.Point{X: margin, Y: y}, drawing.Point{X: width - margin, Y: y}, drawing.Stroke{Ink: drawing.Line, Width: w})
		}
		y -= indexHead - 4
		for _, c := range indexColumns {
			text(margin+inner*c.at, y+1.6, inner, 3.2, c.head, true, drawing.AlignStart)
		}
		line(y, drawing.Medium)
		for i := n * rows; i < min(len(items), (n+1)*rows); i++ {
			y -= indexRow
			for k, s := range items[i].row(f, width, height) {
				end := 1.0
				if k+1 < len(indexColumns) {
					end = indexColumns[k+1].at
				}
				text(margin+inner*indexColumns[k].at, y+1.8, inner*(end-indexColumns[k].at)-1.5, 3.4, s, k == 0, drawing.AlignStart)
			}
			line(y, drawing.Fine)
		}
		text(margin, margin+2, inner*0.6, 3.2, rules.Deference+" "+safety, false, drawing.AlignStart)
		text(width-margin, margin+2, inner*0.3, 3.4, fmt.Sprintf("page %d of %d", n+1, count), true, drawing.AlignEnd)
		pages = append(pages, p)
	}
	return pages
}

func neededWords(n int) string {
	switch n {
	case 0:
		return "Every piece has a saw card, so none needs a template"
	case 1:
		return "One has no saw card and needs its template"
	}
	return fmt.Sprintf("%d have no saw card and need their templates", n)
}

// row is what the index says of one piece.
func (it *Item) row(f model.Format, width, height float64) []string {
	s := &it.Shape
	if it.Why != "" {
		return []string{s.ID, s.Title, "none", "-", "-", "cannot be made"}
	}
	box, err := s.check()
	if err != nil {
		return []string{s.ID, s.Title, "none", "-", "-", "cannot be drawn"}
	}
	by := "card"
	if it.Needed {
		by = "TEMPLATE"
	}
	state := "released"
	if s.Held != "" {
		state = "HELD"
	}
	sheets := "plotter"
	if n := Sheets(s, width, height); n > 0 {
		sheets = fmt.Sprint(n)
	}
	size := card.Number(f, math.Ceil(box.width())) + " × " + card.Length(f, math.Ceil(box.height()))
	return []string{s.ID, s.Title, size, by, sheets, state}
}
