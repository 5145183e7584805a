package stock_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/app/demo"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/stock"
	"risewright/solver/survey"
)

func shipped(t testing.TB) model.Tables {
	t.Helper()
	all, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	if err := tables.Trade(&all); err != nil {
		t.Fatal(err)
	}
	return all
}

type flightOf struct {
	name string
	job  model.Job
	res  *survey.Result
	ps   []pieces.Piece
}

func demos(t testing.TB) []flightOf {
	t.Helper()
	jobs, err := demo.Jobs()
	if err != nil {
		t.Fatal(err)
	}
	var out []flightOf
	for _, d := range jobs {
		f := flightOf{name: d.Name, job: d.Job, res: survey.Solve(d.Job)}
		f.ps = pieces.Make(d.Job, f.res)
		out = append(out, f)
	}
	return out
}

var everything = stock.Extras{NewSkirts: 2, LightBars: true, Coves: true, WireCover: true}

// Every piece of the demo flights is in the plan once, the spares beside it,
// and what is cut comes out of what is bought.
func TestBuyDemos(t *testing.T) {
	all := shipped(t)
	for _, f := range demos(t) {
		t.Run(f.name, func(t *testing.T) {
			plan := stock.Buy(f.job, f.res, f.ps, all, everything)
			met := map[string]int{}
			proven := 0.0
			for _, c := range plan.Cuts {
				verify(t, c.Cutting, c.Result)
				proven += c.Result.Lower
				for _, l := range c.Result.Layouts {
					for _, q := range l.Cuts {
						met[c.Cutting.Parts[q.Part].Name]++
					}
				}
			}
			for _, c := range plan.Sheets {
				verifySheets(t, c.Cutting, c.Result)
				for _, p := range c.Cutting.Panels {
					met[p.Name]++
				}
			}
			missing := 0
			cost := 0.0
			for _, r := range plan.Rows {
				if r.Missing {
					missing++
					if r.Why == "" {
						t.Errorf("%s is missing without a word", r.Use)
					}
					continue
				}
				if r.Count <= 0 || r.Standing == "" || math.Abs(r.Cost-float64(r.Count)*r.Price) > 1e-9 || r.Extra < -1e-9 {
					t.Errorf("row %+v", r)
				}
				cost += r.Cost
			}
			for i := range f.ps {
				p := &f.ps[i]
				if met[p.ID] != 1 && !(met[p.ID] == 0 && missing > 0) {
					t.Errorf("%s is cut %d times", p.ID, met[p.ID])
				}
				b := stock.BlankOf(p, all.Goods, f.job.Units)
				if p.Released != (b.Unsure == 0) {
					t.Errorf("%s: released %v, but lengthened by %v", p.ID, p.Released, b.Unsure)
				}
				lo, hi := math.Inf(1), math.Inf(-1) // a winder's corners reach past its edges
				for _, v := range p.Solid.Verts {
					lo, hi = math.Min(lo, v[0]), math.Max(hi, v[0])
				}
				const step = 6.35 // blanks are rounded up by at most this
				if w := hi - lo; b.Length < w+25-1e-6 || b.Length > w+25+b.Unsure+step+1e-6 {
					t.Errorf("%s: a blank of %v for %v", p.ID, b.Length, w)
				}
			}
			if spares := met["spare"] + met["spare 1"] + met["spare 2"]; spares < 2 && missing == 0 {
				t.Errorf("%d spares", spares)
			}
			if math.Abs(cost-plan.Total) > 1e-6 || plan.Lower > plan.Total+1e-9 || plan.Lower <= 0 {
				t.Errorf("rows come to %v, total %v, lower %v", cost, plan.Total, plan.Lower)
			}
			if early := strings.Contains(strings.Join(plan.Notes, " "), "99 %"); early != plan.Early {
				t.Errorf("early %v, notes %v", plan.Early, plan.Notes)
			}
			if again := stock.Buy(f.job, f.res, f.ps, all, everything); fmt.Sprint(again) != fmt.Sprint(plan) {
				t.Error("the same job gives another plan")
			}
			for _, r := range plan.Rows {
				t.Logf("%-15s %2d × %-60s %8.2f  %s", r.Use, r.Count, r.Name, r.Cost, r.Why)
			}
			t.Log(plan.Notes, plan.Total, plan.Lower)
		})
	}
}

// board is a piece of so many millimetres, all of it square.
func board(id string, kind pieces.Kind, length, depth, spread float64) pieces.Piece {
	v := func(x float64) pieces.Value { return pieces.Value{Value: x, PlusMinus: 1.96 * spread} }
	p := pieces.Piece{ID: id, Kind: kind, Thickness: 20, Released: spread == 0}
	p.Face = []mgl64.Vec2{{0, 0}, {length, 0}, {length, depth}, {0, depth}}
	for _, c := range p.Face {
		p.Solid.Verts = append(p.Solid.Verts, mgl64.Vec3{c[0], c[1], 0}, mgl64.Vec3{c[0], c[1], 20})
	}
	p.Figures = pieces.Figures{Back: v(length), Front: v(length), LeftDepth: v(depth), RightDepth: v(depth)}
	return p
}

// straight is the pieces of a flight of n risers, all alike.
func straight(n int, length, depth, spread float64) []pieces.Piece {
	var out []pieces.Piece
	for i := 1; i <= n; i++ {
		out = append(out, board(fmt.Sprintf("R%02d", i), pieces.Riser, length, 180, spread))
		if i < n {
			out = append(out, board(fmt.Sprintf("T%02d", i), pieces.Tread, length, depth, spread))
		}
	}
	return append(out, board(fmt.Sprintf("L%02d", n), pieces.LandingNosing, length, 80, spread))
}

// Worked by hand: treads N-1 and a spare, risers N+1, all of 900 mm from boards
// of 900, since the 25 mm to spare holds the cuts.
func TestBuyCounts(t *testing.T) {
	all := shipped(t)
	plan := stock.Buy(model.Job{Units: model.Metric}, nil, straight(14, 875, 280, 0), all, stock.Extras{Coves: true})
	for _, c := range plan.Cuts {
		n := len(c.Cutting.Parts)
		switch c.Use {
		case model.UseTread:
			if n != 14 || c.Width != 300 || len(c.Result.Layouts) != 14 || c.Result.Status != stock.Optimal {
				t.Errorf("treads: %d parts on %d boards of %v: %s", n, len(c.Result.Layouts), c.Width, c.Result.Status)
			}
		case model.UseLanding:
			if n != 1 || c.Width != 90 {
				t.Errorf("landing nosing: %d parts of %v", n, c.Width)
			}
		case model.UseCove: // 14 and a tenth more, two on 2400 and three on 3000
			if n != 16 || math.Abs(c.Cutting.Parts[0].Length-875) > 5 {
				t.Errorf("cove: %d parts of %v", n, c.Cutting.Parts[0].Length)
			}
		default:
			t.Errorf("%s is bought", c.Use)
		}
	}
	if len(plan.Sheets) != 1 || len(plan.Sheets[0].Cutting.Panels) != 15 || plan.Sheets[0].Result.Status != stock.Optimal {
		t.Errorf("risers: %+v", plan.Sheets)
	}
	if plan.Early || len(plan.Rips) != 28 {
		t.Errorf("early %v, %d rips", plan.Early, len(plan.Rips))
	}
	// A wider tread than any board is not forgotten.
	ps := append(straight(14, 875, 280, 0), board("T99", pieces.Tread, 875, 600, 0))
	plan = stock.Buy(model.Job{Units: model.Metric}, nil, ps, all, stock.Extras{})
	found := false
	for _, r := range plan.Rows {
		found = found || r.Missing && strings.Contains(r.Why, "T99")
	}
	if !found {
		t.Error("T99 is in no row")
	}
	// Without prices the least length is bought, and the plan says so.
	free := all
	free.Goods.Boards = append([]model.GoodsBoard(nil), all.Goods.Boards...)
	for i := range free.Goods.Boards {
		free.Goods.Boards[i].Price = 0
	}
	plan = stock.Buy(model.Job{Units: model.Metric}, nil, straight(14, 875, 280, 0), free, stock.Extras{})
	for _, r := range plan.Rows {
		if r.Use == model.UseTread && (r.Name != "tread blank 900 × 300 mm" || r.Count != 14 || !strings.Contains(r.Why, "no prices")) {
			t.Errorf("without prices: %+v", r)
		}
	}
	// A board in hand is cut once, though two widths could use it.
	mixed := append(straight(7, 875, 280, 0), straight(7, 875, 200, 0)...)
	for i := range mixed {
		mixed[i].ID = fmt.Sprint(i)
	}
	plan = stock.Buy(model.Job{Units: model.Metric}, nil, mixed, all, stock.Extras{Spans: []stock.Span{{Use: model.UseTread, Name: "in hand", Length: 905}}})
	uses, treadPlans := 0, 0
	for _, c := range plan.Cuts {
		if c.Use != model.UseTread {
			continue
		}
		treadPlans++
		for _, l := range c.Result.Layouts {
			if c.Cutting.Boards[l.Board].Name == "in hand" {
				uses++
			}
		}
	}
	if uses != 1 || treadPlans != 2 {
		t.Errorf("the board in hand is cut %d times in %d plans", uses, treadPlans)
	}
	// Boards in hand are cut first and cost nothing.
	for i := range 14 {
		everything := stock.Extras{Spans: make([]stock.Span, i)}
		for k := range everything.Spans {
			everything.Spans[k] = stock.Span{Use: model.UseTread, Length: 905}
		}
		plan = stock.Buy(model.Job{Units: model.Metric}, nil, straight(14, 875, 280, 0), all, everything)
		bought, inHand := 0, 0
		for _, r := range plan.Rows {
			switch {
			case r.Use != model.UseTread:
			case r.InHand && r.Cost == 0:
				inHand += r.Count
			default:
				bought += r.Count
			}
		}
		if bought != 14-i || inHand != i {
			t.Errorf("with %d in hand %d of them are cut and %d bought", i, inHand, bought)
		}
	}
}

// Arithmetic on common practice: the beads of a flight by hand, and a trade
// example: 149 sq ft of coats take a quart, and two are bought.
func TestBuyAdhesiveAndFinish(t *testing.T) {
	all := shipped(t)
	var packs []model.GoodsPack
	for _, p := range all.Goods.Packs {
		if p.ID != "adhesive-828" && p.ID != "finish-gallon" {
			packs = append(packs, p)
		}
	}
	all.Goods.Packs = packs
	ps := straight(14, 900, 250, 0)
	ps = ps[:len(ps)-1] // the example has no landing nosing
	plan := stock.Buy(model.Job{Units: model.Imperial}, nil, ps, all, stock.Extras{})
	count := func(p stock.Plan, use model.GoodsUse) (n int, need float64) {
		for _, r := range p.Rows {
			if r.Use == use {
				n, need = n+r.Count, need+r.Need
			}
		}
		return n, need
	}
	// By hand: two beads along the front third of 13 treads of 900 by 250 and up a
	// third of their ends, two along 14 risers: 13 × (2 × 0.9 + 2 × 0.25 / 3) + 14 × 1.8
	// = 50.77 m, 9.35 m to a cartridge. One elastic bead along each back, 13 × 0.9 =
	// 11.7 m.
	if n, need := count(plan, model.UseAdhesive); n != 7 || math.Abs(need/296-50.77/9.35) > 0.01 {
		t.Errorf("%d cartridges for %v ml", n, need)
	}
	if n, need := count(plan, model.UseElastic); n != 2 || math.Abs(need/296-11.7/9.35) > 0.01 {
		t.Errorf("%d cartridges of elastic adhesive for %v ml", n, need)
	}
	if n, _ := count(plan, model.UseScrews); n != 0 {
		t.Errorf("%d boxes of screws for glued treads", n)
	}
	// On a dry bed only the risers are glued: 25.2 m.
	dry := stock.Buy(model.Job{Units: model.Imperial}, nil, ps, all, stock.Extras{Screwed: true})
	if _, need := count(dry, model.UseAdhesive); math.Abs(need/296-25.2/9.35) > 0.01 {
		t.Errorf("%v ml of adhesive for risers alone", need)
	}
	if n, need := count(dry, model.UseScrews); n != 1 || need != 78 {
		t.Errorf("%d boxes for %v screws", n, need)
	}
	for _, use := range []model.GoodsUse{model.UseElastic, model.UseTreadPins} {
		if n, _ := count(dry, use); n != 0 {
			t.Errorf("%d of %s for treads that are screwed", n, use)
		}
	}
	const sqft = 304.8 * 304.8
	ps = straight(14, 914.4, 37*sqft/13/914.4, 0)
	ps = ps[:len(ps)-1]
	plan = stock.Buy(model.Job{Units: model.Imperial}, nil, ps, all, stock.Extras{})
	if n, need := count(plan, model.UseFinish); n != 2 || math.Abs(need-946) > 20 {
		t.Errorf("%d quarts for %v ml", n, need)
	}
	if n, need := count(plan, model.UseTreadPins); n != 1 || need != 78 {
		t.Errorf("%d boxes for %v pins", n, need)
	}
}

// A length is long enough in 99 cases of 100: with the usual spare length used
// up by squaring, drawn lengths are longer than the blank in about one of 100.
func TestBlankIsLongEnough(t *testing.T) {
	all := shipped(t)
	all.Goods.Practice = append([]model.Practice(nil), all.Goods.Practice...)
	for _, spread := range []float64{0.5, 3, 8} {
		p := board("T01", pieces.Tread, 900, 280, spread)
		b := stock.BlankOf(&p, all.Goods, model.Metric)
		exact := 900 + b.Unsure
		if b.Length < exact+b.Spare || b.Length > exact+b.Spare+5 {
			t.Errorf("a blank of %v for %v", b.Length, exact)
		}
		const seed, draws = 21, 200_000
		rng := rand.New(rand.NewPCG(seed, 1))
		short := 0
		for range draws {
			if 900+spread*rng.NormFloat64() > exact {
				short++
			}
		}
		// one in 100 with a spread of 0.02 % of draws; five times that allowed
		if got := float64(short) / draws; math.Abs(got-0.01) > 0.0012 {
			t.Errorf("spread %v: too short in %.4f of draws (seed %d)", spread, got, seed)
		}
	}
}

// Cells that a spreadsheet could run are made text.
func TestCSVIsSafe(t *testing.T) {
	all := shipped(t)
	for i := range all.Goods.Boards {
		all.Goods.Boards[i].Name = []string{"=HYPERLINK(\"x\")", "+1", "-1", "@SUM(A1)", "\tcmd", "\rcmd", "  =1+1", "＝1", "plain, with \"quotes\""}[i%9]
	}
	all.Goods.Currency = "=money"
	f := demos(t)[0]
	plan := stock.Buy(f.job, f.res, f.ps, all, stock.Extras{Coves: true, Spans: []stock.Span{{Use: model.UseTread, Name: "@span", Length: 1000}}})
	for name, text := range map[string][]byte{"list": plan.CSV(), "map": plan.MapCSV()} {
		rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
		if err != nil || len(rows) < 5 {
			t.Fatalf("%s: %d rows, %v", name, len(rows), err)
		}
		guarded := 0
		for _, row := range rows {
			for _, cell := range row {
				if strings.HasPrefix(cell, "'") {
					guarded++
				}
				if rest := strings.TrimLeft(cell, " "); rest != "" && strings.ContainsAny(rest[:1], "=+-@\t\r") || strings.HasPrefix(cell, "＝") {
					t.Errorf("%s: cell %q", name, cell)
				}
			}
		}
		if guarded == 0 {
			t.Errorf("%s: nothing had to be guarded: the test shows nothing", name)
		}
	}
}
