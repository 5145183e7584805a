// Package saw writes the card that takes a board from a blank to a piece, and
// proves it: a virtual saw executes the card's cuts on the blank, and what is
// left must be the piece, within 0.05 mm. A card that fails is refused with the
// reason.
//
// It refuses to know why a piece has its shape (package pieces does) and to
// draw anything. Its virtual saw (Execute) knows only blanks and ops.
//
// # How a board lies
//
// The saw is seen by its user. The fence is on the far side; a tread lies with
// its back to the fence, face up, nose towards the user, so its left end is at
// the left hand. A riser lies with its bottom to the fence and face up: it is
// upside down for its user, and its left end is at the right hand. Ends are
// named as seen walking up, whatever the hand they lie at.
//
// A tread's nose comes rounded from the yard, so its back is ripped, measured
// from the nose; a riser's top is ripped, measured from its bottom. The rip is
// made first, from mark to mark, so that a taper is in it; then both ends are
// cut with the back (bottom) at the fence.
//
// # Which way things go
//
//	saw = gauge - 90
//
// A positive saw angle swings the arm towards the hand at which the end lies, a
// negative one away from it. So at a tread's left end positive is arm left.
// Face down, the arm swaps and the hand too; the head leans as before, which
// is now over the board. End for end, the hand swaps and the arm stays; the head
// swaps. The gauge is then that of the nose's corner. All of it is common
// practice, no source; that it is so follows from turning the board, which the
// virtual saw does.
//
// Every mark is on the show face. The kerf is in the waste.
//
// # What is always true
//
//  1. A card whose Proof.OK is set makes its piece: as written, face down and
//     end for end.
//  2. Proof.PrintedWorst is what the rounding of its figures in print costs.
//  3. An op whose words contradict its figures is refused, even where the wood
//     would come out right.
//  4. Mirroring the flight mirrors its cards; moving it in plan changes none.
package saw
