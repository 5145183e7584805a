package card

import (
	"slices"
	"strconv"
	"strings"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/saw"
	"risewright/view/drawing"
)

// Options are how a card is drawn. Sizes are paper mm; zero means the nominal
// size, half a sheet.
type Options struct {
	Format        model.Format
	Width, Height float64
	// Board says where the blank comes from.
	Board Board
	// Stamp says which survey the card belongs to, such as "Mill Lane · survey
	// revision 12 · 2 November 2026".
	Stamp string
}

// Board says where a card's blank comes from.
type Board int

// The zero Board says nothing: the blank is that of the blank map, or there is
// none to ask for. Smallest is the smallest that would do by itself, while
// no blank map is known. Before is the blank of the map before the job was last
// changed, while that is worked out anew.
const (
	Mapped Board = iota
	Smallest
	Before
)

// words returns how the blank and what the yard calls it are said.
func (b Board) words(size, stock string) (take, sold string) {
	sold = "no listed size will do"
	if stock != "" {
		sold = "sold as " + stock
	}
	switch b {
	case Smallest:
		return "smallest that would do: " + size, sold + " · the blank map may cut another"
	case Before:
		return "take a blank of " + size, sold + " · by the blank map before the last change"
	}
	return "take a blank of " + size, sold
}

// The nominal size of a card, in paper mm: what half a Letter or A4 sheet
// leaves inside its margins. Layouts are made in these units and scaled.
const (
	NominalWidth  = 190.0
	NominalHeight = 125.0
	// tallWidth is the nominal width where the room is taller than wide, as
	// beside a window's drawings.
	tallWidth, tallHeight = 120.0, 216.0
	// wideFrom is the least width over height for the side by side layout.
	wideFrom = 1.2
)

// Draw draws the card of a board into l, from the origin to the options' width
// and height.
func Draw(l *drawing.List, piece *pieces.Piece, c *saw.Card, o Options) {
	if o.Width <= 0 || o.Height <= 0 {
		o.Width, o.Height = NominalWidth, NominalHeight
	}
	w, h := NominalWidth, NominalHeight
	tall := o.Width < wideFrom*o.Height
	if tall {
		w, h = tallWidth, tallHeight
	}
	k := min(o.Width/w, o.Height/h)
	d := drawer{
		pen:   pen{l: l, k: k, height: o.Height / k},
		piece: piece, card: c, f: o.Format, state: StateOf(piece, c), board: o.Board, stamp: o.Stamp,
	}
	d.draw(box{0, 0, o.Width / k, o.Height / k}, tall)
}

// drawer is one card being drawn.
type drawer struct {
	pen
	piece *pieces.Piece
	card  *saw.Card
	f     model.Format
	state State
	board Board
	stamp string
}

// The parts of a card, in its units.
const (
	pad      = 3.0  // from the frame to what is inside
	barred   = 1.9  // width of the barred frame of a card not to be cut by
	headTall = 17.6 // of the row with the piece's name
	tagTall  = 8.0  // of the band that says how the board lies
	footTall = 4.0
	between  = 2.2 // from part to part
	checkRow = 3.8
	// leastMain is the room the cuts and pictures keep when notes are long.
	leastMain = 61.0
)

func (d *drawer) draw(all box, tall bool) {
	d.frame(all)
	in := all.inset(pad)
	if d.state != Released {
		in = all.inset(pad + barred - 0.6)
	}
	d.foot(box{in.x, in.y + in.h - footTall, in.w, footTall})
	in.h -= footTall + 0.4
	y := d.head(in, tall)
	y = d.reason(box{in.x, y, in.w, in.y + in.h - y})
	if !d.state.Figures() {
		return
	}
	d.tag(box{in.x, y, in.w, tagTall})
	y += tagTall + between
	rest := box{in.x, y, in.w, in.y + in.h - y}
	if d.state == Released { // what is not cut needs no caution about cutting
		rest.h -= d.cautions(rest)
	}
	if tall {
		d.tall(rest)
	} else {
		d.wide(rest)
	}
}

// wide puts the cuts at the left and the pictures at the right, checks below.
func (d *drawer) wide(b box) {
	first, second := b.w*0.35, b.w*0.29
	notes := b.w - first - second
	low := 4.2 + checkRow*float64(max(5, len(d.card.Checks)))
	need := max(blockHeight(second-between*2, d.turnedParas(), 1), blockHeight(notes, d.noteParas(), 1))
	low = max(low, min(need, b.h-leastMain-between))
	main := box{b.x, b.y, b.w, b.h - low - between}
	right := main.w * 0.40
	d.cuts(box{main.x, main.y, main.w - right - between*1.6, main.h})
	d.pictures(box{main.x + main.w - right, main.y, right, main.h})
	y := main.y + main.h + between
	d.line(b.x, y-between/2, b.x+b.w, y-between/2, d.stroke(drawing.Soft, 0.25))
	d.checks(box{b.x, y, first - between*2, low})
	d.turned(box{b.x + first, y, second - between*2, low})
	d.notes(box{b.x + first + second, y, notes, low})
}

// tall puts everything under each other.
func (d *drawer) tall(b box) {
	cuts := b.h * 0.37
	pictures := b.h * 0.37
	d.cuts(box{b.x, b.y, b.w, cuts})
	y := b.y + cuts + between
	d.pictures(box{b.x, y, b.w, pictures})
	y += pictures + between
	d.line(b.x, y-between/2, b.x+b.w, y-between/2, d.stroke(drawing.Soft, 0.25))
	low := b.y + b.h - y
	checks := 4.2 + checkRow*float64(len(d.card.Checks))
	half := b.w*0.52 - between
	d.checks(box{b.x, y, half, low})
	d.notes(box{b.x, y + checks + 1, half, low - checks - 1})
	d.turned(box{b.x + half + between*2, y, b.w - half - between*2, low})
}

// cautions sets the cautions at the foot of b and returns the room they take.
func (d *drawer) cautions(b box) float64 {
	const size, most = 2.45, 5
	lines := drawing.Wrap(strings.Join(d.card.Cautions, " "), b.w, size, false, false)
	lines = lines[:min(len(lines), most)]
	tall := float64(len(lines)) * size * leading
	for i, line := range lines {
		d.text(b.x, b.y+b.h-tall+(float64(i)+0.8)*size*leading, 0, line, letter{size: size})
	}
	return tall + 0.8
}

// frame draws the card's edge: plain when released, barred when not.
func (d *drawer) frame(b box) {
	e := b.inset(0.4)
	if d.state == Released {
		d.rect(e, drawing.Fill{}, d.stroke(drawing.Line, 0.5))
		return
	}
	const bar = barred
	hatch := drawing.Fill{Hatch: drawing.Hatch{Pattern: drawing.Diagonal, Spacing: 1.5 * d.k, Ink: drawing.Line, Width: 0.7 * d.k}}
	none := drawing.Stroke{}
	d.rect(box{e.x, e.y, e.w, bar}, hatch, none)
	d.rect(box{e.x, e.y + e.h - bar, e.w, bar}, hatch, none)
	d.rect(box{e.x, e.y + bar, bar, e.h - 2*bar}, hatch, none)
	d.rect(box{e.x + e.w - bar, e.y + bar, bar, e.h - 2*bar}, hatch, none)
	d.rect(e, drawing.Fill{}, d.stroke(drawing.Line, 0.5))
	d.rect(e.inset(bar), drawing.Fill{}, d.stroke(drawing.Line, 0.3))
}

// head draws the name, the blank and the state; it returns where it ends.
func (d *drawer) head(b box, tall bool) float64 {
	const idSize = 21.5
	// Names of four characters leave less room beside them.
	size := drawing.FitSize(d.piece.ID, b.w*0.38, idSize, idSize/2, true, false)
	d.text(b.x, b.y+idSize*0.745, 0, d.piece.ID, letter{size: size, bold: true})
	x := b.x + drawing.TextWidth(d.piece.ID, size, true, false) + 4
	words := box{x, b.y, b.x + b.w*0.70 - x - 3, headTall}
	state := box{b.x + b.w*0.70, b.y, b.w * 0.30, headTall - 1.6}
	end := b.y + headTall
	if tall {
		state = box{x, b.y, b.x + b.w - x, headTall - 1.6}
		words = box{b.x, end, b.w, headTall}
		end += headTall
	}
	d.text(words.x, words.y+6.2, words.w, Name(d.piece), letter{size: 7, bold: true})
	if d.state.Figures() {
		take, sold := d.board.words(Blank(d.card, d.f))
		d.text(words.x, words.y+11.6, words.w, take, letter{size: 4.8})
		d.text(words.x, words.y+16, words.w, sold, letter{size: 3.6})
	}
	d.stateBox(state)
	return end
}

func (d *drawer) stateBox(b box) {
	word := d.state.Banner()
	mid := b.x + b.w/2
	if d.state == Released {
		d.rect(b, drawing.Fill{}, d.stroke(drawing.Line, 0.9))
		// The tick is drawn, so that it is there in every face.
		tick := []drawing.Point{d.at(b.x+3, b.y+6), d.at(b.x+5, b.y+8.4), d.at(b.x+9.4, b.y+2.8)}
		d.l.Polyline(tick, false, d.stroke(drawing.Line, 1.3))
		d.text(b.x+(b.w+9)/2, b.y+8.3, b.w-15, word, letter{size: 7.2, bold: true, align: drawing.AlignMiddle})
		d.text(mid, b.y+13.4, b.w-4, "lengths known to "+PlusMinus(d.f, d.card.PlusMinus), letter{size: 3.8, align: drawing.AlignMiddle})
		return
	}
	d.rect(b, drawing.Fill{Ink: drawing.Line}, drawing.Stroke{})
	d.text(mid, b.y+8.3, b.w-4, word, letter{size: 7.6, bold: true, align: drawing.AlignMiddle, ink: drawing.Paper})
	d.text(mid, b.y+13.8, b.w-4, d.state.order(), letter{size: 5.4, bold: true, align: drawing.AlignMiddle, ink: drawing.Paper})
}

// reason says why a card is not released and what to do. A refused card has
// nothing else, so it may fill the card.
func (d *drawer) reason(b box) float64 {
	if d.state == Released {
		return b.y
	}
	paras := []para{
		{text: "Why: " + SetFractions(Why(d.piece, d.card)), size: 4.2, bold: true},
		{text: "Do: " + WhatToDo(d.piece, d.card), size: 3.6, above: 0.4},
	}
	if d.state == Held {
		b.h = 11.5
		d.block(b, paras, drawing.None)
		return b.y + b.h + 0.6
	}
	paras[0].size, paras[1].size, paras[1].above = 6.4, 6.4, 5
	for _, n := range d.piece.Notes {
		paras = append(paras, para{text: SetFractions(n), size: 4.4, above: 4})
	}
	b.y += 3
	b.h -= 3
	return d.block(b, paras, drawing.None)
}

func (d *drawer) tag(b box) {
	d.rect(b, drawing.Fill{Ink: drawing.Line}, drawing.Stroke{})
	d.text(b.x+b.w/2, b.y+b.h-2.2, b.w-6, LieOf(d.piece, d.card.Ops),
		letter{size: 6.6, bold: true, align: drawing.AlignMiddle, ink: drawing.Paper})
}

func (d *drawer) cuts(b box) {
	const indent = 8.0
	var paras []para
	for i, c := range Cuts(d.piece, d.card, d.f) {
		if c.Turn != "" {
			paras = append(paras, para{text: c.Turn, size: 5, bold: true, above: 2})
		}
		paras = append(paras, para{text: c.Head, size: 6.4, bold: true, above: 2.2, indent: indent, mark: strconv.Itoa(i + 1)})
		for n, m := range c.More {
			paras = append(paras, para{text: m, size: 4.8 - 0.7*float64(n), bold: n == 0, indent: indent, above: 0.3})
		}
	}
	d.block(b, paras, drawing.None)
}

// checks is the table of dimensions to check on the sawn board.
func (d *drawer) checks(b box) {
	d.text(b.x, b.y+2.8, 0, "CHECK THE BOARD", letter{size: 3.4, bold: true})
	y := b.y + 4
	for _, c := range d.card.Checks {
		y += checkRow
		d.text(b.x, y-0.9, b.w*0.53, shortName(c.Name), letter{size: 3.4})
		d.text(b.x+b.w*0.79, y-0.9, b.w*0.25, Number(d.f, c.Value), letter{size: 4, bold: true, align: drawing.AlignEnd})
		d.text(b.x+b.w, y-0.9, b.w*0.2, PlusMinus(d.f, c.PlusMinus), letter{size: 3, align: drawing.AlignEnd})
		d.line(b.x, y, b.x+b.w, y, d.stroke(drawing.Faint, 0.18))
	}
}

// shortName leaves out where a diagonal ends: the far corner, what else.
func shortName(name string) string {
	if from, ok := strings.CutPrefix(name, "diagonal, "); ok {
		from, _, _ = strings.Cut(from, " to ")
		return "diagonal from " + from
	}
	return name
}

func (d *drawer) turned(b box) { d.block(b, d.turnedParas(), drawing.None) }

func (d *drawer) turnedParas() []para {
	paras := []para{{text: "IF YOU TURN IT", size: 3.4, bold: true}}
	for _, t := range Turned(d.piece, d.card) {
		paras = append(paras, para{text: t, size: 3.2, above: 0.5})
	}
	return paras
}

func (d *drawer) notes(b box) { d.block(b, d.noteParas(), drawing.None) }

// noteParas are the proof and what there is to know about this board.
func (d *drawer) noteParas() []para {
	paras := []para{{text: ProofText(d.card, d.f), size: 3.1}}
	notes := append(append([]string(nil), d.card.Notes...), d.piece.Notes...)
	for i, n := range notes {
		if slices.Contains(notes[:i], n) {
			continue
		}
		paras = append(paras, para{text: model.Sentence(SetFractions(n)), size: 3.2, above: 0.6, indent: 2.6, mark: "•"})
	}
	return paras
}

// order is what the state asks for, under its banner.
func (s State) order() string {
	if s == ByTemplate {
		return "NOT BY NUMBERS"
	}
	return "DO NOT CUT"
}

func (d *drawer) foot(b box) {
	d.text(b.x, b.y+b.h-0.7, b.w*0.6, d.stamp, letter{size: 2.9, ink: drawing.LetterSoft})
	if b.w < 1.2*tallWidth {
		return
	}
	right := "steps from the bottom; left and right as walking up"
	d.text(b.x+b.w, b.y+b.h-0.7, b.w*0.38, right, letter{size: 2.7, align: drawing.AlignEnd, ink: drawing.LetterSoft})
}
