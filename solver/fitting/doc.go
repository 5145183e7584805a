// Package fitting solves the order of fitting: what runs past what, which edge
// is scribed, what goes in when, and what can be walked on tonight.
//
// # How
//
// Every joint between two pieces is a decision: one runs past and the other
// butts, so that the first must be in place before the second. On each side of
// the stair these decisions are made for its skirt, its risers and its treads,
// and between the steps for the backs of the treads. The schemes of the trade
// (A, B, C, D1, D2, E, F, G, H) are what some of these decisions are called
// together; the combinations that have no name are tried as well.
//
// A combination is refused when its order is a cycle, or when a piece cannot be
// brought to its place: for every riser, tread and skirt, in the order found,
// the directions are searched in which it could be moved out again past all
// that is there by then, and this failing, whether a tread can be tilted in. A
// refusal names the piece and the way it would have to go.
//
// The rest are weighed in minutes: boards to be made, edges to be scribed,
// joints seen, and what the gaps to be expected will cost. The gaps follow from
// the job's own survey, with its covariances, and from the spread of cuts, over
// a fixed set of random numbers that is the same for every combination.
//
// # What it refuses
//
// It places no coves, bars, notches, wires, returns or balusters as solids: they
// only have their place in the order. It judges
// no structure: what bears load is for the survey and for licensed people.
//
// # What is always true
//
//  1. The same job, wishes and survey give the same result: the random numbers
//     have a fixed seed.
//  2. Every piece of an order comes after all that its joints say must be there,
//     and Task.Way leads out of its nest past all of them: by its thickness and
//     reachOut, after which a board can be turned and carried away.
//  3. Mirroring the flight and the wishes mirrors the result.
//  4. A wish is met or refused, never weighed.
package fitting
