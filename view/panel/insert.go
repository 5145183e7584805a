package panel

import "risewright/model"

// InsertedStep returns the edit that puts a step like the one at index i (0 at
// the bottom) above it (above 1) or below it (above 0). The landing nosing
// stays the last, and no step is made like it: the tread below it serves.
func InsertedStep(j model.Job, i, above int) (model.Edit, error) {
	n := len(j.Flight.Steps)
	if i < 0 || i >= n {
		return nil, model.ErrNoSuchStep
	}
	return model.NewTread(j, min(i+above, n-1), min(i, n-2), model.NewID())
}
