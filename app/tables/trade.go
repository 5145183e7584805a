package tables

import (
	"risewright/assets"
	"risewright/model"
)

// Trade fills in the tables of goods and prices, of woods, and of hours.
func Trade(t *model.Tables) error {
	prices, err := assets.Prices()
	if err != nil {
		return err
	}
	woods, err := assets.Species()
	if err != nil {
		return err
	}
	hours, err := assets.Hours()
	if err != nil {
		return err
	}
	t.Goods, t.Wood, t.Labour = goods(prices), wood(woods), labour(hours)
	return nil
}

func goods(p assets.PriceTable) model.Goods {
	g := model.Goods{Currency: p.Currency, Kerf: model.Length(p.Kerf.MM), Trim: model.Length(p.Trim.MM)}
	for _, r := range p.Boards {
		g.Boards = append(g.Boards, model.GoodsBoard{
			ID: r.ID, Use: model.GoodsUse(r.Use), Name: r.Name, Units: model.Units(r.Units),
			Length: model.Length(r.Length), Width: model.Length(r.Width), Sheet: r.Sheet,
			Price: r.Price, Standing: model.Standing(r.Standing), Note: r.Note,
		})
	}
	for _, r := range p.Packs {
		g.Packs = append(g.Packs, model.GoodsPack{
			ID: r.ID, Use: model.GoodsUse(r.Use), Name: r.Name, Units: model.Units(r.Units),
			Holds: r.Holds, Unit: r.Unit, Price: r.Price, Standing: model.Standing(r.Standing), Note: r.Note,
		})
	}
	for _, r := range p.Practice {
		g.Practice = append(g.Practice, model.Practice{ID: r.ID, Words: r.Words, Value: r.Value, Unit: r.Unit, Standing: model.Standing(r.Standing), Note: r.Note})
	}
	return g
}

func wood(w assets.SpeciesTable) model.WoodTable {
	var out model.WoodTable
	for _, r := range w.Species {
		out.Species = append(out.Species, model.Species{
			ID: r.ID, Name: r.Name, Radial: r.Radial, Tangential: r.Tangential,
			RadialStanding: model.Standing(r.RadialStanding), TangentialStanding: model.Standing(r.TangentialStanding),
			ShrinkRadial: r.ShrinkRadial, ShrinkTangential: r.ShrinkTangential, ShrinkStanding: model.Standing(r.ShrinkStanding), Note: r.Note,
		})
	}
	for _, r := range w.Seasons {
		out.Seasons = append(out.Seasons, model.Season{ID: r.ID, Name: r.Name, Humidity: r.Humidity, Temperature: r.Celsius, Standing: model.Standing(r.Standing), Note: r.Note})
	}
	return out
}

func labour(h assets.HoursTable) model.Labour {
	out := model.Labour{Rate: span(h.Rate), HoursPerDay: h.HoursPerDay, Householder: span(h.Householder), Contingency: span(h.Contingency)}
	for _, r := range h.Stages {
		out.Stages = append(out.Stages, model.Stage{ID: r.ID, Name: r.Name, Per: model.StagePer(r.Per), Hours: span(r.Hours), Note: r.Note})
	}
	for _, r := range h.Waits {
		out.Waits = append(out.Waits, model.Wait{ID: r.ID, Name: r.Name, Days: span(r.Days), StairOff: r.StairOff, Note: r.Note})
	}
	return out
}

func span(s assets.Spread3) model.Range {
	return model.Range{Low: s.Low, Likely: s.Likely, High: s.High, Standing: model.Standing(s.Standing)}
}
