package sheets

import (
	"slices"

	"risewright/solver"
	"risewright/solver/saw"
)

// AsBought returns the answer with cards for the blanks that the blank map cuts:
// their sizes, the marks that follow from them, and what the buying list calls
// the board. A card by itself takes the smallest size that will do, of which
// another may be cheaper for the whole flight: the papers must not name two. The
// answer is not changed; without w it is returned as it is.
func AsBought(a *solver.Answer, w *solver.Work) *solver.Answer {
	if w == nil {
		return a
	}
	blanks := map[string]saw.Blank{} // 0 is a size that is left as it is
	for i := range w.Buy.Cuts {
		c := &w.Buy.Cuts[i]
		for _, l := range c.Result.Layouts {
			for _, q := range l.Cuts {
				part := &c.Cutting.Parts[q.Part]
				blanks[part.Name] = saw.Blank{Length: part.Length, Width: c.Width, Stock: c.Cutting.Boards[l.Board].Name}
			}
		}
	}
	for i := range w.Buy.Sheets {
		c := &w.Buy.Sheets[i]
		for _, l := range c.Result.Layouts {
			for _, t := range l.Strips {
				for _, q := range t.Cuts {
					panel := &c.Cutting.Panels[q.Part]
					blanks[panel.Name] = saw.Blank{Length: panel.Length, Width: panel.Width, Stock: c.Cutting.Sheets[l.Sheet].Name}
				}
			}
		}
	}
	out := *a
	out.Cards = slices.Clone(a.Cards)
	for i := range out.Cards {
		own := out.Cards[i].Blank
		b, found := blanks[a.Pieces[i].ID]
		if !found {
			continue
		}
		b.Thickness, b.Riser = own.Thickness, own.Riser
		if b.Width == 0 {
			b.Width = own.Width
		}
		c, ok := out.Cards[i].On(b, a.Job, &a.Pieces[i])
		if !ok {
			c.Blank.Stock = b.Stock
		}
		out.Cards[i] = c
	}
	return &out
}
