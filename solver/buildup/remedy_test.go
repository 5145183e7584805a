package buildup_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver/buildup"
)

// table reads a rule table as the program ships it.
func table(t testing.TB, id string) model.RuleTable {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "assets", "rules", id+".json"))
	if err != nil {
		t.Fatal(err)
	}
	var out model.RuleTable
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	if len(out.Limits) == 0 {
		t.Fatalf("%s has no limits", id)
	}
	return out
}

// boards is a small stock of our own.
func boards(mm ...float64) model.Stock {
	var s model.Stock
	for _, x := range mm {
		s.TreadThicknesses = append(s.TreadThicknesses, model.StockSize{Size: model.Length(x), Name: model.Format{}.Length(model.Length(x))})
	}
	return s
}

func TestRiseLimits(t *testing.T) {
	for _, c := range []struct {
		code, class                   string
		least, most, spread, adjacent float64
		memory                        bool
	}{
		{"irc", "", math.Inf(-1), 196.85, 9.525, math.Inf(1), false},
		{"ibc", "main", 101.6, 177.8, 9.525, math.Inf(1), false},
		{"ibc", "dwelling", math.Inf(-1), 196.85, 9.525, math.Inf(1), false},
		{"adk", "private", 150, 220, math.Inf(1), math.Inf(1), false},
		{"adk", "", 150, 220, math.Inf(1), math.Inf(1), false},
		{"adk", "general", 150, 170, math.Inf(1), math.Inf(1), false},
		{"nbc", "private", 125, 200, 10, 5, false},
		{"nbc", "public", 125, 180, 10, 5, true},
		{"ncc", "private", 115, 190, 10, 5, true},
	} {
		l := buildup.RiseLimitsOf(table(t, c.code), c.class)
		if math.Abs(l.Most-c.most) > rounding || l.Least != c.least && math.Abs(l.Least-c.least) > rounding ||
			l.Spread != c.spread && math.Abs(l.Spread-c.spread) > rounding || l.Adjacent != c.adjacent || l.Memory != c.memory {
			t.Errorf("%s %s: got %+v", c.code, c.class, l)
		}
	}
}

// kindsOf names the kinds of change in a remedy.
func kindsOf(r buildup.Remedy) string {
	out := ""
	if r.Bottom > 0 {
		out += "B"
	}
	if r.Top > 0 {
		out += "T"
	}
	if len(r.Treads) > 0 {
		out += "p"
	}
	if r.NewBoard {
		out += "n"
	}
	return out
}

// dominated says whether a set of kinds costs no less than one of its subsets.
func dominated(cost map[string]float64, k string) bool {
	for m, c := range cost {
		subset := m != k
		for _, x := range m {
			subset = subset && strings.ContainsRune(k, x)
		}
		if subset && c <= cost[k] {
			return true
		}
	}
	return false
}

// slowMend tries everything on the grid and returns the least cost of each set
// of kinds that beats its own subsets. Costs are written out again here on
// purpose.
func slowMend(j model.Job, limits buildup.RiseLimits, stock model.Stock, grid, plane, pack, floor float64) map[string]float64 {
	now := compute(j)
	n := len(now.Steps)
	floors := int(floor/grid + 1e-9)
	best := map[string]float64{}
	moves := make([]int, n+1)
	var offsets []float64 // of each board
	offsets = append(offsets, 0)
	for _, s := range stock.TreadThicknesses {
		if s.Size != j.Overlay.Tread {
			offsets = append(offsets, float64(s.Size-j.Overlay.Tread))
		}
	}
	if t := float64(j.Existing.Tread); t > 0 {
		plane = math.Min(plane, t/4)
	}
	for b, by := range offsets {
		up := make([]float64, n+1)
		for k := 1; k < n; k++ {
			if s := &j.Flight.Steps[k-1]; s.Thickness == 0 && !s.Landing {
				up[k] = by
			}
		}
		judge := func() {
			hi, lo, adjacent, spread := math.Inf(-1), math.Inf(1), 0.0, 0.0
			var l, r, top, low float64 // of the flight: largest and smallest
			first := true
			for k := 1; k <= n; k++ {
				d := float64(moves[k])*grid + up[k] - float64(moves[k-1])*grid - up[k-1]
				nl, nr := now.Steps[k-1].RiseAfter.Left.At+d, now.Steps[k-1].RiseAfter.Right.At+d
				hi, lo = math.Max(hi, math.Max(nl, nr)), math.Min(lo, math.Min(nl, nr))
				if first {
					top, low = math.Inf(-1), math.Inf(1)
				} else {
					adjacent = math.Max(adjacent, math.Max(math.Abs(nl-l), math.Abs(nr-r)))
				}
				top, low = math.Max(top, math.Max(nl, nr)), math.Min(low, math.Min(nl, nr))
				spread = math.Max(spread, top-low)
				l, r = nl, nr
				first = j.Flight.Steps[k-1].Landing // the next flight is judged by itself
			}
			const e = 1e-7
			if hi > limits.Most+e || lo < limits.Least-e || spread > limits.Spread+e || adjacent > limits.Adjacent+e {
				return
			}
			cost, kinds := 0.0, ""
			if moves[0] > 0 {
				cost += 60 + 3*float64(moves[0])*grid
				kinds += "B"
			}
			if moves[n] > 0 {
				cost += 60 + 3*float64(moves[n])*grid
				kinds += "T"
			}
			touched := false
			for k := 1; k < n; k++ {
				if moves[k] != 0 {
					by := float64(moves[k]) * grid
					s := &j.Flight.Steps[k-1]
					p := float64(min(s.PackLeft, s.PackRight))
					cost += 10 + math.Abs(by)
					if p+by < 0 { // planing costs 4 a mm
						cost += 3 * math.Max(0, math.Min(-by, -(p+by)))
					}
					touched = true
				}
			}
			if touched {
				kinds += "p"
			}
			if b > 0 {
				cost += 30
				kinds += "n"
			}
			if old, ok := best[kinds]; !ok || cost < old {
				best[kinds] = cost
			}
		}
		var walk func(k int)
		walk = func(k int) {
			if k > n {
				judge()
				return
			}
			from, to := 0, floors
			if k > 0 && k < n {
				s := &j.Flight.Steps[k-1]
				from = min(0, int(math.Ceil((-plane-float64(min(s.PackLeft, s.PackRight)))/grid-1e-9)))
				to = max(0, int(math.Floor((pack-float64(max(s.PackLeft, s.PackRight)))/grid+1e-9)))
			}
			for m := from; m <= to; m++ {
				moves[k] = m
				walk(k + 1)
			}
		}
		walk(0)
	}
	for k := range best {
		if dominated(best, k) {
			delete(best, k) // what it is dominated by stays, or is dominated itself
		}
	}
	return best
}

func TestRemediesAgainstTryingEverything(t *testing.T) {
	rng := seeded(t, 21)
	flights := 60
	if os.Getenv("RISEWRIGHT_FULL") == "1" {
		flights = 300
	}
	mended, unmended, neighbours, landings := 0, 0, 0, 0
	for f := range flights {
		n := 2 + rng.IntN(3)
		j := flight{risers: n, rise: 180, going: 250, tread: 12, riser: 12, landing: 20, overhang: 25, bottom: 3}.job()
		if rng.IntN(3) == 0 {
			j.Units = model.Imperial
		}
		grid := 0.5
		if j.Units == model.Imperial {
			grid = 25.4 / 64
		}
		for i := range j.Flight.Steps {
			s := &j.Flight.Steps[i]
			off := 2.5 * rng.NormFloat64()
			s.TopLeft += model.Length(off + 0.7*rng.NormFloat64())
			s.TopRight += model.Length(off + 0.7*rng.NormFloat64())
			if rng.IntN(4) == 0 {
				s.PackLeft, s.PackRight = model.Length(rng.IntN(3)), model.Length(rng.IntN(3))
			}
			if rng.IntN(5) == 0 {
				s.Thickness = 9
			}
		}
		if rng.IntN(3) == 0 {
			j.Flight.Steps[rng.IntN(n-1)].Landing = true
			landings++
		}
		limits := buildup.RiseLimits{Least: 165, Most: 196, Spread: 6 + 6*rng.Float64(), Adjacent: math.Inf(1), Rules: []string{"test"}}
		if rng.IntN(2) == 0 {
			limits.Adjacent = 2 + 3*rng.Float64()
			neighbours++
		}
		if rng.IntN(6) == 0 {
			limits.Spread = math.Inf(1)
			limits.Most = 186
		}
		const plane, pack, floor = 1.5, 2.5, 4
		stock := boards(10.3)
		got := buildup.MendWithin(j, exactly(j, 0), limits, stock, plane, pack, floor)
		if got.Status == buildup.Compliant {
			continue
		}
		want := slowMend(j, limits, stock, grid, plane, pack, floor)
		seen := map[string]float64{}
		for _, r := range got.Remedies {
			if old, ok := seen[kindsOf(r)]; !ok || r.Cost < old {
				seen[kindsOf(r)] = r.Cost
			}
			applied, err := r.Edit().Apply(j)
			if err != nil {
				t.Fatalf("flight %d: %s: %v", f, r.Title, err)
			}
			after := compute(applied)
			if !limits.Within(&after) {
				t.Errorf("flight %d: %q leaves the limits", f, r.Title)
			}
			near(t, "said and done", r.After.Spread.At, after.RiseAfter.Spread.At, rounding)
		}
		// one of a kind, and both floors raised by the whole board besides
		if len(got.Remedies) > len(seen)+1 {
			t.Errorf("flight %d: two remedies of the same kinds", f)
		}
		for k, c := range want {
			if math.Abs(seen[k]-c) > 1e-5 {
				t.Errorf("flight %d (%d risers, %+v): %s costs %g, found %g", f, n, limits, k, c, seen[k])
			}
		}
		for k := range seen {
			if k == "BT" && dominated(seen, k) {
				continue // raising both floors by the whole board, offered regardless
			}
			if _, ok := want[k]; !ok {
				t.Errorf("flight %d: %s found at %g, not by trying everything", f, k, seen[k])
			}
		}
		switch {
		case len(want) == 0 && got.Status == buildup.Unmended:
			unmended++
		case len(want) > 0 && got.Status == buildup.Mendable:
			mended++
		default:
			t.Errorf("flight %d: %d ways by trying everything, status %s", f, len(want), got.Status)
		}
	}
	t.Logf("%d mended, %d beyond mending, %d with a limit on neighbours, %d with a landing", mended, unmended, neighbours, landings)
	if mended < flights/4 || unmended == 0 || landings < flights/6 {
		t.Errorf("the flights are no test: %d mended, %d not", mended, unmended)
	}
}

// trade.md section 3, common practice: the best fix of a plain overlay is to
// raise both floors by its thickness. On the reference flight under 3/8 in of
// spread it must be among the remedies, with no tread touched, and no smaller
// raise of both floors may do: N equal rises with T on top need
// 2(T - raise) <= spread.
func TestReferenceFlight(t *testing.T) {
	j := flight{risers: 14, rise: 185, going: 254, tread: 20, riser: 18, landing: 20, overhang: 25, oldOverhang: 25}.job()
	got := buildup.Remedies(j, exactly(j, 0), table(t, "irc"), "dwelling", model.Stock{})
	if got.Status != buildup.Mendable {
		t.Fatalf("%s: %s", got.Status, got.Why)
	}
	for _, r := range got.Remedies {
		t.Logf("%.1f %s | %s", r.Cost, r.Title, r.Detail)
	}
	found, restored := false, false
	for _, r := range got.Remedies {
		if r.Bottom == 20 && r.Top == 20 {
			restored = true
			near(t, "spread of the restored", r.After.Spread.At, 0, rounding)
			continue
		}
		if kindsOf(r) == "BT" {
			found = true
			// rises R + T - b and R - T + t: spread 2T - b - t, on the half millimetre
			near(t, "both floors together", r.Bottom+r.Top, math.Ceil((40-9.525)/0.5)*0.5, rounding)
			if r.After.Spread.At > 9.525 {
				t.Errorf("spread %g", r.After.Spread.At)
			}
		}
	}
	if !found || !restored {
		t.Error("raising both floors, just enough and by the whole board, is not among the remedies")
	}
}

func TestNothingHelps(t *testing.T) {
	irc := table(t, "irc")
	j := flight{risers: 6, rise: 185, going: 254, tread: 4, riser: 18, landing: 20, overhang: 25}.job()
	for name, c := range map[string]struct {
		change func(*model.Job)
		status buildup.MendingStatus
		says   string
	}{
		"within":        {func(*model.Job) {}, buildup.Compliant, "within"},
		"twisted":       {func(j *model.Job) { j.Flight.Steps[2].TopLeft += 12 }, buildup.Unmended, "riser 3 differs by 12.0 mm"},
		"far too steep": {func(j *model.Job) { j.Flight.Steps[5].TopLeft += 400; j.Flight.Steps[5].TopRight += 400 }, buildup.Unmended, "rebuilt"},
	} {
		t.Run(name, func(t *testing.T) {
			j := j
			j.Flight.Steps = append([]model.Step(nil), j.Flight.Steps...)
			c.change(&j)
			got := buildup.Remedies(j, exactly(j, 0), irc, "", boards(10, 15))
			if got.Status != c.status || !strings.Contains(got.Why, c.says) || len(got.Remedies) > 0 {
				t.Errorf("got %s, %q, %d remedies", got.Status, got.Why, len(got.Remedies))
			}
		})
	}
	if got := buildup.Remedies(j, exactly(j, 0), model.RuleTable{}, "", model.Stock{}); got.Status != buildup.NoLimits {
		t.Errorf("an empty table: %s", got.Status)
	}
}

// A thinner board is proposed by the name the yard gives it, and the edit sets it.
func TestThinnerBoard(t *testing.T) {
	j := flight{risers: 14, rise: 185, going: 254, tread: 8, riser: 18, landing: 20, overhang: 25}.job()
	stock := model.Stock{TreadThicknesses: []model.StockSize{{Size: 4.5, Name: "thin board", Units: model.Metric}, {Size: 3, Name: "other yard", Units: model.Imperial}}}
	got := buildup.Remedies(j, exactly(j, 0), table(t, "irc"), "", stock)
	for _, r := range got.Remedies {
		if kindsOf(r) != "n" {
			continue
		}
		k, err := r.Edit().Apply(j)
		if err != nil || k.Overlay.Tread != 4.5 || r.Title != "use thin board treads" {
			t.Errorf("%q: %v, tread %g", r.Title, err, float64(k.Overlay.Tread))
		}
		return
	}
	t.Errorf("no remedy by the board alone: %+v", got)
}

// hard is a flight of 14 on which remedies take long to find.
func hard(seed uint64) model.Job {
	rng := rand.New(rand.NewPCG(seed, 0))
	j := flight{risers: 14, rise: 185, going: 254, tread: 19, riser: 12, landing: 20, overhang: 25, oldOverhang: 25}.job()
	for i := range j.Flight.Steps {
		s := &j.Flight.Steps[i]
		off := 2 * rng.NormFloat64()
		s.TopLeft += model.Length(off + 0.5*rng.NormFloat64())
		s.TopRight += model.Length(off + 0.5*rng.NormFloat64())
	}
	return j
}

func BenchmarkRemedies(b *testing.B) {
	for _, code := range []string{"irc", "nbc", "adk"} {
		b.Run(code, func(b *testing.B) {
			rules, stock := table(b, code), boards(6, 8, 10, 12, 15, 18, 20, 22, 27)
			j := hard(1)
			s := exactly(j, 0)
			for b.Loop() {
				buildup.Remedies(j, s, rules, "", stock)
			}
		})
	}
}
