package report

import (
	"fmt"
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
	t.title(fmt.Sprintf("CUT CARDS  %s", boardCount(t.a)), fmt.Sprintf("(%s; in the order of building up)", t.unit()))
	t.para(2, "Cut only what is RELEASED, and from the printed card: it has the checks and the sketch. saw = gauge less 90; the arm is named as you stand at the saw, ends as seen walking up.")
	t.line("")
	for i := range t.a.Cards {
		t.board(&t.a.Pieces[i], &t.a.Cards[i])
	}
}

func (t *text) board(p *pieces.Piece, c *saw.Card) {
	const at = 7
	state := card.StateOf(p, c)
	label := "  " + p.ID
	switch state {
	case card.Released:
		size, stock := card.Blank(c, t.f)
		blank := "blank " + plain(size)
		if stock != "" {
			blank += " in " + plain(stock)
		}
		parts := []string{state.Banner(), blank, card.LieOf(p, c.Ops), t.plusMinus(c.PlusMinus)}
		t.hangLines(at, label, join(append(parts, cuts(p, c, t.f)...), Width-at))
	case card.Held:
		size, stock := card.Blank(c, t.f)
		blank := "to buy, not to cut: blank " + plain(size)
		if stock != "" {
			blank += " in " + plain(stock)
		}
		t.hangLines(at, label, join([]string{state.Banner(), plain(card.Why(p, c)), blank, "known to " + t.plusMinus(c.PlusMinus)}, Width-at))
	default:
		t.hangLines(at, label, join([]string{state.Banner(), plain(card.Why(p, c)), plain(card.WhatToDo(p, c))}, Width-at))
	}
}

// cuts are the cuts of a card in the order they are made, a part for each.
func cuts(p *pieces.Piece, c *saw.Card, f model.Format) []string {
	words := card.Cuts(p, c, f)
	var out []string
	for i := range c.Ops {
		op, w := &c.Ops[i], &words[i]
		if w.Turn != "" {
			out = append(out, w.Turn)
		}
		if op.Verb == saw.Rip {
			out = append(out, plain(strings.Join(append([]string{w.Head}, w.More...), ", ")))
			continue
		}
		// The trade's line: gauge and saw together, then the bevel, then the mark.
		angle := fmt.Sprintf("%s end: gauge %s → %s", strings.ToUpper(string(op.End)), degrees(op.Gauge), strings.ReplaceAll(card.Setting(op), " · ", ", "))
		if degrees(op.Bevel) != degrees(0) {
			angle += fmt.Sprintf(", bevel %s leaning %s", degrees(op.Bevel), strings.ToUpper(string(op.Tilt)))
		} else {
			angle += ", head upright"
		}
		out = append(out, angle+", "+plain(w.More[0]))
	}
	return out
}

func degrees(rad float64) string { return model.FormatDegrees(model.Angle(rad), 1) }
