package saw_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/saw"
	"risewright/solver/survey"
)

// The trade's line for someone at the saw (common practice, no source): T07,
// back 914.0 short to short, front 921.5, left end gauge 91.0 is saw 1.0 with
// the arm left, right end gauge 90.5 is saw 0.5 with the arm right, undercut 2
// degrees both, ripped to 286.
func tradeTread() *flight {
	f := straightFlight(14)
	f.job.Units = model.Imperial // it comes from a 42 in blank
	f.job.Overlay.Tread, f.job.Overlay.Undercut = 19, 2*model.Degree
	s := &f.res.Steps[6]
	y := s.Corners[2][1]
	s.Corners = []mgl64.Vec2{{-286 * math.Tan(1*degree), y - 286}, {914 + 286*math.Tan(0.5*degree), y - 286}, {914, y}, {0, y}}
	return f
}

func TestTradeLine(t *testing.T) {
	f := tradeTread()
	c := cardOf(t, f, "T07")
	if !c.Proof.OK {
		t.Fatal(c.Proof.Reason)
	}
	if c.Blank.Stock != "42 in × 11 1/2 in" || c.Blank.Width != 292.1 {
		t.Errorf("blank %+v", c.Blank)
	}
	rip, left, right := c.Ops[0], c.Ops[1], c.Ops[2]
	if rip.Verb != saw.Rip || rip.Fence != saw.Nose {
		t.Errorf("first cut %+v", rip)
	}
	near(t, "ripped to", rip.Measures[0].Value, 286, 1e-9)
	near(t, "ripped to", rip.Measures[1].Value, 286, 1e-9)
	for _, op := range []saw.Op{left, right} {
		if op.Fence != saw.Back || op.Face != saw.Up || !op.NoseToYou || op.Measures[0].Edge != saw.Back || op.Measures[0].Point != saw.ShortPoint {
			t.Errorf("%s end: %+v", op.End, op)
		}
		near(t, "undercut", op.Bevel, 2*degree, 1e-12)
		if op.Hand != op.End || op.Tilt != op.End || op.Arm != op.End {
			t.Errorf("%s end: at the %s hand, arm %s, head %s", op.End, op.Hand, op.Arm, op.Tilt)
		}
	}
	near(t, "left gauge", left.Gauge/degree, 91, 1e-9)
	near(t, "left saw", left.Saw/degree, 1, 1e-9)
	near(t, "right gauge", right.Gauge/degree, 90.5, 1e-9)
	near(t, "right saw", right.Saw/degree, 0.5, 1e-9)
	near(t, "back, short to short", right.Measures[0].Value, 914, 1e-9)
	checks := map[string]float64{"back width": 914, "front width": 921.5, "left depth": 286 / math.Cos(1*degree), "right depth": 286 / math.Cos(0.5*degree)}
	for _, d := range c.Checks {
		if want, ok := checks[d.Name]; ok {
			near(t, d.Name, d.Value, want, 0.05)
		}
		if !(d.PlusMinus > 0) || d.PlusMinus > c.PlusMinus {
			t.Errorf("%s ± %g, card ± %g", d.Name, d.PlusMinus, c.PlusMinus)
		}
	}
	if len(c.Checks) != 6 || len(c.Cautions) == 0 || !c.Released {
		t.Errorf("%d checks, %d cautions, released %v", len(c.Checks), len(c.Cautions), c.Released)
	}
}

// The rules of the trade for arm and hand (common practice, no source): saw =
// gauge - 90; positive on the left end swings the arm left, on the right end
// right, negative the opposite; face down swaps the arm; turned end for end,
// each end keeps its arm and sits at the other hand.
func TestArmRules(t *testing.T) {
	for _, left := range []float64{91, 89} {
		for _, right := range []float64{90.5, 89.5} {
			f := tradeTread()
			s := &f.res.Steps[6]
			s.Corners[0][0] = -286 * math.Tan((left-90)*degree)
			s.Corners[1][0] = 914 + 286*math.Tan((right-90)*degree)
			c := cardOf(t, f, "T07")
			for i, gauge := range []float64{left, right} {
				op, down, round := c.Ops[1+i], c.Turned[0].Ops[1+i], c.Turned[1].Ops[1+i]
				want := op.End
				if gauge < 90 {
					want = swapped(want)
				}
				if op.Arm != want {
					t.Errorf("gauge %g on the %s end: arm %s", gauge, op.End, op.Arm)
				}
				if down.Arm != swapped(op.Arm) || down.Hand != swapped(op.Hand) || down.Face != saw.Down || down.Fence != saw.Back {
					t.Errorf("face down, %s end: %+v", op.End, down)
				}
				if round.Arm != op.Arm || round.Hand != swapped(op.Hand) || round.Face != saw.Up || round.Fence != saw.Nose || round.NoseToYou {
					t.Errorf("end for end, %s end: %+v", op.End, round)
				}
				// The head leans over the offcut face up, over the board face down.
				if op.Tilt != op.Hand || down.Tilt != swapped(down.Hand) || round.Tilt != round.Hand {
					t.Errorf("%s end: heads %s, %s, %s", op.End, op.Tilt, down.Tilt, round.Tilt)
				}
				// The nose is parallel to the back, so its gauge is the supplement.
				near(t, "gauge at the nose", round.Gauge, math.Pi-op.Gauge, 1e-9)
			}
		}
	}
}

// What a turned card says has changed is all that has.
func TestChangesAreComplete(t *testing.T) {
	f := tradeTread()
	f.res.Steps[6].Corners[2][1] += 4 // a taper, so that the nose's gauges differ
	c := cardOf(t, f, "T07")
	for _, turn := range c.Turned {
		redo := append([]saw.Op(nil), c.Ops...)
		for i := range redo {
			op := &redo[i]
			for _, ch := range turn.Changes {
				if ch.End != op.End || op.End == "" {
					continue
				}
				switch ch.What {
				case saw.FieldFace:
					op.Face = saw.Face(ch.Now)
				case saw.FieldFence:
					op.Fence = saw.Edge(ch.Now)
					op.NoseToYou = op.Fence == saw.Back
				case saw.FieldHand:
					op.Hand = saw.Hand(ch.Now)
				case saw.FieldArm:
					op.Arm = saw.Hand(ch.Now)
				case saw.FieldTilt:
					op.Tilt = saw.Hand(ch.Now)
				case saw.FieldGauge:
					near(t, "was", ch.WasAngle, op.Gauge, 0)
					op.Gauge = ch.NowAngle
				case saw.FieldSaw:
					op.Saw = ch.NowAngle
				default:
					t.Errorf("field %q", ch.What)
				}
			}
			if *op != turn.Ops[i] {
				t.Errorf("%s, cut %d: the changes give %+v, the turned card says %+v", turn.How, i+1, *op, turn.Ops[i])
			}
		}
		if len(turn.Changes) < 4 {
			t.Errorf("%s: changes %v", turn.How, turn.Changes)
		}
	}
}

// A riser with its bottom to the fence and its face up lies upside down: its
// left end is at the right hand, and the card says so.
func TestRiserCard(t *testing.T) {
	f := straightFlight(5)
	f.res.Steps[1].Lean = [2]float64{2 * degree, -1 * degree}
	f.res.Steps[2].TopRight += 3
	c := cardOf(t, f, "R03")
	if !c.Proof.OK {
		t.Fatal(c.Proof.Reason)
	}
	rip, left, right := c.Ops[0], c.Ops[1], c.Ops[2]
	if rip.Fence != saw.Back || left.Fence != saw.Back || left.Hand != saw.Right || right.Hand != saw.Left {
		t.Errorf("rip %+v\nleft %+v\nright %+v", rip, left, right)
	}
	near(t, "left gauge", left.Gauge/degree, 92, 1e-6)
	near(t, "right gauge", right.Gauge/degree, 89, 1e-6)
	if left.Arm != saw.Right || right.Arm != saw.Right { // both slant the same way on the saw
		t.Errorf("arms %s and %s", left.Arm, right.Arm)
	}
	near(t, "higher at the right by", rip.Measures[1].Value-rip.Measures[0].Value, 3, 0.05)
	near(t, "height", rip.Measures[0].Value, 170, 0.05)
	if s := strings.Join(c.Notes, "; "); !strings.Contains(s, "LEFT end is at your RIGHT hand") || !strings.Contains(s, "taper rip") {
		t.Errorf("notes %q", s)
	}
}

func TestBlanks(t *testing.T) {
	rows := []struct {
		name  string
		id    string
		tweak func(f *flight)
		stock model.Stock
		want  string // stock, then the size
		note  string
	}{
		{"tread", "T02", nil, yard(), "1000 × 300 mm 1000x300x20", ""},
		{"tread in inches", "T02", func(f *flight) { f.job.Units = model.Imperial }, yard(), " 940x297x20", "no listed board is 11 11/16\" in depth"},
		{"just too long", "T02", func(f *flight) { widen(f, 976) }, yard(), "1200 × 300 mm 1005x300x20", "first cut a rough blank of 1005"},
		{"just short enough", "T02", func(f *flight) { widen(f, 974) }, yard(), "1000 × 300 mm 1000x300x20", ""},
		{"too long for any", "T02", func(f *flight) { widen(f, 1300) }, yard(), " 1325x297x20", "no listed board is 1325.0 mm long: glue up"},
		{"riser from a sheet", "R02", nil, yard(), "2440 × 1220 mm sheet 940x176x12", "first cut a rough blank of 940.0 mm by 176.0 mm"},
		{"landing nosing", "L05", nil, yard(), "1000 × 140 mm 1000x140x20", ""},
		{"no list", "T02", nil, model.Stock{}, " 940x297x20", "no list of stock"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			f := straightFlight(5)
			if r.tweak != nil {
				r.tweak(f)
			}
			for _, c := range saw.Cards(f.job, r.stock, f.pieces()) {
				if !c.Proof.OK {
					t.Errorf("%s: %s", c.Piece, c.Proof.Reason)
				}
				if c.Piece != r.id {
					continue
				}
				b := c.Blank
				if got := fmt.Sprintf("%s %gx%gx%g", b.Stock, b.Length, b.Width, b.Thickness); got != r.want {
					t.Errorf("blank %q, want %q", got, r.want)
				}
				if notes := strings.Join(c.Notes, "; "); !strings.Contains(notes, r.note) || (r.note == "" && strings.Contains(notes, "rough")) {
					t.Errorf("notes %q, want %q in them", notes, r.note)
				}
			}
		})
	}
}

// widen makes every opening w wide.
func widen(f *flight, w float64) {
	for k := range f.res.Steps {
		f.res.Steps[k].Corners[1][0], f.res.Steps[k].Corners[2][0] = w, w
	}
}

func TestTemplateHasNoCard(t *testing.T) {
	f := straightFlight(5)
	s := &f.res.Steps[2]
	c := s.Corners
	s.Corners = []mgl64.Vec2{c[0], c[1], {950, c[1][1] + 100}, c[2], c[3]}
	s.BR, s.BL = 3, 4
	f.job.Flight.Steps[2].Edges = []model.Edge{model.Front, model.Right, model.Right, model.Back, model.Left}
	s.Cov = nil
	f.res.Steps[3].Cross = nil
	card := cardOf(t, f, "T03")
	if card.Proof.OK || card.Released || len(card.Ops) != 0 || !strings.Contains(card.Proof.Reason, "5 corners") {
		t.Errorf("ops %v, proof %+v, released %v", card.Ops, card.Proof, card.Released)
	}
}

// Where the estimate leaves no board, the card is refused with the reason and
// nothing panics; the boards around it have their cards.
func TestImpossibleHasNoCard(t *testing.T) {
	for _, spoil := range []func(s *survey.Step){
		func(s *survey.Step) { s.TopLeft -= 300 },
		func(s *survey.Step) { s.TopLeft = math.NaN() },
		func(s *survey.Step) { s.Corners[1] = s.Corners[0] },
	} {
		f := straightFlight(5)
		spoil(&f.res.Steps[2])
		refused := ""
		for _, c := range saw.Cards(f.job, yard(), f.pieces()) {
			if !c.Proof.OK {
				refused += c.Piece + " "
				if c.Proof.Reason == "" || c.Released || len(c.Ops) != 0 {
					t.Errorf("%s: reason %q, released %v, %d cuts", c.Piece, c.Proof.Reason, c.Released, len(c.Ops))
				}
			}
		}
		if !strings.Contains(refused, "R03") || strings.Contains(refused, "T01") || strings.Contains(refused, "T05") {
			t.Errorf("refused: %s", refused)
		}
	}
}

// A card whose printed figures happen to be exact comes out exact as printed.
func TestPrintedFigures(t *testing.T) {
	f := straightFlight(5)
	for _, c := range saw.Cards(f.job, yard(), f.pieces()) {
		if c.Proof.PrintedWorst > 1e-9 {
			t.Errorf("%s: %g off as printed", c.Piece, c.Proof.PrintedWorst)
		}
	}
	widen(f, 914.2) // prints as 914.0, 0.2 short
	near(t, "printed", cardOf(t, f, "T02").Proof.PrintedWorst, 0.2, 1e-9)

	op := saw.Op{Verb: saw.Crosscut, Saw: 1.04 * degree, Gauge: 91.04 * degree, Arm: saw.Left, Bevel: 0.04 * degree, Tilt: saw.Left}
	op.Measures[0].Value = 914.3
	got := op.Printed(model.Format{Units: model.Metric})
	near(t, "value", got.Measures[0].Value, 914.5, 1e-12)
	near(t, "saw", got.Saw/degree, 1, 1e-9)
	near(t, "gauge", got.Gauge/degree, 91, 1e-9)
	if got.Tilt != saw.Square || got.Bevel != 0 || got.Arm != saw.Left {
		t.Errorf("printed %+v", got)
	}
	got = op.Printed(model.Format{Units: model.Imperial, Fraction: 16})
	near(t, "value in sixteenths", got.Measures[0].Value, 36*25.4, 1e-9)
}
