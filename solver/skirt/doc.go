// Package skirt makes the skirt boards of a flight from its adjusted shape: how
// long and how wide a board must be, the line its lower edge is cut to, where
// it may be joined, and what margin an old skirt keeps above the new noses.
//
// It refuses to choose between ways of treating a side (package fitting does)
// and it measures nothing itself: every line of a template is where a face of a
// finished board (package pieces) meets the plane of the skirt's show face.
//
// # Words
//
// The show face is the face that is seen from the stair. A plumb cut follows a
// riser, a level cut a tread, a nose cut the profile of a nosing. The margin is
// how far the top edge stands above the highest nose, square to the pitch.
//
// # The board's frame
//
// Every board has its own frame, in millimetres, as one sees it looking at the
// show face: x to the right along the pitch line, y up, z out of the face into
// the stair. So x runs up the flight on a left skirt and down it on a right
// one. The origin lies on the pitch line (the line fitted to the new noses) at
// the first nose. Frame takes it to the stair; it is a rotation and a shift.
//
// # What is always true
//
//  1. Every plumb and level line lies in the face of the board that it meets.
//  2. An outline runs anticlockwise and its lower edge is Cuts, in order from
//     the bottom of the flight up.
//  3. A cut leans so that only its show edge touches: never less than the
//     undercut, more where what it meets comes closer going into the board.
//  4. Moving or turning the flight in plan changes only Frame; mirroring it
//     mirrors the outline.
package skirt
