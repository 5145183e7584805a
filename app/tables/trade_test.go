package tables_test

import (
	"slices"
	"testing"

	"risewright/app/tables"
	"risewright/assets"
	"risewright/model"
)

// Every row goes over the border with its values and standing, and speaks the
// model's words.
func TestTradeKeepsEveryValue(t *testing.T) {
	var got model.Tables
	if err := tables.Trade(&got); err != nil {
		t.Fatal(err)
	}
	prices, _ := assets.Prices()
	uses := []model.GoodsUse{model.UseTread, model.UseRiser, model.UseLanding, model.UseSkirt, model.UseCove, model.UseLightBase, model.UseDiffuser,
		model.UseWireCover, model.UseAdhesive, model.UseElastic, model.UseTreadPins, model.UseScrews, model.UseRiserPins, model.UseFinish, model.UsePaint}
	met := map[model.GoodsUse]map[model.Units]bool{}
	note := func(u model.GoodsUse, in model.Units) {
		if !slices.Contains(uses, u) {
			t.Errorf("use %q is not the model's", u)
		}
		if met[u] == nil {
			met[u] = map[model.Units]bool{}
		}
		for _, system := range []model.Units{model.Imperial, model.Metric} {
			met[u][system] = met[u][system] || in == "" || in == system
		}
	}
	if len(got.Goods.Boards) != len(prices.Boards) || len(got.Goods.Packs) != len(prices.Packs) || len(got.Goods.Practice) != len(prices.Practice) {
		t.Fatal("rows were lost")
	}
	for i, g := range got.Goods.Boards {
		w := prices.Boards[i]
		note(g.Use, g.Units)
		if g.ID != w.ID || float64(g.Length) != w.Length || float64(g.Width) != w.Width || g.Price != w.Price || string(g.Standing) != string(w.Standing) || g.Sheet != w.Sheet {
			t.Errorf("%+v became %+v", w, g)
		}
	}
	for i, g := range got.Goods.Packs {
		w := prices.Packs[i]
		note(g.Use, g.Units)
		if g.Holds != w.Holds || g.Unit != w.Unit || g.Price != w.Price || string(g.Standing) != string(w.Standing) {
			t.Errorf("%+v became %+v", w, g)
		}
	}
	for _, u := range uses {
		if !met[u][model.Imperial] || !met[u][model.Metric] {
			t.Errorf("%s can not be bought in both systems", u)
		}
	}
	for _, p := range got.Goods.Practice {
		if v := got.Goods.Figure(p.ID, -1); v != p.Value {
			t.Errorf("%s: %v", p.ID, v)
		}
	}
	if got.Goods.Figure("nothing of the kind", 7) != 7 {
		t.Error("a figure that is not there does not fall back")
	}
	oak, ok := got.Wood.ByID("red-oak")
	if !ok || oak.Tangential != 0.00369 || oak.TangentialStanding != model.Seen {
		t.Errorf("%+v", oak)
	}
	winter, ok := got.Wood.Season("winter")
	if !ok || winter.Humidity != 0.3 || winter.Temperature != 20 {
		t.Errorf("%+v", winter)
	}
	if got.Labour.Wait("adhesive").Days.Likely != 1 || !got.Labour.Wait("adhesive").StairOff || got.Labour.HoursPerDay != 7 || len(got.Labour.Stages) != 17 {
		t.Errorf("%+v", got.Labour)
	}
}
