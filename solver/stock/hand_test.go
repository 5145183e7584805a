package stock_test

import (
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver/stock"
)

// counted returns how many boards of a use are bought, cut from what is in
// hand, and missing.
func counted(p stock.Plan, use model.GoodsUse) (bought, inHand, missing int) {
	for _, r := range p.Rows {
		switch {
		case r.Use != use:
		case r.Missing:
			missing += r.Count
		case r.InHand:
			inHand += r.Count
		default:
			bought += r.Count
		}
	}
	return bought, inHand, missing
}

// Straight treads of 280 by 875 mm take a blank of 300 by 900: worked by hand.
func TestBoardsInHandMustDo(t *testing.T) {
	all := shipped(t)
	for _, c := range []struct {
		name           string
		span           stock.Span
		bought, inHand int
		note           string // what is said of those that are left; "" for none left
	}{
		{"as the use needs", stock.Span{Length: 905, Count: 5}, 9, 5, ""},
		{"two treads a board", stock.Span{Length: 1820, Count: 3}, 8, 3, ""},
		{"wide enough", stock.Span{Length: 905, Width: 300, Count: 5}, 9, 5, ""},
		{"too narrow", stock.Span{Length: 905, Width: 280, Count: 5}, 14, 0, "it is 280.0 mm wide"},
		{"too short", stock.Span{Length: 870, Count: 5}, 14, 0, "it is 870.0 mm long"},
		{"as thick", stock.Span{Length: 905, Thickness: 20.4, Count: 5}, 9, 5, ""},
		{"too thick", stock.Span{Length: 905, Thickness: 26, Count: 5}, 14, 0, "it is 26.0 mm thick"},
		{"more than are needed", stock.Span{Length: 905, Count: 20}, 0, 14, "6 of 20: it would save nothing"},
	} {
		ps := straight(14, 875, 280, 0)
		for i := range ps {
			ps[i].Thickness = 20
		}
		c.span.Use, c.span.Name = model.UseTread, "mine"
		plan := stock.Buy(model.Job{Units: model.Metric}, nil, ps, all, stock.Extras{Spans: []stock.Span{c.span}})
		bought, inHand, missing := counted(plan, model.UseTread)
		if bought != c.bought || inHand != c.inHand || missing != 0 {
			t.Errorf("%s: %d bought, %d in hand, %d missing", c.name, bought, inHand, missing)
		}
		notes := strings.Join(plan.Notes, "\n")
		if c.note == "" && strings.Contains(notes, "mine") || !strings.Contains(notes, c.note) {
			t.Errorf("%s: %s", c.name, notes)
		}
		for _, r := range plan.Rips {
			if c.inHand == 14 && r.From != 300 && strings.HasPrefix(r.Piece, "T") {
				t.Errorf("%s: %s is ripped from %g", c.name, r.Piece, r.From)
			}
		}
	}
	plan := stock.Buy(model.Job{Units: model.Metric}, nil, straight(3, 875, 280, 0), all, stock.Extras{Spans: []stock.Span{{Use: model.UseCove, Name: "a cove", Length: 900}}})
	if !strings.Contains(strings.Join(plan.Notes, "\n"), "a cove (cove): this job takes none") {
		t.Errorf("of a cove: %q", plan.Notes)
	}
}

// Treads that no listed board holds come from what is in hand, as many as it
// gives; the rip list tells the width of that board.
func TestWhatNoYardSellsComesFromHand(t *testing.T) {
	all := shipped(t)
	for _, c := range []struct {
		spans   []stock.Span
		missing int
	}{
		{nil, 4},
		{[]stock.Span{{Length: 1000, Width: 420}}, 3},
		{[]stock.Span{{Length: 2000, Width: 420, Count: 2}}, 0},
		{[]stock.Span{{Length: 2000, Width: 390}}, 4},
		{[]stock.Span{{Length: 2000}}, 4}, // no wider than what is sold
		{[]stock.Span{{Length: 1000, Width: 450}, {Length: 2000, Width: 420}}, 1},
	} {
		for i := range c.spans {
			c.spans[i].Use = model.UseTread
		}
		// three treads and a spare
		plan := stock.Buy(model.Job{Units: model.Metric}, nil, straight(4, 875, 400, 0), all, stock.Extras{Spans: c.spans})
		bought, inHand, missing := counted(plan, model.UseTread)
		if missing != c.missing || bought != 0 || (inHand == 0) != (missing == 4) {
			t.Errorf("%+v: %d bought, %d in hand, %d missing", c.spans, bought, inHand, missing)
		}
		for _, cut := range plan.Cuts {
			if cut.Use != model.UseTread {
				continue
			}
			for _, l := range cut.Result.Layouts {
				for _, q := range l.Cuts {
					name := cut.Cutting.Parts[q.Part].Name
					at := slices.IndexFunc(plan.Rips, func(r stock.Rip) bool { return r.Piece == name })
					if !strings.HasPrefix(name, "spare") && (at < 0 || plan.Rips[at].From != cut.Width) {
						t.Errorf("%s comes from a board of %g, and is ripped as %v", name, cut.Width, plan.Rips)
					}
				}
			}
		}
	}
}

// Boards in hand cost nothing also where length is made least because no
// prices are set.
func TestInHandIsFreeWithoutPrices(t *testing.T) {
	all := shipped(t)
	free := all
	free.Goods.Boards = slices.Clone(all.Goods.Boards)
	for i := range free.Goods.Boards {
		free.Goods.Boards[i].Price = 0
	}
	plan := stock.Buy(model.Job{Units: model.Metric}, nil, straight(6, 875, 280, 0), free, stock.Extras{Spans: []stock.Span{{Use: model.UseTread, Length: 1000, Count: 4}}})
	if bought, inHand, _ := counted(plan, model.UseTread); bought != 2 || inHand != 4 {
		t.Errorf("%d bought, %d in hand", bought, inHand)
	}
	rows, err := csv.NewReader(strings.NewReader(string(plan.CSV()))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	told := 0
	for _, r := range rows {
		if r[0] == "tread" && r[8] == "in hand" && r[2] == "4" {
			told++
		}
	}
	if told != 1 {
		t.Errorf("the list tells what is in hand %d times: %s", told, fmt.Sprint(rows))
	}
}
