package model_test

import (
	"encoding/json"
	"math"
	"testing"

	"risewright/model"
)

// TestWishes: no wish is valid and takes no room in a file; faults are named by
// their field.
func TestWishes(t *testing.T) {
	if fs := (model.Wishes{}).Validate(); len(fs) != 0 {
		t.Errorf("no wish: %+v", fs)
	}
	if b, err := json.Marshal(model.Wishes{}); err != nil || string(b) != "{}" {
		t.Errorf("no wish is written %s, %v", b, err)
	}
	for field, w := range map[string]model.Wishes{
		"wishes.back":                {Back: "anyhow"},
		"wishes.evening_hours":       {EveningHours: math.NaN()},
		"wishes.order.0":             {Order: []model.OrderHint{{First: "T01", Then: "T01"}}},
		"wishes.left.balusters":      {Left: model.SideWish{Balusters: 11}},
		"wishes.right.margin_first":  {Right: model.SideWish{MarginFirst: -1}},
		"wishes.right.old_thickness": {Right: model.SideWish{OldThickness: model.Length(math.Inf(1))}},
	} {
		fs := w.Validate()
		if len(fs) != 1 || fs[0].Where.Field != field || fs[0].Severity != model.Block || fs[0].Remedy == "" {
			t.Errorf("%s: %+v", field, fs)
		}
	}
}
