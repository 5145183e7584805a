package panel_test

import (
	"slices"
	"strings"
	"testing"

	"risewright/app/papers"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/saw"
	"risewright/view/card"
	"risewright/view/drawing"
	"risewright/view/panel"
	"risewright/view/sheets"
)

const cardTab = 1

// lettered returns the texts of a list in the order they are painted.
func lettered(l *drawing.List) []string {
	var out []string
	for _, it := range l.Items() {
		if it.Kind == drawing.KindText {
			out = append(out, it.Text.String)
		}
	}
	return out
}

// cardShown returns what the card tab shows, laid out in a room of so many mm,
// without the stamp at its foot.
func (r *rig) cardShown(width, height float64) []string {
	r.t.Helper()
	s := panel.Scenes(r.d)["card"]
	var l drawing.List
	s.Draw(&l, s.Fit(width, height, 1))
	return slices.DeleteFunc(lettered(&l), func(t string) bool { return strings.Contains(t, "survey revision") })
}

// cardPaper returns the texts of every card among the papers of a job, in the
// order of the pieces, and the room that each has.
func cardPaper(t *testing.T, r *rig, w *solver.Work) (texts [][]string, width, height float64) {
	t.Helper()
	a := r.s.Answer()
	for _, p := range papers.Papers(a, w, nil, r.s.Tables(), papers.MetaOf(&a.Job, "test", sheets.A4)) {
		if p.Name != "cut-cards.pdf" {
			continue
		}
		front := len(p.Pages) - (len(a.Cards)+1)/2
		for i := front; i < len(p.Pages); i++ {
			texts = append(texts, lettered(&p.Pages[i].List))
		}
		pg := p.Pages[front]
		return texts, pg.Width - 2*9, (pg.Height - 7 - 11 - 4) / 2
	}
	t.Fatal("there are no cut cards among the papers")
	return nil, 0, 0
}

// holds says whether page has all the lines of part, one right after the other.
func holds(page, part []string) bool {
	for i := 0; i+len(part) <= len(page); i++ {
		if slices.Equal(page[i:i+len(part)], part) {
			return true
		}
	}
	return false
}

// TestTabAndPaperShowOneBoard: once the plan is known, the tab's card says word
// for word what the paper's card says, for every piece, and the blank is the one
// that the map cuts.
func TestTabAndPaperShowOneBoard(t *testing.T) {
	changed := 0
	for _, name := range []string{"tapering", "winding"} {
		r := newRig(t, demoJob(t, name))
		r.b.ShowTab(cardTab)
		r.planned()
		w, fresh := r.d.Work()
		if w == nil || !fresh {
			t.Fatalf("%s: the card tab asks for no plan", name)
		}
		pages, width, height := cardPaper(t, r, w)
		a := r.s.Answer()
		for i := range a.Pieces {
			id := a.Pieces[i].ID
			r.d.ChoosePiece(id)
			got := r.cardShown(width, height)
			if !slices.Contains(got, id) {
				t.Fatalf("%s: the tab shows %q for %s", name, got, id)
			}
			page := slices.DeleteFunc(slices.Clone(pages[i/2]), func(t string) bool { return strings.Contains(t, "survey revision") })
			if !holds(page, got) {
				t.Errorf("%s: the tab says of %s\n%q\nand its paper\n%q", name, id, got, page)
			}
			if card.StateOf(&a.Pieces[i], &a.Cards[i]).Figures() && w.Cards[i].Blank != a.Cards[i].Blank {
				changed++
			}
		}
	}
	if changed < 20 {
		t.Errorf("only %d cards lie on another blank than their own: the test shows too little", changed)
	}
}

// TestTheTabSaysWhatBoardItShows: before the plan is known, and while another is
// worked out, the card says so, and what it shows until then makes the piece.
func TestTheTabSaysWhatBoardItShows(t *testing.T) {
	r := newRig(t, demoJob(t, "tapering"))
	a := r.s.Answer()
	var id string
	w := solver.Plan(a, r.s.Tables())
	i := slices.IndexFunc(a.Cards, func(c saw.Card) bool {
		return c.Proof.OK && c.Blank != w.Cards[a.Piece(c.Piece)].Blank
	})
	id = a.Pieces[i].ID
	size := func(c *saw.Card) string { s, _ := card.Blank(c, a.Job.Format()); return s }
	own, mapped := size(&a.Cards[i]), size(&w.Cards[i])
	if own == mapped {
		t.Fatalf("%s: the map cuts %s, which is its own", id, mapped)
	}
	says := func(when string, wants ...string) {
		t.Helper()
		text := strings.Join(r.cardShown(180, 120), "\n")
		for _, want := range wants {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is not on the card:\n%s", when, want, text)
			}
		}
	}
	r.d.ChoosePiece(id)
	r.b.ShowTab(cardTab)
	says("before the plan", "smallest that would do: "+own, "the blank map may cut another")
	r.planned()
	says("with the plan", "take a blank of "+mapped)
	if text := strings.Join(r.cardShown(180, 120), "\n"); strings.Contains(text, "blank map") {
		t.Error("the plan is known, and the card hedges")
	}
	// Another name for the job changes no board: the card stays, and says that it
	// is that of the map before.
	details := model.DetailsOf(r.s.Job())
	details.Name = "another"
	if r.d.Do(details) != nil {
		t.Fatal(r.errs)
	}
	says("while it is planned anew", "take a blank of "+mapped, "by the blank map before the last change")
	r.planned()
	says("planned anew", "take a blank of "+mapped)
}
