package model_test

import (
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
	shop := model.Shop{Species: "oak-red", QuarterSawn: true, WinterHumidity: 0.3, Moisture: 8, Start: "2026-11-30"}
	for _, e := range []model.Edit{model.SetWishes{Wishes: wishes}, model.SetShop{Shop: shop}} {
		if err := h.Do(e); err != nil {
			t.Fatal(err)
		}
	}
	wishes.Order[0].First = "changed after the edit"
	text := encoded(t, h.Job())
	back, err := model.Decode([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if back.Shop != shop || !back.Wishes.Right.Wiring || back.Wishes.Order[0].First != "skirts" {
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
	} {
		if _, err := row.edit.Apply(j); err == nil || !strings.Contains(err.Error(), row.says) {
			t.Errorf("%s: %v", row.name, err)
		}
	}
}
