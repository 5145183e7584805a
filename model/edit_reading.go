package model

import (
	"errors"
	"fmt"
)

// SetReading adds a reading, or replaces the one with the same id. The zero
// Step puts it on the flight as a whole.
type SetReading struct {
	Step    ID
	Reading Reading
}

// Apply implements Edit. It refuses a reading that Validate would stop, and
// one whose id belongs to a reading elsewhere in the job.
func (e SetReading) Apply(j Job) (Job, error) {
	r := e.Reading
	n := 0 // step, counted from 1
	if e.Step != (ID{}) {
		if n = j.StepIndex(e.Step) + 1; n == 0 {
			return j, ErrNoSuchStep
		}
	}
	if f, wrong := r.fault(j, n); wrong {
		return j, fmt.Errorf("%s: %s; %s", r.Kind.Words(), f.Title, f.Remedy)
	}
	if r.ID == (ID{}) {
		return j, fmt.Errorf("%s: the reading has no id", r.Kind.Words())
	}
	_, at, old := j.Reading(r.ID)
	if old && at != n-1 {
		return j, fmt.Errorf("%s: this reading is already filed elsewhere in the job; remove it there first", r.Kind.Words())
	}
	full := func(rs []Reading) bool { return !old && len(rs) >= MaxReadings }
	tooMany := fmt.Errorf("%s: there are %d readings here already; remove one first", r.Kind.Words(), MaxReadings)
	if n == 0 {
		if full(j.Flight.Readings) {
			return j, tooMany
		}
		out := j
		out.Flight.Readings = putReading(j.Flight.Readings, r)
		out.Revision++
		return out, nil
	}
	out, err := withStep(j, e.Step, func(s *Step) error {
		if full(s.Readings) {
			return tooMany
		}
		s.Readings = putReading(s.Readings, r)
		return nil
	})
	if err != nil {
		return j, err
	}
	out.Revision++
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
	if len(ids) == 0 {
		return j, errors.New("no reading is chosen")
	}
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
		return j, fmt.Errorf("%d of %d readings are no longer in the job; they may have been removed by another edit", len(want)-found, len(want))
	}
	out.Revision++
	return out, nil
}
