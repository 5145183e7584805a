package solver_test

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/stock"
)

// Prices of the job's own stand in the buying list as the user's, and the
// shipped table stays as it is.
func TestOwnPricesReachTheBuyingList(t *testing.T) {
	tab := published(t)
	before := model.Goods{Boards: slices.Clone(tab.Goods.Boards), Packs: slices.Clone(tab.Goods.Packs)}
	job := load(t, "well-behaved")
	plain := solver.Plan(solver.Solve(job, tab), tab)
	for _, r := range plain.Buy.Rows {
		if !r.Missing {
			job.Shop = job.Shop.WithPrice(r.Good, r.Price*2)
		}
	}
	if len(job.Shop.Prices) < 5 {
		t.Fatalf("only %d goods are bought", len(job.Shop.Prices))
	}
	job.Shop = job.Shop.WithPrice("no such good", 5)
	job.Shop.Currency, job.Shop.Rate = "coins", 10
	w := solver.Plan(solver.Solve(job, tab), tab)
	yours := 0
	for _, r := range w.Buy.Rows {
		if own, ok := job.Shop.Price(r.Good); ok {
			yours++
			if r.Price != own || r.Standing != model.Yours {
				t.Errorf("%s costs %g (%s), set to %g", r.Name, r.Price, r.Standing, own)
			}
		} else if r.Standing == model.Yours {
			t.Errorf("%s is said to be the user's price", r.Name)
		}
	}
	if yours == 0 || w.Buy.Currency != "coins" || w.Money.Currency != "coins" || !strings.Contains(string(w.Buy.CSV()), ",yours,") {
		t.Errorf("%d own prices in %q:\n%s", yours, w.Buy.Currency, w.Buy.CSV())
	}
	if w.Buy.Total <= plain.Buy.Total || w.Buy.Total > 2*plain.Buy.Total+1e-6 {
		t.Errorf("twice the prices come to %g after %g", w.Buy.Total, plain.Buy.Total)
	}
	if !strings.Contains(strings.Join(w.Buy.Notes, " "), "no such good") {
		t.Errorf("a price of nothing listed is dropped without a word: %q", w.Buy.Notes)
	}
	if want := 10 * w.Total.Likely; math.Abs(w.Money.Labour.Likely-want) > 1e-9 {
		t.Errorf("labour costs %g, want %g", w.Money.Labour.Likely, want)
	}
	if !reflect.DeepEqual(before, model.Goods{Boards: tab.Goods.Boards, Packs: tab.Goods.Packs}) {
		t.Error("the shipped table has changed")
	}
}

// A price low enough makes the cutting choose another board.
func TestAnOwnPriceChangesTheChoice(t *testing.T) {
	tab := published(t)
	job := load(t, "well-behaved")
	a := solver.Solve(job, tab)
	for _, g := range tab.Goods.Boards {
		if g.Use != model.UseTread || g.Units != job.Units {
			continue
		}
		job.Shop.Prices = []model.OwnPrice{{ID: g.ID, Price: 0.01}}
		a.Job = job
		w := solver.Plan(a, tab)
		if at := slices.IndexFunc(w.Buy.Rows, func(r stock.Row) bool { return r.Good == g.ID }); at >= 0 {
			plain := job
			plain.Shop.Prices = nil
			a.Job = plain
			if old := solver.Plan(a, tab); slices.IndexFunc(old.Buy.Rows, func(r stock.Row) bool { return r.Good == g.ID }) < 0 {
				return // bought now, and not before
			}
		}
	}
	t.Error("whatever the price, the same boards are bought")
}

// Boards in hand are cut before any is bought, and cost nothing.
func TestBoardsInHandReachTheBuyingList(t *testing.T) {
	tab := published(t)
	job := load(t, "well-behaved")
	plain := solver.Plan(solver.Solve(job, tab), tab)
	treads := func(w *solver.Work) (bought, inHand int) {
		for _, r := range w.Buy.Rows {
			switch {
			case r.Use != model.UseTread:
			case r.InHand:
				inHand += r.Count
			default:
				bought += r.Count
			}
		}
		return bought, inHand
	}
	all, none := treads(plain)
	if all < 6 || none != 0 {
		t.Fatalf("%d treads are bought, %d in hand", all, none)
	}
	job.Shop.Hand = []model.OwnBoard{{Use: model.UseTread, Name: "left over", Count: 4, Length: 1200, Width: 320}, {Use: model.UseTread, Length: 300}}
	w := solver.Plan(solver.Solve(job, tab), tab)
	bought, inHand := treads(w)
	if inHand != 4 || bought != all-4 || w.Buy.Total >= plain.Buy.Total {
		t.Errorf("%d in hand, %d bought of %d, for %g after %g", inHand, bought, all, w.Buy.Total, plain.Buy.Total)
	}
	csv := string(w.Buy.CSV())
	if !strings.Contains(csv, "left over") || !strings.Contains(csv, ",in hand,") || !strings.Contains(string(w.Buy.MapCSV()), "left over") {
		t.Errorf("the lists do not tell what is in hand:\n%s", csv)
	}
	if !strings.Contains(strings.Join(w.Buy.Notes, " "), "not cut up, in hand: ") {
		t.Errorf("the short board is not told of: %q", w.Buy.Notes)
	}
}
