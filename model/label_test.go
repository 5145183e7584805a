package model_test

import (
	"testing"

	"risewright/model"
)

func TestLabelsSayWhatWasChanged(t *testing.T) {
	j := plainJob(4)
	j.Shop.Prices = []model.OwnPrice{{ID: "a", Price: 2}}
	step := model.StepOf(j.Flight.Steps[2])
	step.PackLeft = 3
	both := step
	both.PackRight, both.Thickness = 3, 22
	light := j.Lighting
	light.Setback = 12
	many := light
	many.Lip, many.Groove = 4, 5
	in, _ := j.DefaultInstrument(model.FrontWidth)
	read := model.Reading{ID: model.NewID(), Kind: model.FrontWidth, Value: 900, Instrument: in.ID, State: model.Bare}
	o := j.Overlay
	o.Tread, o.Riser = o.Tread+1, o.Riser+1
	for _, c := range []struct {
		edit model.Edit
		want string
	}{
		{model.SetShop{Shop: j.Shop.WithPrice("a", 3)}, "change a price"},
		{model.SetShop{Shop: model.Shop{Prices: j.Shop.Prices, Start: "2026-11-30"}}, "change the first day"},
		{model.SetShop{Shop: j.Shop}, "change wood, prices or calendar"}, // nothing
		{model.SetWishes{Wishes: model.Wishes{Left: model.SideWish{Keep: true}}}, "change the wishes for the left side"},
		{model.SetWishes{Wishes: model.Wishes{Order: []model.OrderHint{{First: "risers", Then: "treads"}}}}, "change what is to go in first"},
		{model.SetLighting{Lighting: light}, "change the setback of the bars"},
		{model.SetLighting{Lighting: many}, "change the light bars"}, // more than a menu holds
		{model.SetOverlay{Overlay: o}, "change the new treads' thickness and the new risers' thickness"},
		{step, "change the packing at the left of step 3"},
		{both, "change step 3"},
		{model.Batch{Name: "lay packs", Edits: []model.Edit{step}}, "lay packs"},
		{model.SetReading{Step: j.Flight.Steps[1].ID, Reading: read}, "read front width of step 2"},
	} {
		h := model.NewHistory(j)
		if err := h.Do(c.edit); err != nil {
			t.Errorf("%s: %v", c.want, err)
			continue
		}
		if got := h.UndoLabel(); got != c.want {
			t.Errorf("undo %q, want %q", got, c.want)
		}
	}
}
