package sheets

import (
	"fmt"
	"math"
	"strings"

	"risewright/solver"
	"risewright/solver/rules"
	"risewright/solver/saw"
	"risewright/view/card"
	"risewright/view/drawing"
)

// Cards returns the cut cards: a list of every board with its state, then two
// cards to a page in the order of building up.
func Cards(a *solver.Answer, m Meta) []drawing.Page {
	b := newBook("Cut cards", m, a.Job.Format())
	for guess := 1; ; guess = len(b.pages) { // until the list knows its own length
		b.pages = nil
		b.boards(a, guess)
		if len(b.pages) == guess {
			break
		}
	}
	front := len(b.pages)
	tall := (b.height - cardTop - cardLow - cardGap) / 2
	for i := range a.Cards {
		if i%2 == 0 {
			b.pages = append(b.pages, drawing.Page{Width: b.width, Height: b.height})
		}
		o := card.Options{Format: b.f, Width: b.width - 2*cardMargin, Height: tall, Stamp: printable(m.Stamp())}
		var l drawing.List
		card.Draw(&l, &a.Pieces[i], &a.Cards[i], o)
		up := b.height - cardTop - tall
		if i%2 == 1 {
			up -= tall + cardGap
		} else if i+1 < len(a.Cards) {
			y := b.height - up + cardGap/2 // where the sheet is cut in two
			b.list().Line(b.at(0, y), b.at(b.width, y), drawing.Hidden(drawing.Soft, drawing.Fine))
		}
		b.list().Append(&l, drawing.Shift(cardMargin, up))
	}
	b.finish(front)
	for i := front; i < len(b.pages); i++ {
		b.cardFoot(i)
	}
	return b.pages
}

// The parts of a page of cards, in mm. Each card says itself which survey it
// belongs to, so the page's foot is one short line and the cards are large.
const (
	cardMargin = 9.0
	cardTop    = 7.0
	cardGap    = 4.0
	cardLow    = 11.0
)

// cardFoot is the foot of a page of cards.
func (b *book) cardFoot(page int) {
	p := &b.pages[page]
	p.Name = fmt.Sprintf("%s, page %d", b.title, page+1)
	at := func(x float64) drawing.Point { return drawing.Point{X: x, Y: 6.4} }
	p.List.Text(drawing.Text{At: at(cardMargin), Size: 3, Bold: true, String: rules.Deference})
	p.List.Text(drawing.Text{At: at(b.width - cardMargin), Size: 3.2, Bold: true, Align: drawing.AlignEnd,
		String: fmt.Sprintf("page %d of %d", page+1, len(b.pages))})
}

// boards is the list of boards: what may be cut, with the saw's settings, and
// what may not, with the reason. The cards follow after front pages.
func (b *book) boards(a *solver.Answer, front int) {
	b.page()
	b.paragraph(boardCount(a), letter{size: 4.6, bold: true})
	b.y += 1
	b.paragraph("Cut only what is RELEASED. Read the whole card at the saw: it says how the board must lie. "+card.FirstCut, letter{size: 3.4})
	b.y += 2
	const row = 5.0
	columns := []float64{0, 15, 68, 96, 133, 170} // from the left edge
	scale := b.inner() / 188
	x := func(i int) float64 { return b.left() + columns[i]*scale }
	head := func() {
		for i, s := range []string{"board", "what it is", "state", "LEFT end", "RIGHT end", ""} {
			b.text(x(i), b.y+3.4, 0, s, letter{size: 3, bold: true})
		}
		b.line(b.left(), b.y+4.6, b.right(), b.y+4.6, drawing.Thin)
		b.y += 5
	}
	head()
	for i := range a.Cards {
		p, c := &a.Pieces[i], &a.Cards[i]
		state := card.StateOf(p, c)
		var why []string
		if state != card.Released {
			why = wrap(card.SetFractions(card.Why(p, c)), b.right()-x(3)-22*scale, letter{size: 2.9})
			why = why[:min(len(why), 3)]
		}
		tall := math.Max(row, float64(len(why))*2.9*leading+1.4)
		if b.room(tall) {
			head()
		}
		base := b.y + 3.8
		b.text(x(0), base, 0, p.ID, letter{size: 4.2, bold: true})
		b.text(x(1), base, x(2)-x(1)-2, card.Name(p), letter{size: 3.4})
		b.text(x(2), base, x(3)-x(2)-2, state.Banner(), letter{size: 3.1, bold: true})
		if state == card.Released {
			b.text(x(3), base, x(4)-x(3)-2, endSetting(c, saw.Left), letter{size: 3.4})
			b.text(x(4), base, x(5)-x(4)-2, endSetting(c, saw.Right), letter{size: 3.4})
		} else {
			b.lines(x(3), b.y+0.6, why, letter{size: 2.9})
		}
		b.text(b.right(), base, 0, fmt.Sprintf("page %d", front+i/2+1), letter{size: 3, align: drawing.AlignEnd, ink: drawing.LetterSoft})
		b.y += tall
		b.faint(b.left(), b.y, b.right(), b.y)
	}
}

func boardCount(a *solver.Answer) string {
	n := map[card.State]int{}
	for i := range a.Cards {
		n[card.StateOf(&a.Pieces[i], &a.Cards[i])]++
	}
	words := []string{fmt.Sprintf("%d boards: %d released", len(a.Cards), n[card.Released])}
	for _, s := range []card.State{card.Held, card.Refused, card.ByTemplate} {
		if n[s] > 0 {
			words = append(words, fmt.Sprintf("%d %s", n[s], strings.ToLower(s.Banner())))
		}
	}
	return strings.Join(words, ", ") + "."
}

// endSetting is the saw's setting for one end, as on the card.
func endSetting(c *saw.Card, end saw.Hand) string {
	for i := range c.Ops {
		if op := &c.Ops[i]; op.Verb == saw.Crosscut && op.End == end {
			if s := card.Setting(op); !strings.HasSuffix(s, "SQUARE") {
				return s
			}
			return "square"
		}
	}
	return ""
}
