package fitting_test

import (
	"slices"
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver/fitting"
)

// TestRecommended holds the choice against the typical choices of the trade
// notes, section 5: sound straight skirts kept, scheme A; wires on one side, C
// or D1 with a cap there and A on the other; battered skirts or a first-timer
// with them, D1; an open side, H; and E never.
func TestRecommended(t *testing.T) {
	side := func(s model.SideWish) model.SideWish { return s }
	for name, c := range map[string]struct {
		wishes      model.Wishes
		left, right string // schemes that will do, by letters
		words       []string
	}{
		"kept straight skirts": {model.Wishes{Left: side(model.SideWish{Keep: true}), Right: side(model.SideWish{Keep: true})}, "A", "A",
			[]string{"kept skirt runs past", "an error stays in its own joint"}},
		"no wish at all": {model.Wishes{}, "A", "A", nil},
		"wires on the left": {model.Wishes{Left: model.SideWish{Wiring: true}, LightBars: true}, "C D1+cap", "A",
			[]string{"wires within reach", "kept skirt runs past"}},
		"wires on the right":                        {model.Wishes{Right: model.SideWish{Wiring: true}, LightBars: true}, "A", "C D1+cap", nil},
		"wires on the left and the old skirt stays": {model.Wishes{Left: model.SideWish{Wiring: true, Keep: true}, Right: model.SideWish{Keep: true}}, "D1+cap", "A", nil},
		"wires on the left, no false skirt": {model.Wishes{Left: model.SideWish{Wiring: true, NoFalse: true}}, "C", "A",
			[]string{"comes off again for the wires"}},
		"battered on the left": {model.Wishes{Left: model.SideWish{Battered: true}}, "D1", "A", []string{"battered face is covered"}},
		"battered, first-timer": {model.Wishes{Left: model.SideWish{Battered: true}, Right: model.SideWish{Battered: true}, FirstTimer: true}, "D1", "D1",
			[]string{"battered face is covered"}},
		"alike": {model.Wishes{Left: model.SideWish{Battered: true}, SameSides: true}, "D1", "D1", nil},
	} {
		t.Run(name, func(t *testing.T) {
			f := straight(14).known(0.2)
			// what would change the choice is asked where the words are read
			r := f.plain(c.wishes)
			if c.words != nil {
				r = f.solve(c.wishes)
			}
			if r.Status != fitting.Solved {
				t.Fatalf("%s: %s", r.Status, r.Why)
			}
			for _, s := range []struct {
				name, want string
				d          fitting.Decision
			}{{"left", c.left, r.Left}, {"right", c.right, r.Right}} {
				got := s.d.Scheme()
				if s.d.Cap {
					got += "+cap"
				}
				if !slices.Contains(strings.Fields(s.want), got) {
					t.Errorf("%s is %s, want %s", s.name, got, s.want)
				}
			}
			for _, words := range c.words {
				if !strings.Contains(r.Winner, words) {
					t.Errorf("the winner does not say %q: %s", words, r.Winner)
				}
			}
			if r.RunnerUp == "" || c.words != nil && len(r.Changes) == 0 || strings.Count(r.Winner, ". ") > 0 {
				t.Errorf("winner %q, runner-up %q, changes %v", r.Winner, r.RunnerUp, r.Changes)
			}
			for _, x := range r.Candidates {
				if x.Left.Scheme() == "E" || x.Right.Scheme() == "E" {
					t.Errorf("housed ends can be built over carriages: %s", x.Words())
				}
				if c.wishes.Left.Wiring && !x.Removable[0] {
					t.Errorf("%s does not leave the wires within reach", x.Words())
				}
			}
		})
	}
}

// TestWallsAndOpenSides tries the other kinds of side.
func TestWallsAndOpenSides(t *testing.T) {
	f := straight(5).known(0.2).sides(model.Open, model.Wall)
	for i := range f.job.Flight.Steps {
		f.job.Flight.Steps[i].Left.Returned = true
	}
	r := f.solve(model.Wishes{Left: model.SideWish{Balusters: 2}, Coves: true})
	if r.Status != fitting.Solved || r.Left.Scheme() != "H" {
		t.Fatalf("%s %s: %v", r.Status, r.Why, r.Left)
	}
	want := []string{"skirt left", "R02", "T02", "balusters left 02", "N02", "cove 02"}
	at := -1
	for _, id := range want {
		i := slices.IndexFunc(r.Order, func(x fitting.Task) bool { return x.ID == id })
		if i <= at {
			t.Errorf("%s comes at %d, after %d: want %v in turn", id, i, at, want)
		}
		at = i
	}
	if r := f.solve(model.Wishes{Left: model.SideWish{Wiring: true}}); r.Status != fitting.Refused || !strings.Contains(r.Why, "open left side") {
		t.Errorf("wires behind an open side: %s %s", r.Status, r.Why)
	}
	if r := f.solve(model.Wishes{Right: model.SideWish{Wiring: true}}); r.Status != fitting.Solved || r.Right.Scheme() != "C" {
		t.Errorf("wires on a bare wall: %s %s, %v", r.Status, r.Why, r.Right)
	}
}

// TestContradictions are wishes that cannot be met. Each is refused with the
// piece that is trapped and the way it would have to go.
func TestContradictions(t *testing.T) {
	for name, c := range map[string]struct {
		wishes  model.Wishes
		trapped string
		blocked string
		must    string
	}{
		// the kept skirt is to come off for the wires, so boards must run under it
		"kept, and off again": {model.Wishes{Left: model.SideWish{Keep: true, NoFalse: true, Wiring: true}}, "R01", "skirt left", "drop it straight down"},
		// the skirt is there already
		"treads before a kept skirt": {model.Wishes{Left: model.SideWish{Keep: true, NoFalse: true}, Order: []model.OrderHint{{First: "treads", Then: "skirt left"}}}, "skirt left", "", "drop it straight down along the wall"},
		// treads under the risers are built strictly from the bottom up
		"top down under the risers": {model.Wishes{Back: model.BackUnderRiser, Order: []model.OrderHint{{First: "T03", Then: "T02"}}}, "T02", "", "slide it in from the front"},
	} {
		t.Run(name, func(t *testing.T) {
			r := straight(5).known(0.2).solve(c.wishes)
			if r.Status != fitting.Refused || len(r.Refusals) == 0 {
				t.Fatalf("%s: %s", r.Status, r.Winner)
			}
			ref := r.Refusals[0]
			if ref.Trapped != c.trapped || !strings.Contains(r.Why, c.trapped+" is trapped") {
				t.Errorf("trapped is %q, want %q: %s", ref.Trapped, c.trapped, r.Why)
			}
			if ref.Must.Words != c.must {
				t.Errorf("it must %q, want %q", ref.Must.Words, c.must)
			}
			if c.blocked != "" && !slices.Contains(ref.Blocked, c.blocked) {
				t.Errorf("blocked by %v, want %s", ref.Blocked, c.blocked)
			}
			if len(ref.Cycle) < 2 || len(ref.Cycle) != len(ref.Reasons) {
				t.Errorf("cycle %v for reasons %q", ref.Cycle, ref.Reasons)
			}
		})
	}
	// wishes that leave nothing to try are named
	r := straight(5).known(0.2).solve(model.Wishes{Left: model.SideWish{Keep: true, Battered: true, NoFalse: true}})
	if r.Status != fitting.Refused || !strings.Contains(r.Why, "battered") || !strings.Contains(r.Why, "is to stay") {
		t.Errorf("%s: %s", r.Status, r.Why)
	}
	r = straight(5).known(0.2).solve(model.Wishes{Order: []model.OrderHint{{First: "T09", Then: "T02"}}})
	if r.Status != fitting.Refused || !strings.Contains(r.Why, `no "T09"`) {
		t.Errorf("%s: %s", r.Status, r.Why)
	}
	// the same wish from the top down can be met where treads butt
	r = straight(5).known(0.2).solve(model.Wishes{Order: []model.OrderHint{{First: "T03", Then: "T02"}}})
	if r.Status != fitting.Solved || r.Back != model.BackAgainstRiser {
		t.Errorf("top down: %s %s, %s", r.Status, r.Why, r.Back)
	}
}

// TestOrder checks that the order keeps what its joints and wishes say, on every
// kind of flight, and that mirroring mirrors it.
func TestOrder(t *testing.T) {
	for name, w := range map[string]model.Wishes{
		"plain":   {},
		"wires":   {Left: model.SideWish{Wiring: true}, LightBars: true},
		"C":       {Left: model.SideWish{Wiring: true, NoFalse: true}, LightBars: true},
		"against": {Back: model.BackAgainstRiser, Coves: true},
	} {
		f := leaning(6, [2]float64{1 * degree, 0.5 * degree}, [2]float64{0.4 * degree, -0.3 * degree}, 0.5*degree).known(0.2)
		r := f.plain(w)
		if r.Status != fitting.Solved {
			t.Fatalf("%s: %s", name, r.Why)
		}
		at := map[string]int{}
		for i, x := range r.Order {
			at[x.ID] = i
		}
		for _, j := range r.Joints {
			a, okA := at[j.A]
			b, okB := at[j.B]
			if !okA || !okB {
				continue // a bare wall
			}
			first, then := a, b
			if j.RunsPast == j.B {
				first, then = b, a
			}
			if riserFirst := strings.HasPrefix(j.A, "R") && (strings.HasPrefix(j.B, "T") || strings.HasPrefix(j.B, "L")) && j.Hider == "the overhang"; riserFirst {
				first, then = a, b // the tread runs over, and comes second
			}
			if first > then {
				t.Errorf("%s: %s runs past but comes after: %s, %s", name, j.RunsPast, j.A, j.B)
			}
			if j.Visible && j.Gap == (fitting.Gap{}) {
				t.Errorf("%s: no gap at %s to %s", name, j.A, j.B)
			}
		}
		for _, x := range r.Order {
			switch x.Kind {
			case fitting.Riser, fitting.Tread, fitting.Landing:
				if x.Way.Words == "" || len(x.Shape) == 0 {
					t.Errorf("%s: no way or shape for %s", name, x.ID)
				}
			case fitting.Skirt:
				if len(x.Shape) == 0 || !x.InPlace && x.Way.Words == "" {
					t.Errorf("%s: no way or shape for %s", name, x.ID)
				}
			}
		}
		if w.LightBars {
			for _, id := range []string{"wires left", "hold: photograph the wires left", "hold: soak left"} {
				if _, ok := at[id]; !ok {
					t.Errorf("%s: no %s", name, id)
				}
			}
			last := "cap left"
			if name == "C" {
				last = "skirt left"
			}
			if !(at["wires left"] < at["hold: photograph the wires left"] && at["bar 06"] < at["hold: soak left"] && at["hold: soak left"] < at[last]) {
				t.Errorf("%s: wires %d, photograph %d, soak %d, %s %d", name, at["wires left"], at["hold: photograph the wires left"], at["hold: soak left"], last, at[last])
			}
		}
		mirror := w
		mirror.Left, mirror.Right = w.Right, w.Left
		m := f.mirrored().plain(mirror)
		if m.Left != r.Right || m.Right != r.Left || m.Back != r.Back {
			t.Errorf("%s: mirrored, %v %v %s became %v %v %s", name, r.Left, r.Right, r.Back, m.Left, m.Right, m.Back)
		}
		if again := f.plain(w); again.Winner != r.Winner || again.Cost != r.Cost {
			t.Errorf("%s: twice the same gave two answers", name)
		}
	}
}

// TestPlan reads the evenings.
func TestPlan(t *testing.T) {
	f := straight(14).known(0.2)
	r := f.solve(model.Wishes{Usable: true})
	laid := 0
	for _, e := range r.Plan.Evenings {
		if len(e.Walk) != 14 || len(e.Off) != 0 || e.Closed {
			t.Errorf("evening %d: %v off, closed %v, though the stair is to be usable", e.Number, e.Off, e.Closed)
		}
		for _, i := range e.Tasks {
			if r.Order[i].Evening != e.Number {
				t.Errorf("%s is in evening %d and says %d", r.Order[i].ID, e.Number, r.Order[i].Evening)
			}
			if k := r.Order[i].Kind; k == fitting.Tread || k == fitting.Landing {
				laid++
			}
		}
		if e.Minutes > 180 && len(e.Tasks) > 1 {
			t.Errorf("evening %d takes %.0f minutes", e.Number, e.Minutes)
		}
	}
	if laid != 14 || r.Plan.Fixing != fitting.Screwed || r.Plan.Closed != 0 {
		t.Errorf("%d treads, %s, %d nights closed", laid, r.Plan.Fixing, r.Plan.Closed)
	}
	// floors untouched: the first rise is 210 and the one after the last new
	// tread 170, as the trade notes work out for 20 mm on rises of 190
	first := r.Plan.Evenings[0]
	if first.Highest != 210 || first.Lowest != 170 || first.HighestAt != 1 || len(first.Notes) == 0 {
		t.Errorf("first night: %g at %d, %g at %d, %v", first.Highest, first.HighestAt, first.Lowest, first.LowestAt, first.Notes)
	}
	g := f.solve(model.Wishes{})
	var off []int
	for _, e := range g.Plan.Evenings {
		off = append(off, e.Off...)
		if len(e.Off) > 0 && (len(e.Waits) == 0 || e.Waits[0].Hours != 24) {
			t.Errorf("evening %d: glued without a wait: %v", e.Number, e.Waits)
		}
		if len(e.Off)+len(e.Walk) != 14 {
			t.Errorf("evening %d: %d and %d are not 14", e.Number, len(e.Off), len(e.Walk))
		}
	}
	if len(off) != 14 || g.Plan.Closed == 0 {
		t.Errorf("glued: off %v, closed on %d nights", off, g.Plan.Closed)
	}
}

func TestNoShape(t *testing.T) {
	f := straight(3)
	f.res.Steps[1].TopLeft, f.res.Steps[1].TopRight = 100, 100
	if r := f.solve(model.Wishes{}); r.Status != fitting.NoShape || !strings.Contains(r.Why, "R02") {
		t.Errorf("%s: %s", r.Status, r.Why)
	}
	if r := fitting.Solve(fitting.Problem{Job: f.job}); r.Status != fitting.NoShape {
		t.Errorf("no survey: %s", r.Status)
	}
}
