// Package survey turns readings into the most likely shape of the stair, and
// says how sure that shape is.
//
// The whole flight is one weighted least-squares estimate. Its unknowns are,
// for every step, the plan corners of the tread opening, the heights of the
// existing tread top at its two front corners, its fore-and-aft fall, and the
// lean of its two sides. The sketch enters as prior observations with a wide
// spread; a link between neighbours says that the new nose line lies a known
// distance in front of the riser face and that the sides run on; every reading
// enters with the spread of its instrument and state.
//
// Gauss-Newton steps solve normal equations that are banded along the flight.
// Readings of the whole flight (total rise, long diagonals) would fill the
// band, so they are added by a low-rank update instead, and the cost stays in
// proportion to the number of steps.
//
// It refuses to average silently: readings that conflict are named (a
// normalised residual test, confirmed by solving again without the suspect),
// and readings that cannot be told apart are said to be so.
//
// Sources: the normal equations, redundancy numbers and normalised residuals
// (data snooping) are those of textbook adjustment computations, e.g. Ghilani,
// Adjustment Computations; elements of the inverse inside the band follow the
// recursion of Takahashi, Fagan and Chen (1973). Both from memory.
package survey
