// Package picture draws a scene fast enough to walk about in it, on a machine
// without a graphics card: 30 frames a second at 1000 by 700 for a flight of 14.
//
// Light is worked out once for a stair and then only read:
//
//  1. Surfaces are put into charts, flat patches with a grid of points
//     (chart.go).
//  2. From every point rays go out, some to each lamp and some all round. Where
//     each of these arrives is noted: the ways of light (world.go, lamp.go).
//  3. The light of the lamps is sent along the ways, four times over, so that
//     it comes back from walls and treads. When a lamp goes up or down this step
//     alone is done again (Relight).
//
// A frame then finds out what each pixel shows (paint.go), reads light and grain
// there (shade.go, sheet.go), adds what a clear coat mirrors (probe.go) and turns
// it into what a screen can show, as an eye used to that light would see it
// (tone.go). A picture that rests is the mean of several frames (still.go).
//
// It refuses to be a measurement: package solver/lux says how much light falls on
// a tread, and package still is truer and slower.
//
// # What is always true
//
//  1. The same scene gives the same bytes, on any number of cores.
//  2. Prepare ends soon after its context does.
//  3. Nothing here keeps the time or knows the window.
package picture
