package model_test

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"risewright/model"
)

// Wishes and choices are edits like the others: kept in the file, undone whole,
// and refused where they could not be opened again.
func TestWishesAndChoicesAreEdits(t *testing.T) {
	j := plainJob(4)
	before := encoded(t, j)
	h := model.NewHistory(j)
	wishes := model.Wishes{Right: model.SideWish{Wiring: true}, LightBars: true, Order: []model.OrderHint{{First: "skirts", Then: "risers"}}}
	shop := model.Shop{Species: "oak-red", QuarterSawn: true, WinterHumidity: 0.3, Moisture: 8, Start: "2026-11-30", Currency: "coins", Rate: 50,
		Prices: []model.OwnPrice{{ID: "tread-48in", Price: 47.5}},
		Hand:   []model.OwnBoard{{Use: model.UseTread, Name: "left over", Count: 2, Length: 1000, Width: 300, Thickness: 20}, {Use: model.UseCove, Length: 2400}}}
	for _, e := range []model.Edit{model.SetWishes{Wishes: wishes}, model.SetShop{Shop: shop}} {
		if err := h.Do(e); err != nil {
			t.Fatal(err)
		}
	}
	wishes.Order[0].First = "changed after the edit"
	kept := shop
	kept.Prices, kept.Hand = slices.Clone(shop.Prices), slices.Clone(shop.Hand)
	shop.Prices[0].Price, shop.Hand[0].Length = 1, 1
	text := encoded(t, h.Job())
	back, err := model.Decode([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(back.Shop, kept) || !back.Wishes.Right.Wiring || back.Wishes.Order[0].First != "skirts" {
		t.Errorf("came back as %+v and %+v", back.Wishes, back.Shop)
	}
	if err := meets(jobSchema(t), text); err != nil {
		t.Error(err)
	}
	if day, ok := back.Shop.StartDay(); !ok || day.Day() != 30 {
		t.Errorf("starts on %v, %v", day, ok)
	}
	h.Undo()
	h.Undo()
	if encoded(t, h.Job()) != before {
		t.Error("undoing both did not give the first job back")
	}
	for _, row := range []struct {
		name string
		edit model.Edit
		says string
	}{
		{"no such back", model.SetWishes{Wishes: model.Wishes{Back: "glued"}}, "back of the treads"},
		{"a wish against itself", model.SetWishes{Wishes: model.Wishes{Order: []model.OrderHint{{First: "T01", Then: "T01"}}}}, "two different pieces"},
		{"humidity in percent", model.SetShop{Shop: model.Shop{WinterHumidity: 35}}, "part of 1"},
		{"soaked boards", model.SetShop{Shop: model.Shop{Moisture: 60}}, "percent"},
		{"no such day", model.SetShop{Shop: model.Shop{Start: "30.11.2026"}}, "2026-11-30"},
		{"a long day", model.SetShop{Shop: model.Shop{HoursPerDay: 25}}, "24"},
		{"a price of nothing", model.SetShop{Shop: model.Shop{Prices: []model.OwnPrice{{Price: 3}}}}, "of what"},
		{"two prices", model.SetShop{Shop: model.Shop{Prices: []model.OwnPrice{{ID: "x", Price: 3}, {ID: "x", Price: 4}}}}, "two prices"},
		{"a gift", model.SetShop{Shop: model.Shop{Prices: []model.OwnPrice{{ID: "x"}}}}, "more than 0"},
		{"no such price", model.SetShop{Shop: model.Shop{Prices: []model.OwnPrice{{ID: "x", Price: math.Inf(1)}}}}, "more than 0"},
		{"a wage below nothing", model.SetShop{Shop: model.Shop{Rate: -1}}, "an hour costs"},
		{"a long currency", model.SetShop{Shop: model.Shop{Currency: "very long coins"}}, "short label"},
		{"a board for nothing", model.SetShop{Shop: model.Shop{Hand: []model.OwnBoard{{Length: 900}}}}, "what it is for"},
		{"a tin in hand", model.SetShop{Shop: model.Shop{Hand: []model.OwnBoard{{Use: model.UsePaint, Length: 900}}}}, "what it is for"},
		{"a board without a length", model.SetShop{Shop: model.Shop{Hand: []model.OwnBoard{{Use: model.UseRiser}}}}, "more than 0"},
		{"a board below nothing", model.SetShop{Shop: model.Shop{Hand: []model.OwnBoard{{Use: model.UseRiser, Length: 900, Width: -1}}}}, "0 or more"},
		{"too many boards", model.SetShop{Shop: model.Shop{Hand: []model.OwnBoard{{Use: model.UseRiser, Length: 900, Count: 101}}}}, "1 to 100"},
	} {
		if _, err := row.edit.Apply(j); err == nil || !strings.Contains(err.Error(), row.says) {
			t.Errorf("%s: %v", row.name, err)
		}
	}
}

// An own price is set, changed and taken back, and the choices it came from
// stay as they were.
func TestOwnPrices(t *testing.T) {
	var none model.Shop
	one := none.WithPrice("a", 2)
	two := one.WithPrice("b", 3)
	changed := two.WithPrice("a", 4)
	for _, c := range []struct {
		name string
		s    model.Shop
		a, b float64
	}{{"none", none, 0, 0}, {"one", one, 2, 0}, {"two", two, 2, 3}, {"changed", changed, 4, 3},
		{"taken back", changed.WithPrice("a", 0), 0, 3}, {"never there", none.WithPrice("a", 0), 0, 0}} {
		a, hasA := c.s.Price("a")
		b, hasB := c.s.Price("b")
		if a != c.a || b != c.b || hasA != (c.a > 0) || hasB != (c.b > 0) {
			t.Errorf("%s: %g %v, %g %v", c.name, a, hasA, b, hasB)
		}
	}
}
