package sheets_test

import (
	"fmt"
	"strings"
	"testing"

	"risewright/app/demo"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/view/card"
	"risewright/view/sheets"
)

// Every baluster of the demo that winds has a row with its number, tread and
// what is cut off it, on both papers and in both systems; a job without any has
// no such paper.
func TestBalustersPaper(t *testing.T) {
	ds, err := demo.Jobs()
	if err != nil {
		t.Fatal(err)
	}
	tab, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range ds {
		for _, u := range []model.Units{model.Metric, model.Imperial} {
			for _, size := range []sheets.Size{sheets.A4, sheets.Letter} {
				j := d.Job
				j.Units = u
				if d.Name == "winding" { // one not measured, and one whose tread comes lower
					steps := append([]model.Step(nil), j.Flight.Steps...)
					steps[1].Balusters = append([]model.Baluster(nil), steps[1].Balusters...)
					steps[1].Balusters[0].Length = 0
					steps[2].PackLeft, steps[2].PackRight = -25, -25
					j.Flight.Steps = steps
				}
				a := solver.Solve(j, tab)
				papers := sheets.Balusters(a, metaFor(a, size))
				if len(a.Balusters) == 0 {
					if len(papers) != 0 {
						t.Errorf("%s: a paper of no balusters", d.Name)
					}
					continue
				}
				if len(papers) != 1 {
					t.Fatalf("%s: %d papers", d.Name, len(papers))
				}
				name := fmt.Sprintf("%s %s %s", d.Name, u, size)
				checkLayout(t, name, papers[0].Pages, 5)
				text := strings.Join(lettering(&papers[0].Pages[0]), "\n")
				for _, b := range a.Balusters {
					want := []string{fmt.Sprintf("%s %d", b.Side, b.Number)}
					if b.Cut >= 0 {
						want = append(want, card.Number(j.Format(), b.Cut))
					}
					if b.Old > 0 {
						want = append(want, card.Number(j.Format(), b.New))
					}
					for _, w := range want {
						if !strings.Contains(text, w) {
							t.Errorf("%s: no %q", name, w)
						}
					}
				}
				for _, want := range []string{"1 bar was not measured", "short by", "FALLS"} {
					if !strings.Contains(text, want) {
						t.Errorf("%s: nowhere: %s", name, want)
					}
				}
			}
		}
	}
}
