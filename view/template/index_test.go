package template_test

import (
	"fmt"
	"strings"
	"testing"

	"risewright/app/demo"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/pieces"
	"risewright/solver/skirt"
	"risewright/solver/survey"
	"risewright/view/drawing"
	"risewright/view/template"
)

// TestIndexOfDemoJobs lists every piece of every demo job on both papers, once,
// with nothing cut off or lying over other lettering.
func TestIndexOfDemoJobs(t *testing.T) {
	tb, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	jobs, err := demo.Jobs()
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range jobs {
		for _, u := range []model.Units{model.Metric, model.Imperial} {
			j := d.Job
			j.Units = u
			a := solver.Solve(j, tb)
			items := template.Items(a, skirt.Make(a.Job, a.Survey, &a.Buildup, a.Pieces, skirt.Spec{}), skirt.Profile{})
			boards := 2 // a side each; no straight board follows a flight that winds
			if d.Name == "winding" {
				boards = 0
			}
			if len(items) < len(a.Pieces)+boards {
				t.Fatalf("%s: %d items for %d pieces", d.Name, len(items), len(a.Pieces))
			}
			for _, paper := range [][2]float64{{210, 297}, {215.9, 279.4}} {
				pages := template.Index(items, paper[0], paper[1], j.Format(), options())
				var all []string
				for i := range pages {
					p := &pages[i]
					for _, fault := range drawing.TextFaults(&p.List, drawing.Point{X: 5, Y: 5}, drawing.Point{X: p.Width - 5, Y: p.Height - 5}) {
						t.Errorf("%s %s: %s", d.Name, u, fault)
					}
					for _, it := range p.Items() {
						if it.Kind == drawing.KindText {
							all = append(all, it.Text.String)
						}
					}
					if !strings.Contains(words(p), fmt.Sprintf("page %d of %d", i+1, len(pages))) {
						t.Errorf("%s: page %d does not say so", d.Name, i+1)
					}
				}
				for i := range items {
					n := 0
					for _, s := range all {
						if s == items[i].Shape.ID {
							n++
						}
					}
					if n != 1 {
						t.Errorf("%s: %s is listed %d times", d.Name, items[i].Shape.ID, n)
					}
				}
			}
			for i := range a.Pieces {
				p := &a.Pieces[i]
				if p.Template != "" && p.Why == p.Template {
					continue // no card releases it; its step decides
				}
				if released := p.Released; released != (items[i].Shape.Held == "") {
					t.Errorf("%s %s: released %v, held %q", d.Name, a.Pieces[i].ID, released, items[i].Shape.Held)
				}
			}
		}
	}
}

// TestWindersAreOffered: a board that no card makes is marked as needing its
// template, and is held by its step and not by having no card.
func TestWindersAreOffered(t *testing.T) {
	job, res, ps := flight(5)
	a := &solver.Answer{Job: job, Survey: res, Pieces: ps}
	at := a.Piece("T03")
	if ps[at].Template == "" || ps[at].Released {
		t.Fatalf("T03 is no winder: %+v", ps[at])
	}
	state := func() (template.Item, []template.Item) {
		items := template.Items(a, nil, skirt.Profile{})
		return items[at], items
	}
	it, items := state()
	if !it.Needed || it.Why != "" || it.Shape.Held != "" || len(it.Shape.Lines) == 0 {
		t.Errorf("the winder: %+v", it)
	}
	for i := range items {
		if i != at && ps[i].Kind == pieces.Tread && items[i].Needed {
			t.Errorf("%s needs its template, too", items[i].Shape.ID)
		}
	}
	res.Steps[2].Readiness, res.Steps[2].Why = survey.ReadyBuy, "read over carpet"
	if it, _ := state(); it.Shape.Held != "step 3 is not ready for the saw: read over carpet" {
		t.Errorf("held by %q", it.Shape.Held)
	}
	if why := template.HeldSkirt(a); why == "" {
		t.Error("a skirt may be cut while step 3 is not known")
	}
	res.Steps[2].Readiness = survey.ReadyCut
	res.Status = survey.Status("no")
	if it, _ := state(); !strings.Contains(it.Shape.Held, "did not settle") {
		t.Errorf("held by %q", it.Shape.Held)
	}
	res.Status = survey.Converged
	ps[at].Figures.Front.PlusMinus = 5
	if it, _ := state(); !strings.Contains(it.Shape.Held, "one of its lengths is known to") {
		t.Errorf("held by %q", it.Shape.Held)
	}
	ps[at].Impossible = "no room"
	if it, _ := state(); it.Why != "no room" || len(it.Shape.Lines) != 0 {
		t.Errorf("impossible: %+v", it)
	}
}
