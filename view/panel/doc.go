// Package panel is what stands in the window: the two linked drawings, the
// readings to type into, the card, the build-up, the job, the findings and the
// line that says what to do next.
//
// It refuses to open windows and files, to solve anything and to keep a job:
// all panels share one Desk, which holds what is chosen and hands every change
// to the Session as a model.Edit.
//
// # Words
//
//   - chosen: the step that all panels show, counted from 1; 0 is the flight
//     as a whole. A piece may be chosen too.
//   - draft: a text in a field that could not be read, kept with its message
//     until it is mended, cleared or taken back with Escape.
//   - settle: to solve for the last place of a dragged handle. It happens once
//     a frame, however often the pointer has moved.
//
// # What is always true
//
//  1. Nothing typed is lost: a text that cannot be read stays in its field,
//     and comes back with its message when its step is shown again.
//  2. A panel changes no job but through Desk.Do.
//  3. Severity and verdict are told by a word and a shape; colour only helps.
//  4. An answer that was computed elsewhere is dropped when the job has
//     changed meanwhile.
package panel
