package saw

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
)

const (
	// wideBoard is the width of blank, in mm, beyond which many mitre saws do
	// not reach across: 12 in. Common practice, no source.
	wideBoard = 304.8
	// steepCut is the swing or tilt beyond which many saws do not go: 45
	// degrees. Saw ranges differ; the sources are in the reference on
	// compound mitres.
	steepCut = 45 * math.Pi / 180
)

// Cards returns the card of every piece, in the same order, each with its proof.
func Cards(job model.Job, stock model.Stock, ps []pieces.Piece) []Card {
	out := make([]Card, len(ps))
	w := newWriter(&job, &stock)
	// One array for all ops, and one for the turns: a card has three ops, each
	// three times.
	ops := make([]Op, 0, cardOps*3*len(ps))
	turns := make([]Turn, 2*len(ps))
	for i := range ps {
		ops = w.card(&out[i], &ps[i], ops, turns[2*i:2*i+2:2*i+2])
	}
	return out
}

// cardOps is the number of cuts of a card: a rip and two ends.
const cardOps = 3

// writer writes cards. It keeps what the virtual saw needs from card to card.
type writer struct {
	job      *model.Job
	stock    *model.Stock
	format   model.Format
	cautions []string
	want     board
	wood     Wood
}

func newWriter(job *model.Job, stock *model.Stock) *writer {
	return &writer{job: job, stock: stock, format: job.Format(), cautions: cautions()}
}

// cautions are the same on every card.
func cautions() []string {
	return []string{
		"Stay with the instructions of your saw; keep the guard on.",
		"Saw off before you reach: let the blade stop before touching the offcut or the board.",
		"Do not hold a short offcut by hand: clamp it, or cut it from a longer board.",
		"Wear eye and ear protection; dust of oak, MDF and old paint harms the lungs: extract it, and wear a mask.",
		"Never rip freehand: use the fence, a sled or a track, and a push stick.",
	}
}

// card writes the card of p into c, takes its ops from the end of ops, and
// returns what is left.
func (w *writer) card(c *Card, p *pieces.Piece, ops []Op, turns []Turn) []Op {
	*c = Card{Piece: p.ID, Released: p.Released, Why: p.Why, Cautions: w.cautions, PlusMinus: p.Figures.Widest()}
	if p.Impossible != "" {
		c.Notes = p.Notes
		c.Released, c.Why = false, p.Impossible
		c.Proof.Reason = p.Impossible
		return ops
	}
	if p.Template != "" {
		c.Notes = p.Notes
		c.Released, c.Why = false, p.Template
		c.Proof.Reason = "straight cuts do not make this board: " + p.Template
		return ops
	}
	named := p.Named()
	c.Checks = make([]CheckDim, len(named))
	for i, n := range named {
		c.Checks[i] = CheckDim{n.Name, n.Value.Value, n.PlusMinus}
	}

	take := func() []Op {
		n := len(ops)
		ops = ops[: n+cardOps : cap(ops)]
		return ops[n : n+cardOps : n+cardOps]
	}
	c.Ops = take()
	note := w.lay(c, p)
	for i, how := range [2]How{FaceDown, EndForEnd} {
		turns[i].How, turns[i].Ops = how, take()
		copy(turns[i].Ops, c.Ops)
		w.crosscuts(turns[i].Ops[1:], p, how)
		turns[i].Changes = changes(c.Ops[1:], turns[i].Ops[1:])
	}
	c.Turned = turns
	c.Notes = w.notes(c, p, note)
	w.prove(c, p)
	if !c.Proof.OK {
		c.Released, c.Why = false, "the card failed its proof: "+c.Proof.Reason
	}
	return ops
}

// lay chooses the blank, places the piece on it and writes the card's ops. It
// returns what is to be said about the blank.
//
// Along the blank runs u, from the left end to the right; across it v, in from
// the edge that stays as it came from the yard: a tread's nose, a riser's
// bottom. The opposite edge is ripped.
func (w *writer) lay(c *Card, p *pieces.Piece) string {
	bl, br := p.Face[p.BackLeft], p.Face[p.BackRight]
	g := edgeOf(p)
	made, u := g.made, g.u
	lo, hi, wide := g.span(p)
	leftU, leftV := g.at(made[0])
	rightU, rightV := g.at(made[1])
	backU, _ := g.at(bl)
	// The first end is cut a round distance in, measured along the back edge.
	slant := 1.0
	if p.Kind != pieces.Riser {
		slant = u.Dot(br.Sub(bl).Normalize())
	}
	first := w.roundUp((backU - lo + spareLength/2) / slant)
	zero := backU - first*slant // the blank's left end
	rise := (rightV - leftV) / (rightU - leftU)

	var note string
	c.Blank, note = w.chooseBlank(p.Kind, need{
		length: math.Max(hi-lo+spareLength, hi+spareLength/6-zero), width: wide + spareWidth,
		ends: func(length float64) (float64, float64) {
			l := leftV + rise*(zero-leftU)
			return l, l + rise*length
		},
	}, p.Thickness)

	ref := Nose
	if p.Kind == pieces.Riser {
		ref = Back
	}
	c.Ops[0] = Op{Verb: Rip, Fence: ref, Face: Up, NoseToYou: ref == Back, Arm: Square, Tilt: Square,
		Measures: [2]Measure{
			{Value: leftV, Along: leftU - zero, From: Left, Edge: ref},
			{Value: rightV, Along: zero + c.Blank.Length - rightU, From: Right, Edge: ref},
		}}
	for i, end := range [2]Hand{Left, Right} {
		op := &c.Ops[1+i]
		op.Verb, op.End = Crosscut, end
		m := Measure{Value: first, From: Left, Edge: Back, Point: PointSquare}
		if i == 1 {
			m.Value = p.Figures.Back.Value
		}
		switch lean := p.Ends[i].Gauge.Value - quarter; {
		case lean > noAngle:
			m.Point = ShortPoint
		case lean < -noAngle:
			m.Point = LongPoint
		}
		op.Measures[0] = m
		op.Bevel = p.Ends[i].Bevel
	}
	w.crosscuts(c.Ops[1:], p, "")
	return note
}

// edge is the edge of a piece that stays as it came from the yard, and the
// directions measured from its left end: u along it, v square in from it.
type edge struct {
	base, u, v mgl64.Vec2
	made       [2]mgl64.Vec2 // the corners of the edge that is ripped, left and right
}

func edgeOf(p *pieces.Piece) edge {
	bl, br := p.Face[p.BackLeft], p.Face[p.BackRight]
	fl, fr := p.Face[p.FrontLeft], p.Face[p.FrontRight]
	stays, made := [2]mgl64.Vec2{fl, fr}, [2]mgl64.Vec2{bl, br}
	if p.Kind == pieces.Riser {
		stays, made = made, stays
	}
	u := stays[1].Sub(stays[0]).Normalize()
	v := mgl64.Vec2{-u[1], u[0]}
	if v.Dot(made[0].Sub(stays[0])) < 0 {
		v = v.Mul(-1)
	}
	return edge{base: stays[0], u: u, v: v, made: made}
}

func (e *edge) at(q mgl64.Vec2) (u, v float64) {
	d := q.Sub(e.base)
	return e.u.Dot(d), e.v.Dot(d)
}

// span returns how far the piece reaches along the edge, and across from it.
func (e *edge) span(p *pieces.Piece) (lo, hi, wide float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, q := range p.Solid.Verts {
		a, b := e.at(q.Vec2())
		lo, hi, wide = math.Min(lo, a), math.Max(hi, a), math.Max(wide, b)
	}
	return lo, hi, wide
}

// roundUp rounds a length up to one that prints exactly.
func (w *writer) roundUp(x float64) float64 {
	r := w.rounded(x)
	if r < x {
		// Half a print step more is past the next one at most.
		step := w.rounded(x+w.step()) - r
		r += step
	}
	return r
}

// step returns what lengths are printed to, mm.
func (w *writer) step() float64 {
	if w.format.Units == model.Imperial {
		n := w.format.Fraction
		if n <= 0 {
			n = 16
		}
		return float64(model.Inch) / float64(n)
	}
	if w.format.Step > 0 {
		return float64(w.format.Step)
	}
	return 0.5
}

func (w *writer) rounded(x float64) float64 { return float64(w.format.Round(model.Length(x))) }

// crosscuts fills in how the board lies for its two end cuts and what follows
// from that: the hand at which each end lies, what gauge and saw read, which
// way arm and head go. Everything else stays.
func (w *writer) crosscuts(ops []Op, p *pieces.Piece, how How) {
	for i := range ops {
		op := &ops[i]
		op.Fence, op.Face, op.Hand = Back, Up, op.End
		if p.Kind == pieces.Riser { // bottom to the fence: seen upside down
			op.Hand = other(op.Hand)
		}
		switch how {
		case FaceDown:
			op.Face, op.Hand = Down, other(op.Hand)
		case EndForEnd:
			op.Fence, op.Hand = Nose, other(op.Hand)
		}
		op.NoseToYou = op.Fence == Back
		op.Gauge = p.Ends[i].Gauge.Value
		if op.Fence == Nose {
			op.Gauge = gaugeAtNose(p, i)
		}
		op.Saw = op.Gauge - quarter
		op.aim()
	}
}

// aim sets the arm and the head from the angles and the way the board lies. A
// board that widens away from the fence is cut with the arm swung towards the
// end; an undercut leans the head over the offcut when the face is up, over the
// board when it is down.
func (op *Op) aim() {
	op.Arm, op.Tilt = Square, Square
	switch {
	case op.Saw > noAngle:
		op.Arm = op.Hand
	case op.Saw < -noAngle:
		op.Arm = other(op.Hand)
	}
	if op.Bevel > noAngle {
		op.Tilt = op.Hand
		if op.Face == Down {
			op.Tilt = other(op.Hand)
		}
	}
}

// gaugeAtNose returns the interior angle of the face at the front corner of an
// end.
func gaugeAtNose(p *pieces.Piece, end int) float64 {
	at, along, back := p.Face[p.FrontLeft], p.Face[p.FrontRight], p.Face[p.BackLeft]
	if end == 1 {
		at, along, back = p.Face[p.FrontRight], p.Face[p.FrontLeft], p.Face[p.BackRight]
	}
	d, e := along.Sub(at), back.Sub(at)
	return math.Atan2(math.Abs(d[0]*e[1]-d[1]*e[0]), d.Dot(e))
}

// changes lists what turned ops do otherwise.
func changes(was, now []Op) []Change {
	out := make([]Change, 0, 12)
	for i := range was {
		a, b := &was[i], &now[i]
		words := func(f Field, x, y string) {
			if x != y {
				out = append(out, Change{End: a.End, What: f, Was: x, Now: y})
			}
		}
		angle := func(f Field, x, y float64) {
			if math.Abs(x-y) > noAngle {
				out = append(out, Change{End: a.End, What: f, WasAngle: x, NowAngle: y})
			}
		}
		words(FieldFace, string(a.Face), string(b.Face))
		words(FieldFence, string(a.Fence), string(b.Fence))
		words(FieldHand, string(a.Hand), string(b.Hand))
		angle(FieldGauge, a.Gauge, b.Gauge)
		angle(FieldSaw, a.Saw, b.Saw)
		words(FieldArm, string(a.Arm), string(b.Arm))
		words(FieldTilt, string(a.Tilt), string(b.Tilt))
	}
	return out
}

// notes returns the piece's notes with those about its cuts.
func (w *writer) notes(c *Card, p *pieces.Piece, blank string) []string {
	out := make([]string, 0, len(p.Notes)+5)
	out = append(out, p.Notes...)
	if blank != "" {
		out = append(out, blank)
	}
	if p.Kind == pieces.Riser {
		out = append(out, "bottom to the fence and face up, the LEFT end is at your RIGHT hand")
	}
	l, r := &c.Ops[1], &c.Ops[2]
	if l.Tilt != Square && r.Tilt != Square && l.Tilt != r.Tilt {
		out = append(out, "if your saw's head leans one way only, turn the board end for end for the other end and take the figures for that")
	}
	if c.Blank.Width > wideBoard && p.Kind != pieces.Riser {
		out = append(out, "wider than many mitre saws reach: crosscut with a track saw or a sled, to the same angles")
	}
	if steep := math.Max(math.Max(math.Abs(l.Saw), math.Abs(r.Saw)), math.Max(l.Bevel, r.Bevel)); steep > steepCut {
		out = append(out, "steeper than many saws go: see how far yours does before you start")
	}
	if rip := c.Ops[0].Measures; math.Abs(rip[0].Value-rip[1].Value) > samePoint {
		out = append(out, "taper rip: join the two marks, and saw on a sled or along a track")
	}
	return out
}
