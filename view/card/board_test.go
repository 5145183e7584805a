package card_test

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/saw"
	"risewright/view/card"
	"risewright/view/drawing"
)

const deg = math.Pi / 180

// tread7 is the worked card line of the trade: back 914.0, front 921.5, gauges
// 91.0 and 90.5, undercut 2° at both ends, ripped to 286 (common practice, no
// source).
func tread7() (pieces.Piece, saw.Card) {
	const back, depth = 914.0, 286.0
	l, r := depth*math.Tan(1*deg), depth*math.Tan(0.5*deg)
	v := func(x, pm float64) pieces.Value { return pieces.Value{Value: x, PlusMinus: pm} }
	p := pieces.Piece{
		ID: "T07", Kind: pieces.Tread, Step: 7, Thickness: 19, Released: true,
		Face:     []mgl64.Vec2{{0, 0}, {back, 0}, {back + r, depth}, {-l, depth}},
		BackLeft: 0, BackRight: 1, FrontRight: 2, FrontLeft: 3,
		Ends: [2]pieces.End{{Side: model.Skirt, Gauge: v(91*deg, 0.001), Bevel: 2 * deg}, {Side: model.Skirt, Gauge: v(90.5*deg, 0.001), Bevel: 2 * deg}},
		Figures: pieces.Figures{
			Back: v(back, 0.4), Front: v(back+l+r, 0.4),
			LeftDepth: v(depth/math.Cos(1*deg), 0.7), RightDepth: v(depth/math.Cos(0.5*deg), 0.7),
			DiagonalLeft: v(math.Hypot(back+r, depth), 0.8), DiagonalRight: v(math.Hypot(back+l, depth), 0.8),
		},
	}
	cut := func(end, hand saw.Hand, gauge float64, m saw.Measure) saw.Op {
		return saw.Op{Verb: saw.Crosscut, Fence: saw.Back, Face: saw.Up, NoseToYou: true, End: end, Hand: hand,
			Gauge: gauge, Saw: gauge - math.Pi/2, Arm: hand, Bevel: 2 * deg, Tilt: hand, Measures: [2]saw.Measure{m}}
	}
	c := saw.Card{
		Piece: "T07", Released: true, PlusMinus: 0.4,
		Blank: saw.Blank{Length: 42 * 25.4, Width: 11.5 * 25.4, Thickness: 19.05, Stock: "42 x 11 1/2 x 3/4 in"},
		Ops: []saw.Op{
			{Verb: saw.Rip, Fence: saw.Nose, Face: saw.Up, Arm: saw.Square, Tilt: saw.Square, Measures: [2]saw.Measure{
				{Value: depth, From: saw.Left, Edge: saw.Nose}, {Value: depth, From: saw.Right, Edge: saw.Nose}}},
			cut(saw.Left, saw.Left, 91*deg, saw.Measure{Value: 20, From: saw.Left, Edge: saw.Back, Point: saw.ShortPoint}),
			cut(saw.Right, saw.Right, 90.5*deg, saw.Measure{Value: back, From: saw.Left, Edge: saw.Back, Point: saw.ShortPoint}),
		},
		Checks: []saw.CheckDim{
			{Name: "back width", Value: back, PlusMinus: 0.4}, {Name: "front width", Value: back + l + r, PlusMinus: 0.4},
			{Name: "left depth", Value: depth / math.Cos(deg), PlusMinus: 0.7}, {Name: "right depth", Value: depth / math.Cos(deg/2), PlusMinus: 0.7},
			{Name: "diagonal, back left to front right", Value: math.Hypot(back+r, depth), PlusMinus: 0.8},
		},
		Proof:    saw.Proof{OK: true, Worst: 1e-12, PrintedWorst: 0.117},
		Cautions: []string{"Short offcuts are thrown: clamp, and keep hands clear of the line. Blade guard on.", "Wear eye and ear protection and a dust mask."},
		Notes:    []string{"First cut 2 mm long at the card's angle, offer up, then creep."},
	}
	down := append([]saw.Op(nil), c.Ops...)
	var changes []saw.Change
	for i := range down {
		down[i].Face = saw.Down
	}
	for _, end := range []saw.Hand{saw.Left, saw.Right} {
		hand := map[saw.Hand]string{saw.Left: "right", saw.Right: "left"}[end]
		changes = append(changes,
			saw.Change{End: end, What: saw.FieldFace, Was: "up", Now: "down"},
			saw.Change{End: end, What: saw.FieldHand, Was: string(end), Now: hand},
			saw.Change{End: end, What: saw.FieldArm, Was: string(end), Now: hand})
	}
	c.Turned = []saw.Turn{{How: saw.FaceDown, Ops: down, Changes: changes}}
	around := append([]saw.Op(nil), c.Ops...)
	changes = nil
	for i := range around {
		around[i].Fence, around[i].NoseToYou = saw.Nose, false
	}
	for _, end := range []saw.Hand{saw.Left, saw.Right} {
		hand := map[saw.Hand]string{saw.Left: "right", saw.Right: "left"}[end]
		gauge := map[saw.Hand]float64{saw.Left: 89, saw.Right: 89.5}[end] * deg
		changes = append(changes, saw.Change{End: end, What: saw.FieldHand, Now: hand},
			saw.Change{End: end, What: saw.FieldGauge, NowAngle: gauge},
			saw.Change{End: end, What: saw.FieldSaw, NowAngle: gauge - math.Pi/2},
			saw.Change{End: end, What: saw.FieldFence, Was: "back", Now: "nose"})
	}
	c.Turned = append(c.Turned, saw.Turn{How: saw.EndForEnd, Ops: around, Changes: changes})
	return p, c
}

// riser5 tapers a little and is narrower on top at the right.
func riser5() (pieces.Piece, saw.Card) {
	p, c := tread7()
	p.ID, p.Kind, p.Step, p.Thickness = "R05", pieces.Riser, 5, 12
	p.Face = []mgl64.Vec2{{0, 0}, {915.2, 0}, {913.6, 171.5}, {0.9, 168.7}}
	p.Ends[0].Gauge.Value, p.Ends[1].Gauge.Value = 89.7*deg, 89.5*deg
	p.Figures.Back.Value, p.Figures.Front.Value = 915.2, 912.7
	p.Figures.LeftDepth.Value, p.Figures.RightDepth.Value = 168.7, 171.5
	c.Piece, c.Blank.Riser = "R05", true
	c.Ops = append([]saw.Op(nil), c.Ops...)
	c.Ops[0].Fence, c.Ops[0].NoseToYou = saw.Back, true
	c.Ops[0].Measures = [2]saw.Measure{{Value: 168.7, Along: 30, From: saw.Left, Edge: saw.Back}, {Value: 171.5, Along: 30, From: saw.Right, Edge: saw.Back}}
	c.Ops[1].Hand, c.Ops[1].Gauge, c.Ops[1].Saw, c.Ops[1].Arm, c.Ops[1].Tilt = saw.Right, 89.7*deg, -0.3*deg, saw.Left, saw.Right
	c.Ops[1].Measures[0].Point = saw.LongPoint
	c.Ops[2].Hand, c.Ops[2].Gauge, c.Ops[2].Saw, c.Ops[2].Arm, c.Ops[2].Tilt = saw.Left, 89.5*deg, -0.5*deg, saw.Right, saw.Square
	c.Ops[2].Bevel = 0
	c.Ops[2].Measures[0].Point = saw.LongPoint
	return p, c
}

// held is tread 7 with readings missing.
func held() (pieces.Piece, saw.Card) {
	p, c := tread7()
	p.Released, c.Released = false, false
	p.Why = "step 7 is not ready for the saw: the front width was read over carpet"
	c.Why = p.Why
	return p, c
}

// refused is tread 7 with a card that failed its proof.
func refused() (pieces.Piece, saw.Card) {
	p, c := tread7()
	c.Proof = saw.Proof{Worst: 0.31, PrintedWorst: 0.4, Reason: "the left end has two cuts that one swing of the arm cannot make"}
	return p, c
}

// page returns a card on a page of its own size.
func page(p pieces.Piece, c saw.Card, o card.Options) drawing.Page {
	pg := drawing.Page{Name: p.ID, Width: o.Width, Height: o.Height}
	card.Draw(&pg.List, &p, &c, o)
	return pg
}

var imperial = model.Format{Units: model.Imperial, Fraction: 32}
