// Package canvas is the widget that shows a display list and lets it be
// touched: pointed at, clicked, dragged, zoomed about the pointer and panned.
//
// It refuses to know what is drawn. A Scene draws and answers the hand; the
// canvas owns pixels, the viewport and the gestures.
//
// # Words
//
//   - pixel: a device pixel of the canvas, x right and y down, from its top
//     left. The canvas turns fyne's units into pixels and back.
//   - grab: a press that the scene takes, because a handle lies there. Every
//     other press pans once it moves.
//
// # What is always true
//
//  1. The list is built and painted when a frame is shown, not when something
//     asks for it: a hundred moves of a mouse between two frames cost one
//     drawing.
//  2. Image, list and buffers are kept. A drag allocates nothing that grows.
//  3. A grab ends with exactly one Drop or Cancel. Escape, a second button and
//     loss of the window's focus cancel.
//  4. What can be dragged can be moved with the keyboard, by the same calls: H
//     goes from handle to handle, arrows move, Enter drops, Escape cancels.
//  5. The canvas shows the whole drawing until somebody zooms or pans, and
//     again after Fit: resizing it then fits anew.
package canvas
