package model

import (
	"fmt"
	"math"
	"slices"
)

// validateReadings judges readings at step n (0: the whole flight). The ids in
// seen are taken, and those of rs are added to it.
func validateReadings(j Job, rs []Reading, n int, seen map[ID]bool) []Finding {
	where := "the flight"
	if n > 0 {
		where = fmt.Sprintf("step %d", n)
	}
	if len(rs) > MaxReadings {
		return []Finding{{Rule: "job.readings", Severity: Block, Where: Place{Step: n},
			Title: fmt.Sprintf("%s has %d readings", where, len(rs)), Remedy: fmt.Sprintf("at most %d are allowed", MaxReadings)}}
	}
	var out []Finding
	for _, r := range rs {
		if r.ID == (ID{}) || seen[r.ID] {
			out = append(out, Finding{Rule: "job.id", Severity: Block, Where: Place{Step: n, Kind: r.Kind, Reading: r.ID},
				Title:  fmt.Sprintf("%s, %s: the reading has no id, or another has the same", where, r.Kind.Words()),
				Remedy: "give each reading its own UUID"})
		}
		seen[r.ID] = true
		if f, ok := r.fault(j, n); ok {
			f.Title = fmt.Sprintf("%s, %s: %s", where, r.Kind.Words(), f.Title)
			out = append(out, f)
		}
	}
	return out
}

// fault returns the first thing wrong with a reading at step n (0: the whole
// flight), its title without the place, and whether there is any.
func (r Reading) fault(j Job, n int) (Finding, bool) {
	block := func(rule, title, remedy string) (Finding, bool) {
		return Finding{Rule: rule, Severity: Block, Where: Place{Step: n, Kind: r.Kind, Reading: r.ID}, Title: title, Remedy: remedy}, true
	}
	if r.Kind.Quantity() == "" {
		return block("job.reading.kind", fmt.Sprintf("%q is not a kind of reading", shorten(string(r.Kind))), "see the schema for the kinds")
	}
	if r.Kind.WholeFlight() && n > 0 {
		return block("job.reading.place", "it is read once for the whole flight, not at a step", "file it with the readings of the flight")
	}
	if !r.Kind.WholeFlight() && n == 0 {
		return block("job.reading.place", "it is read at a step, not for the whole flight", "file it with the readings of its step")
	}
	if math.IsNaN(r.Value) || math.Abs(r.Value) > float64(MaxLength) {
		return block("job.reading.value", "its value is not a number within range", "type the reading again")
	}
	switch r.Kind.Quantity() {
	case QuantityLength:
		// only a going and a rise may run backwards or be nothing: between
		// neighbours that lie badly
		if r.Value <= 0 && r.Kind != GoingLeft && r.Kind != GoingRight && r.Kind != RiseLeft && r.Kind != RiseRight {
			return block("job.reading.value", fmt.Sprintf("it is %g mm", r.Value), "a width, depth, diagonal or total is more than 0")
		}
	case QuantityAngle:
		if r.Value <= 0 || r.Value >= 2*math.Pi {
			return block("job.reading.value", fmt.Sprintf("it is %g°", Angle(r.Value).Degrees()), "a corner lies between 0 and 360 degrees; square is 90")
		}
	case QuantityLean, QuantitySlope:
		if badAngle(Angle(r.Value)) {
			return block("job.reading.value", fmt.Sprintf("it is %g°", Angle(r.Value).Degrees()), "a lean or tilt is below 45 degrees")
		}
	}
	in, ok := j.InstrumentByID(r.Instrument)
	if !ok {
		return block("job.reading.instrument", fmt.Sprintf("instrument %q is not in the job's table", shorten(r.Instrument)), "choose one from the table, or add it")
	}
	if in.Measures != r.Kind.Quantity() {
		// its spread is in another unit, so its weight would be nonsense
		return block("job.reading.instrument", fmt.Sprintf("%q does not measure this: it is for %s, and this is %s", in.Name, in.Measures, r.Kind.Quantity()), "choose the instrument that was used")
	}
	if !slices.Contains(States(), r.State) {
		return block("job.reading.state", fmt.Sprintf("its state is %q", shorten(string(r.State))), `write "guessed", "over carpet", "bare" or "checked"`)
	}
	// A state without a row adds nothing, which is right for bare wood only: a
	// guess would otherwise weigh as much as a rod.
	if !r.State.OnBareWood() && !slices.ContainsFunc(j.States, func(s StateRow) bool { return s.State == r.State }) {
		return block("job.reading.state", fmt.Sprintf("the job's table has no spread for %q", r.State), "add the state to the table")
	}
	if len(r.Typed) > MaxText || len(r.Note) > MaxText {
		return block("job.text", "its note or typed text is too long", fmt.Sprintf("at most %d characters are kept; shorten it", MaxText))
	}
	if y := r.Taken.Year(); y < 1 || y > 9999 {
		return block("job.reading.time", "its time lies outside the years 1 to 9999", "set the computer's clock and take it again")
	}
	return Finding{}, false
}
