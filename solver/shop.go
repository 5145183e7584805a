package solver

import (
	"fmt"
	"slices"
	"strings"

	"risewright/model"
	"risewright/solver/stock"
)

// goodsOf returns the table of goods with the job's own prices in place of the
// table's, and notes on prices of goods that the table has not. The table
// itself is left as it is.
func goodsOf(s model.Shop, g model.Goods) (model.Goods, []string) {
	if s.Currency != "" {
		g.Currency = s.Currency
	}
	if len(s.Prices) == 0 {
		return g, nil
	}
	g.Boards, g.Packs = slices.Clone(g.Boards), slices.Clone(g.Packs)
	var gone []string
	for _, p := range s.Prices {
		found := false
		put := func(id string, price *float64, standing *model.Standing) {
			if id == p.ID {
				*price, *standing, found = p.Price, model.Yours, true
			}
		}
		for i := range g.Boards {
			put(g.Boards[i].ID, &g.Boards[i].Price, &g.Boards[i].Standing)
		}
		for i := range g.Packs {
			put(g.Packs[i].ID, &g.Packs[i].Price, &g.Packs[i].Standing)
		}
		if !found {
			gone = append(gone, p.ID)
		}
	}
	if len(gone) > 0 {
		return g, []string{"prices of your own for what the table does not list are kept and not used: " + strings.Join(gone, ", ")}
	}
	return g, nil
}

// labourOf returns the table of labour with the job's own wage.
func labourOf(s model.Shop, l model.Labour) model.Labour {
	if s.Rate > 0 {
		l.Rate = model.Range{Low: s.Rate, Likely: s.Rate, High: s.Rate, Standing: model.Yours}
	}
	return l
}

// spansOf returns the job's boards in hand.
func spansOf(job *model.Job) []stock.Span {
	var out []stock.Span
	f := job.Format()
	for _, b := range job.Shop.Hand {
		name := "in hand: " + f.Length(b.Length)
		if b.Width > 0 {
			name += " × " + f.Length(b.Width)
		}
		if b.Name != "" {
			name = fmt.Sprintf("in hand: %s, %s", b.Name, strings.TrimPrefix(name, "in hand: "))
		}
		out = append(out, stock.Span{Use: b.Use, Name: name, Length: b.Length, Width: b.Width, Thickness: b.Thickness, Count: b.Number()})
	}
	return out
}
