// Package handle is what plan and section share: the options of a drawing, the
// handles on it, which handle is under a pointer, what a drag of one does to
// the job, and which readings hold it.
//
// It refuses to know windows and pixels beyond a drawing.Viewport, and it
// changes no job: a drag gives a model.Edit.
//
// # Words
//
//   - handle: a point of a drawing that can be dragged. Its ID is a plain
//     value that stays the same while the flight keeps its steps.
//   - held: a handle is held by a reading when moving it by the sketch's
//     spread would change what the reading reads by more than the reading's
//     own spread, and the reading is used.
//   - ghost: the sketch, drawn where it differs from the estimate.
//
// # What a drag does
//
// A drag moves the sketch, never the estimate. The estimate follows:
//
//  1. Nothing holds the handle: the sketch is moved so far that the estimate's
//     handle comes to lie under the pointer. The corner of the neighbouring
//     step that stands at the same riser goes with it, because it is the same
//     place on the wall.
//  2. Readings hold it: the sketch is moved by as much as the pointer, the
//     estimate stays where the readings put it, and the ghost shows the sketch
//     moving away. The handle wears a lock and HeldBy names the readings.
//     Readings hold a shape, not a place in the house: where nothing else says
//     where the flight stands, it follows the mean of all its sketched corners,
//     by a fiftieth of a drag on a flight of thirteen steps.
//  3. Release sets those readings aside and moves the sketch, in one edit.
//
// Drag is given the job, the answer and the pointer as they were at the press,
// and the pointer as it is now: it does not add up from frame to frame.
package handle
