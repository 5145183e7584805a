// Package lightmap draws the light on the treads as a false-colour plan: bands
// of illuminance with contour lines between them, the figures of every tread,
// the bars, and a legend.
//
// The scene is stair millimetres, turned as in package plan: up the flight is to
// the right and the left side at the top, unless Options.Upright. So the map can
// lie beside or over the plan.
//
// What the lines mean:
//
//   - thin line with a number: equal illuminance, in lux; 10 and 100 are thicker;
//   - medium line: the nose of a tread; thin: its other edges;
//   - long dashes: a light bar, under its nose; where the colours of the light are
//     given, a line of its colour instead, with a key below the legend.
//
// The bands are fixed, so that two maps can be compared. They get lighter with
// the light, by more than the eye needs whatever its colour vision, and the
// contours carry numbers, so the map can be read in black and white.
//
// # Inks
//
// A band has no ink of its own in package drawing. The map uses inks that mean
// something else on a plan, and [Palette] gives them their colours; so it needs
// a page or a picture of its own.
//
// # What is always true
//
//  1. A later tread covers an earlier one, as its nose does.
//  2. Between the values of the grid the map is linear, and it runs on so from
//     the outermost values to the edge, but never below darkness.
//  3. The same light gives the same list.
package lightmap
