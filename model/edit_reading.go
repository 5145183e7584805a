package model

import (
	"fmt"
	"math"
)

// SetReading adds a reading, or replaces the one with the same id. The zero
// Step puts it on the flight as a whole.
type SetReading struct {
	Step    ID
	Reading Reading
}

// Apply implements Edit. It refuses a value that is not a number and a kind
// that does not belong where it is put.
func (e SetReading) Apply(j Job) (Job, error) {
	r := e.Reading
	if math.IsNaN(r.Value) || math.IsInf(r.Value, 0) {
		return j, fmt.Errorf("%s: the value is not a number; type it again", r.Kind.Words())
	}
	if r.Kind.Quantity() == "" {
		return j, fmt.Errorf("%q is not a kind of reading", r.Kind)
	}
	if _, ok := j.InstrumentByID(r.Instrument); !ok {
		return j, fmt.Errorf("%s: the job has no instrument %q; choose one from its table", r.Kind.Words(), r.Instrument)
	}
	if r.Kind.WholeFlight() != (e.Step == ID{}) {
		if r.Kind.WholeFlight() {
			return j, fmt.Errorf("%s is read once for the whole flight, not at a step", r.Kind.Words())
		}
		return j, fmt.Errorf("%s is read at a step, not for the whole flight", r.Kind.Words())
	}
	j.Revision++
	if r.Kind.WholeFlight() {
		j.Flight.Readings = putReading(j.Flight.Readings, r)
		return j, nil
	}
	out, err := withStep(j, e.Step, func(s *Step) error {
		s.Readings = putReading(s.Readings, r)
		return nil
	})
	if err != nil {
		j.Revision--
		return j, err
	}
	return out, nil
}

// Label implements Edit.
func (e SetReading) Label() string { return "read " + e.Reading.Kind.Words() }

// putReading returns a new slice with r in place of the reading of the same
// id, or at the end.
func putReading(rs []Reading, r Reading) []Reading {
	out := append([]Reading(nil), rs...)
	for i := range out {
		if out[i].ID == r.ID {
			out[i] = r
			return out
		}
	}
	return append(out, r)
}

// RemoveReadings takes readings out of the job.
type RemoveReadings struct{ IDs []ID }

// Apply implements Edit.
func (e RemoveReadings) Apply(j Job) (Job, error) {
	return eachReading(j, e.IDs, func(*Reading) bool { return false })
}

// Label implements Edit.
func (e RemoveReadings) Label() string { return "remove reading" }

// SetAside keeps readings in the job but out of the estimate, or brings them
// back.
type SetAside struct {
	IDs   []ID
	Aside bool
}

// Apply implements Edit.
func (e SetAside) Apply(j Job) (Job, error) {
	return eachReading(j, e.IDs, func(r *Reading) bool { r.Aside = e.Aside; return true })
}

// Label implements Edit.
func (e SetAside) Label() string {
	if e.Aside {
		return "set reading aside"
	}
	return "use reading again"
}

// eachReading returns the job with every named reading changed in a copy;
// change returns false to drop it. Naming one that is not there is an error.
func eachReading(j Job, ids []ID, change func(*Reading) bool) (Job, error) {
	want := make(map[ID]bool, len(ids))
	for _, id := range ids {
		want[id] = true
	}
	found := 0
	edit := func(rs []Reading) []Reading {
		hit := false
		for _, r := range rs {
			hit = hit || want[r.ID]
		}
		if !hit {
			return rs
		}
		out := make([]Reading, 0, len(rs))
		for _, r := range rs {
			if want[r.ID] {
				found++
				if !change(&r) {
					continue
				}
			}
			out = append(out, r)
		}
		return out
	}
	out := j
	out.Flight.Readings = edit(j.Flight.Readings)
	out.Flight.Steps = append([]Step(nil), j.Flight.Steps...)
	for i := range out.Flight.Steps {
		out.Flight.Steps[i].Readings = edit(out.Flight.Steps[i].Readings)
	}
	if found != len(want) {
		return j, fmt.Errorf("%d of %d readings are no longer in the job", len(want)-found, len(want))
	}
	out.Revision++
	return out, nil
}
