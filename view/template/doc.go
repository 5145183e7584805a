// Package template draws pieces at full size, to be cut to: whole, for a
// plotter or a cutting machine, or tiled over sheets of paper that are laid
// together by their crosses.
//
// It refuses to decide what a piece is (packages pieces and skirt do) and what
// file it becomes (the writers below drawing do).
//
// # Words
//
//   - shape: a piece as it is seen with its show face up, in millimetres;
//   - window: the part of a sheet that shows the shape;
//   - join line: where two sheets meet; each shows half the overlap beyond it;
//   - cross: a numbered mark where join lines meet. The same number on two
//     sheets is the same place;
//   - check bar: a measure to lay a rule against before anything is cut.
//
// # What is always true
//
//  1. Nothing is scaled: a millimetre of the piece is a millimetre of the page.
//  2. Every page with a part of a shape, and the page that shows how sheets go
//     together, has both check bars and says to measure them before cutting.
//  3. Sheets laid cross on cross show every line of the shape, whole and where
//     it belongs, and no line outside their windows.
//  4. A piece that is not released says so on every page.
//  5. The same shape and options give the same pages.
//
// The smallest use:
//
//	s, err := template.Piece(&p, format)
//	page, err := template.Whole(&s, template.Options{})
package template
