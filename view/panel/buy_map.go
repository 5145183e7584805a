package panel

import (
	"risewright/solver/stock"
	"risewright/view/blanks"
	"risewright/view/canvas"
	"risewright/view/drawing"
)

// mapGuess is the width of the tab in paper mm, by which room is kept for a map
// of sheets; in another width it is drawn smaller.
const mapGuess = 140.0

// mapScene is the blank map of one row. Its millimetres are paper.
type mapScene struct {
	desk  *Desk
	cut   *stock.CutPlan
	sheet *stock.SheetPlan
	width float64
}

var _ canvas.Scene = (*mapScene)(nil)

// find finds the plan by which a row is cut up.
func (s *mapScene) find(p *stock.Plan, r *stock.Row) {
	for i := range p.Cuts {
		c := &p.Cuts[i]
		for _, lay := range c.Result.Layouts {
			if c.Use == r.Use && c.Cutting.Boards[lay.Board].Name == r.Name {
				s.cut = c
				return
			}
		}
	}
	for i := range p.Sheets {
		c := &p.Sheets[i]
		for _, lay := range c.Result.Layouts {
			if c.Use == r.Use && c.Cutting.Sheets[lay.Sheet].Name == r.Name {
				s.sheet = c
				return
			}
		}
	}
}

// count returns how many boards or sheets the map shows.
func (s *mapScene) count() int {
	switch {
	case s.cut != nil:
		return len(s.cut.Result.Layouts)
	case s.sheet != nil:
		return len(s.sheet.Result.Layouts)
	}
	return 0
}

func (s *mapScene) word() string {
	if s.sheet != nil {
		return "sheet"
	}
	return "board"
}

func (s *mapScene) tall(width float64) float64 {
	switch {
	case s.cut != nil:
		return blanks.BoardsTall(s.cut)
	case s.sheet != nil:
		return blanks.SheetsTall(s.sheet, width)
	}
	return 0
}

// Fit implements canvas.Scene.
func (s *mapScene) Fit(width, height, paper float64) drawing.Viewport {
	s.width = width / paper
	k := 1.0
	if tall := s.tall(s.width); tall*paper > height && tall > 0 {
		k = height / (tall * paper)
	}
	return drawing.Viewport{Scale: paper * k, Origin: drawing.Point{Y: s.tall(s.width) * paper * k}, Paper: paper}
}

// Draw implements canvas.Scene.
func (s *mapScene) Draw(l *drawing.List, _ drawing.Viewport) {
	job := s.desk.Job()
	o := blanks.Options{Format: job.Format(), Width: s.width}
	switch {
	case s.cut != nil:
		blanks.Boards(l, s.cut, o)
	case s.sheet != nil:
		blanks.Sheets(l, s.sheet, o)
	}
}
