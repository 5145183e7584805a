package panel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver/stock"
	"risewright/view/canvas"
	"risewright/view/drawing"
)

// buyList is the buying list with the map of the picked row.
type buyList struct {
	desk   *Desk
	plan   *stock.Plan
	all    []stock.Row // of the plan, the electric ones last
	rows   []*buyRow
	at     int
	lines  *fyne.Container
	head2  *para // over what light bars and sensors take
	danger *para // and the caution with it
	total  *para
	why    *para
	price  *button // goes to the own price of the picked row
	key    *para   // what the words for the source mean
	map1   *canvas.Canvas
	cuts   *folded // the map
	asked  bool    // the user has opened or closed the map
	scene  *mapScene
	rips   *folded
	box    *fyne.Container
	scroll *container.Scroll
	// Price takes the user to the own price of a good.
	Price func(good string)
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
	l.map1.Gained = func() { toSight(l.map1) }
	l.cuts = newFolded("Blank map")
	l.cuts.turned = func() { l.asked = true }
	l.cuts.body.Add(l.map1)
	l.price = newButton("Your price", func() {
		if l.at < len(l.all) && l.Price != nil {
			l.Price(l.all[l.at].Good)
		}
	})
	l.key = newPara("").soft()
	l.why.soft()
	l.head2, l.danger = newPara(stock.Electric).bold(), newPara("CAUTION: "+stock.ElectricCaution)
	l.danger.role = base.ColorNameWarning
	l.total.bold()
	head := func(s string) *label { return newLabel(s).small().soft() }
	line := container.New(&gap{x: 3, y: 1}, buyColumns().row(head("for"), head("what"), head("n").right(), head("each").right(), head("price").right(), head("source")))
	why := container.NewBorder(nil, nil, nil, container.NewVBox(l.price), l.why)
	l.box = container.New(&stack{gap: 1}, line, l.lines, l.total, why, l.key, l.cuts.box, l.rips.box)
	l.cuts.box.Hide()
	return l
}

func (l *buyList) fill(p *stock.Plan) {
	l.plan, l.all = p, p.All()
	for len(l.rows) < len(l.all) {
		r := &buyRow{use: newLabel("").small().soft(), name: newLabel("").bold(), count: newLabel("").right(), each: newLabel("").right(), price: newLabel("").right(), standing: newLabel("").small().soft()}
		r.pickRow = newPickRow(l.desk, len(l.rows), buyColumns().row(r.use, r.name, r.count, r.each, r.price, r.standing), l.pick)
		l.rows = append(l.rows, r)
	}
	var lines []fyne.CanvasObject
	var used []model.Standing
	for i := range l.all {
		r, row := l.rows[i], &l.all[i]
		if i == len(p.Rows) {
			lines = append(lines, l.head2, l.danger)
		}
		r.use.set(string(row.Use))
		role := base.ColorNameForeground
		if row.Missing && i < len(p.Rows) { // what is never listed is no trouble
			role = base.ColorNameError
		}
		r.name.put(row.Name, role)
		r.count.set(fmt.Sprint(row.Count))
		r.each.set("")
		r.price.set("not listed")
		r.standing.set("")
		switch {
		case row.Missing:
		case row.InHand:
			r.price.set("0.00")
			r.standing.set("in hand")
		case row.Price == 0:
			r.price.set("no price")
		default:
			r.each.set(fmt.Sprintf("%.2f", row.Price))
			r.price.set(fmt.Sprintf("%.2f", row.Cost))
		}
		if !row.Missing && !row.InHand {
			r.standing.set(standingShort(row.Standing))
			used = append(used, row.Standing)
		}
		lines = append(lines, r.pickRow)
	}
	holdAll(l.lines, lines)
	setPara(l.key, standingKey(used))
	l.rips.box.Hidden = len(p.Rips) == 0
	f := l.desk.Job().Format()
	cols := &columns{least: []float32{60, 90, 90, 120}, share: []float32{1, 1, 1, 2}, gap: 5}
	rips := []fyne.CanvasObject{cols.row(newLabel("piece").small().soft(), newLabel("from a board").small().soft(), newLabel("at its widest").small().soft(), newLabel("").small())}
	for _, r := range p.Rips {
		state := newLabel("most likely; not released").soft()
		if r.Final {
			state = newLabel("final: see its card").soft()
		}
		rips = append(rips, cols.row(newLabel(r.Piece).bold(), newLabel(f.Length(model.Length(r.From))), newLabel(f.Length(model.Length(r.To))), state))
	}
	holdAll(l.rips.body, rips)
	l.show(min(l.at, len(l.all)-1))
}

func (l *buyList) pick(i int) {
	if l.plan == nil || i < 0 || i >= len(l.all) {
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
		l.price.Hide()
		l.cuts.box.Hide()
		return
	}
	row := &l.all[i]
	text := row.Name
	if row.Why != "" {
		text += ": " + row.Why
	}
	if row.Need > 0 && row.Unit != "" {
		need, extra, unit := row.Amounts(l.desk.Job().Units)
		text += fmt.Sprintf("; %.4g %s needed, %.3g more for waste, spares and the unknown", need, unit, extra)
	}
	setPara(l.why, model.Capital(text)+".")
	l.price.Hidden = row.Good == ""
	l.scene.find(l.plan, row)
	l.showMap()
	l.box.Refresh()
}

// shortMap is the height, in fyne units, up to which a map is shown unasked;
// what is taller would push everything below it out of sight.
const shortMap = 260

// showMap shows the map of the picked row, folded when it is long.
func (l *buyList) showMap() {
	n := l.scene.count()
	l.cuts.box.Hidden = n == 0
	if n == 0 {
		return
	}
	tall := float32(l.scene.tall(mapGuess) * drawing.PaperScale(1))
	l.map1.Least = fyne.NewSize(160, tall)
	l.cuts.say(fmt.Sprintf("How it is cut up: %s", model.Plural(n, l.scene.word())))
	if !l.asked {
		l.cuts.open(tall <= shortMap)
	}
	l.map1.Refresh()
	l.map1.Fit()
}
