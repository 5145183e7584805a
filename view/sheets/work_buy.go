package sheets

import (
	"fmt"
	"math"

	"risewright/model"
	"risewright/solver/stock"
	"risewright/view/card"
	"risewright/view/drawing"
)

// early is said above everything that is bought before the survey is finished.
func (k *worker) early() {
	if k.w.Buy.Early {
		k.framed("EARLY", "The survey is not finished. Every length carries what its uncertainty calls for, so that it is long enough with 99 %. Buy stock lengths if you must; have nothing cut to size yet.")
		k.y += 1
	}
}

// buying is what to buy, with the standing of every price and what no plan can
// go below.
func (k *worker) buying() {
	if !k.solved() {
		return
	}
	k.unmeasured(k.job)
	k.woodMissing()
	p := &k.w.Buy
	if len(p.Rows) == 0 {
		k.missing("there is nothing to buy yet: no piece is known", "finish the survey")
		k.electric()
		k.notes("Notes", p.Notes)
		return
	}
	k.early()
	label := "Prices are in the currency of the table of goods, which names none."
	if p.Currency != "" {
		label = "Prices in " + p.Currency + "."
	}
	k.paragraph(label+" Those from memory are there to compare with, not to pay by: type the yard's own under Buy.", letter{size: 3.4})
	k.y += 1
	var uses, names, prices, from []string
	for i := range p.Rows {
		r := &p.Rows[i]
		uses, names = append(uses, string(r.Use)), append(names, card.SetFractions(r.Name))
		prices = append(prices, cents(r.Price), cents(r.Cost))
		switch {
		case r.Missing:
			from = append(from, "not listed")
		case r.InHand:
			from = append(from, "in hand")
		default:
			from = append(from, standing(r.Standing))
		}
	}
	// Where all prices stand alike, that is said once.
	alike := true
	for i := range p.Rows {
		alike = alike && (p.Rows[i].Missing || !p.Rows[i].InHand && p.Rows[i].Standing == model.Memory)
	}
	priced := func(title string, width float64) column {
		return column{title: title, width: width, align: drawing.AlignEnd, holds: prices}
	}
	cols := []column{figures("count", 12), {title: "what", width: 56, bold: true, holds: names}, {title: "for", width: 20, holds: uses}, priced("each", 14), priced("price", 15)}
	if alike {
		k.paragraph("Every price below is from memory.", letter{size: 3.4, bold: true})
		k.y += 1
	} else {
		cols = append(cols, column{title: "price is", width: 29, holds: from})
	}
	g := k.grid(3.3, append(cols, column{title: "needed, and to spare", width: 36}, column{title: "why", width: 78})...)
	missing := 0
	for i := range p.Rows {
		r := &p.Rows[i]
		name, each, cost := card.SetFractions(r.Name), cents(r.Price), cents(r.Cost)
		switch {
		case r.Missing:
			missing++
			name, each, cost = "ASK: "+name, "–", "–"
		case r.InHand:
			each = "–"
		}
		cells := []string{fmt.Sprint(r.Count), name, string(r.Use), each, cost}
		if !alike {
			cells = append(cells, from[i])
		}
		g.row(append(cells, k.need(r), card.SetFractions(r.Why))...)
	}
	k.y += 1.5
	k.room(16)
	sum := func(title, s string, bold bool) {
		k.text(k.left(), k.y+4, k.inner()-40, title, letter{size: 4, bold: bold})
		k.text(k.right(), k.y+4, 38, s, letter{size: 4.4, bold: bold, align: drawing.AlignEnd})
		k.y += 6
	}
	sum("In all, as listed", cents(p.Total)+currency(p.Currency), true)
	low := "No plan costs less (proved)"
	if math.Abs(p.Total-p.Lower) < 0.005 {
		low = "No plan costs less, so this one is the cheapest (proved)"
	}
	sum(low, cents(p.Lower)+currency(p.Currency), false)
	if missing > 0 {
		s := "items have"
		if missing == 1 {
			s = "item has"
		}
		k.framed("NOT IN IT", fmt.Sprintf("%d %s no listed price and is not in the sum. Its line says what to ask the yard for.", missing, s))
	}
	k.y += gap
	k.electric()
	k.notes("Notes", p.Notes)
}

// electric is what the light bars and sensors take beside wood. None of it has a
// listed price.
func (k *worker) electric() {
	p := &k.w.Buy
	if len(p.Electric) == 0 {
		return
	}
	k.heading(stock.Electric, 40)
	k.cautions(stock.ElectricCaution)
	if p.Early {
		k.paragraph("The survey is not finished: these lengths are the likeliest ones.", letter{size: 3.4})
		k.y += 1
	}
	g := k.grid(3.3, figures("count", 12), column{title: "what", width: 62, bold: true}, column{title: "needed, and to spare", width: 36}, column{title: "why", width: 100})
	for i := range p.Electric {
		r := &p.Electric[i]
		g.cells(cell{s: fmt.Sprint(r.Count)}, cell{s: "ASK: " + card.SetFractions(r.Name)}, cell{s: k.need(r)}, cell{s: card.SetFractions(r.Why)})
	}
	k.y += gap
}

func currency(s string) string {
	if s == "" {
		return ""
	}
	return " " + s
}

// need writes what the flight takes and what was added.
func (k *worker) need(r *stock.Row) string {
	if r.Need == 0 {
		return ""
	}
	need, extra, unit := r.Amounts(k.job.Units)
	if r.Unit == "pieces" { // nobody counts half a nail
		need, extra = math.Ceil(need), math.Ceil(extra)
	}
	s := amount(need)
	if extra > 0 {
		s += " + " + amount(extra)
	}
	return s + " " + unit
}

// amount writes a quantity to three figures or so.
func amount(v float64) string {
	switch {
	case v == math.Trunc(v) || v >= 100:
		return fmt.Sprintf("%.0f", v)
	case v >= 10:
		return fmt.Sprintf("%.1f", v)
	}
	return fmt.Sprintf("%.2f", v)
}

// rips is the list for the table saw: every blank and the width it is ripped to.
func (k *worker) rips() {
	if !k.solved() {
		return
	}
	if k.unmeasured(k.job) {
		return
	}
	rs := k.w.Buy.Rips
	if len(rs) == 0 {
		k.missing("there is nothing to rip: no blank is bought", "see the buying list for what has to be asked for")
		return
	}
	k.early()
	final := 0
	for _, r := range rs {
		if r.Final {
			final++
		}
	}
	k.paragraph(fmt.Sprintf("%d blanks, %d of them released to be ripped. The width is the one the finished piece needs at its widest: the cut card says how the rip runs, and rules.", len(rs), final), letter{size: 3.7, bold: true})
	k.paragraph("Rip in this order, straight edge first; guard and riving knife on, push stick in hand. What is marked ONLY LIKELY must not be ripped to that width yet.", letter{size: 3.4})
	k.y += 1.5
	g := k.grid(3.9, column{title: "done", width: 12}, column{title: "piece", width: 22, bold: true}, figures("from, "+k.unit(), 34), figures("rip to, "+k.unit(), 34), figures("comes off, "+k.unit(), 34),
		column{title: "", width: 52})
	for _, r := range rs {
		k.roomFor(g, 6)
		k.rect(k.left()+1, k.y+0.6, 3.4, 3.4, drawing.Fill{}, drawing.Thin)
		state := "released"
		if !r.Final {
			state = "ONLY LIKELY: not yet"
		}
		g.cells(cell{}, cell{s: r.Piece}, cell{s: k.number(r.From)}, cell{s: k.number(r.To), bold: r.Final}, cell{s: k.number(r.From - r.To)}, cell{s: state, bold: !r.Final})
	}
}

// roomFor begins a page, with the head of g, unless tall mm are free.
func (k *worker) roomFor(g *grid, tall float64) {
	if k.room(tall) {
		g.head()
	}
}
