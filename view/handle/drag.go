package handle

import (
	"errors"

	"risewright/model"
	"risewright/solver"
	"risewright/view/drawing"
)

// Drag returns the edit that a drag of handle id from one point of its drawing
// to another makes of job. a answers job as it was at the press; see the
// package comment for what follows the pointer.
func Drag(job model.Job, a *solver.Answer, id ID, from, to drawing.Point, o Options) (model.Edit, error) {
	return nil, errors.New("not yet")
}

// Release is Drag for a handle that readings hold: it sets them aside and moves
// the sketch, in one edit.
func Release(job model.Job, a *solver.Answer, id ID, from, to drawing.Point, o Options) (model.Edit, error) {
	return nil, errors.New("not yet")
}

// HeldBy returns the ids of the readings that hold handle id, in job order.
func HeldBy(a *solver.Answer, id ID) []model.ID { return nil }
