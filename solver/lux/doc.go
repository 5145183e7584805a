// Package lux says how much light the light bars give: the illuminance over
// every tread, the landing nosing and the hall floor, against the published
// levels, and how lamp colours look on a screen.
//
// It refuses to be a lighting design. Only direct light counts unless
// Settings.Reflect asks for one reflection; walls, ceiling, daylight and the
// switched stair light are left out, so what it finds is the least there is.
// It knows no wiring: a [Bar] is a bright rectangle with an exitance.
//
// # Words
//
// Exitance is what leaves a surface, in lumens per square metre; illuminance
// (lux, lx) is what arrives. A Lambertian surface looks equally bright from
// every side. A screen is a flat opaque polygon. A surface is what is lit: a
// tread from its nose to the riser behind, the landing nosing, or a strip of
// the bottom floor. Bar k sits under nose k and lights tread k-1; bar 1 lights
// the floor, which is surface 0.
//
// # How it computes
//
// The light from a polygon of even exitance M at a point with normal n is
// E = M F, with Lambert's sum over its edges (see [Factor]). The polygon is
// first cut at the horizon of the point, and the shadow of every screen is cut
// out of it as seen from the point, so occlusion is exact: no subdivision, no
// error beyond rounding. Screens are the faces of the boards and the lips of
// the bars. A mean is the midpoint rule over the grid; minimum and maximum are
// those of the grid's values.
//
// # What is always true
//
//  1. Moving, turning or mirroring the whole changes no illuminance. Scaling it
//     changes none while the exitance stays.
//  2. Light from several bars adds.
//  3. A screen never adds light.
//  4. In a closed box of surfaces as much arrives as leaves, within 0.1 %.
//  5. The same problem gives the same bits.
package lux
