package card

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/saw"
)

// FirstCut stands with every card: no cut is trusted to fit before it has been
// offered up.
const FirstCut = "First cut 2 mm (1/16 in) long at the card's angle, offer up, then creep (common practice, no source)."

// State is what may be done with a card.
type State int

// The states. Only a Released card may be cut by.
const (
	Released State = iota
	Held
	Refused
	// ByTemplate is refused because straight cuts cannot make the board, so
	// that nothing is wrong with it but a card.
	ByTemplate
)

// Figures says whether a card in this state shows figures to cut by.
func (s State) Figures() bool { return s == Released || s == Held }

// StateOf returns the state of a card. A card without cuts is refused.
func StateOf(p *pieces.Piece, c *saw.Card) State {
	switch {
	case p.Template != "":
		return ByTemplate
	case !c.Proof.OK || len(c.Ops) == 0:
		return Refused
	case !c.Released || !p.Released:
		return Held
	}
	return Released
}

// Banner returns the words that say the state.
func (s State) Banner() string {
	switch s {
	case Released:
		return "RELEASED"
	case Held:
		return "NOT RELEASED"
	case ByTemplate:
		return "BY TEMPLATE"
	}
	return "REFUSED"
}

// Why returns why a card is not released, and "" when it is.
func Why(p *pieces.Piece, c *saw.Card) string {
	switch StateOf(p, c) {
	case Released:
		return ""
	case Held:
		return firstOf(c.Why, p.Why, "the board is not known well enough to cut")
	case ByTemplate:
		return "straight cuts do not make this board: " + p.Template
	}
	return firstOf(c.Proof.Reason, "the virtual saw did not make this board from its card")
}

// WhatToDo returns what to do about a card that is not released.
func WhatToDo(p *pieces.Piece, c *saw.Card) string {
	switch StateOf(p, c) {
	case Released:
		return ""
	case Held:
		return "Take the readings that are missing or in doubt, on bare wood, and print again. Until then these figures are for planning and buying only."
	case ByTemplate:
		return "Make a template of the opening from thin board, offer it up, mark it face up and front, and cut to its outline."
	}
	return "Do not cut this board by numbers. Check the readings of its step; if they stand, make the board from a template."
}

func firstOf(texts ...string) string {
	for _, t := range texts {
		if t != "" {
			return t
		}
	}
	return ""
}

// Name returns what the board is, such as "tread of step 7".
func Name(p *pieces.Piece) string {
	switch p.Kind {
	case pieces.Riser:
		return fmt.Sprintf("riser %d, below tread %d", p.Step, p.Step)
	case pieces.LandingNosing:
		return fmt.Sprintf("landing nosing, above riser %d", p.Step)
	case pieces.LandingFloor:
		return fmt.Sprintf("floor of the landing at step %d", p.Step)
	case pieces.ReturnNosing:
		return fmt.Sprintf("return nosing of tread %d", p.Step)
	}
	return fmt.Sprintf("tread of step %d", p.Step)
}

// Lie returns how the board lies for an op: the tag that heads the card.
func Lie(p *pieces.Piece, op *saw.Op) string {
	near := saw.Nose
	if op.Fence == saw.Nose {
		near = saw.Back
	}
	return fmt.Sprintf("face %s · %s TO YOU · %s to fence",
		strings.ToUpper(string(op.Face)), strings.ToUpper(EdgeName(p, near)), EdgeName(p, op.Fence))
}

// EdgeName returns what the trade calls an edge of this board.
func EdgeName(p *pieces.Piece, e saw.Edge) string {
	switch {
	case p.Kind == pieces.Riser && e == saw.Back:
		return "bottom"
	case p.Kind == pieces.Riser:
		return "top"
	case p.Kind == pieces.ReturnNosing && e == saw.Back:
		return "inner"
	case e == saw.Back:
		return "back"
	}
	return "nose"
}

// Blank returns the blank to take and, when a listed size will do, what the
// yard calls it.
func Blank(c *saw.Card, f model.Format) (size, stock string) {
	b := &c.Blank
	thick := Length(f, b.Thickness)
	f.Step = model.Millimetre // a blank is chosen, not measured
	if math.Abs(b.Thickness-math.Round(b.Thickness)) < 0.1 {
		thick = Length(f, b.Thickness)
	}
	size = fmt.Sprintf("%s × %s × %s", Number(f, b.Length), Number(f, b.Width), thick)
	return size, SetFractions(b.Stock)
}

// Cut is one op in words.
type Cut struct {
	Turn string // how to turn the board first; empty when it lies as before
	Head string // the cut and its setting
	More []string
}

// Cuts returns the ops of a card in words, in the order they are done. A rip
// says for itself how the board lies; the crosscuts lie as LieOf says.
func Cuts(p *pieces.Piece, c *saw.Card, f model.Format) []Cut {
	out := make([]Cut, len(c.Ops))
	lie := LieOf(p, c.Ops)
	for i := range c.Ops {
		op := &c.Ops[i]
		if op.Verb == saw.Rip {
			out[i].Head, out[i].More = ripWords(p, op, f)
			continue
		}
		if now := Lie(p, op); now != lie {
			out[i].Turn, lie = "TURN THE BOARD: "+now, now
		}
		out[i].Head, out[i].More = crosscutWords(p, op, c.Ops[:i], f)
	}
	return out
}

// LieOf returns how the board lies for the first crosscut, or for the first op
// when there is none.
func LieOf(p *pieces.Piece, ops []saw.Op) string {
	for i := range ops {
		if ops[i].Verb == saw.Crosscut {
			return Lie(p, &ops[i])
		}
	}
	if len(ops) == 0 {
		return ""
	}
	return Lie(p, &ops[0])
}

func ripWords(p *pieces.Piece, op *saw.Op, f model.Format) (head string, more []string) {
	left, right := op.Measures[0], op.Measures[1]
	if left.From == saw.Right {
		left, right = right, left
	}
	made := saw.Nose
	if op.Fence == saw.Nose {
		made = saw.Back
	}
	fence := strings.ToUpper(EdgeName(p, op.Fence))
	head = fmt.Sprintf("RIP the %s edge", strings.ToUpper(EdgeName(p, made)))
	lie := fmt.Sprintf("face %s, %s edge to the rip fence", strings.ToUpper(string(op.Face)), fence)
	l, r := Number(f, left.Value), Number(f, right.Value)
	if l == r {
		return head + ": " + Length(f, left.Value), []string{"parallel: " + lie}
	}
	mark := func(m saw.Measure, value string) string {
		side := strings.ToUpper(string(m.From))
		if Number(f, m.Along) == Number(f, 0) {
			return fmt.Sprintf("%s at %s end", value, side)
		}
		return fmt.Sprintf("%s at %s from %s end", value, Number(f, m.Along), side)
	}
	return head + " to a line", []string{
		fmt.Sprintf("marks in from %s edge: %s; %s", fence, mark(left, l), mark(right, r)),
		fmt.Sprintf("face %s; on a sled or along a track", strings.ToUpper(string(op.Face))),
	}
}

func crosscutWords(p *pieces.Piece, op *saw.Op, before []saw.Op, f model.Format) (head string, more []string) {
	end := strings.ToUpper(string(op.End))
	head = end + " end · " + Setting(op)
	angle := fmt.Sprintf("gauge %s → saw %s", degrees(op.Gauge), sawText(op.Saw))
	if square(op.Bevel) {
		angle += " · no bevel, head upright"
	} else {
		angle += fmt.Sprintf(" · bevel %s, head leans %s", degrees(op.Bevel), strings.ToUpper(string(op.Tilt)))
	}
	m := op.Measures[0]
	mark := fmt.Sprintf("mark %s from %s on %s edge",
		Number(f, m.Value), FromEnd(op, before), strings.ToUpper(EdgeName(p, m.Edge)))
	if w := pointWords(op, before); w != "" {
		mark += ", " + w
	}
	return head, []string{mark, angle}
}

// FromEnd names the end that a crosscut is measured from: "LEFT end", or "the
// sawn LEFT end" when an operation before has sawn it. Both marks made on the
// blank before the first cut would leave the board short by what is sawn off.
func FromEnd(op *saw.Op, before []saw.Op) string {
	from := op.Measures[0].From
	name := strings.ToUpper(string(from)) + " end"
	for i := range before {
		if before[i].Verb == saw.Crosscut && before[i].End == from {
			return "the sawn " + name
		}
	}
	return name
}

// Setting is the saw's setting for an end, such as "saw 1.0° · arm LEFT".
func Setting(op *saw.Op) string {
	return fmt.Sprintf("saw %s · arm %s", sawText(op.Saw), armText(op.Saw, op.Arm))
}

// pointWords says which points of the ends a crosscut's mark joins: short to
// short when the other end was sawn and measured on the same edge.
func pointWords(op *saw.Op, before []saw.Op) string {
	m := op.Measures[0]
	here := pointWord(op)
	for i := range before {
		b := &before[i]
		if b.Verb == saw.Crosscut && b.End == m.From && b.Measures[0].Edge == m.Edge {
			if from := pointWord(b); from != "" && here != "" {
				return from + " to " + here
			}
		}
	}
	if here == "" || here == squareWord {
		return here
	}
	return here + " point"
}

const squareWord = "square"

// pointWord says which point of its end a crosscut's mark is. An end that the
// saw cuts at 0.0° has neither.
func pointWord(op *saw.Op) string {
	switch p := op.Measures[0].Point; {
	case p == saw.PointSquare || square(op.Saw):
		return squareWord
	case p == saw.LongPoint:
		return "long"
	case p == saw.ShortPoint:
		return "short"
	}
	return ""
}

// Turned returns what changes when the board is turned, a line for each way.
// It names what to set, not what it was.
func Turned(p *pieces.Piece, c *saw.Card) []string {
	var out []string
	for i := range c.Turned {
		t := &c.Turned[i]
		line := strings.ToUpper(string(t.How))
		for k := range t.Ops {
			if op := &t.Ops[k]; op.Verb == saw.Crosscut {
				if t.How != saw.FaceDown {
					line += ", face " + strings.ToUpper(string(op.Face))
				}
				line += fmt.Sprintf(", %s to fence", strings.ToUpper(EdgeName(p, op.Fence)))
				break
			}
		}
		line += ": "
		var parts []string
		for _, end := range [2]saw.Hand{saw.Left, saw.Right} {
			var words []string
			was, now := cutOf(c.Ops, end), cutOf(t.Ops, end)
			said := false // which way the arm goes
			for k := range t.Changes {
				ch := &t.Changes[k]
				if ch.End != end {
					continue
				}
				w := changeWords(ch)
				if ch.What == saw.FieldArm && was != nil && now != nil {
					w, said = armChange(was, now, ch.Now), true
				}
				if w != "" {
					words = append(words, w)
				}
			}
			if !said && was != nil && now != nil {
				if w := armChange(was, now, string(now.Arm)); w != "" && square(was.Saw) != square(now.Saw) {
					words = append(words, w)
				}
			}
			if len(words) > 0 {
				parts = append(parts, strings.ToUpper(string(end))+" end "+strings.Join(words, ", "))
			}
		}
		if len(parts) == 0 {
			parts = []string{"nothing else changes"}
		}
		line += strings.Join(parts, "; ") + "."
		if t.How == saw.FaceDown && bevelled(t.Ops) {
			// The other side is shorter by the undercuts: a mark made there would
			// leave the board long.
			line += " The marks stay on the face, now below: the blade meets them at the table."
		}
		out = append(out, line)
	}
	return out
}

// cutOf returns the crosscut of an end, or nil.
func cutOf(ops []saw.Op, end saw.Hand) *saw.Op {
	for i := range ops {
		if ops[i].Verb == saw.Crosscut && ops[i].End == end {
			return &ops[i]
		}
	}
	return nil
}

// armChange says which way the arm goes now, as the two angles print: an angle
// that prints as 0.0 has no way, and one that no longer does has one, even
// where the arm itself stays.
func armChange(was, now *saw.Op, arm string) string {
	switch {
	case !square(now.Saw):
		return "arm " + strings.ToUpper(arm)
	case !square(was.Saw):
		return "arm SQUARE"
	}
	return ""
}

// bevelled says whether any of the ops leans the head.
func bevelled(ops []saw.Op) bool {
	for i := range ops {
		if ops[i].Verb == saw.Crosscut && !square(ops[i].Bevel) {
			return true
		}
	}
	return false
}

// changeWords says one change. Face and fence are said by the lie.
func changeWords(ch *saw.Change) string {
	now := strings.ToUpper(ch.Now)
	switch ch.What {
	case saw.FieldHand:
		return "at " + now + " hand"
	case saw.FieldArm:
		return "arm " + now
	case saw.FieldTilt:
		return "head leans " + now
	case saw.FieldGauge:
		return "gauge " + degrees(ch.NowAngle)
	case saw.FieldSaw:
		return "saw " + sawText(ch.NowAngle)
	}
	return ""
}

// ProofText says what the virtual saw found.
func ProofText(c *saw.Card, f model.Format) string {
	return fmt.Sprintf("Proved by the virtual saw, turned over too: worst %s; with the figures as printed %s.",
		small(f, c.Proof.Worst), small(f, c.Proof.PrintedWorst))
}

// small writes a deviation, rounded up so that nothing is claimed that is not
// so: hundredths of a millimetre, or thousandths of an inch.
func small(f model.Format, mm float64) string {
	// up is how far above a step of the scale counts as on it: float64
	// rounding of figures below 1,000 mm.
	const up = 1e-9
	if f.Units == model.Imperial {
		return strconv.FormatFloat(math.Ceil(mm/25.4*1000-up)/1000+0, 'f', 3, 64) + " in"
	}
	return strconv.FormatFloat(math.Ceil(mm*100-up)/100+0, 'f', 2, 64) + " mm"
}

// Length writes mm with its unit, fractions set as fractions.
func Length(f model.Format, mm float64) string { return SetFractions(f.Length(model.Length(mm))) }

// Number writes mm without its unit, fractions set as fractions.
func Number(f model.Format, mm float64) string { return SetFractions(f.Number(model.Length(mm))) }

// PlusMinus writes the half width of a band, fractions set as fractions.
func PlusMinus(f model.Format, mm float64) string {
	if mm > 0 && mm < leastBand {
		mm = leastBand
	}
	return SetFractions(f.PlusMinus(model.Length(mm)))
}

// leastBand is the smallest band that is printed, mm: what is set out and not
// measured is known better than anything on a saw can be.
const leastBand = 0.1

// SetFractions writes 5/16 with the fraction slash, so that it is set as a
// fraction: 36 5⁄16 cannot be taken for 365/16. A slash that is not between
// figures stays. The minus of a figure is set as wide as a plus, so that nobody
// takes it for a dash.
func SetFractions(s string) string {
	var b strings.Builder
	for i := range len(s) {
		before, after := byte(' '), byte(' ')
		if i > 0 {
			before = s[i-1]
		}
		if i+1 < len(s) {
			after = s[i+1]
		}
		switch {
		case s[i] == '/' && figure(before) && figure(after):
			b.WriteRune('⁄')
		case s[i] == '-' && (before == ' ' || before == '(') && figure(after):
			b.WriteRune('−')
		default:
			b.WriteByte(s[i])
		}
	}
	return b.String()
}

func figure(c byte) bool { return '0' <= c && c <= '9' }

func degrees(a float64) string { return model.FormatDegrees(model.Angle(a), 1) }

// sawText is the saw's scale: it has no sign, the arm's way says it.
func sawText(a float64) string { return degrees(math.Abs(a)) }

// square says that an angle prints as 0.0°.
func square(a float64) bool { return degrees(math.Abs(a)) == degrees(0) }

func armText(sawAngle float64, arm saw.Hand) string {
	if square(sawAngle) {
		return "SQUARE"
	}
	return strings.ToUpper(string(arm))
}
