package assets

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"
)

// Instrument is a measuring tool. Spread is one standard deviation of one
// reading with it: mm for length, degrees for angle and lean, mm per m for
// slope.
type Instrument struct {
	ID       string   `json:"id"`
	Name     string   `json:"name"`
	For      Reads    `json:"for"`
	Spread   float64  `json:"spread"`
	Standing Standing `json:"standing"`
	Note     string   `json:"note"` // where the spread comes from
}

// Reads says what a tool reads, and so the unit of its spread.
type Reads string

// What tools read.
const (
	ReadsLength Reads = "length" // widths, depths, diagonals, rises, goings: mm
	ReadsAngle  Reads = "angle"  // interior angle of a corner: degrees
	ReadsLean   Reads = "lean"   // a side out of plumb: degrees
	ReadsSlope  Reads = "slope"  // a tread out of level: mm per m
)

// State says how far a reading could be trusted when it was taken. Its spreads
// are added to the instrument's by root sum of squares, see [State.Spread].
type State struct {
	ID       string   `json:"id"`
	Title    string   `json:"title"`
	Length   float64  `json:"length"` // mm
	Angle    float64  `json:"angle"`  // degrees, for angle and lean
	Slope    float64  `json:"slope"`  // mm per m
	Standing Standing `json:"standing"`
	Note     string   `json:"note"`
}

// Spread returns one standard deviation of a reading taken with i in state s,
// in the unit of i's spread: √(instrument² + state²).
func (s State) Spread(i Instrument) float64 {
	switch i.For {
	case ReadsAngle, ReadsLean:
		return math.Hypot(i.Spread, s.Angle)
	case ReadsSlope:
		return math.Hypot(i.Spread, s.Slope)
	}
	return math.Hypot(i.Spread, s.Length)
}

// KindDefault is the tool first offered for a kind of reading.
type KindDefault struct {
	Kind       string `json:"kind"`
	For        Reads  `json:"for"`
	Instrument string `json:"instrument"` // id of an instrument with the same For
}

// InstrumentTable is the tools, the states and the tool first offered for each
// kind of reading.
type InstrumentTable struct {
	Note        string        `json:"note"`
	Instruments []Instrument  `json:"instruments"`
	States      []State       `json:"states"` // from least to most trusted
	Kinds       []KindDefault `json:"kinds"`
}

var loadInstruments = sync.OnceValues(func() (InstrumentTable, error) {
	var t InstrumentTable
	if err := read("instruments.json", &t); err != nil {
		return InstrumentTable{}, err
	}
	if err := t.Check(); err != nil {
		return InstrumentTable{}, fmt.Errorf("assets: instruments.json: %w", err)
	}
	return t, nil
})

// Instruments returns the table of measuring tools: a fresh copy on each call.
func Instruments() (InstrumentTable, error) {
	t, err := loadInstruments()
	t.Instruments = slices.Clone(t.Instruments)
	t.States = slices.Clone(t.States)
	t.Kinds = slices.Clone(t.Kinds)
	return t, err
}

// Check returns every fault in the table, joined, or nil.
func (t InstrumentTable) Check() error {
	var faults []error
	fault := func(row, what string) { faults = append(faults, fmt.Errorf("%s: %s", row, what)) }
	tools := map[string]Reads{}
	for _, i := range t.Instruments {
		if _, twice := tools[i.ID]; twice || i.ID == "" {
			fault(i.ID, "id empty or used twice")
		}
		tools[i.ID] = i.For
		switch i.For {
		case ReadsLength, ReadsAngle, ReadsLean, ReadsSlope:
		default:
			fault(i.ID, fmt.Sprintf("reads %q, which is not known", i.For))
		}
		// A spread of zero would give the reading infinite weight.
		if !(i.Spread > 0) {
			fault(i.ID, fmt.Sprintf("spread %v is not above zero", i.Spread))
		}
		if i.Name == "" || i.Note == "" || !i.Standing.known() {
			fault(i.ID, "name, note and a known standing are all needed")
		}
	}
	states := map[string]bool{}
	for _, s := range t.States {
		if states[s.ID] || s.ID == "" {
			fault("state "+s.ID, "id empty or used twice")
		}
		states[s.ID] = true
		if s.Length < 0 || s.Angle < 0 || s.Slope < 0 {
			fault("state "+s.ID, "a spread is below zero")
		}
		if s.Title == "" || !s.Standing.known() {
			fault("state "+s.ID, "title and a known standing are needed")
		}
	}
	kinds := map[string]bool{}
	for _, k := range t.Kinds {
		if kinds[k.Kind] || k.Kind == "" {
			fault("kind "+k.Kind, "empty or used twice")
		}
		kinds[k.Kind] = true
		if reads, ok := tools[k.Instrument]; !ok || reads != k.For {
			fault("kind "+k.Kind, fmt.Sprintf("no instrument %q that reads %s", k.Instrument, k.For))
		}
	}
	return errors.Join(faults...)
}
