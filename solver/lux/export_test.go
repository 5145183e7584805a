package lux

import "context"

// SolvePatches is Solve with surfaces cut into other patches than usual.
func SolvePatches(p Problem, set Settings, across, deep int) Result {
	r, _ := solve(context.Background(), p, set, across, deep)
	return r
}
