package report

import (
	"strings"

	"risewright/solver/pieces"
	"risewright/solver/saw"
	"risewright/view/card"
)

func wirePiece(p *pieces.Piece) WirePiece {
	out := WirePiece{
		ID: p.ID, Kind: string(p.Kind), Step: p.Step, Thickness: p.Thickness,
		BackLeft: p.BackLeft, BackRight: p.BackRight, FrontRight: p.FrontRight, FrontLeft: p.FrontLeft,
		Face: []WirePoint{}, Solid: wireSolid(&p.Solid),
		LeftEnd: wireEnd(p.Ends[pieces.Left]), RightEnd: wireEnd(p.Ends[pieces.Right]),
		Figures: []WireNamed{}, Released: p.Released, Why: p.Why, Template: p.Template, Notes: list(p.Notes),
	}
	for _, v := range p.Face {
		out.Face = append(out.Face, WirePoint{v[0], v[1]})
	}
	column := func(c int) [3]float64 { return [3]float64(p.Frame.Col(c).Vec3()) }
	out.Axes = WireFrame{Origin: column(3), X: column(0), Y: column(1), Z: column(2)}
	for _, n := range p.Named() {
		out.Figures = append(out.Figures, WireNamed{n.Name, WireBand{n.Value.Value, n.PlusMinus}})
	}
	return out
}

func wireSolid(s *pieces.Solid) WireSolid {
	out := WireSolid{Vertices: [][3]float64{}, Faces: []WireFacet{}, Convex: s.Convex}
	for _, v := range s.Verts {
		out.Vertices = append(out.Vertices, [3]float64(v))
	}
	for i := range s.Faces {
		f := &s.Faces[i]
		out.Faces = append(out.Faces, WireFacet{string(f.Part), [3]float64(f.Normal), f.Offset, f.Loop})
	}
	return out
}

func wireEnd(e pieces.End) WireEnd {
	return WireEnd{string(e.Side), e.Gauge.Value, e.Gauge.PlusMinus, e.Bevel, e.Lean, e.Fit}
}

// wireCard writes a card. A card that is refused has no blank, no cuts and no
// dimensions: nothing of it may reach a saw.
func wireCard(p *pieces.Piece, c *saw.Card) WireCard {
	state := card.StateOf(p, c)
	out := WireCard{
		Piece: c.Piece, State: strings.ToLower(state.Banner()), Released: state == card.Released, Why: card.Why(p, c),
		Ops: []WireOp{}, Checks: []WireNamed{}, PlusMinus: c.PlusMinus, Turned: []WireTurn{},
		Proof: WireProof{OK: c.Proof.OK, Reason: c.Proof.Reason}, Cautions: list(c.Cautions), Notes: list(c.Notes),
	}
	if c.Proof.OK {
		out.Proof.Worst, out.Proof.PrintedWorst = finite(c.Proof.Worst), finite(c.Proof.PrintedWorst)
	}
	if !state.Figures() {
		return out
	}
	out.Blank = &WireBlank{c.Blank.Length, c.Blank.Width, c.Blank.Thickness, c.Blank.Stock}
	out.Ops = wireOps(c.Ops)
	for _, d := range c.Checks {
		out.Checks = append(out.Checks, WireNamed{d.Name, WireBand{d.Value, d.PlusMinus}})
	}
	for i := range c.Turned {
		t := &c.Turned[i]
		w := WireTurn{How: string(t.How), Ops: wireOps(t.Ops), Changes: []WireChange{}}
		for _, ch := range t.Changes {
			x := WireChange{End: string(ch.End), What: string(ch.What), Was: ch.Was, Now: ch.Now}
			if ch.Was == "" && ch.Now == "" {
				x.WasAngle, x.NowAngle = finite(ch.WasAngle), finite(ch.NowAngle)
			}
			w.Changes = append(w.Changes, x)
		}
		out.Turned = append(out.Turned, w)
	}
	return out
}

func wireOps(ops []saw.Op) []WireOp {
	out := []WireOp{}
	for i := range ops {
		op := &ops[i]
		w := WireOp{Verb: string(op.Verb), Fence: string(op.Fence), Face: string(op.Face), NoseToYou: op.NoseToYou}
		marks := op.Measures[:1]
		if op.Verb == saw.Rip {
			marks = op.Measures[:]
		} else {
			w.End, w.Hand, w.Arm, w.Head = string(op.End), string(op.Hand), string(op.Arm), string(op.Tilt)
			w.Gauge, w.Saw, w.Bevel = finite(op.Gauge), finite(op.Saw), finite(op.Bevel)
		}
		for _, m := range marks {
			w.Measures = append(w.Measures, WireMeasure{m.Value, m.Along, string(m.From), string(m.Edge), string(m.Point)})
		}
		out = append(out, w)
	}
	return out
}
