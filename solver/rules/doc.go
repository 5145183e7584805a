// Package rules holds the flight as it will be against a published code and
// against trade practice, and says in plain words where it lies outside.
//
// It refuses to decide. A published limit that is exceeded is Outside, one
// whose value is from memory is only Advice, and so is trade practice; nothing
// here is Block. Local code and its officials decide: see Deference.
//
// # Words
//
// A limit is one row of a rule table. A place is one figure the row applies
// to, such as the left of riser 3. A verdict is certain when the limit lies
// outside the figure's 95 % band; otherwise the finding says "may".
//
// # Places
//
// A finding leads to a step and the kind of reading behind the figure, or to a
// field of the job: overlay.floor_bottom, overlay.floor_top, overlay.overhang,
// overlay.riser_gap, steps.pack, steps.nosing, flight.steps, flight.rail,
// flight.headroom, flight.doors. A going belongs to the step at whose nose it
// ends.
//
// # What is always true
//
//  1. One finding for each rule: the worst place is named, others counted.
//  2. The standing of the limit is in the finding and named in its words.
//  3. The units of the job change the words, never which findings there are.
//  4. A row whose Measure is empty or unknown, or of another class of stair, is
//     not tested.
//  5. Findings come worst severity first, then published limits in the order
//     of the table, then practice.
package rules
