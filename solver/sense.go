package solver

import (
	"risewright/model"
	"risewright/solver/sensing"
)

// Sense works out what the sensors of an answer's job see. It takes a few
// milliseconds a sensor and so is not part of Solve; zones of before, an earlier
// result or nil, that still hold are taken over, so that while one sensor is
// dragged only its own is worked out. An answer that could not be solved, or a
// job without sensors, gives a result without zones.
func Sense(a *Answer, t model.Tables, before *sensing.Result) sensing.Result {
	if a.Survey == nil || !a.Job.Sensing.On() {
		return sensing.Result{}
	}
	return sensing.Solve(&a.Job, StairOf(a, t), before)
}

// StairOf returns the stair of an answer as sensors see it, or nil when it has
// none.
func StairOf(a *Answer, t model.Tables) *sensing.Stair {
	if a.Survey == nil {
		return nil
	}
	tables := t.Senses.With(a.Job.Sensing.Own)
	return sensing.From(&a.Job, a.Survey, a.Pieces, a.Balusters, &tables)
}
