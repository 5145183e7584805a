package assets

import (
	"errors"
	"fmt"
	"slices"
	"sync"
)

// Size is one size that boards are sold in.
type Size struct {
	MM       float64  `json:"mm"`
	Name     string   `json:"name"`  // as the yard names it
	Units    string   `json:"units"` // imperial or metric: in whose yards it is common
	Standing Standing `json:"standing"`
	Note     string   `json:"note"`
}

// StockTable is the sizes boards are commonly sold in, by piece and direction.
// A length runs across the stair, a depth along the going, a height plumb.
// A landing nosing is sold to the width of the flight, so it has depths only.
type StockTable struct {
	Note             string `json:"note"`
	TreadThicknesses []Size `json:"tread_thicknesses"`
	TreadLengths     []Size `json:"tread_lengths"`
	TreadDepths      []Size `json:"tread_depths"`
	RiserThicknesses []Size `json:"riser_thicknesses"`
	RiserLengths     []Size `json:"riser_lengths"`
	RiserHeights     []Size `json:"riser_heights"`
	LandingDepths    []Size `json:"landing_depths"`
}

// columns gives each list of the table with its name.
func (t *StockTable) columns() map[string]*[]Size {
	return map[string]*[]Size{
		"tread_thicknesses": &t.TreadThicknesses,
		"tread_lengths":     &t.TreadLengths,
		"tread_depths":      &t.TreadDepths,
		"riser_thicknesses": &t.RiserThicknesses,
		"riser_lengths":     &t.RiserLengths,
		"riser_heights":     &t.RiserHeights,
		"landing_depths":    &t.LandingDepths,
	}
}

var loadStock = sync.OnceValues(func() (StockTable, error) {
	var t StockTable
	if err := read("stock.json", &t); err != nil {
		return StockTable{}, err
	}
	if err := t.Check(); err != nil {
		return StockTable{}, fmt.Errorf("assets: stock.json: %w", err)
	}
	return t, nil
})

// Stock returns the table of stock sizes: a fresh copy on each call.
func Stock() (StockTable, error) {
	t, err := loadStock()
	for _, sizes := range t.columns() {
		*sizes = slices.Clone(*sizes)
	}
	return t, err
}

// Check returns every fault in the table, joined, or nil. Within a list the
// sizes of one system of units go up, so that the first that is large enough
// is the smallest.
func (t StockTable) Check() error {
	var faults []error
	for name, sizes := range t.columns() {
		last := map[string]float64{}
		for _, s := range *sizes {
			where := name + " " + s.Name
			if s.Units != "imperial" && s.Units != "metric" {
				faults = append(faults, fmt.Errorf("%s: units %q", where, s.Units))
			}
			if !(s.MM > last[s.Units]) {
				faults = append(faults, fmt.Errorf("%s: %v mm does not go up from %v", where, s.MM, last[s.Units]))
			}
			last[s.Units] = s.MM
			if s.Name == "" || !s.Standing.known() {
				faults = append(faults, fmt.Errorf("%s: name and a known standing are needed", where))
			}
		}
		if len(last) != 2 {
			faults = append(faults, fmt.Errorf("%s: needs sizes of both systems", name))
		}
	}
	return errors.Join(faults...)
}
