package panel

import (
	"fyne.io/fyne/v2/test"

	"risewright/solver"
	"risewright/view/canvas"
	"risewright/view/drawing"
	"risewright/view/order"
	"risewright/view/picture"
	"risewright/view/plan"
	"risewright/view/section"
)

// Label and Press let tests find and press the panels' buttons.
func (b *button) Label() string { return b.Text }

// Press presses the button.
func (b *button) Press() { test.Tap(b) }

// Words are what a chooser offers, and Take picks one of them.
func (c *chooser) Words() []string { return c.short }

// Take picks the word at an index.
func (c *chooser) Take(i int) { c.pick(i) }

// RowCells names the cells of the electrical tables that are typed into, by
// table.
func RowCells() map[string][]string {
	out := map[string][]string{}
	for _, t := range lightTables() {
		for _, c := range t.cells {
			if !c.flag {
				out[t.id] = append(out[t.id], c.id)
			}
		}
	}
	return out
}

// PictureDivider is where the picture's divider is, 0 to 1 of the width.
func (d *Desk) PictureDivider() float64 { return d.pictures.divider }

// RoughPicture makes pictures quickly instead of well.
func (d *Desk) RoughPicture() {
	d.pictures.draft, d.pictures.care = picture.Quality{Coarse: 9, Rays: 3}, picture.Quality{Coarse: 7, Rays: 3}
}

// Hint is what is told about the handle under the pointer or the keyboard.
func (d *Desk) Hint() string { return d.hint }

// Scenes returns the drawings of a desk by name.
func Scenes(d *Desk) map[string]canvas.Scene {
	over := func(s *stairDrawing, section bool) canvas.Scene {
		s.desk = d
		return withSensors(withLights(s, section))
	}
	return map[string]canvas.Scene{
		"plan":    over(&stairDrawing{draw: plan.Draw, all: plan.Handles, step: plan.StepAt, fit: plan.Fit, play: order.Plan, fitPlay: order.FitPlan}, false),
		"section": over(&stairDrawing{draw: section.Draw, all: section.Handles, step: section.StepAt, fit: section.Fit, play: order.Section, fitPlay: order.FitSection}, true),
		"zones":   &bandScene{desk: d},
		"volts":   &voltScene{desk: d},
		"card":    &cardScene{desk: d},
	}
}

// LightKnown says whether light map and voltages are those of an answer.
func LightKnown(d *Desk, a *solver.Answer) bool {
	return d.lights.luxOf.answer == a && d.lights.lux != nil && d.lights.sidesOf == a
}

// LightGivenUp says whether a light map is in the making that is to stop.
func LightGivenUp(d *Desk) bool { return d.lights.luxRun.givenUp() }

// VoltagesRun says whether the voltages are being worked out, and VoltagesGivenUp
// whether that is to stop.
func VoltagesRun(d *Desk) bool { return d.lights.sideRun.going() }

// VoltagesGivenUp is said there.
func VoltagesGivenUp(d *Desk) bool { return d.lights.sideRun.givenUp() }

// MapFitter returns what fits the light map on the plan.
func MapFitter(d *Desk) func(width, height float64) drawing.Viewport {
	s := &lightDrawing{stairDrawing: &stairDrawing{desk: d}}
	return func(width, height float64) drawing.Viewport { return s.Fit(width, height, drawing.PaperScale(1)) }
}
