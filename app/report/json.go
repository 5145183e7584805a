package report

import (
	"errors"

	"risewright/solver"
	"risewright/solver/buildup"
)

// JSON is being written.
func JSON(a *solver.Answer, m buildup.Mending) ([]byte, error) { return nil, errors.New("not yet") }
