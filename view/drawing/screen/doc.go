// Package screen paints display lists into an image.RGBA: anti-aliased, and
// fast enough to repaint plan and section while a corner is dragged.
//
// It refuses to open windows; view hands it an image and shows the result.
//
// # What is always true
//
//  1. Nothing outside the image's bounds costs more than finding that out, and
//     no coordinate, however large, panics. Items that are not numbers are
//     skipped.
//  2. Painting the same list again allocates nothing.
//  3. Level and upright lines lie on whole pixels, so they are crisp; each is
//     moved by half a pixel at most. Renderer.Exact turns that off.
//  4. A stroke covers a pixel once, however its parts overlap, so translucent
//     inks show no blots at corners.
package screen
