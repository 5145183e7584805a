package order_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/fitting"
	"risewright/view/drawing"
	"risewright/view/order"
)

var update = flag.Bool("update", false, "write the golden drawings anew")

// small returns the work of a flight of three steps without a reading, sides as
// given.
func small(tb testing.TB, kind model.SideKind, w model.Wishes) *solver.Work {
	tb.Helper()
	base, err := tables.NewJob(model.Metric, nil)
	if err != nil {
		tb.Fatal(err)
	}
	job := model.Sketch(model.SketchSpec{Risers: 3, Width: 900, Rise: 180, Going: 250, Base: base})
	for i := range job.Flight.Steps {
		job.Flight.Steps[i].Left.Kind, job.Flight.Steps[i].Right.Kind = kind, kind
	}
	return work(tb, job, w)
}

func drawn(draw func(*drawing.List, []order.Play, order.Options), w *solver.Work, at int) *drawing.List {
	var l drawing.List
	draw(&l, []order.Play{order.PlayOf(w, at)}, order.Options{Format: w.Answer.Job.Format(), Scale: 0.1})
	return &l
}

func TestGolden(t *testing.T) {
	w := small(t, model.Skirt, model.Wishes{Left: model.SideWish{Keep: true}, Right: model.SideWish{Battered: true, NoFalse: true}})
	if w.Order.Status != fitting.Solved {
		t.Fatalf("%s: %s", w.Order.Status, w.Order.Why)
	}
	at := -1
	for i := range w.Order.Order {
		if w.Order.Order[i].ID == "T02" {
			at = i
		}
	}
	for name, text := range map[string]string{"plan": drawn(order.Plan, w, at).Dump(), "section": drawn(order.Section, w, at).Dump()} {
		path := filepath.Join("testdata", name+".txt")
		if *update {
			if err := os.MkdirAll("testdata", 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if text != string(want) {
			t.Errorf("the %s differs from %s; look at it, then go test ./view/order -update", name, path)
		}
	}
}

// inks counts the filled shapes of an ink.
func inks(l *drawing.List, ink drawing.Ink) int {
	n := 0
	for _, it := range l.Items() {
		if it.Kind == drawing.KindPolygon && it.Fill.Ink == ink {
			n++
		}
	}
	return n
}

func says(l *drawing.List, text string) bool {
	for _, it := range l.Items() {
		if strings.Contains(it.Text.String, text) {
			return true
		}
	}
	return false
}

// At every task as many treads are solid as are laid, and the one being laid
// stands out by its name, its way in and its scribed ends.
func TestEveryTaskOfAFlight(t *testing.T) {
	w := small(t, model.Skirt, model.Wishes{Left: model.SideWish{Keep: true, NoFalse: true}, Right: model.SideWish{Keep: true, NoFalse: true}})
	laid := 0
	before := inks(drawn(order.Plan, w, 0), drawing.Wood)
	for i := range w.Order.Order {
		k := &w.Order.Order[i]
		l, side := drawn(order.Plan, w, i), drawn(order.Section, w, i)
		for _, x := range []*drawing.List{l, side} {
			if err := x.Check(); err != nil {
				t.Fatalf("%s: %v", k.ID, err)
			}
		}
		if got := inks(l, drawing.Wood) - before; got != laid {
			t.Errorf("at %s %d treads are solid, %d are laid", k.ID, got, laid)
		}
		if !says(l, k.ID) || !says(side, k.ID) {
			t.Errorf("%s is not named", k.ID)
		}
		if k.Kind != fitting.Tread {
			if k.Kind == fitting.Landing {
				laid++
			}
			continue
		}
		laid++
		if inks(l, drawing.SelectWash) != 1 || inks(side, drawing.SelectWash) != 1 {
			t.Errorf("%s does not stand out", k.ID)
		}
		for _, to := range []string{"scribe to skirt left", "scribe to skirt right"} {
			if !says(l, to) {
				t.Errorf("%s: %q is not on the plan", k.ID, to)
			}
		}
		if !says(side, k.Way.Words) {
			t.Errorf("%s: its way in is not on the section", k.ID)
		}
		// the scribed ends lie at the sides of the opening, and only there
		n := 0
		for _, it := range l.Items() {
			if it.Kind == drawing.KindPolyline && it.Stroke.Ink == drawing.Bad {
				n++
				lo, hi := it.Points[0].Y, it.Points[0].Y
				for _, p := range it.Points {
					lo, hi = min(lo, p.Y), max(hi, p.Y)
				}
				if hi-lo > 20 || lo < -5 && hi > -895 {
					t.Errorf("%s: a scribed end from %g to %g across the plan", k.ID, lo, hi)
				}
			}
		}
		if n != 2 {
			t.Errorf("%s: %d scribed edges, want both ends", k.ID, n)
		}
	}
	end := len(w.Order.Order)
	l := drawn(order.Plan, w, end)
	if got := inks(l, drawing.Wood) - before; got != laid || inks(l, drawing.SelectWash) != 0 {
		t.Errorf("finished: %d treads of %d solid, %d pieces stand out", got, laid, inks(l, drawing.SelectWash))
	}
}

// A skirt that goes on last is scribed along every plumb and level line that
// stays in sight.
func TestASkirtShowsItsLines(t *testing.T) {
	w := small(t, model.Skirt, model.Wishes{Left: model.SideWish{Battered: true, NoFalse: true, Wiring: true}, Right: model.SideWish{Battered: true, NoFalse: true, Wiring: true}})
	if !w.Order.Left.TreadPast {
		t.Fatalf("the skirt does not go on last: %s", w.Order.Winner)
	}
	b, ok := w.Board(0)
	if !ok {
		t.Fatal("no board")
	}
	want := 0
	for _, c := range b.Cuts {
		if !c.Hidden && c.Meets != "" {
			want++
		}
	}
	for i := range w.Order.Order {
		k := &w.Order.Order[i]
		if k.Kind != fitting.Skirt || k.Side != 0 || len(k.Scribe) == 0 {
			continue
		}
		l := drawn(order.Section, w, i)
		n := 0
		for _, it := range l.Items() {
			if it.Kind == drawing.KindPolyline && it.Stroke.Ink == drawing.Bad {
				n++
			}
		}
		if n != want || want == 0 {
			t.Errorf("%d lines are marked, %d are seen", n, want)
		}
		return
	}
	t.Error("no skirt is scribed")
}

// Two orders beside each other are each drawn whole, apart, and as they are
// alone.
func TestTwoOrdersLieApart(t *testing.T) {
	w := small(t, model.Wall, model.Wishes{})
	a, b := order.PlayOf(w, 2), order.PlayOf(w, 4)
	a.Title, b.Title = "A: one way of fitting", "B: another"
	o := order.Options{Format: w.Answer.Job.Format(), Scale: 0.1}
	for _, draw := range []func(*drawing.List, []order.Play, order.Options){order.Plan, order.Section} {
		var both, one, two drawing.List
		draw(&both, []order.Play{a, b}, o)
		draw(&one, []order.Play{a}, o)
		draw(&two, []order.Play{b}, o)
		if both.Len() != one.Len()+two.Len() {
			t.Errorf("%d items, alone %d and %d", both.Len(), one.Len(), two.Len())
		}
		lo, hi := one.Bounds()
		lo2, hi2 := both.Bounds()
		if wide, tall := hi.X-lo.X, hi.Y-lo.Y; hi2.X-lo2.X < 2*wide && hi2.Y-lo2.Y < 2*tall {
			t.Errorf("both take %g by %g, one takes %g by %g", hi2.X-lo2.X, hi2.Y-lo2.Y, wide, tall)
		}
	}
}

// Titles are whole over the plan and short over the section.
func TestTitles(t *testing.T) {
	w := small(t, model.Wall, model.Wishes{})
	p := order.PlayOf(w, 2)
	p.Title = "A: one way of fitting"
	for want, draw := range map[string]func(*drawing.List, []order.Play, order.Options){"A: one way of fitting": order.Plan, "A": order.Section} {
		var l drawing.List
		draw(&l, []order.Play{p}, order.Options{Format: w.Answer.Job.Format(), Scale: 0.1})
		found := false
		for _, it := range l.Items() {
			found = found || it.Text.String == want
		}
		if !found {
			t.Errorf("no title %q", want)
		}
	}
}

// BenchmarkFrame is what one move of the slider costs before painting.
func BenchmarkFrame(b *testing.B) {
	w := work(b, demo(b, "tapering"), model.Wishes{})
	ps := []order.Play{order.PlayOf(w, 14)}
	o := order.Options{Format: w.Answer.Job.Format(), Scale: 0.05}
	var l drawing.List
	b.ReportAllocs()
	for b.Loop() {
		l.Reset()
		order.Plan(&l, ps, o)
		order.Section(&l, ps, o)
		order.FitPlan(ps, o, 700, 300, 3.8)
		order.FitSection(ps, o, 700, 400, 3.8)
	}
}
