package assets

import (
	"embed"
	"errors"
	"fmt"
	"math"
	"slices"
)

//go:embed prices.json species.json hours.json
var trade embed.FS

// readTrade decodes one of the trade's tables into v, strictly.
func readTrade(name string, v any) error {
	text, err := trade.ReadFile(name)
	if err != nil {
		return fmt.Errorf("assets: %w", err)
	}
	return decode(name, text, v)
}

// Spread3 is a least, a likeliest and a greatest value.
type Spread3 struct {
	Low      float64  `json:"low"`
	Likely   float64  `json:"likely"`
	High     float64  `json:"high"`
	Standing Standing `json:"standing"`
}

func (s Spread3) faults(where string) (out []error) {
	if !(0 <= s.Low && s.Low <= s.Likely && s.Likely <= s.High && s.High < math.Inf(1)) {
		out = append(out, fmt.Errorf("%s: %v, %v, %v do not go up from 0", where, s.Low, s.Likely, s.High))
	}
	if !s.Standing.known() {
		out = append(out, fmt.Errorf("%s: standing %q", where, s.Standing))
	}
	return out
}

// Measured is a length with its standing.
type Measured struct {
	MM       float64  `json:"mm"`
	Standing Standing `json:"standing"`
	Note     string   `json:"note"`
}

// Good is a board, a strip or a sheet as it is sold. Width is 0 where it does
// not matter; Units is empty where both systems' yards have it.
type Good struct {
	ID       string   `json:"id"`
	Use      string   `json:"use"`
	Name     string   `json:"name"`
	Units    string   `json:"units"`
	Length   float64  `json:"length"`
	Width    float64  `json:"width"`
	Sheet    bool     `json:"sheet"`
	Price    float64  `json:"price"`
	Standing Standing `json:"standing"`
	Note     string   `json:"note"`
}

// Pack is a cartridge, a tin or a box and what it holds.
type Pack struct {
	ID       string   `json:"id"`
	Use      string   `json:"use"`
	Name     string   `json:"name"`
	Units    string   `json:"units"`
	Holds    float64  `json:"holds"`
	Unit     string   `json:"unit"`
	Price    float64  `json:"price"`
	Standing Standing `json:"standing"`
	Note     string   `json:"note"`
}

// PracticeRow is one rule of the trade with a number in it.
type PracticeRow struct {
	ID       string   `json:"id"`
	Words    string   `json:"words"`
	Value    float64  `json:"value"`
	Unit     string   `json:"unit"`
	Standing Standing `json:"standing"`
	Note     string   `json:"note"`
}

// PriceTable is what can be bought.
type PriceTable struct {
	Note     string        `json:"note"`
	Currency string        `json:"currency"` // a label
	Kerf     Measured      `json:"kerf"`
	Trim     Measured      `json:"trim"`
	Boards   []Good        `json:"boards"`
	Packs    []Pack        `json:"packs"`
	Practice []PracticeRow `json:"practice"`
}

// Prices returns the table of goods and prices, read afresh on each call.
func Prices() (PriceTable, error) {
	var t PriceTable
	if err := readTrade("prices.json", &t); err != nil {
		return PriceTable{}, err
	}
	if err := t.Check(); err != nil {
		return PriceTable{}, fmt.Errorf("assets: prices.json: %w", err)
	}
	return t, nil
}

// Check returns every fault in the table, joined, or nil.
func (t PriceTable) Check() error {
	var faults []error
	seen := map[string]bool{}
	row := func(id, units string, sizes []float64, price float64, s Standing) {
		if id == "" || seen[id] {
			faults = append(faults, fmt.Errorf("id %q is empty or used twice", id))
		}
		seen[id] = true
		if units != "" && units != "imperial" && units != "metric" {
			faults = append(faults, fmt.Errorf("%s: units %q", id, units))
		}
		for _, v := range sizes {
			if !(v > 0 && v < math.Inf(1)) {
				faults = append(faults, fmt.Errorf("%s: a size of %v", id, v))
			}
		}
		if !(price >= 0 && price < math.Inf(1)) {
			faults = append(faults, fmt.Errorf("%s: a price of %v", id, price))
		}
		if !s.known() {
			faults = append(faults, fmt.Errorf("%s: standing %q", id, s))
		}
	}
	for _, g := range t.Boards {
		sizes := []float64{g.Length}
		if g.Sheet || g.Width != 0 {
			sizes = append(sizes, g.Width)
		}
		row(g.ID, g.Units, sizes, g.Price, g.Standing)
	}
	for _, p := range t.Packs {
		row(p.ID, p.Units, []float64{p.Holds}, p.Price, p.Standing)
	}
	for _, p := range t.Practice {
		row(p.ID, "", nil, p.Value, p.Standing)
	}
	for _, m := range []Measured{t.Kerf, t.Trim} {
		row(fmt.Sprintf("cut of %v", m.MM), "", nil, m.MM, m.Standing)
	}
	return errors.Join(faults...)
}

// SpeciesRow is one wood. Coefficients are for each percent of moisture
// content; shrinkages are percent of the green size, 0 when not known.
type SpeciesRow struct {
	ID                 string   `json:"id"`
	Name               string   `json:"name"`
	Radial             float64  `json:"radial"`
	Tangential         float64  `json:"tangential"`
	RadialStanding     Standing `json:"radial_standing"`
	TangentialStanding Standing `json:"tangential_standing"`
	ShrinkRadial       float64  `json:"shrink_radial"`
	ShrinkTangential   float64  `json:"shrink_tangential"`
	ShrinkStanding     Standing `json:"shrink_standing"`
	Note               string   `json:"note"`
}

// SeasonRow is the air of a season: relative humidity from 0 to 1, degrees
// Celsius.
type SeasonRow struct {
	ID       string   `json:"id"`
	Name     string   `json:"name"`
	Humidity float64  `json:"humidity"`
	Celsius  float64  `json:"celsius"`
	Standing Standing `json:"standing"`
	Note     string   `json:"note"`
}

// SpeciesTable is how woods move.
type SpeciesTable struct {
	Note    string       `json:"note"`
	Species []SpeciesRow `json:"species"`
	Seasons []SeasonRow  `json:"seasons"`
}

// Species returns the table of woods, read afresh on each call.
func Species() (SpeciesTable, error) {
	var t SpeciesTable
	if err := readTrade("species.json", &t); err != nil {
		return SpeciesTable{}, err
	}
	if err := t.Check(); err != nil {
		return SpeciesTable{}, fmt.Errorf("assets: species.json: %w", err)
	}
	return t, nil
}

// Check returns every fault in the table, joined, or nil. Wood moves more
// along the rings than across them, and no wood moves a hundredth for a point.
func (t SpeciesTable) Check() error {
	var faults []error
	seen := map[string]bool{}
	for _, s := range t.Species {
		if s.ID == "" || s.Name == "" || seen[s.ID] {
			faults = append(faults, fmt.Errorf("species %q has no name or is there twice", s.ID))
		}
		seen[s.ID] = true
		if !(0 < s.Radial && s.Radial < s.Tangential && s.Tangential < 0.01) {
			faults = append(faults, fmt.Errorf("%s: coefficients %v and %v", s.ID, s.Radial, s.Tangential))
		}
		if !s.RadialStanding.known() || !s.TangentialStanding.known() {
			faults = append(faults, fmt.Errorf("%s: both coefficients need a standing", s.ID))
		}
		shrinks := s.ShrinkRadial != 0 || s.ShrinkTangential != 0
		if shrinks && !(0 < s.ShrinkRadial && s.ShrinkRadial < s.ShrinkTangential && s.ShrinkTangential < 20 && s.ShrinkStanding.known()) {
			faults = append(faults, fmt.Errorf("%s: shrinkages %v and %v", s.ID, s.ShrinkRadial, s.ShrinkTangential))
		}
	}
	for _, s := range t.Seasons {
		if s.ID == "" || !(0 < s.Humidity && s.Humidity < 1) || !(-40 < s.Celsius && s.Celsius < 60) || !s.Standing.known() {
			faults = append(faults, fmt.Errorf("season %q: %v at %v °C", s.ID, s.Humidity, s.Celsius))
		}
	}
	return errors.Join(faults...)
}

// StageRow is how long one stage of the work takes, for each of Per.
type StageRow struct {
	ID    string  `json:"id"`
	Name  string  `json:"name"`
	Per   string  `json:"per"`
	Hours Spread3 `json:"hours"`
	Note  string  `json:"note"`
}

// WaitRow is a time in which nobody works, in calendar days.
type WaitRow struct {
	ID       string  `json:"id"`
	Name     string  `json:"name"`
	Days     Spread3 `json:"days"`
	StairOff bool    `json:"stair_off"`
	Note     string  `json:"note"`
}

// HoursTable is how long the work takes and what an hour costs.
type HoursTable struct {
	Note        string     `json:"note"`
	Rate        Spread3    `json:"rate"`
	HoursPerDay float64    `json:"hours_per_day"`
	Householder Spread3    `json:"householder"`
	Contingency Spread3    `json:"contingency"`
	Stages      []StageRow `json:"stages"`
	Waits       []WaitRow  `json:"waits"`
}

// pers are what hours may be given for.
var pers = []string{"job", "step", "tread", "riser", "scribed skirt", "straight skirt", "open step", "light bar", "lighting"}

// Hours returns the table of hours, read afresh on each call.
func Hours() (HoursTable, error) {
	var t HoursTable
	if err := readTrade("hours.json", &t); err != nil {
		return HoursTable{}, err
	}
	if err := t.Check(); err != nil {
		return HoursTable{}, fmt.Errorf("assets: hours.json: %w", err)
	}
	return t, nil
}

// Check returns every fault in the table, joined, or nil.
func (t HoursTable) Check() error {
	faults := slices.Concat(t.Rate.faults("rate"), t.Householder.faults("householder"), t.Contingency.faults("contingency"))
	if !(t.HoursPerDay > 0 && t.HoursPerDay <= 24) {
		faults = append(faults, fmt.Errorf("%v hours in a day", t.HoursPerDay))
	}
	seen := map[string]bool{}
	for _, s := range t.Stages {
		if s.ID == "" || seen[s.ID] || !slices.Contains(pers, s.Per) {
			faults = append(faults, fmt.Errorf("stage %q for each %q", s.ID, s.Per))
		}
		seen[s.ID] = true
		faults = append(faults, s.Hours.faults(s.ID)...)
	}
	for _, w := range t.Waits {
		if w.ID == "" || seen[w.ID] {
			faults = append(faults, fmt.Errorf("wait %q", w.ID))
		}
		seen[w.ID] = true
		faults = append(faults, w.Days.faults(w.ID)...)
	}
	return errors.Join(faults...)
}
