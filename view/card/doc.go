// Package card draws the card of one board: what a carpenter takes to the saw.
// The window's panel and the printed sheets show the same drawing.
//
// It refuses to work anything out about the stair: every figure on a card is
// the piece's or the saw's, only rounded as people read it.
//
// # Words
//
//   - lie: how the board lies on the saw, such as face up, nose to you, back
//     to the fence;
//   - held: a card whose cuts are proved but whose board is not known well
//     enough to cut;
//   - refused: a card that is not proved to make its board, or a board that
//     straight cuts cannot make.
//
// # What is always true
//
//  1. A refused card shows no figure to cut by, only why and what to do.
//  2. Released, held and refused are told apart by words and by shape, never by
//     colour alone.
//  3. Everything drawn lies inside Options.Width by Options.Height.
//  4. The same piece, card and options give the same drawing.
package card
