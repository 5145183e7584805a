// Package power solves the wiring of the light bars: the volts at every pixel,
// the current, heat and fuse of every wire, the load on the supply and the
// budget of the controller. It also looks for the smallest wires and the
// fewest feeds that keep the volts.
//
// It refuses to judge a board or a nose (package solver/bars does), and it says
// nothing of the mains side, which is for a licensed person.
//
// # Words
//
// A run is a pair of conductors, out and back. Its resistance here is that of
// both. A tap is where a bar's lead leaves the bus. The feeder goes from the
// box to the bus. Volts of a node are between the two conductors there, so one
// figure says it all as long as both carry the same current.
//
// A pixel draws a constant current while its volts are at least FullVolts; from
// there to DarkVolts the current falls in a straight line to nothing. At
// brightness b a pixel of full current f and idle current i draws
//
//	i + b (f - i)
//
// so that full white is the strip's worst-case figure and nothing is counted
// twice. Pixels dim by switching fast; these are the means over the switching,
// and the capacitor at each feed carries the rest.
//
// # What is always true
//
//  1. Solve never panics, whatever the numbers. What is wrong is a finding.
//  2. The currents at every node add up to nothing, within stopAmps a node.
//  3. More copper never lowers the volts of any pixel.
//  4. The cost grows in proportion to the pixels.
//
// Units: volts, amperes, ohm, and mm for lengths, unless a name says otherwise.
package power
