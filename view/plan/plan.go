// Package plan draws the flight from above and places its handles.
//
// The scene is stair millimetres, turned so that up the flight is to the right
// and the left side at the top (Options.Upright leaves it unturned).
package plan

import (
	"risewright/solver"
	"risewright/view/drawing"
	"risewright/view/handle"
)

// Options say how the plan is drawn.
type Options = handle.Options

// Draw adds the plan of a to l.
func Draw(l *drawing.List, a *solver.Answer, o Options) {}

// Handles appends the handles of the plan to dst, from the bottom up.
func Handles(dst []handle.Handle, a *solver.Answer, o Options) []handle.Handle { return dst }

// StepAt returns the number of the step whose tread is at p, counted from 1,
// or 0. Where treads lie over each other the upper one is meant.
func StepAt(a *solver.Answer, o Options, p drawing.Point) int { return 0 }

// Fit returns the viewport that shows the plan in width by height pixels with
// room for its dimensions; paper is pixels per paper millimetre. Set o.Scale
// from it: v.Scale / v.Paper.
func Fit(a *solver.Answer, o Options, width, height, paper float64) drawing.Viewport {
	return drawing.Viewport{Scale: 1, Paper: paper}
}
