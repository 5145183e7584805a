package model

import (
	"fmt"
	"math"
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
	if u := float64(j.Overlay.Undercut); math.IsNaN(u) || u < 0 || u > 10*float64(Degree) {
		add(Block, Place{Field: "overlay.undercut"}, "job.undercut", "the undercut is outside 0 to 10 degrees", "1 to 2 degrees is usual")
	}
	if j.Overlay.Back != BackUnderRiser && j.Overlay.Back != BackAgainstRiser {
		add(Block, Place{Field: "overlay.back"}, "job.back", fmt.Sprintf("the back joint is %q", j.Overlay.Back),
			fmt.Sprintf("write %q or %q", BackUnderRiser, BackAgainstRiser))
	}
	if len(j.Instruments) == 0 {
		add(Block, Place{Field: "instruments"}, "job.instruments", "the job has no table of instruments", "start from a new job, or copy the table from one")
	}
	for _, in := range j.Instruments {
		if !(in.Spread > 0) || math.IsInf(in.Spread, 0) {
			add(Block, Place{Field: "instruments"}, "job.instrument.spread",
				fmt.Sprintf("the spread of %q is %g", in.Name, in.Spread), "a spread is one standard deviation and must be more than 0")
		}
	}
	ids := map[ID]int{}
	for i, s := range j.Flight.Steps {
		if s.ID == (ID{}) {
			add(Block, Place{Step: i + 1}, "job.id", fmt.Sprintf("step %d has no id", i+1), "give it a UUID")
		} else if k, twice := ids[s.ID]; twice {
			add(Block, Place{Step: i + 1}, "job.id", fmt.Sprintf("steps %d and %d have the same id", k+1, i+1), "give each its own UUID")
		}
		ids[s.ID] = i
		out = append(out, s.validate(i+1, j)...)
	}
	out = append(out, validateReadings(j, j.Flight.Readings, 0)...)
	for _, h := range append(append([]Height(nil), j.Flight.Rail...), j.Flight.Headroom...) {
		if j.StepIndex(h.Step) < 0 {
			add(Block, Place{Field: "flight"}, "job.height", "a rail height or headroom point names a step the flight does not have", "remove it or choose another step")
		}
		if !(h.Value > 0) || bad(h.Value) {
			add(Block, Place{Field: "flight"}, "job.height", fmt.Sprintf("a rail height or headroom is %g mm", float64(h.Value)), "it must be more than 0")
		}
	}
	return out
}

func (s Step) validate(n int, j Job) []Finding {
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
		block("job.polygon", "the opening crosses itself, runs clockwise or has no area", "list the corners anticlockwise seen from above")
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
	if bad(s.Pack) || bad(s.Thickness) || s.Thickness < 0 {
		block("job.pack", "its packing or thickness is not a usable number", "give mm; negative packing is planing, a thickness is not below 0")
	}
	return append(out, validateReadings(j, s.Readings, n)...)
}

// validateReadings judges readings at step n (0: the whole flight).
func validateReadings(j Job, rs []Reading, n int) []Finding {
	var out []Finding
	where := "the flight"
	if n > 0 {
		where = fmt.Sprintf("step %d", n)
	}
	if len(rs) > MaxReadings {
		return []Finding{{Rule: "job.readings", Severity: Block, Where: Place{Step: n},
			Title: fmt.Sprintf("%s has %d readings", where, len(rs)), Remedy: fmt.Sprintf("at most %d are allowed", MaxReadings)}}
	}
	seen := map[ID]bool{}
	for _, r := range rs {
		block := func(rule, title, remedy string) {
			out = append(out, Finding{Rule: rule, Severity: Block, Where: Place{Step: n, Kind: r.Kind, Reading: r.ID},
				Title: fmt.Sprintf("%s, %s: %s", where, r.Kind.Words(), title), Remedy: remedy})
		}
		if r.ID == (ID{}) || seen[r.ID] {
			block("job.id", "the reading has no id, or another has the same", "give each reading its own UUID")
		}
		seen[r.ID] = true
		if r.Kind.Quantity() == "" {
			block("job.reading.kind", fmt.Sprintf("%q is not a kind of reading", r.Kind), "see the schema for the kinds")
			continue
		}
		if r.Kind.WholeFlight() != (n == 0) {
			block("job.reading.place", "it is filed in the wrong place", "readings of the whole flight belong to the flight, the others to a step")
		}
		if math.IsNaN(r.Value) || math.IsInf(r.Value, 0) || math.Abs(r.Value) > float64(MaxLength) {
			block("job.reading.value", "its value is not a number within range", "type the reading again")
			continue
		}
		switch r.Kind.Quantity() {
		case QuantityLength:
			if r.Value <= 0 && r.Kind != GoingLeft && r.Kind != GoingRight && r.Kind != RiseLeft && r.Kind != RiseRight {
				block("job.reading.value", fmt.Sprintf("it is %g mm", r.Value), "a width, depth or diagonal is more than 0")
			}
		case QuantityAngle:
			if r.Value <= 0 || r.Value >= 2*math.Pi {
				block("job.reading.value", fmt.Sprintf("it is %g rad", r.Value), "a corner lies between 0 and 360 degrees; square is 90")
			}
		case QuantityLean, QuantitySlope:
			if badAngle(Angle(r.Value)) {
				block("job.reading.value", fmt.Sprintf("it is %g rad", r.Value), "a lean or tilt is below 45 degrees")
			}
		}
		if _, ok := j.InstrumentByID(r.Instrument); !ok {
			block("job.reading.instrument", fmt.Sprintf("instrument %q is not in the job's table", r.Instrument), "choose one from the table, or add it")
		}
		ok := false
		for _, s := range States() {
			ok = ok || s == r.State
		}
		if !ok {
			block("job.reading.state", fmt.Sprintf("its state is %q", r.State), `write "guessed", "over carpet", "bare" or "checked"`)
		}
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

// simplePolygon says whether cs run anticlockwise round an area without
// crossing. Openings have at most six corners, so testing every pair of edges
// costs nothing.
func simplePolygon(cs []Corner) bool {
	n := len(cs)
	area := 0.0
	for i := range cs {
		a, b := cs[i], cs[(i+1)%n]
		area += float64(a.X)*float64(b.Y) - float64(b.X)*float64(a.Y)
	}
	// 1 mm2 is below any opening and far above the rounding of coordinates of
	// 1e5 mm (2e10 mm2 products, spacing 4e-6 mm2).
	if area < 1 {
		return false
	}
	for i := 0; i < n; i++ {
		for k := i + 2; k < n; k++ {
			if i == 0 && k == n-1 {
				continue
			}
			if segmentsCross(cs[i], cs[(i+1)%n], cs[k], cs[(k+1)%n]) {
				return false
			}
		}
	}
	return true
}

func segmentsCross(a, b, c, d Corner) bool {
	return turn(a, b, c)*turn(a, b, d) < 0 && turn(c, d, a)*turn(c, d, b) < 0
}

func turn(a, b, c Corner) float64 {
	v := float64(b.X-a.X)*float64(c.Y-a.Y) - float64(b.Y-a.Y)*float64(c.X-a.X)
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}
