package command_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"risewright/app/report"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
	"risewright/view/card"
)

// TestSolveSaysWhatThePapersSay: the cards that solve prints, as text and as JSON,
// are those of the papers, on the blanks that the blank map cuts.
func TestSolveSaysWhatThePapersSay(t *testing.T) {
	tab, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	other := 0
	for _, name := range []string{"tapering", "well-behaved"} {
		job, err := model.Decode([]byte(demoText(t, name)))
		if err != nil {
			t.Fatal(err)
		}
		a := solver.Solve(job, tab)
		w := solver.Plan(a, tab)

		var got report.Wire
		if err := json.Unmarshal([]byte(plain("solve", "demo:"+name, "--json").out), &got); err != nil {
			t.Fatal(err)
		}
		want := report.WireOf(w.OnMap(a), buildup.Mending{}).Cards
		if len(got.Cards) != len(a.Pieces) {
			t.Fatalf("%s: %d cards for %d pieces", name, len(got.Cards), len(a.Pieces))
		}
		for i := range want {
			if d := cmp.Diff(want[i], got.Cards[i]); d != "" {
				t.Errorf("%s: the JSON of %s is not its paper's:\n%s", name, want[i].Piece, d)
			}
			if want[i].Blank != nil && a.Cards[i].Blank.Length != want[i].Blank.Length {
				other++
			}
		}

		text := strings.Join(strings.Fields(plain("solve", "demo:"+name).out), " ")
		for i := range w.Cards {
			c := &w.Cards[i]
			if card.StateOf(&a.Pieces[i], c) != card.Released {
				continue
			}
			size, stock := card.Blank(c, job.Format())
			size = strings.TrimSuffix(strings.TrimSuffix(strings.ReplaceAll(size, "⁄", "/"), ` mm`), `"`)
			line := fmt.Sprintf("blank %s from stock %s", size, strings.ReplaceAll(stock, "⁄", "/"))
			at := strings.Index(text, " "+c.Piece+" RELEASED")
			if at < 0 || !strings.HasPrefix(text[at+strings.Index(text[at:], "blank "):], line) {
				t.Errorf("%s: the text of %s does not say %q", name, c.Piece, line)
			}
		}
	}
	if other < 10 {
		t.Errorf("%d cards lie on another length than their own: the test shows too little", other)
	}
	if !slices.ContainsFunc(strings.Split(plain("solve", "demo:tapering").out, "\n"), func(l string) bool { return strings.Contains(l, "Blanks are those of") }) {
		t.Error("the text does not say where its blanks come from")
	}
}
