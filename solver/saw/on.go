package saw

import (
	"slices"

	"risewright/model"
	"risewright/solver/pieces"
)

// On returns the card for another blank than its own, such as one that the
// blank map has cut: the same cuts, whose marks from the blank's right end move
// with that end, proved anew, and with notes about that blank in place of those
// about its own. Ok is false, and the card as it was, where the piece does not
// come out of that blank.
func (c Card) On(b Blank, job model.Job, p *pieces.Piece) (out Card, ok bool) {
	if len(c.Ops) == 0 || !c.Proof.OK {
		return c, false
	}
	out = c
	out.Blank = b
	moved := func(ops []Op) []Op {
		ops = slices.Clone(ops)
		for i := range ops {
			if ops[i].Verb != Rip {
				continue // a crosscut is measured from the left end, or from the sawn one
			}
			for k := range ops[i].Measures {
				if m := &ops[i].Measures[k]; m.From == Right {
					m.Along += b.Length - c.Blank.Length
				}
			}
		}
		return ops
	}
	out.Ops = moved(c.Ops)
	out.Turned = slices.Clone(c.Turned)
	for i := range out.Turned {
		out.Turned[i].Ops = moved(out.Turned[i].Ops)
	}
	w := newWriter(&job, &model.Stock{})
	out.Notes = w.notes(&out, p, w.blankNote(b, p))
	w.prove(&out, p)
	if !out.Proof.OK {
		return c, false
	}
	return out, true
}

// blankNote is what is to be said about a blank that somebody else has chosen.
func (w *writer) blankNote(b Blank, p *pieces.Piece) string {
	if p.Kind == pieces.ReturnNosing {
		return returnNote
	}
	if b.Stock == "" {
		return "no listed board holds this blank: glue up, or order it"
	}
	e := edgeOf(p)
	_, _, wide := e.span(p)
	if spare := b.Width - wide; w.rounded(spare) < spareWidth {
		return tightNote(w.format, spare, acrossName(p.Kind))
	}
	return ""
}
