package solver_test

import (
	"reflect"
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/saw"
)

// TestOnMapIsWhatPlanCuts: the blank map alone gives the cards of the whole plan,
// for jobs with light bars, with skirts, with boards in hand, and with prices of
// their own.
func TestOnMapIsWhatPlanCuts(t *testing.T) {
	tab := published(t)
	moved := 0
	for _, name := range []string{"well-behaved", "tapering", "unfinished", "winding"} {
		for _, hand := range []bool{false, true} {
			job := load(t, name)
			if hand {
				job.Shop.Hand = []model.OwnBoard{
					{Use: model.UseTread, Length: 2500, Width: 400, Count: 2},
					{Use: model.UseRiser, Length: 2400, Width: 260},
				}
				job.Shop.Prices = []model.OwnPrice{{ID: tab.Goods.Boards[0].ID, Price: 1}}
			}
			a := solver.Solve(job, tab)
			w := solver.Plan(a, tab)
			b := solver.OnMap(a, tab)
			if !reflect.DeepEqual(b.Cards, w.Cards) {
				t.Errorf("%s, boards in hand %v: the map alone gives other cards than the plan", name, hand)
			}
			if got := w.OnMap(a); !reflect.DeepEqual(got.Cards, w.Cards) || !reflect.DeepEqual(got.Pieces, a.Pieces) {
				t.Errorf("%s: the plan puts other cards into the answer", name)
			}
			rips := map[string]float64{}
			for _, r := range w.Buy.Rips {
				rips[r.Piece] = r.From
			}
			for i := range b.Cards {
				c, own := &b.Cards[i], &a.Cards[i]
				if !own.Proof.OK {
					continue
				}
				if !c.Proof.OK {
					t.Errorf("%s: %s has lost its proof", name, c.Piece)
				}
				if from := rips[c.Piece]; from > 0 && c.Blank.Width != from {
					t.Errorf("%s: the card of %s takes a board %.1f wide, the rip list one of %.1f", name, c.Piece, c.Blank.Width, from)
				}
				if c.Blank != own.Blank {
					moved++
				}
				for _, n := range c.Notes { // of another board, or of a cut that the map makes
					if strings.Contains(n, "rough blank") {
						t.Errorf("%s: %s on the map's blank still says %q", name, c.Piece, n)
					}
				}
			}
		}
	}
	if moved < 100 {
		t.Errorf("only %d cards lie on another blank than their own", moved)
	}
	none := solver.Solve(model.Job{}, tab)
	if got := solver.OnMap(none, tab); got != none {
		t.Error("a job that cannot be solved has a blank map")
	}
	if got := (*solver.Work)(nil).OnMap(none); got != none {
		t.Error("no plan changes the answer")
	}
}

// TestMissingBlanksHaveNoStock: what no listed board holds is not sold as anything,
// has the size that the buying list asks for, and the card says what to do.
func TestMissingBlanksHaveNoStock(t *testing.T) {
	tab := published(t)
	a := solver.Solve(load(t, "unfinished"), tab)
	w := solver.Plan(a, tab)
	asked := 0
	for _, b := range w.Buy.Missing {
		i := a.Piece(b.Piece)
		if i < 0 || !a.Cards[i].Proof.OK { // a spare
			continue
		}
		asked++
		c := &w.Cards[i]
		if c.Blank.Stock != "" || c.Blank.Length != b.Length || c.Blank.Width != b.Width {
			t.Errorf("%s: the list asks for %.1f by %.1f, the card takes %+v", b.Piece, b.Length, b.Width, c.Blank)
		}
		if !strings.Contains(strings.Join(c.Notes, "; "), "no listed board holds this blank") {
			t.Errorf("%s: its card does not say that its blank must be ordered: %q", b.Piece, c.Notes)
		}
	}
	if asked == 0 {
		t.Error("every board is listed: the test shows nothing")
	}
}

// TestCardForAChangedJob: while another plan is awaited, the card of a piece that
// has changed lies on the blank it had, with marks of its own, or says no.
func TestCardForAChangedJob(t *testing.T) {
	tab := published(t)
	job := load(t, "tapering")
	a := solver.Solve(job, tab)
	w := solver.Plan(a, tab)
	at := func(a *solver.Answer, i int) (saw.Card, bool) { return w.CardFor(a, i) }
	for i := range a.Pieces {
		if c, ok := at(a, i); ok != a.Cards[i].Proof.OK || ok && !reflect.DeepEqual(c, w.Cards[i]) {
			t.Fatalf("%s: the same job has another card", a.Pieces[i].ID)
		}
	}
	thick := job
	thick.Overlay.Tread += 5
	b := solver.Solve(thick, tab)
	refused := 0
	for i := range b.Pieces {
		c, ok := at(b, i)
		switch {
		case ok && c.Blank.Thickness != b.Cards[i].Blank.Thickness:
			t.Errorf("%s: its card takes a board of another thickness", c.Piece)
		case ok && !c.Proof.OK:
			t.Errorf("%s: its card is not proved", c.Piece)
		case !ok:
			refused++
		}
	}
	if refused == 0 || refused == len(b.Pieces) {
		t.Errorf("%d of %d boards stay on the old map with another thickness of tread", refused, len(b.Pieces))
	}
}
