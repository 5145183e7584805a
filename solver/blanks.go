package solver

import (
	"slices"

	"risewright/model"
	"risewright/solver/saw"
	"risewright/solver/stock"
)

// OnMap returns the answer with its cut cards on the blanks that the blank map
// cuts: their sizes, the marks that follow from them, and what the buying list
// calls the board. A card by itself takes the smallest board that will do, of
// which another may be cheaper for the whole flight: what is read at the saw
// must not name two. The answer itself is not changed.
//
// The cards are those of Plan, in less time: some milliseconds for most flights,
// half a second for one that is hard to cut up, two for a thousand steps.
func OnMap(a *Answer, t model.Tables) *Answer {
	if a.Survey == nil {
		return a
	}
	goods, _ := goodsOf(a.Job.Shop, t.Goods)
	buy := stock.Map(a.Job, a.Pieces, goods, spansOf(&a.Job))
	out := *a
	out.Cards = cardsOn(a, &buy)
	return &out
}

// OnMap is the function OnMap with the blank map that has been planned already.
// The answer must be one of the job that w is for; without w it is returned as it
// is.
func (w *Work) OnMap(a *Answer) *Answer {
	if w == nil || len(w.Cards) != len(a.Cards) {
		return a
	}
	out := *a
	out.Cards = w.Cards
	return &out
}

// CardFor returns the card of piece i of an answer on the blank that w has for
// the piece of that name, though the job may have changed since w was planned. It
// is false where w knows no such piece, and where the piece does not come out
// of that blank.
func (w *Work) CardFor(a *Answer, i int) (saw.Card, bool) {
	k := w.Answer.Piece(a.Pieces[i].ID)
	if k < 0 || k >= len(w.Cards) || i >= len(a.Cards) {
		return saw.Card{}, false
	}
	b, own := w.Cards[k].Blank, a.Cards[i].Blank
	if b.Thickness != own.Thickness || b.Riser != own.Riser {
		return saw.Card{}, false
	}
	return a.Cards[i].On(b, a.Job, &a.Pieces[i])
}

// cardsOn returns the answer's cards on the blanks of a plan.
func cardsOn(a *Answer, buy *stock.Plan) []saw.Card {
	blanks := blanksOf(buy)
	out := slices.Clone(a.Cards)
	for i := range out {
		b, found := blanks[a.Pieces[i].ID]
		if !found {
			continue
		}
		out[i] = onBlank(a, i, b)
	}
	return out
}

// onBlank returns the card of piece i on a blank of which only length, name and
// perhaps width are given.
func onBlank(a *Answer, i int, b saw.Blank) saw.Card {
	own := a.Cards[i].Blank
	b.Thickness, b.Riser = own.Thickness, own.Riser
	if b.Width == 0 {
		b.Width = own.Width
	}
	c, ok := a.Cards[i].On(b, a.Job, &a.Pieces[i])
	if !ok {
		c.Blank.Stock = b.Stock
	}
	return c
}

// blanksOf returns the blank that a plan has for each piece; a width of 0 is as
// wide as it need be.
func blanksOf(buy *stock.Plan) map[string]saw.Blank {
	from := map[string]float64{} // the width of board that the rip list names
	for _, r := range buy.Rips {
		from[r.Piece] = r.From
	}
	out := map[string]saw.Blank{}
	for i := range buy.Cuts {
		c := &buy.Cuts[i]
		for _, l := range c.Result.Layouts {
			for _, q := range l.Cuts {
				part := &c.Cutting.Parts[q.Part]
				out[part.Name] = saw.Blank{Length: part.Length, Width: from[part.Name], Stock: c.Cutting.Boards[l.Board].Name}
			}
		}
	}
	for i := range buy.Sheets {
		c := &buy.Sheets[i]
		for _, l := range c.Result.Layouts {
			for _, t := range l.Strips {
				for _, q := range t.Cuts {
					panel := &c.Cutting.Panels[q.Part]
					out[panel.Name] = saw.Blank{Length: panel.Length, Width: panel.Width, Stock: c.Cutting.Sheets[l.Sheet].Name}
				}
			}
		}
	}
	for _, b := range buy.Missing {
		out[b.Piece] = saw.Blank{Length: b.Length, Width: b.Width}
	}
	return out
}
