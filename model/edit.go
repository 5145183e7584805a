package model

import (
	"errors"
	"fmt"
)

// Edit is one change that can be undone.
//
//  1. Apply returns the changed job and leaves the old one as it was.
//  2. When it returns an error, the job it returns is the old one.
//  3. It refuses what Validate would stop, so that every job an edit makes of
//     a valid one can be saved and opened again.
type Edit interface {
	Apply(Job) (Job, error)
	// Label says in a few words what the edit does, for the undo menu.
	Label() string
}

// ErrNoSuchStep is returned by edits that name a step the job does not have.
var ErrNoSuchStep = errors.New("the job has no such step; it may have been removed by another edit")

// kept returns after, unless it has a stop finding that before has not: then
// before, and an error that says so.
func kept(before, after Job) (Job, error) {
	var old map[Finding]bool
	for _, f := range after.Validate() {
		if f.Severity != Block {
			continue
		}
		if old == nil {
			old = map[Finding]bool{}
			for _, g := range before.Validate() {
				old[g] = true
			}
		}
		if !old[f] {
			return before, fmt.Errorf("%s; %s", f.Title, f.Remedy)
		}
	}
	return after, nil
}

// withStep returns the job with one step replaced by what change makes of it.
func withStep(j Job, id ID, change func(*Step) error) (Job, error) {
	i := j.StepIndex(id)
	if i < 0 {
		return j, ErrNoSuchStep
	}
	s := j.Flight.Steps[i].clone()
	if err := change(&s); err != nil {
		return j, err
	}
	steps := append([]Step(nil), j.Flight.Steps...)
	steps[i] = s
	j.Flight.Steps = steps
	return j, nil
}

// SetDetails changes the job's name, place, notes, units and limits.
type SetDetails struct {
	Name, Place, Notes string
	Units              Units
	Fraction           int
	Code, CodeClass    string
	Tolerance          Length
	SketchSpread       Length
}

// DetailsOf returns the edit that would leave j as it is; change what you want.
func DetailsOf(j Job) SetDetails {
	return SetDetails{
		Name: j.Name, Place: j.Place, Notes: j.Notes, Units: j.Units, Fraction: j.Fraction,
		Code: j.Code, CodeClass: j.CodeClass, Tolerance: j.Tolerance, SketchSpread: j.SketchSpread,
	}
}

// Apply implements Edit.
func (e SetDetails) Apply(j Job) (Job, error) {
	if !(e.Tolerance > 0) {
		return j, errors.New("the tolerance must be more than 0; 0.8 mm (1/32 in) is usual for clear wood")
	}
	if !(e.SketchSpread > 0) {
		return j, errors.New("the spread of the sketch must be more than 0; 25 mm (1 in) suits a rough sketch")
	}
	out := j
	out.Name, out.Place, out.Notes = e.Name, e.Place, e.Notes
	out.Units, out.Fraction = e.Units, e.Fraction
	out.Code, out.CodeClass = e.Code, e.CodeClass
	out.Tolerance, out.SketchSpread = e.Tolerance, e.SketchSpread
	return kept(j, out)
}

// Label implements Edit.
func (e SetDetails) Label() string { return "change job details" }

// SetOverlay replaces what will be laid.
type SetOverlay struct{ Overlay Overlay }

// Apply implements Edit.
func (e SetOverlay) Apply(j Job) (Job, error) {
	out := j
	out.Overlay = e.Overlay
	return kept(j, out)
}

// Label implements Edit.
func (e SetOverlay) Label() string { return "change overlay" }

// SetExisting replaces what stands there.
type SetExisting struct{ Existing Existing }

// Apply implements Edit.
func (e SetExisting) Apply(j Job) (Job, error) {
	out := j
	out.Existing = e.Existing
	return kept(j, out)
}

// Label implements Edit.
func (e SetExisting) Label() string { return "change existing structure" }

// SetInstruments replaces the job's own tables of instruments and states.
type SetInstruments struct {
	Instruments []Instrument
	States      []StateRow
}

// Apply implements Edit.
func (e SetInstruments) Apply(j Job) (Job, error) {
	out := j
	out.Instruments = append([]Instrument(nil), e.Instruments...)
	for i := range out.Instruments {
		out.Instruments[i].Default = append([]Kind(nil), out.Instruments[i].Default...)
	}
	out.States = append([]StateRow(nil), e.States...)
	return kept(j, out)
}

// Label implements Edit.
func (e SetInstruments) Label() string { return "change instruments" }

// SetChecks replaces the rail heights, headroom points and doors.
type SetChecks struct {
	Rail     []Height
	Headroom []Height
	Doors    []Door
}

// Apply implements Edit.
func (e SetChecks) Apply(j Job) (Job, error) {
	out := j
	out.Flight.Rail = append([]Height(nil), e.Rail...)
	out.Flight.Headroom = append([]Height(nil), e.Headroom...)
	out.Flight.Doors = append([]Door(nil), e.Doors...)
	return kept(j, out)
}

// Label implements Edit.
func (e SetChecks) Label() string { return "change rail, headroom or doors" }

// Batch applies several edits as one. Each must leave a job that can be saved,
// so new instruments come before the readings that name them.
type Batch struct {
	Name  string
	Edits []Edit
}

// Apply implements Edit. Either all edits apply or none.
func (e Batch) Apply(j Job) (Job, error) {
	out := j
	for i, x := range e.Edits {
		var err error
		if out, err = x.Apply(out); err != nil {
			return j, fmt.Errorf("%s, part %d of %d (%s): %w", e.Name, i+1, len(e.Edits), x.Label(), err)
		}
	}
	return out, nil
}

// Label implements Edit.
func (e Batch) Label() string { return e.Name }
