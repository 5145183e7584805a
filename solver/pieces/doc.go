// Package pieces makes every board of the overlay as a solid: treads, risers,
// landing nosings and floors, return nosings, each with its figures and how
// sure they are, and lists the balusters of open sides. Cards,
// drawings, templates and the 3D picture all read the same solid.
//
// It refuses to judge the stair (package rules does) and knows no saw (package
// saw does). It never makes two boards from one measurement: each takes its
// figures from the estimate of its own opening.
//
// # Where a board lies
//
// The estimate gives each tread opening in plan, at the height of the new
// tread's top. That top is the existing tread's plane, with its tilt, lifted by
// packing and thickness; the landing nosing's lies FloorTop above the old top
// floor, and the new bottom floor is level at FloorBottom. A side is the plane
// through its two corners at that height, leaning from plumb as estimated.
//
// A tread's face is its opening, less the fit at each end that meets a wall or
// skirt, less the new riser's thickness at the back where the tread butts
// against it, and past an open side by the overhang. Its back and nose are
// square to its face.
//
// A riser is plumb. Its face stands behind its nose line by the overhang, and
// it meets the sides of the opening below, which run on up (riser 1: those of
// the first opening, which run on down). It stands on the new tread below
// where the tread runs under it, else on the old tread; its top is the
// underside of the tread above, less the gap. Both are square to its face; the
// top is low enough for its back, too.
//
// # Bevels
//
// An end is undercut from its face's edge, so that only this edge touches:
//
//	bevel = undercut + lean, where the side comes closer going into the board
//	bevel = undercut, where it goes away
//
// The second could be less, but a side that goes away needs no more relief,
// and a bevel that is the same on most ends is set on the saw once. Leans are
// taken relative to the board, whose own tilt counts.
//
// # What is always true
//
//  1. No point of a board passes the side it meets, nor comes closer than the
//     fit to it at the face.
//  2. A bevel is never below 0, and 0 at an open side but for the mitre of a
//     riser with an outer skirt.
//  3. Moving or turning the flight in plan moves the boards and changes nothing
//     else; mirroring it mirrors them.
//  4. Make depends on the units of the job in nothing.
package pieces
