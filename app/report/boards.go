package report

import (
	"fmt"
	"math"
	"strings"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/saw"
	"risewright/view/card"
)

// boards writes every board as the trade's card line. See the package for what
// a board that is not released is given.
func (t *text) boards() {
	if len(t.a.Cards) == 0 {
		return
	}
	t.title("CUT CARDS  "+boardCount(t.a),
		capital(t.unit())+" and degrees. Saw is gauge less 90; arm and head swing as you see them at the saw; marks are on the edge at the fence, and the second is measured from the end just sawn. Blanks are those of the blank map. Cut only what is RELEASED, and from the printed card: it has the checks and the sketch.")
	t.line("")
	for i := range t.a.Cards {
		t.board(&t.a.Pieces[i], &t.a.Cards[i])
	}
}

func (t *text) board(p *pieces.Piece, c *saw.Card) {
	const at = 7
	state := card.StateOf(p, c)
	label := "  " + p.ID
	why := plain(card.Why(p, c))
	switch state {
	case card.Released:
		size, stock := card.Blank(c, t.f)
		blank := "blank " + t.unitless(plain(size))
		if stock != "" {
			blank += " from stock " + plain(stock)
		} else {
			blank += ", no listed board will do"
		}
		t.hangLines(at, label, join([]string{state.Banner(), "±" + t.bare(c.PlusMinus), blank, card.LieOf(p, c.Ops)}, Width-at))
		t.cuts(at, p, c)
	case card.Held:
		about := fmt.Sprintf("a rough size, not to cut to: about %s × %s, known to ±%s",
			t.number(p.Figures.Back.Value), t.number(max(p.Figures.LeftDepth.Value, p.Figures.RightDepth.Value)), t.bare(c.PlusMinus))
		t.hangLines(at, label, join([]string{state.Banner(), why, about}, Width-at))
	default:
		t.hangLines(at, label, join([]string{state.Banner(), why, plain(card.WhatToDo(p, c))}, Width-at))
	}
}

// cuts writes a line for each cut, in the order they are made.
func (t *text) cuts(at int, p *pieces.Piece, c *saw.Card) {
	turns := card.Cuts(p, c, t.f)
	for i := range c.Ops {
		op := &c.Ops[i]
		if turn := turns[i].Turn; turn != "" {
			t.hang(at, strings.Repeat(" ", at), turn)
		}
		pad := strings.Repeat(" ", at)
		if op.Verb == saw.Rip {
			t.hang(at+7, pad+"RIP", t.rip(p, op))
			continue
		}
		head := "upright"
		bevel := "no bevel"
		if degrees(op.Bevel) != degrees(0) {
			bevel, head = "bevel "+figures(op.Bevel), "head "+strings.ToUpper(string(op.Tilt))
		}
		arm := strings.ToUpper(string(op.Arm))
		if degrees(math.Abs(op.Saw)) == degrees(0) {
			arm = "SQUARE"
		}
		m := op.Measures[0]
		from := strings.TrimPrefix(strings.TrimSuffix(card.FromEnd(op, c.Ops[:i]), " end"), "the ")
		mark := fmt.Sprintf("mark %s from %s", t.number(m.Value), from)
		if m.Edge != op.Fence {
			mark += fmt.Sprintf(" on %s", strings.ToUpper(card.EdgeName(p, m.Edge)))
		}
		set := fmt.Sprintf("gauge %5s → saw %4s  arm %-6s  %-9s %-10s", figures(op.Gauge), figures(math.Abs(op.Saw)), arm, bevel, head)
		t.hangLines(at+7, pad+strings.ToUpper(string(op.End)), beside(set, mark, Width-at-7))
	}
}

// rip says where the rip goes.
func (t *text) rip(p *pieces.Piece, op *saw.Op) string {
	made := saw.Nose
	if op.Fence == saw.Nose {
		made = saw.Back
	}
	l, r := op.Measures[0], op.Measures[1]
	if l.From == saw.Right {
		l, r = r, l
	}
	fence := strings.ToUpper(card.EdgeName(p, op.Fence))
	if t.number(l.Value) == t.number(r.Value) {
		return fmt.Sprintf("%s edge at %s, %s edge to the rip fence", strings.ToUpper(card.EdgeName(p, made)), t.number(l.Value), fence)
	}
	at := func(m saw.Measure) string {
		if t.number(m.Along) == t.number(0) {
			return fmt.Sprintf("%s at %s", t.number(m.Value), strings.ToUpper(string(m.From)))
		}
		return fmt.Sprintf("%s at %s from %s", t.number(m.Value), t.number(m.Along), strings.ToUpper(string(m.From)))
	}
	return fmt.Sprintf("%s edge to a line, in from %s: %s, %s", strings.ToUpper(card.EdgeName(p, made)), fence, at(l), at(r))
}

// unitless drops the unit at the end of a size.
func (t *text) unitless(s string) string {
	return strings.TrimSuffix(strings.TrimSuffix(s, " mm"), `"`)
}

// figures is an angle in degrees without their sign, as the trade writes it.
func figures(rad float64) string { return strings.TrimSuffix(degrees(rad), "°") }

func degrees(rad float64) string { return model.FormatDegrees(model.Angle(rad), 1) }
