// Package drawing is the one display list that every output passes through:
// plan, section, cards and sheets are written into a [List]; the screen, PDF
// and SVG writers only read it.
//
// It refuses to know what a stair is, to read clocks or files, and to hold
// state between drawings.
//
// # Words
//
//   - scene: stair millimetres, or any millimetres a drawing is made in;
//   - paper: millimetres on the sheet, or on the screen at 96/25.4 pixels each
//     times the interface scale;
//   - ink: what a colour means; a [Palette] says which colour that is;
//   - page: a list whose scene is already paper;
//   - lowering: turning a list into plain paths, arcs and text on paper, which
//     is the only thing a writer has to understand.
//
// # What is always true
//
//  1. Y points up and angles turn anticlockwise, in radians.
//  2. Places and radii are scene millimetres. Stroke widths, dashes, hatch
//     spacing, text sizes, dots, squares and dimension offsets are paper
//     millimetres and no zoom or [List.Append] changes them.
//  3. The same calls give the same list, the same Dump and the same bytes.
//  4. A list that is Reset and filled again allocates nothing once it has
//     reached its size.
//
// The smallest use:
//
//	var l drawing.List
//	l.Line(drawing.Point{}, drawing.Point{X: 254}, drawing.Stroke{Ink: drawing.Line})
//	fmt.Print(l.Dump())
package drawing
