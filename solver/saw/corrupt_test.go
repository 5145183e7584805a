package saw_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/saw"
)

// A card with one fault in it. Each must be refused; the words say why.
func TestAFaultyCardIsRefused(t *testing.T) {
	on := func(end saw.Hand, change func(op *saw.Op)) func(c *saw.Card) {
		return func(c *saw.Card) {
			for i := range c.Ops {
				if c.Ops[i].End == end {
					change(&c.Ops[i])
				}
			}
		}
	}
	const rip = saw.Hand("")
	rows := []struct {
		name   string
		change func(c *saw.Card)
		reason string
	}{
		{"nothing wrong", func(c *saw.Card) {}, ""},

		// One word or figure, the rest as it was: the card contradicts itself.
		{"wrong arm", on(saw.Left, func(op *saw.Op) { op.Arm = saw.Right }), "swings the arm"},
		{"arm not swung", on(saw.Left, func(op *saw.Op) { op.Arm = saw.Square }), "swings the arm"},
		{"wrong hand", on(saw.Right, func(op *saw.Op) { op.Hand = saw.Left }), "lies at your right hand"},
		{"89 for 91 on the gauge", on(saw.Left, func(op *saw.Op) { op.Gauge = 89 * degree }), "the saw reads the gauge less 90"},
		{"91 for 1 on the saw", on(saw.Left, func(op *saw.Op) { op.Saw = op.Gauge }), "the saw reads the gauge less 90"},
		{"long for short point", on(saw.Left, func(op *saw.Op) { op.Measures[0].Point = saw.LongPoint }), "short point"},
		{"short for long point", on(saw.Right, func(op *saw.Op) { op.Measures[0].Point = saw.ShortPoint }), "long point"},
		{"face down unsaid", on(saw.Left, func(op *saw.Op) { op.Face = saw.Down }), "lies at your right hand"},
		{"nose the wrong way", on(saw.Left, func(op *saw.Op) { op.NoseToYou = false }), "the nose cannot lie"},
		{"fence at the nose", on(saw.Left, func(op *saw.Op) { op.Fence = saw.Nose }), "the nose cannot lie"},
		{"wrong end", on(saw.Left, func(op *saw.Op) { op.End = saw.Right }), "lies at your"},
		{"no verb", on(saw.Left, func(op *saw.Op) { op.Verb = "plane" }), "is no cut"},
		{"tilt without bevel", on(saw.Left, func(op *saw.Op) { op.Bevel = 0 }), "cannot tilt"},
		{"bevel without tilt", on(saw.Left, func(op *saw.Op) { op.Tilt = saw.Square }), "cannot tilt"},
		{"not a number", on(saw.Left, func(op *saw.Op) { op.Bevel = math.NaN() }), "not a number"},
		{"rip from the back", on(rip, func(op *saw.Op) { op.Fence, op.NoseToYou = saw.Back, true }), "measured from the nose"},
		{"rip with a bevel", on(rip, func(op *saw.Op) { op.Bevel = 0.02 }), "a rip has no end"},
		{"rip marks from one end", on(rip, func(op *saw.Op) { op.Measures[1].From = saw.Left }), "same end"},
		{"second mark on a crosscut", on(saw.Left, func(op *saw.Op) { op.Measures[1].Value = 1 }), "one mark"},
		{"cut past the board", on(saw.Right, func(op *saw.Op) { op.Measures[0].Value = 5000 }), "misses"},
		{"cut before the board", on(saw.Right, func(op *saw.Op) { op.Measures[0].Value = -5000 }), "nothing"},
		{"handed blank", func(c *saw.Card) { c.Blank.Riser = true }, "hand"},
		{"blank of nothing", func(c *saw.Card) { c.Blank.Width = 0 }, "above 0"},
		{"for another piece", func(c *saw.Card) { c.Piece = "T08" }, "T08"},

		// Consistent, and wrong: only the wood can tell.
		{"89 for 91 throughout", on(saw.Left, func(op *saw.Op) {
			op.Gauge, op.Saw, op.Arm = math.Pi-op.Gauge, -op.Saw, saw.Right
			op.Measures[0].Point = saw.LongPoint
		}), "differs from the piece"},
		{"a tenth of a degree", on(saw.Right, func(op *saw.Op) { op.Gauge += 0.1 * degree; op.Saw += 0.1 * degree }), "differs from the piece"},
		{"wrong tilt", on(saw.Left, func(op *saw.Op) { op.Tilt = saw.Right }), "differs from the piece by 3.49"}, // 4 degrees each way over 25,
		{"half the bevel", on(saw.Left, func(op *saw.Op) { op.Bevel /= 2 }), "differs from the piece"},
		{"measured on the nose", on(saw.Right, func(op *saw.Op) {
			op.Measures[0].Edge = saw.Nose
			op.Measures[0].Point = saw.ShortPoint
		}), "differs from the piece"},
		{"measured from the other end", on(saw.Right, func(op *saw.Op) { op.Measures[0].From = saw.Right }), "differs from the piece"},
		{"a millimetre long", on(saw.Right, func(op *saw.Op) { op.Measures[0].Value++ }), "differs from the piece by 1.0"},
		{"a twentieth over", on(saw.Right, func(op *saw.Op) { op.Measures[0].Value += 0.06 }), "differs from the piece by 0.06"},
		{"rip too deep at one end", on(rip, func(op *saw.Op) { op.Measures[0].Value-- }), "differs from the piece"},
		{"rip ends swapped", on(rip, func(op *saw.Op) {
			a, b := &op.Measures[0], &op.Measures[1]
			a.Value, b.Value = b.Value, a.Value
		}), "differs from the piece"},
		{"rip mark along by 30", on(rip, func(op *saw.Op) { op.Measures[0].Along += 30 }), "differs from the piece"},
		{"rip left out", func(c *saw.Card) { c.Ops = c.Ops[1:] }, "differs from the piece"},
		{"an end left out", func(c *saw.Card) { c.Ops = c.Ops[:2] }, "differs from the piece"},
		{"thicker blank", func(c *saw.Card) { c.Blank.Thickness++ }, "differs from the piece"},
		{"longer blank", func(c *saw.Card) { c.Blank.Length += 40 }, "differs from the piece"},

		// A turned version alone is wrong.
		{"face down, arm not swapped", func(c *saw.Card) {
			for i := range c.Turned[0].Ops {
				c.Turned[0].Ops[i].Arm = c.Ops[i].Arm
			}
		}, "face down: cut 2, left end: saw"},
		{"end for end, head not swapped", func(c *saw.Card) {
			for i := range c.Turned[1].Ops {
				c.Turned[1].Ops[i].Tilt = c.Ops[i].Tilt
			}
		}, "end for end: what the saw leaves differs"},
		{"end for end, angle of the back edge", func(c *saw.Card) {
			for i := range c.Turned[1].Ops {
				op, from := &c.Turned[1].Ops[i], c.Ops[i]
				if op.End != "" {
					op.Gauge, op.Saw = math.Pi-from.Gauge, -from.Saw
				}
			}
		}, "end for end: what the saw leaves differs"},
	}
	f := straightFlight(14)
	f.job.Overlay.Undercut, f.job.Overlay.Fit, f.job.Overlay.Tread = 2*model.Degree, 0.2, 25
	s := &f.res.Steps[6]
	s.Lean[0] = 2 * degree
	y := s.Corners[0][1]
	// Left gauge 91 or so, right below 90, deeper at the right: every word and
	// figure of the card counts.
	s.Corners[0][0], s.Corners[1][0] = -6, 905
	s.Corners[2][1] = y + 297
	p := find(t, f.pieces(), "T07")
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			c := copyOf(cardOf(t, f, "T07"))
			r.change(&c)
			proof := saw.Prove(f.job, &c, &p)
			if proof.OK != (r.reason == "") || !strings.Contains(proof.Reason, r.reason) {
				t.Errorf("proved %v, reason %q; want %q in it", proof.OK, proof.Reason, r.reason)
			}
		})
	}
}

// Change any one figure or word of any op of random cards: either the card is
// refused, or the change does not matter to the wood because it is below the
// 0.05 mm that a proof holds to.
func TestEveryFieldIsProved(t *testing.T) {
	const seed = 5
	rng := rand.New(rand.NewPCG(seed, 0))
	changes := []struct {
		name   string
		change func(op *saw.Op) bool // false: does not apply
	}{
		{"arm", func(op *saw.Op) bool { op.Arm = swapped(op.Arm); return op.Arm != saw.Square }},
		{"tilt", func(op *saw.Op) bool {
			op.Tilt = swapped(op.Tilt)
			return op.Tilt != saw.Square && op.Bevel > 0.5*degree
		}},
		{"hand", func(op *saw.Op) bool { op.Hand = swapped(op.Hand); return op.Hand != "" }},
		{"end", func(op *saw.Op) bool { op.End = swapped(op.End); return op.End != "" }},
		{"saw and gauge", func(op *saw.Op) bool {
			op.Saw, op.Gauge, op.Arm = -op.Saw, math.Pi-op.Gauge, swapped(op.Arm)
			op.Measures[0].Point = map[saw.Point]saw.Point{saw.LongPoint: saw.ShortPoint, saw.ShortPoint: saw.LongPoint}[op.Measures[0].Point]
			return math.Abs(op.Saw) > 0.1*degree
		}},
		{"bevel", func(op *saw.Op) bool { op.Bevel += 1 * degree; return op.Tilt != saw.Square }},
		{"value", func(op *saw.Op) bool { op.Measures[0].Value += 0.3; return op.End != saw.Left }},
		{"second mark", func(op *saw.Op) bool { op.Measures[1].Value += 0.3; return op.Verb == saw.Rip }},
		{"edge", func(op *saw.Op) bool {
			op.Measures[0].Edge = map[saw.Edge]saw.Edge{saw.Back: saw.Nose, saw.Nose: saw.Back}[op.Measures[0].Edge]
			return op.Verb == saw.Rip || (op.End == saw.Right && math.Abs(op.Saw) > 0.5*degree)
		}},
		{"from", func(op *saw.Op) bool { op.Measures[0].From = swapped(op.Measures[0].From); return op.End != saw.Left }},
		{"face", func(op *saw.Op) bool { op.Face = saw.Down; return op.End != "" }},
		{"fence", func(op *saw.Op) bool {
			op.Fence = map[saw.Edge]saw.Edge{saw.Back: saw.Nose, saw.Nose: saw.Back}[op.Fence]
			op.NoseToYou = !op.NoseToYou
			return true
		}},
	}
	tried := map[string]int{}
	for range 25 {
		f := randomFlight(rng, 4)
		f.job.Overlay.Undercut = 2 * model.Degree
		ps := f.pieces()
		cards := saw.Cards(f.job, yard(), ps)
		for i := range cards {
			for k := range cards[i].Ops {
				for _, ch := range changes {
					c := copyOf(cards[i])
					if !ch.change(&c.Ops[k]) {
						continue
					}
					tried[ch.name]++
					if proof := saw.Prove(f.job, &c, &ps[i]); proof.OK {
						t.Errorf("seed %d: %s with another %s in cut %d is proved: %+v", seed, c.Piece, ch.name, k+1, c.Ops[k])
					}
				}
			}
		}
	}
	for _, ch := range changes {
		if tried[ch.name] < 20 {
			t.Errorf("%s was changed %d times only", ch.name, tried[ch.name])
		}
	}
}

func copyOf(c saw.Card) saw.Card {
	c.Ops = append([]saw.Op(nil), c.Ops...)
	c.Turned = append([]saw.Turn(nil), c.Turned...)
	for i := range c.Turned {
		c.Turned[i].Ops = append([]saw.Op(nil), c.Turned[i].Ops...)
	}
	return c
}

func find(t testing.TB, ps []pieces.Piece, id string) pieces.Piece {
	t.Helper()
	for i := range ps {
		if ps[i].ID == id {
			return ps[i]
		}
	}
	t.Fatalf("no piece %s", id)
	return pieces.Piece{}
}

func cardOf(t testing.TB, f *flight, id string) saw.Card {
	t.Helper()
	for _, c := range saw.Cards(f.job, yard(), f.pieces()) {
		if c.Piece == id {
			return c
		}
	}
	t.Fatalf("no card %s", id)
	return saw.Card{}
}
