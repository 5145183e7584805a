// Package walk is the controller of the light bars and the people on the stair:
// it makes the controller's tables from the zones of the sensors, holds the
// rules that read them, and walks simulated people over the stair to see whether
// a foot ever lands in the dark.
//
// It refuses to know how a zone comes about (package solver/sensing does) and
// what a bar is made of.
//
// # Positions and bars
//
// Position 0 is the bottom floor before riser 1, position k tread k, and N the
// top floor. Bar k, of 1 to N, lights position k-1, so that a foot going to
// tread k needs bar k+1. In code bars count from 0: Bar[k] lights position k.
// The top floor has no bar.
//
// # How the rules know where somebody may be
//
// The estimate is a set of positions: those where anybody may be, however many
// they are. It is never told who is who, so nothing depends on counting people
// or on telling them apart when they pass each other.
//
//   - It grows: from a position that has been in the set for as long as the
//     fastest walker needs to cross one, to both neighbours; and from the two
//     floors, where somebody may always be.
//   - It does not grow over a border that somebody would have been seen to cross.
//     That is one where at least one working sensor sees the position on either
//     side, and all of those have been off for longer than their lockout and
//     latency.
//   - A position leaves the set when every working sensor that sees it has been
//     off for the standing-still time on top of that.
//   - A sensor that is on adds the positions that it is sure of.
//
// What is off is about a moment that lies the latency back, so the steps lit are
// those of the set and as far round it as somebody gets in that time, and one
// more for the other foot. They are lit at least dimly, at once and not by a
// fade. On top of that comes the window, at full brightness, round the sensors
// that saw the last movement: so many steps ahead and behind by the way somebody
// goes, which follows from the sensor that was on before. Sensors glimpse farther
// than they are sure of, so that the one after next may see somebody first; it
// and the one between take them to go on. The window of a sensor ends when
// another comes on that sees nobody on the first step of its zone, by the way
// somebody goes. Who gets from where one sensor is sure of them to where the next
// may see them faster than anybody walks is taken to run, and the whole flight is
// lit; where glimpses leave no way between the two, nobody is.
//
// # What is always true
//
// No step with a foot on it is dark (less than the dim level) as long as:
//
//  1. whoever moves within, into or out of a position that a sensor is sure of
//     has its output on within the latency, unless it is in its lockout; and the
//     output stays on for a step of the rules at least;
//  2. nobody passes positions faster than the fastest walker of the settings, and
//     no foot is more than one step away from the body;
//  3. whoever stands still on the stair moves enough to be seen once within the
//     standing-still time, but for the last one seen to move on the flight, who
//     may stand as long as they like, if that was not within the zone of an end;
//  4. nobody is on the stair unseen when the sensors' warming up is over, that
//     does not move within the standing-still time;
//  5. the scene is not "off", and where daylight is reported it is enough.
//
// Whoever comes in is lit not later than EntryLatency after they first move in a
// position that a sensor is sure of. Steps that no sensor is sure of and that
// lie open to a floor are in the set for ever, and so stay dimly lit for ever:
// once the tables know that the sensor of an end is gone, that costs light and
// not safety. Until then, whoever comes in from that end can meet a dark step
// before the next sensor sees them. False pulses only ever
// add light. Missed pulses break assumption 1; how often a foot is then in the
// dark is counted (Score.Dark), not promised away.
//
// # What is found out about sensors
//
// A sensor that is on for longer than the stuck time is left out until it goes
// off, and reported. One that comes on where by the set nobody can be means that
// another one failed: the whole flight is lit, the set becomes everything, and
// the sensor that should have been passed on the way is left out until it comes
// on again, so that the set and the windows bridge its gap. With no working
// sensor left, or with inputs or tables lost, the whole flight is on.
//
// All arithmetic of the rules is in whole numbers, and the C core that goes onto
// the controller (assets/controller) does the same, step by step.
package walk
