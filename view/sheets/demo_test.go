package sheets_test

import (
	"os"
	"path/filepath"
	"sync"
	"testing"

	"risewright/app/demo"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/view/drawing/pdf"
	"risewright/view/sheets"
)

// solved are the answers to the demo jobs in both systems of units, made once:
// tests only read them.
var solved = sync.OnceValues(func() (map[string]*solver.Answer, error) {
	t, err := tables.Published()
	if err != nil {
		return nil, err
	}
	jobs, err := demo.Jobs()
	if err != nil {
		return nil, err
	}
	out := map[string]*solver.Answer{}
	for _, d := range jobs {
		for _, u := range []model.Units{model.Metric, model.Imperial} {
			j := d.Job
			j.Units = u
			out[d.Name+" "+string(u)] = solver.Solve(j, t)
		}
	}
	return out, nil
})

func answers(t *testing.T) map[string]*solver.Answer {
	t.Helper()
	a, err := solved()
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func tablesOf(t *testing.T) model.Tables {
	t.Helper()
	tb, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	return tb
}

func metaFor(a *solver.Answer, s sheets.Size) sheets.Meta {
	m := sheets.MetaOf(&a.Job, "Risewright test")
	m.Paper = s
	m.Advice = []string{"raise both floors by 20 mm: every rise stays what it was", "pack tread 1 by 6 mm and plane tread 13 by 2 mm"}
	return m
}

// TestLook writes the papers for eyes when RISEWRIGHT_LOOK names a folder.
func TestLook(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write papers for eyes")
	}
	for name, a := range answers(t) {
		for _, s := range []sheets.Size{sheets.A4, sheets.Letter} {
			m := metaFor(a, s)
			for _, p := range sheets.All(a, m) {
				f, err := os.Create(filepath.Join(dir, name+" "+string(s)+" "+p.Name))
				if err != nil {
					t.Fatal(err)
				}
				if err := pdf.Write(f, p.Pages, pdf.Meta{Title: p.Title, Date: m.Date}); err != nil {
					t.Error(err)
				}
				if err := f.Close(); err != nil {
					t.Error(err)
				}
			}
		}
	}
}
