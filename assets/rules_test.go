package assets

import (
	"reflect"
	"strings"
	"testing"
)

// The numbers below were typed from the published sections named beside them
// (as restated in the project's list of published values, with its standing),
// not copied from the JSON.

func TestRuleTablesHoldEveryRow(t *testing.T) {
	// Rows of the project's list of published values, section 1: 45, 23, 21,
	// 17 and 13. A row that limits two measures is kept as two rows here: one
	// in IBC, two in NCC. Three alternating-tread rows were added to ADK from
	// para 1.30 and Diagram 1.10.
	want := map[string]int{"irc": 45, "ibc": 23 + 1, "adk": 21 + 3, "nbc": 17, "ncc": 13 + 2}
	tables, err := Rules()
	if err != nil {
		t.Fatal(err)
	}
	if len(tables) != len(want) {
		t.Fatalf("%d tables, want %d", len(tables), len(want))
	}
	for _, table := range tables {
		if got := len(table.Limits); got != want[table.ID] {
			t.Errorf("%s has %d rows, want %d", table.ID, got, want[table.ID])
		}
		for _, l := range table.Limits {
			if !strings.HasPrefix(l.ID, table.ID+".") {
				t.Errorf("%s: row %s belongs to another code", table.ID, l.ID)
			}
		}
	}
}

func TestRuleValues(t *testing.T) {
	rows := []struct {
		id       string
		op       Op
		lo, hi   float64
		unit     string
		measure  Measure
		classes  string
		section  string // a part of it
		standing Standing
	}{
		{"irc.riser.max", OpMax, 0, 7.75, "in", MeasureRise, "", "R311.7.5.1", Transcription},
		{"irc.riser.uniformity", OpMax, 0, 0.375, "in", MeasureRiseSpread, "", "R311.7.5.1", Transcription},
		{"irc.tread.min", OpMin, 10, 0, "in", MeasureGoing, "", "R311.7.5.2", Transcription},
		{"irc.tread.uniformity", OpMax, 0, 0.375, "in", MeasureGoingSpread, "", "R311.7.5.2", Transcription},
		{"irc.walkline", OpEq, 12, 12, "in", MeasureWalkline, "", "R311.7.4", Memory},
		{"irc.winder.walkline.min", OpMin, 10, 0, "in", MeasureWinderWalkline, "", "R311.7.5.2.1", Transcription},
		{"irc.winder.narrow.min", OpMin, 6, 0, "in", MeasureWinderNarrow, "", "R311.7.5.2.1", Transcription},
		{"irc.winder.uniformity", OpMax, 0, 0.375, "in", MeasureWinderSpread, "", "R311.7.5.2.1", Transcription},
		{"irc.nosing.projection", OpRange, 0.75, 1.25, "in", MeasureNosing, "", "R311.7.5.3", Transcription},
		{"irc.nosing.exempt_tread", OpMin, 11, 0, "in", "", "", "R311.7.5.3", Transcription},
		{"irc.nosing.uniformity", OpMax, 0, 0.375, "in", MeasureNosingSpread, "", "R311.7.5.3", Transcription},
		{"irc.nosing.radius", OpMax, 0, 9.0 / 16, "in", "", "", "R311.7.5.3", Transcription},
		{"irc.headroom", OpMin, 80, 0, "in", MeasureHeadroom, "", "R311.7.2", Transcription},
		{"irc.width.above_rail", OpMin, 36, 0, "in", MeasureWidthClear, "", "R311.7.1", Secondary},
		{"irc.width.one_rail", OpMin, 31.5, 0, "in", "", "", "R311.7.1", Secondary},
		{"irc.vertical_rise", OpMax, 0, 12*12 + 7, "in", MeasureFlightRise, "", "R311.7.3", Transcription},
		{"irc.landing.depth", OpMin, 36, 0, "in", MeasureLandingDepth, "", "R311.7.6", Transcription},
		{"irc.surface.slope", OpRatioMax, 0, 1.0 / 48, "ratio", MeasureTreadSlope, "", "R311.7.7", Transcription},
		{"irc.handrail.required", OpCountMin, 4, 0, "count", "", "", "R311.7.8", Transcription},
		{"irc.handrail.height", OpRange, 34, 38, "in", MeasureRailHeight, "", "R311.7.8.1", Transcription},
		{"irc.guard.stair_opening", OpSphereBelow, 0, 4.375, "in", "", "", "R312.1.3", Transcription},
		{"irc.light.interior", OpMin, 1, 0, "fc", "", "", "R303.7", Transcription},
		{"irc.light.exterior", OpText, 0, 0, "", "", "", "R303.8", Memory},

		{"ibc.riser.max", OpMax, 0, 7, "in", MeasureRise, "main", "1011.5.2", Seen},
		{"ibc.riser.min", OpMin, 4, 0, "in", MeasureRise, "main", "1011.5.2", Seen},
		{"ibc.tread.min", OpMin, 11, 0, "in", MeasureGoing, "main", "1011.5.2", Seen},
		{"ibc.exc.dwelling.riser", OpMax, 0, 7.75, "in", MeasureRise, "dwelling", "exc. 3", Seen},
		{"ibc.exc.dwelling.tread", OpMin, 10, 0, "in", MeasureGoing, "dwelling", "exc. 3", Seen},
		{"ibc.exc.dwelling.nosing", OpRange, 0.75, 1.25, "in", MeasureNosing, "dwelling", "exc. 3", Seen},
		{"ibc.uniformity.riser", OpMax, 0, 0.375, "in", MeasureRiseSpread, "", "1011.5.4", Transcription},
		{"ibc.uniformity.tread", OpMax, 0, 0.375, "in", MeasureGoingSpread, "", "1011.5.4", Transcription},
		{"ibc.winder.walkline", OpMin, 11, 0, "in", MeasureWinderWalkline, "main", "1011.5.2", Seen},
		{"ibc.winder.min", OpMin, 10, 0, "in", MeasureWinderNarrow, "main", "1011.5.2", Seen},
		{"ibc.exc.dwelling.winder_walkline", OpMin, 10, 0, "in", MeasureWinderWalkline, "dwelling", "exc. 3", Seen},
		{"ibc.exc.dwelling.winder_min", OpMin, 6, 0, "in", MeasureWinderNarrow, "dwelling", "exc. 3", Seen},
		{"ibc.landing", OpMin, 48, 0, "in", MeasureLandingDepth, "", "1011.6", Memory},
		{"ibc.nonuniform.sloping", OpRatioMax, 0, 1.0 / 12, "ratio", "", "", "1011.5.4.1", Memory},
		{"ibc.nosing.max", OpMax, 0, 1.25, "in", MeasureNosing, "", "1011.5.5", Secondary},
		{"ibc.vertical_rise", OpMax, 0, 12 * 12, "in", MeasureFlightRise, "", "1011.8", Memory},

		{"adk.private.rise", OpRange, 150, 220, "mm", MeasureRise, "private", "Table 1.1", Seen},
		{"adk.private.going", OpRange, 220, 300, "mm", MeasureGoing, "private", "Table 1.1", Seen},
		{"adk.utility.rise", OpRange, 150, 190, "mm", MeasureRise, "utility", "Table 1.1", Seen},
		{"adk.utility.going", OpRange, 250, 400, "mm", MeasureGoing, "utility", "Table 1.1", Seen},
		{"adk.general.rise", OpRange, 150, 170, "mm", MeasureRise, "general", "Table 1.1", Seen},
		{"adk.general.going", OpRange, 250, 400, "mm", MeasureGoing, "general", "Table 1.1", Seen},
		{"adk.2rg", OpRange, 550, 700, "mm", MeasureTwoRisePlusGoing, "", "Table 1.1", Seen},
		{"adk.pitch", OpMax, 0, 42, "deg", MeasurePitch, "private", "Table 1.1", Seen},
		{"adk.overlap.open", OpMin, 16, 0, "mm", "", "private", "Diagram 1.1", Seen},
		{"adk.overlap.nondwelling", OpMax, 0, 25, "mm", MeasureNosing, "general", "Diagram 1.1", Seen},
		{"adk.taper.narrow", OpMin, 50, 0, "mm", MeasureWinderNarrow, "", "1998 ed. 1.18", Seen},
		{"nbc.taper.measure", OpEq, 300, 300, "mm", MeasureWalkline, "", "9.8.4.4(4)", Transcription},
		{"ncc.landing", OpMin, 750, 0, "mm", MeasureLandingDepth, "", "11.2.5", Secondary},
		{"adk.headroom", OpMin, 2000, 0, "mm", MeasureHeadroom, "", "1.11", Secondary},
		{"adk.handrail", OpRange, 900, 1000, "mm", MeasureRailHeight, "", "1.36", Secondary},
		{"adk.door.landing", OpMin, 400, 0, "mm", "", "private", "Diagram 1.8", Seen},

		{"nbc.private.rise", OpRange, 125, 200, "mm", MeasureRise, "private", "9.8.4.1", Secondary},
		{"nbc.private.run", OpRange, 255, 355, "mm", MeasureGoing, "private", "9.8.4.2", Memory},
		{"nbc.public.rise", OpRange, 125, 180, "mm", MeasureRise, "public", "9.8.4.1", Memory},
		{"nbc.public.run", OpMin, 280, 0, "mm", MeasureGoing, "public", "9.8.4.1", Memory},
		{"nbc.riser.adjacent", OpMax, 0, 5, "mm", MeasureRiseAdjacent, "", "9.8.4.4(1)(a)", Transcription},
		{"nbc.riser.flight", OpMax, 0, 10, "mm", MeasureRiseSpread, "", "9.8.4.4(1)(b)", Transcription},
		{"nbc.run.adjacent", OpMax, 0, 5, "mm", MeasureGoingAdjacent, "", "9.8.4.4(3)(a)", Transcription},
		{"nbc.run.flight", OpMax, 0, 10, "mm", MeasureGoingSpread, "", "9.8.4.4(3)(b)", Transcription},
		{"nbc.slope", OpRatioMax, 0, 1.0 / 50, "ratio", MeasureTreadSlope, "", "9.8.4.4(5)", Transcription},
		{"nbc.headroom", OpMin, 1950, 0, "mm", MeasureHeadroom, "private", "9.8.2.2", Memory},

		{"ncc.private.riser", OpRange, 115, 190, "mm", MeasureRise, "private", "11.2.2a", Secondary},
		{"ncc.private.going", OpRange, 240, 355, "mm", MeasureGoing, "private", "11.2.2a", Secondary},
		{"ncc.public.going", OpRange, 250, 355, "mm", MeasureGoing, "public", "11.2.2a", Secondary},
		{"ncc.2rg", OpRange, 550, 700, "mm", MeasureTwoRisePlusGoing, "", "11.2.2a", Secondary},
		{"ncc.flight", OpRange, 2, 18, "count", MeasureFlightRisers, "", "11.2.2(1)(a)", Secondary},
		{"ncc.adjacent.riser", OpMax, 0, 5, "mm", MeasureRiseAdjacent, "", "11.2.2", Memory},
		{"ncc.adjacent.going", OpMax, 0, 5, "mm", MeasureGoingAdjacent, "", "11.2.2", Memory},
		{"ncc.flightvar.riser", OpMax, 0, 10, "mm", MeasureRiseSpread, "", "11.2.2", Memory},
		{"ncc.flightvar.going", OpMax, 0, 10, "mm", MeasureGoingSpread, "", "11.2.2", Memory},
		{"ncc.open.sphere", OpSphereBelow, 0, 125, "mm", "", "", "11.2.2", Secondary},
		{"ncc.handrail", OpMin, 865, 0, "mm", MeasureRailHeight, "", "11.3.5", Memory},
	}
	for _, r := range rows {
		t.Run(r.id, func(t *testing.T) {
			l := limit(t, r.id)
			if l.Op != r.op || l.Lo != r.lo || l.Hi != r.hi || l.Unit != r.unit {
				t.Errorf("got %s %v..%v %s, want %s %v..%v %s", l.Op, l.Lo, l.Hi, l.Unit, r.op, r.lo, r.hi, r.unit)
			}
			if l.Measure != r.measure || strings.Join(l.Classes, ",") != r.classes {
				t.Errorf("got measure %q classes %v, want %q %q", l.Measure, l.Classes, r.measure, r.classes)
			}
			if !strings.Contains(l.Section, r.section) {
				t.Errorf("section %q does not name %q", l.Section, r.section)
			}
			if l.Standing != r.standing {
				t.Errorf("standing %q, want %q", l.Standing, r.standing)
			}
		})
	}
}

// The rows that were never read in any text. A row may leave this list only
// when somebody has read it; the list is closed, so that a new memory row has
// to be admitted here too.
func TestMemoryRowsStayMemory(t *testing.T) {
	want := map[string]bool{}
	for _, id := range strings.Fields(`
		irc.walkline irc.light.exterior
		ibc.nonuniform.sloping ibc.nosing.edge ibc.riser.slope ibc.width ibc.headroom
		ibc.landing ibc.slope ibc.vertical_rise ibc.handrail.height ibc.guard.height ibc.light
		adk.open.sphere adk.consistent
		nbc.private.run nbc.public.rise nbc.public.run nbc.width nbc.headroom nbc.handrail nbc.guard
		ncc.adjacent.riser ncc.adjacent.going ncc.flightvar.riser ncc.flightvar.going
		ncc.headroom ncc.handrail`) {
		want[id] = true
	}
	tables, err := Rules()
	if err != nil {
		t.Fatal(err)
	}
	for _, table := range tables {
		for _, l := range table.Limits {
			if (l.Standing == Memory) != want[l.ID] {
				t.Errorf("%s has standing %s; listed as memory: %v", l.ID, l.Standing, want[l.ID])
			}
			delete(want, l.ID)
		}
	}
	if len(want) > 0 {
		t.Errorf("no such rows: %v", want)
	}
}

// IRC R311.7.5.3 exception 1 and IBC 1011.5.2 exception 3 waive the nosing
// where the tread is 11 in deep or more; no other row has a waiver.
func TestNosingWaivers(t *testing.T) {
	tables, err := Rules()
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]float64{"irc.nosing.projection": 11, "ibc.exc.dwelling.nosing": 11}
	for _, table := range tables {
		for _, l := range table.Limits {
			if l.ExemptGoing != want[l.ID] {
				t.Errorf("%s: exempt going %v, want %v", l.ID, l.ExemptGoing, want[l.ID])
			}
		}
	}
}

// The code's own metric figures differ between IRC and IBC for the same 7 3/4
// in, so both are kept as printed.
func TestPrintedMetricStaysInNotes(t *testing.T) {
	for id, text := range map[string]string{
		"irc.riser.max":          "196 mm", // IRC 2018 R311.7.5.1
		"ibc.exc.dwelling.riser": "197 mm", // IBC 2015 1011.5.2 exc. 3
		"irc.riser.uniformity":   "9.5 mm", // R311.7.5.1
		"ibc.uniformity.riser":   "9.5 mm", // 1011.5.4
	} {
		if l := limit(t, id); !strings.Contains(l.Note, text) {
			t.Errorf("%s: note %q does not give %s", id, l.Note, text)
		}
	}
}

func TestEveryTableDefersToOfficials(t *testing.T) {
	tables, err := Rules()
	if err != nil {
		t.Fatal(err)
	}
	for _, table := range tables {
		if !strings.Contains(table.Note, "decide") {
			t.Errorf("%s: the note does not say who decides", table.ID)
		}
	}
}

// A code that tells classes apart must not hold one measure of one class to
// two ranges, and every code must at least limit the rise and the going.
func TestEachClassHasOneRangePerMeasure(t *testing.T) {
	tables, err := Rules()
	if err != nil {
		t.Fatal(err)
	}
	for _, table := range tables {
		for _, class := range table.Classes {
			lows, highs := map[Measure]string{}, map[Measure]string{}
			for _, l := range table.Limits {
				if l.Measure == "" || !l.covers(class.ID) {
					continue
				}
				if l.Lo > 0 && l.Measure != MeasureNosing {
					if lows[l.Measure] != "" {
						t.Errorf("%s %s: %s and %s both give a least %s", table.ID, class.ID, lows[l.Measure], l.ID, l.Measure)
					}
					lows[l.Measure] = l.ID
				}
				if l.Hi > 0 && l.Measure != MeasureNosing {
					if highs[l.Measure] != "" {
						t.Errorf("%s %s: %s and %s both give a greatest %s", table.ID, class.ID, highs[l.Measure], l.ID, l.Measure)
					}
					highs[l.Measure] = l.ID
				}
			}
			if lows[MeasureGoing] == "" {
				t.Errorf("%s %s: no least going", table.ID, class.ID)
			}
			// The list of published values has no public riser for NCC.
			if highs[MeasureRise] == "" && table.ID+" "+class.ID != "ncc public" {
				t.Errorf("%s %s: no greatest rise", table.ID, class.ID)
			}
		}
	}
}

// covers is the test's own reading of Limit.Classes.
func (l Limit) covers(class string) bool {
	return len(l.Classes) == 0 || strings.Contains(" "+strings.Join(l.Classes, " ")+" ", " "+class+" ")
}

func TestRuleFaultsAreFound(t *testing.T) {
	good := Limit{ID: "x.rise", Quantity: "rise", Measure: MeasureRise, Op: OpRange, Lo: 150, Hi: 220, Unit: "mm", Section: "1", Standing: Seen}
	table := func(l ...Limit) RuleTable {
		return RuleTable{ID: "x", Title: "X", Edition: "1", Place: "here", Note: "n", Classes: []Class{{"main", "Main"}}, Limits: l}
	}
	if err := table(good).Check(); err != nil {
		t.Fatalf("a sound table: %v", err)
	}
	rows := []struct {
		name  string
		spoil func(*Limit)
		want  string
	}{
		{"reversed", func(l *Limit) { l.Lo, l.Hi = 220, 150 }, "from 220 to 150"},
		{"missing end", func(l *Limit) { l.Hi = 0 }, "lo 150, hi 0"},
		{"extra end", func(l *Limit) { l.Op = OpMin }, "op min with"},
		{"unknown op", func(l *Limit) { l.Op = "about" }, `op "about"`},
		{"unknown unit", func(l *Limit) { l.Unit = "cubit" }, `unit "cubit"`},
		{"wrong unit", func(l *Limit) { l.Unit = "deg" }, "measure rise"},
		{"unknown measure", func(l *Limit) { l.Measure = "colour" }, `measure "colour"`},
		{"unknown standing", func(l *Limit) { l.Standing = "sure" }, `standing "sure"`},
		{"unknown class", func(l *Limit) { l.Classes = []string{"attic"} }, `no class "attic"`},
		{"no section", func(l *Limit) { l.Section = "" }, "section"},
		{"ratio in mm", func(l *Limit) { l.Op, l.Lo, l.Hi = OpRatioMax, 0, 0.02 }, "op ratio_max in unit"},
		{"unequal eq", func(l *Limit) { l.Op = OpEq }, "op eq from"},
		{"measured text", func(l *Limit) { l.Op, l.Lo, l.Hi = OpText, 0, 0 }, "can not be measured"},
		{"waiver on a rise", func(l *Limit) { l.ExemptGoing = 11 }, "exempt_going"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			bad := good
			r.spoil(&bad)
			if err := table(bad).Check(); err == nil || !strings.Contains(err.Error(), r.want) || !strings.Contains(err.Error(), "x.rise") {
				t.Errorf("error %v does not name x.rise and %q", err, r.want)
			}
		})
	}
	if err := table(good, good).Check(); err == nil || !strings.Contains(err.Error(), "used twice") {
		t.Errorf("a repeated id: error %v", err)
	}
}

func TestRulesAreCopies(t *testing.T) {
	a, err := Rules()
	if err != nil {
		t.Fatal(err)
	}
	b, _ := Rules()
	if !reflect.DeepEqual(a, b) {
		t.Fatal("two calls differ")
	}
	for i := range a {
		a[i].Title, a[i].Classes[0].ID = "spoilt", "spoilt"
		for k := range a[i].Limits {
			a[i].Limits[k].Hi = -1
			for c := range a[i].Limits[k].Classes {
				a[i].Limits[k].Classes[c] = "spoilt"
			}
		}
	}
	if c, _ := Rules(); !reflect.DeepEqual(b, c) {
		t.Error("a caller changed what the next caller sees")
	}
}

func TestRuleTableByID(t *testing.T) {
	if table, err := RuleTableByID("adk"); err != nil || table.Title != "Approved Document K" {
		t.Errorf("adk: %q, %v", table.Title, err)
	}
	if _, err := RuleTableByID("none"); err == nil || !strings.Contains(err.Error(), "irc") {
		t.Errorf("none: error %v does not say which tables there are", err)
	}
}

func limit(t *testing.T, id string) Limit {
	t.Helper()
	code, _, _ := strings.Cut(id, ".")
	table, err := RuleTableByID(code)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range table.Limits {
		if l.ID == id {
			return l
		}
	}
	t.Fatalf("no row %s", id)
	return Limit{}
}
