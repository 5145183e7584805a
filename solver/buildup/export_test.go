package buildup

import (
	"risewright/model"
	"risewright/solver/survey"
)

// MendWithin is Remedies with limits and reach of the test's choosing, so that
// a plain search of everything stays possible, and with every remedy returned.
func MendWithin(job model.Job, s *survey.Result, limits RiseLimits, stock model.Stock, plane, pack, floor float64) Mending {
	return mend(job, s, limits, stock, reach{plane: plane, pack: pack, floor: floor, remedies: 1 << allKinds})
}
