package main_test

import (
	"slices"
	"testing"

	"risewright/assets"
	"risewright/model"
)

// The tables and the model do not import each other, so what they must agree
// on is held together here.
func TestTablesSpeakTheModelsWords(t *testing.T) {
	table, err := assets.Instruments()
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[model.Kind]bool{}
	for _, k := range table.Kinds {
		kinds[model.Kind(k.Kind)] = true
		if got := model.Kind(k.Kind).Quantity(); string(got) != string(k.For) {
			t.Errorf("kind %s: the table reads %q, the model %q", k.Kind, k.For, got)
		}
	}
	for _, k := range slices.Concat(model.StepKinds(), model.FlightKinds()) {
		if !kinds[k] {
			t.Errorf("kind %s has no tool in the table", k)
		}
		delete(kinds, k)
	}
	for k := range kinds {
		t.Errorf("kind %s is not the model's", k)
	}

	var states []model.State
	for _, s := range table.States {
		states = append(states, model.State(s.ID))
	}
	if !slices.Equal(states, model.States()) {
		t.Errorf("states %v in the table, %v in the model", states, model.States())
	}
}
