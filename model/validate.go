package model

import (
	"fmt"
	"math"
	"slices"
)

// Limits on the size of a job. They keep a damaged or hostile file from
// exhausting memory and lie far beyond any stair.
const (
	MinSteps = 2
	// UsualMaxSteps is the most risers a flight is expected to have; more is
	// allowed, with a note.
	UsualMaxSteps = 40
	// MaxSteps is the most a flight may have at all.
	MaxSteps = 1000
	// MaxReadings is the most readings a step or a flight may hold.
	MaxReadings = 400
	// MaxRows is the most instruments, rail heights, headroom points or doors.
	MaxRows = 1000
	// maxDefaults is the most kinds an instrument may be offered for first;
	// there are 23 kinds.
	maxDefaults = 100
	// MaxLength bounds every coordinate and length: 500 m, so 1,000 steps fit.
	MaxLength Length = 500_000
	// MaxText bounds a name or a note, in bytes.
	MaxText = 20_000
)

// Validate judges the job and returns every finding, worst first within each
// step. A job with a Block finding cannot be solved.
func (j Job) Validate() []Finding {
	var out []Finding
	add := func(sev Severity, where Place, rule, title, remedy string) {
		out = append(out, Finding{Rule: rule, Severity: sev, Where: where, Title: title, Remedy: remedy})
	}
	n := len(j.Flight.Steps)
	if n < MinSteps || n > MaxSteps {
		add(Block, Place{Field: "flight.steps"}, "job.steps",
			fmt.Sprintf("the flight has %d risers", n),
			fmt.Sprintf("a flight has from %d to %d risers", MinSteps, MaxSteps))
	} else if n > UsualMaxSteps {
		add(Note, Place{Field: "flight.steps"}, "job.steps.many",
			fmt.Sprintf("the flight has %d risers; more than %d is unusual", n, UsualMaxSteps), "check the count")
	}
	for _, t := range []struct{ field, text string }{
		{"name", j.Name}, {"place", j.Place}, {"notes", j.Notes}, {"code", j.Code}, {"code_class", j.CodeClass},
	} {
		if len(t.text) > MaxText {
			add(Block, Place{Field: t.field}, "job.text", fmt.Sprintf("the %s has %d characters", t.field, len(t.text)), fmt.Sprintf("at most %d are kept; shorten it", MaxText))
		}
	}
	if !slices.Contains([]int{0, 2, 4, 8, 16, 32, 64, 128}, j.Fraction) {
		add(Block, Place{Field: "fraction"}, "job.fraction", fmt.Sprintf("lengths are shown to 1/%d in", j.Fraction), "write 16 or 32, or another halving of the inch")
	}
	if j.Revision < 0 || j.Revision > absurdNumber {
		add(Block, Place{Field: "revision"}, "job.revision", fmt.Sprintf("the revision is %d", j.Revision), "it counts changes from 0")
	}
	if j.Units != Imperial && j.Units != Metric {
		add(Block, Place{Field: "units"}, "job.units", fmt.Sprintf("the units are %q", j.Units), `write "imperial" or "metric"`)
	}
	pos := func(field string, l Length, what string) {
		if !(l > 0) || bad(l) {
			add(Block, Place{Field: field}, "job.size", fmt.Sprintf("%s is %g mm", what, float64(l)), "it must be more than 0")
		}
	}
	notNeg := func(field string, l Length, what string) {
		if !(l >= 0) || bad(l) {
			add(Block, Place{Field: field}, "job.size", fmt.Sprintf("%s is %g mm", what, float64(l)), "it must be 0 or more")
		}
	}
	pos("tolerance", j.Tolerance, "the tolerance of a cut")
	pos("sketch_spread", j.SketchSpread, "the spread of the sketch")
	notNeg("existing.tread", j.Existing.Tread, "the existing tread's thickness")
	notNeg("existing.riser", j.Existing.Riser, "the existing riser's thickness")
	notNeg("existing.overhang", j.Existing.Overhang, "the existing overhang")
	pos("overlay.tread", j.Overlay.Tread, "the new tread's thickness")
	pos("overlay.riser", j.Overlay.Riser, "the new riser's thickness")
	pos("overlay.landing", j.Overlay.Landing, "the landing nosing's thickness")
	pos("overlay.landing_depth", j.Overlay.LandingDepth, "the landing nosing's depth")
	notNeg("overlay.overhang", j.Overlay.Overhang, "the new overhang")
	notNeg("overlay.fit", j.Overlay.Fit, "the fit allowance")
	notNeg("overlay.riser_gap", j.Overlay.RiserGap, "the gap above a riser")
	notNeg("overlay.floor_bottom", j.Overlay.FloorBottom, "the build-up of the bottom floor")
	notNeg("overlay.floor_top", j.Overlay.FloorTop, "the build-up of the top floor")
	notNeg("overlay.return", j.Overlay.Return, "the width of the return nosings")
	if u := float64(j.Overlay.Undercut); math.IsNaN(u) || u < 0 || u > 10*float64(Degree) {
		add(Block, Place{Field: "overlay.undercut"}, "job.undercut", "the undercut is outside 0 to 10 degrees", "1 to 2 degrees is usual")
	}
	if j.Overlay.Back != BackUnderRiser && j.Overlay.Back != BackAgainstRiser {
		add(Block, Place{Field: "overlay.back"}, "job.back", fmt.Sprintf("the back joint is %q", j.Overlay.Back),
			fmt.Sprintf("write %q or %q", BackUnderRiser, BackAgainstRiser))
	}
	out = append(out, j.validateTables()...)
	ids := map[ID]int{}
	readings := map[ID]bool{}
	for i, s := range j.Flight.Steps {
		if s.ID == (ID{}) {
			add(Block, Place{Step: i + 1}, "job.id", fmt.Sprintf("step %d has no id", i+1), "give it a UUID")
		} else if k, twice := ids[s.ID]; twice {
			add(Block, Place{Step: i + 1}, "job.id", fmt.Sprintf("steps %d and %d have the same id", k+1, i+1), "give each its own UUID")
		}
		ids[s.ID] = i
		out = append(out, s.validate(i+1)...)
	}
	if n > 0 && j.Flight.Steps[n-1].Landing {
		add(Block, Place{Step: n}, "job.landing", fmt.Sprintf("step %d is the top floor and is called a landing between flights", n), "only a step with a flight above it can be one")
	}
	out = append(out, j.validateBalusters()...)
	out = append(out, j.validateLimits()...)
	out = append(out, validateReadings(j, j.Flight.Readings, 0, readings)...)
	for i, s := range j.Flight.Steps {
		out = append(out, validateReadings(j, s.Readings, i+1, readings)...)
	}
	out = append(out, j.Wishes.Validate()...)
	out = append(out, j.Shop.Validate()...)
	out = append(out, j.Look.Validate()...)
	out = append(out, j.Lighting.Validate()...)
	out = append(out, j.Sensing.Validate()...)
	return append(out, j.validateChecks()...)
}

// validateTables judges the job's own instruments and states.
func (j Job) validateTables() []Finding {
	var out []Finding
	add := func(field, rule, title, remedy string) {
		out = append(out, Finding{Rule: rule, Severity: Block, Where: Place{Field: field}, Title: title, Remedy: remedy})
	}
	standings := []Standing{Seen, Transcription, Secondary, Memory, Yours}
	if n := len(j.Instruments); n == 0 {
		add("instruments", "job.instruments", "the job has no table of instruments", "start from a new job, or copy the table from one")
	} else if n > MaxRows {
		add("instruments", "job.instruments", fmt.Sprintf("the job has %d instruments", n), fmt.Sprintf("at most %d are kept", MaxRows))
	}
	ids := map[string]bool{}
	for i, in := range j.Instruments {
		field := fmt.Sprintf("instruments.%d", i)
		if in.ID == "" || ids[in.ID] {
			add(field, "job.instrument.id", fmt.Sprintf("instrument %q has no id, or another has the same", in.Name), "give each row an id of its own, such as steel-rule")
		}
		ids[in.ID] = true
		if len(in.ID)+len(in.Name)+len(in.Note) > MaxText {
			add(field, "job.text", "the text of an instrument is too long", fmt.Sprintf("at most %d characters are kept; shorten it", MaxText))
			continue
		}
		if !slices.Contains([]Quantity{QuantityLength, QuantityAngle, QuantityLean, QuantitySlope}, in.Measures) {
			add(field, "job.instrument.measures", fmt.Sprintf("%q measures %q", in.Name, in.Measures), `write "length", "angle", "lean" or "slope"`)
		}
		if !(in.Spread > 0) || bad(Length(in.Spread)) {
			add(field, "job.instrument.spread",
				fmt.Sprintf("the spread of %q is %g", in.Name, in.Spread), "a spread is one standard deviation and must be more than 0")
		}
		if !slices.Contains(standings, in.Standing) {
			add(field, "job.standing", fmt.Sprintf("the standing of %q is %q", in.Name, in.Standing), `write "memory", or "yours" for a value you set`)
		}
		if n := len(in.Default); n > maxDefaults {
			add(field, "job.reading.kind", fmt.Sprintf("%q is offered for %d kinds", in.Name, n), fmt.Sprintf("at most %d are kept", maxDefaults))
			continue
		}
		for _, k := range in.Default {
			if k.Quantity() == "" {
				add(field, "job.reading.kind", fmt.Sprintf("%q is offered for %q, which is not a kind of reading", in.Name, k), "see the schema for the kinds")
			}
		}
	}
	states := map[State]bool{}
	for i, s := range j.States {
		field := fmt.Sprintf("states.%d", i)
		if states[s.State] || !slices.Contains(States(), s.State) {
			add(field, "job.state", fmt.Sprintf("the state %q is not known, or is there twice", s.State), `the states are "guessed", "over carpet", "bare" and "checked", once each`)
		}
		states[s.State] = true
		for _, v := range []float64{s.Length, s.Angle, s.Slope} {
			if !(v >= 0) || bad(Length(v)) {
				add(field, "job.state.spread", fmt.Sprintf("the state %q adds a spread of %g", s.State, v), "it must be 0 or more")
			}
		}
		if !slices.Contains(standings, s.Standing) {
			add(field, "job.standing", fmt.Sprintf("the standing of state %q is %q", s.State, s.Standing), `write "memory", or "yours" for a value you set`)
		}
	}
	return out
}

// validateChecks judges the rail heights, headroom points and doors.
func (j Job) validateChecks() []Finding {
	var out []Finding
	ids := map[ID]bool{}
	add := func(field, rule, title, remedy string) {
		out = append(out, Finding{Rule: rule, Severity: Block, Where: Place{Field: field}, Title: title, Remedy: remedy})
	}
	own := func(field string, id ID, what string) {
		if id == (ID{}) || ids[id] {
			add(field, "job.id", what+" has no id, or another has the same", "give each its own UUID")
		}
		ids[id] = true
	}
	for _, list := range []struct {
		field, what string
		heights     []Height
	}{{"flight.rail", "a rail height", j.Flight.Rail}, {"flight.headroom", "a headroom point", j.Flight.Headroom}} {
		if n := len(list.heights); n > MaxRows {
			add(list.field, "job.height", fmt.Sprintf("there are %d heights", n), fmt.Sprintf("at most %d are kept", MaxRows))
			continue
		}
		for i, h := range list.heights {
			field := fmt.Sprintf("%s.%d", list.field, i)
			own(field, h.ID, list.what)
			if j.StepIndex(h.Step) < 0 {
				add(field, "job.height", list.what+" names a step the flight does not have", "remove it or choose another step")
			}
			if !(h.Value > 0) || bad(h.Value) {
				add(field, "job.height", fmt.Sprintf("%s is %g mm", list.what, float64(h.Value)), "it must be more than 0")
			}
			if len(h.Typed) > MaxText {
				add(field, "job.text", "the text typed for "+list.what+" is too long", "type it again")
			}
		}
	}
	if n := len(j.Flight.Doors); n > MaxRows {
		add("flight.doors", "job.door", fmt.Sprintf("there are %d doors", n), fmt.Sprintf("at most %d are kept", MaxRows))
		return out
	}
	for i, d := range j.Flight.Doors {
		field := fmt.Sprintf("flight.doors.%d", i)
		own(field, d.ID, "a door")
		if !(d.Gap >= 0) || bad(d.Gap) || !(d.Clearance >= 0) || bad(d.Clearance) {
			add(field, "job.door", fmt.Sprintf("the door %q has a gap of %g mm and a clearance of %g mm", shorten(d.Name), float64(d.Gap), float64(d.Clearance)), "both must be 0 or more")
		}
		if len(d.Name) > MaxText {
			add(field, "job.text", "the name of a door is too long", "shorten it")
		}
	}
	return out
}

// validate judges the step, the n-th from the bottom, but not its readings.
func (s Step) validate(n int) []Finding {
	var out []Finding
	block := func(rule, title, remedy string) {
		out = append(out, Finding{Rule: rule, Severity: Block, Where: Place{Step: n}, Title: fmt.Sprintf("step %d: %s", n, title), Remedy: remedy})
	}
	if c := len(s.Corners); c < MinCorners || c > MaxCorners {
		block("job.corners", fmt.Sprintf("the opening has %d corners", c), fmt.Sprintf("an opening has from %d to %d", MinCorners, MaxCorners))
		return out
	}
	if len(s.Edges) != len(s.Corners) {
		block("job.edges", fmt.Sprintf("%d edges are named for %d corners", len(s.Edges), len(s.Corners)), "name one edge for each corner")
		return out
	}
	if why := edgesInOrder(s.Edges); why != "" {
		block("job.edges", why, "name them front, right, back, left, going round anticlockwise seen from above")
		return out
	}
	for _, c := range s.Corners {
		if bad(c.X) || bad(c.Y) {
			block("job.corner", "a corner is not a number within 500 m", "draw the corner again")
			return out
		}
	}
	if !simplePolygon(s.Corners) {
		block("job.polygon", "the opening crosses or touches itself, runs clockwise or has no area", "list the corners anticlockwise seen from above")
	}
	if bad(s.TopLeft) || bad(s.TopRight) || badAngle(s.Fall) {
		block("job.height", "its sketched height or tilt is not a usable number", "give heights in mm above the old bottom floor, and a tilt below 45 degrees")
	}
	for _, side := range []Side{s.Left, s.Right} {
		if side.Kind != Wall && side.Kind != Skirt && side.Kind != Open {
			block("job.side", fmt.Sprintf("a side is %q", side.Kind), `write "wall", "skirt" or "open"`)
		}
		if badAngle(side.Lean) {
			block("job.lean", "the lean of a side is not a number below 45 degrees", "give the lean from plumb")
		}
	}
	if s.Nosing != NosingKept && s.Nosing != NosingCut && s.Nosing != NosingPacked {
		block("job.nosing", fmt.Sprintf("the existing nosing is %q", s.Nosing), `write "kept", "cut" or "packed out"`)
	}
	for _, r := range []struct {
		radius Length
		side   Side
		name   string
	}{{s.RoundLeft, s.Left, "left"}, {s.RoundRight, s.Right, "right"}} {
		switch {
		case bad(r.radius) || r.radius < 0:
			block("job.round", fmt.Sprintf("the radius of its %s front corner is %g mm", r.name, float64(r.radius)), "give 0 for a corner that is not round, or a radius")
		case r.radius > 0 && r.side.Kind != Open:
			block("job.round", fmt.Sprintf("its %s front corner is round and that side is not open", r.name), "make the side open, or the radius 0")
		}
	}
	if bad(s.PackLeft) || bad(s.PackRight) || bad(s.Thickness) || s.Thickness < 0 {
		block("job.pack", "its packing or thickness is not a usable number", "give mm; negative packing is planing, a thickness is not below 0")
	}
	return out
}

func badAngle(a Angle) bool {
	return math.IsNaN(float64(a)) || math.Abs(float64(a)) >= math.Pi/4
}

// edgesInOrder returns why the edges are not one front, then right, then one
// back, then left, or the empty string. A winder may lack one of its sides.
func edgesInOrder(es []Edge) string {
	rank := map[Edge]int{Front: 0, Right: 1, Back: 2, Left: 3}
	fronts, backs, last := 0, 0, -1
	for _, e := range es {
		r, ok := rank[e]
		if !ok {
			return fmt.Sprintf("an edge is called %q", e)
		}
		if r < last {
			return "the edges are out of order"
		}
		last = r
		if e == Front {
			fronts++
		}
		if e == Back {
			backs++
		}
	}
	if fronts != 1 || backs != 1 {
		return fmt.Sprintf("it has %d front and %d back edges; it needs one of each", fronts, backs)
	}
	if es[0] != Front {
		return "the first edge is not the front"
	}
	return ""
}
