// Package sensing works out what each motion sensor of a stair sees of a body
// that walks on it, which steps it speaks for, what it may be fooled by, and
// where sensors are best put.
//
// # Positions
//
// Position 0 is the bottom floor in front of riser 1, position k tread k, and
// position N the top floor behind its nosing. The place along the flight is
// continuous and counts steps as model.Sensor.Along does: k-1 at the nose line
// of riser k, so that position k is at k - 1/2.
//
// # What is seen
//
// A body is three upright elliptic cylinders on one another. What a sensor sees
// of it is a share of the solid angle that the whole body takes up at its lens:
// the part that lies within its field, its hood and its mask and is not hidden
// by boards, walls, rails or balusters. In the vertical plane through the lens
// at one azimuth all of these are straight lines, so that the share of
// elevations is exact; over the azimuths it is summed by Gauss's rule between
// the places where anything begins or ends (look.go).
//
// A position counts as seen when every body of the table shows at least the
// share "seen" of itself on every line it may walk: in the middle and hugging
// either side. It counts as glimpsed when any body shows the share "glimpse" on
// any line. Rules that must never be wrong about where somebody is need both:
// somebody in a seen position triggers the sensor, and somebody outside the
// glimpsed ones does not.
//
// # What this is not
//
// A pyroelectric sensor answers to a change across the strips of its lens: it
// sees crossing best and approach worst. The share says nothing of that; each
// zone carries how much the walk through it crosses (Zone.Crossing), and the
// figure by which approach counts less is a guess of the table, never a limit.
// Try every placing with tape for a week before anything is fixed.
package sensing
