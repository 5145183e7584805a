// Package saw writes the card that takes a board from a blank to a piece, and
// proves it: a virtual saw executes the card's cuts, and what is left must be
// the piece.
package saw
