package panel

import (
	"fmt"

	"risewright/solver"
)

// besideOf returns the work of w with the order of its candidate i instead of
// the winner's.
func besideOf(w *solver.Work, i int) (out *solver.Work, why string) {
	defer func() {
		if cause := recover(); cause != nil {
			out, why = nil, fmt.Sprintf("the program failed while laying it out: %v", cause)
		}
	}()
	out, ok := w.Beside(i)
	if !ok {
		return nil, "there is no such order"
	}
	return out, ""
}
