package panel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver"
)

// buyTab shows what to buy and how to cut it up, the wood and how it moves, and
// what time and money the work takes.
type buyTab struct {
	desk   *Desk
	status *para
	early  *para
	list   *buyList
	prices *priceForm
	hand   *handForm
	notes  *fyne.Container
	wood   *woodForm
	time   *timeForm
	veil   *veil
	veil2  *veil
	shown  *solver.Work
}

// newBuyTab returns the tab and what brings it up to date.
func newBuyTab(d *Desk) (fyne.CanvasObject, func(Change)) {
	t := &buyTab{desk: d, status: newPara(""), early: newPara(""), notes: container.New(&stack{}), veil: newVeil(), veil2: newVeil()}
	t.status.soft()
	t.early.bold()
	t.early.role = base.ColorNameWarning
	scroll := container.NewVScroll(nil)
	t.list = newBuyList(d, scroll)
	t.prices, t.hand = newPriceForm(d), newHandForm(d)
	show := func(o fyne.Focusable) {
		d.tabs.show(tabBuy)
		d.focus(o)
		reveal(scroll, o.(fyne.CanvasObject))
	}
	t.list.Price = func(good string) {
		if o := t.prices.goTo("shop.prices." + good); o != nil {
			show(o)
		}
	}
	t.wood, t.time = newWoodForm(d), newTimeForm(d)
	caution := newPara("Prices and hours are those of the tables until you type your own; those from memory are a guess: ask your yard. Adhesives and finishes: the maker's sheet, fresh air, no oily rags in a heap.")
	caution.soft()
	bought := container.NewStack(container.New(&stack{gap: 2}, t.early, t.list.box, t.notes), t.veil.rect)
	follows := container.NewStack(container.New(&stack{gap: 2}, t.time.result), t.veil2.rect)
	body := container.New(&stack{gap: 2}, t.status,
		heading("What to buy"), bought, t.hand.fold.box, t.prices.fold.box,
		heading("Wood, and how it moves"), t.wood.box,
		heading("Hours, money and days"), t.time.box, follows, caution)
	scroll.Content = container.New(&gap{x: 4, y: 2}, body)
	d.onGo(func(p model.Place) bool {
		for _, to := range []func(string) fyne.Focusable{t.wood.goTo, t.time.goTo, t.prices.goTo, t.hand.goTo} {
			if o := to(p.Field); o != nil {
				show(o)
				return true
			}
		}
		return false
	})
	return wheeled(scroll), t.tell
}

func (t *buyTab) tell(c Change) {
	if c&Answered != 0 {
		t.wood.tell()
		t.time.tell()
		t.prices.tell()
		t.hand.tell()
		t.desk.plan()
	}
	if c&(Answered|Planned) == 0 {
		return
	}
	w, fresh := t.desk.Work()
	for _, v := range []*veil{t.veil, t.veil2} {
		v.cover(w != nil && !fresh)
	}
	text := ""
	switch fault := t.desk.planFault(); {
	case fault != "":
		text = "■ " + model.Capital(fault) + "."
	case w == nil:
		text = "Working out what to buy…"
	case !fresh:
		text = "Working out what to buy… Below is that of the job before the last change."
	case len(w.Buy.All()) == 0:
		text = "○ Nothing to buy yet: mend what the list below says first."
	}
	setPara(t.status, text)
	t.status.Hidden = text == ""
	if w == nil || w == t.shown {
		return
	}
	t.shown = w
	p := &w.Buy
	t.early.Hidden = !p.Early
	if p.Early {
		setPara(t.early, "◐ Early: not every board is known well enough to cut. Lengths carry an allowance, so that each is long enough with 99 %; buy nothing cut to size yet.")
	}
	t.list.fill(p)
	if len(p.Rows) > 0 {
		setPara(t.list.total, fmt.Sprintf("Total %s; no way of buying and cutting costs less than %s.", money(p.Currency, p.Total), money(p.Currency, p.Lower)))
	} else {
		setPara(t.list.total, "")
	}
	t.notes.RemoveAll()
	for _, n := range p.Notes {
		t.notes.Add(newPara(model.Capital(n) + ".").soft())
	}
	t.wood.show(w)
	t.time.show(w)
}

// money writes a price with its currency, if it has a label.
func money(currency string, v float64) string {
	s := fmt.Sprintf("%.2f", v)
	if currency == "" {
		return s
	}
	return s + " " + currency
}
