package sheets_test

import (
	"fmt"
	"image"
	"image/color"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/rules"
	"risewright/view/drawing"
	"risewright/view/drawing/pdf"
	"risewright/view/sheets"
)

// shots are pictures of nothing in the proportions of real ones.
func shots(t *testing.T, n int) []sheets.Shot {
	t.Helper()
	var out []sheets.Shot
	for i := range n {
		m := image.NewRGBA(image.Rect(0, 0, 96, 60))
		for y := range 60 {
			for x := range 96 {
				m.SetRGBA(x, y, color.RGBA{uint8(40 * i), uint8(2 * x), uint8(3 * y), 255})
			}
		}
		p, err := drawing.NewPicture(m)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, sheets.Shot{Title: fmt.Sprintf("view number %d", i+1), Picture: p})
	}
	return out
}

// client returns the two papers for the household.
func client(t *testing.T, w *solver.Work, s sheets.Size, pictures int) []sheets.Paper {
	t.Helper()
	m := metaFor(w.Answer, s)
	return []sheets.Paper{sheets.Client(w, m, shots(t, pictures)), sheets.Handover(w, m)}
}

func TestClientPapersLayOut(t *testing.T) {
	for name, w := range works(t) {
		for _, s := range []sheets.Size{sheets.A4, sheets.Letter} {
			for _, p := range client(t, w, s, 4) {
				checkLayout(t, name+" "+string(s)+" "+p.Name, p.Pages, 5)
				for i := range p.Pages {
					finds(t, fmt.Sprintf("%s %s page %d", name, p.Name, i+1), strings.Join(lettering(&p.Pages[i]), "\n"),
						fmt.Sprintf("survey revision %d", w.Answer.Job.Revision), fmt.Sprintf("page %d of %d", i+1, len(p.Pages)), rules.Deference)
				}
			}
		}
	}
}

// pictures counts the pictures on the pages and checks that each is inside
// its page, and that none lies over another.
func pictures(t *testing.T, p sheets.Paper) int {
	t.Helper()
	n := 0
	for i := range p.Pages {
		page := &p.Pages[i]
		var boxes [][2]drawing.Point
		for _, it := range page.Items() {
			if it.Kind != drawing.KindPicture {
				continue
			}
			n++
			a, b := it.Points[0], it.Points[1]
			if a.X < 0 || a.Y < 0 || b.X > page.Width || b.Y > page.Height || b.X-a.X < 40 {
				t.Errorf("page %d: a picture from %v to %v", i+1, a, b)
			}
			for _, o := range boxes {
				if a.X < o[1].X && o[0].X < b.X && a.Y < o[1].Y && o[0].Y < b.Y {
					t.Errorf("page %d: a picture lies over another", i+1)
				}
			}
			boxes = append(boxes, [2]drawing.Point{a, b})
		}
	}
	return n
}

func TestProposalShowsEveryPicture(t *testing.T) {
	for name, w := range works(t) {
		for n := range 6 {
			p := client(t, w, sheets.A4, n)[0]
			want := n
			if w.Answer.Survey == nil {
				want = 0
			}
			if got := pictures(t, p); got != want {
				t.Errorf("%s: %d pictures shown of %d", name, got, want)
			}
			if n == 0 && w.Answer.Survey != nil {
				finds(t, name, words(&p), "MISSING", "there are no pictures")
			}
		}
	}
}

// TestProposalSays: the rises before and after, the price and the nights are
// those of the work, and a proposal without one of them says so.
func TestProposalSays(t *testing.T) {
	priced, dated := 0, 0
	for name, w := range works(t) {
		if w.Answer.Survey == nil {
			finds(t, name, words(&client(t, w, sheets.A4, 0)[0]), "MISSING", "could not be solved")
			continue
		}
		text := words(&client(t, w, sheets.A4, 1)[0])
		if noReadings(w) {
			finds(t, name, text, "MISSING", sketchOnly, "no rise is measured")
			if strings.Contains(flat(text), "first rise") {
				t.Errorf("%s: rises are said that nobody measured", name)
			}
		} else {
			finds(t, name, text, "first rise", "last rise")
		}
		finds(t, name, text, "not in this proposal", "asbestos", "licensed electrician")
		if w.Money.Total.High > 0 {
			priced++
			finds(t, name, text, fmt.Sprintf("%.0f", w.Money.Total.Low), fmt.Sprintf("%.0f", w.Money.Total.High))
		} else {
			finds(t, name, text, "there is no price")
		}
		if len(w.Calendar.Days) > 0 {
			dated++
			finds(t, name, text, w.Calendar.Days[0].Date.Format("Mon 2 Jan 2006"))
		} else {
			finds(t, name, text, "there are no dates")
		}
	}
	if priced == 0 || dated == 0 {
		t.Errorf("%d proposals with a price and %d with dates: nothing was checked", priced, dated)
	}
}

// TestHandoverSays: lights bring their settings, spares and repairs; a stair
// without them has none of it.
func TestHandoverSays(t *testing.T) {
	tb, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	plain := works(t)["unfinished"]
	if plain == nil {
		for name, w := range works(t) {
			if strings.HasPrefix(name, "unfinished") {
				plain = w
			}
		}
	}
	job := plain.Answer.Job
	job.Lighting = model.FirstLighting(job, tb.Lights)
	lit := solver.Plan(solver.Solve(job, tb), tb)
	dark, light := words(&client(t, plain, sheets.A4, 0)[1]), words(&client(t, lit, sheets.A4, 0)[1])
	finds(t, "without lights", dark, "a scratch", "still to do")
	finds(t, "with lights", light, "a scratch", "walk-through", "spare bar", "licensed electrician", "where the switch of the supply is")
	if strings.Contains(flat(dark), "spare bar") || strings.Contains(flat(dark), "walk-through") {
		t.Error("a stair without lights is handed over with some")
	}
}

// TestLookAtClient writes the papers for eyes.
func TestLookAtClient(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write papers for eyes")
	}
	for name, w := range works(t) {
		for _, p := range client(t, w, sheets.SizeFor(w.Answer.Job.Units), 4) {
			f, err := os.Create(filepath.Join(dir, name+" "+p.Name))
			if err != nil {
				t.Fatal(err)
			}
			if err := pdf.Write(f, p.Pages, pdf.Meta{Title: p.Title, Date: time.Unix(1.8e9, 0)}); err != nil {
				t.Error(err)
			}
			if err := f.Close(); err != nil {
				t.Error(err)
			}
		}
	}
}
