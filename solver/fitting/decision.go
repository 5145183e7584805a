package fitting

import (
	"risewright/model"
	"risewright/solver/pieces"
)

// Board is what stands at a side.
type Board string

// The boards.
const (
	BareWall   Board = "bare wall" // no skirt: the wall itself
	KeptSkirt  Board = "kept skirt"
	NewSkirt   Board = "new skirt"
	FalseBoard Board = "false skirt" // over the old one
	OpenSide   Board = "open side"   // a cut stringer, treads running past it
)

// Ends says how the ends of risers and treads are finished where they butt.
type Ends string

// The ways.
const (
	Tight  Ends = "tight"  // scribed to what they meet
	Bead   Ends = "bead"   // a bead over every end
	Caulk  Ends = "caulk"  // left open and filled
	Housed Ends = "housed" // let into grooves in the skirt
)

// Decision is what is decided about one side.
type Decision struct {
	Board Board
	// RiserPast and TreadPast say that risers (treads) run past the skirt,
	// which then butts them; otherwise the skirt runs past.
	RiserPast, TreadPast bool
	Ends                 Ends
	Cap                  bool // a loose cap over a wiring channel behind the board
}

// Scheme returns the letter by which the trade notes call the decisions
// together, or an empty text when they have none.
func (d Decision) Scheme() string {
	switch {
	case d.Board == OpenSide:
		return "H"
	case d.Ends == Housed:
		return "E"
	case d.Ends == Bead:
		return "F"
	case d.Ends == Caulk:
		return "G"
	case !d.RiserPast && d.TreadPast:
		return ""
	case d.Board == FalseBoard && !d.RiserPast:
		return "D1"
	case d.Board == FalseBoard && d.TreadPast:
		return "D2"
	case d.RiserPast && d.TreadPast:
		return "C"
	case d.RiserPast && d.Board == FalseBoard:
		return "" // B with a false skirt
	case d.RiserPast:
		return "B"
	}
	return "A"
}

// Removable says that the skirt can be taken off later, or a cap: wires behind
// it stay within reach.
func (d Decision) Removable() bool {
	return d.Cap || d.RiserPast && d.TreadPast && d.Board != KeptSkirt && d.Board != BareWall
}

// words says the decision as a carpenter would.
func (d Decision) words() string {
	s := d.Scheme()
	if s == "" {
		s = "no named scheme"
	}
	cap := ""
	if d.Cap {
		cap = " with a cap over the wires"
	}
	return s + " (" + string(d.Board) + cap + ")"
}

// decisions returns every way of treating a side of the kind, the simplest
// first; among equals the first wins.
func decisions(kind model.SideKind) []Decision {
	var out []Decision
	each := func(b Board) {
		out = append(out, Decision{Board: b, Ends: Tight})
		if b == BareWall {
			out = append(out, Decision{Board: b, Ends: Bead}, Decision{Board: b, Ends: Caulk})
			return
		}
		if b == FalseBoard {
			out = append(out, Decision{Board: b, Ends: Tight, Cap: true})
		}
		out = append(out,
			Decision{Board: b, RiserPast: true, Ends: Tight},
			Decision{Board: b, RiserPast: true, TreadPast: true, Ends: Tight},
			Decision{Board: b, TreadPast: true, Ends: Tight},
			Decision{Board: b, Ends: Bead}, Decision{Board: b, Ends: Caulk})
		if b == NewSkirt {
			out = append(out, Decision{Board: b, Ends: Housed})
		}
	}
	switch kind {
	case model.Open:
		return []Decision{{Board: OpenSide, TreadPast: true, Ends: Tight}}
	case model.Skirt:
		each(KeptSkirt)
		each(FalseBoard)
		each(NewSkirt)
	default:
		each(BareWall)
		each(NewSkirt)
	}
	return out
}

// choice is one combination: both sides and the backs of the treads.
type choice struct {
	side [2]Decision
	back model.BackJoint
}

// meets returns which wish a choice does not meet, or an empty text.
func (c choice) meets(w *model.Wishes, kinds [2]model.SideKind) string {
	for s, d := range c.side {
		wish, name := w.Left, "left"
		if pieces.Side(s) == pieces.Right {
			wish, name = w.Right, "right"
		}
		if d.Board == OpenSide {
			if wish.Wiring {
				return "there is no skirt on the open " + name + " side to lead wires behind"
			}
			continue
		}
		switch {
		case d.Board == KeptSkirt && (d.RiserPast || d.TreadPast) && !wish.Keep:
			return "boards cannot run under the old skirt on the " + name + " while it stands"
		case d.Cap && !wish.Wiring:
			return "no wires need a cap on the " + name
		case wish.Keep && d.Board == NewSkirt:
			return "the old skirt on the " + name + " is to stay"
		case wish.Battered && d.Board == KeptSkirt:
			return "the old skirt on the " + name + " is battered and must not be seen"
		case wish.NoFalse && d.Board == FalseBoard:
			return "no board may go over the old skirt on the " + name
		case wish.Wiring && !d.Removable() && !d.askedOff():
			return "the wires on the " + name + " must stay within reach"
		}
	}
	if w.Back != "" && c.back != w.Back {
		return "the backs of the treads are to go " + string(w.Back)
	}
	if w.SameSides && kinds[0] != model.Open && kinds[1] != model.Open && c.side[0] != c.side[1] {
		return "left and right are to be alike"
	}
	return ""
}

// askedOff says that the board would be within reach if it could be made so: a
// kept skirt over finished steps. It never can, and the refusal says why.
func (d Decision) askedOff() bool {
	return d.Board == KeptSkirt && d.RiserPast && d.TreadPast
}
