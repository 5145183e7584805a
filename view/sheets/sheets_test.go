package sheets_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/rules"
	"risewright/view/card"
	"risewright/view/drawing"
	"risewright/view/drawing/pdf"
	"risewright/view/sheets"
)

// lettering returns the text of a page in painting order.
func lettering(p *drawing.Page) []string {
	var out []string
	for _, it := range p.Items() {
		if it.Kind == drawing.KindText {
			out = append(out, it.Text.String)
		}
	}
	return out
}

// TestLayout looks on every page of every demo job, in both systems and on both
// papers, for lettering that is cut off or lies over other lettering.
func TestLayout(t *testing.T) {
	const unprinted = 5.0 // mm that printers leave blank
	for name, a := range answers(t) {
		for _, s := range []sheets.Size{sheets.A4, sheets.Letter} {
			for _, p := range sheets.All(a, metaFor(a, s)) {
				checkLayout(t, name+" "+string(s)+" "+p.Name, p.Pages, unprinted)
			}
		}
	}
}

func checkLayout(t *testing.T, name string, pages []drawing.Page, unprinted float64) {
	t.Helper()
	for i := range pages {
		pg := &pages[i]
		if err := pg.Check(); err != nil {
			t.Fatal(err)
		}
		lo, hi := drawing.Point{X: unprinted, Y: unprinted}, drawing.Point{X: pg.Width - unprinted, Y: pg.Height - unprinted}
		for _, fault := range drawing.TextFaults(&pg.List, lo, hi) {
			t.Errorf("%s page %d: %s", name, i+1, fault)
		}
		min, max := pg.Extent(drawing.Identity())
		if min.X < -0.5 || min.Y < 0 || max.X > pg.Width+0.5 || max.Y > pg.Height {
			t.Errorf("%s page %d draws outside the paper: %v to %v", name, i+1, min, max)
		}
	}
}

// TestLayoutOfOddJobs does the same for jobs that strain it: long names, odd
// characters, 2 and 40 steps, no readings, and a job that cannot be solved.
func TestLayoutOfOddJobs(t *testing.T) {
	a := answers(t)["tapering metric"]
	long := a.Job
	long.Name = strings.Repeat("Very long name ", 12)
	long.Place = strings.Repeat("an attic behind another attic, ", 8) + "\U0001F600\n\tend"
	long.Instruments = append(long.Instruments[:0:0], long.Instruments...)
	long.Instruments[0].Name = strings.Repeat("borrowed rods ", 9)
	long.Flight.Doors = append(long.Flight.Doors[:0:0], long.Flight.Doors...)
	for i := range 12 {
		long.Flight.Doors = append(long.Flight.Doors, model.Door{ID: model.NamedID(long.ID, fmt.Sprint("door ", i)), Name: strings.Repeat("cellar ", 9), Gap: 12, Clearance: 3})
	}
	longSteps := append(long.Flight.Steps[:0:0], long.Flight.Steps...)
	longSteps[0].Readings = append(longSteps[0].Readings[:0:0], longSteps[0].Readings...)
	longSteps[0].Readings[0].Typed = "914 and a little bit more than that \U0001F600"
	longSteps[0].Readings = append(longSteps[0].Readings, longSteps[0].Readings[0])
	longSteps[0].Readings[len(longSteps[0].Readings)-1].ID = model.NamedID(long.ID, "again")
	long.Flight.Steps = longSteps

	sketch := func(n int) model.Job {
		base := a.Job
		base.Name = fmt.Sprint(n, " steps")
		base.Flight = model.Flight{}
		return model.Sketch(model.SketchSpec{Risers: n, Width: 914, Rise: 190, Going: 254, Base: base,
			IDs: func(i int) model.ID { return model.NamedID(base.ID, fmt.Sprint("odd step ", i)) }})
	}
	bad := sketch(3)
	bad.Flight.Steps[1].Corners = nil
	for name, j := range map[string]model.Job{"long": long, "two": sketch(2), "forty": sketch(40), "bad": bad, "empty": {}} {
		for _, u := range []model.Units{model.Metric, model.Imperial} {
			j.Units = u
			ans := solver.Solve(j, tablesOf(t))
			m := metaFor(ans, sheets.SizeFor(u))
			m.Program = strings.Repeat("Risewright ", 9)
			m.Advice = []string{strings.Repeat("pack tread 4 by 3/16 and ", 40)}
			for _, p := range sheets.All(ans, m) {
				if len(p.Pages) == 0 {
					t.Errorf("%s: %s has no pages", name, p.Name)
				}
				checkLayout(t, name+" "+string(u)+" "+p.Name, p.Pages, 5)
			}
		}
	}
}

// TestEveryPageSays holds every page to the guarantees: job, revision, date,
// page n of m, and who decides.
func TestEveryPageSays(t *testing.T) {
	a := answers(t)["tapering imperial"]
	for _, p := range sheets.All(a, metaFor(a, sheets.Letter)) {
		for i := range p.Pages {
			text := strings.Join(lettering(&p.Pages[i]), "\n")
			for _, want := range []string{
				"Mill Cottage", fmt.Sprintf("survey revision %d", a.Job.Revision), "November 2026",
				fmt.Sprintf("page %d of %d", i+1, len(p.Pages)), rules.Deference,
			} {
				if !strings.Contains(text, want) {
					t.Errorf("%s page %d does not say %q", p.Name, i+1, want)
				}
			}
		}
	}
}

// TestSurveyShowsReadings looks for every reading as it was typed, and for the
// one to retake.
func TestSurveyShowsReadings(t *testing.T) {
	a := answers(t)["tapering imperial"]
	all := map[string]int{}
	var text []string
	for _, p := range sheets.Survey(a, metaFor(a, sheets.Letter)) {
		for _, s := range lettering(&p) {
			all[s]++
			text = append(text, s)
		}
	}
	typed := map[string]int{}
	for _, s := range a.Job.Flight.Steps {
		for _, r := range s.Readings {
			typed[card.SetFractions(r.Typed)]++
		}
	}
	if len(typed) < 50 {
		t.Fatalf("only %d different readings; the job proves little", len(typed))
	}
	for s, n := range typed {
		if all[s] < n {
			t.Errorf("%q was read %d times and is printed %d times", s, n, all[s])
		}
	}
	joined := strings.Join(text, "\n")
	for _, want := range []string{"RETAKE 2: gauge, back left", "STEP 14, landing nosing", "going at left: none at step 1", "Lead paint", "Asbestos", "licensed electrician"} {
		if !strings.Contains(joined, want) {
			t.Errorf("the survey sheet does not say %q", want)
		}
	}
}

// TestCardsAreAllThere counts the cards and holds the list of boards to the
// answer: as many released as the answer says, each with its settings.
func TestCardsAreAllThere(t *testing.T) {
	for name, a := range answers(t) {
		pages := sheets.Cards(a, metaFor(a, sheets.A4))
		front := len(pages) - (len(a.Cards)+1)/2
		if front < 1 {
			t.Fatalf("%s: %d pages for %d cards", name, len(pages), len(a.Cards))
		}
		list := strings.Join(lettering(&pages[0]), "\n")
		if want := fmt.Sprintf("%d boards: %d released", len(a.Cards), a.Released()); !strings.Contains(list, want) {
			t.Errorf("%s: the list does not say %q", name, want)
		}
		for i := range a.Cards {
			pg := &pages[front+i/2]
			text := strings.Join(lettering(pg), "\n")
			state := card.StateOf(&a.Pieces[i], &a.Cards[i])
			if !strings.Contains(text, a.Pieces[i].ID) || !strings.Contains(text, state.Banner()) {
				t.Errorf("%s: page %d does not show %s %s", name, front+i/2+1, a.Pieces[i].ID, state.Banner())
			}
		}
	}
}

// TestFindingsAreAllThere looks for the beginning of every finding's title.
func TestFindingsAreAllThere(t *testing.T) {
	for name, a := range answers(t) {
		var text []string
		for _, p := range sheets.Buildup(a, metaFor(a, sheets.Letter)) {
			text = append(text, lettering(&p)...)
		}
		joined := strings.ToLower(strings.Join(text, " "))
		for _, f := range a.Findings {
			for _, s := range []string{f.Title, f.Section, f.Remedy} {
				if !strings.Contains(joined, strings.ToLower(card.SetFractions(s))) {
					t.Errorf("%s: the findings do not say %q", name, s)
				}
			}
		}
	}
}

// TestSameBytes writes every paper twice, from answers solved apart.
func TestSameBytes(t *testing.T) {
	a := answers(t)["tapering imperial"]
	b := solver.Solve(a.Job, tablesOf(t))
	first, second := sheets.All(a, metaFor(a, sheets.Letter)), sheets.All(b, metaFor(b, sheets.Letter))
	for i := range first {
		x, y := written(t, first[i]), written(t, second[i])
		if !bytes.Equal(x, y) {
			t.Errorf("%s: the same job gives %d and %d bytes that differ", first[i].Name, len(x), len(y))
		}
	}
}

func written(t *testing.T, p sheets.Paper) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := pdf.Write(&out, p.Pages, pdf.Meta{Title: p.Title, Date: time.Unix(1.8e9, 0)}); err != nil {
		t.Fatalf("%s: %v", p.Name, err)
	}
	return out.Bytes()
}

// TestPdftotextFindsTheFigures reads the cards back with another program.
func TestPdftotextFindsTheFigures(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext (Debian poppler-utils) is not installed")
	}
	a := answers(t)["well-behaved metric"]
	file := filepath.Join(t.TempDir(), "cards.pdf")
	p := sheets.Paper{Name: "cards", Title: "Cut cards", Pages: sheets.Cards(a, metaFor(a, sheets.A4))}
	if err := os.WriteFile(file, written(t, p), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	text := string(out)
	f := a.Job.Format()
	for i := range a.Cards {
		pc, c := &a.Pieces[i], &a.Cards[i]
		for _, want := range []string{pc.ID, card.Number(f, pc.Figures.Back.Value), card.Number(f, pc.Figures.Front.Value), card.LieOf(pc, c.Ops)} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: pdftotext does not find %q", pc.ID, want)
			}
		}
		for k := range c.Ops {
			if c.Ops[k].End != "" && !strings.Contains(text, card.Setting(&c.Ops[k])) {
				t.Errorf("%s: pdftotext does not find %q", pc.ID, card.Setting(&c.Ops[k]))
			}
		}
	}
}

func TestNewest(t *testing.T) {
	at := func(h int) time.Time { return time.Date(2026, 11, 2, h, 0, 0, 0, time.UTC) }
	j := model.Job{Flight: model.Flight{Readings: []model.Reading{{Taken: at(9)}}, Steps: []model.Step{{}, {Readings: []model.Reading{{Taken: at(11)}, {Taken: at(10)}}}}}}
	if got := sheets.Newest(&j); !got.Equal(at(11)) {
		t.Errorf("newest %v, want %v", got, at(11))
	}
	if got := sheets.Newest(&model.Job{}); !got.IsZero() {
		t.Errorf("no reading gives %v", got)
	}
}

// TestCautions holds the cautions to what the work calls for, each with its
// standing and source.
func TestCautions(t *testing.T) {
	text := ""
	for _, c := range sheets.Cautions() {
		if c.Title == "" || c.Text == "" || c.Standing == "" || c.Source == "" {
			t.Errorf("%+v lacks a part", c)
		}
		text += strings.ToLower(c.Title + " " + c.Text + " ")
	}
	for _, want := range []string{"lead", "asbestos", "dust", "staples", "out of use", "electrician", "fire", "licensed", "rail", "structure"} {
		if !strings.Contains(text, want) {
			t.Errorf("no caution speaks of %q", want)
		}
	}
}
