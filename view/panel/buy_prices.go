package panel

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
)

// priceForm takes the user's own prices: one for each good that the job's yards
// sell, with the table's beside it. Its fields are made when it is first
// opened, because there are dozens.
type priceForm struct {
	desk  *Desk
	form  form
	fold  *folded
	units model.Units // for which the fields are; "" before the first
}

// good is a line of the table of goods.
type good struct {
	id, name string
	use      model.GoodsUse
	price    float64
	standing model.Standing
}

func newPriceForm(d *Desk) *priceForm {
	f := &priceForm{desk: d, form: form{desk: d, tab: tabBuy}, fold: newFolded("Your prices")}
	f.fold.opening = f.fill
	return f
}

// goods lists what the job's yards sell.
func (f *priceForm) goods(u model.Units) []good {
	var out []good
	table := f.desk.session.Tables().Goods
	for _, g := range table.Boards {
		if g.Units == "" || g.Units == u {
			out = append(out, good{g.ID, g.Name, g.Use, g.Price, g.Standing})
		}
	}
	for _, g := range table.Packs {
		if g.Units == "" || g.Units == u {
			out = append(out, good{g.ID, g.Name, g.Use, g.Price, g.Standing})
		}
	}
	first := map[model.GoodsUse]int{} // of a use, so that all of one stand together
	for i, g := range out {
		if _, ok := first[g.use]; !ok {
			first[g.use] = i
		}
	}
	slices.SortStableFunc(out, func(a, b good) int { return first[a.use] - first[b.use] })
	return out
}

// fill makes the fields, if they are not those of the job's units.
func (f *priceForm) fill() {
	u := f.desk.Job().Units
	if f.units == u && len(f.form.fields) > 0 {
		return
	}
	f.units = u
	f.form.fields = nil
	f.fold.body.RemoveAll()
	currency := newField(f.desk, "shop.currency", "Currency",
		func(j *model.Job) string { return j.Shop.Currency },
		func(j *model.Job, text string) (model.Edit, error) {
			s := j.Shop
			s.Currency = text
			return model.SetShop{Shop: s}, nil
		})
	currency.words().entry.SetPlaceHolder("a label, nothing is converted")
	f.fold.body.Add(f.form.add(currency).box)
	f.fold.body.Add(newPara("Type what your yard asks for one; clear the field to take the table's price again.").soft())
	cols := &columns{least: []float32{78, 130, 60, 88, 70}, share: []float32{1, 4, 0, 0, 1}, gap: 5}
	head := func(s string) *label { return newLabel(s).small().soft() }
	f.fold.body.Add(cols.row(head("for"), head("what"), head("table").right(), head("source"), head("yours")))
	var used []model.Standing
	for _, g := range f.goods(u) {
		x := f.form.add(newField(f.desk, "shop.prices."+g.id, "",
			func(j *model.Job) string {
				if p, ok := j.Shop.Price(g.id); ok {
					return priceText(p)
				}
				return ""
			},
			func(j *model.Job, text string) (model.Edit, error) {
				v, err := parsePrice(text)
				return model.SetShop{Shop: j.Shop.WithPrice(g.id, v)}, err
			}))
		table := "none"
		if g.price > 0 {
			table = priceText(g.price)
		}
		x.entry.SetPlaceHolder("–")
		line := cols.row(newLabel(string(g.use)).small().soft(), newLabel(g.name), newLabel(table).right(), newLabel(standingShort(g.standing)).small().soft(), x.entry)
		f.fold.body.Add(container.New(&stack{}, line, x.fault.box))
		used = append(used, g.standing)
	}
	f.fold.body.Add(newPara(standingKey(used)).soft())
	f.form.tell()
}

func (f *priceForm) tell() {
	s := f.desk.Job().Shop
	title := "Your prices: none yet, all are the table's"
	if n := len(s.Prices); n > 0 {
		title = "Your prices: " + strconv.Itoa(n)
	}
	f.fold.say(title)
	if f.fold.body.Visible() {
		f.fill()
		f.form.tell()
	}
}

// goTo opens the form and returns the field called id, or nil.
func (f *priceForm) goTo(id string) fyne.Focusable {
	if !strings.HasPrefix(id, "shop.prices.") && id != "shop.currency" {
		return nil
	}
	f.fold.open(true)
	for _, x := range f.form.fields {
		if x.id == id {
			return x.entry
		}
	}
	return nil
}

// priceText writes a price as it stands in a field.
func priceText(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }

// parsePrice reads a price, with a point or a comma; nothing is 0.
func parsePrice(text string) (float64, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return 0, nil
	}
	v, doubt := readFigure(text)
	switch {
	case doubt != nil:
		return 0, doubt
	case math.IsNaN(v) || math.IsInf(v, 0):
		return 0, fmt.Errorf("%q is no price; type a number such as 47.50, without the currency", text)
	case !(v > 0):
		return 0, errors.New("a price is more than 0; what you have already goes under boards in hand")
	}
	return v, nil
}
