package panel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/saw"
	"risewright/view/canvas"
	"risewright/view/card"
	"risewright/view/drawing"
)

// cardScene is the card of the chosen piece as a scene. Its millimetres are
// paper; the card takes the shape of the room it has.
type cardScene struct {
	desk          *Desk
	width, height float64 // paper mm
	seen          shownCard
}

// shownCard is a card to be shown, and what it was chosen from: as long as that
// is the same, so is the card.
type shownCard struct {
	from  cardFrom
	i     int // the piece's place in the answer; -1 for none
	card  saw.Card
	board card.Board
}

type cardFrom struct {
	answer *solver.Answer
	piece  string
	work   *solver.Work
	fresh  bool
	fault  string
}

var _ canvas.Scene = (*cardScene)(nil)

// leastCard is the narrowest a card is laid out, in paper mm; in less room it
// is drawn smaller.
const leastCard = 110.0

// Fit implements canvas.Scene.
func (s *cardScene) Fit(width, height, paper float64) drawing.Viewport {
	s.width, s.height = width/paper, height/paper
	k := 1.0
	if s.width < leastCard {
		k = s.width / leastCard
		s.width, s.height = leastCard, s.height/k
	}
	return drawing.Viewport{Scale: paper * k, Origin: drawing.Point{Y: height}, Paper: paper}
}

// Draw implements canvas.Scene.
func (s *cardScene) Draw(l *drawing.List, v drawing.Viewport) {
	k := s.see()
	if k.i < 0 || s.width <= 0 {
		l.Text(drawing.Text{At: drawing.Point{X: s.width / 2, Y: s.height / 2}, Align: drawing.AlignMiddle, String: "Choose a step to see its boards."})
		return
	}
	job := s.desk.Job()
	card.Draw(l, &k.from.answer.Pieces[k.i], &k.card, card.Options{
		Format: job.Format(), Width: s.width, Height: s.height, Board: k.board,
		Stamp: fmt.Sprintf("%s, survey revision %d", job.Name, job.Revision),
	})
}

// see returns the card of the chosen piece: on the blank that the blank map
// cuts, as the papers have it. Until that is known it stays with the blank of
// the map before, so that nothing jumps to and fro while somebody types, or
// takes the smallest that would do; the card says which.
func (s *cardScene) see() *shownCard {
	d := s.desk
	w, fresh := d.Work()
	from := cardFrom{d.session.Answer(), d.piece, w, fresh, d.planFault()}
	if from == s.seen.from {
		return &s.seen
	}
	a := from.answer
	k := shownCard{from: from, i: a.Piece(d.piece)}
	if k.i >= len(a.Cards) {
		k.i = -1
	}
	if k.i >= 0 {
		k.card, k.board = a.Cards[k.i], card.Smallest
		switch {
		case w == nil || from.fault != "":
		case fresh:
			k.card, k.board = w.OnMap(a).Cards[k.i], card.Mapped
		default:
			if c, ok := w.CardFor(a, k.i); ok {
				k.card, k.board = c, card.Before
			}
		}
	}
	s.seen = k
	return &s.seen
}

// newCardTab returns the card of the chosen piece and the keys to the others.
func newCardTab(d *Desk) fyne.CanvasObject {
	scene := &cardScene{desk: d}
	c := canvas.New("Card", scene)
	c.Gained = func() { toSight(c) }
	title := newLabel("").bold()
	state := newWhole("").bold()
	step := func(n int) func() {
		return func() {
			a := d.session.Answer()
			if i := a.Piece(d.piece) + n; i >= 0 && i < len(a.Pieces) {
				d.ChoosePiece(a.Pieces[i].ID)
			}
		}
	}
	back, next := newButton("◀", step(-1)), newButton("▶", step(1))
	first := newPara(card.FirstCut).soft()
	tell := func(ch Change) {
		if ch&(Answered|Chosen|Planned) == 0 {
			return
		}
		d.plan()
		shown := scene.see()
		a, i := shown.from.answer, shown.i
		back.say("◀", i > 0)
		next.say("▶", i+1 < len(a.Pieces))
		if i < 0 {
			title.set("No board")
			state.set("")
			first.Hide()
		} else {
			p, k := &a.Pieces[i], &shown.card
			first.Show()
			title.set(fmt.Sprintf("%s  %s of step %d", p.ID, p.Kind, p.Step))
			switch {
			case p.Template != "":
				state.put("◇ by template", base.ColorNameWarning)
			case !k.Proof.OK:
				state.put("■ refused", base.ColorNameError)
			case !k.Released:
				state.put("◐ proved, not released", base.ColorNameWarning)
			default:
				state.put("● released", base.ColorNameSuccess)
			}
		}
		c.Redraw()
	}
	d.Watch(tell)
	d.onGo(func(p model.Place) bool {
		if p.Piece == "" {
			return false
		}
		d.tabs.show(tabCard)
		d.focus(c)
		return true
	})
	tell(Answered)
	head := container.NewBorder(nil, nil, container.NewHBox(back, next), padded(state), padded(title))
	return container.NewBorder(head, first, nil, nil, c)
}
