package assets

import (
	"errors"
	"fmt"
	"slices"
	"sync"
)

// RuleTable is one published code or guidance, as far as it concerns stairs.
type RuleTable struct {
	ID      string `json:"id"`
	Title   string `json:"title"`
	Edition string `json:"edition"`
	Place   string `json:"place"` // where it is used
	Note    string `json:"note"`
	// Classes are the classes of stair the code tells apart, the usual one
	// first. There is at least one.
	Classes []Class `json:"classes"`
	Limits  []Limit `json:"limits"`
}

// Class is a class of stair within a code, such as a private stair.
type Class struct {
	ID    string `json:"id"`
	Title string `json:"title"`
}

// Limit is one row of a code. Lo and Hi are in Unit, and Op says which of them
// counts; the other is zero.
type Limit struct {
	ID       string `json:"id"`
	Quantity string `json:"quantity"` // in the publication's words
	// Measure names what the program compares with the limit. Empty: the row
	// is shown, not tested.
	Measure Measure `json:"measure"`
	// Classes are ids of the classes the row applies to; empty means all.
	Classes []string `json:"classes"`
	Op      Op       `json:"op"`
	Lo      float64  `json:"lo,omitempty"`
	Hi      float64  `json:"hi,omitempty"`
	// ExemptGoing waives the limit on a tread whose going, in Unit, is at
	// least this. Zero: no such waiver.
	ExemptGoing float64  `json:"exempt_going,omitempty"`
	Unit        string   `json:"unit"` // in, mm, deg, ratio, fc or count; empty for text and bool
	Section     string   `json:"section"`
	Standing    Standing `json:"standing"`
	Note        string   `json:"note"`
}

// Op says how a value is held against a limit.
type Op string

// The comparisons.
const (
	OpMax         Op = "max"          // at most Hi
	OpMin         Op = "min"          // at least Lo
	OpRange       Op = "range"        // from Lo to Hi, both allowed
	OpEq          Op = "eq"           // exactly Lo, which equals Hi
	OpSphereBelow Op = "sphere_below" // a sphere of diameter Hi must not pass
	OpRatioMax    Op = "ratio_max"    // a slope of at most Hi, rise over run
	OpCountMin    Op = "count_min"    // asked for from a count of Lo upwards
	OpText        Op = "text"         // in words only
	OpBool        Op = "bool"         // Quantity holds as a statement
)

// Measure names a quantity of a flight that a limit can be held against.
type Measure string

// The measures. A spread is the greatest less the smallest in a flight; an
// adjacent difference is between neighbours.
const (
	MeasureRise             Measure = "rise"
	MeasureRiseSpread       Measure = "rise_spread"
	MeasureRiseAdjacent     Measure = "rise_adjacent"
	MeasureGoing            Measure = "going"
	MeasureGoingSpread      Measure = "going_spread"
	MeasureGoingAdjacent    Measure = "going_adjacent"
	MeasureNosing           Measure = "nosing" // overhang of the nose past the riser face
	MeasureNosingSpread     Measure = "nosing_spread"
	MeasureHeadroom         Measure = "headroom"            // plumb above the pitch line
	MeasureRailHeight       Measure = "rail_height"         // plumb above the pitch line
	MeasureTwoRisePlusGoing Measure = "two_rise_plus_going" // 2R + G
	MeasurePitch            Measure = "pitch"
	MeasureTreadSlope       Measure = "tread_slope"
	MeasureWidthClear       Measure = "width_clear"
	MeasureFlightRise       Measure = "flight_rise"     // floor to floor or landing
	MeasureFlightRisers     Measure = "flight_risers"   // count
	MeasureWinderWalkline   Measure = "winder_walkline" // going of a winder at the walking line
	MeasureWinderNarrow     Measure = "winder_narrow"   // and at its narrow end
	MeasureWinderSpread     Measure = "winder_spread"   // of the winders of a flight, at the walking line
	MeasureLandingDepth     Measure = "landing_depth"   // of a landing between flights
	MeasureWalkline         Measure = "walkline"        // where it lies; nothing is held against it
)

// Measures lists every measure.
func Measures() []Measure {
	return []Measure{
		MeasureRise, MeasureRiseSpread, MeasureRiseAdjacent,
		MeasureGoing, MeasureGoingSpread, MeasureGoingAdjacent,
		MeasureNosing, MeasureNosingSpread, MeasureHeadroom, MeasureRailHeight,
		MeasureTwoRisePlusGoing, MeasurePitch, MeasureTreadSlope,
		MeasureWidthClear, MeasureFlightRise, MeasureFlightRisers,
		MeasureWinderWalkline, MeasureWinderNarrow, MeasureWinderSpread, MeasureLandingDepth, MeasureWalkline,
	}
}

// units are the units a numeric row may have.
var units = [...]string{"in", "mm", "deg", "ratio", "fc", "count"}

// suits says whether a limit on m may be in unit, so that a rise can not be written
// in degrees by mistake.
func (m Measure) suits(unit string) bool {
	switch m {
	case MeasurePitch:
		return unit == "deg"
	case MeasureTreadSlope:
		return unit == "ratio"
	case MeasureFlightRisers:
		return unit == "count"
	}
	return unit == "in" || unit == "mm"
}

// ruleFiles are the codes in the order they are offered.
var ruleFiles = [...]string{"irc", "ibc", "adk", "nbc", "ncc"}

// loadRules is the tables as shipped; callers get copies of it.
var loadRules = sync.OnceValues(func() ([]RuleTable, error) {
	out := make([]RuleTable, len(ruleFiles))
	for i, id := range ruleFiles {
		name := "rules/" + id + ".json"
		if err := read(name, &out[i]); err != nil {
			return nil, err
		}
		if out[i].ID != id {
			return nil, fmt.Errorf("assets: %s: the table calls itself %q", name, out[i].ID)
		}
		if err := out[i].Check(); err != nil {
			return nil, fmt.Errorf("assets: %s: %w", name, err)
		}
	}
	return out, nil
})

// Rules returns every rule table: a fresh copy on each call.
func Rules() ([]RuleTable, error) {
	shipped, err := loadRules()
	if err != nil {
		return nil, err
	}
	out := slices.Clone(shipped)
	for i := range out {
		out[i].Classes = slices.Clone(out[i].Classes)
		out[i].Limits = slices.Clone(out[i].Limits)
		for k := range out[i].Limits {
			out[i].Limits[k].Classes = slices.Clone(out[i].Limits[k].Classes)
		}
	}
	return out, nil
}

// RuleTableByID returns the table called id. The error names the tables there are.
func RuleTableByID(id string) (RuleTable, error) {
	all, err := Rules()
	if err != nil {
		return RuleTable{}, err
	}
	for _, t := range all {
		if t.ID == id {
			return t, nil
		}
	}
	return RuleTable{}, fmt.Errorf("no rule table %q; there are %v", id, ruleFiles)
}

// Check returns every fault in the table, joined, or nil.
func (t RuleTable) Check() error {
	var faults []error
	fault := func(row, format string, args ...any) {
		faults = append(faults, fmt.Errorf("%s: %s", row, fmt.Sprintf(format, args...)))
	}
	if t.ID == "" || t.Title == "" || t.Edition == "" || t.Place == "" || t.Note == "" {
		fault("heading", "id, title, edition, place and note are all needed")
	}
	if len(t.Classes) == 0 {
		fault("heading", "no class of stair")
	}
	classes := map[string]bool{}
	for _, c := range t.Classes {
		if c.ID == "" || c.Title == "" || classes[c.ID] {
			fault("class "+c.ID, "empty or used twice")
		}
		classes[c.ID] = true
	}
	seen := map[string]bool{}
	for _, l := range t.Limits {
		if seen[l.ID] {
			fault(l.ID, "id used twice")
		}
		seen[l.ID] = true
		if l.ID == "" || l.Quantity == "" || l.Section == "" {
			fault(l.ID, "id, quantity and section are all needed")
		}
		for _, c := range l.Classes {
			if !classes[c] {
				fault(l.ID, "no class %q in this code", c)
			}
		}
		if !l.Standing.known() {
			fault(l.ID, "standing %q is not one of %v", l.Standing, Standings())
		}
		l.checkNumbers(func(format string, args ...any) { fault(l.ID, format, args...) })
	}
	return errors.Join(faults...)
}

// checkNumbers reports numbers that do not fit the row's comparison and unit.
func (l Limit) checkNumbers(fault func(format string, args ...any)) {
	lo, hi := false, false // which of Lo and Hi the comparison needs
	switch l.Op {
	case OpMax, OpSphereBelow, OpRatioMax:
		hi = true
	case OpMin, OpCountMin:
		lo = true
	case OpRange, OpEq:
		lo, hi = true, true
	case OpText, OpBool:
		if l.Measure != "" || l.Unit != "" {
			fault("a %s row can not be measured", l.Op)
		}
	default:
		fault("op %q is not known", l.Op)
		return
	}
	if lo != (l.Lo > 0) || hi != (l.Hi > 0) {
		fault("op %s with lo %v, hi %v", l.Op, l.Lo, l.Hi)
	}
	if lo && hi && (l.Lo > l.Hi || (l.Op == OpEq) != (l.Lo == l.Hi)) {
		fault("op %s from %v to %v", l.Op, l.Lo, l.Hi)
	}
	if (lo || hi) && !slices.Contains(units[:], l.Unit) {
		fault("unit %q is not one of %v", l.Unit, units)
	}
	if (l.Op == OpRatioMax) != (l.Unit == "ratio") || l.Op == OpCountMin && l.Unit != "count" {
		fault("op %s in unit %q", l.Op, l.Unit)
	}
	if l.Measure != "" {
		if !slices.Contains(Measures(), l.Measure) {
			fault("measure %q is not known", l.Measure)
		} else if !l.Measure.suits(l.Unit) {
			fault("measure %s in unit %q", l.Measure, l.Unit)
		}
	}
	if l.ExemptGoing < 0 || l.ExemptGoing > 0 && l.Measure != MeasureNosing {
		fault("exempt_going %v on measure %q", l.ExemptGoing, l.Measure)
	}
}
