package canvas

import (
	"fyne.io/fyne/v2"

	"risewright/view/drawing"
)

// Scene is what a canvas shows. All calls come from the goroutine of the
// interface.
type Scene interface {
	// Draw adds the drawing to an empty list.
	Draw(l *drawing.List, v drawing.Viewport)
	// Fit returns the viewport that shows everything in width by height
	// pixels; paper is pixels per paper millimetre.
	Fit(width, height, paper float64) drawing.Viewport
}

// Inked is a Scene with colours of its own.
type Inked interface {
	Scene
	// Inks returns the palette to paint with, given that of the window.
	Inks(drawing.Palette) drawing.Palette
}

// Hand is a Scene that can be touched. Points are pixels; the viewport tells
// what lies under them.
type Hand interface {
	// Hover tells where the pointer is; out is true when it has left. It says
	// whether the drawing changes by it, and whether a handle lies there.
	Hover(v drawing.Viewport, at drawing.Point, out bool) (changed, handle bool)
	// Grab says whether the press takes hold of something.
	Grab(v drawing.Viewport, at drawing.Point) bool
	// Drag moves what was grabbed; the viewport is that of the press.
	Drag(v drawing.Viewport, at drawing.Point)
	// Drop lets go of it where it is.
	Drop()
	// Cancel puts it back.
	Cancel()
	// Click is a press and release without a grab or a move.
	Click(v drawing.Viewport, at drawing.Point)
	// Key answers a key that the canvas does not use itself.
	Key(k fyne.KeyName) bool
}

// Gripped is a Hand whose handles can also be moved with the keyboard.
type Gripped interface {
	Hand
	// Grips returns the handles that the keyboard may take hold of, in the
	// order it goes through them. While one is dragged they are where the drag
	// brings them.
	Grips(v drawing.Viewport) []Grip
}

// Grip is a handle for the keyboard.
type Grip struct {
	// Key tells the handle from the others of its drawing, also after the job
	// has changed. Keys are compared with ==.
	Key  any
	At   drawing.Point // scene
	Step float64       // how far an arrow key moves it, scene mm
	// Show tells about the handle that the keyboard has come to; Hover with out
	// set ends that.
	Show func()
	// Take takes hold of it, as Grab does, and says whether it could.
	Take func(drawing.Viewport) bool
}
