package panel

import (
	"fmt"

	"risewright/model"
)

// InsertedStep returns the edit that puts a step like the one at index i (0 at
// the bottom) above it (above 1) or below it (above 0). The steps from there
// on move up by a rise and on by a going, so that the flight stays a flight.
// The landing nosing stays the last: a step asked for above it goes below.
func InsertedStep(j model.Job, i, above int) (model.Edit, error) {
	n := len(j.Flight.Steps)
	if i < 0 || i >= n {
		return nil, model.ErrNoSuchStep
	}
	at := i + above
	if at >= n {
		at = n - 1
	}
	// the pattern is a tread, not the landing nosing
	like := j.Flight.Steps[min(i, n-2)]
	next := j.Flight.Steps[min(i, n-2)+1]
	a, b := like.FrontLeft(), next.FrontLeft()
	if a < 0 || b < 0 {
		return nil, fmt.Errorf("step %d has no front edge to go by", min(i, n-2)+1)
	}
	dx, dy := next.Corners[b].X-like.Corners[a].X, next.Corners[b].Y-like.Corners[a].Y
	rise := next.TopLeft - like.TopLeft

	s := like
	s.ID, s.Readings, s.Pack = model.NewID(), nil, 0
	// the new step stands where the one at its index stood
	old := j.Flight.Steps[at]
	shiftX, shiftY := old.Corners[old.FrontLeft()].X-like.Corners[a].X, old.Corners[old.FrontLeft()].Y-like.Corners[a].Y
	s.Corners = make([]model.Corner, len(like.Corners))
	for c, p := range like.Corners {
		s.Corners[c] = model.Corner{X: p.X + shiftX, Y: p.Y + shiftY}
	}
	s.TopLeft = like.TopLeft + old.TopLeft - like.TopLeft
	s.TopRight = like.TopRight + old.TopLeft - like.TopLeft

	moves := model.MoveCorners{Name: "steps above"}
	heights := model.MoveHeights{Name: "steps above"}
	for k := at; k < n; k++ {
		o := j.Flight.Steps[k]
		for c, p := range o.Corners {
			moves.Moves = append(moves.Moves, model.CornerMove{Step: o.ID, Corner: c, To: model.Corner{X: p.X + dx, Y: p.Y + dy}})
		}
		heights.Moves = append(heights.Moves, model.HeightMove{Step: o.ID, Left: o.TopLeft + rise, Right: o.TopRight + rise})
	}
	return model.Batch{Name: "insert step", Edits: []model.Edit{moves, heights, model.InsertStep{At: at, Step: s}}}, nil
}
