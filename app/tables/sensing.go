package tables

import (
	"fmt"

	"risewright/assets"
	"risewright/model"
)

// Sensing returns the tables behind motion sensors. Every value in them has a
// known standing and says where it is from.
func Sensing() (model.SensorTables, error) {
	text, err := assets.Sensing()
	if err != nil {
		return model.SensorTables{}, err
	}
	t, err := readSensing(text)
	if err != nil {
		return model.SensorTables{}, fmt.Errorf("sensing.json: %w", err)
	}
	return t, nil
}

// readSensing reads the table strictly.
func readSensing(text []byte) (model.SensorTables, error) {
	return strictly(text, senseFaults)
}

// senseFaults finds rows that no solver could use.
func senseFaults(t model.SensorTables) []error {
	var out []error
	ids := map[string]bool{}
	judge := func(list, id, title, fault string) {
		if id == "" || title == "" || ids[list+id] {
			out = append(out, fmt.Errorf("%s %q: id empty or used twice, or no title", list, id))
		}
		ids[list+id] = true
		if fault != "" {
			out = append(out, fmt.Errorf("%s %s: %s", list, id, fault))
		}
	}
	ages := map[model.Age]int{}
	for _, r := range t.Classes {
		judge("class", r.ID, r.Title, r.Fault())
	}
	for _, r := range t.Bodies {
		judge("body", r.ID, r.Title, r.Fault())
		ages[r.Age] |= 1
	}
	for _, r := range t.Paces {
		judge("pace", r.ID, r.Title, r.Fault())
		ages[r.Age] |= 2
	}
	for _, a := range model.Ages() {
		if ages[a] != 3 {
			out = append(out, fmt.Errorf("no body or no pace for the age %q", a))
		}
	}
	for _, r := range t.Practice {
		judge("practice", r.ID, r.Title, "")
	}
	return out
}
