// Package bars makes the light bars under the noses from the solids of treads
// and risers: where each lies, how long it is cut, whether it fits, where its
// wires leave it and whether it dazzles.
//
// It refuses to know anything electrical: volts, fuses and data belong to
// package solver/power.
//
// # Words
//
// Bar k lies under the nose of step k, in the corner of the underside and the
// face of riser k, and lights what a foot coming up to step k stands on: tread
// k-1, or for bar 1 the bottom floor. The last bar, under the landing nosing,
// lights the last tread. So a flight of N risers has N bars. A foot that goes
// to tread k needs bar k+1.
//
// A bar is a base strip with an LED strip on it and a diffuser over it. The
// base strip and the diffuser are as long as the room between the sides less
// the end clearances. The LED strip is the longest that its cut points allow,
// and lies in the middle of the bar.
//
// # Axes
//
// Points are in the stair (see package model), mm. Along a bar is to the
// right, from its left end.
//
// # What is always true
//
//  1. A flight of N risers has N bars, in order, whatever is wrong with one.
//  2. No LED strip is longer than its bar, and each is a whole number of cut
//     units.
//  3. Moving or turning the flight in plan moves the bars and changes nothing
//     else.
//
// Sizes of room and of safe places are common practice, no source.
package bars
