package model

import (
	"errors"
	"fmt"
)

// Edit is one change that can be undone. Apply returns the changed job and
// leaves the old one as it was; when it returns an error the job is unchanged.
type Edit interface {
	Apply(Job) (Job, error)
	// Label says in a few words what the edit does, for the undo menu.
	Label() string
}

// ErrNoSuchStep is returned by edits that name a step the job does not have.
var ErrNoSuchStep = errors.New("the job has no such step; it may have been removed by another edit")

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
	if e.Tolerance <= 0 {
		return j, errors.New("the tolerance must be more than 0; 0.8 mm (1/32 in) is usual for clear wood")
	}
	if e.SketchSpread <= 0 {
		return j, errors.New("the spread of the sketch must be more than 0; 25 mm (1 in) suits a rough sketch")
	}
	j.Name, j.Place, j.Notes = e.Name, e.Place, e.Notes
	j.Units, j.Fraction = e.Units, e.Fraction
	j.Code, j.CodeClass = e.Code, e.CodeClass
	j.Tolerance, j.SketchSpread = e.Tolerance, e.SketchSpread
	return j, nil
}

// Label implements Edit.
func (e SetDetails) Label() string { return "change job details" }

// SetOverlay replaces what will be laid.
type SetOverlay struct{ Overlay Overlay }

// Apply implements Edit.
func (e SetOverlay) Apply(j Job) (Job, error) {
	j.Overlay = e.Overlay
	return j, nil
}

// Label implements Edit.
func (e SetOverlay) Label() string { return "change overlay" }

// SetExisting replaces what stands there.
type SetExisting struct{ Existing Existing }

// Apply implements Edit.
func (e SetExisting) Apply(j Job) (Job, error) {
	j.Existing = e.Existing
	return j, nil
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
	j.Instruments = append([]Instrument(nil), e.Instruments...)
	j.States = append([]StateRow(nil), e.States...)
	return j, nil
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
	j.Flight.Rail = append([]Height(nil), e.Rail...)
	j.Flight.Headroom = append([]Height(nil), e.Headroom...)
	j.Flight.Doors = append([]Door(nil), e.Doors...)
	return j, nil
}

// Label implements Edit.
func (e SetChecks) Label() string { return "change rail, headroom or doors" }

// Batch applies several edits as one.
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
