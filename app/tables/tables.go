// Package tables carries the tables that ship with the program over the border
// into the model: degrees and millimetres to the metre become radians, and the
// assets' rows become the model's. It also makes the job that a new window
// starts with.
//
// It refuses to judge or change a value; a standing goes over as it is.
package tables

import (
	"fmt"
	"math"

	"risewright/assets"
	"risewright/model"
)

// Published returns the rule tables, the stock sizes, and the tables of goods,
// woods and hours.
func Published() (model.Tables, error) {
	codes, err := assets.Rules()
	if err != nil {
		return model.Tables{}, err
	}
	lights, err := Lighting()
	if err != nil {
		return model.Tables{}, err
	}
	senses, err := Sensing()
	if err != nil {
		return model.Tables{}, err
	}
	stock, err := assets.Stock()
	if err != nil {
		return model.Tables{}, err
	}
	t := model.Tables{Lights: lights, Senses: senses, Codes: make([]model.RuleTable, len(codes)), Stock: model.Stock{
		TreadThicknesses: sizes(stock.TreadThicknesses),
		TreadLengths:     sizes(stock.TreadLengths),
		TreadDepths:      sizes(stock.TreadDepths),
		RiserLengths:     sizes(stock.RiserLengths),
		RiserHeights:     sizes(stock.RiserHeights),
		LandingDepths:    sizes(stock.LandingDepths),
	}}
	for i, c := range codes {
		t.Codes[i] = ruleTable(c)
	}
	if err := Trade(&t); err != nil {
		return model.Tables{}, err
	}
	if t.Looks, err = Finishes(); err != nil {
		return model.Tables{}, err
	}
	return t, nil
}

func ruleTable(c assets.RuleTable) model.RuleTable {
	out := model.RuleTable{ID: c.ID, Title: c.Title, Edition: c.Edition, Place: c.Place, Note: c.Note}
	for _, k := range c.Classes {
		out.Classes = append(out.Classes, model.RuleClass{ID: k.ID, Title: k.Title})
	}
	for _, l := range c.Limits {
		out.Limits = append(out.Limits, model.Limit{
			ID: l.ID, Quantity: l.Quantity, Measure: string(l.Measure), Op: string(l.Op), Lo: l.Lo, Hi: l.Hi,
			Unit: l.Unit, Section: l.Section, Standing: model.Standing(l.Standing), Note: l.Note,
			Classes: append([]string(nil), l.Classes...), ExemptGoing: l.ExemptGoing,
		})
	}
	return out
}

func sizes(rows []assets.Size) []model.StockSize {
	out := make([]model.StockSize, len(rows))
	for i, r := range rows {
		out[i] = model.StockSize{Size: model.Length(r.MM), Name: r.Name, Units: model.Units(r.Units), Standing: model.Standing(r.Standing)}
	}
	return out
}

// Instruments returns the tables of measuring tools and of states that a new
// job is given. Spreads are millimetres and radians.
func Instruments() ([]model.Instrument, []model.StateRow, error) {
	t, err := assets.Instruments()
	if err != nil {
		return nil, nil, err
	}
	tools := make([]model.Instrument, len(t.Instruments))
	for i, r := range t.Instruments {
		spread, err := inside(r.For, r.Spread)
		if err != nil {
			return nil, nil, fmt.Errorf("instrument %s: %w", r.ID, err)
		}
		tools[i] = model.Instrument{ID: r.ID, Name: r.Name, Measures: model.Quantity(r.For), Spread: spread, Standing: model.Standing(r.Standing), Note: r.Note}
		for _, k := range t.Kinds {
			if k.Instrument == r.ID {
				tools[i].Default = append(tools[i].Default, model.Kind(k.Kind))
			}
		}
	}
	states := make([]model.StateRow, len(t.States))
	for i, r := range t.States {
		states[i] = model.StateRow{State: model.State(r.ID), Length: r.Length, Angle: degrees(r.Angle), Slope: perMetre(r.Slope), Standing: model.Standing(r.Standing)}
	}
	return tools, states, nil
}

// inside converts the spread of a tool that reads r.
func inside(r assets.Reads, spread float64) (float64, error) {
	switch r {
	case assets.ReadsLength:
		return spread, nil
	case assets.ReadsAngle, assets.ReadsLean:
		return degrees(spread), nil
	case assets.ReadsSlope:
		return perMetre(spread), nil
	}
	return 0, fmt.Errorf("it reads %q, which has no unit", r)
}

func degrees(v float64) float64  { return v * float64(model.Degree) }
func perMetre(v float64) float64 { return math.Atan(v / 1000) }

// NewJob returns a first job: a straight flight of 14 risers guessed at, with
// an overlay of sizes that the yards of that system of units sell. newID gives
// each thing its id; nil gives random ids. Its sizes are common practice, no
// source; the user changes them.
func NewJob(units model.Units, newID func(name string) model.ID) (model.Job, error) {
	if newID == nil {
		newID = func(string) model.ID { return model.NewID() }
	}
	tools, states, err := Instruments()
	if err != nil {
		return model.Job{}, err
	}
	base := model.Job{
		ID: newID("job"), Name: "New job", Units: units,
		Instruments: tools, States: states,
	}
	spec := model.SketchSpec{Risers: 14, IDs: func(i int) model.ID { return newID(fmt.Sprintf("step %d", i+1)) }}
	const in = model.Inch
	if units == model.Imperial {
		base.Code, base.Fraction = "irc", 32
		base.Tolerance, base.SketchSpread = in/32, in
		base.Existing = model.Existing{Tread: in, Riser: in * 3 / 4, Overhang: in}
		base.Overlay = model.Overlay{Tread: in * 3 / 4, Riser: in / 4, Landing: in * 3 / 4, LandingDepth: in * 7 / 2, Overhang: in,
			Fit: in / 128, RiserGap: in / 16}
		spec.Width, spec.Rise, spec.Going = 36*in, in*15/2, 10*in
	} else {
		base.Code = "adk"
		base.Tolerance, base.SketchSpread = 0.8, 25
		base.Existing = model.Existing{Tread: 25, Riser: 18, Overhang: 25}
		base.Overlay = model.Overlay{Tread: 20, Riser: 12, Landing: 20, LandingDepth: 90, Overhang: 25, Fit: 0.2, RiserGap: 1.5}
		spec.Width, spec.Rise, spec.Going = 900, 190, 250
	}
	base.Overlay.Undercut = 2 * model.Degree
	base.Overlay.Back = model.BackUnderRiser
	spec.Base = base
	return model.Sketch(spec), nil
}
