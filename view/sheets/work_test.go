package sheets_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"risewright/app/demo"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/estimate"
	"risewright/solver/fitting"
	"risewright/solver/pieces"
	"risewright/solver/rules"
	"risewright/solver/skirt"
	"risewright/solver/stock"
	"risewright/view/card"
	"risewright/view/drawing"
	"risewright/view/drawing/pdf"
	"risewright/view/sheets"
)

// jobs are the demo jobs in both systems, and the tapering one with wishes that
// bring every kind of piece, note and refusal onto paper.
func jobs() (map[string]model.Job, error) {
	ds, err := demo.Jobs()
	if err != nil {
		return nil, err
	}
	out := map[string]model.Job{}
	add := func(name string, j model.Job, u model.Units, change func(*model.Job)) {
		j.Units = u
		if change != nil {
			steps := append([]model.Step(nil), j.Flight.Steps...)
			j.Flight.Steps = steps
			change(&j)
		}
		out[name+" "+string(u)] = j
	}
	full := os.Getenv("RISEWRIGHT_FULL") != ""
	for _, d := range ds {
		for _, u := range []model.Units{model.Metric, model.Imperial} {
			if full || (u == model.Imperial) == (d.Name != "well-behaved") {
				add(d.Name, d.Job, u, nil)
			}
		}
		if d.Name != "tapering" {
			continue
		}
		add("lit", d.Job, model.Imperial, func(j *model.Job) {
			j.Wishes = model.Wishes{LightBars: true, Right: model.SideWish{Wiring: true, Battered: true, OldThickness: 19, MarginFirst: 70, MarginLast: 64}}
			j.Shop = model.Shop{Start: "2026-11-30", QuarterSawn: true, Moisture: 8}
		})
		add("new boards", d.Job, model.Metric, func(j *model.Job) {
			j.Wishes = model.Wishes{Coves: true, Usable: true, Left: model.SideWish{Wiring: true}, Right: model.SideWish{Battered: true, NoFalse: true, OldThickness: 19}}
			j.Shop = model.Shop{Start: "2026-12-07", Householder: true, HoursPerDay: 5, Currency: "coins",
				Hand: []model.OwnBoard{{Use: model.UseTread, Name: "left over", Count: 2, Length: 1100, Width: 300}}}
			for _, id := range []string{"tread-900x300", "tread-1000x300", "tread-1100x300", "tread-1200x300"} {
				j.Shop = j.Shop.WithPrice(id, 31.5)
			}
		})
		add("open", d.Job, model.Metric, func(j *model.Job) {
			for i := range j.Flight.Steps {
				j.Flight.Steps[i].Left.Kind = model.Open
			}
			j.Wishes = model.Wishes{Left: model.SideWish{Balusters: 2}, Right: model.SideWish{Keep: true, OldThickness: 19, MarginFirst: 66, MarginLast: 12}}
		})
		add("refused", d.Job, model.Metric, func(j *model.Job) {
			j.Wishes = model.Wishes{Right: model.SideWish{Keep: true, NoFalse: true, Wiring: true}}
		})
		for _, n := range []int{2, 3, 40} {
			if n == 40 && !full {
				continue
			}
			add(fmt.Sprint(n, " steps"), d.Job, model.Metric, func(j *model.Job) {
				base := *j
				base.Name = strings.Repeat("Very long name ", 12)
				base.Flight = model.Flight{}
				base.Wishes = model.Wishes{LightBars: n == 2, Coves: n == 3}
				base.Shop.Start = "2027-01-04"
				*j = model.Sketch(model.SketchSpec{Risers: n, Width: 914, Rise: 190, Going: 254, Base: base,
					IDs: func(i int) model.ID { return model.NamedID(base.ID, fmt.Sprint("odd step ", i)) }})
				j.Units = model.Metric
			})
		}
		add("unsolved", d.Job, model.Imperial, func(j *model.Job) { j.Flight.Steps[1].Corners = nil })
	}
	return out, nil
}

var planned = sync.OnceValues(func() (map[string]*solver.Work, error) {
	js, err := jobs()
	if err != nil {
		return nil, err
	}
	t, err := tables.Published()
	if err != nil {
		return nil, err
	}
	out := map[string]*solver.Work{}
	var (
		lock sync.Mutex
		done sync.WaitGroup
	)
	for name, j := range js {
		done.Go(func() {
			w := solver.Plan(solver.Solve(j, t), t)
			lock.Lock()
			defer lock.Unlock()
			out[name] = w
		})
	}
	done.Wait()
	return out, nil
})

func works(t *testing.T) map[string]*solver.Work {
	t.Helper()
	w, err := planned()
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// TestLookAtWork writes the papers of the work for eyes.
func TestLookAtWork(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write papers for eyes")
	}
	for name, w := range works(t) {
		m := metaFor(w.Answer, sheets.SizeFor(w.Answer.Job.Units))
		t.Log(name, w.Order.Status, w.Order.Why, w.Order.Winner)
		for _, p := range sheets.Work(w, m) {
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

// TestLayoutOfWork looks on every page, on both papers, for lettering that is
// cut off or lies over other lettering.
func TestLayoutOfWork(t *testing.T) {
	for name, w := range works(t) {
		for _, s := range []sheets.Size{sheets.A4, sheets.Letter} {
			for _, p := range sheets.Work(w, metaFor(w.Answer, s)) {
				checkLayout(t, name+" "+string(s)+" "+p.Name, p.Pages, 5)
			}
		}
	}
}

// paper returns the pages of one paper and all its lettering.
func paper(t *testing.T, w *solver.Work, name string) ([]drawing.Page, string) {
	t.Helper()
	for _, p := range sheets.Work(w, metaFor(w.Answer, sheets.A4)) {
		if p.Name != name+".pdf" {
			continue
		}
		var words []string
		for i := range p.Pages {
			words = append(words, lettering(&p.Pages[i])...)
		}
		return p.Pages, strings.Join(words, "\n")
	}
	t.Fatalf("there is no paper %s", name)
	return nil, ""
}

// flat lets a text be found however its lines were broken.
func flat(s string) string {
	return strings.ToLower(strings.Join(strings.Fields(card.SetFractions(s)), " "))
}

func finds(t *testing.T, where, text string, want ...string) {
	t.Helper()
	text = flat(text)
	for _, s := range want {
		if !strings.Contains(text, flat(s)) {
			t.Errorf("%s does not say %q", where, s)
		}
	}
}

// TestEveryPageOfWorkSays holds every page to the guarantees of the package.
func TestEveryPageOfWorkSays(t *testing.T) {
	for name, w := range works(t) {
		ps := sheets.Work(w, metaFor(w.Answer, sheets.A4))
		if len(ps) != 7 {
			t.Errorf("%s: %d papers, want 7", name, len(ps))
		}
		for _, p := range ps {
			if len(p.Pages) == 0 {
				t.Errorf("%s: %s has no pages", name, p.Name)
			}
			for i := range p.Pages {
				finds(t, fmt.Sprintf("%s %s page %d", name, p.Name, i+1), strings.Join(lettering(&p.Pages[i]), "\n"),
					fmt.Sprintf("survey revision %d", w.Answer.Job.Revision), fmt.Sprintf("page %d of %d", i+1, len(p.Pages)), rules.Deference)
			}
		}
	}
}

// TestOrderPaper looks for every piece in its turn, every hold point, and what
// can be walked on each night.
func TestOrderPaper(t *testing.T) {
	holds, shut, open := 0, 0, 0
	for name, w := range works(t) {
		o := &w.Order
		_, text := paper(t, w, "order-of-work")
		if o.Status != fitting.Solved {
			continue
		}
		finds(t, name, text, o.Winner, o.RunnerUp)
		for _, c := range o.Changes {
			finds(t, name, text, c.If+": "+c.Choice)
		}
		rows := strings.Split(text, "\n")
		turn := 0
		at := 0
		for i := range o.Order {
			k := &o.Order[i]
			if k.InPlace {
				finds(t, name, text, k.ID)
				continue
			}
			turn++
			first := fmt.Sprint(turn)
			if k.Kind == fitting.Hold {
				holds++
				finds(t, name, text, k.Note)
				continue
			}
			// the number of its turn is followed by the first word of its name
			word := strings.Fields(k.ID)[0]
			found := false
			for ; at < len(rows)-1 && !found; at++ {
				found = rows[at] == first && strings.HasPrefix(rows[at+1], word)
			}
			if !found {
				t.Errorf("%s: %s is not number %d in the list", name, k.ID, turn)
				break
			}
		}
		for i := range o.Plan.Evenings {
			e := &o.Plan.Evenings[i]
			finds(t, name, text, fmt.Sprintf("Evening %d:", e.Number))
			for _, h := range e.Holds {
				finds(t, name, text, h)
			}
			for _, v := range e.Waits {
				finds(t, name, text, v.What)
			}
			if e.Closed {
				shut++
			}
			if len(e.Off) == 0 {
				open++
			}
		}
		if got := strings.Count(text, "THE STAIR IS SHUT"); got != o.Plan.Closed {
			t.Errorf("%s: the stair is said to be shut %d times, it is on %d nights", name, got, o.Plan.Closed)
		}
		for _, j := range o.Joints {
			if j.Scope == "" {
				t.Errorf("%s: %s to %s has no scope", name, j.A, j.B)
			}
		}
	}
	if holds == 0 || shut == 0 || open == 0 {
		t.Errorf("the jobs prove little: %d holds, %d nights shut, %d open", holds, shut, open)
	}
}

// TestRefusalNamesTheTrappedPiece looks for it on the papers that want an order,
// for a job that asks for wires within reach behind a skirt that must stay.
func TestRefusalNamesTheTrappedPiece(t *testing.T) {
	w := works(t)["refused metric"]
	if w.Order.Status != fitting.Refused || len(w.Order.Refusals) == 0 {
		t.Fatalf("the order is %q", w.Order.Status)
	}
	trapped := w.Order.Refusals[0].Trapped
	if trapped == "" {
		t.Fatal("the refusal traps nothing")
	}
	_, text := paper(t, w, "order-of-work")
	finds(t, "the order of work", text, "NO ORDER", w.Order.Why, trapped+" is trapped", w.Order.Refusals[0].Why)
	_, text = paper(t, w, "skirt-boards")
	finds(t, "the skirt boards", text, "MISSING", trapped+" is trapped")
	for _, name := range []string{"order-of-work", "skirt-boards", "buying-list", "blank-map", "rip-list", "wood-movement", "hours-money-days"} {
		_, text := paper(t, works(t)["unsolved imperial"], name)
		finds(t, name, text, "MISSING", "could not be solved")
	}
}

// TestSkirtPaper holds the drawing to the boards: each plumb and level cut
// stands in it and in the list, with its length.
func TestSkirtPaper(t *testing.T) {
	drawn, kept := 0, 0
	for name, w := range works(t) {
		if w.Order.Status != fitting.Solved {
			continue
		}
		pages, text := paper(t, w, "skirt-boards")
		if noReadings(w) {
			finds(t, name, text, "MISSING", sketchOnly)
			continue
		}
		f := w.Answer.Job.Format()
		var dims []string
		for i := range pages {
			for _, it := range pages[i].Items() {
				if it.Kind == drawing.KindDimension {
					dims = append(dims, it.Text.String)
				}
			}
		}
		have := strings.Join(dims, "\n") + "\n"
		for _, side := range []pieces.Side{pieces.Left, pieces.Right} {
			b, ok := w.Board(side)
			if !ok {
				finds(t, name, text, strings.ToUpper(side.String()))
				continue
			}
			for _, n := range b.Notes {
				finds(t, name, text, n)
			}
			if b.Treatment == skirt.Kept {
				kept++
				for _, m := range b.Margins {
					finds(t, name, text, card.Length(f, m.Shrinks))
				}
				continue
			}
			finds(t, name, text, card.Length(f, b.Length), card.Length(f, b.Width))
			for _, c := range w.Buy.Cuts {
				if c.Use == model.UseSkirt && c.Width > 0 && c.Width < b.Width {
					finds(t, name, text, "TOO NARROW", card.Length(f, c.Width)+" wide")
				}
			}
			for i := range b.Cuts {
				c := &b.Cuts[i]
				if c.Kind != skirt.Plumb && c.Kind != skirt.Level || c.Meets == "" {
					continue
				}
				long := c.Line[len(c.Line)-1].Sub(c.Line[0]).Len()
				if long < 130 { // the board ends in it: only the list has room
					continue
				}
				drawn++
				if want := c.Meets + "  " + card.Number(f, long) + "\n"; !strings.Contains(have, want) {
					t.Errorf("%s %s: the drawing does not dimension %q", name, side, want)
				}
				finds(t, name, text, c.Meets, card.Number(f, long))
			}
			for _, g := range b.Noses.RestingGaps {
				want := fmt.Sprintf("%.1f", g)
				if w.Answer.Job.Units == model.Imperial {
					want = fmt.Sprintf("%.3f", g/25.4)
				}
				finds(t, name, text, want)
			}
		}
	}
	if drawn < 60 || kept == 0 {
		t.Errorf("the jobs prove little: %d cuts drawn, %d skirts kept", drawn, kept)
	}
}

// TestBuyingPaper looks for every row, the sum and the bound, and the notice of
// an unfinished survey.
func TestBuyingPaper(t *testing.T) {
	early, missing, own, hand, electric := 0, 0, 0, 0, 0
	for name, w := range works(t) {
		b := &w.Buy
		_, text := paper(t, w, "buying-list")
		if len(b.Rows) == 0 {
			continue
		}
		for _, r := range b.Rows {
			finds(t, name, text, r.Name, r.Why)
			if r.Missing {
				missing++
				continue
			}
			finds(t, name, text, fmt.Sprintf("%.2f", r.Cost))
			if r.Standing == model.Memory {
				finds(t, name, text, "from memory")
			}
			if r.Standing == model.Yours {
				own++
				finds(t, name, text, "set by you", "coins")
			}
			if r.InHand {
				hand++
				finds(t, name, text, "in hand")
			}
		}
		for _, r := range b.Electric {
			electric++
			finds(t, name, text, "ASK: "+r.Name, r.Why)
		}
		if got := strings.Contains(flat(text), flat(stock.Electric)); got != (len(b.Electric) > 0) {
			t.Errorf("%s: %d electric goods, their heading: %v", name, len(b.Electric), got)
		}
		if len(b.Electric) > 0 {
			finds(t, name, text, stock.ElectricCaution)
		}
		finds(t, name, text, fmt.Sprintf("%.2f", b.Total), fmt.Sprintf("%.2f", b.Lower))
		if got := strings.Contains(text, "EARLY"); got != b.Early {
			t.Errorf("%s: early %v, said %v", name, b.Early, got)
		}
		if b.Early {
			early++
		}
		_, rip := paper(t, w, "rip-list")
		if noReadings(w) {
			finds(t, name, text, "MISSING", sketchOnly)
			finds(t, name+" rip list", rip, "MISSING", sketchOnly)
			continue
		}
		for _, r := range b.Rips {
			finds(t, name+" rip list", rip, r.Piece, card.Number(w.Answer.Job.Format(), r.To))
		}
		not := 0
		for _, r := range b.Rips {
			if !r.Final {
				not++
			}
		}
		if got := strings.Count(rip, "ONLY LIKELY: not yet"); got != not {
			t.Errorf("%s: %d widths are only likely, %d are marked", name, not, got)
		}
	}
	if early == 0 || missing == 0 || own == 0 || hand == 0 {
		t.Errorf("the jobs prove little: %d early, %d with something not listed, %d own prices, %d rows in hand", early, missing, own, hand)
	}
	if electric == 0 {
		t.Error("no job has anything electric")
	}
}

// TestBlankMap counts the pieces drawn, and measures them: on every board they
// are as long, to one scale, as the cutting says, and a kerf apart.
func TestBlankMap(t *testing.T) {
	drawn := 0
	for name, w := range works(t) {
		pages, _ := paper(t, w, "blank-map")
		var wide []float64
		if noReadings(w) {
			continue // TestASketchPrintsNoLengths has them
		}
		for i := range pages {
			for _, it := range pages[i].Items() {
				if it.Kind == drawing.KindPolygon && it.Fill.Ink == drawing.Wood {
					wide = append(wide, math.Abs(it.Points[1].X-it.Points[0].X))
				}
			}
		}
		n := 0
		check := func(scale *float64, length float64) {
			if n < len(wide) {
				got := wide[n] / length
				if *scale == 0 {
					*scale = got
				}
				if math.Abs(got / *scale - 1) > 1e-9 {
					t.Errorf("%s: piece %d is drawn to 1:%.3f, the first to 1:%.3f", name, n, 1/got, 1 / *scale)
				}
			}
			n++
		}
		for i := range w.Buy.Cuts {
			c, scale := &w.Buy.Cuts[i], 0.0
			for _, l := range c.Result.Layouts {
				for _, q := range l.Cuts {
					check(&scale, q.Length)
				}
			}
		}
		for i := range w.Buy.Sheets {
			c := &w.Buy.Sheets[i]
			for _, l := range c.Result.Layouts {
				scale := 0.0
				for _, s := range l.Strips {
					for _, q := range s.Cuts {
						check(&scale, q.Length)
					}
				}
			}
		}
		if n != len(wide) {
			t.Errorf("%s: %d pieces are cut, %d are drawn", name, n, len(wide))
		}
		drawn += n
	}
	if drawn < 200 {
		t.Errorf("only %d pieces: the jobs prove little", drawn)
	}
}

// TestWoodAndTime looks for every tread's movement, the ranges, the days that
// matter, and the nights on which the stair is limited.
func TestWoodAndTime(t *testing.T) {
	dated, limited := 0, 0
	for name, w := range works(t) {
		if w.Answer.Survey == nil {
			continue
		}
		_, wood := paper(t, w, "wood-movement")
		if noReadings(w) {
			finds(t, name, wood, "MISSING", sketchOnly)
		} else {
			for _, m := range w.Movement.Treads {
				finds(t, name, wood, m.Piece)
			}
			finds(t, name, wood, append([]string{w.Species.Name, w.Movement.Fixing, fmt.Sprintf("%.1f %%", w.Movement.Laid)}, w.Movement.Notes...)...)
		}
		_, text := paper(t, w, "hours-money-days")
		finds(t, name, text, fmt.Sprintf("%.0f to %.0f hours", w.Total.Low, w.Total.High), fmt.Sprintf("%.0f", w.Money.Total.Low), fmt.Sprintf("%.0f", w.Money.Total.High))
		for _, h := range w.Hours {
			finds(t, name, text, h.Name, fmt.Sprintf("%.1f", h.Hours.High))
		}
		if len(w.Calendar.Days) == 0 {
			why := "first day of work"
			if len(w.Calendar.Notes) > 0 {
				why = w.Calendar.Notes[0]
			}
			finds(t, name, text, "MISSING", why)
			continue
		}
		dated++
		off, over := 0, 0
		for _, m := range w.Calendar.Milestones {
			finds(t, name, text, m.Name, m.Likely.Format("Mon 2 Jan 2006"))
		}
		for _, d := range w.Calendar.Days {
			switch d.Night {
			case estimate.NightOff:
				off++
			case estimate.NightStepOver:
				over++
			}
			for _, h := range d.Hold {
				finds(t, name, text, h)
			}
		}
		limited += off + over
		// once in the calendar, once in the list
		if got := strings.Count(text, "OFF THE STAIR"); got != 2*off {
			t.Errorf("%s: off the stair on %d nights, said %d times", name, off, got)
		}
		if got := strings.Count(text, "STEP OVER") + strings.Count(text, "EVERY OTHER STEP"); got != 2*over {
			t.Errorf("%s: stepping over on %d nights, said %d times", name, over, got)
		}
	}
	if dated < 3 || limited < 3 {
		t.Errorf("the jobs prove little: %d calendars, %d limited nights", dated, limited)
	}
}

// TestWorkSameBytes writes the papers of a job twice, planned apart.
func TestWorkSameBytes(t *testing.T) {
	first := works(t)["3 steps metric"]
	again := solver.Plan(solver.Solve(first.Answer.Job, tablesOf(t)), tablesOf(t))
	m := metaFor(first.Answer, sheets.Letter)
	a, b := sheets.Work(first, m), sheets.Work(again, m)
	for i := range a {
		if !bytes.Equal(written(t, a[i]), written(t, b[i])) {
			t.Errorf("%s: the same job gives other bytes", a[i].Name)
		}
	}
}

// TestCardsNameWhatIsBought: no card names a board that the buying list does not
// buy for it.
func TestCardsNameWhatIsBought(t *testing.T) {
	works, err := planned()
	if err != nil {
		t.Fatal(err)
	}
	changed, tried, onMap := 0, 0, 0
	for name, w := range works {
		bought := map[string]bool{}
		missing := false
		for _, r := range w.Buy.Rows {
			bought[r.Name] = true
			missing = missing || r.Missing
		}
		if missing { // what is to be asked for has no name on the list
			continue
		}
		a := w.OnMap(w.Answer)
		for i := range a.Cards {
			tried++
			if s := a.Cards[i].Blank.Stock; s != "" && !bought[s] {
				t.Errorf("%s: %s is sold as %q, which is not on the list", name, a.Pieces[i].ID, s)
			}
			if a.Cards[i].Blank.Stock != w.Answer.Cards[i].Blank.Stock {
				changed++
			}
			// The card is for the blank that the map cuts, and is proved on it.
			own := &w.Answer.Cards[i]
			size, mapped := cutTo(w)[a.Pieces[i].ID]
			if !mapped || !own.Proof.OK {
				continue
			}
			c := &a.Cards[i]
			if c.Blank.Length != size || !c.Proof.OK {
				t.Errorf("%s: the card of %s takes a blank of %.1f mm, the map cuts one of %.1f", name, c.Piece, c.Blank.Length, size)
			}
			onMap++
			// The rip's right mark stays at the same place of the board.
			if m, n := c.Ops[0].Measures[1], own.Ops[0].Measures[1]; math.Abs((c.Blank.Length-m.Along)-(own.Blank.Length-n.Along)) > 1e-9 {
				t.Errorf("%s: the right mark of %s has moved on the board", name, c.Piece)
			}
			// A blank no longer than the piece is refused.
			short := c.Blank
			short.Length = a.Pieces[i].Figures.Back.Value
			if _, ok := own.On(short, a.Job, &a.Pieces[i]); ok {
				t.Errorf("%s: %s comes out of a blank no longer than itself", name, c.Piece)
			}
		}
	}
	if tried < 40 || changed == 0 || onMap < 40 {
		t.Errorf("%d cards tried, %d changed and %d on the map: the test shows too little", tried, changed, onMap)
	}
}

// cutTo returns the length to which the blank map cuts the blank of each piece.
func cutTo(w *solver.Work) map[string]float64 {
	out := map[string]float64{}
	for i := range w.Buy.Cuts {
		for _, q := range w.Buy.Cuts[i].Cutting.Parts {
			out[q.Name] = q.Length
		}
	}
	for i := range w.Buy.Sheets {
		for _, q := range w.Buy.Sheets[i].Cutting.Panels {
			out[q.Name] = q.Length
		}
	}
	return out
}

// TestPapersFixTreadsOneWay: what the wood-movement paper says of the fixing is
// what the buying list buys for it: adhesive that sets hard in the front third and
// elastic behind, or screws and no adhesive at all.
func TestPapersFixTreadsOneWay(t *testing.T) {
	all, err := jobs()
	if err != nil {
		t.Fatal(err)
	}
	for _, usable := range []bool{false, true} {
		job := all["tapering imperial"]
		job.Wishes.Usable = usable
		w := solver.Plan(solver.Solve(job, tablesOf(t)), tablesOf(t))
		var fast, elastic, pins, screws float64
		for _, r := range w.Buy.Rows {
			switch r.Use {
			case model.UseAdhesive:
				fast += r.Need
			case model.UseElastic:
				elastic += r.Need
			case model.UseTreadPins:
				pins += r.Need
			case model.UseScrews:
				screws += r.Need
			}
		}
		_, moves := paper(t, w, "wood-movement")
		_, buys := paper(t, w, "buying-list")
		want, wantBuy := []string{"two beads of construction adhesive along it", "one bead of adhesive that stays elastic", "common practice, no source"},
			[]string{"two along the front third of a tread", "one along the back of each tread"}
		if usable {
			want, wantBuy = []string{"screws and plugs on a dry bed", "no adhesive"}, []string{"treads are screwed on a dry bed", "half in slots behind"}
		}
		finds(t, "wood movement", strings.ToLower(moves), want...)
		finds(t, "buying list", buys, wantBuy...)
		if usable != (elastic == 0 && pins == 0 && screws > 0) || fast == 0 || usable == strings.Contains(moves, "pins") {
			t.Errorf("usable every night %v: %.0f ml fast, %.0f ml elastic, %.0f pins, %.0f screws are bought", usable, fast, elastic, pins, screws)
		}
		// The beads, from the boards: two and two thirds of a depth held fast, one
		// elastic; half of it along the landing nosing each; risers have two.
		var along, behind float64
		for i := range w.Answer.Pieces {
			f := &w.Answer.Pieces[i].Figures
			long := math.Max(f.Back.Value, f.Front.Value)
			switch w.Answer.Pieces[i].Kind {
			case pieces.Riser:
				along += 2 * long
			case pieces.LandingNosing:
				along, behind = along+long, behind+long
			default:
				along, behind = along+2*long+2*math.Max(f.LeftDepth.Value, f.RightDepth.Value)/3, behind+long
			}
		}
		if ratio := behind / along; !usable && math.Abs(elastic/fast-ratio) > 1e-9 {
			t.Errorf("%.3f of elastic adhesive to one of the other; the paper's beads make it %.3f", elastic/fast, ratio)
		}
	}
}
