// Package wood says how far each tread moves across its depth between seasons,
// what gap that opens at the back edge, and which way of fixing lets it move.
//
// It refuses to say how damp a board is: a moisture meter does. It says what
// moisture wood comes to in air of a given humidity, if it is left there long
// enough. Along the grain wood hardly moves, so a tread's length is left alone.
//
// # Words and units
//
// Moisture content is in percent of the ovendry weight. Relative humidity is
// from 0 to 1, temperature in degrees Celsius, lengths in millimetres. A
// flat-sawn tread moves along the rings (tangentially) in its depth, a
// quarter-sawn one across them (radially). Movement is positive when the tread
// grows.
//
// # Sources
//
// The equations are numbered as in the Wood Handbook, FPL-GTR-190: 4-5 for the
// moisture in equilibrium with air, 13-2 and 13-3 for the change of size. Their
// coefficients are in the species table with their standing.
//
//	wood.Change(232, 0.00245, 8, 11) // 1.7 mm: a flat-grained white fir board
package wood
