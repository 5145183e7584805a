package panel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/stock"
	"risewright/view/blanks"
	"risewright/view/canvas"
	"risewright/view/drawing"
)

// buyTab shows what to buy and how to cut it up, the wood and how it moves, and
// what time and money the work takes.
type buyTab struct {
	desk   *Desk
	status *para
	early  *para
	list   *buyList
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
	t.wood, t.time = newWoodForm(d), newTimeForm(d)
	caution := newPara("Prices and hours are those of the tables; where the source is memory, they are a guess: ask your yard. Adhesives and finishes: the maker's sheet, fresh air, no oily rags in a heap.")
	caution.soft()
	bought := container.NewStack(container.New(&stack{gap: 2}, t.early, t.list.box, t.notes), t.veil.rect)
	follows := container.NewStack(container.New(&stack{gap: 2}, t.time.result), t.veil2.rect)
	body := container.New(&stack{gap: 2}, t.status,
		heading("What to buy"), bought,
		heading("Wood, and how it moves"), t.wood.box,
		heading("Hours, money and days"), t.time.box, follows, caution)
	scroll.Content = container.New(&gap{x: 4, y: 2}, body)
	d.onGo(func(p model.Place) bool {
		o := t.wood.goTo(p.Field)
		if o == nil {
			o = t.time.goTo(p.Field)
		}
		if o == nil {
			return false
		}
		d.tabs.show(tabBuy)
		d.focus(o)
		reveal(scroll, o.(fyne.CanvasObject))
		return true
	})
	return wheeled(scroll), t.tell
}

func (t *buyTab) tell(c Change) {
	if c&Answered != 0 {
		t.wood.tell()
		t.time.tell()
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
	case len(w.Buy.Rows) == 0:
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

// buyList is the buying list with the map of the picked row.
type buyList struct {
	desk   *Desk
	plan   *stock.Plan
	rows   []*buyRow
	at     int
	lines  *fyne.Container
	total  *para
	why    *para
	map1   *canvas.Canvas
	scene  *mapScene
	rips   *folded
	box    *fyne.Container
	scroll *container.Scroll
}

// buyRow is one line of it.
type buyRow struct {
	*pickRow
	use, name, count, each, price, standing *label
}

func buyColumns() *columns {
	return &columns{least: []float32{72, 120, 24, 54, 58, 88}, share: []float32{1, 4, 0, 0, 0, 0}, gap: 5}
}

func newBuyList(d *Desk, s *container.Scroll) *buyList {
	l := &buyList{desk: d, lines: container.New(&stack{}), total: newPara(""), why: newPara(""), scroll: s, rips: newFolded("Rip list")}
	l.scene = &mapScene{desk: d}
	l.map1 = canvas.New("Blank map", l.scene)
	l.why.soft()
	l.total.bold()
	head := func(s string) *label { return newLabel(s).small().soft() }
	line := container.New(&gap{x: 3, y: 1}, buyColumns().row(head("for"), head("what"), head("n").right(), head("each").right(), head("price").right(), head("source")))
	l.box = container.New(&stack{gap: 1}, line, l.lines, l.total, l.why, l.map1, l.rips.box)
	l.map1.Hide()
	return l
}

func (l *buyList) fill(p *stock.Plan) {
	l.plan = p
	for len(l.rows) < len(p.Rows) {
		r := &buyRow{use: newLabel("").small().soft(), name: newLabel("").bold(), count: newLabel("").right(), each: newLabel("").right(), price: newLabel("").right(), standing: newLabel("").small().soft()}
		r.pickRow = newPickRow(l.desk, len(l.rows), buyColumns().row(r.use, r.name, r.count, r.each, r.price, r.standing), l.pick)
		l.rows = append(l.rows, r)
	}
	l.lines.RemoveAll()
	for i := range p.Rows {
		r, row := l.rows[i], &p.Rows[i]
		r.use.set(string(row.Use))
		role := base.ColorNameForeground
		if row.Missing {
			role = base.ColorNameError
		}
		r.name.put(row.Name, role)
		r.count.set(fmt.Sprint(row.Count))
		r.each.set("")
		r.price.set("not listed")
		r.standing.set("")
		switch {
		case row.Missing:
		case row.Price == 0:
			r.price.set("no price")
		default:
			r.each.set(fmt.Sprintf("%.2f", row.Price))
			r.price.set(fmt.Sprintf("%.2f", row.Cost))
		}
		if !row.Missing {
			r.standing.set(priceStanding(row.Standing))
		}
		l.lines.Add(r.pickRow)
	}
	l.rips.body.RemoveAll()
	l.rips.box.Hidden = len(p.Rips) == 0
	f := l.desk.Job().Format()
	cols := &columns{least: []float32{60, 90, 90, 120}, share: []float32{1, 1, 1, 2}, gap: 5}
	l.rips.body.Add(cols.row(newLabel("piece").small().soft(), newLabel("from a board").small().soft(), newLabel("at its widest").small().soft(), newLabel("").small()))
	for _, r := range p.Rips {
		state := newLabel("most likely; not released").soft()
		if r.Final {
			state = newLabel("final: see its card").soft()
		}
		l.rips.body.Add(cols.row(newLabel(r.Piece).bold(), newLabel(f.Length(model.Length(r.From))), newLabel(f.Length(model.Length(r.To))), state))
	}
	l.show(min(l.at, len(p.Rows)-1))
}

// priceStanding says where a price comes from.
func priceStanding(s model.Standing) string {
	if s == model.Yours {
		return "yours"
	}
	return standingShort(s)
}

func (l *buyList) pick(i int) {
	if l.plan == nil || i < 0 || i >= len(l.plan.Rows) {
		return
	}
	l.show(i)
	l.desk.focus(l.rows[i])
	reveal(l.scroll, l.rows[i])
}

// show shows the arithmetic and the map of row i.
func (l *buyList) show(i int) {
	l.at = max(0, i)
	for k, r := range l.rows {
		r.mark(k == i)
	}
	l.scene.cut, l.scene.sheet = nil, nil
	if i < 0 {
		setPara(l.why, "")
		l.map1.Hide()
		return
	}
	row := &l.plan.Rows[i]
	text := row.Name
	if row.Why != "" {
		text += ": " + row.Why
	}
	if row.Need > 0 && row.Unit != "" {
		text += fmt.Sprintf("; %.4g %s needed, %.3g more for waste, spares and the unknown", row.Need, row.Unit, row.Extra)
	}
	setPara(l.why, model.Capital(text)+".")
	l.scene.find(l.plan, row)
	if l.scene.cut == nil && l.scene.sheet == nil {
		l.map1.Hide()
	} else {
		l.map1.Least = fyne.NewSize(160, float32(l.scene.tall(mapGuess)*drawing.PaperScale(1)))
		l.map1.Show()
		l.map1.Refresh()
		l.map1.Fit()
	}
	l.box.Refresh()
}

// mapGuess is the width of the tab in paper mm, by which room is kept for a map
// of sheets; in another width it is drawn smaller.
const mapGuess = 140.0

// mapScene is the blank map of one row. Its millimetres are paper.
type mapScene struct {
	desk  *Desk
	cut   *stock.CutPlan
	sheet *stock.SheetPlan
	width float64
}

var _ canvas.Scene = (*mapScene)(nil)

// find finds the plan by which a row is cut up.
func (s *mapScene) find(p *stock.Plan, r *stock.Row) {
	for i := range p.Cuts {
		c := &p.Cuts[i]
		for _, lay := range c.Result.Layouts {
			if c.Use == r.Use && c.Cutting.Boards[lay.Board].Name == r.Name {
				s.cut = c
				return
			}
		}
	}
	for i := range p.Sheets {
		c := &p.Sheets[i]
		for _, lay := range c.Result.Layouts {
			if c.Use == r.Use && c.Cutting.Sheets[lay.Sheet].Name == r.Name {
				s.sheet = c
				return
			}
		}
	}
}

func (s *mapScene) tall(width float64) float64 {
	switch {
	case s.cut != nil:
		return blanks.BoardsTall(s.cut)
	case s.sheet != nil:
		return blanks.SheetsTall(s.sheet, width)
	}
	return 0
}

// Fit implements canvas.Scene.
func (s *mapScene) Fit(width, height, paper float64) drawing.Viewport {
	s.width = width / paper
	k := 1.0
	if tall := s.tall(s.width); tall*paper > height && tall > 0 {
		k = height / (tall * paper)
	}
	return drawing.Viewport{Scale: paper * k, Origin: drawing.Point{Y: s.tall(s.width) * paper * k}, Paper: paper}
}

// Draw implements canvas.Scene.
func (s *mapScene) Draw(l *drawing.List, _ drawing.Viewport) {
	job := s.desk.Job()
	o := blanks.Options{Format: job.Format(), Width: s.width}
	switch {
	case s.cut != nil:
		blanks.Boards(l, s.cut, o)
	case s.sheet != nil:
		blanks.Sheets(l, s.sheet, o)
	}
}
