package papers_test

import (
	"fmt"
	"image"
	"os"
	"strings"
	"testing"

	"risewright/app/demo"
	"risewright/app/papers"
	"risewright/app/tables"
	"risewright/app/tongue"
	"risewright/model"
	"risewright/solver"
	"risewright/view/drawing"
	"risewright/view/sheets"
	"risewright/view/words"
)

// unprinted is what printers leave blank at the edges, mm: common practice, no
// source.
const unprinted = 5.0

// strained returns a job of 30 steps whose names are as long as names get.
func strained(t *testing.T, like model.Job) model.Job {
	t.Helper()
	j := like
	j.Name = strings.Repeat("Very long name ", 12)
	j.Place = strings.Repeat("an attic behind another attic, ", 8)
	j.Notes = strings.Repeat("Nothing here is square and nobody knows why. ", 12)
	j.Instruments = append(j.Instruments[:0:0], j.Instruments...)
	for i := range j.Instruments {
		j.Instruments[i].Name = strings.Repeat("borrowed rods ", 6) + fmt.Sprint(i)
	}
	flight := j.Flight
	j.Flight = model.Flight{}
	j = model.Sketch(model.SketchSpec{Risers: 30, Width: 914, Rise: 190, Going: 254, Base: j,
		IDs: func(i int) model.ID { return model.NamedID(like.ID, fmt.Sprint("strained ", i)) }})
	for i := range 12 {
		d := flight.Doors[0]
		d.ID, d.Name = model.NamedID(j.ID, fmt.Sprint("door ", i)), strings.Repeat("cellar ", 9)
		j.Flight.Doors = append(j.Flight.Doors, d)
	}
	tb := published(t)
	for _, e := range []model.Edit{
		model.SetLighting{Lighting: model.FirstLighting(j, tb.Lights)},
		model.SetSensing{Sensing: model.FirstSensing(j, tb.Senses)},
	} {
		var err error
		if j, err = e.Apply(j); err != nil {
			t.Fatal(err)
		}
	}
	return j
}

// scheduled is a job whose first day of work is set, so that its papers have
// dates.
func scheduled(j model.Job) model.Job {
	j.Shop.Start, j.Shop.Currency = "2026-12-09", "EUR"
	return j
}

// flightOf is a flight of so many risers, read in full, with bars and sensors.
func flightOf(t *testing.T, n int) model.Job {
	t.Helper()
	j, err := demo.Long(n)
	if err != nil {
		t.Fatal(err)
	}
	return scheduled(j)
}

func published(t *testing.T) model.Tables {
	t.Helper()
	tb, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	return tb
}

// speak has everything said in a language; "en" is how it is written.
func speak(t *testing.T, code string) {
	t.Helper()
	b, err := tongue.Book(code)
	if err != nil {
		t.Fatal(err)
	}
	words.Speak(b)
	t.Cleanup(func() { words.Speak(nil) })
}

// pretended are pictures to lay the proposal out with: what they show does not
// matter.
func pretended(t *testing.T) []sheets.Shot {
	t.Helper()
	p, err := drawing.NewPicture(image.NewGray(image.Rect(0, 0, 16, 10)))
	if err != nil {
		t.Fatal(err)
	}
	var out []sheets.Shot
	for _, s := range []string{"the evening, from the hall", "by day", "at night, with somebody half way up", "before and after, by day"} {
		out = append(out, sheets.Shot{Title: s, Picture: p})
	}
	return out
}

// TestEveryPaperIsWhole looks at every page of every paper and template, for
// lettering that is cut off, leaves its box or the page, lies over other
// lettering or under a fill, or is struck through. In the short run each job is
// looked at once; RISEWRIGHT_FULL=1 tries every job in both systems, on both
// papers and in both languages.
func TestEveryPaperIsWhole(t *testing.T) {
	tb := published(t)
	jobs := map[string]model.Job{}
	ds, err := demo.Jobs()
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range ds {
		jobs[d.Name] = d.Job
	}
	jobs["strained"] = strained(t, jobs["tapering"])
	if jobs["sketched"], err = tables.NewJob(model.Metric, nil); err != nil {
		t.Fatal(err)
	}
	jobs["scheduled"] = scheduled(jobs["tapering"])
	jobs["3 steps"], jobs["30 steps"] = flightOf(t, 3), flightOf(t, 30)
	type combination struct {
		job  string
		unit model.Units
		size sheets.Size
		say  string
	}
	list := []combination{
		{"tapering", model.Metric, sheets.A4, "en"}, {"well-behaved", model.Imperial, sheets.Letter, "de"}, {"unfinished", model.Imperial, sheets.A4, "en"},
		{"winding", model.Metric, sheets.Letter, "de"}, {"strained", model.Imperial, sheets.Letter, "en"}, {"sketched", model.Metric, sheets.A4, "de"},
		{"scheduled", model.Imperial, sheets.Letter, "en"}, {"scheduled", model.Metric, sheets.A4, "de"}, {"3 steps", model.Imperial, sheets.Letter, "de"}, {"30 steps", model.Metric, sheets.A4, "en"},
	}
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		list = []combination{{"100 steps", model.Metric, sheets.A4, "en"}}
		jobs["100 steps"] = flightOf(t, 100)
		for job := range jobs {
			for _, u := range []model.Units{model.Metric, model.Imperial} {
				for _, s := range []sheets.Size{sheets.A4, sheets.Letter} {
					for _, say := range []string{"en", "de"} {
						list = append(list, combination{job, u, s, say})
					}
				}
			}
		}
	}
	works := map[string]*solver.Work{}
	for _, c := range list {
		t.Run(fmt.Sprint(c.job, " ", c.unit, " ", c.size, " ", c.say), func(t *testing.T) {
			key := c.job + string(c.unit)
			w := works[key]
			if w == nil {
				j := jobs[c.job]
				j.Units = c.unit
				w = solver.Plan(solver.Solve(j, tb), tb)
				works[key] = w
			}
			speak(t, c.say)
			m := papers.MetaOf(&w.Answer.Job, "Risewright 1.0", c.size)
			m.Shots = pretended(t)
			m.Advice = papers.Advice(solver.Advise(w.Answer, tb))
			sense := solver.Sense(w.Answer, tb, nil)
			all := papers.Papers(w.Answer, w, &sense, tb, m)
			cut, err := papers.TemplatePapers(w.Answer, w, m)
			if err != nil {
				t.Fatal(err)
			}
			pages := 0
			for _, p := range append(all, cut...) {
				pages += len(p.Pages)
				if c.job == "100 steps" {
					continue // no house has them: its drawings are crowded, and it is enough that they are there
				}
				for i := range p.Pages {
					for _, f := range faults(&p.Pages[i], c.job != "strained") {
						t.Errorf("%s, page %d: %s", p.Name, i+1, f)
					}
				}
			}
			if pages < 10 {
				t.Errorf("only %d pages: the papers are not all here", pages)
			}
		})
	}
}

// faults returns what is wrong with the lettering of a page. Names that are too
// long for their place may be cut, which the page then shows by three dots;
// nothing else may.
func faults(p *drawing.Page, uncut bool) []string {
	lo, hi := drawing.Point{X: unprinted, Y: unprinted}, drawing.Point{X: p.Width - unprinted, Y: p.Height - unprinted}
	out := append(drawing.TextFaults(&p.List, lo, hi), drawing.CellFaults(&p.List)...)
	if err := p.Check(); err != nil {
		out = append(out, err.Error())
	}
	for _, it := range p.Items() {
		if uncut && strings.HasSuffix(it.Text.String, "…") {
			out = append(out, fmt.Sprintf("%q is cut off", it.Text.String))
		}
	}
	return out
}

// TestPlantedFaultsAreFound lays over real pages what must not be there, so that
// the check above is known to be able to fail on them.
func TestPlantedFaultsAreFound(t *testing.T) {
	a, w := tapering(t)
	m := papers.MetaOf(&a.Job, "Risewright 1.0", sheets.A4)
	m.NoShots = "none in this test"
	sense := solver.Sense(a, published(t), nil)
	tried := 0
	for _, p := range papers.Papers(a, w, &sense, published(t), m) {
		page := &p.Pages[0]
		if was := faults(page, true); was != nil {
			t.Fatalf("%s has faults before any is planted: %q", p.Name, was)
		}
		// any word of the page that is upright and not lettered on a drawing
		var on drawing.Text
		for _, it := range page.Items() {
			if it.Kind == drawing.KindText && it.Text.Angle == 0 && !it.Text.Halo && len(it.Text.String) > 6 {
				on = it.Text
				break
			}
		}
		if on.String == "" {
			t.Fatalf("%s has no word to plant on", p.Name)
		}
		tried++
		plant := func(what, want string, draw func(l *drawing.List)) {
			planted := drawing.Page{Width: page.Width, Height: page.Height}
			planted.Append(&page.List, drawing.Identity())
			draw(&planted.List)
			if got := strings.Join(faults(&planted, true), "\n"); !strings.Contains(got, want) {
				t.Errorf("%s: %s on its first page is not found: %q", p.Name, what, got)
			}
		}
		plant("a word over a word", "lies over", func(l *drawing.List) {
			l.Text(drawing.Text{At: on.At.Add(drawing.Point{Y: 0.5}), Align: on.Align, Size: 3, String: "planted"})
		})
		plant("a word over the edge", "reaches outside", func(l *drawing.List) {
			l.Text(drawing.Text{At: drawing.Point{X: page.Width - 12, Y: page.Height / 2}, Size: 3, String: "planted here"})
		})
		plant("a fill over a word", "painted over", func(l *drawing.List) {
			l.Circle(on.At, 3, drawing.Fill{Ink: drawing.Paper}, drawing.Stroke{})
		})
		plant("a word that is cut off", "is cut off", func(l *drawing.List) {
			l.Text(drawing.Text{At: drawing.Point{X: 20, Y: 7}, Size: 2, String: "plan…"})
		})
		plant("a word too long for its box", "runs out of its box", func(l *drawing.List) {
			l.Polygon([]drawing.Point{{X: 20, Y: 50}, {X: 27, Y: 50}, {X: 27, Y: 56}, {X: 20, Y: 56}}, drawing.Fill{}, drawing.Stroke{Ink: drawing.Line})
			l.Text(drawing.Text{At: drawing.Point{X: 21, Y: 52}, Size: 3, String: "planted"})
		})
	}
	if tried < 15 {
		t.Errorf("planted on %d papers only", tried)
	}
}
