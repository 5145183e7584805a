package sheets

import (
	"slices"

	"risewright/solver"
)

// AsBought returns the answer with cards that name what the buying list buys for
// their boards. A card by itself names the smallest size that will do, of which
// another may be cheaper for the whole flight: the papers must not name two. The
// answer is not changed; without w it is returned as it is.
func AsBought(a *solver.Answer, w *solver.Work) *solver.Answer {
	if w == nil {
		return a
	}
	names := map[string]string{}
	for i := range w.Buy.Cuts {
		c := &w.Buy.Cuts[i]
		for _, l := range c.Result.Layouts {
			for _, q := range l.Cuts {
				names[c.Cutting.Parts[q.Part].Name] = c.Cutting.Boards[l.Board].Name
			}
		}
	}
	for i := range w.Buy.Sheets {
		c := &w.Buy.Sheets[i]
		for _, l := range c.Result.Layouts {
			for _, t := range l.Strips {
				for _, q := range t.Cuts {
					names[c.Cutting.Panels[q.Part].Name] = c.Cutting.Sheets[l.Sheet].Name
				}
			}
		}
	}
	out := *a
	out.Cards = slices.Clone(a.Cards)
	for i := range out.Cards {
		if name := names[a.Pieces[i].ID]; name != "" {
			out.Cards[i].Blank.Stock = name
		}
	}
	return &out
}
